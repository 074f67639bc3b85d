/** The pitch lap, in two columns: the trained adult's half and the learner's. */
import { usualLap } from "../../shaping/lap/lap.ts";
import { decision } from "../../record/tables.ts";
import { about, type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";

/** A lap from bare tool to first session. */
export function pourLap({ aperture }: BenchNumbers): Work {
  const lap = usualLap(aperture), area = (aperture / 150) ** 2;
  return {
    title: "Make the lap",
    who: "a trained adult does all that is hot, a second adult is there; the learner does the rest",
    bench: [
      "adult: a plate with thermostat, a pot with lid, two thermometers, a level, wooden sticks, heat gloves, goggles, long sleeves, a fire blanket",
      "adult: a tub, and cool running water away from the plate",
      "learner: wide tape, soap water, the channel sheet, a net, goggles, a weight",
      "pitch for polishing in lumps, one grade softer and one harder to spare",
    ],
    alone:
      "Never pour alone. Four honest ways: buy a lap poured on your own tool (send the tool, say its width, R and the room’s temperature), then begin at step 11; stick polishing pads on the tool and polish out with them, and get a pitch lap for the figure later; go to a workshop for one day; have it polished by a firm. Write down which.",
    steps: [
      {
        do: `Dry the tool. Lay wide tape twice round its rim, standing ${
          said("dam")
        } above the face. Draw the level of ${mm(lap.thickness)} inside. Set the tool level.`,
        right: "The tape sticks all round. No light shows under it.",
        wrong: "A gap: press it shut with a fingernail. Pitch finds every gap.",
        adult:
          "Looks for gaps. Lays the fire blanket within reach, and draws a line on the floor for the learners.",
        minds: ["hot pitch", "skin and lungs"],
        drawing: "lap-eight",
      },
      {
        do: `Call the tub’s temperature every minute. No hands in above ${
          said("warm_water_learner")
        }.`,
        right: `From room water to ${from("warm_water")} in ${said("warm_up")}, and ${
          said("warm_up")
        } in it.`,
        wrong: "It rises quicker: glass that is warmed quickly cracks. Add room water.",
        adult:
          "Warms both discs in the tub, then dries the tool bone dry, and lays it level again.",
      },
      {
        do: `Stand behind the line, ${
          said("pitch_line")
        } from the pot. Write its temperature every five minutes.`,
        right: "The pitch runs off the stick as a thread, like warm syrup. No bubbles, no smoke.",
        wrong:
          `Smoke: too hot. Plate off, lid on, open the window. It burns: lid or blanket on it, never water, everybody out. A burn: cool water for ${
            said("burn_cool")
          }, do not peel, a doctor.`,
        adult: `Melts ${from("pitch_melt", area)} in lumps (${
          said("pitch_needed", area)
        } stay on the tool), lid on, plate at ${said("plate")} and never over ${
          said("plate_most")
        }; the data sheet comes first. Stirs for half an hour or more. Nothing wet comes near.`,
      },
      {
        do: `Press your thumbnail on the COLD coin of pitch, and count the seconds until it marks.`,
        right: `${from("nail")}: right for this room.`,
        wrong: "At once: too soft. Nothing in half a minute: too hard. Say the number.",
        adult:
          `Drops a coin of pitch on a wet cold tile, and cools it ten minutes in water of the polishing room (${
            from("room")
          }). Wrong: adds lumps of a bought harder or softer pitch, a tenth at a time, stirs, and makes a new coin. Nothing else goes into the pot.`,
        write: "diary.csv: lap poured, with nail seconds, room, seller’s grade of pitch.",
        drawing: "nail",
      },
      {
        do: "Time it, from behind the line.",
        right: "It runs to the tape by itself.",
        wrong: "It stops short: too cool. The adult melts it again.",
        adult: `Pours at about ${said("pour")} (${
          from("pour")
        }), low over the tool, from the middle outward, up to the level line: ${
          from("lap_thickness")
        }.`,
      },
      {
        do: "Call each minute.",
        right: `After ${from("skin_sets")} a wet stick leaves a shallow dent and comes off clean.`,
        wrong: "The stick draws threads: wait another minute.",
        adult: "Tries it with a wet wooden stick.",
      },
      {
        do: "Hand over the soap water. Watch the clock.",
        right: "The face slides. The pitch spreads to one shine under it.",
        wrong: "It grips: off at once, wet it again.",
        adult:
          "Takes the mirror from the warm tub, floods its face with soap water, slides it on, and moves it in small circles without weight. Off and wet again every half minute.",
      },
      {
        do: `When the adult says “hand-warm”: put ${
          said("press_weight")
        } on the mirror. Move it by a little every two minutes, for ${said("press_first")}.`,
        right: "Everything is cold, and the mirror still slides.",
        wrong: "It sticks: soap water at the rim, wait, slide. Never pull, never lever.",
        adult: `Says “hand-warm” below ${said("warm_water_learner")}, not before.`,
      },
      {
        do:
          "Pull the tape off. With goggles on, cut the rim with a cold wet blade a hair inside the tool, with a small slope. Chips into a tin.",
        right: "No pitch reaches over the tool’s rim.",
        wrong: "It splinters: the blade is dry. Wet it, and cut less.",
        adult: "Stands beside.",
      },
      {
        do:
          `Lay the channel sheet on. Cut channels cold and wet, the blade away from your body: every ${
            mm(lap.spacing)
          }, ${mm(lap.channel)} wide, ${
            from("channel_depth")
          } deep, never to the glass. The tool’s middle lies ${lap.offset[0]} and ${
            mm(lap.offset[1])
          } off a crossing.`,
        right: `Facets of ${mm(lap.spacing - lap.channel)}, and no crossing in the very middle.`,
        wrong:
          "A facet breaks out: brush every crumb off. One lost facet does no harm, two beside one another do.",
        adult: "Or presses a soft mould in while the pitch is still hand-warm.",
        drawing: "channels",
      },
      {
        do: `Press: soap water or oxide, the mirror, ${said("press_weight")}, ${
          said("press_cold")
        }.`,
        right: "Seen through the mirror’s back every facet is one dull tone.",
        wrong: `A bright ring or patch: it does not touch there. Press again. A bare spot over ${
          mm(decision("bare_spot_most"))
        }: step 14.`,
        write: "diary.csv: lap pressed, amount in minutes.",
        drawing: "contact",
      },
      {
        do: `Lay a wet net with a mesh of ${from("net")} between, ${said("press_weight")} on top, ${
          said("press_first")
        } cold. Lift it slowly.`,
        right: "A fine waffle on every facet.",
        wrong: "Smooth facets: the pitch is hard. Twice as long.",
      },
      {
        do: `Before each session: oxide, mirror, ${said("press_weight")}, ${
          about("press_cold")
        }, moved a little twice.`,
        right: "The first strokes drag evenly.",
        wrong:
          "A pause is no press: never leave the mirror lying on the lap, wet or dry. They grow together.",
        minds: ["electricity beside water"],
      },
      {
        do: "Look through the back.",
        right: "Full contact.",
        wrong: `Thinner than ${
          said("lap_remake")
        }, channels that close within an hour, a skate after a wash, or grit in it: a new lap.`,
        adult: `Warms the lap some minutes in water of ${from("warm_water")}, presses ${
          said("press_between")
        }, then lets it rest for ${about("press_warm_wait")} before anybody polishes.`,
        write: "diary.csv: lap pressed, with a note: warm.",
      },
    ],
  };
}

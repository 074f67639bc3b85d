/** The pitch lap, in two columns: the trained adult's half and the learner's. */
import { usualLap } from "../../shaping/lap/lap.ts";
import { decision } from "../../record/tables.ts";
import { about, type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";

/** A lap from bare tool to first session. */
export function pourLap({ aperture }: BenchNumbers): Work {
  const lap = usualLap(aperture), area = (aperture / 150) ** 2;
  return {
    title: "Make the lap",
    who: "two adults, one trained, what is hot; a learner the rest",
    bench: [
      "adult: a plate with thermostat, an old metal pot with lid, never again for food, two thermometers, a level, sticks, heat gloves, goggles, fire blanket, extinguisher",
      "a tub, and cool running water, away from the plate",
      "learner: wide tape of paper or metal foil (plastic goes soft), a pen, soap water in a bottle, channel sheet, net, goggles, flat bottles as a weight",
      "learner: a stiff old blade, a ruler, a soft brush, clear film",
      "pitch sold for polishing, in lumps: a middle grade for your room, and one softer and one harder than it",
    ],
    alone:
      "Never pour alone. Four honest ways: buy a lap poured on your own tool, or use pads (both have a card); a workshop for one day; a firm.",
    steps: [
      {
        do: `Stand behind the line, ${
          said("pitch_line")
        } from the pot. Write the temperature that the adult calls.`,
        right: "A thread off the stick, like warm syrup. No bubbles, no smoke.",
        wrong:
          `Smoke: plate off, lid on. It burns: lid or blanket on it, never water, all out, call the fire brigade. A burn: cool water for ${
            said("burn_cool")
          }, do not peel, a doctor.`,
        adult: `Blanket and lid within reach. Melts ${from("pitch_melt", area)} in lumps (${
          said("pitch_needed", area)
        } stay on the tool), lid on between looks, plate at ${said("plate")} and never over ${
          said("plate_most")
        }, a thermometer in the pitch; the data sheet comes first. Stirs half an hour or more.`,
        minds: ["hot pitch", "skin and lungs", "electricity beside water"],
        drawing: "lap-eight",
      },
      {
        do:
          `Press your thumbnail on the COLD coin of pitch, as hard as on a door bell, and count the seconds until it marks.`,
        right: `${from("nail")}: right for this room.`,
        wrong: "At once: too soft. Nothing in half a minute: too hard. Between: a second coin.",
        adult:
          `Away from the pot: lets a coin of pitch, a thumb wide and half a finger thick, run on a wet cold tile; ten minutes in water of the polishing room (${
            from("room")
          }). Wrong: lumps of a bought harder or softer pitch, a tenth at a time, stirs ten minutes, a new coin. Right: lid on, and only now the tub.`,
        write: "diary.csv: lap poured, nail seconds, room, grade.",
        drawing: "nail",
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
          "Warms both discs in the tub, side by side on a cloth and covered by water. Adds hotter water at the tub’s side, never on glass. Keeps it so warm until step 7: the mirror stays in.",
      },
      {
        do: `Hand over the tape. You cut it beforehand, for two turns and ${
          said("dam")
        } wider than the rim is high, and drew a line on its inside, ${
          mm(lap.thickness)
        } above where the glass will end. Then look for gaps with a torch.`,
        right:
          "The tape sticks all round, and no light shows under it. The face is domed: in the middle the pitch will be a millimetre thinner, and that is right.",
        wrong: "A gap: the adult presses it shut. Pitch finds every gap.",
        adult:
          `In gloves: takes the tool out, its ground face up, dries it bone dry, sets it level both ways on a cloth with slips of card, and winds the tape twice round, standing ${
            said("dam")
          } above the face. From tub to pouring no more than ${
            said("pour_within")
          }: longer, and back into the tub without the tape.`,
      },
      {
        do: "From behind the line, call the minutes since the tool left the tub.",
        right: "It runs to the tape by itself. Bubbles on top do no harm: the mirror closes them.",
        wrong:
          "It stops short: too cool; it sets, and goes back into the pot. It runs out under the tape: nobody touches it; it stops where it cools.",
        adult: `Plate off. When the pitch has come down to about ${said("pour")} (${
          from("pour")
        }): pours low over the tool, from the middle outward, up to the line: ${
          from("lap_thickness")
        }. Lid on what is left, and the pot out of the way before anybody brings water.`,
      },
      {
        do: "Call each minute.",
        right: `After ${from("skin_sets")} a wet stick leaves a shallow dent and comes off clean.`,
        wrong:
          "The stick draws threads: wait another minute. It leaves no dent at all: too late, step 14 makes it soft again.",
        adult:
          "Tries it with a wet wooden stick. Then pulls the tape off: the pitch stands by itself.",
      },
      {
        do:
          "Stay back, count half minutes aloud. Your soap water, warm and closed, has stood beside the tool since before the pouring.",
        right: "Lifted off, the lap shows more shine each time, at last all over.",
        wrong: "It grips: off sideways at once, wet it again. Never pull it up.",
        adult:
          `Takes the mirror from the tub, floods its face with soap water, slides it on from the side, and moves it in circles of two fingers without weight. Off and wet again every half minute, a little cooler each time, for ${
            about("hot_press")
          }. The mirror never lies still on warm pitch. A thermometer at the joint says when it is hand-warm: below ${
            said("warm_water_learner")
          }.`,
      },
      {
        do: `When the adult says “hand-warm”: lay a cloth and ${
          said("press_weight", area)
        } on the mirror, flat bottles of water will do. Move it by a little every two minutes, for ${
          said("press_first")
        }.`,
        right: "Everything is cold, and the mirror still slides.",
        wrong:
          "It sticks: soap water at the rim, wait a little, slide. Still: an hour in cold water, then a night in the refrigerator, where pitch shrinks and lets go. Never lever.",
        adult: "Says it, and not before. Stays.",
      },
      {
        do:
          "Goggles on: cut the rim with a cold wet blade a hair inside the tool, with a small slope. Chips into a tin. The next steps may wait until tomorrow.",
        right: "No pitch reaches over the tool’s rim.",
        wrong: "It splinters: wet the blade, and cut less.",
        adult: "Stands beside.",
      },
      {
        do:
          `Lay the channel sheet on, prick both ends of each line into the pitch’s edge, take the sheet off. Along a ruler score both sides with many light strokes, wet and cold, the blade away from your body; lift out the crumbs between. A channel every ${
            mm(lap.spacing)
          }, ${mm(lap.channel)} wide, ${
            from("channel_depth")
          } deep, never to the glass. The tool’s middle lies ${lap.offset[0]} and ${
            mm(lap.offset[1])
          } off a crossing.`,
        right: `Facets of ${
          mm(lap.spacing - lap.channel)
        }, and no crossing in the very middle. Slivers at the rim may stay.`,
        wrong:
          "A facet breaks out: brush every crumb off under water. One lost facet does no harm, two side by side do.",
        adult: "Or has pressed a soft mat with ribs in at step 8: then only trim.",
        drawing: "channels",
      },
      {
        do: `Press: ${said("polish_charge", area)} of oxide in water, the mirror, ${
          said("press_weight", area)
        }, ${said("press_cold")}.`,
        right:
          "Seen through the mirror’s back every facet is one dull tone. A ground back: wet it and lay clear food film on it.",
        wrong: `A bright ring or patch: it does not touch there. Press again. A bare spot over ${
          mm(decision("bare_spot_most"))
        }, or still pale after an hour of pressing: step 14.`,
        write: "diary.csv: lap pressed, amount in minutes.",
        drawing: "contact",
      },
      {
        do: `Lay a wet net, curtain cloth with a mesh of ${
          from("net")
        }, flat over the whole lap, the mirror and ${said("press_weight", area)} on top, ${
          said("press_first")
        } cold. Lift the mirror and peel the net off slowly. Press once more as in step 11.`,
        right: "A fine waffle on every facet: it lets the oxide in. Again when the facets shine.",
        wrong: "Smooth facets: the pitch is hard. Twice as long.",
      },
      {
        do: `Before each session: oxide, mirror, ${said("press_weight", area)}, ${
          about("press_cold")
        }, with somebody beside it, moved a little twice.`,
        right: "The first strokes drag evenly.",
        wrong:
          "A pause is no press: lift the mirror off when you leave, wet or dry. They grow together.",
      },
      {
        do: "Look through the back.",
        right: `Full contact. The lap rests level, face up, damp under a clean lid, at ${
          from("lap_store")
        }, the mirror beside it.`,
        wrong: `Thinner than ${
          said("lap_remake")
        }, channels that close within an hour, a lap that slides without drag after a wash, or grit in it: a new lap. Old pitch comes off cold, a night in the refrigerator, with wood.`,
        adult: `Warms the lap some minutes, face up, in water of ${from("warm_water")}, presses ${
          said("press_between")
        }, then lets it rest without the mirror for ${
          about("press_warm_wait")
        } before anybody polishes. What no wood takes off the glass: outdoors, cold, another day, with what its data sheet names.`,
        write: "diary.csv: lap pressed, with a note: warm.",
      },
    ],
  };
}

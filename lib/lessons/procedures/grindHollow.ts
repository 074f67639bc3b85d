/** Rough grinding: the first hour. */
import { decision } from "../../record/tables.ts";
import { type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";

/** The first hour with F80. */
export function grindHollow({ aperture, side, length, overhang }: BenchNumbers): Work {
  const area = (aperture / 150) ** 2;
  return {
    title: "Grind the first hour",
    who: "a learner, an adult in the room",
    bench: [
      "safety glasses, an apron",
      "the bench of stage 02, both discs",
      "F80 with its own spoon, a sprayer, a sponge",
      `${said("buckets")}: dirty and clean`,
      "a clock, the tally, leaves and straight-edge",
    ],
    alone:
      "A grown person may grind with somebody within call; a young one with an adult in the room. Buy powder that is already weighed out and wetted, or let an adult fill the spoon.",
    steps: [
      {
        do: `Let the adult open the jar. Strew one charge evenly on the lower disc: ${
          said("charge_coarse", area)
        } of F80. Shut the jar. Then give ${
          said("charge_water", area)
        } of water: count once how many sprays that is.`,
        right: "An even grey film, no heap and no pool.",
        adult:
          "With the mask on: opens the jar, fills the spoon, shuts the jar before water comes near. For a class: before anybody comes, wets the evening’s powder in a marked squeeze bottle for each bench.",
        drawing: "charge",
      },
      {
        do:
          "Slide the mirror onto the tool from the side. Make three wide circles without pressing.",
        right: "An even crackle.",
        wrong: "A skip or a loud tick: lift it off, rinse, find the chip.",
        minds: ["slippery discs"],
      },
      {
        do:
          `Stand square. Palms flat on the back, near the middle, fingers inside the rim. Press with ${
            said("press_rough", area)
          }, glass included.`,
        right: "The push comes from your legs. Nothing presses on the part that hangs over.",
        wrong: "The disc tips: your hands are too far out.",
        drawing: "hands",
      },
      {
        do: `Push the upper disc forward and back, ${mm(side, 1)} beside the centre, ${
          mm(length)
        } from end to end. Two marks of tape on the board show both ends. ${said("pace")}.`,
        right: `At the ends it hangs over by ${mm(overhang)}.`,
        wrong: "The pace creeps up: count one minute’s strokes twice an hour.",
        drawing: "stroke",
      },
      {
        do: `Count ${said("turn_strokes")} aloud (${
          from("turn_strokes")
        }, never the same number for long). Then turn the upper disc by about five hours of a clock face, ${
          said("turn_upper")
        }, always one way.`,
        right: `The arrow comes to a new place each time. By eye, never to marks: ${
          said("turn_off_by_eye")
        } off does no harm.`,
        wrong: "You lost count: turn anyway.",
        drawing: "turn",
      },
      {
        do: `Then walk on by about an hour and a half of a clock face (${
          said("turn_lower")
        }), or turn the lower disc by as much. The same way for the whole session.`,
        right:
          `After some seven sets you have been all round the bench. An hour of this leaves a wave ${
            said("turn_left")
          } high round the rim, ${
            said("turn_left_sloppy")
          } with hands that forget one turn in five. Turn the last ${
            said("turn_careful")
          } of a grade without talking: that wears it down to ${
            said("turn_left_careful")
          }. Thirds of a turn leave ${said("turn_left_thirds")}.`,
        wrong:
          "The table stands at a wall: turn the lower disc by hand instead of walking. Never leave both out.",
      },
      {
        do: "Listen. Go on until the crackle fades to a hiss and the mud is grey and smooth.",
        right: `Quiet, and it drags: the charge is spent, after ${
          from("charge_lasts_coarse")
        }. A new one.`,
        wrong:
          "It drags and still crackles: a little water. It floats without a sound: half the water next time. It squeals or jerks: stop, give water, never push through.",
        write: "The tally: one line a charge.",
        drawing: "charge",
      },
      {
        do: `Sponge the mud from the rims between charges. After every ${
          said("rinse_every")
        }, and before each reading, rinse both discs in the bucket.`,
        right: `About ${said("charges_hour_coarse")} in an hour at the bench, ${
          said("grinding_in_an_hour")
        } of grinding.`,
        wrong: "Mud down a sink sets like cement: into the bucket, let it settle.",
        minds: ["sludge"],
      },
      {
        do: `Rest ${said("pause")} after every ${
          said("pause_after")
        }. First slide the discs apart sideways, at once, still wet. Lay a wet cloth over both.`,
        right: "They part with a slow pull.",
        wrong:
          "They stick. If they stick, stop: lay both in lukewarm water, and let an adult part them as page 07 says.",
        minds: ["stuck discs"],
      },
      {
        do: `After ${said("rough_session")} rinse, dry, wait ${
          said("reading_rest")
        }, and measure the bevel.`,
        right: `${from("bevel")} on the face.`,
        wrong: `Under ${said("bevel_never_under")}: stone it now.`,
        write: "grinding.csv: abrasive, position, minutes, strokes, side_mm, length_mm.",
      },
      {
        do:
          "Read the depth with leaves under the straight-edge, on three diameters: along the arrow and a third of a turn to either side.",
        right: `They agree within ${decision("diameters_spread_most")} mm.`,
        wrong: "They do not: the turning is wrong. Go back to step 5.",
        write:
          "sagitta.csv: go_mm, nogo_mm, angle_deg, after_min. Where there is no such field: the diameter into the note.",
        drawing: "leaves",
      },
      {
        do: `Do it twice more. Leave the first ${
          said("fast_start")
        } out, and divide what the rest added by its minutes.`,
        right: `About ${said("rate_f80")} with F80. Yours is the one that counts.`,
        wrong: "Half of it or less: too little weight, spent charges, or too short an overhang.",
        write: "On the disc’s back: your rate.",
      },
    ],
  };
}

/** One session of figuring, from decision to the next test. */
import { decision } from "../../record/tables.ts";
import { AFTER_VERDICT } from "../../knowledge/rules.ts";
import { type BenchNumbers, mm, said, waited, type Work } from "./procedure.ts";

/** Figuring. */
export function shapeSurface({ aperture, length, thickness }: BenchNumbers): Work {
  return {
    title: "One session of figuring",
    who: "a learner; small laps and warm laps a trained adult",
    bench: [
      "the pressed lap, the mirror, slurry, gloves",
      "the plan with its doubt",
      "a lidded bucket of water that stood overnight in the test room",
      "the test stand, dry, beside the bench",
    ],
    alone:
      "You may polish and test alone. Glass does not come back: nothing is done on one run, one diameter or one photograph.",
    steps: [
      {
        do:
          `Decide first. ${AFTER_VERDICT.yes} ${AFTER_VERDICT.no} ${AFTER_VERDICT.notShown} The whole surface is the arrow at 0, 45 and 90, both knives.`,
        right: "You can say which of the three it is, and by how many runs.",
        wrong: "You want to make it a little better: one more session can only be paid for.",
        minds: ["skin and lungs", "knife and lamp"],
      },
      {
        do:
          "Name the one largest thing, larger than twice its own doubt: the middle high, a ring, the edge, or two curves.",
        right: "It has a name, and a number with its doubt.",
        wrong: "Two curves: no local work. Half an hour of even strokes, turned by the rule.",
        write: "A note: what, how high, how sure.",
      },
      {
        do: `Choose one stroke. Middle high: mirror on top, a quarter of ${
          mm(aperture)
        } to the side, half of it long. All over: over the centre, ${
          mm(length)
        } long. Rim high: lap on top, over the centre, half of the width long.`,
        right: "The kit’s plan says the same stroke, and how much it will bring.",
        write: "grinding.csv: position, side_mm, length_mm.",
        drawing: "stroke",
      },
      {
        do: `Press the lap cold for ${said("press_cold")}, and look through the back.`,
        right: "Full contact.",
        wrong: "No full contact: no session today. Warming the pitch lap is the trained adult’s.",
        minds: ["hot pitch"],
        drawing: "contact",
      },
      {
        do:
          `Polish the plan’s minutes, no more: they are a part of what is too high, as much as the doubt allows. ${
            said("figure_least")
          } a stroke at least, ${decision("session_longest")} min in all at most, at ${
            said("pace")
          }.`,
        right: "The same drag as in polishing.",
        wrong: `Under ${
          said("figure_least")
        }: hands cannot keep so short an order. Measure instead.`,
        drawing: "posture",
      },
      {
        do: `Turn by the rule after every ${said("turn_strokes")}: ${said("turn_upper")}, ${
          said("turn_lower")
        }. A stroke to the side wants two minutes at least, or its sets do not go all round.`,
        right: "Four or five sets a minute.",
        wrong: `The plan gives it less: twice the time, with half the pressure (${
          said("press_polish", 0.5 * (aperture / 150) ** 2)
        }, the mirror and little more), and the plan’s minutes in the log. The disc tips at the ends: fingertips only there, a block of wood at both ends.`,
        drawing: "turn",
      },
      {
        do: `Slide off. Lay the mirror for ${
          waited("bath", thickness, 1.4)
        } into the lidded bucket, dry it, and stand it ${
          waited("bath_stand", thickness, 1.4)
        } on the test stand.`,
        right: "Glass, water and air are alike.",
        wrong:
          "An open bucket: its water is a degree or two colder than the room. Put the lid on, and wait again.",
        write: "grinding.csv: minutes, strokes. A note: bath and stand in minutes.",
      },
      {
        do: "Bands first, inside and outside, for half a minute.",
        right: "Their ends run straight off the glass.",
        wrong:
          "Hooks at the ends: the edge goes down. Press longer, shorter strokes, trim the lap with goggles on and an adult beside, leave the rim alone.",
        drawing: "hooks",
      },
      {
        do: `Then the zones: ${
          said("double_runs")
        } there and back, as in stage 11, knife taped and lamp dim.`,
        right: "You see before and after with the same doubt.",
        write: "zones.csv.",
      },
      {
        do: "Put what was foreseen beside what was found.",
        right: "Between half and twice. Your own hands’ rate is now in the record.",
        wrong: `${
          decision("sessions_without_gain")
        } sessions without a gain: something else is wrong, lap, air or stand. Stop, and look.`,
        write: "diary.csv: lap pressed, edge turned.",
      },
    ],
  };
}

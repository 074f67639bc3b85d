/** The last part of the depth, and the way back from too deep. */
import { decision } from "../../record/tables.ts";
import { type BenchNumbers, mm, said, type Work } from "./procedure.ts";

/** Stop on time; swap where it is too deep. */
export function correctDepth({ depth, length }: BenchNumbers): Work {
  return {
    title: "Come to the right depth",
    who: "a learner, an adult in the room",
    bench: [
      "safety glasses",
      "the bench of stage 03",
      "leaves and straight-edge",
      "the log with four depths or more",
    ],
    alone: "As in stage 03. Stop earlier rather than later: depth cannot be put back by thinking.",
    steps: [
      {
        do: "Let the kit say the stopping minute from your log. Say your own forecast aloud first.",
        right: "Yours and the kit’s lie within some minutes of each other.",
        wrong: "They do not: a depth is misread, or the grade or the person changed. Look.",
        minds: ["glass edges"],
      },
      {
        do: `Grind only half of the minutes that are left (${
          100 * decision("forecast_share")
        } %), with the same stroke, grade, weight and person, and one charge after the other. Safety glasses on.`,
        right: "The same sound as before.",
        write: "grinding.csv: a row.",
      },
      {
        do: `Rinse, dry, wait ${said("reading_rest")}, read three diameters.`,
        right: "The new depth lies on the line of the old ones.",
        wrong: "It does not: read again before you grind again.",
        write: "sagitta.csv: go_mm, nogo_mm, after_min.",
        drawing: "leaves",
      },
      {
        do: `Grind the last ${said("last_depth")} over the centre, strokes ${
          mm(length)
        } long. It takes eight times the minutes that the forecast gives for them.`,
        right: "It goes about an eighth as fast. Nothing is missed by a slow minute.",
        drawing: "stroke",
      },
      {
        do: `Stop one standard uncertainty short of ${
          mm(depth, 3)
        }. Stop on your own clock, not when the others stop.`,
        right: `Depth and target agree within ${
          decision("depth_tolerance")
        } mm and within twice its uncertainty. The finer grades add nothing where the discs are swapped after every charge, as page 07 does.`,
      },
      {
        do: `Too deep by more than twice its uncertainty? Lay the tool on top. Same stroke, for ${
          100 * decision("swap_share")
        } % of the minutes that the depth too much took. Then read.`,
        right: "It is shallower by about what was planned.",
        wrong: "It is deeper still: the discs were not swapped. Look which one lies on top.",
        write: "grinding.csv: position tool on top.",
        minds: ["dust"],
      },
      {
        do: "Measure the bevel of both discs before the fine grades.",
        right: `${said("bevel_never_under")} or more on the face.`,
        wrong: "Less: stone it now, before the bench is cleaned.",
        write: "diary.csv: bevel renewed.",
      },
    ],
  };
}

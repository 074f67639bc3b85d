/** The whole job as a path, filled as far as a mirror's record goes. */
import { type Stage as PathStage, timeline } from "../figures/timeline.ts";
import type { Shown } from "../figures/show.ts";
import { course, findStage } from "../lessons/course.ts";
import type { Measured } from "../quantity/measured.ts";
import type { Mirror } from "../knowledge/open.ts";
import { fromQ } from "../knowledge/q.ts";
import { grainUm, ladder } from "../knowledge/rules.ts";
import { roughSizeUm } from "../shaping/grinding/grindingLog.ts";

/** What the record knows of a stage, in a number or a few words. */
interface Got {
  readonly got: Measured | string;
  readonly from: string;
}

function minutesOf({ record }: Mirror, wanted: (abrasive: string) => boolean): Got | undefined {
  const rows = record.grinding.filter(({ abrasive }) => wanted(abrasive));
  if (rows.length === 0) return undefined;
  const minutes = rows.reduce((sum, row) => sum + row.minutes, 0);
  return { got: `${Number(minutes.toFixed(1))} min`, from: "minutes, from grinding.csv" };
}

/** Stage by stage; a stage that no table tells of has nothing. */
function gotOf(stem: string, mirror: Mirror): Got | undefined {
  const { summary } = mirror;
  const isRough = (name: string): boolean => (grainUm(name) ?? 0) >= roughSizeUm;
  switch (stem) {
    case "00-open-record":
      return { got: mirror.record.name, from: "the folder" };
    case "01-choose-mirror":
      return {
        got: `${summary.design.aperture.value} mm f/${
          Number(summary.design.focal_ratio.toFixed(2))
        }`,
        from: "the plan, from mirror.yaml",
      };
    case "03-grind-hollow":
      return minutesOf(mirror, (name) => isRough(name) && !ladder.includes(name));
    case "04-measure-curve":
      return summary.curve?.radius === undefined
        ? undefined
        : { got: fromQ(summary.curve.radius), from: "radius of curvature" };
    case "06-correct-depth":
      return summary.grinding === undefined
        ? undefined
        : { got: fromQ(summary.grinding.sagitta_now), from: "sagitta, from the log" };
    case "07-smooth-surface":
      return minutesOf(mirror, (name) => ladder.includes(name));
    case "09-polish-surface":
      return minutesOf(mirror, (name) => grainUm(name) === undefined);
    case "11-measure-zones":
      return summary.figure?.zones?.conic === undefined
        ? undefined
        : { got: fromQ(summary.figure.zones.conic), from: "conic constant, from zones.csv" };
    case "12-judge-mirror":
      return summary.verdict === undefined
        ? undefined
        : { got: `verdict: ${summary.verdict.meets_goal}`, from: "the goal, from zones.csv" };
    default:
      return undefined;
  }
}

/**
 * The stages of the job, in order: done up to the next step, which is `here`.
 *
 * @param mirror  its summary says which stage comes next
 */
export function yourPath(mirror: Mirror): Shown {
  const here = findStage(mirror.summary.next_step.stage)?.number ?? 1;
  return timeline(
    course.slice(0, -1).map(({ number, title, stem }): PathStage => ({
      name: title,
      state: number < here ? "done" : number === here ? "here" : "ahead",
      ...gotOf(stem, mirror),
    })),
  );
}

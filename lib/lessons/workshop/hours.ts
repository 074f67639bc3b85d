/** How long one mirror takes, stage by stage: grinding and polishing from the kit's own laws, the rest from the lessons' cards. */
import { sagitta } from "../../optics/sphere.ts";
import type { Grade } from "../../shaping/grinding/grade.ts";
import { fineLadder } from "../../shaping/grinding/ladder.ts";
import { chordRoutine, minutesOf } from "../../shaping/grinding/routine.ts";
import { closedWear, wearSettings } from "../../shaping/grinding/wearLaws.ts";
import { polishTime } from "../../shaping/lap/polish.ts";

/** One stage of the work, for one learner; minutes. */
export interface StageTime {
  /** of the course: "grind-hollow" */
  readonly name: string;
  readonly read: number;
  /** at the bench, washing left out */
  readonly bench: number;
  /** what is measured, and when */
  readonly measure: string;
}

/**
 * Washing, fetching and waiting, as a share of the bench's time: from, to. INVENTED: chosen so that 150 mm f/8 comes to the 22 to
 * 26 hours that the invented workshop took. Nobody timed it; a leader's own clock comes first.
 */
export const washing = { least: 0.1, most: 0.3 } as const;

/** Tests and sessions of figuring, min. INVENTED, as above */
const testsAndSessions = 180;
/** Pits left by the last grade, um, and the polish at the edge, um/h. INVENTED with the demo mirror, whose polish took 6 h */
const pits = 5, edgeRate = 0.9;

/** Minutes of rough grinding from flat to the curve. */
export function roughMinutes(aperture: number, focalLength: number): number {
  const routine = chordRoutine(aperture);
  const each = closedWear(wearSettings(aperture), routine, 1).upperSagitta;
  return minutesOf(sagitta(aperture, 2 * focalLength) / each, routine);
}

/**
 * The stages up to a mirror that is judged, with their minutes.
 *
 * @param aperture     mm
 * @param focalLength  mm
 * @param grades       the ladder, coarse to fine, the first being the rough one
 * @throws {RangeError} for sizes that no mirror has
 */
export function stageTimes(
  aperture: number,
  focalLength: number,
  grades: readonly Grade[],
): StageTime[] {
  const rough = roughMinutes(aperture, focalLength);
  const fine = fineLadder(grades, aperture).reduce((sum, { minutes }) => sum + minutes.least, 0);
  const hours = polishTime({
    pits: { least: pits, most: pits },
    rate: edgeRate,
    edgeShare: 1,
  }).edge.hours;
  const marks = Array.from({ length: Math.floor(rough / 20) }, (_, i) => 20 * (i + 1));
  const of = (name: string, read: number, bench: number, measure: string): StageTime => ({
    ...{ name, read, bench, measure },
  });
  return [
    of("open-record", 15, 10, "the folder is read without a refusal"),
    of("choose-mirror", 35, 20, "R and s on the disc"),
    of("prepare-discs", 20, 60, "rim at four places, bevel on the face, weight"),
    of("grind-hollow", 30, rough, `depth at minute ${marks.join(", ")}`),
    of("measure-curve", 30, 60, "leaves on six diameters, spherometer, Sun with the leader"),
    of("weigh-readings", 40, 30, "ten readings of one thing, and the neighbour’s"),
    of("correct-depth", 25, 60, "depth at the stop, and after every correction"),
    of("smooth-surface", 25, fine, "pits and pencil after each grade, R after the last"),
    of("pour-lap", 20, 90, "contact through the back"),
    of("polish-surface", 25, 60 * hours, "pits at the edge each hour"),
    of("read-bands", 30, 40, "bands in two directions"),
    of("measure-zones", 40, testsAndSessions / 3, "three runs of the zones at least"),
    of("judge-mirror", 30, 0, "the verdict with its probability"),
    of("shape-surface", 30, 2 * testsAndSessions / 3, "zones after every session"),
  ];
}

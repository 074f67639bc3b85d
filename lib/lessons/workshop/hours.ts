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
  /** with what an evening may end before the stage is over */
  readonly pause: string;
  /** true where the work is at the lap, which nobody does for longer than `lapMost` in a day */
  readonly isAtLap?: boolean;
}

/** Most that a learner polishes in a day, min. COMMON PRACTICE */
export const lapMost = 180;

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
  const of = (
    name: string,
    read: number,
    bench: number,
    measure: string,
    pause: string,
  ): StageTime => ({ name, read, bench, measure, pause });
  const lap = "the lap level in its box, the mirror in its own, never on it";
  return [
    of("open-record", 15, 10, "the folder is read without a refusal", "anything"),
    of("choose-mirror", 35, 20, "R and s in the folder", "anything"),
    of(
      "prepare-discs",
      20,
      60,
      "rim at four places, bevel on the face, weight",
      "a whole edge, never one half stoned; rinsed, dry, marked",
    ),
    of(
      "grind-hollow",
      30,
      rough,
      `depth at minute ${marks.join(", ")}`,
      "a charge ended, the discs apart and rinsed, the depth read and written",
    ),
    of(
      "measure-curve",
      30,
      60,
      "leaves on three diameters, spherometer, lamp at the centre of curvature",
      "one method, all its readings",
    ),
    of(
      "weigh-readings",
      40,
      30,
      "ten readings of one thing, and the neighbour’s",
      "one series of readings",
    ),
    of(
      "correct-depth",
      25,
      60,
      "depth at the stop, and after every correction",
      "a stretch ended and read; never a stretch that nobody read",
    ),
    of(
      "smooth-surface",
      25,
      fine,
      "pits and pencil after each grade, R after the last",
      "a charge ended, the discs apart and rinsed; the grade goes on next time, the next jar stays shut",
    ),
    of(
      "pour-lap",
      20,
      90,
      "contact through the back",
      "the lap cold, the mirror lifted off it: all that is hot goes in one sitting, or is not begun",
    ),
    {
      ...of("polish-surface", 25, 60 * hours, "pits at the edge each hour", lap),
      isAtLap: true,
    },
    of("read-bands", 30, 40, "bands in two directions", "one pair of pictures"),
    of(
      "measure-zones",
      40,
      testsAndSessions / 3,
      "three runs of the zones at least",
      "a whole double run, never half of one",
    ),
    of("judge-mirror", 30, 0, "the verdict with its probability", "anything"),
    of(
      "shape-surface",
      30,
      2 * testsAndSessions / 3,
      "zones after every session",
      "a session with its test; what is polished and not tested is tested first next time",
    ),
  ];
}

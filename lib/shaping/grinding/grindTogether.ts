/** A session of grinding foreseen: mirror and tool, swapped as the log says, and what becomes of both. */
import { detailFor } from "./detailFor.ts";
import { type Departures, departures, fittedSagitta, meanRemoval } from "./discShape.ts";
import type { Position } from "./grindingLog.ts";
import { minutesOf, playRoutine, type Routine, strokesAt } from "./routine.ts";
import { WearBench, type WearDetail } from "./wear.ts";
import type { WearSettings } from "./wearLaws.ts";
import type { DiscShape } from "./wornDisc.ts";

/** Grinding in one position. */
export interface Session {
  /** which disc is on top */
  readonly position: Position;
  /** above 0 */
  readonly minutes: number;
}

/** Two discs to be ground on each other, beginning flat. */
export interface GrindingWork {
  /** discs, load and wear */
  readonly settings: WearSettings;
  /** strokes and turns */
  readonly routine: Routine;
  /** in the order of the work, at least one */
  readonly sessions: readonly Session[];
  /** of the routine's slips; default 1 */
  readonly seed?: number;
  /** default as the routine asks for, see `detailFor` */
  readonly detail?: WearDetail;
}

/** One disc when the work is done. */
export interface GroundDisc {
  /** of the best sphere, mm; + is hollow */
  readonly sagitta: number;
  /** mean depth of glass taken off, mm */
  readonly removal: number;
  /** from the best sphere */
  readonly departures: Departures;
  /** for maps: see `removalMap` */
  readonly shape: DiscShape;
}

/** Both discs when the work is done, and how they came to it. */
export interface Ground {
  /** the disc that becomes hollow with mirror on top */
  readonly mirror: GroundDisc;
  /** the other disc */
  readonly tool: GroundDisc;
  /** after every set, beginning with flat discs at minute 0; sagittas in mm */
  readonly course: readonly {
    readonly minutes: number;
    readonly strokes: number;
    readonly mirrorSagitta: number;
    readonly toolSagitta: number;
    readonly position: Position;
  }[];
}

/**
 * Grinds two flat discs of one size together, session after session.
 *
 * @throws {RangeError} for minutes not above 0, no session at all, or a routine that cannot be done
 * @example six minutes with the mirror on top, six with the tool on top
 * ```ts
 * import assert from "node:assert/strict";
 * import { chordRoutine } from "./routine.ts";
 * import { wearSettings } from "./wearLaws.ts";
 * const { course, mirror } = grindTogether({
 *   settings: wearSettings(150),
 *   routine: chordRoutine(150),
 *   sessions: [{ position: "mirror on top", minutes: 6 }, { position: "tool on top", minutes: 6 }],
 *   detail: { rings: 12, angles: 24 },
 * });
 * assert.equal(course.length, 61); // 40 strokes a minute, a turn after every 8, and the flat discs at the start
 * assert.ok((course[30]?.mirrorSagitta ?? 0) > mirror.sagitta);
 * ```
 */
export function grindTogether(work: GrindingWork): Ground {
  const { settings, routine, sessions, seed = 1 } = work;
  requireSessions(sessions);
  const { detail = detailFor(routine, 2 * settings.upperRadius) } = work;
  const bench = new WearBench(settings, detail);
  let top: Position = sessions[0]?.position ?? "mirror on top";
  const shapes = (): { mirror: DiscShape; tool: DiscShape } => {
    const { upper, lower } = bench.worn;
    return top === "mirror on top"
      ? { mirror: upper, tool: lower }
      : { mirror: lower, tool: upper };
  };
  const course: Ground["course"][number][] = [
    { minutes: 0, strokes: 0, mirrorSagitta: 0, toolSagitta: 0, position: top },
  ];
  let strokes = 0;
  for (const [i, session] of sessions.entries()) {
    if (session.position !== top) {
      bench.swap();
      top = session.position;
    }
    for (const set of playRoutine(routine, setsIn(session.minutes, routine), seed + i)) {
      bench.grind(set);
      strokes += set.strokes;
      const { mirror, tool } = shapes();
      course.push({
        minutes: minutesOf(strokes, routine),
        strokes,
        mirrorSagitta: fittedSagitta(mirror),
        toolSagitta: fittedSagitta(tool),
        position: top,
      });
    }
  }
  const { mirror, tool } = shapes();
  return { mirror: ground(mirror), tool: ground(tool), course };
}

function ground(shape: DiscShape): GroundDisc {
  const sagitta = fittedSagitta(shape), removal = meanRemoval(shape);
  return { sagitta, removal, departures: departures(shape), shape };
}

/** Whole sets that come nearest to so many minutes, one at least. */
function setsIn(minutes: number, routine: Routine): number {
  let sets = 0, spent = 0;
  while (spent < minutes - 1e-9) spent += minutesOf(strokesAt(routine, sets++), routine);
  return Math.max(1, sets);
}

function requireSessions(sessions: readonly Session[]): void {
  if (sessions.length === 0) {
    throw new RangeError("grindTogether requires at least one session, got none");
  }
  for (const { minutes } of sessions) {
    if (!(minutes > 0 && minutes <= 6000)) {
      throw new RangeError(`grindTogether requires minutes above 0, got minutes=${minutes}`);
    }
  }
}

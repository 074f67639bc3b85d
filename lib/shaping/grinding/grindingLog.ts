/**
 * The grinding log as two clocks: minutes with the mirror on top, and minutes with the tool on top.
 *
 * Mirror on top deepens the hollow, tool on top takes it back. Laid on these two clocks the depth is a plane, whatever
 * the order of the work was.
 */

export type Position = "mirror on top" | "tool on top";

/** One line of the log. */
export interface LogInterval {
  /** above 0 */
  readonly minutes: number;
  readonly position: Position;
  /** the grade with its letter, "F80" */
  readonly abrasive: string;
  /** minutes of grinding at the end of this line, where the maker wrote them */
  readonly afterMin?: number;
  readonly file: string;
  readonly line: number;
}

/** One reading of the depth, carried to the full aperture. */
export interface DepthReading {
  /** minutes of grinding so far, 0 or more */
  readonly afterMin: number;
  /** at the full aperture, mm */
  readonly sagitta: number;
  /** standard uncertainty of this reading, mm; of a bracket, its width over 2 sqrt 3 */
  readonly u: number;
  readonly file: string;
  readonly line: number;
}

/** What a grade of `Grade` is needed for here: its name and middle grain. */
export interface GrainSize {
  /** with its letter: "F80" */
  readonly name: string;
  /** middle grain, um */
  readonly sizeUm: number;
}

/** Finer than this and the hollow hardly changes any more: the log's rates are taken from the coarser lines. */
export const roughSizeUm = 60;

/** Where the log stood at a moment. */
export interface Clocks {
  /** minutes with the mirror on top, each grade's counted by its grain against the grade in use */
  readonly top: number;
  /** the same with the tool on top */
  readonly bottom: number;
  /** integral of the minutes so far over `top` less that over `bottom`: the column of a drifting rate */
  readonly drift: number;
}

export interface GrindingLog {
  /** all minutes logged */
  readonly minutes: number;
  /** minutes up to the end of rough grinding; all of them where the last line is rough, or none is */
  readonly roughMinutes: number;
  /** the rough grade now in use, or else the one used longest: the clocks count its minutes */
  readonly grade: string;
  /** the grade of the last line */
  readonly gradeNow: string;
  /** gradeNow's grain over grade's */
  readonly share: number;
  /** the clocks after so many minutes; past the log's end the last line is taken to go on */
  readonly at: (afterMin: number) => Clocks;
}

/**
 * Reads the log's lines, in the order of the work.
 *
 * Wear goes with the grain, so a minute of another grade counts by its middle grain over that of the grade now in use.
 * Once the log has gone on to grades finer than 60 um, that is the rough grade which was used longest: the one that made
 * the hollow.
 *
 * @param intervals  lines of the log, at least one
 * @param grades     grain sizes; needed for every grade in a log that holds more than one
 * @throws {RangeError} for minutes that are not above 0, a log that runs backwards, or a grade that is not known
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const line = { abrasive: "F80", file: "grinding.csv" };
 * const log = readGrindingLog([
 *   { ...line, minutes: 130, position: "mirror on top", line: 2 },
 *   { ...line, minutes: 4, position: "tool on top", line: 3 },
 * ]);
 * assert.deepEqual([log.at(132).top, log.at(132).bottom], [130, 2]);
 * ```
 */
export function readGrindingLog(
  intervals: readonly LogInterval[],
  grades: readonly GrainSize[] = [],
): GrindingLog {
  requireIntervals(intervals);
  const rough = lastRough(intervals, grades);
  const last = intervals[intervals.length - 1];
  const grade = intervals[rough]?.abrasive ?? "";
  const gradeNow = last?.abrasive ?? "";
  const weights = new Map(
    namesIn(intervals).map((name) => [
      name,
      name === grade ? 1 : sizeOf(name, grades, intervals) / sizeOf(grade, grades, intervals),
    ]),
  );
  const weight = (name: string): number => weights.get(name) ?? 1;
  const steps = stepsOf(intervals, weight);
  const total = (lines: readonly LogInterval[]): number =>
    lines.reduce((sum, { minutes }) => sum + minutes, 0);
  return {
    minutes: total(intervals),
    roughMinutes: total(intervals.slice(0, rough + 1)),
    grade,
    gradeNow,
    share: weight(gradeNow),
    at: (afterMin) => clocksAt(steps, afterMin),
  };
}

/** A line of the log with what the clocks showed when it began. */
interface Step {
  readonly position: Position;
  readonly weight: number;
  /** minutes so far */
  readonly begun: number;
  readonly before: Clocks;
}

/** The clocks of a line's beginning, and minutes of it. */
function onwards({ before, position, weight }: Step, minutes: number): Clocks {
  const { top, bottom, drift } = before;
  const counted = Math.max(0, minutes) * weight;
  const moment = counted * (top + bottom) + counted * counted / 2;
  return position === "mirror on top"
    ? { top: top + counted, bottom, drift: drift + moment }
    : { top, bottom: bottom + counted, drift: drift - moment };
}

/** The lines one after the other; there is at least one. */
function stepsOf(
  intervals: readonly LogInterval[],
  weight: (name: string) => number,
): readonly Step[] {
  let begun = 0, before: Clocks = { top: 0, bottom: 0, drift: 0 };
  return intervals.map(({ minutes, position, abrasive }) => {
    const step = { position, weight: weight(abrasive), begun, before };
    begun += minutes;
    before = onwards(step, minutes);
    return step;
  });
}

/** The clocks at a moment, its line found by halving: a log of any length answers at once. */
function clocksAt(steps: readonly Step[], afterMin: number): Clocks {
  let low = 0, high = steps.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((steps[middle]?.begun ?? Infinity) <= afterMin) low = middle;
    else high = middle - 1;
  }
  const step = steps[low];
  return step === undefined
    ? { top: 0, bottom: 0, drift: 0 }
    : onwards(step, afterMin - step.begun);
}

function namesIn(intervals: readonly LogInterval[]): readonly string[] {
  return [...new Set(intervals.map(({ abrasive }) => abrasive))];
}

/** The line at which rough grinding ends: the log's last, or the last in the rough grade that was used longest. */
function lastRough(intervals: readonly LogInterval[], grades: readonly GrainSize[]): number {
  const end = intervals.length - 1, names = namesIn(intervals);
  if (names.length === 1) return end;
  const rough = new Set(names.filter((name) => sizeOf(name, grades, intervals) >= roughSizeUm));
  if (rough.size === 0 || rough.has(intervals[end]?.abrasive ?? "")) return end;
  const minutes = new Map([...rough].map((name) => [name, 0]));
  for (const line of intervals) {
    const before = minutes.get(line.abrasive);
    if (before !== undefined) minutes.set(line.abrasive, before + line.minutes);
  }
  const [longest] = [...minutes].reduce((best, one) => one[1] > best[1] ? one : best);
  return intervals.findLastIndex(({ abrasive }) => abrasive === longest);
}

function sizeOf(
  name: string,
  grades: readonly GrainSize[],
  intervals: readonly LogInterval[],
): number {
  const size = grades.find((grade) => grade.name === name)?.sizeUm;
  if (size !== undefined) return size;
  const line = intervals.find(({ abrasive }) => abrasive === name);
  throw new RangeError(
    `readGrindingLog requires a known grade, its scale's letter included, got "${name}" in ${line?.file}, line ${line?.line}`,
  );
}

function requireIntervals(intervals: readonly LogInterval[]): void {
  if (intervals.length === 0) {
    throw new RangeError("readGrindingLog requires at least one line, got none");
  }
  let sum = 0, before = 0;
  for (const { minutes, afterMin, file, line } of intervals) {
    if (!(minutes > 0 && Number.isFinite(minutes))) {
      throw new RangeError(
        `readGrindingLog requires minutes above 0, got ${minutes} in ${file}, line ${line}`,
      );
    }
    sum += minutes;
    if (afterMin === undefined) continue;
    if (!(afterMin >= before)) {
      throw new RangeError(
        `readGrindingLog requires a log that runs forwards, got after_min=${afterMin} after ${before} in ${file}, line ${line}`,
      );
    }
    before = afterMin;
  }
  if (!Number.isFinite(sum)) {
    throw new RangeError(`readGrindingLog requires finite minutes, got ${sum} in all`);
  }
}

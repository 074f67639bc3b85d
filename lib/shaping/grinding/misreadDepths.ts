/** Misread rows of the log: found by how far each stands from all the others, named, never deleted. */
import { tQuantile } from "../../numeric/quantiles.ts";
import { type ClockedReading, type DepthColumns, fitColumns } from "./depthColumns.ts";

/** A reading that the fit does not use, and why. */
export interface SetAsideReading {
  readonly file: string;
  readonly line: number;
  /** sagitta at the full aperture, mm */
  readonly value: number;
  readonly why: string;
}

/** With fewer readings none is set aside: one measures again. */
const setAsideLeast = 6;
/** A reading nearer to the fit than this many of its own widths is not a misread one; a bracket's width is u x 2 sqrt 3. */
const widthsLeast = 1.5;
/** Chance that a log without a misread row loses one. */
const misreadChance = 0.01;
/** A log with more readings than this is judged from as many of them, spread over it: one by one would cost their square. */
const oneByOneMost = 300;
/** Rounds in which a long log's readings are judged anew by the fit to those that stayed. */
const roundsMost = 8;

/**
 * Sets misread rows aside.
 *
 * The reading farthest from the fit is judged by the scatter of all the others (Student's t, 1 % shared among the
 * readings), again and again for up to a quarter of them; the last that fails and all found before it go. A reading
 * within one and a half widths of its own bracket never goes, nor any out of fewer than six.
 *
 * Of more than 300 readings 300, spread evenly over the log, are gone through so; then all are judged, by the same
 * limits, by the fit to those that stand, until none comes or goes. That takes a time in proportion to their number.
 *
 * @see the repeated test: Rosner, Technometrics 25 (1983) 165 (from memory), here on the residuals of a fit
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const readings = [15, 30, 45, 60, 75, 90, 105].map((afterMin, i) => ({
 *   afterMin, sagitta: 0.009 * afterMin + 0.002 * (i % 2) + (i === 3 ? 0.25 : 0), u: 0.003,
 *   file: "sagitta.csv", line: i + 2, clocks: { top: afterMin, bottom: 0, drift: afterMin ** 2 / 2 },
 * }));
 * assert.equal(setMisreadAside(readings).setAside[0]?.line, 5);
 * ```
 */
export function setMisreadAside(
  readings: readonly ClockedReading[],
): { kept: readonly ClockedReading[]; setAside: readonly SetAsideReading[] } {
  const found = readings.length > oneByOneMost ? findInLong(readings) : findOneByOne(readings);
  const gone = new Set(found.map(({ reading }) => reading));
  return {
    kept: readings.filter((reading) => !gone.has(reading)),
    setAside: found.map(({ reading, off }) => misread(reading, off)),
  };
}

/** A reading, and how far it lies from the fit, mm. */
interface Found {
  readonly reading: ClockedReading;
  readonly off: number;
}

function fitOf(readings: readonly ClockedReading[]): DepthColumns | undefined {
  return fitColumns(readings, readings.length >= setAsideLeast + 1) ?? fitColumns(readings, false);
}

/** How many standard deviations one of so many readings may lie from the fit to the others. */
function limitFor(count: number, dof: number): number {
  return tQuantile(1 - misreadChance / 2 / count, dof);
}

function isFar(off: number, { u }: ClockedReading): boolean {
  return Math.abs(off) > widthsLeast * Math.sqrt(12) * u;
}

function findOneByOne(readings: readonly ClockedReading[]): readonly Found[] {
  let kept = readings, fails = 0;
  const trial: Found[] = [];
  while (kept.length >= setAsideLeast && trial.length < Math.floor(readings.length / 4)) {
    const fit = fitOf(kept);
    if (!fit || fit.free < 2) break;
    const distances = fit.distances().map(Math.abs), worst = argMax(distances);
    const reading = kept[worst];
    if (!reading) break;
    const off = fit.residuals[worst] ?? 0;
    trial.push({ reading, off });
    const limit = limitFor(kept.length, fit.free - 1);
    if ((distances[worst] ?? 0) > limit && isFar(off, reading)) fails = trial.length;
    kept = kept.filter((other) => other !== reading);
  }
  return trial.slice(0, fails);
}

function findInLong(readings: readonly ClockedReading[]): readonly Found[] {
  const some = spreadOver(readings, oneByOneMost);
  const wrong = new Set(findOneByOne(some).map(({ reading }) => reading));
  let kept = some.filter((reading) => !wrong.has(reading)), found: readonly Found[] = [];
  for (let round = 0; round < roundsMost; round++) {
    const fit = fitOf(kept);
    if (!fit) break;
    const before = found;
    found = farFrom(fit, readings);
    const gone = new Set(found.map(({ reading }) => reading));
    kept = readings.filter((reading) => !gone.has(reading));
    if (
      round > 0 && before.length === found.length &&
      before.every(({ reading }) => gone.has(reading))
    ) {
      break;
    }
  }
  return found;
}

/** Readings too far from a fit to be believed; a quarter of them at most, the farthest. */
function farFrom(fit: DepthColumns, readings: readonly ClockedReading[]): readonly Found[] {
  const scatter = Math.sqrt(fit.residuals.reduce((sum, r) => sum + r * r, 0) / fit.free);
  const limit = limitFor(readings.length, fit.free) * scatter;
  const far = readings.flatMap((reading): readonly Found[] => {
    const off = reading.sagitta - depthBy(fit, reading);
    return Math.abs(off) > limit && isFar(off, reading) ? [{ reading, off }] : [];
  });
  const most = Math.floor(readings.length / 4);
  if (far.length <= most) return far;
  return far.toSorted((a, b) => Math.abs(b.off) - Math.abs(a.off)).slice(0, most);
}

function depthBy(
  { coefficients: [start, topRate, bottomRate, drift] }: DepthColumns,
  { clocks }: ClockedReading,
): number {
  return start + topRate * clocks.top + bottomRate * clocks.bottom + drift * clocks.drift;
}

/** So many of the readings, spread evenly by the golden section, so that no rhythm in them falls in with the choice. */
function spreadOver<T>(all: readonly T[], count: number): readonly T[] {
  const golden = (Math.sqrt(5) - 1) / 2;
  const places = new Set<number>();
  for (let i = 0; places.size < count; i++) places.add(Math.floor(all.length * ((i * golden) % 1)));
  return all.filter((_, i) => places.has(i));
}

function misread({ file, line, sagitta }: ClockedReading, off: number): SetAsideReading {
  const um = Math.round(Math.abs(off) * 1000);
  const why = `${um} µm ${
    off > 0 ? "deeper" : "shallower"
  } than all the other readings together say`;
  return { file, line, value: sagitta, why };
}

function argMax(values: readonly number[]): number {
  return values.reduce((best, value, i) => value > (values[best] ?? -Infinity) ? i : best, 0);
}

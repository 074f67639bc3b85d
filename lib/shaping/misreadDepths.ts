/** Misread rows of the log: found by how far each stands from all the others, named, never deleted. */
import { tQuantile } from "../numeric/quantiles.ts";
import { type ClockedReading, fitColumns } from "./depthColumns.ts";

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

/**
 * Sets misread rows aside.
 *
 * The reading farthest from the fit is judged by the scatter of all the others (Student's t, 1 % shared among the
 * readings), again and again for up to a quarter of them; the last that fails and all found before it go. A reading
 * within one and a half widths of its own bracket never goes, nor any out of fewer than six.
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
  let kept = readings, found: { readonly reading: ClockedReading; readonly off: number }[] = [];
  let fails = 0;
  const trial: typeof found = [];
  while (kept.length >= setAsideLeast && trial.length < Math.floor(readings.length / 4)) {
    const fit = fitColumns(kept, kept.length >= setAsideLeast + 1) ?? fitColumns(kept, false);
    if (!fit || fit.free < 2) break;
    const worst = argMax(fit.distances.map(Math.abs));
    const reading = kept[worst];
    if (!reading) break;
    const limit = tQuantile(1 - misreadChance / 2 / kept.length, fit.free - 1);
    const off = fit.residuals[worst] ?? 0;
    trial.push({ reading, off });
    const far = Math.abs(off) > widthsLeast * Math.sqrt(12) * reading.u;
    if (Math.abs(fit.distances[worst] ?? 0) > limit && far) fails = trial.length;
    kept = kept.filter((other) => other !== reading);
  }
  found = trial.slice(0, fails);
  kept = readings.filter((reading) => !found.some((one) => one.reading === reading));
  return { kept, setAside: found.map(({ reading, off }) => misread(reading, off)) };
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

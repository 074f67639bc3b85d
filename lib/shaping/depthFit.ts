/** Depth against the two clocks of the log: rates, their drift where it shows, and readings set aside. */
import { type LinearFit, linearFit } from "../numeric/leastSquares.ts";
import { tCdf, tQuantile } from "../numeric/quantiles.ts";
import type { Clocks, DepthReading } from "./grindingLog.ts";

/** A reading with the clocks that it was taken at. */
export interface ClockedReading extends DepthReading {
  readonly clocks: Clocks;
}

/** A reading that the fit does not use, and why. */
export interface SetAsideReading {
  readonly file: string;
  readonly line: number;
  /** sagitta at the full aperture, mm */
  readonly value: number;
  readonly why: string;
}

/** s = start + top x minutes on top + bottom x minutes with the tool on top + drift x its column; mm and minutes. */
export interface DepthFit {
  /** start, top, bottom, drift; 0 where a column is not in the fit */
  readonly coefficients: readonly [number, number, number, number];
  /** of the four, zero rows where a column is not in the fit */
  readonly covariance: readonly (readonly number[])[];
  readonly has: { readonly top: boolean; readonly bottom: boolean; readonly drift: boolean };
  readonly dof: number;
  /** scatter of one reading about the fit, mm */
  readonly s: number;
  readonly used: readonly ClockedReading[];
  readonly setAside: readonly SetAsideReading[];
}

/** With fewer readings none is set aside: one measures again. */
const setAsideLeast = 6;
/** A reading nearer to the fit than this many of its own widths is not a misread one; a bracket's width is u x 2 sqrt 3. */
const widthsLeast = 1.5;
/** Chance that a log without a misread row loses one. */
const misreadChance = 0.01;
/** Drift stays in where chance alone would show as much less often than this ... */
const driftChance = 0.2;
/** ... or where leaving it out would matter: this share of the rate over the whole log. */
const driftShare = 0.06;

/**
 * Fits the depths, every reading counting alike.
 *
 * One or more misread rows are set aside first: the reading farthest from the fit, judged by the scatter of all the
 * others (Student's t, 1 % shared among all readings), again and again for up to a quarter of them; the last that fails
 * and all found before it go. A reading within one and a half widths of its own bracket never goes.
 *
 * The rate may drift as grains and slurry change. The drift stays in the fit where it shows.
 *
 * @param readings  with clocks; two more than there are columns
 * @returns `undefined` where there are too few readings to say anything of their scatter
 * @see the repeated test: Rosner, Technometrics 25 (1983) 165 (from memory), here on the residuals of a fit
 * @example depths that grow by 0.009 mm a minute
 * ```ts
 * import assert from "node:assert/strict";
 * const readings = [20, 40, 60, 80].map((afterMin, i) => ({
 *   afterMin, sagitta: 0.02 + 0.009 * afterMin + (i === 1 ? 0.002 : 0), u: 0.003,
 *   file: "sagitta.csv", line: i + 2, clocks: { top: afterMin, bottom: 0, drift: afterMin ** 2 / 2 },
 * }));
 * assert.equal(fitDepths(readings)?.coefficients[1].toFixed(5), "0.00899");
 * ```
 */
export function fitDepths(readings: readonly ClockedReading[]): DepthFit | undefined {
  const { kept, setAside } = setMisreadAside(readings);
  const plain = fitColumns(kept, false);
  if (!plain) return undefined;
  const bent = kept.length >= setAsideLeast ? fitColumns(kept, true) : undefined;
  const fit = bent && driftMatters(bent, kept) ? bent : plain;
  return { ...fit, used: kept, setAside };
}

interface Columns extends Omit<DepthFit, "used" | "setAside"> {
  /** of each reading: its distance from the fit to all the others, in standard deviations of it */
  readonly distances: readonly number[];
  readonly residuals: readonly number[];
}

function fitColumns(readings: readonly ClockedReading[], drift: boolean): Columns | undefined {
  const all = readings.map(({ clocks }) => [1, clocks.top, clocks.bottom, clocks.drift]);
  const varies = (j: number): boolean => all.some((row) => row[j] !== all[0]?.[j]);
  const has = { top: varies(1), bottom: varies(2), drift };
  const columns = [0, ...(has.top ? [1] : []), ...(has.bottom ? [2] : []), ...(drift ? [3] : [])];
  if (columns.length < (drift ? 3 : 2) || readings.length <= columns.length) return undefined;
  const rows = all.map((row) => columns.map((j) => row[j] ?? 0));
  const fit = fitOrNothing(rows, readings.map(({ sagitta }) => sagitta));
  if (!fit) return undefined;
  const place = [0, 1, 2, 3].map((j) => columns.indexOf(j));
  const coefficient = (j: number): number => fit.coefficients[place[j] ?? -1] ?? 0;
  return {
    coefficients: [coefficient(0), coefficient(1), coefficient(2), coefficient(3)],
    covariance: place.map((i) => place.map((j) => fit.covariance[i]?.[j] ?? 0)),
    has,
    dof: fit.dof,
    s: fit.s,
    residuals: fit.residuals,
    distances: distances(fit, rows),
  };
}

/** Two clocks that never ran apart, or readings all at one moment, cannot be told from one another. */
function fitOrNothing(
  rows: readonly (readonly number[])[],
  y: readonly number[],
): LinearFit | undefined {
  try {
    return linearFit(rows, y);
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

/** Externally studentized residuals; 0 for a reading that the fit must pass through. */
function distances(fit: LinearFit, rows: readonly (readonly number[])[]): number[] {
  return rows.map((row, i) => {
    const leverage = row.reduce(
      (sum, a, j) =>
        sum + row.reduce((part, b, k) => part + a * b * (fit.unscaledCovariance[j]?.[k] ?? 0), 0),
      0,
    );
    const residual = fit.residuals[i] ?? 0, free = 1 - leverage;
    if (free < 1e-9 || fit.dof < 2) return 0;
    const others = (fit.s * fit.s * fit.dof - residual * residual / free) / (fit.dof - 1);
    return residual / Math.sqrt(Math.max(others, 1e-12) * free);
  });
}

function driftMatters(bent: Columns, readings: readonly ClockedReading[]): boolean {
  const drift = bent.coefficients[3], u = Math.sqrt(bent.covariance[3]?.[3] ?? 0);
  const clocks = readings.map(({ clocks: { top, bottom } }) => top + bottom);
  const span = Math.max(...clocks) - Math.min(...clocks);
  const share = Math.abs(drift * span / (bent.coefficients[1] || bent.coefficients[2]));
  return share > driftShare || 2 * tCdf(-Math.abs(drift) / u, bent.dof) < driftChance;
}

function setMisreadAside(
  readings: readonly ClockedReading[],
): { kept: readonly ClockedReading[]; setAside: readonly SetAsideReading[] } {
  let kept = readings, found: { readonly reading: ClockedReading; readonly off: number }[] = [];
  let fails = 0;
  const trial: typeof found = [];
  while (kept.length >= setAsideLeast && trial.length < Math.floor(readings.length / 4)) {
    const fit = fitColumns(kept, kept.length >= setAsideLeast + 1) ?? fitColumns(kept, false);
    if (!fit || fit.dof < 2) break;
    const worst = argMax(fit.distances.map(Math.abs));
    const reading = kept[worst];
    if (!reading) break;
    const limit = tQuantile(1 - misreadChance / 2 / kept.length, fit.dof - 1);
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
  const why = `${um} um ${
    off > 0 ? "deeper" : "shallower"
  } than all the other readings together say`;
  return { file, line, value: sagitta, why };
}

function argMax(values: readonly number[]): number {
  return values.reduce((best, value, i) => value > (values[best] ?? -Infinity) ? i : best, 0);
}

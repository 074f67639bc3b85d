/** One least-squares fit of depths on the columns of the log's clocks. */
import { type DesignRow, type LinearFit, linearFitBy } from "../../numeric/leastSquares.ts";
import { tCdf, tQuantile } from "../../numeric/quantiles.ts";
import type { Clocks, DepthReading } from "./grindingLog.ts";

/** A reading with the clocks that it was taken at. */
export interface ClockedReading extends DepthReading {
  readonly clocks: Clocks;
}

/** s = start + top x minutes on top + bottom x minutes with the tool on top + drift x its column; mm and minutes. */
export interface DepthColumns {
  /** start, top, bottom, drift; 0 where a column is not in the fit */
  readonly coefficients: readonly [number, number, number, number];
  /** of the four, zero rows where a column is not in the fit */
  readonly covariance: readonly (readonly number[])[];
  readonly has: { readonly top: boolean; readonly bottom: boolean; readonly drift: boolean };
  /** readings less columns */
  readonly free: number;
  /** of the uncertainties: of the scatter, or none where the readings' own u is what counts */
  readonly dof: number;
  /** what one reading counts for, mm: its scatter about the fit, or its own u; see `fitColumns` */
  readonly s: number;
  /** of each reading: its distance from the fit to all the others, in standard deviations of it; worked out when asked for */
  readonly distances: () => readonly number[];
  /** reading less fit, mm */
  readonly residuals: readonly number[];
}

/**
 * Fits start and rates, and a drift of the rates if asked, every reading counting alike.
 *
 * Readings may fall on a line by chance, coarse brackets above all; they are no surer for it. So the uncertainties rest on
 * the scatter, with Student's t for its few readings, or on the readings' own u, with the normal quantile, whichever gives
 * the wider 95 % interval.
 *
 * @param readings  with clocks
 * @param drift     whether the rates may change steadily
 * @returns `undefined` where there are too few readings, or they cannot tell the columns apart
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const at = (afterMin: number, sagitta: number, line: number) => ({
 *   afterMin, sagitta, u: 0.003, file: "sagitta.csv", line,
 *   clocks: { top: afterMin, bottom: 0, drift: afterMin ** 2 / 2 },
 * });
 * const fit = fitColumns([at(20, 0.2, 2), at(40, 0.382, 3), at(60, 0.56, 4)], false);
 * assert.equal(fit?.coefficients[1].toFixed(3), "0.009");
 * ```
 */
export function fitColumns(
  readings: readonly ClockedReading[],
  drift: boolean,
): DepthColumns | undefined {
  const first = readings[0]?.clocks;
  const has = {
    top: readings.some(({ clocks }) => clocks.top !== first?.top),
    bottom: readings.some(({ clocks }) => clocks.bottom !== first?.bottom),
    drift,
  };
  const columns = [0, ...(has.top ? [1] : []), ...(has.bottom ? [2] : []), ...(drift ? [3] : [])];
  if (columns.length < (drift ? 3 : 2) || readings.length <= columns.length) return undefined;
  const row: DesignRow = (i, out) => {
    const clocks = readings[i]?.clocks;
    let at = 0;
    out[at++] = 1;
    if (has.top) out[at++] = clocks?.top ?? 0;
    if (has.bottom) out[at++] = clocks?.bottom ?? 0;
    if (has.drift) out[at++] = clocks?.drift ?? 0;
  };
  const fit = fitOrNothing(columns.length, row, readings.map(({ sagitta }) => sagitta));
  if (!fit) return undefined;
  const place = [0, 1, 2, 3].map((j) => columns.indexOf(j));
  const coefficient = (j: number): number => fit.coefficients[place[j] ?? -1] ?? 0;
  const { s, dof } = widerOf(fit, readings);
  const unscaled = (i: number, j: number): number => fit.unscaledCovariance[i]?.[j] ?? 0;
  return {
    coefficients: [coefficient(0), coefficient(1), coefficient(2), coefficient(3)],
    covariance: place.map((i) => place.map((j) => s * s * unscaled(i, j))),
    has,
    free: fit.dof,
    dof,
    s,
    residuals: fit.residuals,
    distances: () => distances(fit, row),
  };
}

/** Scatter and its degrees of freedom, or the readings' own u, root mean square, where that is wider at 95 %. */
function widerOf(
  { s, dof }: LinearFit,
  readings: readonly DepthReading[],
): { readonly s: number; readonly dof: number } {
  const own = Math.sqrt(readings.reduce((sum, { u }) => sum + u * u, 0) / readings.length);
  return tQuantile(0.975, Infinity) * own > tQuantile(0.975, dof) * s
    ? { s: own, dof: Infinity }
    : { s, dof };
}

/** Two clocks that never ran apart, or readings all at one moment, cannot be told from one another. */
function fitOrNothing(size: number, row: DesignRow, y: readonly number[]): LinearFit | undefined {
  try {
    return linearFitBy({ size, row }, y);
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

/** Externally studentized residuals; 0 for a reading that the fit must pass through. */
function distances(fit: LinearFit, design: DesignRow): number[] {
  const row = new Float64Array(fit.coefficients.length);
  return fit.residuals.map((residual, i) => {
    design(i, row);
    const leverage = row.reduce(
      (sum, a, j) =>
        sum + row.reduce((part, b, k) => part + a * b * (fit.unscaledCovariance[j]?.[k] ?? 0), 0),
      0,
    );
    const free = 1 - leverage;
    if (free < 1e-9 || fit.dof < 2) return 0;
    const others = (fit.s * fit.s * fit.dof - residual * residual / free) / (fit.dof - 1);
    return residual / Math.sqrt(Math.max(others, 1e-12) * free);
  });
}

// Depth against the two clocks of the log: rates, their drift where it shows, and readings set aside.

export interface DepthFit extends DepthColumns {
  readonly used: readonly ClockedReading[];
  readonly setAside: readonly SetAsideReading[];
  /** the same readings with a drift allowed that is too small to show, where there are seven or more */
  readonly wary?: DepthColumns;
}

/** A drift is looked for from this many readings on ... */
const driftLeast = 6;
/** ... and allowed for, though it does not show, from this many. */
const waryLeast = 7;
/** Drift stays in where chance alone would show as much less often than this ... */
const driftChance = 0.2;
/** ... or where leaving it out would matter: this share of the rate over the whole log. */
const driftShare = 0.06;

/**
 * Fits the depths, every reading counting alike.
 *
 * Misread rows are set aside first (see `setMisreadAside`).
 *
 * The rate may drift as grains and slurry change. The drift stays in the fit where it shows: where chance would show as
 * much less than once in five logs, or where it changes the rate by more than 6 %. With seven readings or more a fit
 * that allows for a drift too small to show comes along, for intervals that keep their promise.
 *
 * @param readings  with clocks; two more than there are columns
 * @returns `undefined` where there are too few readings to say anything of their scatter
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
  const { kept: used, setAside } = setMisreadAside(readings);
  const plain = fitColumns(used, false);
  if (!plain) return undefined;
  const bent = used.length >= driftLeast ? fitColumns(used, true) : undefined;
  if (bent && driftMatters(bent, used)) return { ...bent, used, setAside };
  const isWary = bent && used.length >= waryLeast;
  return { ...plain, used, setAside, ...(isWary && { wary: bent }) };
}

function driftMatters(bent: DepthColumns, readings: readonly ClockedReading[]): boolean {
  const drift = bent.coefficients[3], u = Math.sqrt(bent.covariance[3]?.[3] ?? 0);
  const { early, late } = clockSpan(readings), span = late - early;
  const share = Math.abs(drift * span / (bent.coefficients[1] || bent.coefficients[2]));
  return share > driftShare || 2 * tCdf(-Math.abs(drift) / u, bent.dof) < driftChance;
}

/** Least and most minutes that the clocks of some readings show together. */
export function clockSpan(
  readings: readonly ClockedReading[],
): { readonly early: number; readonly late: number } {
  let early = Infinity, late = -Infinity;
  for (const { clocks: { top, bottom } } of readings) {
    early = Math.min(early, top + bottom);
    late = Math.max(late, top + bottom);
  }
  return { early, late };
}

// Misread rows of the log: found by how far each stands from all the others, named, never deleted.

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
 * @see the repeated test: Rosner, Technometrics 25 (1983) 165 (judged by draws in its test), here on the residuals of a fit
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
  const kept = readings.filter((reading) => !gone.has(reading)), fit = fitOf(kept);
  return {
    kept,
    // how far it lies from what the others say: a fit that it took part in was drawn towards it
    setAside: found.map(({ reading, off }) =>
      misread(reading, fit === undefined ? off : reading.sagitta - depthBy(fit, reading))
    ),
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

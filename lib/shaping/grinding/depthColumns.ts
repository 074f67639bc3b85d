/** One least-squares fit of depths on the columns of the log's clocks. */
import { type DesignRow, type LinearFit, linearFitBy } from "../../numeric/leastSquares.ts";
import { tQuantile } from "../../numeric/quantiles.ts";
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

/** Huber's fit: least squares in the middle, absolute values in the wings, so that a wild reading pulls but little. */
import { linearFit } from "./leastSquares.ts";
import { median } from "./lines.ts";

/** Median of |r| of a normal distribution with standard deviation 1. */
const NORMAL_MEDIAN = 0.6744897501960817;

/** Turns after which a scale that will not settle is held. */
const SCALE_TURNS = 200;

export interface HuberOptions {
  /** bend between the two rules, in units of the scale; default 1.345 (95 % efficient on clean readings) */
  readonly tuning?: number;
  /** fixed bend in the readings' own unit, instead of tuning times the scale */
  readonly threshold?: number;
  /** smallest step of the readings' scale; the scale is never taken below step/√12 */
  readonly step?: number;
}

export interface HuberFit {
  readonly coefficients: readonly number[];
  readonly standardErrors: readonly number[];
  /** of one reading: median |residual| / 0.6745, not below step/√12 */
  readonly scale: number;
  /** 1 for a reading taken in full, less for one far out */
  readonly weights: readonly number[];
  readonly residuals: readonly number[];
  readonly dof: number;
}

/**
 * Fits y = X b by iterated weights w = min(1, c / |r|), c = tuning times the scale.
 *
 * The scale, median|r| / 0.6745 about zero, is found anew at each turn, starting from least squares; should it still
 * hop to and fro after 200 turns it is held, and the fit then settles for certain. Standard errors are the usual
 * large-sample ones; with fewer than about ten readings they are rough.
 *
 * @param rows     design matrix, one row for each reading
 * @param y        readings, more than there are coefficients
 * @param options  see `HuberOptions`
 * @throws {RangeError} as `linearFit`, and where the weights do not settle
 * @see Huber 1981, Robust Statistics, chapters 6 and 7 (from memory)
 * @example a line with one wild reading
 * ```ts
 * import assert from "node:assert/strict";
 * const rows = [0, 1, 2, 3, 4, 5].map((x) => [1, x]);
 * const fit = huberFit(rows, [0.1, 1, 1.9, 3.1, 9, 5], { step: 0.1 });
 * assert.ok(Math.abs((fit.coefficients[1] ?? 0) - 1) < 0.06);
 * assert.ok((fit.weights[4] ?? 1) < 0.1);
 * ```
 */
export function huberFit(
  rows: readonly (readonly number[])[],
  y: readonly number[],
  options: HuberOptions = {},
): HuberFit {
  const { tuning = 1.345, threshold, step = 0 } = options;
  requireOptions(tuning, threshold, step);
  let fit = linearFit(rows, y);
  const plain = fit.unscaledCovariance;
  let scale = 0;
  for (let turn = 0; turn < 2000; turn++) {
    if (turn < SCALE_TURNS) scale = huberScale(fit.residuals, step);
    const bend = threshold ?? tuning * scale;
    const weights = fit.residuals.map((r) => Math.abs(r) <= bend ? 1 : bend / Math.abs(r));
    const { residuals, dof, coefficients: before } = fit;
    const standardErrors = huberErrors(residuals, bend, plain);
    if (scale === 0 || weights.every((w) => w === 1)) {
      return { coefficients: before, standardErrors, scale, weights, residuals, dof };
    }
    fit = linearFit(rows, y, weights);
    const moved = fit.coefficients.map((b, j) => Math.abs(b - (before[j] ?? 0)));
    const sizes = plain.map((row, j) => scale * Math.sqrt(row[j] ?? 0));
    if (moved.every((m, j) => m <= 1e-10 * (sizes[j] ?? 0) + 1e-15 * Math.abs(before[j] ?? 0))) {
      return { coefficients: fit.coefficients, standardErrors, scale, weights, residuals, dof };
    }
  }
  throw new RangeError(
    "huberFit requires readings whose weights settle, got none after 2000 turns",
  );
}

/**
 * Middle of repeated readings by Huber's rule: scale MAD / 0.6745 held fixed, start at the median.
 *
 * @param values   two or more readings
 * @param options  tuning default 1.5; step as in `huberFit`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { middle } = huberMiddle([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]);
 * assert.equal(middle.toFixed(3), "201.159");
 * ```
 */
export function huberMiddle(
  values: readonly number[],
  options: { readonly tuning?: number; readonly step?: number } = {},
): { middle: number; scale: number; weights: number[] } {
  if (values.length < 2 || !values.every(Number.isFinite)) {
    throw new RangeError(`huberMiddle requires two or more finite readings, got ${values.length}`);
  }
  const { tuning = 1.5, step = 0 } = options;
  let middle = median(values);
  const scale = huberScale(values.map((v) => v - middle), step), bend = tuning * scale;
  let weights = values.map(() => 1);
  for (let turn = 0; turn < 1000 && scale > 0; turn++) {
    weights = values.map((v) => Math.min(1, bend / Math.abs(v - middle)));
    const total = weights.reduce((sum, w) => sum + w, 0), before = middle;
    middle += values.reduce((sum, v, i) => sum + (weights[i] ?? 0) * (v - before), 0) / total;
    if (Math.abs(middle - before) <= 1e-14 * scale) break;
  }
  return { middle, scale, weights };
}

function requireOptions(tuning: number, threshold: number | undefined, step: number): void {
  if (!(tuning > 0 && (threshold ?? 1) > 0 && step >= 0)) {
    throw new RangeError(
      `huberFit requires tuning and threshold above 0, step >= 0, got ${tuning}, ${threshold}, ${step}`,
    );
  }
}

function huberScale(residuals: readonly number[], step: number): number {
  return Math.max(median(residuals.map(Math.abs)) / NORMAL_MEDIAN, step / Math.sqrt(12));
}

/** Large-sample standard errors with Huber's correction for few readings. */
function huberErrors(
  residuals: readonly number[],
  bend: number,
  plain: readonly (readonly number[])[],
): number[] {
  const n = residuals.length, size = plain.length;
  const inside = residuals.filter((r) => Math.abs(r) <= bend).length / n;
  const pull = residuals.reduce((sum, r) => sum + Math.min(Math.abs(r), bend) ** 2, 0) / (n - size);
  const correction = 1 + size / n * (1 - inside) / Math.max(inside, 1 / n);
  const factor = correction * Math.sqrt(pull) / Math.max(inside, 1 / n);
  return plain.map((row, j) => factor * Math.sqrt(row[j] ?? 0));
}

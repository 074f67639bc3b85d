/** Standard uncertainties: from what is known beforehand (Type B), and from repeated readings (Type A). */

/**
 * Every value within ±a equally likely: a tolerance, a bracket between go and no-go.
 *
 * @param a  half-width, 0 or more
 * @returns a / √3
 * @see JCGM 100:2008, 4.3.7 (its examples read: tests/references/gum-h1-end-gauge.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(rectangular(0.005).toFixed(5), "0.00289");
 * ```
 */
export function rectangular(a: number): number {
  return requireSize("rectangular", a) / Math.sqrt(3);
}

/**
 * A value that swings to and fro between ±a, as a thermostat's temperature does.
 *
 * @param a  half-width, 0 or more
 * @returns a / √2
 * @see JCGM 100:2008, H.1.3.4 (its examples read: tests/references/gum-h1-end-gauge.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(arcsine(0.5).toFixed(4), "0.3536");
 * ```
 */
export function arcsine(a: number): number {
  return requireSize("arcsine", a) / Math.SQRT2;
}

/**
 * A scale read to the nearest step: the rest is equally likely to be anything within half a step.
 *
 * @param step  smallest step of the scale, 0 or more
 * @returns step / √12
 * @see JCGM 100:2008, F.2.2.1 (its examples read: tests/references/gum-h1-end-gauge.json)
 * @example a dial of 0.001 mm
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(resolution(0.001).toFixed(6), "0.000289");
 * ```
 */
export function resolution(step: number): number {
  return requireSize("resolution", step) / Math.sqrt(12);
}

/** Repeated readings of one thing as one value (GUM, Type A). */
export interface TypeA {
  /** of the readings, in their unit */
  readonly mean: number;
  /** standard deviation of one reading, never below the resolution's own */
  readonly s: number;
  /** standard uncertainty of the mean, s / √n */
  readonly u: number;
  /** degrees of freedom of `s` */
  readonly dof: number;
}

/**
 * Mean of repeated readings and how sure it is.
 *
 *     s² = Σ (x - mean)² / (n - 1),   u = s / √n,   dof = n - 1
 *
 * Readings that agree exactly only show that the scale is too coarse to tell them apart: s is never taken below
 * step/√12.
 *
 * @param values  two or more finite readings
 * @param step    smallest step of the scale, same unit; default 0
 * @throws {RangeError} fewer than two readings, or one not finite
 * @see JCGM 100:2008, 4.2 (its examples read: tests/references/gum-h1-end-gauge.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const a = typeA([1203, 1196, 1209, 1200, 1198, 1206]);
 * assert.equal(a.mean.toFixed(1) + " " + a.u.toFixed(2), "1202.0 2.02");
 * ```
 */
export function typeA(values: readonly number[], step = 0): TypeA {
  const n = values.length;
  if (n < 2 || !values.every(Number.isFinite)) {
    throw new RangeError(`typeA requires two or more finite readings, got [${values.join(", ")}]`);
  }
  const floor = resolution(step), first = values[0] ?? 0;
  const mean = first + values.reduce((sum, v) => sum + (v - first), 0) / n;
  const scatter = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (n - 1));
  const s = Math.max(scatter, floor);
  return { mean, s, u: s / Math.sqrt(n), dof: n - 1 };
}

function requireSize(name: string, a: number): number {
  if (Number.isFinite(a) && a >= 0) return a;
  throw new RangeError(`${name} requires a finite size of 0 or more, got ${a}`);
}

/** Distribution functions and quantiles of the normal, Student's t, chi-square and F distributions. */
import { incompleteBeta, incompleteGamma, logGamma } from "./specialFunctions.ts";

interface Tails {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Probability that a standard normal value is at most x.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(normalCdf(1.96).toFixed(4), "0.9750");
 * ```
 */
export function normalCdf(x: number): number {
  return normalTails(requireNumber("normalCdf", x)).lower;
}

/**
 * The x below which a standard normal value lies with probability p.
 *
 * @param p  between 0 and 1, both excluded
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(normalQuantile(0.975).toFixed(6), "1.959964");
 * ```
 */
export function normalQuantile(p: number): number {
  requireProbability("normalQuantile", p);
  const half = symmetricQuantile(p, normalTails, (x) => -x * x / 2 - 0.5 * Math.log(2 * Math.PI));
  return half;
}

/**
 * Probability that Student's t is at most `t`.
 *
 * @param dof  degrees of freedom, above 0; `Infinity` gives the normal
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(tCdf(2, 5).toFixed(6), "0.949030");
 * ```
 */
export function tCdf(t: number, dof: number): number {
  requireDof("tCdf", dof);
  return tTails(requireNumber("tCdf", t), dof).lower;
}

/**
 * Student's t: the value not exceeded with probability p. A two-sided 95 % interval asks for p = 0.975.
 *
 * @param p    between 0 and 1, both excluded
 * @param dof  degrees of freedom, above 0; `Infinity` gives the normal
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(tQuantile(0.975, 9).toFixed(6), "2.262157");
 * ```
 */
export function tQuantile(p: number, dof: number): number {
  requireProbability("tQuantile", p);
  requireDof("tQuantile", dof);
  if (dof === Infinity) return normalQuantile(p);
  const constant = -Math.log(dof) / 2 - logBetaHalf(dof);
  return symmetricQuantile(
    p,
    (t) => tTails(t, dof),
    (t) => constant - (dof + 1) / 2 * Math.log1p(t * t / dof),
  );
}

/**
 * Probability that chi-square exceeds x: the p-value of a chi-square test, exact even where it is tiny.
 *
 * @param x    0 or more
 * @param dof  degrees of freedom, above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(chiSquareUpper(3, 2) - Math.exp(-1.5)) < 1e-14);
 * ```
 */
export function chiSquareUpper(x: number, dof: number): number {
  requireDof("chiSquareUpper", dof, true);
  return incompleteGamma(dof / 2, x / 2).upper;
}

/**
 * Chi-square: the value not exceeded with probability p.
 *
 * @param p    between 0 and 1, both excluded
 * @param dof  degrees of freedom, above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(chiSquareQuantile(0.95, 3).toFixed(6), "7.814728");
 * ```
 */
export function chiSquareQuantile(p: number, dof: number): number {
  requireProbability("chiSquareQuantile", p);
  requireDof("chiSquareQuantile", dof, true);
  const half = dof / 2, constant = -Math.LN2 - logGamma(half);
  return positiveQuantile(
    p,
    dof,
    (x) => incompleteGamma(half, x / 2),
    (x) => constant + (half - 1) * Math.log(x / 2) - x / 2,
  );
}

/**
 * Probability that F is at most x.
 *
 * @param x     0 or more
 * @param dof1  degrees of freedom of the numerator, above 0
 * @param dof2  of the denominator, above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(fCdf(1, 4, 4) - 0.5) < 1e-14);
 * ```
 */
export function fCdf(x: number, dof1: number, dof2: number): number {
  requireDof("fCdf", dof1, true);
  requireDof("fCdf", dof2, true);
  return fTails(x, dof1, dof2).lower;
}

/**
 * F: the value not exceeded with probability p.
 *
 * @param p     between 0 and 1, both excluded
 * @param dof1  degrees of freedom of the numerator, above 0
 * @param dof2  of the denominator, above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(fQuantile(0.95, 3, 9).toFixed(6), "3.862548");
 * ```
 */
export function fQuantile(p: number, dof1: number, dof2: number): number {
  requireProbability("fQuantile", p);
  requireDof("fQuantile", dof1, true);
  requireDof("fQuantile", dof2, true);
  const a = dof1 / 2, b = dof2 / 2;
  const constant = logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(dof1 / dof2);
  return positiveQuantile(
    p,
    1,
    (x) => fTails(x, dof1, dof2),
    (x) => constant + (a - 1) * Math.log(x) - (a + b) * Math.log1p(dof1 * x / dof2),
  );
}

function normalTails(x: number): Tails {
  const { upper } = incompleteGamma(0.5, x * x / 2);
  return x < 0
    ? { lower: upper / 2, upper: 1 - upper / 2 }
    : { lower: 1 - upper / 2, upper: upper / 2 };
}

function tTails(t: number, dof: number): Tails {
  if (dof === Infinity) return normalTails(t);
  const square = t * t;
  const { lower } = incompleteBeta(dof / 2, 0.5, dof / (dof + square), square / (dof + square));
  return t < 0
    ? { lower: lower / 2, upper: 1 - lower / 2 }
    : { lower: 1 - lower / 2, upper: lower / 2 };
}

function fTails(x: number, dof1: number, dof2: number): Tails {
  const sum = dof1 * x + dof2;
  return incompleteBeta(dof1 / 2, dof2 / 2, dof1 * x / sum, dof2 / sum);
}

/** ln B(dof/2, 1/2) */
function logBetaHalf(dof: number): number {
  return logGamma(dof / 2) + logGamma(0.5) - logGamma((dof + 1) / 2);
}

function symmetricQuantile(
  p: number,
  tails: (x: number) => Tails,
  logDensity: (x: number) => number,
): number {
  if (p === 0.5) return 0;
  const tail = Math.min(p, 1 - p);
  const size = solve((x) => Math.log(tails(x).upper / tail), (x) => {
    return -Math.exp(logDensity(x)) / tails(x).upper;
  }, 1);
  return p < 0.5 ? -size : size;
}

function positiveQuantile(
  p: number,
  start: number,
  tails: (x: number) => Tails,
  logDensity: (x: number) => number,
): number {
  return p < 0.5
    ? solve(
      (x) => Math.log(p / tails(x).lower),
      (x) => -Math.exp(logDensity(x)) / tails(x).lower,
      start,
    )
    : solve(
      (x) => Math.log(tails(x).upper / (1 - p)),
      (x) => -Math.exp(logDensity(x)) / tails(x).upper,
      start,
    );
}

/** Root of a falling function on (0, ∞): Newton in ln x, kept between the ends that bracket it. */
function solve(f: (x: number) => number, slope: (x: number) => number, start: number): number {
  let low = 0, high = Infinity, x = start;
  for (let step = 0; step < 200; step++) {
    const value = f(x);
    if (value === 0) return x;
    if (value > 0) low = x;
    else high = x;
    const newton = x * Math.exp(-value / (x * slope(x)));
    const middle = high === Infinity ? 4 * x : low === 0 ? x / 4 : Math.sqrt(low * high);
    const next = newton > low && newton < high ? newton : middle;
    if (Math.abs(next - x) <= 2e-16 * x) return next;
    x = next;
  }
  return x;
}

function requireProbability(name: string, p: number): void {
  if (!(p > 0 && p < 1)) throw new RangeError(`${name} requires 0 < p < 1, got p=${p}`);
}

function requireNumber(name: string, x: number): number {
  if (Number.isNaN(x)) throw new RangeError(`${name} requires a number, got ${x}`);
  return x;
}

function requireDof(name: string, dof: number, finite = false): void {
  if (!(dof > 0) || (finite && dof === Infinity)) {
    throw new RangeError(`${name} requires ${finite ? "finite " : ""}dof above 0, got dof=${dof}`);
  }
}

// * The middle value; of an even number, the mean of the two in the middle.
// * @param values  one or more
// @example
// ```ts
// import assert from "node:assert/strict";
// assert.equal(median([3, 1, 2, 10]), 2.5);
// ```

/** The middle value; of an even number, the mean of the two in the middle. */
export function median(values: ArrayLike<number>): number {
  if (values.length === 0) throw new RangeError("median requires one value or more, got none");
  const sorted = Float64Array.from(values).sort(), half = sorted.length >> 1;
  const upper = sorted[half] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? 0) + upper) / 2;
}

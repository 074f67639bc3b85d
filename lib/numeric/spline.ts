/**
 * The natural cubic spline: the smoothest curve through given points, straight beyond its ends.
 *
 * Between knots it is a cubic; value, slope and curvature run on through every knot; curvature is zero at both ends.
 * All it gives (value, slope, area) is linear in the ordinates and in the second derivatives at the knots.
 */
export interface Spline {
  /** abscissae, ascending */
  readonly knots: readonly number[];
  /** heights at the knots */
  readonly ordinates: readonly number[];
  /** second derivative at each knot */
  readonly curvatures: readonly number[];
  /** height at x */
  value(x: number): number;
  /** first derivative at x */
  slope(x: number): number;
  /** area under the curve between two places, signed */
  integral(from: number, to: number): number;
}

/** weights of the ordinates y and of the second derivatives m at the knots */
interface Weights {
  readonly y: Float64Array;
  readonly m: Float64Array;
}

/**
 * The natural spline through points.
 *
 * @param knots      abscissas, rising, two or more
 * @param ordinates  one for each knot
 * @throws {RangeError} where knots do not rise, counts differ or something is not finite
 * @example a straight line comes back as itself, also beyond the ends
 * ```ts
 * import assert from "node:assert/strict";
 * const line = naturalSpline([0, 1, 3], [1, 3, 7]);
 * assert.ok(Math.abs(line.value(4) - 9) < 1e-12);
 * assert.ok(Math.abs(line.integral(0, 3) - 12) < 1e-12);
 * ```
 */
export function naturalSpline(knots: readonly number[], ordinates: readonly number[]): Spline {
  requireKnots("naturalSpline", knots);
  if (ordinates.length !== knots.length || !ordinates.every(Number.isFinite)) {
    throw new RangeError(
      `naturalSpline requires one finite ordinate for each knot, got ${ordinates.length} for ${knots.length} knots`,
    );
  }
  const curvatures = solveCurvatures(knots, ordinates);
  const apply = ({ y, m }: Weights): number => dot(y, ordinates) + dot(m, curvatures);
  return {
    knots,
    ordinates,
    curvatures: [...curvatures],
    value: (x) => apply(valueWeights(knots, x)),
    slope: (x) => apply(slopeWeights(knots, x)),
    integral: (from, to) => apply(areaWeights(knots, to)) - apply(areaWeights(knots, from)),
  };
}

function valueWeights(knots: readonly number[], x: number): Weights {
  const { i, h, a, b, beyond } = locate(knots, x);
  const weights = beyond === 0 ? blank(knots.length) : slopeWeights(knots, x);
  for (const row of [weights.y, weights.m]) row.forEach((w, j) => row[j] = w * beyond);
  add(weights, i, a, b, (a * a * a - a) * h * h / 6, (b * b * b - b) * h * h / 6);
  return weights;
}

function slopeWeights(knots: readonly number[], x: number): Weights {
  const { i, h, a, b } = locate(knots, x);
  const weights = blank(knots.length);
  add(weights, i, -1 / h, 1 / h, -h * (3 * a * a - 1) / 6, h * (3 * b * b - 1) / 6);
  return weights;
}

/** Area from the first knot to x. */
function areaWeights(knots: readonly number[], x: number): Weights {
  const { i, h, a, b, beyond } = locate(knots, x);
  const weights = blank(knots.length);
  for (let j = 0; j < i; j++) addArea(weights, j, (knots[j + 1] ?? 0) - (knots[j] ?? 0), 0, 1);
  addArea(weights, i, h, a, b);
  if (beyond !== 0) { // a straight piece: its area is its length times its middle value
    const middle = valueWeights(knots, x - beyond / 2);
    middle.y.forEach((w, j) => weights.y[j] = (weights.y[j] ?? 0) + w * beyond);
    middle.m.forEach((w, j) => weights.m[j] = (weights.m[j] ?? 0) + w * beyond);
  }
  return weights;
}

/** Area of interval i from its left end to where the left ordinate's share has fallen from 1 to a. */
function addArea(weights: Weights, i: number, h: number, a: number, b: number): void {
  const left = 1 - a * a, right = b * b, cube = h * h * h / 6;
  add(
    weights,
    i,
    h * left / 2,
    h * right / 2,
    -cube * left * left / 4,
    cube * right * (right / 4 - 0.5),
  );
}

function add(w: Weights, i: number, y0: number, y1: number, m0: number, m1: number): void {
  w.y[i] = (w.y[i] ?? 0) + y0;
  w.y[i + 1] = (w.y[i + 1] ?? 0) + y1;
  w.m[i] = (w.m[i] ?? 0) + m0;
  w.m[i + 1] = (w.m[i + 1] ?? 0) + m1;
}

function blank(size: number): Weights {
  return { y: new Float64Array(size), m: new Float64Array(size) };
}

/** The interval that holds x: shares a and b of its ends, and how far x lies beyond the outer knots. */
function locate(
  knots: readonly number[],
  x: number,
): { i: number; h: number; a: number; b: number; beyond: number } {
  if (!Number.isFinite(x)) throw new RangeError(`a spline requires a finite place, got x=${x}`);
  const first = knots[0] ?? 0, last = knots[knots.length - 1] ?? 0;
  const inside = Math.min(Math.max(x, first), last);
  let low = 0, high = knots.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((knots[middle] ?? 0) <= inside) low = middle;
    else high = middle;
  }
  const left = knots[low] ?? 0, right = knots[low + 1] ?? 0, h = right - left;
  return { i: low, h, a: (right - inside) / h, b: (inside - left) / h, beyond: x - inside };
}

/** Second derivatives at the knots, by elimination in the three-banded system of continuous slopes. */
function solveCurvatures(knots: readonly number[], y: ArrayLike<number>): Float64Array {
  const n = knots.length, m = new Float64Array(n), upper = new Float64Array(n);
  const gap = (i: number): number => (knots[i + 1] ?? 0) - (knots[i] ?? 0);
  const chord = (i: number): number => ((y[i + 1] ?? 0) - (y[i] ?? 0)) / gap(i);
  for (let i = 1; i < n - 1; i++) {
    const left = gap(i - 1), right = gap(i);
    const pivot = 2 * (left + right) - left * (upper[i - 1] ?? 0);
    upper[i] = right / pivot;
    m[i] = (6 * (chord(i) - chord(i - 1)) - left * (m[i - 1] ?? 0)) / pivot;
  }
  for (let i = n - 2; i > 0; i--) m[i] = (m[i] ?? 0) - (upper[i] ?? 0) * (m[i + 1] ?? 0);
  return m;
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

function requireKnots(name: string, knots: readonly number[]): void {
  const rising = knots.every((x, i) =>
    Number.isFinite(x) && (i === 0 || x > (knots[i - 1] ?? Infinity))
  );
  if (knots.length < 2 || !rising) {
    throw new RangeError(`${name} requires two or more rising knots, got [${knots.join(", ")}]`);
  }
}

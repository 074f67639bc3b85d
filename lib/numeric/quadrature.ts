/** Integrals: Gauss's rule, an adaptive integral made of it, and running totals of tabled values. */

export interface QuadratureRule {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
}

/**
 * Gauss's rule on -1..1: exact for polynomials up to degree 2n - 1.
 *
 *     xᵢ roots of Pₙ,   wᵢ = 2 / ((1 - xᵢ²) Pₙ'(xᵢ)²)
 *
 * @param n  number of nodes, 1 or more
 * @returns nodes from -1 upward, and their weights, whose sum is 2
 * @throws {RangeError} where n is not a whole number of 1 or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { nodes, weights } = gaussLegendre(3);
 * const fourth = nodes.reduce((sum, x, i) => sum + (weights[i] ?? 0) * x ** 4, 0);
 * assert.ok(Math.abs(fourth - 2 / 5) < 1e-15);
 * ```
 */
export function gaussLegendre(n: number): QuadratureRule {
  if (!(Number.isInteger(n) && n >= 1)) {
    throw new RangeError(`gaussLegendre requires a whole n of 1 or more, got n=${n}`);
  }
  const nodes = new Array<number>(n).fill(0), weights = new Array<number>(n).fill(0);
  for (let i = 0; i < (n + 1) >> 1; i++) {
    let x = 2 * i + 1 === n ? 0 : Math.cos(Math.PI * (i + 0.75) / (n + 0.5));
    for (let step = 0; step < 10; step++) {
      const [value, slope] = legendre(n, x);
      x -= value / slope;
    }
    const slope = legendre(n, x)[1], weight = 2 / ((1 - x * x) * slope * slope);
    nodes[i] = -x;
    nodes[n - 1 - i] = x;
    weights[i] = weights[n - 1 - i] = weight;
  }
  return { nodes, weights };
}

/** Pₙ and its derivative at x, |x| < 1, by the three-term recurrence. */
function legendre(n: number, x: number): readonly [number, number] {
  let before = 1, value = x;
  for (let k = 2; k <= n; k++) {
    [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
  }
  return [value, n * (x * value - before) / (x * x - 1)];
}

const RULE = gaussLegendre(12);

/**
 * Integral of a function from a to b, halving pieces until they agree with their halves.
 *
 * @param f          finite between a and b
 * @param a          one end
 * @param b          other end, on either side of a
 * @param tolerance  absolute; default 1e-12 of the integral's own size
 * @throws {RangeError} where f is not finite, or pieces fifty halvings small still disagree
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(integrate(Math.sqrt, 0, 1) - 2 / 3) < 1e-12);
 * ```
 */
export function integrate(
  f: (x: number) => number,
  a: number,
  b: number,
  tolerance?: number,
): number {
  if (!(Number.isFinite(a) && Number.isFinite(b))) {
    throw new RangeError(`integrate requires finite ends, got ${a} and ${b}`);
  }
  const whole = piece(f, a, b);
  const allowed = tolerance ?? 1e-13 * piece((x) => Math.abs(f(x)), a, b);
  return refine(f, a, b, whole, Math.abs(allowed), 50);
}

function piece(f: (x: number) => number, a: number, b: number): number {
  const half = (b - a) / 2, middle = a + half;
  const sum = RULE.nodes.reduce((s, x, i) => s + (RULE.weights[i] ?? 0) * f(middle + half * x), 0);
  if (Number.isFinite(sum)) return sum * half;
  throw new RangeError(`integrate requires f finite between ${a} and ${b}; it is not`);
}

function refine(
  f: (x: number) => number,
  a: number,
  b: number,
  whole: number,
  allowed: number,
  depth: number,
): number {
  const middle = a + (b - a) / 2, left = piece(f, a, middle), right = piece(f, middle, b);
  const both = left + right;
  if (Math.abs(both - whole) <= Math.max(allowed, 4 * Number.EPSILON * Math.abs(both))) return both;
  if (depth === 0) {
    throw new RangeError(`integrate requires a smoother function, got no agreement near ${a}`);
  }
  return refine(f, a, middle, left, allowed, depth - 1) +
    refine(f, middle, b, right, allowed, depth - 1);
}

/**
 * Running integral of tabled values by the trapezoid rule; 0 at the first place.
 *
 * Of use for slopes read at many close places; where they are few, the spline's `integral` is truer.
 *
 * @param x  places, rising
 * @param y  one value for each
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([...cumulativeIntegral([0, 1, 3], [0, 2, 2])], [0, 1, 5]);
 * ```
 */
export function cumulativeIntegral(x: ArrayLike<number>, y: ArrayLike<number>): Float64Array {
  if (x.length !== y.length) {
    throw new RangeError(
      `cumulativeIntegral requires one value for each place, got ${x.length} and ${y.length}`,
    );
  }
  const total = new Float64Array(x.length);
  for (let i = 1; i < x.length; i++) {
    const step = (x[i] ?? 0) - (x[i - 1] ?? 0);
    if (!(step > 0)) {
      throw new RangeError(`cumulativeIntegral requires rising places, got ${x[i - 1]}, ${x[i]}`);
    }
    total[i] = (total[i - 1] ?? 0) + step * ((y[i] ?? 0) + (y[i - 1] ?? 0)) / 2;
  }
  return total;
}

/** An adaptive integral made of Gauss's rule: a reference implementation for tests of sums and areas. */
import { gaussLegendre } from "../../lib/numeric/quadrature.ts";

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

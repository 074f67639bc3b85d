/** Integrals: Gauss's rule. */

export interface QuadratureRule {
  /** places where the integrand is taken */
  readonly nodes: readonly number[];
  /** what each place counts; they add up to the length of the interval */
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
  let rule = rules.get(n);
  if (rule === undefined) rules.set(n, rule = made(n));
  return rule;
}

/** Rules are few, and asked for again and again. */
const rules = new Map<number, QuadratureRule>();

function made(n: number): QuadratureRule {
  const nodes = new Array<number>(n).fill(0), weights = new Array<number>(n).fill(0);
  for (let i = 0; i < (n + 1) >> 1; i++) {
    let x = 2 * i + 1 === n ? 0 : Math.cos(Math.PI * (i + 0.75) / (n + 0.5));
    for (let step = 0, before = NaN; step < 10 && x !== before; step++) {
      const [value, slope] = legendre(n, x);
      before = x;
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
    const next = ((2 * k - 1) * x * value - (k - 1) * before) / k;
    before = value;
    value = next;
  }
  return [value, n * (x * value - before) / (x * x - 1)];
}

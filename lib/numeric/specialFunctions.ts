/** The three special functions from which every quantile of the kit is made. */

/** Bernoulli numbers B2k / (2k (2k-1)), the coefficients of Stirling's series. */
const STIRLING = [
  1 / 12,
  -1 / 360,
  1 / 1260,
  -1 / 1680,
  1 / 1188,
  -691 / 360360,
  1 / 156,
] as const;

/** What Stirling's formula leaves out: ln Γ(x) - [(x - 1/2) ln x - x + ln(2π)/2], for x of 10 or more. */
function stirlingRest(x: number): number {
  const inverseSquare = 1 / (x * x);
  let sum = 0;
  for (let k = STIRLING.length - 1; k >= 0; k--) sum = sum * inverseSquare + (STIRLING[k] ?? 0);
  return sum / x;
}

/**
 * Natural logarithm of the gamma function, by Stirling's series after stepping x up to 10 or more.
 *
 * @param x  above 0
 * @throws {RangeError} where x is not above 0 and finite
 * @example ln 4! = ln Γ(5)
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(logGamma(5) - Math.log(24)) < 1e-14);
 * ```
 */
export function logGamma(x: number): number {
  if (!(x > 0 && Number.isFinite(x))) {
    throw new RangeError(`logGamma requires a finite x above 0, got x=${x}`);
  }
  let product = 1, shifted = x;
  while (shifted < 10) product *= shifted++;
  return (shifted - 0.5) * Math.log(shifted) - shifted + 0.5 * Math.log(2 * Math.PI) +
    stirlingRest(shifted) - Math.log(product);
}

/** ln B(a, b) without the cancellation of three large logarithms. */
function logBeta(a: number, b: number): number {
  const large = Math.max(a, b), small = Math.min(a, b);
  if (large < 10) return logGamma(a) + logGamma(b) - logGamma(a + b);
  const sum = large + small;
  return logGamma(small) - (large - 0.5) * Math.log1p(small / large) - small * Math.log(sum) +
    small + stirlingRest(large) - stirlingRest(sum);
}

/** Lentz's continued fraction with term(k) -> [numerator, denominator], k from 1 (held by 40-digit references in the tests). */
function continuedFraction(first: number, term: (k: number) => readonly [number, number]): number {
  const tiny = 1e-300;
  let value = first || tiny, c = value, d = 0;
  for (let k = 1; k <= 20000; k++) {
    const [numerator, denominator] = term(k);
    d = 1 / (denominator + numerator * d || tiny);
    c = denominator + numerator / c || tiny;
    value *= c * d;
    if (Math.abs(c * d - 1) < 1e-16) return value;
  }
  return value;
}

/**
 * Regularized incomplete gamma function, both tails, each exact where it is small.
 *
 *     lower = P(a, x) = ∫0..x t^(a-1) e^-t dt / Γ(a),   upper = 1 - lower
 *
 * @param a  above 0
 * @param x  0 or more
 * @example P(1, x) = 1 - e^-x
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(incompleteGamma(1, 2).upper - Math.exp(-2)) < 1e-15);
 * ```
 */
export function incompleteGamma(a: number, x: number): { lower: number; upper: number } {
  if (!(a > 0 && x >= 0)) {
    throw new RangeError(`incompleteGamma requires a > 0 and x >= 0, got a=${a}, x=${x}`);
  }
  if (x === 0) return { lower: 0, upper: 1 };
  if (x === Infinity) return { lower: 1, upper: 0 };
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a, sum = term;
    for (let n = 1; term > sum * 1e-17 && n < 20000; n++) sum += term *= x / (a + n);
    return { lower: sum * front, upper: 1 - sum * front };
  }
  const fraction = continuedFraction(x + 1 - a, (k) => [-k * (k - a), x + 2 * k + 1 - a]);
  return { lower: 1 - front / fraction, upper: front / fraction };
}

/**
 * Regularized incomplete beta function, both tails, each exact where it is small.
 *
 *     lower = I_x(a, b) = ∫0..x t^(a-1) (1-t)^(b-1) dt / B(a, b),   upper = 1 - lower
 *
 * @param a  above 0
 * @param b  above 0
 * @param x  0 to 1
 * @param y  1 - x, given apart so that neither loses digits near 0
 * @example I_x(1, 1) = x
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(incompleteBeta(1, 1, 0.3).lower - 0.3) < 1e-15);
 * ```
 */
export function incompleteBeta(
  a: number,
  b: number,
  x: number,
  y: number = 1 - x,
): { lower: number; upper: number } {
  if (!(a > 0 && b > 0 && x >= 0 && y >= 0)) {
    throw new RangeError(
      `incompleteBeta requires a, b > 0 and 0 <= x <= 1, got a=${a}, b=${b}, x=${x}`,
    );
  }
  if (x > (a + 1) / (a + b + 2)) {
    const other = incompleteBeta(b, a, y, x);
    return { lower: other.upper, upper: other.lower };
  }
  if (x === 0) return { lower: 0, upper: 1 };
  const front = Math.exp(a * Math.log(x) + b * Math.log(y) - logBeta(a, b)) / a;
  const lower = front / continuedFraction(1, (k) => [betaTerm(a, b, x, k), 1]);
  return { lower, upper: 1 - lower };
}

/** k-th partial numerator of the continued fraction of I_x(a, b). */
function betaTerm(a: number, b: number, x: number, k: number): number {
  const m = Math.floor(k / 2);
  return k % 2 === 0
    ? m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
    : -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
}

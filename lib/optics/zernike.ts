/** Zernike's polynomials on the unit disc in Noll's order, each with mean square 1. */

/** n radial degree, m azimuthal; `sine` where the term goes with sin(m theta). */
export interface NollTerm {
  readonly n: number;
  readonly m: number;
  readonly sine: boolean;
}

/**
 * Degree and frequency of Noll's j-th term: even j are cosines, odd ones sines.
 *
 * @param j  1 or more; 1 piston, 2 and 3 tilts, 4 focus, 5 and 6 astigmatism, 7 and 8 coma, 11 spherical
 * @throws {RangeError} where j is not a whole number of 1 or more
 * @see Noll 1976, J. Opt. Soc. Am. 66, 207 (from memory; the order of 1 to 21 was looked up elsewhere)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(nollTerm(7), { n: 3, m: 1, sine: true });
 * ```
 */
export function nollTerm(j: number): NollTerm {
  if (!(Number.isInteger(j) && j >= 1)) {
    throw new RangeError(`nollTerm requires a whole j of 1 or more, got j=${j}`);
  }
  const n = Math.ceil((Math.sqrt(8 * j + 1) - 3) / 2);
  const place = j - (n * (n + 1)) / 2; // 1 .. n + 1 within the degree
  const m = n % 2 === 0 ? 2 * Math.floor(place / 2) : 2 * Math.floor((place - 1) / 2) + 1;
  return { n, m, sine: m > 0 && j % 2 === 1 };
}

/**
 * Value of Noll's j-th polynomial.
 *
 *     sqrt(n+1) R(rho)   or   sqrt(2(n+1)) R(rho) cos, sin(m theta)
 *
 * @param j      term, 1 or more
 * @param rho    distance from the middle, 0 to 1
 * @param theta  rad, from the x axis toward y
 * @throws {RangeError} where j is not a whole number of 1 or more
 * @example focus
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(zernike(4, 1, 0), Math.sqrt(3));
 * ```
 */
export function zernike(j: number, rho: number, theta: number): number {
  const { n, m, sine } = nollTerm(j);
  const radial = radialPart(n, m, rho);
  if (m === 0) return Math.sqrt(n + 1) * radial;
  return Math.sqrt(2 * (n + 1)) * radial * (sine ? Math.sin(m * theta) : Math.cos(m * theta));
}

/** Terms of all degrees up to `degree`: (degree+1)(degree+2)/2. */
export function termsOfDegree(degree: number): number {
  return ((degree + 1) * (degree + 2)) / 2;
}

/** R_n^m by its sum, Horner's way in rho^2. */
function radialPart(n: number, m: number, rho: number): number {
  const steps = (n - m) / 2;
  let sum = 0;
  for (let s = 0; s <= steps; s++) {
    const c = factorial(n - s) / (factorial(s) * factorial((n + m) / 2 - s) * factorial(steps - s));
    sum = sum * rho * rho + (s % 2 === 0 ? c : -c);
  }
  return sum * rho ** m;
}

function factorial(n: number): number {
  let product = 1;
  for (let i = 2; i <= n; i++) product *= i;
  return product;
}

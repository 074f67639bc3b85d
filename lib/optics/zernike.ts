/** Zernike's polynomials on the unit disc, each with mean square 1, and a surface told by them. */
import { linearFit } from "../numeric/leastSquares.ts";
import { gaussLegendre } from "../numeric/quadrature.ts";

/** One polynomial, named as in ISO 24157. */
export interface ZernikeTerm {
  /** radial degree, 0 or more */
  readonly n: number;
  /** frequency round the disc, -n, -n + 2 ... n: below 0 the term goes with sin(|m| theta), else with cos(m theta) */
  readonly m: number;
}

/**
 * All terms up to a degree in the standard's order: degree by degree, in each from the sines down to the cosines.
 *
 * @param degree  highest radial degree, 0 or more
 * @see ISO 24157, double index and single index j = (n(n + 2) + m) / 2 (reckoned anew in tests/optics/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(zernikeTerms(2).map(({ n, m }) => `${n} ${m}`), ["0 0", "1 -1", "1 1", "2 -2", "2 0", "2 2"]);
 * ```
 */
export function zernikeTerms(degree: number): readonly ZernikeTerm[] {
  return Array.from(
    { length: degree + 1 },
    (_, n) => Array.from({ length: n + 1 }, (_, i) => ({ n, m: 2 * i - n })),
  ).flat();
}

/**
 * Value of one polynomial.
 *
 *     sqrt(n+1) R(rho)   or   sqrt(2(n+1)) R(rho) cos(m theta), sin(|m| theta)
 *
 * @param rho    distance from the middle, 0 to 1
 * @param theta  rad, from the x axis toward y
 * @throws {RangeError} where there is no such term
 * @see ISO 24157 (reckoned anew in tests/optics/secondRoute.py): these norms and signs
 * @example defocus at the rim
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(zernike({ n: 2, m: 0 }, 1, 0), Math.sqrt(3));
 * ```
 */
export function zernike({ n, m }: ZernikeTerm, rho: number, theta: number): number {
  const turns = Math.abs(m);
  if (!(Number.isInteger(n) && n >= turns && (n - turns) % 2 === 0)) {
    throw new RangeError(
      `zernike requires a whole n of 0 or more and m of -n, -n + 2 ... n, got n=${n}, m=${m}`,
    );
  }
  const radial = radialPart(n, turns, rho);
  if (m === 0) return Math.sqrt(n + 1) * radial;
  const around = m < 0 ? Math.sin(turns * theta) : Math.cos(turns * theta);
  return Math.sqrt(2 * (n + 1)) * radial * around;
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

/** A place of the unit disc; theta in rad, from the x axis toward y. */
export interface DiscPlace {
  /** distance from the middle, 0 to 1 */
  readonly rho: number;
  /** rad */
  readonly theta: number;
}

/**
 * Heights at places of the disc as a sum of polynomials, by least squares.
 *
 * @param places   more of them than terms
 * @param heights  one for each place, any unit
 * @param weights  area of each place
 * @returns one coefficient for each term, in the heights' unit
 * @throws {RangeError} as `linearFit`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const places = [0, 0.5, 1].map((rho) => ({ rho, theta: 0 }));
 * const [piston, defocus] = fitZernike(places, [0, 1, 4], [1, 1, 1], [{ n: 0, m: 0 }, { n: 2, m: 0 }]);
 * assert.equal(`${piston?.toFixed(3)} ${defocus?.toFixed(3)}`, "2.000 1.155"); // 4 rho^2
 * ```
 */
export function fitZernike(
  places: readonly DiscPlace[],
  heights: readonly number[],
  weights: readonly number[],
  terms: readonly ZernikeTerm[],
): readonly number[] {
  const rows = places.map(({ rho, theta }) => terms.map((term) => zernike(term, rho, theta)));
  return linearFit(rows, heights, weights).coefficients;
}

/** A whole surface in Zernike's terms. */
export interface ZernikeSurface {
  /** of one term, in the heights' unit: its RMS over the disc */
  readonly coefficient: (term: ZernikeTerm) => number;
  /** RMS of what the terms leave, in the heights' unit */
  readonly leftRms: number;
}

/** Circles on which a surface is read; enough for faults a tenth of the radius wide. */
const CIRCLES = 32;

/**
 * A surface over the whole unit disc as a sum of all polynomials up to a degree.
 *
 * @param height  at a place of the disc, any unit
 * @param degree  highest radial degree, 0 to 20; default 6
 * @example a turned paraboloid is piston and defocus, and nothing is left
 * ```ts
 * import assert from "node:assert/strict";
 * const { coefficient, leftRms } = zernikeSurface(({ rho }) => 10 * rho * rho);
 * assert.equal(coefficient({ n: 2, m: 0 }).toFixed(4), "2.8868"); // 10 / (2 sqrt 3)
 * assert.ok(leftRms < 1e-12);
 * ```
 */
export function zernikeSurface(
  height: (place: DiscPlace) => number,
  degree = 6,
): ZernikeSurface {
  const { places, weights } = wholeDisc(2 * degree + 1), terms = zernikeTerms(degree);
  const heights = places.map(height), found = fitZernike(places, heights, weights, terms);
  const left = places.reduce((sum, { rho, theta }, i) => {
    const told = terms.reduce(
      (all, term, j) => all + (found[j] ?? 0) * zernike(term, rho, theta),
      0,
    );
    return sum + (weights[i] ?? 0) * ((heights[i] ?? 0) - told) ** 2;
  }, 0);
  return {
    coefficient: ({ n, m }) => {
      const value = found[terms.findIndex((term) => term.n === n && term.m === m)];
      if (value !== undefined) return value;
      throw new RangeError(
        `coefficient requires a term up to degree ${degree}, got n=${n}, m=${m}`,
      );
    },
    leftRms: Math.sqrt(left),
  };
}

/**
 * Places on circles of the disc with their areas, which add up to 1: exact for the product of any two terms read.
 *
 * @param spokes  places on each circle, more than twice the highest frequency
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(wholeDisc(5).weights.reduce((sum, w) => sum + w, 0).toFixed(12), "1.000000000000");
 * ```
 */
export function wholeDisc(
  spokes: number,
): { readonly places: readonly DiscPlace[]; readonly weights: readonly number[] } {
  const rule = gaussLegendre(CIRCLES), turns = Array.from({ length: spokes }, (_, k) => k);
  const places = rule.nodes.flatMap((node) =>
    turns.map((k) => ({ rho: Math.sqrt((node + 1) / 2), theta: (2 * Math.PI * k) / spokes }))
  );
  return {
    places,
    weights: rule.weights.flatMap((weight) => turns.map(() => weight / 2 / spokes)),
  };
}

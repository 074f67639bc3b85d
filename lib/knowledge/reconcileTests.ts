/** Tests of one surface made one: common terms by least squares with every test's own covariance, whether they agree, which is the odd one. */
import { chiSquareUpper } from "../numeric/quantiles.ts";
import {
  addScaled,
  cholesky,
  dot,
  forward,
  type Matrix,
  matrix,
  solve,
} from "../numeric/smallMatrix.ts";
import { SURFACE_TERMS, type SurfaceTerm, type SurfaceTerms } from "../testing/surfaceTerms.ts";

/** A test of the surface. */
export type SurfaceTest = "zones" | "bands" | "star" | "knife";

/** What one test says of the surface. */
export interface SurfaceReading extends SurfaceTerms {
  readonly test: SurfaceTest;
  /** covariance with once more of this test over its covariance now, 0 to 1 */
  readonly again: number;
}

/** Once more of which test brings most for its minutes. */
export interface NextTest {
  readonly test: SurfaceTest;
  readonly minutes: number;
  /** RMS of the doubt that is left over all common terms, nm of glass */
  readonly u: number;
}

/** What the tests say together. */
export interface SurfaceTogether extends SurfaceTerms {
  /** how much each test, in its order, has its say in each term; adds up to 1 */
  readonly weights: readonly (readonly number[])[];
  /** over all terms */
  readonly birgeRatio: number;
  readonly consistent: boolean;
  /** of three or more that disagree: the one that most likely is wrong */
  readonly oddOne?: SurfaceTest;
  /** what was added to each test's variance in each term because they disagree, nm^2 */
  readonly between: number;
}

/** Chance of differences as large, under which tests are said to disagree. */
const SUSPICIOUS = 0.05;

/** A test that is wrong is off by about so many of its own u in every term (COMMON PRACTICE). */
const OFF_BY = 3;

/** How often a test is wrong: a slipped scale, a warm glass, another mirror (COMMON PRACTICE). */
const WRONG = 0.05;

/**
 * Minutes of once more: three runs over the zones; two pictures through the grating; a star pair; twelve pictures behind the knife
 * (COMMON PRACTICE, waiting for the glass left out).
 */
const MINUTES: Readonly<Record<SurfaceTest, number>> = {
  zones: 45,
  bands: 25,
  star: 30,
  knife: 40,
};

/** What a first try of each leaves open of the terms in their order, nm RMS of glass (from their trials); nothing where it sees none of it. */
const FIRST_U: Readonly<Record<SurfaceTest, readonly (number | undefined)[]>> = {
  zones: [3.5, 3, 3, 3],
  bands: [5, 4, 4, 4],
  star: [7, undefined, undefined, undefined, 9, undefined, 6],
  knife: [1.5, 1, 1, 1, 8, 8, 4, 4],
};

/** What a mirror worked by hand has of each term, nm RMS of glass (COMMON PRACTICE, as the knife's fit has it). */
const USUAL: readonly number[] = [21, 9, 4.5, 3, 18, 18, 8, 8];

const toMatrix = (rows: readonly (readonly number[])[], added: number): Matrix =>
  matrix(rows.length, rows.length, (i, j) => (rows[i]?.[j] ?? NaN) + (i === j ? added : 0));

const places = (terms: readonly SurfaceTerm[], among: readonly SurfaceTerm[]): readonly number[] =>
  terms.map((term) => among.indexOf(term));

/** d' C^-1 d and ln det C. */
function badness(off: readonly number[], covariance: Matrix): { square: number; logDet: number } {
  const lower = cholesky(covariance), whitened = forward(lower, off);
  return {
    square: dot(whitened, whitened),
    logDet: lower.reduce((sum, row, i) => sum + 2 * Math.log(row[i] as number), 0),
  };
}

/** Tests joined. */
export interface Joint {
  readonly terms: readonly SurfaceTerm[];
  readonly values: Float64Array;
  readonly covariance: Matrix;
  /** for each test: what the joint values take from each of its own, terms by its terms */
  readonly gains: readonly Matrix[];
  readonly chiSquare: number;
}

/**
 * Least squares over some tests, in every term that one of them sees.
 *
 * @param added  to each variance of a test, nm^2
 */
export function jointOf(tests: readonly SurfaceTerms[], added = 0): Joint {
  const terms = SURFACE_TERMS.filter((term) => tests.some((one) => one.terms.includes(term)));
  const size = terms.length, normal = matrix(size, size, () => 0), right = new Float64Array(size);
  const inverses = tests.map(({ covariance }) => {
    const own = toMatrix(covariance, added);
    return solve(own, matrix(own.length, own.length, (i, j) => i === j ? 1 : 0));
  });
  tests.forEach((one, n) => {
    const at = places(one.terms, terms);
    inverses[n]?.forEach((row, i) => {
      const to = at[i] as number;
      row.forEach((v, j) => {
        const line = normal[to] as Float64Array, column = at[j] as number;
        line[column] = (line[column] as number) + v;
      });
      right[to] = (right[to] as number) + dot(row, one.values);
    });
  });
  const covariance = solve(normal, matrix(size, size, (i, j) => i === j ? 1 : 0));
  const values = Float64Array.from(covariance, (row) => dot(row, right));
  let chiSquare = 0;
  const gains = tests.map((one, n) => {
    const at = places(one.terms, terms), inverse = inverses[n] as Matrix;
    const off = one.values.map((v, i) => v - (values[at[i] as number] as number));
    chiSquare += inverse.reduce((sum, row, i) => sum + (off[i] as number) * dot(row, off), 0);
    return covariance.map((row) => {
      const gain = new Float64Array(at.length);
      at.forEach((place, i) => addScaled(gain, inverse[i] as Float64Array, row[place] as number));
      return gain;
    });
  });
  return { terms, values, covariance, gains, chiSquare };
}

/** How many readings there are beyond the terms they tell. */
const freeOf = (tests: readonly SurfaceTerms[], { terms }: Joint): number =>
  tests.reduce((sum, one) => sum + one.terms.length, 0) - terms.length;

/**
 * How much likelier the readings are, as a logarithm, where each test by itself is wrong than where none is: by how it lies from the others
 * together in the terms that they share. A wrong one is off by normal errors, `OFF_BY` times its own.
 */
export function wrongness(tests: readonly SurfaceTerms[]): readonly number[] {
  return tests.map((one, n) => {
    const others = jointOf(tests.filter((_, k) => k !== n));
    const shared = one.terms.filter((term) => others.terms.includes(term));
    if (shared.length === 0) return -Infinity;
    const own = places(shared, one.terms), rest = places(shared, others.terms);
    const off = own.map((i, k) =>
      (one.values[i] as number) - (others.values[rest[k] as number] as number)
    );
    const at = (factor: number): Matrix =>
      matrix(
        shared.length,
        shared.length,
        (i, j) =>
          factor * (one.covariance[own[i] as number]?.[own[j] as number] ?? NaN) +
          (others.covariance[rest[i] as number]?.[rest[j] as number] ?? NaN),
      );
    const right = badness(off, at(1)), wrong = badness(off, at(1 + OFF_BY ** 2));
    return (right.square - wrong.square + right.logDet - wrong.logDet) / 2;
  });
}

/**
 * Reconciles two tests or more of one surface, in every term that one of them sees.
 *
 * Whether they agree, and which is the odd one, is asked of all terms at once: a test that is wrong is seldom wrong in one alone.
 *
 * @param tests  one reading each; two of them at least share a term
 * @throws {RangeError} where there are fewer than two, or none share a term
 */
export function reconcileTests(tests: readonly SurfaceReading[]): SurfaceTogether {
  const plain = jointOf(tests), free = freeOf(tests, plain);
  if (tests.length < 2 || free < 1) {
    throw new RangeError(
      `reconcileTests requires two tests that share a term, got ${tests.length} with ${free} shared`,
    );
  }
  const birgeRatio = Math.sqrt(plain.chiSquare / free), wrong = wrongness(tests);
  const odds = wrong.map((v) => Math.exp(Math.min(v, 500)) * WRONG / (1 - WRONG));
  const isOneWrong = odds.reduce((a, b) => a + b, 0) > 1;
  const consistent = !isOneWrong && chiSquareUpper(plain.chiSquare, free) >= SUSPICIOUS;
  const between = consistent ? 0 : betweenTests(tests, free);
  const chosen = between === 0 ? plain : jointOf(tests, between);
  const scale = between === 0 ? Math.max(1, birgeRatio ** 2) : 1;
  const odd = consistent || tests.length < 3
    ? undefined
    : tests[wrong.indexOf(Math.max(...wrong))]?.test;
  return {
    terms: chosen.terms,
    values: Array.from(chosen.values),
    covariance: chosen.covariance.map((row) => Array.from(row, (v) => scale * v)),
    weights: tests.map((one, n) =>
      chosen.terms.map((term, i) => chosen.gains[n]?.[i]?.[one.terms.indexOf(term)] ?? 0)
    ),
    birgeRatio,
    consistent,
    ...(odd === undefined ? {} : { oddOne: odd }),
    between,
  };
}

/** Variance that each test must have had more in each term for chi-square to be what is free (Mandel and Paule's way). */
function betweenTests(tests: readonly SurfaceTerms[], free: number): number {
  const excess = (added: number): number => jointOf(tests, added).chiSquare - free;
  if (excess(0) <= 0) return 0;
  let low = 0, high = 1;
  while (excess(high) > 0) high *= 4;
  for (let turn = 0; turn < 60 && high - low > 1e-6 * high; turn++) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * Which test once more lessens the doubt of the whole surface most for each of its minutes; before any test a mirror has what is usual.
 *
 * @param between  from `reconcileTests`
 */
export function nextTest(tests: readonly SurfaceReading[], between: number): NextTest {
  const usual: SurfaceTerms = {
    terms: SURFACE_TERMS,
    values: USUAL.map(() => 0),
    covariance: USUAL.map((u, i) => USUAL.map((_, j) => i === j ? u * u : 0)),
  };
  const uOf = (all: readonly SurfaceTerms[]): number => {
    const wide = all.map((one) => ({
      ...one,
      covariance: one.covariance.map((row, i) => row.map((v, j) => i === j ? v + between : v)),
    }));
    const { covariance } = jointOf([usual, ...wide]);
    return Math.sqrt(covariance.reduce((sum, row, i) => sum + (row[i] as number), 0));
  };
  const now = uOf(tests);
  const tries = (Object.keys(MINUTES) as SurfaceTest[]).map((test) => {
    const done = tests.find((one) => one.test === test);
    const u = uOf(
      done === undefined
        ? [...tests, firstTry(test)]
        : tests.map((one) =>
          one === done
            ? { ...one, covariance: one.covariance.map((row) => row.map((v) => one.again * v)) }
            : one
        ),
    );
    const minutes = MINUTES[test];
    return { test, minutes, u, gain: (now - u) / minutes };
  });
  const { gain: _, ...best } = tries.reduce((a, b) => b.gain > a.gain ? b : a);
  return best;
}

function firstTry(test: SurfaceTest): SurfaceTerms {
  const seen = SURFACE_TERMS.flatMap((term, k) => {
    const u = FIRST_U[test][k];
    return u === undefined ? [] : [{ term, u }];
  });
  return {
    terms: seen.map(({ term }) => term),
    values: seen.map(() => 0),
    covariance: seen.map(({ u }, i) => seen.map((_, j) => i === j ? u * u : 0)),
  };
}

/** What zones, bands and star say together of the term that all of them see: spherical aberration, as a conic or as waves. */
import { chiSquareUpper } from "../numeric/quantiles.ts";
import { betweenMethods, weigh, widened } from "../measuring/weighing.ts";
import { exactQ } from "./q.ts";
import type {
  CurveSummary,
  FigureSummary,
  OneSurfaceSummary,
  StarPairSummary,
} from "./summaryTypes.ts";
import type { MirrorRecord } from "../record/types.ts";
import { judgingRadius } from "./figureSummary.ts";

/** A test that sees the surface's spherical term. */
export type SurfaceTest = "zones" | "bands" | "star";

/** What one test says of it: wavefront of a star's light, RMS over the disc, waves. */
export interface SurfaceReading {
  readonly test: SurfaceTest;
  readonly value: number;
  /** standard uncertainty, the test's own nuisance in it */
  readonly u: number;
  /** the same with once more of this test */
  readonly uAfter: number;
}

/** What the tests say together. */
export interface SurfaceTogether {
  readonly value: number;
  readonly u: number;
  /** how much each has its say, in their order */
  readonly weights: readonly number[];
  readonly birgeRatio: number;
  readonly consistent: boolean;
  /** of three or more that disagree: the one farthest from the others */
  readonly oddOne?: SurfaceTest;
  /** once more of which test brings most for its minutes, and what doubt is left then */
  readonly next: { readonly test: SurfaceTest; readonly minutes: number; readonly u: number };
}

/** Chance of differences as large, under which tests are said to disagree. */
const SUSPICIOUS = 0.05;

/** Minutes of once more: three runs over the zones; two pictures through the grating; a star pair (COMMON PRACTICE, waiting for the glass left out). */
const MINUTES: Readonly<Record<SurfaceTest, number>> = { zones: 45, bands: 25, star: 30 };

/** What a first try of each is worth, waves RMS (from the trials of zones, bands and star pairs). */
const FIRST_U: Readonly<Record<SurfaceTest, number>> = { zones: 0.012, bands: 0.02, star: 0.025 };

/** What flat, cell and a mirror not quite cool add to a star's spherical aberration, waves RMS (COMMON PRACTICE). */
const TELESCOPE_U = 0.02;

const diagonal = (us: readonly number[]): number[][] =>
  us.map((u, i) => us.map((_, j) => i === j ? u * u : 0));

/**
 * Reconciles two tests or more of one surface.
 *
 * @param tests  one reading each
 * @throws {RangeError} where there are fewer than two
 */
export function reconcileTests(tests: readonly SurfaceReading[]): SurfaceTogether {
  if (tests.length < 2) {
    throw new RangeError(`reconcileTests requires two tests, got ${tests.length}`);
  }
  const values = tests.map(({ value }) => value), covariance = diagonal(tests.map(({ u }) => u));
  const plain = weigh(values, covariance), free = tests.length - 1;
  const birgeRatio = Math.sqrt(plain.chiSquare / free);
  const consistent = chiSquareUpper(plain.chiSquare, free) >= SUSPICIOUS;
  const between = consistent ? 0 : betweenMethods(values, covariance);
  const chosen = consistent ? plain : weigh(values, widened(covariance, between));
  const u = consistent ? plain.u * Math.max(1, birgeRatio) : Math.max(chosen.u, plain.u);
  const odd = consistent || tests.length < 3 ? undefined : oddOne(tests);
  return {
    value: chosen.value,
    u,
    weights: chosen.weights,
    birgeRatio,
    consistent,
    ...(odd === undefined ? {} : { oddOne: odd }),
    next: nextTest(tests, between),
  };
}

/** The test that lies farthest, in joint u, from the others taken together. */
function oddOne(tests: readonly SurfaceReading[]): SurfaceTest | undefined {
  const away = tests.map(({ test, value, u }) => {
    const others = tests.filter((one) => one.test !== test);
    const rest = weigh(others.map((one) => one.value), diagonal(others.map((one) => one.u)));
    return { test, by: Math.abs(value - rest.value) / Math.hypot(u, rest.u) };
  });
  return away.reduce((a, b) => b.by > a.by ? b : a).test;
}

/** Which test once more lessens the common doubt most for each of its minutes. */
function nextTest(tests: readonly SurfaceReading[], between: number): SurfaceTogether["next"] {
  const uOf = (us: readonly number[]): number =>
    1 / Math.sqrt(us.reduce((sum, u) => sum + 1 / (u * u + between * between), 0));
  const now = uOf(tests.map(({ u }) => u));
  const tries = (Object.keys(MINUTES) as SurfaceTest[]).map((test) => {
    const done = tests.some((one) => one.test === test);
    const us = tests.map((one) => one.test === test ? one.uAfter : one.u);
    const u = uOf(done ? us : [...us, FIRST_U[test]]), minutes = MINUTES[test];
    return { test, minutes, u, gain: (now - u) / minutes };
  });
  const { gain: _, ...best } = tries.reduce((a, b) => b.gain > a.gain ? b : a);
  return best;
}

/**
 * Every test of a mirror reconciled; nothing where fewer than two tell.
 *
 * @param zones   figure of the zones
 * @param photos  figures of the bands: the last that tells counts, several photographs together last
 * @param pairs   of the star
 */
export function oneSurface(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
  { zones, photos, pairs }: {
    readonly zones: FigureSummary | undefined;
    readonly photos: readonly FigureSummary[];
    readonly pairs: readonly StarPairSummary[];
  },
): OneSurfaceSummary | undefined {
  const { aperture, bevel, goal } = record.settings, half = aperture / 2 - bevel;
  // the wave of a conic under a star's light: (K + 1) a^4 / (4 R^3) at the rim, its RMS by 6 sqrt 5
  const each = (half ** 4 * 1e6) /
    (4 * judgingRadius(record, curve) ** 3 * goal.wavelength * 6 * Math.sqrt(5));
  const tests: SurfaceReading[] = [];
  const conicOf = (test: "zones" | "bands", figure: FigureSummary | undefined): void => {
    const { value, u } = figure?.conic ?? {};
    if (value === undefined || u === undefined || figure?.refused !== undefined) return;
    const runs = figure?.runs ?? 3,
      more = test === "zones" ? Math.sqrt(runs / (runs + 3)) : Math.SQRT1_2;
    tests.push({ test, value: each * (value + 1), u: each * u, uAfter: each * u * more });
  };
  conicOf("zones", zones);
  conicOf("bands", photos.findLast(({ refused }) => refused === undefined));
  const star = pairs.flatMap(({ spherical }) =>
    spherical?.u === undefined ? [] : [{ value: spherical.value, u: spherical.u }]
  );
  if (star.length > 0) {
    const mean = weigh(star.map(({ value }) => value), diagonal(star.map(({ u }) => u)));
    const own = mean.u * Math.max(1, Math.sqrt(mean.chiSquare / Math.max(1, star.length - 1)));
    const more = own * Math.sqrt(star.length / (star.length + 1));
    tests.push({
      test: "star",
      value: mean.value,
      u: Math.hypot(own, TELESCOPE_U),
      uAfter: Math.hypot(more, TELESCOPE_U),
    });
  }
  if (tests.length < 2) return undefined;
  const { value, u, weights, birgeRatio, consistent, oddOne, next } = reconcileTests(tests);
  return {
    spherical: { value, u, unit: "wave" },
    conic: { value: value / each - 1, u: u / each, unit: "" },
    tests: tests.map((one, k) => ({
      test: one.test,
      spherical: { value: one.value, u: one.u, unit: "wave" },
      weight: weights[k] ?? 0,
    })),
    birgeRatio,
    consistent,
    ...(oddOne === undefined ? {} : { oddOne }),
    next: { test: next.test, minutes: exactQ(next.minutes, "min"), u: exactQ(next.u, "wave") },
  };
}

/** What zones, bands, knife and star say together of the terms that more than one of them sees: spherical aberration, astigmatism, threefold. */
import { chiSquareUpper } from "../numeric/quantiles.ts";
import { betweenMethods, weigh, widened } from "../measuring/weighing.ts";
import { directedOf } from "../testing/star/starPair.ts";
import { exactQ, toQ } from "./q.ts";
import type {
  CurveSummary,
  DirectedSummary,
  FigureSummary,
  KnifeSummary,
  OneSurfaceSummary,
  StarPairSummary,
} from "./summaryTypes.ts";
import type { MirrorRecord } from "../record/types.ts";
import { judgingRadius } from "./figureSummary.ts";

/** A test of the surface. */
export type SurfaceTest = "zones" | "bands" | "star" | "knife";

/** Terms beside spherical aberration that more than one test sees, by their parts along cos and sin of the angle from the mark. */
export const OTHER_TERMS = [
  "astigmatism cos",
  "astigmatism sin",
  "threefold cos",
  "threefold sin",
] as const;

/** One of them. */
export type OtherTerm = typeof OTHER_TERMS[number];

/** What a test says of a term: wavefront of a star's light, RMS over the disc, waves. */
export interface TermReading {
  readonly value: number;
  /** standard uncertainty, the test's own nuisance in it */
  readonly u: number;
}

/** What one test says of the surface: its spherical aberration, and what else it sees. */
export interface SurfaceReading extends TermReading {
  readonly test: SurfaceTest;
  /** u of the spherical aberration with once more of this test */
  readonly uAfter: number;
  readonly others?: Partial<Readonly<Record<OtherTerm, TermReading>>>;
}

/** A term by all tests that see it. */
export interface TermTogether extends TermReading {
  /** of each test in its order; 0 where it does not see the term */
  readonly weights: readonly number[];
}

/** What the tests say together. */
export interface SurfaceTogether extends TermTogether {
  /** terms that two tests or more see */
  readonly others: Partial<Readonly<Record<OtherTerm, TermTogether>>>;
  /** over all terms */
  readonly birgeRatio: number;
  readonly consistent: boolean;
  /** of three or more that disagree: the one farthest from the others */
  readonly oddOne?: SurfaceTest;
  /** once more of which test brings most for its minutes, and what doubt is left then */
  readonly next: { readonly test: SurfaceTest; readonly minutes: number; readonly u: number };
}

/** Chance of differences as large, under which tests are said to disagree. */
const SUSPICIOUS = 0.05;

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

/** What a first try of each is worth, waves RMS (from their trials). */
const FIRST_U: Readonly<Record<SurfaceTest, number>> = {
  zones: 0.012,
  bands: 0.02,
  star: 0.025,
  knife: 0.015,
};

/** What flat, cell and a mirror not quite cool add to each term of a star's wave, waves RMS (COMMON PRACTICE). */
const TELESCOPE_U = 0.02;

/** What a stand bends a mirror by that was not turned in it: amplitude at the rim, nm (COMMON PRACTICE). */
const STAND = 20;

const diagonal = (us: readonly number[]): number[][] =>
  us.map((u, i) => us.map((_, j) => i === j ? u * u : 0));

type TermName = "spherical" | OtherTerm;

const readingOf = (one: SurfaceReading, term: TermName): TermReading | undefined =>
  term === "spherical" ? one : one.others?.[term];

interface SeenTerm {
  readonly term: TermName;
  /** places in the list of tests */
  readonly by: readonly number[];
  readonly values: readonly number[];
  readonly us: readonly number[];
}

/** Terms that two tests or more see. */
function seenTerms(tests: readonly SurfaceReading[]): readonly SeenTerm[] {
  return (["spherical", ...OTHER_TERMS] as const).flatMap((term) => {
    const by = Array.from(tests.keys()).filter((k) =>
      readingOf(tests[k] as SurfaceReading, term) !== undefined
    );
    if (by.length < 2) return [];
    const read = by.map((k) => readingOf(tests[k] as SurfaceReading, term) as TermReading);
    return [{ term, by, values: read.map(({ value }) => value), us: read.map(({ u }) => u) }];
  });
}

/**
 * Reconciles two tests or more of one surface, in every term that two of them see.
 *
 * Whether they agree, and which is the odd one, is asked of all terms at once: a test that is wrong is seldom wrong in one alone.
 *
 * @param tests  one reading each
 * @throws {RangeError} where there are fewer than two
 */
export function reconcileTests(tests: readonly SurfaceReading[]): SurfaceTogether {
  if (tests.length < 2) {
    throw new RangeError(`reconcileTests requires two tests, got ${tests.length}`);
  }
  const seen = seenTerms(tests);
  const plain = seen.map(({ values, us }) => weigh(values, diagonal(us)));
  const free = seen.reduce((sum, { by }) => sum + by.length - 1, 0);
  const chiSquare = plain.reduce((sum, one) => sum + one.chiSquare, 0);
  const birgeRatio = Math.sqrt(chiSquare / free);
  const consistent = chiSquareUpper(chiSquare, free) >= SUSPICIOUS;
  let between = 0;
  const together = seen.map(({ term, by, values, us }, k): readonly [TermName, TermTogether] => {
    const own = plain[k] as (typeof plain)[number];
    const apart = consistent ? 0 : betweenMethods(values, diagonal(us));
    if (term === "spherical") between = apart;
    const chosen = consistent ? own : weigh(values, widened(diagonal(us), apart));
    const weights = tests.map((_, n) => chosen.weights[by.indexOf(n)] ?? 0);
    const u = consistent ? own.u * Math.max(1, birgeRatio) : Math.max(chosen.u, own.u);
    return [term, { value: chosen.value, u, weights }];
  });
  const [[, spherical] = [undefined, undefined], ...others] = together;
  const odd = consistent || tests.length < 3 ? undefined : oddOne(tests, seen);
  return {
    ...spherical as TermTogether,
    others: Object.fromEntries(others),
    birgeRatio,
    consistent,
    ...(odd === undefined ? {} : { oddOne: odd }),
    next: nextTest(tests, between),
  };
}

/** The test that lies farthest from the others taken together, over all terms that it shares with them, for their number. */
function oddOne(
  tests: readonly SurfaceReading[],
  seen: readonly SeenTerm[],
): SurfaceTest | undefined {
  const away = tests.map(({ test }, n) => {
    let squares = 0, count = 0;
    for (const { by, values, us } of seen) {
      const at = by.indexOf(n);
      if (at < 0) continue;
      const isOther = (_: number, k: number): boolean => k !== at;
      const rest = weigh(values.filter(isOther), diagonal(us.filter(isOther)));
      const off = (values[at] ?? NaN) - rest.value;
      squares += off * off / ((us[at] ?? NaN) ** 2 + rest.u ** 2);
      count++;
    }
    return { test, by: count === 0 ? -Infinity : (squares - count) / Math.sqrt(2 * count) };
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

/** Amount along cos and sin of the angle from the mark, by amount and axis. */
function partsOf(
  name: "astigmatism" | "threefold",
  { value, u, axis }: TermReading & { readonly axis: number },
): SurfaceReading["others"] {
  const turn = ((name === "astigmatism" ? 2 : 3) * axis * Math.PI) / 180;
  return {
    [`${name} cos`]: { value: value * Math.cos(turn), u },
    [`${name} sin`]: { value: value * Math.sin(turn), u },
  };
}

/** Everything that is known of one mirror's surface by its tests. */
export interface TestsOfSurface {
  /** figure of the zones */
  readonly zones: FigureSummary | undefined;
  /** figures of the bands: the last that tells counts, several photographs together last */
  readonly photos: readonly FigureSummary[];
  /** of the star */
  readonly pairs: readonly StarPairSummary[];
  /** sittings behind the knife: the last that tells the whole surface counts */
  readonly knives: readonly KnifeSummary[];
}

/**
 * Every test of a mirror reconciled; nothing where fewer than two tell.
 *
 * @param record  for the bench
 * @param curve   for the radius, where it is measured
 * @param known   what the tests say
 */
export function oneSurface(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
  { zones, photos, pairs, knives }: TestsOfSurface,
): OneSurfaceSummary | undefined {
  const { aperture, bevel, goal } = record.settings, half = aperture / 2 - bevel;
  // the wave of a conic under a star's light: (K + 1) a^4 / (4 R^3) at the rim, its RMS by 6 sqrt 5
  const each = (half ** 4 * 1e6) /
    (4 * judgingRadius(record, curve) ** 3 * goal.wavelength * 6 * Math.sqrt(5));
  // light goes to the glass and back; astigmatism's RMS is its height at the rim by root six
  const wavesOf = (rms: number): number => (2 * rms) / goal.wavelength;
  const tests: SurfaceReading[] = [];
  const conicOf = (
    test: SurfaceTest,
    figure: Pick<FigureSummary, "conic" | "refused" | "runs"> | undefined,
    others: SurfaceReading["others"] = {},
  ): void => {
    const { value, u } = figure?.conic ?? {};
    if (value === undefined || u === undefined || figure?.refused !== undefined) return;
    const runs = figure?.runs ?? 3,
      more = test === "zones" ? Math.sqrt(runs / (runs + 3)) : Math.SQRT1_2;
    tests.push({ test, value: each * (value + 1), u: each * u, uAfter: each * u * more, others });
  };
  conicOf("zones", zones, zonesRound(zones, wavesOf));
  conicOf("bands", photos.findLast(({ refused }) => refused === undefined));
  const knife = knives.findLast(({ conic }) => conic !== undefined);
  conicOf("knife", knife, knife && knifeRound(knife, wavesOf));
  const star = starReading(pairs);
  if (star !== undefined) tests.push(star);
  if (tests.length < 2) return undefined;
  const { value, u, weights, others, birgeRatio, consistent, oddOne, next } = reconcileTests(tests);
  const astigmatism = directedQ(others["astigmatism cos"], others["astigmatism sin"], 2);
  const threefold = directedQ(others["threefold cos"], others["threefold sin"], 3);
  return {
    spherical: { value, u, unit: "wave" },
    conic: { value: value / each - 1, u: u / each, unit: "" },
    ...(astigmatism === undefined ? {} : { astigmatism }),
    ...(threefold === undefined ? {} : { threefold }),
    tests: tests.map((one, k) => ({
      test: one.test,
      spherical: { value: one.value, u: one.u, unit: "wave" },
      weight: weights[k] ?? 0,
      ...(astigmatism === undefined ? {} : {
        astigmatismWeight: ((others["astigmatism cos"]?.weights[k] ?? 0) +
          (others["astigmatism sin"]?.weights[k] ?? 0)) / 2,
      }),
    })),
    birgeRatio,
    consistent,
    ...(oddOne === undefined ? {} : { oddOne }),
    next: { test: next.test, minutes: exactQ(next.minutes, "min"), u: exactQ(next.u, "wave") },
  };
}

/** Astigmatism of the zones, which tell no threefold figure. */
function zonesRound(
  zones: FigureSummary | undefined,
  wavesOf: (rms: number) => number,
): SurfaceReading["others"] {
  const { amplitude, axis } = zones?.astigmatism ?? {};
  if (amplitude?.u === undefined || axis === undefined) return {};
  const value = wavesOf(amplitude.value / Math.sqrt(6)), u = wavesOf(amplitude.u / Math.sqrt(6));
  return partsOf("astigmatism", { value, u, axis: axis.value });
}

/** Astigmatism and threefold figure behind the knife; from the right of the picture to the mark at its top is a quarter turn. */
function knifeRound(
  { shapes = [], seats = 1 }: KnifeSummary,
  wavesOf: (rms: number) => number,
): SurfaceReading["others"] {
  const of = (n: number, m: number, sign: number, stand: number): TermReading => {
    const amount = shapes.find((one) => one.n === n && one.m === m)?.amount;
    const u = Math.hypot(amount?.u ?? NaN, seats > 1 ? 0 : stand);
    return { value: wavesOf(sign * (amount?.value ?? NaN)), u: wavesOf(u) };
  };
  // cos 2 theta = -cos 2 phi, sin 3 theta = -cos 3 phi, cos 3 theta = sin 3 phi, with theta = phi + a quarter turn
  const two = STAND / Math.sqrt(6), three = two / 2;
  return {
    "astigmatism cos": of(2, 2, -1, two),
    "astigmatism sin": of(2, -2, -1, two),
    "threefold cos": of(3, -3, -1, three),
    "threefold sin": of(3, 3, 1, three),
  };
}

/**
 * Pairs of the star in one. Of faults with a direction only the part along the mark is taken: the flat shows the mirror left for right,
 * a camera may do so again, and that turns the other part's sign.
 */
function starReading(pairs: readonly StarPairSummary[]): SurfaceReading | undefined {
  const meanOf = (read: readonly TermReading[]): TermReading | undefined => {
    if (read.length === 0) return undefined;
    const mean = weigh(read.map(({ value }) => value), diagonal(read.map(({ u }) => u)));
    const own = mean.u * Math.max(1, Math.sqrt(mean.chiSquare / Math.max(1, read.length - 1)));
    return { value: mean.value, u: own };
  };
  const withTelescope = (read: TermReading): TermReading => ({
    value: read.value,
    u: Math.hypot(read.u, TELESCOPE_U),
  });
  const spherical = pairs.flatMap(({ spherical: one }) =>
    one?.u === undefined ? [] : [{ value: one.value, u: one.u }]
  );
  const mean = meanOf(spherical);
  if (mean === undefined) return undefined;
  const along = (name: "astigmatism" | "threefold"): SurfaceReading["others"] => {
    const turns = name === "astigmatism" ? 2 : 3;
    const found = meanOf(pairs.flatMap((pair) => {
      const { amount, axis } = pair[name] ?? {};
      if (amount?.u === undefined || axis === undefined) return [];
      return [{
        value: amount.value * Math.cos((turns * axis.value * Math.PI) / 180),
        u: amount.u,
      }];
    }));
    return found === undefined ? {} : { [`${name} cos`]: withTelescope(found) };
  };
  const more = mean.u * Math.sqrt(spherical.length / (spherical.length + 1));
  return {
    test: "star",
    ...withTelescope(mean),
    uAfter: Math.hypot(more, TELESCOPE_U),
    others: { ...along("astigmatism"), ...along("threefold") },
  };
}

/** A fault by both its parts: amount, 95 %, axis in degrees from the mark; nothing where two tests do not see both. */
function directedQ(
  cos: TermReading | undefined,
  sin: TermReading | undefined,
  turns: number,
): DirectedSummary | undefined {
  if (cos === undefined || sin === undefined) return undefined;
  const variance = [cos.u ** 2, 0, sin.u ** 2] as const;
  const { amount, interval95, direction } = directedOf([cos.value, sin.value], variance, turns);
  const degree = 180 / Math.PI, whole = 360 / turns;
  const axis = (((direction.value * degree) % whole) + whole) % whole;
  return {
    amount: toQ(amount),
    interval95,
    axis: toQ({ ...direction, value: axis, u: direction.u * degree, unit: "deg" }),
  };
}

/** What zones, bands, knife and star say together of the terms that more than one of them sees, and the whole map where a knife drew one. */
import { weigh } from "../measuring/weighing.ts";
import type { MirrorRecord } from "../record/types.ts";
import {
  SURE_ENOUGH,
  type Verdict,
  verdictOf,
  type ZoneFigure,
} from "../testing/zones/zoneFigure.ts";
import { knifeReader } from "../testing/knife/loaded.ts";
import type { KnifeFigure } from "../testing/knife/knifeSeries.ts";
import { directedOf } from "../testing/star/starPair.ts";
import {
  ROUND,
  ROUND_TERMS,
  type SurfaceTerm,
  type SurfaceTerms,
} from "../testing/surfaceTerms.ts";
import { judgingRadius } from "./figureSummary.ts";
import { exactQ, toQ } from "./q.ts";
import type { Slip } from "./slips.ts";
import {
  jointOf,
  nextTest,
  reconcileTests,
  type SurfaceReading,
  type SurfaceTogether,
} from "./reconcileTests.ts";
import type {
  CurveSummary,
  DirectedSummary,
  OneSurfaceSummary,
  StarPairSummary,
  VerdictSummary,
} from "./summaryTypes.ts";

/** What flat, cell and a mirror not quite cool add to each term of a star's wave, waves RMS (COMMON PRACTICE). */
const TELESCOPE_U = 0.02;

/** What a stand bends a mirror by that was not turned in it: astigmatism's amplitude at the rim, nm (COMMON PRACTICE), as RMS. */
const STAND = 20 / Math.sqrt(6);

/**
 * What no test knows a term better than, nm RMS of glass (COMMON PRACTICE): a fit's own doubt may be too small, or nothing at all where it has
 * fewer shapes than there are terms.
 */
const LEAST_U = 0.5;

/** Everything that is known of one mirror's surface by its tests. */
export interface TestsOfSurface {
  /** by zones */
  readonly zones: ZoneFigure | undefined;
  /** by the last bands that tell of the glass as it is, several photographs together before one */
  readonly bands: BandsSeen | undefined;
  /** of the star */
  readonly pairs: readonly StarPairSummary[];
  /** the last sitting behind the knife that tells the whole surface, and in how many seats the mirror stood */
  readonly knife: { readonly figure: KnifeFigure; readonly seats: number } | undefined;
}

/** What bands say of the terms. */
export interface BandsSeen {
  /** as if the mark stood at the picture's top */
  readonly seen: SurfaceTerms;
  /** where it stood, rad counter-clockwise */
  readonly mark: number;
  /** whether no view is missing; else only what is the same all round is told */
  readonly isWhole: boolean;
}

/** Tests of one surface together, and the verdict that they come to with a knife among them. */
export interface OneSurface {
  readonly summary: OneSurfaceSummary;
  /** on what another test's verdict was */
  readonly verdict: (alone: VerdictSummary | undefined) => VerdictSummary | undefined;
  /** where photographs behind the knife or of a star do not agree with the rest: what to look at before the glass is worked */
  readonly slips: readonly Slip[];
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
  known: TestsOfSurface,
): OneSurface | undefined {
  const { aperture, bevel, goal } = record.settings, half = aperture / 2 - bevel;
  const radius = judgingRadius(record, curve);
  // the glass of a sphere above the paraboloid: a^4 / (8 R^3) at the rim, its RMS by 6 sqrt 5
  const sphere = (half ** 4 * 1e6) / (8 * radius ** 3 * 6 * Math.sqrt(5));
  const tests = testsOf(known, goal.wavelength, goal.shape === "sphere" ? sphere : 0);
  if (tests.length < 2) return undefined;
  const together = reconcileTests(tests),
    map = mapOf(known, tests, together, {
      aperture: 2 * half,
      radius,
      wavelength: goal.wavelength,
      goal: goal.surfaceWaves * goal.wavelength,
    });
  const summary = summaryOf(tests, together, map, { sphere, wavelength: goal.wavelength });
  return {
    summary,
    verdict: (alone) => verdictTogether(alone, summary, known),
    slips: apartSlips(summary),
  };
}

/** Each test that tells, its own nuisance in its doubt; zones and bands are told from a sphere where that is the goal. */
function testsOf(
  { zones, bands, pairs, knife }: TestsOfSurface,
  wavelength: number,
  above: number,
): readonly SurfaceReading[] {
  const fromParaboloid = ({ terms, values, covariance }: SurfaceTerms): SurfaceTerms => ({
    terms,
    values: values.map((v, i) => terms[i] === "round 4" ? v + above : v),
    covariance,
  });
  const tests: SurfaceReading[] = [];
  if (zones !== undefined) {
    tests.push({
      test: "zones",
      again: zones.runs / (zones.runs + 3),
      ...fromParaboloid(joined(zones.round, zonesRound(zones))),
    });
  }
  if (bands !== undefined) {
    tests.push({ test: "bands", again: 0.5, ...fromParaboloid(bandsOf(bands)) });
  }
  const reader = knifeReader();
  if (knife !== undefined && reader !== undefined) {
    const terms = reader.knifeTerms(knife.figure, knife.seats > 1 ? 0 : STAND);
    tests.push({ test: "knife", again: 0.5, ...terms });
  }
  const star = starReading(pairs, wavelength / 2);
  return (star === undefined ? tests : [...tests, star]).map((one) => ({
    ...one,
    covariance: one.covariance.map((row, i) => row.map((v, j) => i === j ? v + LEAST_U ** 2 : v)),
  }));
}

/** Terms of two that know nothing of one another. */
function joined(a: SurfaceTerms, b: SurfaceTerms): SurfaceTerms {
  return {
    terms: [...a.terms, ...b.terms],
    values: [...a.values, ...b.values],
    covariance: [
      ...a.covariance.map((row) => [...row, ...b.terms.map(() => 0)]),
      ...b.covariance.map((row) => [...a.terms.map(() => 0), ...row]),
    ],
  };
}

const NOTHING: SurfaceTerms = { terms: [], values: [], covariance: [] };

/** Both parts of a directed fault that are as surely known. */
function partsOf(
  name: "astigmatism" | "threefold",
  value: number,
  u: number,
  turn: number,
): SurfaceTerms {
  return {
    terms: [`${name} cos`, `${name} sin`],
    values: [value * Math.cos(turn), value * Math.sin(turn)],
    covariance: [[u * u, 0], [0, u * u]],
  };
}

/** Astigmatism of the zones, which tell no threefold figure. */
function zonesRound({ astigmatism }: ZoneFigure): SurfaceTerms {
  if (astigmatism === undefined) return NOTHING;
  const { amplitude, axis } = astigmatism, rim = Math.sqrt(6);
  return partsOf(
    "astigmatism",
    amplitude.value / rim,
    amplitude.u / rim,
    (axis.value * Math.PI) / 90,
  );
}

/** Of the bands: what is the same all round; with all views the rest too, turned to the mark, the stand in its doubt. */
function bandsOf({ seen, mark, isWhole }: BandsSeen): SurfaceTerms {
  const count = isWhole ? seen.terms.length : ROUND.length;
  const turn = seen.terms.slice(0, count).map((term, i, all) => {
    const row = all.map((_, j): number => i === j ? 1 : 0);
    const [name, part] = term.split(" ");
    if (part !== "cos" && part !== "sin") return row;
    const angle = (name === "astigmatism" ? 2 : 3) * mark;
    const other = all.indexOf(`${name} ${part === "cos" ? "sin" : "cos"}` as SurfaceTerm);
    row[i] = Math.cos(angle);
    row[other] = part === "cos" ? Math.sin(angle) : -Math.sin(angle);
    return row;
  });
  const by = (row: readonly number[], column: (k: number) => number): number =>
    row.reduce((sum, v, k) => sum + v * column(k), 0);
  return {
    terms: seen.terms.slice(0, count),
    values: turn.map((row) => by(row, (k) => seen.values[k] ?? NaN)),
    covariance: turn.map((one, i) =>
      turn.map((two, j) => {
        const own = by(one, (a) => by(two, (b) => seen.covariance[a]?.[b] ?? NaN));
        const stand = i < ROUND.length ? 0 : i < ROUND.length + 2 ? STAND : STAND / 2;
        return i === j ? own + stand ** 2 : own;
      })
    ),
  };
}

/** The whole surface by the knife with what the others add; nothing where the tests do not agree. */
function mapOf(
  { knife }: TestsOfSurface,
  tests: readonly SurfaceReading[],
  { consistent }: SurfaceTogether,
  mirror: { aperture: number; radius: number; wavelength: number; goal: number },
): Pick<OneSurfaceSummary, "surface"> {
  const reader = knifeReader();
  if (knife === undefined || reader === undefined || !consistent) return {};
  const { terms, values, covariance } = jointOf(tests.filter(({ test }) => test !== "knife"));
  const others = {
    terms,
    values: Array.from(values),
    covariance: covariance.map((row) => Array.from(row)),
  };
  const { surfacePv, surfaceRms, strehl, interval95, probabilityWithinGoal } = reader.joinKnife(
    knife.figure,
    mirror,
    others,
    knife.seats > 1 ? 0 : STAND,
  );
  const wave = 2 / mirror.wavelength;
  const waves = ([low, high]: readonly [number, number]): [number, number] => [
    low * wave,
    high * wave,
  ];
  const inWaves = (one: typeof surfacePv): ReturnType<typeof toQ> =>
    toQ({ ...one, value: one.value * wave, u: one.u * wave, unit: "wave" });
  return {
    surface: {
      surfacePv: toQ(surfacePv),
      surfaceRms: toQ(surfaceRms),
      wavefrontPv: inWaves(surfacePv),
      wavefrontRms: inWaves(surfaceRms),
      strehl: toQ(strehl),
      interval95: {
        wavefrontPv: waves(interval95.surfacePv),
        wavefrontRms: waves(interval95.surfaceRms),
        strehl: interval95.strehl,
      },
      probabilityWithinGoal,
    },
  };
}

function summaryOf(
  tests: readonly SurfaceReading[],
  together: SurfaceTogether,
  map: Pick<OneSurfaceSummary, "surface">,
  { sphere, wavelength }: { readonly sphere: number; readonly wavelength: number },
): OneSurfaceSummary {
  const { terms, values, covariance, weights, birgeRatio, consistent, oddOne } = together;
  const next = nextTest(tests, together.between);
  // light goes to the glass and back
  const wave = 2 / wavelength;
  const of = (term: SurfaceTerm): { readonly value: number; readonly u: number } => {
    const k = terms.indexOf(term);
    return { value: values[k] ?? NaN, u: Math.sqrt(covariance[k]?.[k] ?? NaN) };
  };
  const own = (one: SurfaceReading): OneSurfaceSummary["tests"][number]["spherical"] => {
    const k = one.terms.indexOf("round 4");
    return {
      value: wave * (one.values[k] ?? NaN),
      u: wave * Math.sqrt(one.covariance[k]?.[k] ?? NaN),
      unit: "wave",
    };
  };
  const directed = (
    name: "astigmatism" | "threefold",
    turns: number,
  ): DirectedSummary | undefined => {
    const parts = [`${name} cos`, `${name} sin`] as const;
    const isSeen =
      tests.filter((one) => parts.every((part) => one.terms.includes(part))).length > 1;
    if (!isSeen) return undefined;
    const [c = -1, s = -1] = parts.map((part) => terms.indexOf(part)), square = wave * wave;
    return directedQ([wave * (values[c] ?? NaN), wave * (values[s] ?? NaN)], [
      square * (covariance[c]?.[c] ?? NaN),
      square * (covariance[c]?.[s] ?? NaN),
      square * (covariance[s]?.[s] ?? NaN),
    ], turns);
  };
  const astigmatism = directed("astigmatism", 2), threefold = directed("threefold", 3);
  const round = of("round 4");
  const say = (n: number, term: SurfaceTerm): number => weights[n]?.[terms.indexOf(term)] ?? 0;
  return {
    spherical: { value: wave * round.value, u: wave * round.u, unit: "wave" },
    conic: { value: round.value / sphere - 1, u: round.u / sphere, unit: "" },
    round: ROUND.flatMap((term, k) =>
      terms.includes(term)
        ? [{ n: ROUND_TERMS[k]?.n ?? NaN, amount: { ...of(term), unit: "nm" } }]
        : []
    ),
    ...(astigmatism === undefined ? {} : { astigmatism }),
    ...(threefold === undefined ? {} : { threefold }),
    ...map,
    tests: tests.map((one, n) => ({
      test: one.test,
      spherical: own(one),
      weight: say(n, "round 4"),
      ...(astigmatism === undefined ? {} : {
        astigmatismWeight: (say(n, "astigmatism cos") + say(n, "astigmatism sin")) / 2,
      }),
    })),
    birgeRatio,
    consistent,
    ...(oddOne === undefined ? {} : { oddOne }),
    next: {
      test: next.test,
      minutes: exactQ(next.minutes, "min"),
      u: exactQ(wave * next.u, "wave"),
    },
  };
}

/** A value and its standard uncertainty, waves. */
interface Read {
  readonly value: number;
  readonly u: number;
}

/**
 * Pairs of the star in one. Of faults with a direction only the part along the mark is taken: the flat shows the mirror left for right,
 * a camera may do so again, and that turns the other part's sign.
 *
 * @param glass  nm for each wave
 */
function starReading(
  pairs: readonly StarPairSummary[],
  glass: number,
): SurfaceReading | undefined {
  const meanOf = (read: readonly Read[]): Read | undefined => {
    if (read.length === 0) return undefined;
    const own = read.map(({ u }, i) => read.map((_, j) => i === j ? u * u : 0));
    const mean = weigh(read.map(({ value }) => value), own);
    const birge = Math.sqrt(mean.chiSquare / Math.max(1, read.length - 1));
    return { value: mean.value, u: mean.u * Math.max(1, birge) };
  };
  const along = (name: "astigmatism" | "threefold", turns: number): Read | undefined =>
    meanOf(pairs.flatMap((pair) => {
      const { amount, axis } = pair[name] ?? {};
      if (amount?.u === undefined || axis === undefined) return [];
      const value = amount.value * Math.cos((turns * axis.value * Math.PI) / 180);
      return [{ value, u: amount.u }];
    }));
  const spherical = meanOf(
    pairs.flatMap(({ spherical: one }) =>
      one?.u === undefined ? [] : [{ value: one.value, u: one.u }]
    ),
  );
  if (spherical === undefined) return undefined;
  const all: [SurfaceTerm, Read | undefined][] = [
    ["round 4", spherical],
    ["astigmatism cos", along("astigmatism", 2)],
    ["threefold cos", along("threefold", 3)],
  ];
  const read = all.flatMap(([term, one]) => one === undefined ? [] : [{ term, ...one }]);
  const count = pairs.filter((pair) => pair.spherical?.u !== undefined).length;
  const floor = TELESCOPE_U ** 2, own = spherical.u ** 2;
  return {
    test: "star",
    // what flat and cell add stays, however many pairs there are
    again: (own * (count / (count + 1)) + floor) / (own + floor),
    terms: read.map(({ term }) => term),
    values: read.map(({ value }) => glass * value),
    covariance: read.map(({ u }, i) =>
      read.map((_, j) => i === j ? glass * glass * (u * u + floor) : 0)
    ),
  };
}

/** A fault by both its parts: amount, 95 %, axis in degrees from the mark. */
function directedQ(
  parts: readonly [number, number],
  covariance: readonly [number, number, number],
  turns: number,
): DirectedSummary {
  const { amount, interval95, direction } = directedOf(parts, covariance, turns);
  const degree = 180 / Math.PI, whole = 360 / turns;
  const axis = (((direction.value * degree) % whole) + whole) % whole;
  return {
    amount: toQ(amount),
    interval95,
    axis: toQ({ ...direction, value: axis, u: direction.u * degree, unit: "deg" }),
  };
}

/** As near to a yes or a no as a probability comes that is neither. */
const NOT_YES = SURE_ENOUGH - 0.001, NOT_NO = 1 - NOT_YES;

const neither = (probability: number): number => Math.min(NOT_YES, Math.max(NOT_NO, probability));

/** What a yes by zones may lack that a map by the knife has. */
const OF_ZONES: readonly string[] = ["another diameter", "more runs", "narrower openings"];

/** Whether photographs behind the knife or of a star are among the tests. */
const hasMore = (tests: OneSurfaceSummary["tests"]): boolean =>
  tests.some(({ test }) => test === "knife" || test === "star");

/** That tests do not agree, and which is odd. */
function apartSaid({ tests, oddOne, birgeRatio }: OneSurfaceSummary): string {
  const named = tests.map(({ test }) => test).join(", ");
  return `the tests of this glass (${named}) do not agree, Birge ratio ${birgeRatio.toFixed(2)}${
    oddOne === undefined ? "" : `: the odd one is the test by ${oddOne}`
  }`;
}

/** The table of each test. */
const TABLES: Readonly<Record<OneSurfaceSummary["tests"][number]["test"], string>> = {
  zones: "zones.csv",
  bands: "ronchi.csv",
  star: "star.csv",
  knife: "knife.csv",
};

function apartSlips(summary: OneSurfaceSummary): readonly Slip[] {
  const { tests, consistent, oddOne } = summary;
  if (consistent || !hasMore(tests)) return [];
  const suspect = oddOne ?? (tests.some(({ test }) => test === "knife") ? "knife" : "star");
  const file = TABLES[suspect];
  return [{
    of: "photographs",
    place: { file },
    message: apartSaid(summary),
    do:
      `Look at ${file} beside its photographs, row by row: is every one of this mirror as it is now, cool, and told with its own place, side and mark? Then take that test once more, and leave the glass alone until the tests agree.`,
  }];
}

/**
 * The verdict of all tests. Where they agree, the joined map may settle what was not shown, never turn round what was; where it leaves the
 * goal open, which its edge and roughness often do, the verdict stays. Where they do not agree it is "not shown", the odd one named. Without a
 * knife or a star the verdict stays as it was.
 */
function verdictTogether(
  alone: VerdictSummary | undefined,
  summary: OneSurfaceSummary,
  { knife }: TestsOfSurface,
): VerdictSummary | undefined {
  const { tests, consistent, surface } = summary;
  if (!hasMore(tests)) return alone;
  if (!consistent) {
    if (alone === undefined) return undefined;
    const outside = alone.outsideShadow;
    return {
      ...alone,
      meetsGoal: "not shown",
      probability: neither(alone.probability),
      why: `${alone.why}; but ${
        apartSaid(summary)
      }; find out why before the glass is worked or coated`,
      ...(outside === undefined ? {} : {
        outsideShadow: {
          ...outside,
          probability: neither(outside.probability),
          meetsGoal: "not shown",
        },
      }),
    };
  }
  if (surface === undefined || knife === undefined) return alone;
  const own = verdictOf(surface.probabilityWithinGoal),
    [low, high] = surface.interval95.wavefrontPv;
  const said = `with the photographs behind the knife: wavefront P-V ${
    surface.wavefrontPv.value.toFixed(3)
  } waves, 95 % between ${low.toFixed(3)} and ${high.toFixed(3)}`;
  const why = alone === undefined ? said : `${alone.why}; ${said}`;
  if (alone !== undefined && own === "not shown") {
    return { ...alone, why: `${why}, which agrees and settles no more` };
  }
  const isAgainst = alone !== undefined && alone.meetsGoal !== "not shown" &&
    own !== alone.meetsGoal;
  const chance = surface.probabilityWithinGoal;
  const meetsGoal: Verdict = isAgainst ? "not shown" : own;
  const isWhole = alone?.scope === "whole surface" || (!isAgainst && knife.seats > 1);
  const left = (alone?.lacks ?? []).filter((one) =>
    !OF_ZONES.includes(one) || (one === "another diameter" ? !isWhole : meetsGoal !== "yes")
  );
  const lacks = isWhole || left.includes("another diameter") ? left : ["another diameter", ...left];
  const { lacks: _, ...rest } = alone ?? {};
  return {
    ...rest,
    meetsGoal,
    probability: isAgainst ? neither(chance) : chance,
    why: `${why}: ${isAgainst ? `${own}, against the other tests; ${meetsGoal}` : meetsGoal}`,
    scope: isWhole ? "whole surface" : "one diameter",
    ...(lacks.length === 0 ? {} : { lacks }),
  };
}

/** The zone test: knife readings in, the figure of the mirror out, with how surely it is known. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { random, type RandomSource } from "../../numeric/random.ts";
import { remembered } from "../../numeric/remembered.ts";
import {
  addScaled,
  dot,
  type Matrix,
  matrix,
  product,
  times,
  transpose,
} from "../../numeric/smallMatrix.ts";
import { airyRadius } from "../../optics/airy.ts";
import { knifePosition, radiusBehindMask } from "../../optics/conic.ts";
import { zernike } from "../../optics/zernike.ts";
import { type Measured, measured } from "../../quantity/measured.ts";
import { ROUND, ROUND_TERMS, type SurfaceTerms } from "../surfaceTerms.ts";
import { effectiveRadius, type Opening, windowRule } from "./openings.ts";
import { type Advice, furtherReadings, zoneCautions } from "./zoneAdvice.ts";
import {
  SURE_ENOUGH,
  type Verdict,
  verdictOf,
  type ZoneFigure,
  type ZoneResult,
  type ZoneTest,
} from "./zoneFigure.ts";
import { type MethodResult, reduceBy, type ZoneMethod } from "./zoneMethods.ts";
import { outside, type Tester, type ZoneModel, zoneModel } from "./zoneModel.ts";
import {
  agreesWithReference,
  type Bench,
  doubtedBy,
  type Hidden,
  hiddenFaults,
  judgeMakes,
  type Numbers,
  settles,
} from "./zoneNumbers.ts";
import { type Make, type MeanSurface, type Posterior, zonePosterior } from "./zonePosterior.ts";
import { type Cause, causesOf, DRIFT_S, type PooledRuns, poolRuns } from "./zoneRuns.ts";
import { drawAmplitudes, isClean, readSeats, type Seats, tellAstigmatism } from "./zoneSeats.ts";

export type { ZoneFigure, ZoneResult, ZoneTest } from "./zoneFigure.ts";

/**
 * Reduces knife readings at the centre of curvature to the figure of the mirror.
 *
 * All runs of one glass -> departures of the zones from the ideal reading, with the covariance of scatter, drift, scale
 * and eye (`zoneRuns`, `zoneSystematics`) -> every surface that agrees with them (`zonePosterior`), piston and focus
 * removed by least squares with area weight -> P-V, RMS, Strehl, conic. The single numbers are the mean surface's,
 * intervals and probability the draws'. Seats and knives give the astigmatism (`zoneSeats`), which is then in all of
 * them. Where that would be a yes, the probability told is of the worst fault that could hide in the openings.
 *
 * @param asTyped  readings and the bench they were taken on
 * @returns the figure; verdict yes from a probability of 0.95, no up to 0.05, else not shown; never yes from a single run
 * @throws {RangeError} where an opening lies beyond the edge; {CannotTell} where fewer than two zones were read, or a reading is absurd
 * @see Malacara, Optical Shop Testing, Foucault chapter (reckoned anew in tests/testing/secondRoute.py); the route is this kit's own
 * @example a perfect paraboloid, read three times without noise
 * ```ts
 * import assert from "node:assert/strict";
 * const edges = [0, 11, 22, 33, 40, 47, 57.5, 66, 74];
 * const readings = ["1", "2", "3"].flatMap((run) =>
 *   edges.slice(1).map((outer, i) => {
 *     const inner = edges[i] ?? 0;
 *     return { run, inner, outer, reading: 12 + (inner * inner + outer * outer) / 4 / 2400 };
 *   })
 * );
 * const figure = reduceZones({ readings, aperture: 150, bevel: 1, radius: 2400, source: "moves", openings: "bands" });
 * assert.equal(figure.conic.value.toFixed(3), "-1.000");
 * assert.equal(figure.verdict, "yes");
 * ```
 */
export function reduceZones(asTyped: ZoneTest): ZoneFigure {
  return remembered("reduceZones", () => JSON.stringify(asTyped), () => reducedAnew(asTyped));
}

function reducedAnew(asTyped: ZoneTest): ZoneFigure {
  const test = onTheGlass(asTyped),
    wavelength = test.wavelength ?? 550,
    reference = test.reference ?? "paraboloid";
  const tester = requireBench(test, wavelength);
  const ideal = reference === "sphere"
    ? (): number => 0
    : (opening: Opening): number => idealReading(opening, tester);
  const pooled = poolRuns(test.readings, ideal);
  const model = zoneModel(pooled.zones, tester), causes = causesOf(pooled, tester);
  const y = pooled.departures.map((d) => d * model.nmPerMm);
  const covariance = sumOf(causes, model.nmPerMm);
  const source = random(test.seed ?? 1);
  const seats = readSeats(pooled.groups, tester, test.seating);
  const amplitudes = seats.astigmatism && drawAmplitudes(seats.astigmatism, source, DRAWS);
  const posterior = zonePosterior(model, { y, covariance }, source);
  const parts: Parts = {
    test,
    wavelength,
    reference,
    tester,
    pooled,
    model,
    causes,
    ideal,
    source,
    seats,
    amplitudes,
    posterior,
    mean: posterior.mean(),
    isPerfect: agreesWithReference(y, covariance) &&
      (seats.astigmatism === undefined || isClean(seats.astigmatism)),
    goal: 2 * (test.goalSurfaceWaves ?? 1 / 8) * wavelength,
  };
  return assemble(parts);
}

const DRAWS = 10_000;
/** Draws where only a probability is asked for. */
const FEW = 2_000;
const FEW_MAKES = 160;
/** What runs both ways leave of the doubt about drift. */
const LEFT_OF_DRIFT = 0.25;

/** The same test with a mask's edges carried to the glass along the light, which spreads from the centre of curvature. */
function onTheGlass(test: ZoneTest): ZoneTest {
  const standOff = test.maskStandOff ?? 0;
  if (standOff === 0) return test;
  const carry = (edge: number): number => radiusBehindMask(edge, test.radius, standOff);
  const reach = (edge: number): number =>
    edge <= test.aperture / 2 ? Math.min(carry(edge), test.aperture / 2) : edge;
  const readings = test.readings.map((row) => ({
    ...row,
    inner: carry(row.inner),
    outer: reach(row.outer),
  }));
  return { ...test, readings };
}

interface Parts {
  readonly test: ZoneTest;
  readonly wavelength: number;
  readonly reference: "paraboloid" | "sphere";
  readonly tester: Tester;
  readonly pooled: PooledRuns;
  readonly model: ZoneModel;
  readonly causes: readonly Cause[];
  readonly ideal: (opening: Opening) => number;
  readonly source: RandomSource;
  readonly seats: Seats;
  readonly amplitudes: Float64Array | undefined;
  readonly posterior: Posterior;
  readonly mean: MeanSurface;
  readonly isPerfect: boolean;
  /** P-V of wavefront, nm */
  readonly goal: number;
}

function sumOf(causes: readonly Cause[], nmPerMm: number): Float64Array[] {
  const n = causes[0]?.covariance.length ?? 0;
  return matrix(
    n,
    n,
    (i, j) => nmPerMm * nmPerMm * causes.reduce((sum, c) => sum + (c.covariance[i]?.[j] ?? 0), 0),
  );
}

function benchOf(parts: Parts, grid = parts.model.whole.grid): Bench {
  const { amplitudes, seats: { astigmatism }, wavelength, pooled, reference, goal } = parts;
  return {
    grid,
    wavelength,
    dof: pooled.believedDof,
    base: reference === "sphere" ? 0 : -1,
    goal,
    ...(amplitudes && astigmatism
      ? { astigmatism: { told: Math.hypot(astigmatism.cosine, astigmatism.sine), amplitudes } }
      : {}),
  };
}

function assemble(parts: Parts): ZoneFigure {
  const { test, wavelength, reference, tester, pooled, posterior, mean, seats, amplitudes } = parts;
  const smooth = judgeMakes(
    posterior.makes,
    benchOf(parts),
    parts.isPerfect,
    parts.source,
    test.draws ?? DRAWS,
  );
  const beside = reference === "sphere" ? [] : besides(parts);
  const plain = beside.find(({ method }) => method === "natural spline");
  const numbers = plain === undefined
    ? smooth
    : doubtedBy(smooth, plain.wavefrontPvWaves * wavelength, posterior.makes, benchOf(parts));
  const noise = parts.causes[0]?.covariance ?? [];
  const zones = zoneResults(parts);
  const hidden = hiddenFaults(posterior.makes, posterior.faults(), benchOf(parts));
  const probability = unlessRound(parts, leastOf(numbers, hidden), posterior.makes);
  const oneRun = pooled.runs.length < 2 || !Number.isFinite(pooled.dof);
  const verdict = oneRun && verdictOf(probability) === "yes" ? "not shown" : verdictOf(probability);
  const isOpen = verdict === "not shown" && test.advise !== false;
  // it is open for what these openings fold away: the same ones again would fold it again
  const isFolded = numbers.probability < SURE_ENOUGH && smooth.probability >= SURE_ENOUGH;
  const advice = isOpen ? adviceFor(parts, isFolded) : undefined;
  const unseen = numbers.probability < SURE_ENOUGH ? [] : unseenIn(hidden, tester);
  const base = { reference, focus: "least rms", wavelength } as const;
  return {
    ...base,
    scope: seats.isWhole ? "whole surface" : "one diameter",
    diameters: seats.diameters,
    ...(seats.astigmatism && amplitudes
      ? { astigmatism: tellAstigmatism(seats.astigmatism, amplitudes) }
      : {}),
    wanted: seats.wanted,
    budget: budgetOf(parts),
    ...outsideShadow(parts),
    unseen,
    lacks: lacksOf(parts, unseen.length > 0, advice),
    judgedAperture: 2 * tester.half,
    zones,
    runs: pooled.runs.length,
    groups: pooled.groups,
    pooledS: pooled.s,
    pooledDof: pooled.dof,
    conic: numbers.conic,
    wavefrontPv: numbers.wavefrontPv,
    wavefrontRms: numbers.wavefrontRms,
    strehl: numbers.strehl,
    surfacePv: numbers.surfacePv,
    surfaceRms: numbers.surfaceRms,
    interval95: numbers.interval95,
    noiseFloorRms: noiseFloor(parts, noise),
    transverseOverAiry: worstMiss(parts, zones),
    profile: Array.from(parts.model.profileRadii, (radius, i) => ({
      radius,
      surfaceError: (mean.profile[i] ?? 0) / 2,
      u: (mean.profileU[i] ?? 0) / 2,
    })),
    profileCovariance: profileCovariance(parts, noise),
    round: roundTerms(parts),
    probabilityWithinGoal: probability,
    verdict,
    why: whyOf(numbers, parts, probability, verdict, oneRun) +
      (isFolded && plain !== undefined
        ? `; a plainer way through the same openings gives ${
          plain.wavefrontPvWaves.toFixed(3)
        } waves`
        : ""),
    ...(advice === undefined ? {} : {
      advice: advice.says,
      moreRuns: advice.moreRuns,
      narrower: advice.narrower,
    }),
    assumed: pooled.assumed,
    cautions: [...pooled.cautions, ...zoneCautions({ drawn: numbers, ...parts })],
    beside,
    drawsPv: numbers.pv.map((pv) => pv / wavelength),
    seed: test.seed ?? 1,
  };
}

/**
 * The probability that is told: over all surfaces; but where that would lead to a yes, of the worst fault that could hide.
 *
 * Above one half it falls to that fault's, never below one half, so that a doubt is told as a doubt.
 */
function leastOf({ probability }: Numbers, [worst]: readonly Hidden[]): number {
  if (probability <= 0.5 || worst === undefined) return probability;
  return Math.max(0.5, Math.min(probability, worst.probability));
}

/**
 * A no needs to have been seen: where seats and knives agree with a round mirror, what astigmatism they leave open lowers
 * the probability to one half at most, since how much is likely beforehand is not known so well.
 */
function unlessRound(
  parts: Parts,
  probability: number,
  makes: readonly Make[],
  grid = parts.model.whole.grid,
): number {
  const { astigmatism } = parts.seats;
  if (probability >= 0.5 || astigmatism === undefined || !isClean(astigmatism)) return probability;
  const { astigmatism: _, ...round } = benchOf(parts, grid);
  const numbers = judgeMakes(makes, round, parts.isPerfect, random(parts.test.seed ?? 1), FEW);
  return Math.max(probability, Math.min(0.5, numbers.probability));
}

/** What could hide and break a yes, the worst of each family. */
function unseenIn(hidden: readonly Hidden[], { half }: Tester): string[] {
  const told = new Set<string>();
  return hidden.filter(({ probability }) => probability < SURE_ENOUGH).flatMap(({ left }) => {
    const { fault, ripple } = left, family = fault?.family ?? "ripple";
    if (told.has(family)) return [];
    told.add(family);
    if (fault === undefined) {
      const period = ((ripple?.period ?? 0) * half).toFixed(0);
      return [`ripples ${period} mm from crest to crest could stand there unseen`];
    }
    const width = Math.max(1, Math.round(fault.width * half)), at = (fault.at * half).toFixed(0);
    switch (fault.family) {
      case "ring":
        return [`a ring ${width} mm wide, ${at} mm from the middle, could stand there unseen`];
      case "edge":
        return [`an edge turned over the last ${width} mm could stand there unseen`];
      case "middle":
        return [`a hill or hole ${2 * width} mm wide in the middle could stand there unseen`];
      default:
        return [`a step ${at} mm from the middle could stand there unseen`];
    }
  });
}

function lacksOf(
  { seats, pooled }: Parts,
  isHidden: boolean,
  advice: Advice | undefined,
): string[] {
  return [
    ...(seats.isWhole ? [] : ["another diameter"]),
    ...(isHidden || advice?.narrower ? ["narrower openings"] : []),
    ...(pooled.runs.length < 2 || advice?.moreRuns ? ["more runs"] : []),
  ];
}

/**
 * Further readings, each way reckoned on the mean surface with the same scatter.
 *
 * @param isFolded  whether the openings read so far settle nothing, however often they are read
 */
function adviceFor(parts: Parts, isFolded: boolean): Advice {
  const { pooled, tester, posterior, reference } = parts;
  // what is expected behind some openings is asked for once, however many runs are reckoned with
  const behind = new Map<readonly Opening[], readonly [ZoneModel, Float64Array]>();
  const modelOf = (openings: readonly Opening[]): readonly [ZoneModel, Float64Array] => {
    const known = behind.get(openings);
    if (known !== undefined) return known;
    const model = openings === pooled.zones ? parts.model : zoneModel(openings, tester);
    const made = [model, posterior.expected(model.seen)] as const;
    behind.set(openings, made);
    return made;
  };
  const isSettledBy = (
    openings: readonly Opening[],
    runs: number,
    isDriftShown: boolean,
  ): boolean => {
    const [model, y] = modelOf(openings), n = openings.length;
    const zones = openings.map((opening) => ({
      ...opening,
      readings: [],
      mean: reference === "sphere" ? 0 : parts.ideal(opening),
    }));
    const drift = Float64Array.from(
      openings,
      (_, i) => (isDriftShown ? LEFT_OF_DRIFT : 1) * DRIFT_S * (i / (n - 1) - 0.5),
    );
    const covariance = matrix(n, n, (i, j) => i === j ? pooled.believedS ** 2 / runs : 0);
    const causes = causesOf({ ...pooled, zones, drift, covariance }, tester);
    const source = random(parts.test.seed ?? 1);
    const there = zonePosterior(
      model,
      { y, covariance: sumOf(causes, model.nmPerMm) },
      source,
      FEW_MAKES,
    );
    const bench = benchOf(parts, model.whole.grid);
    return settles(there.makes, there.faults(), bench, source, FEW, SURE_ENOUGH);
  };
  return furtherReadings(isSettledBy, pooled, tester.half, isFolded);
}

function outsideShadow(parts: Parts): Pick<ZoneFigure, "outsideShadow"> | Record<never, never> {
  const { test: { shadowRadius = 0 }, tester, posterior } = parts;
  if (!(shadowRadius > 0 && shadowRadius < 0.9 * tester.half)) return {};
  const region = outside(shadowRadius / tester.half, tester);
  const makes: readonly Make[] = posterior.on(region);
  const numbers = judgeMakes(
    makes,
    benchOf(parts, region.grid),
    parts.isPerfect,
    parts.source,
    2 * FEW,
  );
  const heights = transpose(region.wavefront);
  const faults = posterior.faults().map((one) => ({
    ...one,
    height: heights[one.column] as Float64Array,
  }));
  const probability = unlessRound(
    parts,
    leastOf(numbers, hiddenFaults(makes, faults, benchOf(parts, region.grid))),
    makes,
    region.grid,
  );
  return {
    outsideShadow: {
      wavefrontPv: numbers.wavefrontPv,
      interval95: numbers.interval95.wavefrontPv,
      probability,
      verdict: parts.pooled.runs.length < 2 && probability >= 0.95
        ? "not shown"
        : verdictOf(probability),
    },
  };
}

/** Mean square doubt of the wavefront by cause: scatter and bench through the mean's answer, the rest is what nobody saw. */
function budgetOf(parts: Parts): ZoneFigure["budget"] {
  const { causes, model, mean, seats } = parts;
  const { weights, q } = model.whole.grid;
  const parted = causes.map(({ source, covariance }) => ({
    source,
    square: meanSquare(mean.gain, covariance, weights) * model.nmPerMm ** 2,
  }));
  let all = 0;
  for (let i = 1; i < model.profileRadii.length; i++) {
    const [inner = 0, outer = 0] = [model.profileRadii[i - 1], model.profileRadii[i]];
    const area = (outer * outer - inner * inner) / model.tester.half ** 2;
    const u = ((mean.profileU[i - 1] ?? 0) + (mean.profileU[i] ?? 0)) / 2;
    all += area * u * u;
  }
  const known = parted.reduce((sum, { square }) => sum + square, 0);
  parted.push({ source: "glass that no opening sees", square: Math.max(all - known, 0) });
  if (seats.astigmatism) {
    const { covariance } = seats.astigmatism;
    const both = (covariance[0]?.[0] ?? 0) + (covariance[1]?.[1] ?? 0);
    const shape = q.reduce((sum, v, i) => sum + (weights[i] ?? 0) * v * v, 0) / 2;
    parted.push({ source: "astigmatism", square: 4 * both * shape });
  }
  const total = parted.reduce((sum, { square }) => sum + square, 0);
  return parted.map(({ source, square }) => ({ source, share: total > 0 ? square / total : 0 }));
}

function meanSquare(gain: Matrix, covariance: Matrix, weights: Float64Array): number {
  return gain.reduce(
    (sum, row, i) => sum + (weights[i] ?? 0) * dot(row, times(covariance, row)),
    0,
  );
}

/** Zernike's terms that are the same all round: of the wavefront, piston and focus out of it, then of the glass. */
function roundTerms({ model: { whole }, posterior }: Parts): SurfaceTerms {
  const { q, weights } = whole.grid;
  const rows = ROUND_TERMS.map((term) => {
    const row = new Float64Array(whole.wavefront[0]?.length ?? 0);
    whole.wavefront.forEach((heights, i) =>
      addScaled(row, heights, (weights[i] as number) * zernike(term, Math.sqrt(q[i] as number), 0))
    );
    return row;
  });
  const { middle, covariance } = posterior.sums(rows);
  return {
    terms: ROUND,
    values: Array.from(middle, (v) => v / 2),
    covariance: covariance.map((row) => Array.from(row, (v) => v / 4)),
  };
}

function profileCovariance({ mean, model }: Parts, noise: Matrix): Float64Array[] {
  const moved = product(
    mean.profileGain,
    noise.map((row) => row.map((v) => (v * model.nmPerMm ** 2) / 4)),
  );
  return product(moved, transpose(mean.profileGain));
}

function zoneResults(parts: Parts): ZoneResult[] {
  const { pooled, tester, ideal, model, mean } = parts;
  const level = pooled.departures;
  const constant = -mean.focus / model.nmPerMm;
  const ray = airyRadius(tester.radius / 4 / tester.half, parts.wavelength);
  const passes = tester.source === "moves" ? 1 : 2;
  return pooled.zones.map((zone, i): ZoneResult => {
    const r = effectiveRadius(zone, tester.openings), departure = (level[i] ?? 0) - constant;
    return {
      ...zone,
      effectiveRadius: r,
      u: pooled.believedS / Math.sqrt(zone.readings.length) * (pooled.birge ?? 1),
      ideal: ideal(zone),
      departure,
      transverseOverAiry: (-r * departure) / (passes * tester.radius * ray),
    };
  });
}

function noiseFloor({ model, mean, wavelength, pooled }: Parts, noise: Matrix): Measured {
  const square = meanSquare(mean.gain, noise, model.whole.grid.weights);
  const floor = (Math.sqrt(square) * model.nmPerMm) / wavelength, dof = pooled.believedDof;
  return measured(floor, floor / Math.sqrt(2 * dof), "wave", dof);
}

function worstMiss({ tester, wavelength, pooled }: Parts, zones: readonly ZoneResult[]): Measured {
  const [worst] = [...zones].sort((a, b) =>
    Math.abs(b.transverseOverAiry) - Math.abs(a.transverseOverAiry)
  );
  const perMm = (worst?.effectiveRadius ?? 0) /
    ((tester.source === "moves" ? 1 : 2) * tester.radius *
      airyRadius(tester.radius / 4 / tester.half, wavelength));
  return measured(
    Math.abs(worst?.transverseOverAiry ?? 0),
    perMm * (worst?.u ?? 0),
    "",
    pooled.believedDof,
  );
}

function besides({ pooled, tester, wavelength }: Parts): MethodResult[] {
  const methods: ZoneMethod[] = ["natural spline", "conic only", "polynomial"];
  // openings of two masks may share their effective radius: a spline takes one of them
  const kept = pooled.zones.map((zone, i) => ({
    zone,
    i,
    r: effectiveRadius(zone, tester.openings),
  }))
    .sort((one, other) => one.r - other.r)
    .filter(({ r }, i, all) => i === 0 || r - (all[i - 1]?.r ?? 0) > 1e-6 * tester.half);
  const zones = kept.map(({ zone }) => zone);
  if (zones.length < 2) {
    throw new CannotTell(
      "all openings lie at one place, which tells only focus: read two zones or more",
    );
  }
  const departures = kept.map(({ i }) => pooled.departures[i] ?? 0);
  return methods
    .filter((method) => zones.length > 1 && (method !== "polynomial" || zones.length > 3))
    .map((method) => reduceBy(zones, departures, tester, method, wavelength));
}

/** What a perfect paraboloid would give through this window. */
function idealReading(zone: Opening, tester: Tester): number {
  const { radii, weights } = windowRule(zone, tester.openings);
  return radii.reduce(
    (sum, r, i) =>
      sum +
      (weights[i] ?? 0) * knifePosition(r, { radius: tester.radius, conic: -1 }, tester.source),
    0,
  );
}

function whyOf(
  drawn: Numbers,
  { goal, wavelength, seats }: Parts,
  probability: number,
  verdict: Verdict,
  oneRun: boolean,
): string {
  const [low, high] = drawn.interval95.wavefrontPv.map((v) => v.toFixed(3));
  const read = seats.isWhole ? "" : seats.diameters > 1 ? "" : " on one diameter";
  const facts = `wavefront P-V${read} ${
    drawn.wavefrontPv.value.toFixed(3)
  } waves, 95 % between ${low} and ${high}, goal ${(goal / wavelength).toFixed(3)}`;
  if (oneRun && probability >= 0.95) {
    return `${facts}; a single run cannot show it, because its scatter is only assumed`;
  }
  // never rounded up to the bound that it misses
  const told = verdict === "not shown" ? Math.min(probability, 0.949) : probability;
  return `${facts}; probability of meeting the goal ${
    told > 0.999 ? "above 0.999" : told.toFixed(3)
  }: ${verdict}`;
}

function requireBench(test: ZoneTest, wavelength: number): Tester {
  const { aperture, bevel, radius, source, openings } = test;
  const half = aperture / 2 - bevel, goal = test.goalSurfaceWaves ?? 1 / 8;
  if (radius > 0 && radius <= aperture) {
    throw new CannotTell(
      `a radius of curvature of ${
        Number(radius.toPrecision(5))
      } mm is less than the disc is wide: look at the readings of the curve first`,
    );
  }
  if (
    !(half > 0 && bevel >= 0 && radius > aperture && wavelength > 0 && goal > 0 &&
      Number.isFinite(radius * wavelength * goal))
  ) {
    throw new RangeError(
      `reduceZones requires 0 <= bevel < aperture / 2, radius > aperture in mm, wavelength (nm) and goal above 0, ` +
        `got aperture=${aperture}, bevel=${bevel}, radius=${radius}, wavelength=${wavelength}, goalSurfaceWaves=${goal}`,
    );
  }
  const beyond = test.readings.find((row) => row.outer > aperture / 2 + 1e-9);
  if (beyond) {
    throw new RangeError(
      `reduceZones requires openings inside the edge, ${
        aperture / 2
      } mm from the middle, got outer=${beyond.outer} in run ${beyond.run}`,
    );
  }
  return { half, radius, source, openings };
}

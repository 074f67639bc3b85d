/** The zone test: knife readings in, the figure of the mirror out, with how surely it is known. */
import { dot, times } from "../numeric/smallMatrix.ts";
import { type Measured, measured } from "../quantity/measured.ts";
import { airyRadius } from "../optics/airy.ts";
import { knifePosition, radiusBehindMask } from "../optics/crossing.ts";
import { effectiveRadius, windowRule } from "./openings.ts";
import { type Verdict, verdictOf } from "./verdict.ts";
import { furtherReadings, zoneCautions } from "./zoneAdvice.ts";
import type { ZoneFigure, ZoneResult, ZoneTest } from "./zoneFigure.ts";
import { type MethodResult, reduceBy, type ZoneMethod } from "./zoneMethods.ts";
import { type Tester, type ZoneModel, zoneModel } from "./zoneModel.ts";
import { operatorCovariance, type ZoneOperator, zoneOperator } from "./zoneOperator.ts";
import { type Numbers, shapeNumbers } from "./zoneNumbers.ts";
import { zonePosterior } from "./zonePosterior.ts";
import { type PooledRuns, poolRuns } from "./zoneRuns.ts";

export type { ZoneFigure, ZoneResult, ZoneTest } from "./zoneFigure.ts";

/**
 * Reduces knife readings at the centre of curvature to the figure of the mirror.
 *
 * Means by zone -> departures from the ideal reading -> the calmest curve through them (`zoneOperator`) -> wavefront of
 * a star, piston and focus removed by least squares with area weight -> P-V, RMS, Strehl, conic. The single numbers are
 * those of the drawn profile. Intervals and the probability come from seeded draws (`zonePosterior`) that hold both the
 * scatter of the readings (pooled over zones, Student's t) and what the glass may do where no window looks; noise
 * raises P-V and RMS, and the intervals take that back, so a value may stand above the middle of its interval.
 *
 * @param asTyped  readings and the bench they were taken on
 * @returns the figure; verdict yes from a probability of 0.95, no up to 0.05, else not shown; never yes from a single run
 * @throws {RangeError} where an opening lies beyond the edge, fewer than two zones were read, or a reading is absurd
 * @see Malacara, Optical Shop Testing, Foucault chapter (from memory); the route is this kit's own
 * @example a perfect paraboloid, read three times without noise
 * ```ts
 * import assert from "node:assert/strict";
 * const edges = [0, 37, 53, 65, 74];
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
  const test = onTheGlass(asTyped),
    wavelength = test.wavelength ?? 550,
    reference = test.reference ?? "paraboloid";
  const tester = requireBench(test, wavelength);
  const idealSpread = knifePosition(tester.half, { radius: test.radius, conic: -1 }, test.source);
  const pooled = poolRuns(test.readings, idealSpread);
  const model = zoneModel(pooled.zones, tester);
  const operator = zoneOperator(model);
  const ideals = pooled.zones.map((zone) =>
    reference === "sphere" ? 0 : idealReading(zone, tester)
  );
  const offsets = pooled.zones.map((zone, i) => zone.mean - (ideals[i] ?? 0));
  const zero = offsets.reduce((a, b) => a + b, 0) / offsets.length; // of the knife's scale: only focus
  const departures = offsets.map((offset) => offset - zero);
  const parts: Parts = {
    test,
    wavelength,
    reference,
    tester,
    pooled,
    model,
    operator,
    ideals,
    departures,
  };
  return assemble(parts);
}

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
  readonly operator: ZoneOperator;
  readonly ideals: readonly number[];
  readonly departures: readonly number[];
}

function assemble(parts: Parts): ZoneFigure {
  const { test, wavelength, reference, tester, pooled, model, operator, departures } = parts;
  const seed = test.seed ?? 1, counts = pooled.zones.map((zone) => zone.readings.length);
  const { s, dof } = pooled;
  const { draws, profileU } = zonePosterior(
    model,
    { departures, counts, s, dof },
    wavelength,
    seed,
    test.draws,
  );
  const variances = counts.map((n) => (s * s) / n);
  const base = reference === "sphere" ? 0 : -1;
  const drawn = shapeNumbers(parts, draws, base);
  const goal = 2 * (test.goalSurfaceWaves ?? 1 / 8) * wavelength;
  const probability = draws.pv.reduce((sum, pv) => sum + (pv <= goal ? 1 : 0), 0) / draws.pv.length;
  const zones = zoneResults(parts, variances);
  const oneRun = pooled.runs.length < 2 || !Number.isFinite(dof);
  const verdict = oneRun && verdictOf(probability) === "yes" ? "not shown" : verdictOf(probability);
  const situation = { drawn, goalWaves: goal / wavelength, base, variances, ...parts };
  const advice = verdict === "not shown" ? furtherReadings(situation) : undefined;
  return {
    reference,
    focus: "least rms",
    wavelength,
    judgedAperture: 2 * tester.half,
    zones,
    runs: pooled.runs.length,
    pooledS: s,
    pooledDof: dof,
    ...drawn,
    noiseFloorRms: noiseFloor(parts, variances),
    transverseOverAiry: worstMiss(parts, zones, variances),
    profile: profileOf(parts, profileU),
    profileCovariance: operatorCovariance(operator.profile, variances).map((row) =>
      row.map((v) => v / 4)
    ),
    probabilityWithinGoal: probability,
    verdict,
    why: whyOf(drawn, goal / wavelength, probability, verdict, oneRun),
    ...(advice === undefined ? {} : { advice: advice.says, moreRuns: advice.moreRuns }),
    assumed: pooled.assumed,
    cautions: [...pooled.cautions, ...zoneCautions(situation)],
    beside: reference === "sphere" ? [] : besides(parts),
    drawsPv: draws.pv.map((pv) => pv / wavelength),
    seed,
  };
}

function zoneResults(parts: Parts, variances: readonly number[]): ZoneResult[] {
  const { pooled, tester, departures, ideals, operator, test } = parts;
  const constant = dot(operator.focus, departures);
  const ray = airyRadius(tester.radius / 4 / tester.half, parts.wavelength);
  const passes = test.source === "moves" ? 1 : 2;
  return pooled.zones.map((zone, i): ZoneResult => {
    const r = effectiveRadius(zone, tester.openings), departure = (departures[i] ?? 0) - constant;
    return {
      ...zone,
      effectiveRadius: r,
      u: Math.sqrt(variances[i] ?? 0),
      ideal: ideals[i] ?? 0,
      departure,
      transverseOverAiry: (-r * departure) / (passes * tester.radius * ray),
    };
  });
}

function noiseFloor(
  { model, operator, wavelength, pooled }: Parts,
  variances: readonly number[],
): Measured {
  let sum = 0;
  operator.wavefront.forEach((row, i) =>
    row.forEach((m, j) => sum += (model.grid.weights[i] ?? 0) * m * m * (variances[j] ?? 0))
  );
  const floor = Math.sqrt(sum) / wavelength;
  return measured(
    floor,
    Number.isFinite(pooled.dof) ? floor / Math.sqrt(2 * pooled.dof) : 0,
    "wave",
    pooled.dof,
  );
}

function worstMiss(
  { tester, test, wavelength, pooled }: Parts,
  zones: readonly ZoneResult[],
  variances: readonly number[],
): Measured {
  let worst = 0;
  zones.forEach((zone, i) => {
    if (Math.abs(zone.transverseOverAiry) > Math.abs(zones[worst]?.transverseOverAiry ?? 0)) {
      worst = i;
    }
  });
  const zone = zones[worst];
  const perMm = (zone?.effectiveRadius ?? 0) /
    ((test.source === "moves" ? 1 : 2) * tester.radius *
      airyRadius(tester.radius / 4 / tester.half, wavelength));
  return measured(
    Math.abs(zone?.transverseOverAiry ?? 0),
    perMm * Math.sqrt(variances[worst] ?? 0),
    "",
    pooled.dof,
  );
}

function profileOf({ model, operator, departures }: Parts, u: Float64Array): ZoneFigure["profile"] {
  const heights = times(operator.profile, departures);
  return Array.from(model.profileRadii, (radius, i) => ({
    radius,
    surfaceError: (heights[i] ?? 0) / 2,
    u: (u[i] ?? 0) / 2,
  }));
}

function besides({ pooled, departures, tester, wavelength }: Parts): MethodResult[] {
  const methods: ZoneMethod[] = ["natural spline", "conic only", "polynomial"];
  return methods
    .filter((method) => method !== "polynomial" || pooled.zones.length > 3)
    .map((method) => reduceBy(pooled.zones, departures, tester, method, wavelength));
}

/** What a perfect paraboloid would give through this window. */
function idealReading(zone: { inner: number; outer: number }, tester: Tester): number {
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
  goal: number,
  probability: number,
  verdict: Verdict,
  oneRun: boolean,
): string {
  const [low, high] = drawn.interval95.wavefrontPv.map((v) => v.toFixed(3));
  const facts = `wavefront P-V ${
    drawn.wavefrontPv.value.toFixed(3)
  } waves, 95 % between ${low} and ${high}, goal ${goal.toFixed(3)}`;
  if (oneRun && probability >= 0.95) {
    return `${facts}; a single run cannot show it, because its scatter is only assumed`;
  }
  return `${facts}; probability of meeting the goal ${
    probability > 0.999 ? "above 0.999" : probability.toFixed(3)
  }: ${verdict}`;
}

function requireBench(test: ZoneTest, wavelength: number): Tester {
  const { aperture, bevel, radius, source, openings } = test;
  const half = aperture / 2 - bevel, goal = test.goalSurfaceWaves ?? 1 / 8;
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

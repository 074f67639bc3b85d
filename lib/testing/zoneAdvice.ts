/** What looks unlikely in a zone test, and which further readings would settle an open verdict. */
import { times, transpose } from "../numeric/smallMatrix.ts";
import { knifePosition, sideBySideShift } from "../optics/crossing.ts";
import type { Measured } from "../quantity/measured.ts";
import type { Tester, ZoneModel } from "./zoneModel.ts";
import type { ZoneOperator } from "./zoneOperator.ts";
import type { PooledRuns } from "./zoneRuns.ts";

/** What the advice rests on. */
export interface Situation {
  readonly drawn: {
    readonly conic: Measured;
    readonly wavefrontPv: Measured;
    readonly interval95: { readonly wavefrontPv: readonly [number, number] };
  };
  /** P-V allowed on the wavefront, waves */
  readonly goalWaves: number;
  readonly pooled: PooledRuns;
  readonly tester: Tester;
  readonly model: ZoneModel;
  readonly operator: ZoneOperator;
  readonly departures: readonly number[];
  /** of the zone means, mm^2 */
  readonly variances: readonly number[];
  readonly wavelength: number;
  readonly reference: "paraboloid" | "sphere";
  readonly test: { readonly sideBySide?: number };
}

/** Scatter of one reading beyond which the air is not still, mm (COMMON PRACTICE). */
const STILL_AIR_S = 0.08;
/** What a mirror on the way from sphere to paraboloid never is; half-width of the alarm (COMMON PRACTICE). */
const ALARM = 0.5;

/**
 * Sentences on what looks unlikely. Nothing is changed because of them.
 *
 * @param situation  the reduced test
 * @example see `reduceZones`, whose result has them as `cautions`
 */
export function zoneCautions(situation: Situation): string[] {
  return [
    ...turned(situation),
    ...uncovered(situation),
    ...loose(situation),
    ...drifting(situation),
    ...beside(situation),
  ];
}

/** A scale read the wrong way makes +1 of -1; a spread three times too wide makes -3. */
function turned({ drawn, tester, reference }: Situation): string[] {
  const k = drawn.conic.value;
  if (reference === "sphere") return [];
  const what = `the best conic is ${k.toFixed(2)}, which no polishing toward a paraboloid gives`;
  if (Math.abs(k - 1) < ALARM) {
    return [
      `${what}; a scale read the wrong way (larger = nearer the mirror) would turn ${
        (-k).toFixed(2)
      } into it: look at its direction`,
    ];
  }
  if (Math.abs(k + 3) < ALARM) {
    const spread = knifePosition(tester.half, { radius: tester.radius, conic: -1 }, tester.source)
      .toFixed(2);
    return [
      `${what}; the readings spread three times the ideal ${spread} mm: look at the scale's direction and unit, the radius of curvature and the kind of source`,
    ];
  }
  return [];
}

function uncovered({ pooled, tester }: Situation): string[] {
  const last = Math.max(...pooled.zones.map((zone) => zone.outer));
  const out: string[] = [];
  if (tester.half - last > 0.02 * tester.half) {
    out.push(
      `no opening reaches the last ${
        (tester.half - last).toFixed(1)
      } mm; what the glass does there is carried on from the others`,
    );
  }
  if (last - tester.half > 1e-6) {
    out.push(
      `the outer opening reaches ${(last - tester.half).toFixed(1)} mm beyond the judged ${
        (2 * tester.half).toFixed(1)
      } mm, onto the bevel; figures are for the judged width`,
    );
  }
  if (pooled.zones.length === 2) {
    out.push(
      "two zones tell a conic and nothing else; zones or a turned edge between them stay unseen",
    );
  }
  return out;
}

function loose({ pooled }: Situation): string[] {
  if (!Number.isFinite(pooled.dof) || pooled.s <= STILL_AIR_S) return [];
  return [
    `one reading scatters by ${
      pooled.s.toFixed(3)
    } mm, more than ${STILL_AIR_S} mm: wait for still air and read again`,
  ];
}

/** A lamp beside the knife makes the same astigmatism for every zone: harmless here, but no astigmatism can be claimed. */
function beside({ test, tester }: Situation): string[] {
  const shift = sideBySideShift(test.sideBySide ?? 0, tester.radius);
  if (shift === 0) return [];
  return [
    `lamp and knife stand ${2 * (test.sideBySide ?? 0)} mm apart: along their line focus lies ${
      (-shift).toFixed(3)
    } mm nearer, so astigmatism below that is not the mirror's`,
  ];
}

/** Runs whose middles go one way from first to last by more than chance: four or more, all steps alike in sign. */
function drifting({ pooled }: Situation): string[] {
  const count = pooled.runs.length;
  if (count < 4 || pooled.zones.some((zone) => zone.readings.length !== count)) return [];
  const middles = pooled.runs.map((_, i) =>
    pooled.zones.reduce((sum, zone) => sum + (zone.readings[i] ?? 0), 0) / pooled.zones.length
  );
  const steps = middles.slice(1).map((v, i) => v - (middles[i] ?? 0));
  const total = (middles.at(-1) ?? 0) - (middles[0] ?? 0);
  const oneWay = steps.every((step) => step * total > 0);
  const chance = (pooled.s * Math.SQRT2) / Math.sqrt(pooled.zones.length);
  if (!oneWay || Math.abs(total) < 2 * chance) return [];
  return [
    `the runs drift one way, ${
      total.toFixed(3)
    } mm from first to last: look at the stand and the temperature`,
  ];
}

/**
 * Which further readings would settle the verdict: more runs where scatter rules, other openings where the glass between
 * them does, polishing where neither can.
 *
 * More runs shrink the scatter's part of u as the root of their number; what no window sees stays.
 *
 * @param situation  the reduced test
 * @returns one sentence, and whether more runs are what it asks for
 */
export function furtherReadings(situation: Situation): { says: string; moreRuns: boolean } {
  const { drawn, goalWaves, pooled } = situation;
  const { share, zone } = scatterOfPv(situation);
  const { u } = drawn.wavefrontPv, [low, high] = drawn.interval95.wavefrontPv;
  const fromScatter = Math.min(share, u),
    unseen = Math.sqrt(Math.max(u * u - fromScatter * fromScatter, 0));
  // from the interval's middle: the drawn value stands higher, by what noise adds to any P-V
  const allowed = Math.abs(goalWaves - (low + high) / 2) / 1.645;
  const runs = Math.max(...pooled.zones.map((z) => z.readings.length));
  const where = `the reading that matters most is zone ${zone.inner}-${zone.outer}`;
  if (pooled.runs.length < 2) {
    const says =
      `read at least two more runs, so that the scatter is measured and not assumed; ${where}`;
    return { says, moreRuns: true };
  }
  if (allowed <= unseen) {
    const says = unseen > fromScatter
      ? `more runs cannot settle it: what the glass does inside the openings is worth ${
        unseen.toFixed(3)
      } waves; use more and narrower openings`
      : `the result is too near the goal for any number of runs; polish on`;
    return { says, moreRuns: false };
  }
  const needed = Math.ceil(
    runs * (fromScatter * fromScatter) / (allowed * allowed - unseen * unseen),
  );
  if (needed > 4 * runs) {
    const says = `it would take about ${needed} runs in all to settle it; polishing is quicker`;
    return { says, moreRuns: false };
  }
  const says = `about ${Math.max(needed, runs + 1)} runs in all should settle it; ${where}`;
  return { says, moreRuns: true };
}

/** Standard deviation of P-V from the scatter alone, waves, and the zone with the largest part in it. */
function scatterOfPv(
  { operator, departures, variances, wavelength, pooled }: Situation,
): { share: number; zone: { inner: number; outer: number } } {
  const heights = times(operator.wavefront, departures);
  const high = heights.indexOf(Math.max(...heights)), low = heights.indexOf(Math.min(...heights));
  const parts = transpose(operator.wavefront).map((column, j) =>
    ((column[high] ?? 0) - (column[low] ?? 0)) ** 2 * (variances[j] ?? 0)
  );
  const most = parts.indexOf(Math.max(...parts));
  const zone = pooled.zones[most] ?? { inner: 0, outer: 0 };
  return { share: Math.sqrt(parts.reduce((a, b) => a + b, 0)) / wavelength, zone };
}

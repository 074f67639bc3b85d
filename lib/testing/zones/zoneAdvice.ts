/** What looks unlikely in a zone test, and which further readings would settle an open verdict: computed, not said. */
import { knifePosition, sideBySideShift } from "../../optics/conic.ts";
import type { Measured } from "../../quantity/measured.ts";
import { narrower, type Opening } from "./openings.ts";
import type { Tester } from "./zoneModel.ts";
import type { PooledRuns } from "./zoneRuns.ts";

/** What the cautions rest on. */
export interface Situation {
  readonly drawn: { readonly conic: Measured };
  readonly pooled: PooledRuns;
  readonly tester: Tester;
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

/** Runs of one seat whose zeros go one way from first to last by more than chance: four or more, all steps alike in sign. */
function drifting({ pooled }: Situation): string[] {
  const zeros = pooled.runZeros;
  if (pooled.groups.length !== 1 || zeros.length < 4) return [];
  const steps = zeros.slice(1).map((v, i) => v - (zeros[i] ?? 0));
  const total = (zeros.at(-1) ?? 0) - (zeros[0] ?? 0);
  const oneWay = steps.every((step) => step * total > 0);
  const chance = (pooled.s * Math.SQRT2) / Math.sqrt(pooled.zones.length);
  if (!oneWay || Math.abs(total) < 2 * chance) return [];
  return [
    `the runs drift one way, ${
      total.toFixed(3)
    } mm from first to last: look at the stand and the temperature`,
  ];
}

/** What further readings are worth. */
export interface Advice {
  /** in sentences, for the maker */
  readonly says: string;
  /** more runs through the same openings settle it */
  readonly moreRuns: boolean;
  /** narrower openings would settle it */
  readonly narrower: boolean;
}

/**
 * Which further readings would settle the verdict: each way is reckoned as if it had been done on the mean surface.
 *
 * @param settles whether so many runs in all through those openings would, drift a doubt or shown
 * @param pooled  what has been read
 * @param half    judged radius, mm
 * @param isFolded whether the openings settle nothing, however often they are read: two ways through their means part
 */
export function furtherReadings(
  settles: (openings: readonly Opening[], runs: number, isDriftShown: boolean) => boolean,
  pooled: PooledRuns,
  half: number,
  isFolded = false,
): Advice {
  const runs = Math.max(
    1,
    Math.round(
      pooled.zones.reduce((sum, { readings }) => sum + readings.length, 0) / pooled.zones.length,
    ),
  );
  if (pooled.runs.length < 2) {
    const says = "read at least two more runs, so that the scatter is measured and not assumed";
    return { says, moreRuns: true, narrower: false };
  }
  const finer = narrower(pooled.zones, half), isFiner = finer.length > pooled.zones.length;
  const edges = `edges at 0, ${finer.map(({ outer }) => Number(outer.toFixed(1))).join(", ")} mm`;
  if (isFolded) {
    const middles = pooled.zones.map(({ inner, outer }) => ((inner + outer) / 2).toFixed(0));
    const other = isFiner
      ? `narrower ones, with ${edges}`
      : `others, with edges in the middles of these, at 0, ${middles.join(", ")} mm and the rim`;
    return {
      says:
        `these openings may average a crease away, however often they are read: read 3 runs through ${other}`,
      moreRuns: false,
      narrower: true,
    };
  }
  const more = [runs + 2, 3 * runs], most = 3 * runs;
  // what the most of them, drift shown, would leave open, no fewer settle
  const canSettle = settles(pooled.zones, most, true);
  for (const isDriftShown of canSettle ? [false, true] : []) {
    for (const count of more) {
      const isMost = isDriftShown && count === most;
      if (!isMost && !settles(pooled.zones, count, isDriftShown)) continue;
      const how = isDriftShown
        ? ", every second one from the rim inward: that shows what drifts within a run"
        : "";
      const says = `about ${count} runs in all through these openings should settle it${how}`;
      return { says, moreRuns: true, narrower: false };
    }
  }
  if (isFiner) {
    for (const count of [3, 10]) {
      if (!settles(finer, count, true)) continue;
      const says =
        `more runs through these openings cannot settle it; ${count} runs through narrower ones should, with ${edges}, ` +
        `every second run from the rim inward`;
      return { says, moreRuns: false, narrower: true };
    }
  }
  const says = "the result is too near the goal for further readings to settle it; polish on";
  return { says, moreRuns: false, narrower: false };
}

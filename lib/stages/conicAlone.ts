/** The stage of the verdict: what the fit of one conic would say, beside the whole profile. */
import { readingsTable } from "../figures/blocks.ts";
import type { Shown } from "../figures/show.ts";
import { tCdf } from "../numeric/quantiles.ts";
import { judgingRadius } from "../knowledge/figureSummary.ts";
import type { Mirror } from "../knowledge/open.ts";
import { verdictOf } from "../testing/zones/verdict.ts";
import { reduceBy } from "../testing/zones/zoneMethods.ts";
import { dayOf, goalOf } from "./judge.ts";
import { daysOf, reducedDays } from "./zoneDays.ts";

/** Verdict by the fit of one conic alone, which knows no rings and no turned edge. */
export interface ConicAlone {
  readonly pv: number;
  /** of pv, from the scatter of the readings alone, waves */
  readonly u: number;
  readonly probability: number;
}

/** What a conic alone would say of a day's readings. */
export function conicAlone(mirror: Mirror, which: number): ConicAlone {
  const { found } = dayOf("conicAlone", mirror, which), { record, summary } = mirror;
  const { tester, goal } = record.settings;
  const bench = {
    half: found.judgedAperture / 2,
    radius: judgingRadius(record, summary.curve),
    source: tester.source === "fixed" ? "fixed" : "moves",
    openings: tester.openings,
  } as const;
  const departures = found.zones.map(({ mean, ideal }) => mean - ideal);
  const pvOf = (at: readonly number[]): number =>
    reduceBy(found.zones, at, bench, "conic only", goal.wavelength).wavefrontPvWaves;
  const pv = pvOf(departures), step = 1e-4;
  const moved = found.zones.map(({ readings }, j) => {
    const u = found.pooledS / Math.sqrt(readings.length);
    return u * (pvOf(departures.map((d, i) => i === j ? d + step : d)) - pv) / step;
  });
  const u = Math.hypot(...moved);
  const probability = tCdf((goalOf(mirror) - pv) / u, found.pooledDof);
  return { pv, u, probability };
}

/** Each day judged by the whole profile and by its conic alone. */
export function conicBeside(mirror: Mirror): Shown {
  const rows = reducedDays(mirror).map((day, i) => {
    const alone = conicAlone(mirror, i), { found } = day;
    return {
      cells: [
        daysOf(day),
        found.wavefrontPv.value.toFixed(3),
        found.verdict,
        alone.pv.toFixed(3),
        alone.probability.toFixed(2),
        verdictOf(alone.probability),
      ],
    };
  });
  return readingsTable("Whole profile, and conic alone", [
    { title: "Date", text: true },
    { title: "Profile, P-V", unit: "wave" },
    { title: "Verdict", text: true },
    { title: "Conic, P-V", unit: "wave" },
    { title: "P" },
    { title: "It would say", text: true },
  ], rows);
}

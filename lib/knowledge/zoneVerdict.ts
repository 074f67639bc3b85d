/** The verdict on a surface that was read by zones, and what a yes still lacks before the mirror may be sent to be coated. */
import { damageDepth, pitDepth } from "../shaping/grinding/grade.ts";
import type { ZoneFigure } from "../testing/zones/zones.ts";
import { readingsSaid, type ZoneMeasurement } from "./glassWork.ts";
import { toQ } from "./q.ts";
import type { VerdictSummary } from "./summaryTypes.ts";
import type { MirrorRecord } from "../record/types.ts";

/** What is told of a yes that has no log of polishing; it holds nothing back. */
export const NO_LOG = "polishing log";
/** Share of the hours foreseen below which polishing is not believed to be over. */
const LEAST_SHARE = 0.2;

/** The zone test's verdict with its scope, and the days and runs it rests on. */
export function zoneVerdict(found: ZoneFigure, measurement: ZoneMeasurement): VerdictSummary {
  const { scope, lacks, outsideShadow: outside } = found;
  const advice = found.advice === undefined || awaitsSeats(found) ? "" : `; ${found.advice}`;
  return {
    meetsGoal: found.verdict,
    probability: found.probabilityWithinGoal,
    why: `${found.why}; from ${readingsSaid(measurement)}${advice}`,
    scope,
    ...(lacks.length === 0 ? {} : { lacks }),
    ...(outside === undefined ? {} : {
      outsideShadow: {
        wavefrontPv: toQ(outside.wavefrontPv, ["zones.csv"]),
        interval95: outside.interval95,
        probability: outside.probability,
        meetsGoal: outside.verdict,
      },
    }),
  };
}

/** Whether most of the doubt is of diameters that were not read: no advice on the diameter that was read settles it. */
export function awaitsSeats({ wanted, budget }: Pick<ZoneFigure, "wanted" | "budget">): boolean {
  const share = budget.find(({ source }) => source === "astigmatism")?.share ?? 0;
  return wanted.length > 0 && share > 0.5;
}

/** What the hours of polishing are reckoned by. */
export interface Polishing {
  /** middle grain of a grade, um; undefined for an oxide */
  readonly grainUm: (abrasive: string) => number | undefined;
  /** deepest pits that are polished out rather than ground out, um */
  readonly pitUm: number;
  /** hours until pits of `pitUm` are gone from the edge, the middle estimate */
  readonly edgeHours: { readonly hours: number };
}

/**
 * What the glass itself lacks for a coating, whatever its figure: pits still seen, too little polishing, no log of it.
 *
 * Pits count where they were seen on the day of the last polishing or later, and no look since found none. Polishing is too
 * short below a fifth of the middle estimate of hours after the last grade ground with: its pits to its cracks, and not less
 * than the course's own pits.
 */
export function glassLacks(
  { grinding, diary }: Pick<MirrorRecord, "grinding" | "diary">,
  { grainUm, pitUm, edgeHours }: Polishing,
): readonly string[] {
  const polishing = grinding.filter(({ abrasive }) => grainUm(abrasive) === undefined);
  const last = polishing.flatMap(({ date }) => date ?? []).sort().at(-1) ?? "";
  const looks = diary.filter(({ what, date }) => /pits$/.test(what) && date >= last)
    .toSorted((a, b) => a.date < b.date ? -1 : a.date > b.date ? 1 : 0);
  const seen = looks.at(-1), lacks: string[] = [];
  if (seen?.what === "pits" && seen.amount !== 0) lacks.push("pits");
  if (polishing.length === 0) return [...lacks, NO_LOG];
  const ground = grinding.findLastIndex(({ abrasive }) => grainUm(abrasive) !== undefined);
  const hours = grinding.slice(ground + 1).reduce((sum, { minutes }) => sum + minutes, 0) / 60;
  const grain = grainUm(grinding[ground]?.abrasive ?? "");
  const depth = grain === undefined
    ? pitUm
    : (pitDepth({ ds50Um: grain }).least + damageDepth({ ds50Um: grain }).most) / 2;
  const wanted = edgeHours.hours * Math.max(depth, pitUm) / pitUm;
  return hours < LEAST_SHARE * wanted ? [...lacks, "polishing"] : lacks;
}

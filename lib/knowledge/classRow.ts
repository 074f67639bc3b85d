/** One mirror of a class in one row: where it is, what is known, what comes next. */
import { FREE_OF_RIM, type Method, methods } from "../measuring/methods/methods.ts";
import { misconceptionFromRatio } from "../measuring/misconceptions.ts";
import { roughSizeUm } from "../shaping/grinding/grindingLog.ts";
import { chargeOf } from "../shaping/grinding/ladder.ts";
import { pitchNeeded, usualLap } from "../shaping/lap/lap.ts";
import { describe } from "../record/errors.ts";
import { AFTER_FIGURE } from "./nextStepLater.ts";
import { COARSE_UM, grainUm } from "./rules.ts";
import { TABLES } from "../record/schema.ts";
import { knownQuantities, QUANTITIES } from "./quantities.ts";
import type { Q, Summary } from "./summaryTypes.ts";
import { withoutStrokes } from "./usualStrokes.ts";
import type { MirrorRecord, Row } from "../record/types.ts";

/** A value with its standard uncertainty, mm unless its name says otherwise. */
export interface Known {
  /** the estimate */
  readonly value: number;
  /** standard uncertainty, in the same unit */
  readonly u: number;
}

/** A mirror of the class; what is not known is absent. Lengths mm. */
export interface ClassRow {
  /** name of the record's folder */
  readonly record: string;
  /** of the record */
  readonly title: string;
  /** diameter of the disc */
  readonly aperture: number;
  /** planned */
  readonly focalLength: number;
  /** width of the bevel on the face; 0 where it was not written */
  readonly bevel: number;
  /** what the next step belongs to: "fine grinding" */
  readonly stage: string;
  /** the next step */
  readonly do: string;
  /** when the next step is done */
  readonly until: string;
  /** what to mind before the next step */
  readonly caution: string;
  /** sagitta now and wanted */
  readonly sagitta?: Known;
  /** by the plan */
  readonly targetSagitta: number;
  /** of grinding from the last reading on, min; absent where it cannot be foreseen */
  readonly minutesToTarget?: number;
  /** still at the rough grades and too deep by this, um */
  readonly tooDeepUm?: number;
  /** what lies on its bench: coarse grains, or finer ones, pitch and oxide; absent where no glass is rubbed */
  readonly works?: "coarse" | "fine";
  /** the reader's readings wanted next: of the curve, of the zones */
  readonly measure?: "curve" | "zones";
  /** focal length by all methods together, and by each method alone */
  readonly focal?: Known;
  /** absent for a method without readings */
  readonly focalBy: Readonly<Partial<Record<Method, Known>>>;
  /** waves of wavefront, peak to valley */
  readonly wavefrontPv?: Known;
  /** the verdict on the figure */
  readonly meetsGoal?: "yes" | "no" | "not shown";
  /** other quantities that are told of each mirror of a class, by their titles */
  readonly more?: Readonly<Record<string, Known>>;
  /** every quantity of the one list that is known, by its title */
  readonly quantities: Readonly<Record<string, Q>>;
  /** of meeting the goal, 0 to 1 */
  readonly probability?: number;
  /** nothing is left to do to the glass */
  readonly done: boolean;
  /** sentences on what looks unlikely in the record */
  readonly warnings: readonly string[];
  /** a slip that a ratio of its own readings names, in a sentence */
  readonly slip?: string;
  /** rows of all tables */
  readonly readings: number;
  /** minutes in the log, all of them */
  readonly minutes: number;
  /** of the class's stock, about, g: grades by the minutes of the log, pitch by the laps poured */
  readonly used: Readonly<Record<string, number>>;
  /** ISO date of the latest row of any table */
  readonly lastDay?: string;
  /** how its maker wants lengths told; absent: in mm */
  readonly shownIn?: "inch";
  /** photographs that were not looked at here, for they take a second each */
  readonly photosNotRead: number;
}

function known(q: Q | undefined, share = 1): Known | undefined {
  return q === undefined ? undefined : { value: q.value * share, u: (q.u ?? 0) * share };
}

function given<K extends string, V>(key: K, value: V | undefined): { readonly [P in K]?: V } {
  return value === undefined ? {} : { [key]: value } as { readonly [P in K]?: V };
}

/** The latest day that any table tells of. */
function lastDayOf(record: MirrorRecord): string | undefined {
  let last: string | undefined;
  for (const { date } of TABLES.flatMap((table): readonly Row[] => record[table])) {
    if (date !== undefined && (last === undefined || date > last)) last = date;
  }
  return last;
}

function focalBy(summary: Summary): ClassRow["focalBy"] {
  const each = (summary.curve?.estimates ?? []).map(({ method, radius }) =>
    [method, { value: radius.value / 2, u: (radius.u ?? 0) / 2 }] as const
  );
  return Object.fromEntries(each);
}

/** Is the log still at the grades that dig the hollow? */
function isRough({ grinding }: MirrorRecord): boolean {
  return (grainUm(grinding.at(-1)?.abrasive ?? "") ?? 0) >= roughSizeUm;
}

/** Stages in which the last grade, or the stone, is still on the bench. */
const AT_GRAINS: readonly string[] = [
  "blanks",
  "rough grinding",
  "measuring",
  "correcting",
  "fine grinding",
];

function worksWith({ grinding }: MirrorRecord, stage: string): ClassRow["works"] {
  if (["lap", "polishing", "figuring"].includes(stage)) return "fine";
  if (!AT_GRAINS.includes(stage)) return undefined;
  const last = grinding.at(-1)?.abrasive, grain = last === undefined ? undefined : grainUm(last);
  if (last !== undefined && grain === undefined) return "fine";
  return (grain ?? COARSE_UM) >= COARSE_UM ? "coarse" : "fine";
}

function measureNext(summary: Summary, rough: boolean): ClassRow["measure"] {
  const { stage } = summary.nextStep;
  if (stage === "zone test") return "zones";
  if (stage === "measuring") return "curve";
  return rough && stage !== "fine grinding" && summary.grinding !== undefined ? "curve" : undefined;
}

/**
 * A forgotten bevel among a mirror's own readings: what rests on the rim against what does not.
 *
 * @param by     focal length by each method
 * @param disc   aperture, and the bevel that the class's discs have, mm
 * @returns a sentence, or nothing where no ratio gives it away
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const by = { leaves: { value: 1229, u: 3 }, "sun distance": { value: 1197, u: 1 } };
 * assert.match(bevelSlip(by, { aperture: 150, bevel: 1 }) ?? "", /1\.027 times.*bevel/);
 * ```
 */
export function bevelSlip(
  by: ClassRow["focalBy"],
  disc: { readonly aperture: number; readonly bevel: number },
): string | undefined {
  const onRim = methods.find(({ name, restsOnRim }) => restsOnRim === true && by[name]);
  const free = FREE_OF_RIM.find(({ name }) => by[name] !== undefined);
  const long = onRim && by[onRim.name], true_ = free && by[free.name];
  if (onRim === undefined || long === undefined || true_ === undefined) return undefined;
  const ratio = long.value / true_.value;
  const found = misconceptionFromRatio(ratio, { method: onRim.name, ...disc });
  if (found?.name !== "bevel forgotten") return undefined;
  return `f by ${onRim.name} is ${ratio.toFixed(3)} times f by the ${
    free?.page?.name ?? free?.name
  }: ${found.explains}. ` + found.findOut;
}

/** The quantities of the one list that a class tells beside its own columns. */
function more(summary: Summary): ClassRow["more"] {
  const told = knownQuantities(summary, "class").map(({ title, value }) =>
    [title, { value: value.value, u: value.u ?? 0 }] as const
  );
  return told.length === 0 ? undefined : Object.fromEntries(told);
}

/** What a mirror has taken of the stock so far: charges of the middle length, laps as they are usually poured. */
function usedUp({ grinding, diary, settings: { aperture } }: MirrorRecord): ClassRow["used"] {
  const used: Record<string, number> = {};
  for (const { abrasive, minutes } of grinding) {
    const ds50Um = grainUm(abrasive);
    if (ds50Um === undefined) continue;
    const { grams, life } = chargeOf({ ds50Um }, aperture);
    used[abrasive] = (used[abrasive] ?? 0) + grams * minutes / ((life.least + life.most) / 2);
  }
  const laps = diary.filter(({ what }) => what === "lap poured").length;
  const melt = laps === 0 ? undefined : pitchNeeded(usualLap(aperture)).melt;
  if (melt !== undefined) used["pitch"] = laps * (melt.least + melt.most) / 2;
  return used;
}

/** The row of a record that was read. */
export function classRow(record: MirrorRecord, summary: Summary): ClassRow {
  const { settings } = record, { curve, grinding, verdict, nextStep: next, figure } = summary;
  const rough = isRough(record);
  const isMended = rough ? next.stage !== "fine grinding" : next.stage === "correcting";
  const tooDeep = isMended ? grinding?.overshoot?.value : undefined;
  return {
    record: record.name,
    title: settings.title,
    aperture: settings.aperture,
    focalLength: settings.focalLength,
    bevel: settings.bevel,
    stage: next.stage,
    do: withoutStrokes(next.do),
    until: next.until,
    caution: next.caution,
    ...given("sagitta", known(rough ? grinding?.sagittaNow ?? curve?.sagitta : curve?.sagitta)),
    targetSagitta: summary.design.sagitta.value,
    ...given("minutesToTarget", rough ? grinding?.minutesToTarget?.value : undefined),
    ...given("tooDeepUm", tooDeep),
    ...given("works", worksWith(record, next.stage)),
    ...given("measure", measureNext(summary, rough)),
    ...given("focal", known(curve?.focalLength)),
    focalBy: focalBy(summary),
    ...given("wavefrontPv", known(figure?.zones?.wavefrontPv)),
    ...given("more", more(summary)),
    quantities: Object.fromEntries(
      QUANTITIES.flatMap(({ title, of }) => {
        const value = of(summary);
        return value === undefined ? [] : [[title, value] as const];
      }),
    ),
    ...given("meetsGoal", verdict?.meetsGoal),
    ...given("probability", verdict?.probability),
    done: AFTER_FIGURE.includes(next.stage),
    warnings: summary.warnings.map(describe),
    ...given("slip", curve?.mistake?.what),
    readings: TABLES.reduce((sum, table) => sum + record[table].length, 0),
    minutes: record.grinding.reduce((sum, { minutes }) => sum + minutes, 0),
    used: usedUp(record),
    ...given("lastDay", lastDayOf(record)),
    ...(settings.shownIn === "inch" ? { shownIn: "inch" as const } : {}),
    photosNotRead: record.ronchi.length,
  };
}

/**
 * Whether a class is told in inches: where every mirror of it that could be read is.
 *
 * @param rows  of the class
 */
export function isInInches(rows: readonly Pick<ClassRow, "shownIn">[]): boolean {
  return rows.length > 0 && rows.every(({ shownIn }) => shownIn === "inch");
}

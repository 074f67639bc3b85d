/** A class in plain lines, as `deno task check` prints it for a folder of records. */
import { type Attention, attention } from "./classAttention.ts";
import type { ClassOfRecords } from "./classOfRecords.ts";
import { QUANTITIES } from "./quantities.ts";
import { tellQ } from "./tellQ.ts";
import { type ClassRow, isInInches, type Known } from "./classRow.ts";
import { type ClassSpread, classSpread } from "./classSpread.ts";
import { mixedRoom } from "./classRoom.ts";
import { mindOfStages } from "./nextStepCautions.ts";
import { inInches } from "../quantity/inches.ts";
import { decision } from "../record/tables.ts";

/** More lines than this of a list are counted, not printed. */
const most = 40;

const INCH = 25.4;

/** Numbers of a column of lengths, its unit in the head: with a digit or two more where they are inches. */
function length(mm: number, digits: number, inch: boolean): string {
  return inch ? (mm / INCH).toFixed(digits + 1) : mm.toFixed(digits);
}

const plusMinus = (known: Known | undefined, digits: number, inch: boolean): string =>
  known === undefined
    ? ""
    : `${length(known.value, digits, inch)} ± ${length(known.u, digits, inch)}`;

/** What a leader looks for in a row, in a word or two. */
export function markOf(row: ClassRow): string {
  if (row.slip !== undefined) return "slip";
  const marks = [
    row.tooDeepUm === undefined ? "" : `${row.tooDeepUm.toFixed(0)} µm too deep`,
    row.measure === undefined ? "" : `measure the ${row.measure}`,
    row.done ? "done" : row.meetsGoal === undefined ? "" : `goal: ${row.meetsGoal}`,
    row.warnings.length === 0 ? "" : `${row.warnings.length} to look at`,
    row.photosNotRead > 0 && row.wavefrontPv === undefined ? "photographs not read here" : "",
  ];
  return marks.filter((mark) => mark !== "").join(", ");
}

/** Titles of the quantities that the class tells beside its own columns. */
const others = QUANTITIES.filter(({ by }) => by.includes("class")).map(({ title }) => title);

const headsIn = (unit: "mm" | "in"): readonly string[] => [
  ...["mirror", "next", `f, ${unit}`, `sagitta, ${unit}`, "wanted"],
  ...others,
  ...["last day", "mark"],
];

function cellsOf(row: ClassRow, inch: boolean): string[] {
  return [
    row.title.length > 30 ? `${row.title.slice(0, 29)}…` : row.title,
    row.stage,
    plusMinus(row.focal, 1, inch),
    plusMinus(row.sagitta, 3, inch),
    length(row.targetSagitta, 3, inch),
    ...others.map((title) => {
      const known = row.more?.[title];
      return known === undefined ? "" : tellQ({ ...known, unit: "" });
    }),
    row.lastDay ?? "",
    inch ? inInches(markOf(row)) : markOf(row),
  ];
}

function tableLines(rows: readonly ClassRow[], inch: boolean): string[] {
  const heads = headsIn(inch ? "in" : "mm");
  const cells = [[...heads], ...rows.map((row) => cellsOf(row, inch))];
  const widths = heads.map((_, i) => Math.max(...cells.map((row) => row[i]?.length ?? 0)));
  return cells.map((row) => row.map((text, i) => text.padEnd(widths[i] ?? 0)).join("  ").trimEnd());
}

function spreadLines(spread: ClassSpread | undefined): string[] {
  if (spread === undefined) return [];
  const { count, mean, sd, uOfMean, ownU, betweenMakers, farthest, rows } = spread;
  const far = farthest === undefined ? undefined : rows[farthest.index];
  return [
    "",
    `Focal length by leaves, ${count} mirrors of ${spread.aperture} mm planned at ${spread.focalLength} mm`,
    `  mean ${mean.toFixed(1)} mm, known to ± ${uOfMean.toFixed(1)} mm`,
    `  between makers ${sd.toFixed(1)} mm, own u ${ownU.toFixed(1)} mm: ${
      betweenMakers.toFixed(1)
    } mm is left for the makers`,
    ...(far === undefined || farthest === undefined ? [] : [
      `  farthest: ${far.title}, ${farthest.deviations.toFixed(2)} deviations off (limit ${
        farthest.limit.toFixed(2)
      })${farthest.tooFar ? ", too far to be one of the heap" : ", which a test would keep"}`,
    ]),
  ];
}

function attentionLines(list: readonly Attention[]): string[] {
  const shown = list.slice(0, most);
  const left = list.length - shown.length;
  return [
    "",
    "Whom to go to, and why",
    ...shown.map(({ title, reason, why, do: step, idleDays }, i) =>
      `  ${String(i + 1).padStart(2)} ${reason.padEnd(16)} ${title}: ${why}${
        step === undefined || why.includes(step) ? "" : ` ${step}`
      }${reason === "idle" && idleDays !== undefined ? ` (${idleDays} days idle)` : ""}`
    ),
    ...(left > 0 ? [`  and ${left} more`] : []),
  ];
}

/** What is to be minded before the next steps: above them, each sentence once, with the stages it goes with. */
function mindLines(rows: readonly ClassRow[]): string[] {
  const mind = mindOfStages(rows.map(({ stage }) => stage)), room = mixedRoom(rows);
  if (mind.length === 0) return [];
  return [
    "Mind, before the next step",
    ...mind.flatMap(({ stages, short }) => [`  ${stages.join(", ")}`, `    ${short}`]),
    ...(room === undefined ? [] : ["  the room", `    ${room.said}`]),
    "",
  ];
}

/**
 * A class in plain lines: the table, the records that cannot be read, the spread, and whom to go to.
 *
 * @param many  a class
 * @returns lines without colour codes, ready to print
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(tellClass({ name: "ours", rows: [], unreadable: [] })[0], "ours: 0 mirrors");
 * ```
 */
export function tellClass(many: ClassOfRecords): string[] {
  const { rows, unreadable, others = [], name, today } = many;
  const shown = rows.slice(0, Math.max(most, 60));
  const left = rows.length - shown.length, inch = isInInches(rows);
  const told = (lines: readonly string[]): readonly string[] => inch ? lines.map(inInches) : lines;
  return [
    `${name}: ${rows.length} mirror${rows.length === 1 ? "" : "s"}${
      today === undefined ? "" : `, latest day ${today}`
    }`,
    "",
    ...mindLines(rows),
    ...tableLines(shown, inch),
    ...(left > 0 ? [`and ${left} more; --json FILE writes them all`] : []),
    ...(unreadable.length === 0 ? [] : ["", "Cannot be read; the others can"]),
    ...unreadable.slice(0, most).flatMap(({ record, why, refusals }) => [
      `  ${record}: ${why[0]}`,
      ...(refusals > 1 ? [`    and ${refusals - 1} more; deno task check tells all`] : []),
    ]),
    ...(others.length === 0 ? [] : [
      "",
      `No record: ${
        others.slice(0, most).map(({ folder, what }) => `${folder} (${what})`).join("; ")
      }`,
    ]),
    ...(unreadable.length > most ? [`  and ${unreadable.length - most} more`] : []),
    ...told(spreadLines(classSpread(many, "leaves"))),
    ...told(attentionLines(attention(many, decision("forecast_soon")))),
  ];
}

/** Sheets to write on by hand: the tally of strokes, a sheet for each table of a record, the safety sheet. */
import { flowToPrint, heading, paragraph, type Piece, type RuledColumn, ruledRow } from "./flow.ts";
import type { Area, Printable } from "./printable.ts";

/** A column of a table of the record. */
export interface SheetColumn {
  /** as it stands in the file, with its unit: "go_mm" */
  readonly head: string;
  readonly meaning: string;
  readonly example: string;
  readonly required: boolean;
}

/** How many blank rows fill a sheet. */
function blanks(area: Area, used: number, tall: number): number {
  return Math.max(8, Math.floor((area.height - used) / tall));
}

/** Notes want room, numbers little. */
function shareOf({ head }: SheetColumn): number {
  if (head === "note") return 2;
  return ["position", "abrasive", "photo", "date"].includes(head) ? 1.4 : 1.1;
}

/**
 * A sheet for one table: its columns as the file has them, the example in grey, rows to fill in.
 *
 * @param table    "sagitta"
 * @param columns  from the record's schema
 * @param mind     what to mind before the readings, on top of the sheet
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { papers } from "./printable.ts";
 * const column = { head: "distance_mm", meaning: "to the image", example: "1199", required: false };
 * assert.deepEqual(papers.map((paper) => recordSheet("sun", [column]).sheets(paper).length), [1, 1]);
 * ```
 */
export function recordSheet(
  table: string,
  columns: readonly SheetColumn[],
  mind = "",
): Printable {
  const ruled: RuledColumn[] = columns.map((column) => ({
    head: column.head,
    share: shareOf(column),
  }));
  const needed = columns.some(({ required }) => required);
  const optional = columns.filter(({ required }) => !required).map(({ head }) => head);
  const meanings = columns.map(({ head, meaning }) => `${head}: ${meaning.replaceAll("`", "")}`);
  return flowToPrint({
    name: `record-${table}`,
    title: `${table}.csv`,
    mind,
    fill: ["bench", "sheet"],
    use:
      `Write on the spot, never tidy up; what was wrong stays, with a note. Type it into ${table}.csv with the same heads; a column you do not use is left out whole.${
        needed ? ` May be left out: ${optional.join(", ")}.` : ""
      }`,
    finding: `A sheet for ${table}.csv with the columns ${
      columns.map(({ head }) => head).join(", ")
    }.`,
    pieces: (area) => {
      const heads = ruled.map(({ head }) => head);
      const told = [paragraph(`${meanings.join(". ")}.`, area.width, { size: 2.4 })];
      const top = [
        ...told,
        ruledRow(ruled, area.width, heads, { bold: true, size: 2.6 }),
        ruledRow(ruled, area.width, columns.map(({ example }) => example), { grey: true }),
      ];
      const used = top.reduce((sum, { height }) => sum + height, 26) + roomOf(mind, area);
      return [
        ...top,
        ...Array.from({ length: blanks(area, used, 8) }, () => ruledRow(ruled, area.width, [])),
      ];
    },
  });
}

/** What the caution on top takes of a sheet, mm. */
function roomOf(mind: string, area: Area): number {
  return mind === "" ? 0 : paragraph(`Mind first: ${mind}`, area.width, { bold: true }).height;
}

/**
 * The tally of strokes, charge by charge: a box for each fifty.
 *
 * @param mind  what to mind before the first stroke, on top of the sheet
 */
export function strokeTally(mind = ""): Printable {
  const columns: RuledColumn[] = [
    { head: "charge", share: 0.8 },
    { head: "grade", share: 1 },
    { head: "on top", share: 1 },
    { head: "begun", share: 1 },
    { head: "ended", share: 1 },
    ...[50, 100, 150, 200, 250, 300].map((count) => ({ head: String(count), share: 0.55 })),
    { head: "turned", share: 0.9 },
    { head: "note", share: 2 },
  ];
  return flowToPrint({
    name: "stroke-tally",
    title: "Stroke tally",
    mind,
    fill: ["bench", "date"],
    use:
      "Cross a box each fifty strokes. On top: M for the mirror, T for the tool. Turned: a tick when the upper disc has gone round, and you round the lower one. Copy the minutes and strokes into grinding.csv at each pause.",
    finding: "A sheet to count strokes on, charge by charge, with a box for each fifty.",
    pieces: (area) => [
      ruledRow(columns, area.width, columns.map(({ head }) => head), { bold: true, size: 2.4 }),
      ...Array.from(
        { length: blanks(area, 40 + roomOf(mind, area), 8) },
        (_, i) => ruledRow(columns, area.width, [String(i + 1)]),
      ),
    ],
  });
}

/** The cautions of one stage, as its lesson has them. */
export interface StageCautions {
  readonly stage: string;
  readonly cautions: readonly string[];
}

/** What stands above every list of cautions. */
export const whoDecides =
  "The rules of your country, your school and the makers’ data sheets come before this sheet. Where it says leader, adult or qualified, " +
  "that person is there from beginning to end. The sentences hang on the wall once. In the table each learner puts her initials (no names) " +
  "under her bench when a stage’s sentences were read and shown, and the adult who showed it signs the line.";

/** Benches beside one another in a table of initials. */
const BESIDE = 12;

/** A line a stage, a box a bench, the adult’s at the end; more benches than lie beside one another go into a further table. */
export function initials(
  stages: readonly StageCautions[],
  benches: number,
  width: number,
): readonly Piece[] {
  const tables = Array.from({ length: Math.ceil(benches / BESIDE) }, (_, i) =>
    Array.from(
      { length: Math.min(BESIDE, benches - BESIDE * i) },
      (_, k) => String(BESIDE * i + k + 1),
    ));
  return tables.flatMap((numbers) => {
    const columns: RuledColumn[] = [
      { head: "stage", share: 3.6 },
      ...numbers.map((head) => ({ head, share: 1 })),
      { head: "adult", share: 1.3 },
    ];
    return [
      heading("Read and shown: initials, bench by bench"),
      ruledRow(columns, width, columns.map(({ head }) => head), { bold: true, size: 2.4 }),
      ...stages.map(({ stage }) => ruledRow(columns, width, [stage], { size: 2.4 })),
    ];
  });
}

/** The cautions of every stage, for the wall, and one table of initials for all of them. */
export function safetySheet(stages: readonly StageCautions[]): Printable {
  return flowToPrint({
    name: "safety",
    title: "Safety, stage by stage",
    use: whoDecides,
    finding: `Cautions of ${stages.length} stages, and a table of initials.`,
    pieces: ({ width }) => [
      ...stages.flatMap(({ stage, cautions }) => [
        heading(stage),
        ...cautions.map((caution) => paragraph(caution, width)),
      ]),
      ...initials(stages, BESIDE, width),
    ],
  });
}

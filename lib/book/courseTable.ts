/** What each stage of the course does: teaches, computes, takes readings, decides, lives, cautions; each with its page and line. */
import { course, type Stage } from "../lessons/course.ts";
import { type Cell, cellTags, isCode } from "./notebook.ts";

/** What a stage may do. */
export type Doing = "teaches" | "computes" | "takes readings" | "decides" | "live" | "cautions";

/** All of it, in the order of the columns. */
export const DOINGS: readonly Doing[] = [
  "teaches",
  "computes",
  "takes readings",
  "decides",
  "live",
  "cautions",
];

/** One cell of the table. */
export interface Place {
  /** line of the notebook's file where the piece begins; absent where the stage does no such thing */
  readonly line?: number;
  /** how many such pieces the page has */
  readonly count: number;
  /** where it does not, why it cannot */
  readonly why?: string;
}

/** A row of the table. */
export interface StageRow {
  readonly stage: Stage;
  readonly places: Readonly<Record<Doing, Place>>;
}

/** Where a stage does no such thing, and why. */
const CANNOT: Readonly<Record<string, Readonly<Partial<Record<Doing, string>>>>> = {
  "open-record": {
    "takes readings": "it shows what all the tables say, and writes none",
    "live": "the page is the reader’s own record: its figures grow with her readings",
  },
  "choose-mirror": {
    "takes readings": "nothing is made yet: its numbers are the plan in mirror.yaml",
  },
  "prepare-discs": {
    "takes readings": "thickness and bevel are keys of mirror.yaml, no table",
    "live": "what moves, the bevel against the radius, is a slider of the page of the curve",
  },
  "place-flat": { "takes readings": "tube, flat and focuser are keys of mirror.yaml, no table" },
  "carry-weight": { "takes readings": "parts and bearings are keys of mirror.yaml, no table" },
  "compare-class": {
    "takes readings": "it reads the records of a class, each from its own stages",
  },
};

/** The sciences of the kit: what imports one of them computes. */
const SCIENCE =
  /from "first-mirror\/(quantity|numeric|optics|measuring|shaping|testing|telescope|coating|sky)"/;
/** Prose that belongs to every page alike teaches nothing of its own. */
const FRAME = /^## (Your |Do it|Check yourself)/m;

function isDoing(doing: Doing, cell: Cell): boolean {
  const tags = cellTags(cell);
  switch (doing) {
    case "teaches":
      return !isCode(cell) && /^## /m.test(cell.source) && !FRAME.test(cell.source);
    case "computes":
      return isCode(cell) && SCIENCE.test(cell.source);
    case "takes readings":
      return isCode(cell) && /\btoday\(yours\b/.test(cell.source);
    case "decides":
      return tags.includes("decide");
    case "live":
      return isCode(cell) && /\bshow\(live\("/.test(cell.source);
    case "cautions":
      return tags.includes("caution");
  }
}

/**
 * The row of one notebook.
 *
 * @param stage  of the course
 * @param cells  of its notebook
 * @param text   the notebook's file, for the lines
 */
export function stageRow(stage: Stage, cells: readonly Cell[], text: string): StageRow {
  const lines = text.split("\n");
  const lineOf = ({ id }: Cell): number =>
    lines.findIndex((line) => line.includes(`"id": "${id}"`)) + 1;
  const place = (doing: Doing): Place => {
    const found = cells.filter((cell) => isDoing(doing, cell)), first = found[0];
    // where the reader's own begins, the page puts a form for each table that the stage writes
    const count = doing === "takes readings" ? stage.tables?.length ?? 0 : found.length;
    if (first !== undefined && count > 0) return { line: lineOf(first), count };
    const why = CANNOT[stage.name]?.[doing];
    return { count: 0, ...(why === undefined ? {} : { why }) };
  };
  return {
    stage,
    places: {
      "teaches": place("teaches"),
      "computes": place("computes"),
      "takes readings": place("takes readings"),
      "decides": place("decides"),
      "live": place("live"),
      "cautions": place("cautions"),
    },
  };
}

/** Reasons that stand for a stage which does it after all, or for no stage at all. */
export function idleReasons(rows: readonly StageRow[]): string[] {
  return Object.entries(CANNOT).flatMap(([name, reasons]) =>
    (Object.keys(reasons) as Doing[]).filter((doing) =>
      rows.find(({ stage }) => stage.name === name)?.places[doing].line !== undefined ||
      !course.some((stage) => stage.name === name)
    ).map((doing) => `${name}: ${doing}`)
  );
}

/** The table in plain lines: "04:123 (3)" is page 04, line 123 of its file, three such pieces. */
export function tableLines(rows: readonly StageRow[]): string[] {
  const cells = rows.map(({ stage, places }) => [
    stage.stem,
    ...DOINGS.map((doing) => {
      const { line, count, why } = places[doing];
      return line !== undefined
        ? `${stage.stem.slice(0, 2)}:${line} (${count})`
        : why === undefined
        ? "EMPTY"
        : "cannot";
    }),
  ]);
  const head = ["stage", ...DOINGS], all = [head, ...cells];
  const widths = head.map((_, i) => Math.max(...all.map((row) => (row[i] ?? "").length)));
  const reasons = rows.flatMap(({ stage, places }) =>
    DOINGS.flatMap((doing) => {
      const { why } = places[doing];
      return why === undefined ? [] : [`${stage.stem}, ${doing}: ${why}.`];
    })
  );
  return [
    ...all.map((row) => row.map((cell, i) => cell.padEnd(widths[i] ?? 0)).join("  ").trimEnd()),
    ...(reasons.length === 0 ? [] : ["", ...reasons]),
  ];
}

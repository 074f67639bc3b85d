/** What a bench's page needs to know: the next step with its cautions, the tables as they stand, the last entries. */
import { join } from "node:path";
import { mindOfStages } from "../knowledge/nextStepCautions.ts";
import { LEAF_SETS } from "../measuring/stacks.ts";
import { clean } from "../record/clean.ts";
import { type CsvTable, splitTable } from "../record/csv.ts";
import { Findings, RecordRefused } from "../record/errors.ts";
import { readRecord } from "../record/readRecord.ts";
import type { MirrorRecord } from "../record/types.ts";
import { formHtml } from "../forms/formHtml.ts";
import { tableForm } from "../forms/tableForm.ts";
import { decodeText, LARGEST } from "../record/files.ts";
import { freshColumns } from "../record/freshTable.ts";
import { columnsOf, type TableName, TABLES, usualHeader, wideZones } from "../record/schema.ts";
import { readSettings } from "../record/settings.ts";
import { abrasives, fact } from "../record/tables.ts";
import { type HandStage, handStageOf, handStages } from "./benchSteps.ts";
import { type HistoryEntry, knownIds } from "./history.ts";
import { isFolder, type Room, type Seat } from "./room.ts";

/** A table as the page needs it. */
interface TableFacts {
  /** the file's own columns; of a table that is not there yet, those of a fresh one */
  readonly columns: readonly string[];
  readonly rows: number;
  /** cells of the last row, in the order of the columns */
  readonly last?: readonly string[];
}

/** One entry that may be taken back. */
interface EntryFacts {
  readonly id: string;
  readonly at: string;
  readonly table: string;
  /** the row's cells, without what is empty */
  readonly words: string;
  readonly state: "stands" | "taken back";
}

/** Everything of a bench. */
export interface BenchFacts {
  readonly folder: string;
  readonly name: string;
  readonly state: string;
  readonly why?: string;
  readonly today: string;
  readonly next?: {
    readonly stage: string;
    readonly do: string;
    readonly until: string;
    readonly why: string;
    readonly cautions: readonly string[];
  };
  /** stages with work of the hands, and the one that the next step belongs to */
  readonly work: { readonly stages: readonly HandStage[]; readonly now?: string };
  readonly depth?: { readonly value: number; readonly u: number; readonly wanted: number };
  readonly minutes: number;
  readonly tables: Readonly<Record<string, TableFacts>>;
  /** a form for each table, as markup; none where mirror.yaml cannot be read */
  readonly forms: Readonly<Record<string, string>>;
  readonly entries: readonly EntryFacts[];
  readonly mask: readonly { readonly inner: number; readonly outer: number }[];
  readonly aperture?: number;
  readonly leaves: readonly number[];
  readonly grades: readonly string[];
  readonly turning: {
    readonly strokes: number;
    readonly upper: number;
    readonly lower: number;
    readonly pace: number;
  };
}

/** So many entries are shown. */
const SHOWN = 12;

async function textOf(folder: string, file: string, largest: number): Promise<string | undefined> {
  const path = join(folder, file), there = await Deno.lstat(path).catch(() => undefined);
  if (there?.isFile !== true || there.size > largest) return undefined;
  const bytes = await Deno.readFile(path).catch(() => undefined);
  return bytes === undefined ? undefined : decodeText(bytes, file, new Findings());
}

async function tableOf(folder: string, table: TableName): Promise<CsvTable | undefined> {
  const text = await textOf(folder, `${table}.csv`, LARGEST.table);
  return text === undefined ? undefined : splitTable(text, `${table}.csv`, new Findings());
}

/** Columns that a table has which is not there yet, as the page begins it. */
function columnsToBegin(table: TableName, openings: number): readonly string[] {
  const isWide = table === "zones" && openings > 0;
  const each = Array.from({ length: openings }, (_, at) => at + 1);
  return freshColumns(table, isWide ? wideZones(each) : columnsOf(table)).map(usualHeader);
}

function entriesOf(history: readonly HistoryEntry[]): EntryFacts[] {
  const known = knownIds(history);
  return [...known.values()].slice(-SHOWN).reverse().map(({ entry, state }) => ({
    id: entry.id,
    at: entry.at,
    table: entry.table,
    words: wordsOf(entry),
    state,
  }));
}

/** An entry's cells, without what is empty, as the page shows it. */
export function wordsOf({ text, lines, act }: HistoryEntry): string {
  if (act === "photo") return clean(text);
  const rows = text.split(/\r\n|\r|\n/).filter((line) => line !== "").slice(-lines.length);
  const cells = rows.map((row) =>
    row.split(/[,;\t](?=(?:[^"]*"[^"]*")*[^"]*$)/)
      .map((cell) => cell.replace(/^"|"$/g, "").replaceAll('""', '"')).filter((cell) => cell !== "")
      .join(", ")
  );
  return clean(cells.join("; "));
}

/** The record as far as it can be read; nothing where mirror.yaml cannot. */
async function recordOf(path: string, today: string): Promise<MirrorRecord | undefined> {
  let tables = new Set<string>();
  for (let attempt = 0; attempt < 2; attempt++) {
    try {
      return await readRecord(path, today, undefined, { photos: true, tables });
    } catch (error) {
      if (!(error instanceof RecordRefused)) throw error;
      tables = new Set(error.refusals.map(({ file }) => file));
    }
  }
  return undefined;
}

/** The forms of the pages that compute, for the tables of this bench as they stand. */
async function formsOf(path: string, today: string): Promise<Record<string, string>> {
  const record = await recordOf(path, today).catch(() => undefined);
  if (record === undefined) return {};
  const forms: Record<string, string> = {};
  for (const table of TABLES) {
    if (table === "ronchi") continue; // photographs have a view of their own
    const text = await textOf(path, `${table}.csv`, LARGEST.table);
    try {
      forms[table] = formHtml(tableForm(table, text, record, today), `form-${table}`).markup;
    } catch { /* a table that cannot be read has no form before it is mended */ }
  }
  return forms;
}

/** Reads what the page of a bench shows. */
export async function benchFacts(room: Room, seat: Seat): Promise<BenchFacts> {
  await room.settled(seat.folder);
  const { folder } = seat, path = join(room.folder, folder);
  const line = room.now().benches.find((one) => one.folder === folder);
  const member = room.seats.get(folder)?.member;
  const row = member === undefined
    ? undefined
    : "row" in member
    ? member.row
    : member.unreadable.rest;
  const isOpen = isFolder(seat.kind);
  const settingsText = isOpen ? await textOf(path, "mirror.yaml", LARGEST.settings) : undefined;
  const settings = settingsText === undefined
    ? undefined
    : readSettings(settingsText, folder, new Findings())?.settings;
  const mask = settings?.mask ?? [];
  const tables: Record<string, TableFacts> = {};
  for (const table of TABLES) {
    const there = isOpen ? await tableOf(path, table) : undefined, last = there?.rows.at(-1);
    tables[table] = {
      columns: there?.header.cells ?? columnsToBegin(table, mask.length),
      rows: there?.rows.length ?? 0,
      ...(last === undefined ? {} : { last: last.cells }),
    };
  }
  const next = isOpen ? await room.nextWords(folder).catch(() => undefined) : undefined;
  const mind = next === undefined ? [] : mindOfStages([next.stage]).map(({ short }) => short);
  const now = next === undefined ? undefined : handStageOf(next.stage);
  return {
    ...{ folder, name: line?.name ?? folder, state: line?.state ?? "empty" },
    work: { stages: handStages, ...(now === undefined ? {} : { now }) },
    ...(line?.why === undefined ? {} : { why: line.why }),
    today: room.today,
    ...(next === undefined ? {} : {
      next: {
        stage: next.stage,
        do: next.do,
        until: next.until,
        why: next.why,
        cautions: mind.length > 0 ? mind : [next.caution],
      },
    }),
    ...(row?.sagitta === undefined ? {} : {
      depth: { value: row.sagitta.value, u: row.sagitta.u, wanted: row.targetSagitta },
    }),
    minutes: row?.minutes ?? 0,
    tables,
    forms: isOpen ? await formsOf(path, room.today) : {},
    entries: isOpen ? entriesOf(await seat.files.history().catch(() => [])) : [],
    mask,
    ...(settings === undefined ? {} : { aperture: settings.aperture }),
    leaves: LEAF_SETS["metric, 32 leaves"],
    grades: abrasives().filter(({ scale }) => scale === "F" || scale === "polish")
      .map(({ name }) => name),
    turning: {
      strokes: fact("turn_strokes"),
      upper: fact("turn_upper"),
      lower: fact("turn_lower"),
      pace: fact("pace"),
    },
  };
}

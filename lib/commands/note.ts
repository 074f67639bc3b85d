// deno-lint-ignore-file no-console
/** `deno task note`: one sentence to a row of the right table, shown before it is written. */
import { join } from "node:path";
import { openMirror } from "../knowledge/open.ts";
import { nextStepLines } from "../knowledge/tell.ts";
import { mm } from "../quantity/format.ts";
import { inInches } from "../quantity/inches.ts";
import { plainLine } from "../record/clean.ts";
import { describe } from "../record/errors.ts";
import { decodeText, encoded, encodingOf } from "../record/files.ts";
import { Findings } from "../record/errors.ts";
import { type Noted, noteWords, NotUnderstood } from "../record/noteWords.ts";
import { type NoteRows, noteRows } from "../record/noteRow.ts";
import { dayNow, readRecord } from "../record/readRecord.ts";
import { depthOf } from "../record/readings.ts";
import { freshHeads } from "../record/freshTable.ts";
import { SCHEMA } from "../record/schema.ts";
import { abrasives } from "../record/tables.ts";
import type { MirrorRecord, RowOf } from "../record/types.ts";
import { dayTyped, NotDone, runTask, UsageError } from "./command.ts";
import { recordFromCaller } from "./fromCaller.ts";

const help = `deno task note RECORD WORDS [--dry] [--yes] [--today DAY]

Writes a row into the table it belongs to, after showing it: the row as it will stand, what it
means, and the next step after it. Day, run and minutes so far are filled in. Nothing else in the
file changes; what the reader would refuse is not written.

  RECORD      a folder of data/records, or the path of any folder with a mirror.yaml
  WORDS       what was done, seen or read, such as
                "ground 20 min F80, mirror on top, 805 strokes"
                "polished 20 min, lap on top, side 20, length 50"
                "lap pressed 20 min", "pits 3 at 60", "scratch 12 mm at 40", "no pits"
                leaves 0.88+0.25 go, 0.85+0.30 no        depth 1.135
                spherometer mirror 5.523 5.524           sun 1199, image 11.1       lamp 2398
                zones 12.01 11.70 11.80 11.93 12.32      angle 45 knife 90 run 2 again 12.03
              one reading for each opening of the mask in mirror.yaml, - for one that was not
              read, more runs behind it, or each behind a / of its own; a bare number is in its
              column's unit; what stands behind the word note is kept as it is; a day such as
              2026-04-18 is that of the row
  --dry       only shows what would be written
  --yes       asks nothing; without a terminal nothing is asked anyway
  --today DAY the day it is, where the clock is wrong
  --help      this text

Exit status: 0 written, or shown with --dry; 1 refused or not understood (each reason is one
sentence), or not wanted; 2 the command was mistyped, 70 the kit itself has a fault, with a
report of it.`;

/** A table that is not there yet: its remarks and its header, with the columns that this row needs. */
function begunTable({ table, rows }: Noted, { settings }: MirrorRecord): string {
  const heads = freshHeads(table, settings, Object.keys(rows[0] ?? {}));
  return [...SCHEMA[table].remarks.map((remark) => `# ${remark}`), heads.join(","), ""].join("\n");
}

/** The grade of the log's last work of a sort. */
function lastAbrasive(
  { grinding }: MirrorRecord,
  sort: "grit" | "polish",
): string | undefined {
  const polishes = new Set(
    abrasives().filter(({ scale }) => scale === "polish").map(({ name }) => name),
  );
  return grinding.findLast(({ abrasive }) => polishes.has(abrasive) === (sort === "polish"))
    ?.abrasive;
}

/** The file as it stands, or nothing. */
async function bytesOf(path: string): Promise<Uint8Array<ArrayBuffer> | undefined> {
  try {
    return await Deno.readFile(path);
  } catch (error) {
    if (error instanceof Deno.errors.NotFound) return undefined;
    throw new NotDone(`${path} cannot be read; look at its permissions.`);
  }
}

/** What the record would be, and what of it is to be written. */
interface Draft {
  readonly path: string;
  readonly before: Uint8Array<ArrayBuffer> | undefined;
  readonly after: Uint8Array<ArrayBuffer>;
  readonly rows: NoteRows;
}

function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

async function draftOf(noted: Noted, record: MirrorRecord, today: string): Promise<Draft> {
  const named = join(record.folder, `${noted.table}.csv`);
  const path = await Deno.realPath(named).catch(() => named);
  const before = await bytesOf(path);
  const begun = before === undefined || before.length === 0 ? begunTable(noted, record) : "";
  const text = before === undefined || before.length === 0
    ? begun
    : decodeText(before, `${noted.table}.csv`, new Findings()) ?? "";
  const rows = noteRows(noted, text, record, today);
  const encoding = before === undefined ? "utf-8" : encodingOf(before);
  const after = joined([before ?? new Uint8Array(), encoded(begun + rows.added, encoding)]);
  return { path, before, after, rows };
}

// What the new rows mean, read back as the reader understood them.

function minutesSoFar({ grinding }: MirrorRecord): string {
  const sum = grinding.reduce((all, { minutes }) => all + minutes, 0);
  return `${Number(sum.toFixed(1))} minutes in the log now`;
}

function workMeans(row: RowOf<"grinding">, record: MirrorRecord): string {
  const { abrasive, position, minutes, strokes, side, length } = row;
  const parts = [
    `${minutes} minutes with ${abrasive}, ${position}`,
    ...(strokes === undefined ? [] : [`${strokes} strokes`]),
    ...(side === undefined ? [] : [`${mm(side)} beside the centre`]),
    ...(length === undefined ? [] : [`strokes ${mm(length)} long`]),
  ];
  return `${parts.join(", ")}; ${minutesSoFar(record)}`;
}

function depthMeans(row: RowOf<"sagitta">): string {
  const depth = depthOf(row), { go, nogo, afterMin } = row;
  const sum = (leaves: readonly number[]): number => leaves.reduce((all, one) => all + one, 0);
  const after = afterMin === undefined ? "" : `, after ${Number(afterMin.toFixed(1))} minutes`;
  return go === undefined || nogo === undefined
    ? `a depth of ${mm(depth ?? NaN)}${after}`
    : `a depth between ${mm(sum(go))} and ${mm(sum(nogo))}${after}`;
}

function diaryMeans({ what, where, amount }: RowOf<"diary">): string {
  const size = amount === undefined
    ? ""
    : what === "pits" || what === "no pits"
    ? `, ${amount} in a marked field of 1 cm2`
    : what === "lap pressed"
    ? `, for ${amount} minutes`
    : `, ${mm(amount)}`;
  return `${what}${size}${where === undefined ? "" : `, ${mm(where)} from the centre`}`;
}

function zonesMean(rows: readonly RowOf<"zones">[]): string {
  const [first] = rows;
  const seat = `mark at ${first?.angleDeg ?? 0} degrees, knife at ${first?.knifeDeg ?? 0}`;
  const day = first?.date === undefined ? "" : ` of ${first.date}`;
  const each = rows.map(({ inner, outer, reading }) =>
    `${mm(inner).replace(" mm", "")} to ${mm(outer)}: ${Number(reading.toPrecision(6))}`
  );
  return `run ${first?.run}${day}, ${seat}; openings from ${each.join("; ")}`;
}

/** What the record's new rows say, in a sentence. */
function means({ table }: Noted, before: MirrorRecord, after: MirrorRecord): string {
  const count = before[table].length;
  switch (table) {
    case "grinding":
      return after.grinding.slice(count).map((row) => workMeans(row, after)).join("; ");
    case "sagitta":
      return after.sagitta.slice(count).map(depthMeans).join("; ");
    case "diary":
      return after.diary.slice(count).map(diaryMeans).join("; ");
    case "zones":
      return [...Map.groupBy(after.zones.slice(count), ({ run }) => run).values()]
        .map(zonesMean).join("; ");
    case "spherometer":
      return after.spherometer.slice(count).map(({ surface, dial }) =>
        `dial ${mm(dial)} on the ${surface}`
      ).join("; ");
    case "lamp":
      return after.lamp.slice(count).map(({ distance }) =>
        `lamp and its image ${mm(distance)} from the glass`
      ).join("; ");
    case "sun":
      return after.sun.slice(count).map(({ distance, image }) =>
        [
          ...(distance === undefined ? [] : [`the Sun's image ${mm(distance)} from the glass`]),
          ...(image === undefined ? [] : [`the image ${mm(image)} wide`]),
        ].join(", ")
      ).join("; ");
    default:
      return "";
  }
}

/** The row under its column names; what is empty is left out. */
function shownRow({ header, rows }: NoteRows): string[] {
  return rows.map((cells) =>
    cells.flatMap((cell, at) => cell === "" ? [] : [`${header[at]} ${cell}`]).join(", ")
  );
}

/** Puts the file there whole or not at all, if nobody else has changed it meanwhile. */
async function put({ path, before, after }: Draft): Promise<void> {
  const now = await bytesOf(path);
  const isSame = now === undefined
    ? before === undefined
    : before !== undefined && now.length === before.length &&
      now.every((byte, at) => byte === before[at]);
  if (!isSame) {
    throw new NotDone(`${path} was changed meanwhile, so nothing was written; try again.`);
  }
  const beside = `${path}.${crypto.randomUUID().slice(0, 8)}.part`;
  try {
    const mode = before === undefined ? undefined : (await Deno.stat(path)).mode ?? undefined;
    await Deno.writeFile(beside, after, { createNew: true });
    if (mode !== undefined && Deno.build.os !== "windows") await Deno.chmod(beside, mode & 0o7777);
    await Deno.rename(beside, path);
  } catch {
    await Deno.remove(beside).catch(() => undefined);
    throw new NotDone(`${path} cannot be written, and stands as it was; look at its permissions.`);
  }
}

interface Options {
  readonly dry?: boolean;
  readonly yes?: boolean;
  readonly today?: string;
}

async function note(name: string, words: string, options: Options): Promise<number> {
  const today = dayTyped(options.today) ?? dayNow();
  const folder = recordFromCaller(name);
  const record = await readRecord(folder, today);
  const { noted, draft } = await understood(words, record, today);
  const file = `${noted.table}.csv`;
  const { record: after, summary } = await openMirror(
    folder,
    today,
    new Map([[file, draft.after]]),
  );
  const known = new Set(record.warnings.map(describe));
  const first = record[noted.table].at(-1)?.line ?? 0;
  const asked = summary.warnings.filter((one) =>
    one.file === file && !known.has(describe(one)) && (one.line ?? Infinity) > first
  );
  const lines = [
    `${file}${draft.before === undefined ? ", which is begun" : ""}:`,
    ...shownRow(draft.rows).map((row) => `  ${row}`),
    ...(noted.abrasiveTaken === undefined
      ? []
      : [`  ${noted.abrasiveTaken} is taken from the log's last such work.`]),
    ...(draft.rows.noted.length === 0 ? [] : [
      `  ${file} has no column for ${
        draft.rows.noted.join(", ")
      }, which stands in its note; add the column to have it counted.`,
    ]),
    ...[
      `Read as: ${means(noted, record, after)}.`,
      ...asked.map((one) => `Look at this: ${describe(one)}`),
      ...nextStepLines(summary),
    ].map((line) => record.settings.shownIn === "inch" ? inInches(line) : line),
    "",
  ];
  console.log(lines.map(plainLine).join("\n"));
  if (options.dry === true) {
    console.log("Only shown; nothing was written.");
    return 0;
  }
  if (options.yes !== true && Deno.stdin.isTerminal() && !confirm(`Write it into ${file}?`)) {
    console.log("Nothing was written.");
    return 1;
  }
  await put(draft);
  console.log(`Written: ${file}`);
  return 0;
}

/** The sentence and the rows it comes to; what is not understood is told as one sentence. */
async function understood(
  words: string,
  record: MirrorRecord,
  today: string,
): Promise<{ noted: Noted; draft: Draft }> {
  try {
    const noted = noteWords(words, {
      aperture: record.settings.aperture,
      lastAbrasive: (sort) => lastAbrasive(record, sort),
    });
    return { noted, draft: await draftOf(noted, record, today) };
  } catch (error) {
    if (error instanceof NotUnderstood) throw new NotDone(error.message);
    throw error;
  }
}

/** A typed number below zero is a number and no option. */
function withMinus(args: readonly string[]): string[] {
  return args.map((word) => word.replace(/^-(?=[\d.])/, "\u2212"));
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "note",
      help,
      options: { dry: { type: "boolean" }, yes: { type: "boolean" }, today: { type: "string" } },
      most: 200,
      many: "note takes a record and one sentence",
      act: ([record, ...words], options) => {
        if (record === undefined || words.length === 0) {
          throw new UsageError("note takes a record and what to note, such as sun 1199.");
        }
        return note(record, words.join(" "), options);
      },
    }, withMinus(Deno.args)),
  );
}

// deno-lint-ignore-file no-console
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { deserialize, serialize } from "node:v8";
import type { ClassOfRecords, Fault } from "../knowledge/classOfRecords.ts";
import { demoName, openMirror } from "../knowledge/open.ts";
import { summaryText } from "../knowledge/summaryFile.ts";
import type { Summary } from "../knowledge/summaryTypes.ts";
import { observed } from "../knowledge/observed.ts";
import { tell } from "../knowledge/tell.ts";
import { type Memory, rememberIn } from "../numeric/remembered.ts";
import { inInches } from "../quantity/inches.ts";
import { plainLine } from "../record/clean.ts";
import { Findings } from "../record/errors.ts";
import { decision } from "../record/tables.ts";
import { KIT_VERSION } from "../version.ts";
import { dayTyped, NotDone, runTask, UsageError } from "./command.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";

/** `deno task check`: read a record, or a folder of them; say what is known, how surely, and what to do next. */

const help =
  `deno task check [RECORD | CLASS] [--json | --map | --zernike | --page | --parquet FILE] [--today DAY]

Reads a maker's record and prints what is known of the mirror, how surely, and the next step.
For a folder of records it prints the class: where each mirror is, who needs help first and why.
Nothing in a record is changed. A record of a class that cannot be read is told; the others are shown.

  RECORD        a folder of data/records, or the path of any folder with a mirror.yaml
                (default: ${demoName})
  CLASS         a folder that holds records and no mirror.yaml of its own
  --json FILE   also writes everything as JSON, whole or not at all; a file that is not
                such a summary is never overwritten
  --map FILE    also writes the surface as a map with its doubt, to go on with in any general tool: NAME.fits
                has heights and standard uncertainties as two planes, NAME.csv a row for each place
  --zernike FILE   also writes the surface's terms in the order of ISO 24157, a row each
  --page FILE   for a class: also writes it as a page to read, print and project
  --parquet FILE   for a class: also writes a table with a row for each folder and a column for each
                quantity, for whoever has many classes; polars, DuckDB and the like read a thousand
  --today DAY   the day it is, such as 2026-04-18, where the clock is wrong; a record that tells
                of a later day is refused
  --help        this text

Exit status: 0 read, 1 refused (each reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

/** Files to write beside what is printed, and the day it is. */
interface Options {
  readonly json?: string;
  readonly page?: string;
  readonly parquet?: string;
  readonly map?: string;
  readonly zernike?: string;
  readonly today?: string;
}

async function classJson(many: ClassOfRecords): Promise<string> {
  const { attention } = await import("../knowledge/classAttention.ts");
  const order = attention(many, decision("forecast_soon")).map(({ record }) => record);
  const unreadable = many.unreadable.map(({ record, why, refusals }) => ({
    record,
    why,
    refusals,
  }));
  const whole = {
    kit_version: KIT_VERSION,
    class: many.name,
    ...many,
    unreadable,
    attention: order,
  };
  return `${JSON.stringify(whole, null, 2)}\n`;
}

/** What is printed, and a fault of the program that was met on the way. */
interface Printed {
  readonly lines: readonly string[];
  readonly fault?: Fault;
}

/** What is printed of a class; writes what was asked for. */
async function classLines(
  folder: string,
  { json, page, parquet, map, zernike, today }: Options,
): Promise<Printed> {
  if (map !== undefined || zernike !== undefined) {
    throw new UsageError("--map and --zernike go with one record; a class has no surface.");
  }
  const { openClass } = await import("../knowledge/classOfRecords.ts");
  const { tellClass } = await import("../knowledge/tellClass.ts");
  const many = await openClass(folder, today === undefined ? {} : { today });
  if (json !== undefined) await writeWhole(fromCaller(json), await classJson(many));
  if (page !== undefined) {
    const { classPage } = await import("../book/pages/classPage.ts");
    await writeWhole(fromCaller(page), classPage(many), isClassPage);
  }
  if (parquet !== undefined) await writeParquet(fromCaller(parquet), folder, many);
  const fault = many.unreadable.find((one) => one.fault !== undefined)?.fault;
  return { lines: tellClass(many), ...(fault === undefined ? {} : { fault }) };
}

/** The class as Parquet, with what class.yaml says of it. */
async function writeParquet(path: string, folder: string, many: ClassOfRecords): Promise<void> {
  const { classParquet } = await import("../knowledge/classParquet.ts");
  const { classNow } = await import("../knowledge/classLines.ts");
  const { readClassSettings } = await import("../record/classSettings.ts");
  const text = await Deno.readTextFile(join(folder, "class.yaml")).catch(() => "");
  const now = classNow(many, readClassSettings(text, new Findings()), []);
  await writeWhole(path, await classParquet(many, now), (before) => before.startsWith("PAR1"));
}

/** What is printed of one mirror; writes what was asked for. */
async function mirrorLines(
  folder: string,
  { json, page, parquet, map, zernike, today }: Options,
): Promise<Printed> {
  if (page !== undefined) {
    throw new UsageError("--page goes with a folder of records; the pages of one are its book.");
  }
  if (parquet !== undefined) {
    throw new UsageError("--parquet goes with a folder of records; --json writes one.");
  }
  const kept = new KeptChecks(folder);
  rememberIn(kept);
  const { record, summary } = await openMirror(folder, today);
  kept.write();
  if (json !== undefined) {
    await writeWhole(fromCaller(json), summaryText(summary));
  }
  const seen = map === undefined && zernike === undefined
    ? []
    : await writeSurface(summary, map, zernike);
  const lines = [...tell(summary, record.defaults, await observed(record)), ...seen];
  return { lines: record.settings.shownIn === "inch" ? lines.map(inInches) : lines };
}

/** Writes the surface as it was asked for; what the map shows in words. */
async function writeSurface(
  summary: Summary,
  map: string | undefined,
  zernike: string | undefined,
): Promise<readonly string[]> {
  const surface = await import("../stages/surfaceMap.ts"), seen = surface.surfaceMap(summary);
  if (seen === undefined) {
    throw new NotDone(
      "There is no surface yet, so no map: read zones into zones.csv, or photograph the bands.",
    );
  }
  const isTable = (head: string) => (before: string): boolean => before.startsWith(head);
  if (map !== undefined) {
    const isFits = map.toLowerCase().endsWith(".fits");
    if (!isFits && !map.toLowerCase().endsWith(".csv")) {
      throw new UsageError("--map writes NAME.fits or NAME.csv; the ending says which.");
    }
    await writeWhole(
      fromCaller(map),
      isFits ? surface.mapFits(seen, summary.title) : surface.mapCsv(seen),
      isTable(isFits ? "SIMPLE  =" : "x_mm,y_mm,height_nm"),
    );
  }
  if (zernike !== undefined) {
    await writeWhole(
      fromCaller(zernike),
      surface.zernikeCsv(summary) ?? "",
      isTable("j,n,m,coefficient_nm"),
    );
  }
  return ["", "The map", ...surface.mapInWords(seen).map((line) => `  ${line}`)];
}

/** Whether a folder is a class; what reads one is large, and loads where it may be one. */
async function isClass(folder: string): Promise<boolean> {
  const info = await Deno.stat(join(folder, "mirror.yaml")).catch(() => undefined);
  return info === undefined &&
    await (await import("../knowledge/classOfRecords.ts")).isClass(folder);
}

async function check(name: string, options: Options): Promise<number> {
  dayTyped(options.today);
  const folder = recordFromCaller(name);
  const { lines, fault } = await (await isClass(folder) ? classLines : mirrorLines)(
    folder,
    options,
  );
  console.log(lines.map(plainLine).join("\n"));
  const { json, page, parquet, map, zernike } = options;
  const written = [json, map, zernike, page, parquet].filter((file) => file !== undefined);
  if (written.length > 0) console.log(`\nWritten: ${written.join(", ")}`);
  // the other mirrors are shown first; then the fault stops the task as any other does
  if (fault !== undefined) throw Object.assign(new Error(fault.message), fault);
  return 0;
}

// What the last check of a record reduced, in the kit's own folder of books: readings and photographs that are as they were
// are not reduced again.

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Reductions of zones and photographs, and the layers that they are made by: these import from no others. */
const REDUCED = ["reduceZones", "reducePhotos"];
const LAYERS = ["numeric", "quantity", "optics", "testing"];
/** More bytes than these are not kept, since they would be long to read; nor what is of more records than these. */
const MOST_KEPT = 4e6, MOST_RECORDS = 20;

/** Name, size and time of a file. */
function lookOf(path: string): string {
  const { size, mtime } = Deno.statSync(path);
  return `${path} ${size} ${mtime?.getTime()}`;
}

function looksOf(folder: string): string[] {
  return [...Deno.readDirSync(folder)].flatMap(({ name, isDirectory }) =>
    isDirectory ? looksOf(join(folder, name)) : [lookOf(join(folder, name))]
  );
}

/** Reductions by all that they depend on; what this check has not asked for is let go. */
class KeptChecks implements Memory {
  readonly #file: string;
  readonly #code: string;
  readonly #before = new Map<string, unknown>();
  readonly #used = new Map<string, unknown>();

  /** @param folder  of the record */
  constructor(folder: string) {
    const place = encodeURIComponent(folder).slice(-200);
    this.#file = join(root, "book", ".kept", "checks", place);
    const looks = LAYERS.flatMap((layer) => looksOf(join(root, "lib", layer))).sort();
    const engine = [
      JSON.stringify(Deno.version),
      Deno.build.target,
      lookOf(join(root, "deno.lock")),
    ];
    this.#code = [...engine, ...looks].join("\n");
    try {
      const { code, results } = deserialize(Deno.readFileSync(this.#file));
      if (code === this.#code) this.#before = results;
    } catch { /* nothing is kept yet, or not whole: then all is reduced anew */ }
  }

  recall(what: string, inputs: string): { readonly value: unknown } | undefined {
    const key = `${what} ${inputs}`, kept = this.#used.has(key) ? this.#used : this.#before;
    if (!kept.has(key)) return undefined;
    const value = kept.get(key);
    this.#used.set(key, value);
    return { value };
  }

  keep(what: string, inputs: string, value: unknown): void {
    if (REDUCED.includes(what)) this.#used.set(`${what} ${inputs}`, value);
  }

  /** Keeps what this check has used for the next; where nothing can be written nothing is kept. */
  write(): void {
    if ([...this.#used.keys()].every((key) => this.#before.has(key))) return;
    const bytes = serialize({ code: this.#code, results: this.#used });
    if (bytes.length > MOST_KEPT) return;
    const folder = join(this.#file, ".."), part = `${this.#file}.${Deno.pid}.part`;
    try {
      Deno.mkdirSync(folder, { recursive: true });
      Deno.writeFileSync(part, bytes);
      Deno.renameSync(part, this.#file);
      const files = [...Deno.readDirSync(folder)].map(({ name }) => join(folder, name));
      const timeOf = (path: string): number => Deno.statSync(path).mtime?.getTime() ?? 0;
      const old = files.toSorted((a, b) => timeOf(b) - timeOf(a)).slice(MOST_RECORDS);
      for (const path of old) Deno.removeSync(path);
    } catch { /* reduced anew the next time */ }
  }
}

// Writes a summary whole or not at all, and never over a file that is something else.

/** Is this a summary of ours, which may be replaced by a newer one? */
function isSummary(text: string): boolean {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === "object" && value !== null && "kit_version" in value;
  } catch {
    return false;
  }
}

/** Is this a class page of ours? */
export function isClassPage(text: string): boolean {
  return /^<!doctype html>\n<html lang="en" class="many">/.test(text);
}

function unwritable(path: string): string {
  return `${path} cannot be written; name a file in a folder that exists and is yours.`;
}

/**
 * Writes `text` to `path` by way of a file beside it, so that a reader never sees half of it.
 *
 * @param isOurs  which file may be replaced by a newer one; default a summary
 * @throws {NotDone} one sentence, where the path cannot be written or holds something that is not a summary
 */
export async function writeWhole(
  path: string,
  text: string | Uint8Array,
  isOurs: (before: string) => boolean = isSummary,
): Promise<void> {
  const before = await Deno.readTextFile(path).catch((error: unknown) => {
    if (error instanceof Deno.errors.NotFound) return undefined;
    if (error instanceof Deno.errors.NotCapable) throw new NotDone(unwritable(path));
    throw new NotDone(`${path} cannot be written: it is not a file this program may replace.`);
  });
  if (before !== undefined && !isOurs(before)) {
    throw new NotDone(
      `${path} exists and is not ${
        isOurs === isSummary
          ? "a summary of a mirror"
          : isOurs === isClassPage
          ? "a page of a class"
          : "a file of this kind"
      }, so it is left alone; name another file.`,
    );
  }
  const beside = `${path}.${crypto.randomUUID().slice(0, 8)}.part`;
  try {
    await (typeof text === "string"
      ? Deno.writeTextFile(beside, text)
      : Deno.writeFile(beside, text));
    await Deno.rename(beside, path);
  } catch {
    await Deno.remove(beside).catch(() => undefined);
    throw new NotDone(
      unwritable(path),
    );
  }
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "check",
      help,
      options: {
        json: { type: "string" },
        page: { type: "string" },
        parquet: { type: "string" },
        map: { type: "string" },
        zernike: { type: "string" },
        today: { type: "string" },
      },
      most: 1,
      many: "check reads one folder",
      act: ([record = demoName], options) => check(record, options),
    }),
  );
}

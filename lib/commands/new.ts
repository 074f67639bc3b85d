// deno-lint-ignore-file no-console
/** `deno task new`: begin a fresh record from the commented template. */
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { runTask, UsageError } from "./command.ts";
import { fromCaller } from "./fromCaller.ts";
import { readRecord } from "../record/readRecord.ts";
import {
  type Column,
  columnsOf,
  COMMON,
  SCHEMA,
  type TableName,
  TABLES,
  usualHeader,
} from "../record/schema.ts";

const help = `deno task new NAME

Begins a mirror's record: a folder with a commented mirror.yaml, a table for each kind of
reading with an example in it, and a place for photographs. What is there already is never
touched.

  NAME     the new folder in data/records, or the path of one anywhere, such as ../mirrors/mine
  --help   this text

Exit status: 0 begun, 1 not begun (the reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

const ONE_NAME = "new takes one name; put a name with spaces in quotation marks";

const records = fileURLToPath(new URL("../../data/records", import.meta.url));
const page = fileURLToPath(new URL("../../data/template/mirror.yaml", import.meta.url));

/** Where a record of this name goes: a path if it is one, else a folder of data/records. */
export function targetOf(name: string): string {
  return /[\\/]/.test(name) ? resolve(fromCaller(name)) : join(records, name);
}

/** Why a folder of this name cannot be made; `undefined` when it can. */
export function whyNot(name: string): string | undefined {
  // deno-lint-ignore no-control-regex
  if (name.trim() === "" || /[\u0000-\u001f]/.test(name) || basename(name).length > 100) {
    return `A record's name has 1 to 100 letters on one line, got ${JSON.stringify(name)}.`;
  }
  if (/^\.*$/.test(name)) return `${JSON.stringify(name)} is not a name for a new record.`;
  return undefined;
}

/**
 * The columns of a fresh table in the order in which they stand there.
 *
 * @param all   those it may have
 * @param rare  fields that are wanted though a fresh table has them not
 */
export function freshColumns(
  table: TableName,
  all: readonly Column[],
  rare: readonly string[] = [],
): readonly Column[] {
  const told = SCHEMA[table];
  const isCommon = (field: string): boolean => field in COMMON && !(field in told.columns);
  const inHeader = all.filter((column) =>
    rare.includes(column.field) ||
    (column.field === "afterMin" ? "timed" in told : column.rare !== true)
  );
  return [
    ...inHeader.filter(({ field }) => isCommon(field) && field !== "note"),
    ...inHeader.filter(({ field }) => !isCommon(field)),
    ...inHeader.filter(({ field }) => field === "note"),
  ];
}

/**
 * A table as a fresh record has it: remarks, a header, and a row or two of examples behind a mark.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(freshTable("sun"), /\ndate,after_min,distance_mm,image_mm,note\n# 2026-04-18,338,1199,11.1,\n$/);
 * ```
 */
export function freshTable(table: TableName): string {
  const { remarks, samples } = SCHEMA[table], all = columnsOf(table);
  const ordered = freshColumns(table, all);
  const others = all.filter((column) => !ordered.includes(column)).map(usualHeader);
  const rows = samples.map((sample: Readonly<Record<string, string>>) =>
    ordered.map(({ field, example }) => sample[field] ?? (field === "note" ? "" : example))
      .map((cell) => cell.includes(",") ? `"${cell}"` : cell).join(",")
  );
  return [
    ...remarks.map((remark) => `# ${remark}`),
    ...others.length === 0
      ? []
      : [`# May be added: ${others.join(", ")}. data/records/README.md tells of each.`],
    "# no readings yet: take this line out when you type the first",
    ordered.map(usualHeader).join(","),
    ...rows.map((row) => `# ${row}`),
    "",
  ].join("\n");
}

/** Writes a fresh record into a new folder, the title being the folder's own name. */
async function begin(target: string): Promise<void> {
  await Deno.mkdir(dirname(target), { recursive: true });
  await Deno.mkdir(target);
  try {
    await Deno.mkdir(join(target, "photos"));
    const text = await Deno.readTextFile(page);
    await Deno.writeTextFile(join(target, "mirror.yaml"), titled(text, target));
    for (const table of TABLES) {
      await Deno.writeTextFile(join(target, `${table}.csv`), freshTable(table));
    }
    await readRecord(target);
  } catch (error) {
    await Deno.remove(target, { recursive: true });
    throw error;
  }
}

function titled(text: string, target: string): string {
  return text.replace(/^title: .*?(?= +#|$)/m, () => `title: ${JSON.stringify(basename(target))}`);
}

async function make(name: string | undefined): Promise<number> {
  if (name === undefined) throw new UsageError(ONE_NAME + ".");
  const target = targetOf(name);
  const refusal = whyNot(name);
  if (refusal !== undefined) {
    console.error(refusal);
    return 1;
  }
  try {
    await begin(target);
  } catch (error) {
    console.error(sentence(error, target));
    return 1;
  }
  console.log(`Begun: ${target}`);
  console.log(
    "Write the aperture and the focal length into mirror.yaml; each table tells what goes into it.",
  );
  console.log(`Then: deno task check ${JSON.stringify(name)}`);
  return 0;
}

function sentence(error: unknown, target: string): string {
  if (error instanceof Deno.errors.AlreadyExists) {
    return `${target} is there already and was not touched: choose another name.`;
  }
  if (error instanceof Deno.errors.PermissionDenied || error instanceof Deno.errors.NotCapable) {
    return `${target} may not be written: choose a folder of your own.`;
  }
  const fromDisk = Object.values(Deno.errors).some((kind) => error instanceof kind);
  if (!fromDisk) throw error;
  return `${target} was not begun: the disk did not take it; look for room there, or choose another folder.`;
}

if (import.meta.main) {
  Deno.exit(
    await runTask({ name: "new", help, most: 1, many: ONE_NAME, act: ([name]) => make(name) }),
  );
}

// deno-lint-ignore-file no-console
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { isDate } from "../record/date.ts";
import { RecordRefused } from "../record/errors.ts";
import { KIT_VERSION } from "../version.ts";

/** What every task does alike: answer `--help`, refuse what is mistyped in a sentence, end with a status. */

/** The options a task knows, by name, as `node:util` reads them. */
type Options = Readonly<Record<string, { readonly type: "string" | "boolean" }>>;

type Typed<O extends Options> = {
  readonly [K in keyof O]?: O[K]["type"] extends "string" ? string : boolean;
};

/** What a task is. */
export interface Task<O extends Options> {
  readonly name: string;
  readonly help: string;
  readonly options?: O;
  /** How many words may follow the name; `many` says it in words when there are more. */
  readonly most?: number;
  readonly many?: string;
  /** Does it. @returns the exit status */
  readonly act: (words: readonly string[], options: Typed<O>) => number | Promise<number>;
}

/** A command line that cannot be understood, in one sentence. */
export class UsageError extends Error {}

/**
 * The day typed behind `--today`; nothing where none was.
 *
 * @throws {UsageError} where it is no day
 */
export function dayTyped(today: string | undefined): string | undefined {
  if (today === undefined || isDate(today)) return today;
  throw new UsageError(`--today wants a day such as 2026-04-18, got ${JSON.stringify(today)}.`);
}

function read<O extends Options>(
  { options, most = 0, many }: Task<O>,
  args: readonly string[],
): { words: readonly string[]; typed: Typed<O> & { readonly help?: boolean } } {
  let parsed;
  try {
    parsed = parseArgs({
      args: args.filter((word) => word !== "--"),
      options: { ...options, help: { type: "boolean", short: "h" } },
      allowPositionals: most > 0,
    });
  } catch (error) {
    throw new UsageError((error as Error).message);
  }
  const { values, positionals } = parsed;
  if (positionals.length > most) {
    throw new UsageError(`${many}, got ${positionals.length}: ${positionals.join(", ")}.`);
  }
  return { words: positionals, typed: values as Typed<O> & { readonly help?: boolean } };
}

/**
 * Runs a task on what was typed.
 *
 * @returns its exit status: 1 where a record was refused or the task not done, each reason a sentence; 2 where it was
 * mistyped; 70 where the program itself has a fault, which is reported and never told as the maker's
 */
export async function runTask<O extends Options>(
  task: Task<O>,
  args: readonly string[] = Deno.args,
): Promise<number> {
  try {
    const { words, typed } = read(task, args);
    if (typed.help === true) {
      console.log(task.help);
      return 0;
    }
    return await task.act(words, typed);
  } catch (error) {
    if (error instanceof UsageError) {
      console.error(`${error.message}\nTry: deno task ${task.name} --help`);
      return 2;
    }
    if (error instanceof RecordRefused || error instanceof NotDone) {
      console.error(error.message);
      return 1;
    }
    console.error(faultReport(error, [task.name, ...args].join(" ")).join("\n"));
    return FAULT_STATUS;
  }
}

// A fault of the program, told as what it is: not the maker's, and with what whoever mends the kit needs to know.

/** Exit status of a task that a fault of the program has stopped. */
export const FAULT_STATUS = 70;

/** A sentence to the person at the keyboard: why a task was not done, and what to do. No fault of the program. */
export class NotDone extends Error {
  override readonly name = "NotDone";
}

/**
 * Is this a fault of the program, and no sentence to a person?
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(isFault(new RangeError("toFixed() digits argument must be between 0 and 100")), true);
 * assert.equal(isFault(new NotDone("name another file")), false);
 * ```
 */
export function isFault(error: unknown): boolean {
  const kinds = [TypeError, RangeError, ReferenceError, SyntaxError];
  return !(error instanceof Error) || kinds.some((kind) => error instanceof kind);
}

const root = new URL("../../", import.meta.url).href;

/** Where it happened, from the kit's own folder; the reader's paths are nobody's business. */
function placesOf(error: Error): string[] {
  const lines = (error.stack ?? "").split("\n").filter((line) => /^\s+at /.test(line));
  return lines.filter((line) => line.includes(root)).slice(0, 8).map((line) =>
    `  ${line.trim().replaceAll(root, "").replaceAll(fileURLToPath(root), "")}`
  );
}

/**
 * The report of a fault, in lines.
 *
 * @param error  whatever was thrown
 * @param task   what was being done: `check demo-150-f8`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const [first] = faultReport(new TypeError("x is undefined"), "check demo-150-f8");
 * assert.match(first ?? "", /fault of the kit, not of your record/);
 * ```
 */
export function faultReport(error: unknown, task: string): string[] {
  const inner = error instanceof Error && error.cause instanceof Error ? error.cause : error;
  const what = inner instanceof Error ? `${inner.name}: ${inner.message}` : String(inner);
  return [
    "This is a fault of the kit, not of your record or your readings. Nothing in the record was changed.",
    "Please report it with the lines below, and with the record if you may share it.",
    "",
    `  First Mirror ${KIT_VERSION}, Deno ${Deno.version.deno}, ${Deno.build.os} ${Deno.build.arch}`,
    `  task ${task}`,
    `  ${what.replace(/\s+/g, " ").slice(0, 300)}`,
    ...(inner instanceof Error ? placesOf(inner) : []),
  ];
}

// The scripts of a folder of tests, run one after the other: benches and trials.

/**
 * The names of the scripts `tests/FOLDER/NAME.KIND.ts` in their order: that one which is named so, else all whose names begin
 * so; none where there is no such folder.
 */
export async function scriptNames(folder: string, kind: string, wanted = ""): Promise<string[]> {
  const place = fileURLToPath(new URL(`../../tests/${folder}`, import.meta.url));
  const ending = `.${kind}.ts`, names: string[] = [];
  try {
    for await (const { name } of Deno.readDir(place)) {
      if (name.endsWith(ending)) names.push(basename(name, ending));
    }
  } catch (error) {
    if (!(error instanceof Deno.errors.NotFound)) throw error;
  }
  return names.includes(wanted) ? [wanted] : names.filter((name) => name.startsWith(wanted)).sort();
}

/**
 * Runs the scripts that {@link scriptNames} finds, all of them, and tells which did not hold.
 *
 * @param env   added to this process's environment
 * @param long  which are run by their whole names alone, for they take hours
 * @returns 0 when all held, else 1
 * @throws {UsageError} where no name begins so
 */
export async function runScripts(
  folder: string,
  kind: string,
  wanted = "",
  env: Readonly<Record<string, string>> = {},
  long: readonly string[] = [],
): Promise<number> {
  const names = (await scriptNames(folder, kind, wanted))
    .filter((name) => name === wanted || !long.includes(name));
  if (names.length === 0) {
    throw new UsageError(`No ${kind} in tests/${folder} begins with "${wanted}".`);
  }
  const place = fileURLToPath(new URL(`../../tests/${folder}`, import.meta.url));
  const broken: string[] = [];
  for (const name of names) {
    if (names.length > 1) console.log(`\n= ${kind} ${name}`);
    const args = ["run", "-A", join(place, `${name}.${kind}.ts`)];
    const child = new Deno.Command(Deno.execPath(), { args, env }).spawn();
    if (!(await child.status).success) broken.push(name);
  }
  if (broken.length > 0) console.log(`\nDid not hold: ${broken.join(", ")}.`);
  return broken.length > 0 ? 1 : 0;
}

// deno-lint-ignore-file no-console
/** What every task does alike: answer `--help`, refuse what is mistyped in a sentence, end with a status. */
import { parseArgs } from "node:util";
import { isDate } from "../record/date.ts";
import { RecordRefused } from "../record/errors.ts";
import { FAULT_STATUS, faultReport, NotDone } from "./fault.ts";

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
export class Mistyped extends Error {}

/**
 * The day typed behind `--today`; nothing where none was.
 *
 * @throws {Mistyped} where it is no day
 */
export function dayTyped(today: string | undefined): string | undefined {
  if (today === undefined || isDate(today)) return today;
  throw new Mistyped(`--today wants a day such as 2026-04-18, got ${JSON.stringify(today)}.`);
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
    throw new Mistyped((error as Error).message);
  }
  const { values, positionals } = parsed;
  if (positionals.length > most) {
    throw new Mistyped(`${many}, got ${positionals.length}: ${positionals.join(", ")}.`);
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
    if (error instanceof Mistyped) {
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

import { runnersMark } from "../../figures/runnersMark.ts";
import type { CellImport } from "./imports.ts";

/** Where the runner's own helpers live inside the kernel; no name that a cell could meet. */
export const HOOK = `globalThis[Symbol.for(${JSON.stringify(runnersMark.description)})]`;

/** The MIME type under which the barrier's report comes back. */
export const REPORT = "application/vnd.first-mirror.barrier+json";

/** What the barrier behind a cell reports from inside the kernel. */
export interface BarrierReport {
  /** the barrier's own mark, by which it is recognised */
  readonly mark: string;
  /** line on which the last statement begun stands; 0 where the cell did not begin */
  readonly line: number;
  /** errors that no cell caught: floating rejections, errors in timers */
  readonly faults: readonly {
    readonly name: string;
    readonly message: string;
    readonly stack: string;
  }[];
  /** exported names that a cell asked for and a module does not have */
  readonly missing: readonly {
    readonly specifier: string;
    readonly name: string;
    readonly line: number;
    readonly near: readonly string[];
  }[];
  /** the cell's value in words, where it is one that the kernel cannot show */
  readonly unshown?: "NaN" | "-0" | "null" | "a bigint";
}

/**
 * The code that the kernel runs before the first cell: notes of the line reached (also into a file, for a cell that
 * never comes back), errors that nobody caught, and the barrier.
 *
 * Listening for uncaught errors also cures a fault of the kernel, which otherwise hangs for good when a timer throws
 * while a cell awaits (measured with Deno 2.9.6).
 *
 * @param lineFile  a file that exists, for the number of the cell and line reached
 */
export function prelude(lineFile: string): string {
  return `{
  const { log, error } = console;
  const notes = Deno.openSync(${JSON.stringify(lineFile)}, { write: true });
  const encoder = new TextEncoder();
  const runner = { cell: 0, line: 0, faults: [], value: undefined };
  const keep = (reason) => {
    const { name, message, stack } = reason instanceof Error
      ? reason
      : { name: "Error", message: String(reason), stack: "" };
    runner.faults.push({ name, message, stack });
    notes.seekSync(16, 0);
    notes.writeSync(encoder.encode((name + ": " + message).slice(0, 500).replaceAll("\\n", " ") + "\\n"));
    notes.truncateSync(notes.seekSync(0, 1));
  };
  addEventListener("unhandledrejection", (event) => (event.preventDefault(), keep(event.reason)));
  addEventListener("error", (event) => (event.preventDefault(), keep(event.error ?? event.message)));
  runner.at = (cell, line) => {
    Object.assign(runner, { cell, line });
    notes.seekSync(0, 0);
    notes.writeSync(encoder.encode(String(cell).padStart(8) + String(line).padStart(8)));
  };
  const inWords = (value) =>
    Object.is(value, -0) ? "-0" : Number.isNaN(value) ? "NaN" : value === null ? "null"
      : typeof value === "bigint" ? "a bigint" : undefined;
  const missing = async (imports) => {
    const found = [];
    for (const { specifier, names, line } of imports) {
      const module = await import(specifier).catch(() => undefined);
      for (const name of names) {
        if (module && !(name in module)) found.push({ specifier, name, line, near: Object.keys(module) });
      }
    }
    return found;
  };
  runner.barrier = async (mark, cell, imports) => {
    const report = {
      mark,
      line: runner.cell === cell ? runner.line : 0,
      missing: await missing(imports),
      faults: runner.faults.splice(0),
      unshown: inWords(runner.value),
    };
    runner.value = undefined;
    if (report.faults.length > 0) notes.truncateSync(16);
    log(mark);
    error(mark);
    return { [Symbol.for("Jupyter.display")]: () => ({ ${JSON.stringify(REPORT)}: report }) };
  };
  ${HOOK} = runner;
}`;
}

/**
 * The request that runs behind a cell: when its mark has come back on all three ways out, nothing of the cell is
 * still on its way.
 *
 * @param mark     printable ASCII, unlike anything a cell prints
 * @param cell     the code cell's number
 * @param imports  what the cell imports, to be compared with what the modules export
 */
export function barrier(mark: string, cell: number, imports: readonly CellImport[]): string {
  const args = [mark, cell, imports].map((value) => JSON.stringify(value)).join(", ");
  return `await ${HOOK}.barrier(${args})`;
}

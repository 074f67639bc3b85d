/** What went wrong in a notebook, said so that its reader finds the place. */
import { slips } from "../record/nearest.ts";
import type { Turn } from "./kernel/kernel.ts";
import type { Output } from "./notebook.ts";

/**
 * Kinds of failure:
 * - `error` the cell threw; `syntax` it could not be read; `import` a module has no such export;
 * - `uncaught` an error in a timer or in a promise nobody awaited; `unshown` a value the kernel cannot show;
 * - `output` shown content that a notebook cannot store; `loop`, `wait` the cell overran its time;
 * - `died` the kernel ended; `start` it never began.
 */
export type FailureKind =
  | "error"
  | "syntax"
  | "import"
  | "uncaught"
  | "unshown"
  | "output"
  | "loop"
  | "wait"
  | "died"
  | "start";

/** One failure. */
export interface Failure {
  /** the notebook's path, as it was given */
  readonly notebook: string;
  /** number of the code cell, from 1: the n of its `In [n]`; absent where the kernel did not start */
  readonly cell?: number;
  /** line of the cell, from 1, on which the statement stands that failed; absent where it is not known */
  readonly line?: number;
  /** that line, or the cell's first */
  readonly code?: string;
  readonly kind: FailureKind;
  /** one sentence */
  readonly message: string;
}

/** A cell and where it stands. */
export interface Place {
  readonly notebook: string;
  readonly cell: number;
  readonly source: string;
}

/**
 * A failure in one line, and the line of code under it.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const failure = { notebook: "a.ipynb", cell: 3, line: 2, code: "x();", kind: "error", message: "no" } as const;
 * assert.equal(failureText(failure), "a.ipynb, code cell 3, line 2: no\n    x();");
 * ```
 */
export function failureText(failure: Failure): string {
  const { notebook, cell, line, code, message } = failure;
  const where = [
    notebook,
    cell === undefined ? undefined : `code cell ${cell}`,
    line === undefined ? undefined : `line ${line}`,
  ];
  const head = `${where.filter((part) => part !== undefined).join(", ")}: ${message}`;
  return code === undefined ? head : `${head}\n    ${code.trim()}`;
}

/** A failure at a place, with its line of code quoted. */
export function failureAt(
  { notebook, cell, source }: Place,
  kind: FailureKind,
  message: string,
  line?: number,
): Failure {
  const lines = source.split("\n");
  const code = line === undefined ? lines.find((text) => text.trim() !== "") : lines[line - 1];
  return {
    notebook,
    cell,
    kind,
    message,
    ...(line !== undefined && { line }),
    ...(code !== undefined && { code }),
  };
}

/**
 * Everything that went wrong in a cell that came back, but for what its syntax hid: an error sent counts even where the
 * kernel replied "ok".
 *
 * @param turn     what came of the cell
 * @param outputs  its outputs
 * @param place    where it stands
 */
export function failuresOf(turn: Turn, outputs: readonly Output[], place: Place): Failure[] {
  const { report, line } = turn;
  const missing = (report?.missing ?? []).map((lack) =>
    failureAt(
      place,
      "import",
      `"${lack.specifier}" exports no value named ${lack.name}${nearest(lack.name, lack.near)}` +
        " (a type wants `import type`)",
      lack.line,
    )
  );
  const errors = outputs.filter((output) => output.output_type === "error")
    .map((output) => failureAt(place, "error", thrownText(output), line));
  const faults = (report?.faults ?? []).map((fault) =>
    failureAt(
      place,
      "uncaught",
      `an error that nothing caught, in a timer or a promise not awaited: ${fault.name}: ${fault.message}`,
    )
  );
  const unshown = report?.unshown === undefined || turn.reply?.status !== "ok" ? [] : [
    failureAt(
      place,
      "unshown",
      `the cell's value is ${report.unshown}, which the kernel does not show; end the cell with show(...)`,
      line,
    ),
  ];
  return [...missing, ...errors, ...faults, ...unshown];
}

/** What a cell that did not come back did. */
export function failureOfEnd(
  turn: Turn,
  place: Place,
  seconds: number,
  lastWords: string,
): Failure {
  const { ended, line, exitCode } = turn;
  const fault = turn.fault === undefined
    ? ""
    : `; before that, an error that nothing caught: ${turn.fault}`;
  if (ended === "loop") {
    const message = `still computing after ${seconds} s; a loop that does not end?`;
    return failureAt(place, "loop", message, line);
  }
  if (ended === "wait") {
    const message = `still waiting after ${seconds} s; an await that nothing settles?${fault}`;
    return failureAt(place, "wait", message, line);
  }
  const memory = exitCode === 137 ? " (killed, perhaps for want of memory)" : "";
  const words = lastWordsOf(lastWords);
  return failureAt(
    place,
    "died",
    `the kernel ended with exit code ${exitCode}${memory}${words}${fault}`,
    line,
  );
}

/** What a dying kernel said, without the addresses of its own code. */
function lastWordsOf(said: string): string {
  if (/out of memory|heap limit|JavaScript heap/i.test(said)) {
    return "; the cell asked for more memory than a kernel may have";
  }
  const line = said.split("\n").findLast((one) => !/\(\+0x[0-9a-f]+\)|^[\s=]*$/.test(one));
  return line === undefined ? "" : `; its last words: ${line.trim()}`;
}

/** The failure as an output of the cell, so that the executed notebook shows it too. */
export function failureOutput({ kind, message, cell, line }: Failure): Output {
  const where = line === undefined ? `code cell ${cell}` : `code cell ${cell}, line ${line}`;
  return {
    output_type: "error",
    ename: kind,
    evalue: message,
    traceback: [message, `    at ${where}`],
  };
}

/**
 * An error's output with a traceback that a reader can use: the kernel's own frames go, and the lines it counts in its
 * rewritten code give way to the cell's.
 */
export function readableError(output: Output, { cell }: Place, line?: number): Output {
  if (output.output_type !== "error") return output;
  const all = output.traceback.flatMap((text) => text.split("\n"));
  const frames = all.filter((text) => /^\s+at /.test(text) && !/<anonymous>|\bext:/.test(text));
  const where = line === undefined ? `code cell ${cell}` : `code cell ${cell}, line ${line}`;
  const said = `${output.ename}: ${output.evalue.split(/\n\s+at /)[0]}`;
  return { ...output, traceback: [...said.split("\n"), ...frames, `    at ${where}`] };
}

/** What was thrown; the kernel gives no traceback for what is not an Error. */
function thrownText(error: Output & { output_type: "error" }): string {
  const said = error.evalue.split("\n")[0] ?? "";
  const bare = error.traceback.every((line) => line === "") && error.ename === "Error";
  return bare ? `threw what is not an Error: ${said}` : `${error.ename}: ${said}`;
}

/** ", perhaps x?" for the exported names that differ least from the one asked for. */
function nearest(name: string, exported: readonly string[]): string {
  const scored = exported.map((other) => [slips(name, other), other] as const)
    .filter(([score]) => score <= Math.max(2, name.length / 3))
    .sort(([a], [b]) => a - b);
  return scored[0] === undefined ? "" : `, perhaps ${scored[0][1]}?`;
}

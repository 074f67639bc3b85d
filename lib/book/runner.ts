/** Runs notebooks on the real Deno kernel; the kernel's silence is never taken for success. */
import { tmpdir } from "node:os";
import { basename, dirname, isAbsolute, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { editDistance } from "../record/nearest.ts";
import { cellImports, instrument } from "./kernel/instrument.ts";
import { Kernel, type Turn } from "./kernel/kernel.ts";
import { collectOutputs, type Tidy, tidyText } from "./kernel/outputs.ts";
import { kernelMetadata } from "./kernelspec.ts";
import {
  type Cell,
  cellTags,
  type CodeCell,
  isCode,
  type Notebook,
  type Output,
  readNotebook,
} from "./notebook.ts";
import { tempFolder } from "./outputFolder.ts";

/** How notebooks are to be run. */
export interface RunOptions {
  /** added to the kernel's environment, e.g. FIRST_MIRROR_RECORD */
  readonly env?: Readonly<Record<string, string>>;
  /** the folder the kernel works in; default: the notebook's own */
  readonly cwd?: string;
  /** time one cell may take, s, longer on a busy machine; default 120 */
  readonly secondsPerCell?: number;
  /** go on after a cell that failed; a cell that hung or a dead kernel always ends the notebook */
  readonly keepGoing?: boolean;
  readonly onProgress?: (progress: Progress) => void;
  /** ends the run: kernels are killed and the promise rejects with the signal's reason */
  readonly signal?: AbortSignal;
}

/** What came of one notebook. */
export interface RunResult {
  /** the notebook's path, as it was given */
  readonly path: string;
  /** the notebook with its outputs: valid nbformat 4.5, also where it failed */
  readonly notebook: Notebook;
  /** empty where all is well */
  readonly failures: readonly Failure[];
  /** wall time from the start of its kernel */
  readonly seconds: number;
}

const ROOT = fileURLToPath(new URL("../../", import.meta.url)).replace(/[\\/]$/, "");

/**
 * Runs several notebooks, a few at a time, each in a kernel of its own.
 *
 * @param paths    files; all are read before the first is run
 * @param options  as for one; `parallel`, how many at a time, default 2
 * @returns results in the order of `paths`
 * @throws {NotebookRefused} where one of the files is not a notebook; nothing has been run then
 */
export async function runNotebooks(
  paths: readonly string[],
  options: RunOptions & { readonly parallel?: number } = {},
): Promise<RunResult[]> {
  const notebooks = await Promise.all(paths.map(readNotebook));
  const pace = new Pace(notebooks.reduce((sum, notebook) => sum + countCode(notebook), 0));
  const results: RunResult[] = [];
  let next = 0;
  const work = async (): Promise<void> => {
    while (next < paths.length) {
      const i = next++;
      const notebook = notebooks[i];
      if (notebook === undefined) continue;
      results[i] = await runRead(paths[i] ?? "", notebook, options, pace);
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, options.parallel ?? 2) }, work));
  return results;
}

export function countCode(notebook: Notebook): number {
  return notebook.cells.filter(isCode).length;
}

async function runRead(
  path: string,
  notebook: Notebook,
  options: RunOptions,
  pace: Pace,
): Promise<RunResult> {
  const begun = performance.now();
  const cwd = resolve(options.cwd ?? dirname(path));
  const run = new NotebookRun(path, notebook, cwd, options, pace);
  const { cells, failures } = await run.all();
  return {
    path,
    notebook: { ...notebook, metadata: { ...notebook.metadata, ...kernelMetadata() }, cells },
    failures,
    seconds: (performance.now() - begun) / 1000,
  };
}

/** One notebook on its way through its kernel. */
class NotebookRun {
  readonly #failures: Failure[] = [];
  readonly #cells: Cell[];
  readonly #tidy: Tidy;
  readonly #seconds: number;
  readonly #total: number;
  #cell = 0;

  constructor(
    private readonly path: string,
    notebook: Notebook,
    private readonly cwd: string,
    private readonly options: RunOptions,
    private readonly pace: Pace,
  ) {
    this.#cells = notebook.cells.map((cell) =>
      isCode(cell) ? { ...cell, outputs: [], execution_count: null } : cell
    );
    this.#total = countCode(notebook);
    this.#seconds = options.secondsPerCell ?? 120;
    this.#tidy = tidyText(foldersToHide(cwd, options.env ?? {}));
  }

  async all(): Promise<{ cells: readonly Cell[]; failures: readonly Failure[] }> {
    this.options.signal?.throwIfAborted();
    this.#tell("starting");
    const kernel = await this.#start();
    const stop = (): void => kernel?.kill();
    this.options.signal?.addEventListener("abort", stop);
    try {
      this.options.signal?.throwIfAborted();
      if (kernel !== undefined) await this.#runCells(kernel);
    } finally {
      this.options.signal?.removeEventListener("abort", stop);
      await kernel?.stop();
    }
    this.options.signal?.throwIfAborted();
    this.pace.finish(this.#total - this.#cell);
    this.#tell(this.#failures.length > 0 ? "failed" : "done");
    return { cells: this.#cells, failures: this.#failures };
  }

  async #start(): Promise<Kernel | undefined> {
    try {
      return await Kernel.start({ cwd: this.cwd, env: this.options.env ?? {} });
    } catch (error) {
      const message = this.#tidy((error as Error).message);
      this.#failures.push({ notebook: this.path, kind: "start", message });
      return undefined;
    }
  }

  async #runCells(kernel: Kernel): Promise<void> {
    for (const [i, cell] of this.#cells.entries()) {
      if (!isCode(cell)) continue;
      this.#cell++;
      this.#tell("running");
      const goOn = cell.source.trim() === "" || await this.#runCell(kernel, cell, i);
      this.pace.finish();
      if (!goOn || this.options.signal?.aborted) return;
    }
  }

  /** Runs a cell, keeps its outputs and failures, and says whether the next may run. */
  async #runCell(kernel: Kernel, cell: CodeCell, index: number): Promise<boolean> {
    const place: Place = { notebook: this.path, cell: this.#cell, source: cell.source };
    const turn = await this.#turn(kernel, cell.source);
    const { outputs, problems } = collectOutputs(turn.messages, this.#cell, this.#tidy);
    const found = [
      ...await this.#failuresOf(turn, outputs, place, kernel.stderrTail),
      ...problems.map((problem) => failureAt(place, "output", problem, turn.line)),
    ];
    const wanted = cellTags(cell).includes("raises-exception");
    const failures = found.filter((failure) => !(wanted && failure.kind === "error"));
    const unsaid = found.filter(({ kind }) => kind !== "error").map(failureOutput);
    const said = outputs.map((output) => readableError(output, place, turn.line));
    const after = { ...cell, execution_count: this.#cell, outputs: [...said, ...unsaid] };
    this.#cells[index] = after;
    this.#failures.push(...failures);
    return turn.ended === "done" && (failures.length === 0 || this.options.keepGoing === true);
  }

  /** Runs a cell with the runner's notes in it; one that did not even begin so is run again as it is written. */
  async #turn(kernel: Kernel, source: string): Promise<Turn> {
    const job = { cell: this.#cell, imports: cellImports(source) };
    const turn = await kernel.run(
      { ...job, code: instrument(source, this.#cell) },
      this.#seconds * 1000,
    );
    if (!neverBegan(turn)) return turn;
    return await kernel.run({ ...job, code: source }, this.#seconds * 1000);
  }

  async #failuresOf(
    turn: Turn,
    outputs: CodeCell["outputs"],
    place: Place,
    stderrTail: string,
  ): Promise<Failure[]> {
    if (turn.ended !== "done") {
      return [failureOfEnd(turn, place, this.#seconds, this.#tidy(stderrTail))];
    }
    if (!neverBegan(turn)) return failuresOf(turn, outputs, place);
    const cause = await syntaxCause(place.source, resolve(ROOT, "deno.json"));
    const said = [turn.reply?.ename, turn.reply?.evalue].filter(Boolean).join(": ");
    return [failureAt(place, "syntax", this.#tidy(cause?.message ?? said), cause?.line)];
  }

  #tell(state: Progress["state"]): void {
    const secondsLeft = this.pace.secondsLeft();
    const counted = { cell: this.#cell, cells: this.#total };
    const left = secondsLeft === undefined ? {} : { secondsLeft };
    this.options.onProgress?.({ notebook: this.path, state, ...counted, ...left });
  }
}

/** Whether the kernel refused a cell before its first statement. */
export function neverBegan({ ended, reply, line }: Turn): boolean {
  return ended === "done" && reply?.status === "error" && line === undefined;
}

/** Folders of this computer that have no business in a notebook, and what stands for each. */
export function foldersToHide(
  cwd: string,
  env: Readonly<Record<string, string>>,
): (readonly [string, string])[] {
  const home = Deno.env.get("HOME") ?? Deno.env.get("USERPROFILE") ?? "";
  const named = Object.values(env).filter((value) => isAbsolute(value));
  return [
    [ROOT, "."],
    ...(cwd.startsWith(ROOT) ? [] : [[cwd, "."]] as const),
    ...named.map((value) => [value, basename(value)] as const),
    [tmpdir(), "(temporary folder)"],
    [home, "~"],
  ];
}

// Why the kernel could not even read a cell: it does not say, so the cell is read again outside it.

/** What is wrong with a cell's code, and on which of its lines. */
export interface SyntaxCause {
  readonly message: string;
  readonly line?: number;
}

/** Codes of the type checker that are about form or modules, not about types. */
const OF_FORM = /^TS(?:1\d{3}|2300|2307|2451|18\d{3})$/;

/**
 * Looks for the fault in a cell that the kernel refused: first by the formatter's parser, then by the type checker,
 * which also knows repeated names and modules that are not there.
 *
 * @param source  the cell's code
 * @param config  path of the deno.json whose import map the cell uses
 * @returns the first fault found, or undefined where neither finds one
 */
export async function syntaxCause(
  source: string,
  config: string,
): Promise<SyntaxCause | undefined> {
  const folder = await tempFolder("cell");
  const file = join(folder, "cell.ts");
  try {
    await Deno.writeTextFile(file, `${source}\nexport {};\n`);
    const parsed = await say(["fmt", "--no-config", "--check", file], folder);
    const fault = parseFault(parsed);
    if (fault !== undefined && !fault.message.includes("lexing error")) return fault;
    const checked = await say(["check", "--no-lock", "--config", config, file], folder);
    return parseFault(checked) ?? formFault(checked);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** Everything a Deno subcommand says. */
async function say(args: readonly string[], cwd: string): Promise<string> {
  const { out, err } = await denoSays(args, cwd);
  return out + err;
}

/**
 * The first parse error in what a Deno subcommand says.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const said = "error: SyntaxError: Expression expected\n  |\n    at file:///tmp/cell.ts:2:19\n";
 * assert.deepEqual(parseFault(said), { message: "Expression expected", line: 2 });
 * ```
 */
export function parseFault(said: string): SyntaxCause | undefined {
  const message = /SyntaxError: (.+)/.exec(said)?.[1];
  if (message === undefined) return undefined;
  const line = /\bat file:\S+?:(\d+):\d+/.exec(said)?.[1] ?? /^(\d+) \|/m.exec(said)?.[1];
  return { message, ...(line !== undefined && { line: Number(line) }) };
}

/** The first complaint about form or modules in what the type checker says. */
export function formFault(said: string): SyntaxCause | undefined {
  for (const block of said.split(/\n(?=TS\d+ \[ERROR\])/)) {
    const [, code, message] = /^(TS\d+) \[ERROR\]: (.+)/m.exec(block) ?? [];
    const line = /\bat file:\S+?:(\d+):\d+/.exec(block)?.[1];
    if (code !== undefined && message !== undefined && OF_FORM.test(code)) {
      return { message, ...(line !== undefined && { line: Number(line) }) };
    }
  }
  const [, message, line] = /^error: (.+?)\n\s+at file:\S+?:(\d+):\d+/m.exec(said) ?? [];
  return message === undefined ? undefined : { message, line: Number(line) };
}

// What went wrong in a notebook, said so that its reader finds the place.

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
  stderrTail: string,
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
  const words = stderrTailOf(stderrTail);
  return failureAt(
    place,
    "died",
    `the kernel ended with exit code ${exitCode}${memory}${words}${fault}`,
    line,
  );
}

/** What a dying kernel said, without the addresses of its own code. */
function stderrTailOf(said: string): string {
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
  const scored = exported.map((other) => [editDistance(name, other), other] as const)
    .filter(([score]) => score <= Math.max(2, name.length / 3))
    .sort(([a], [b]) => a - b);
  return scored[0] === undefined ? "" : `, perhaps ${scored[0][1]}?`;
}

// What a person can watch while notebooks run.

/** One step of the run. */
export interface Progress {
  /** the notebook's path, as it was given */
  readonly notebook: string;
  /** `kept`: as the last build gave it, for nothing has changed */
  readonly state: "starting" | "running" | "done" | "failed" | "kept";
  /** number of the code cell that runs or has run last; 0 before the first */
  readonly cell: number;
  /** how many code cells the notebook has */
  readonly cells: number;
  /** estimate for everything asked for, in seconds; absent until there is something to go by */
  readonly secondsLeft?: number;
}

/** Estimates the time left from the cells done so far, at the pace they were done. */
export class Pace {
  #done = 0;
  readonly #begun: number;

  /**
   * @param total  code cells in all
   * @param now    a clock in milliseconds
   */
  constructor(
    private readonly total: number,
    private readonly now: () => number = () => performance.now(),
  ) {
    this.#begun = now();
  }

  /** Notes that one more cell, or several, need not be waited for any longer. */
  finish(cells = 1): void {
    this.#done += cells;
  }

  /** Seconds left, rounded up; undefined before the first cell is done. */
  secondsLeft(): number | undefined {
    if (this.#done === 0) return undefined;
    const perCell = (this.now() - this.#begun) / this.#done;
    return Math.ceil((perCell * Math.max(0, this.total - this.#done)) / 1000);
  }
}

/**
 * A step in one line for a terminal.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const step = { notebook: "notebooks/02-read.ipynb", state: "running", cell: 3, cells: 14 } as const;
 * assert.equal(progressText(step), "notebooks/02-read.ipynb  cell 3 of 14");
 * ```
 */
export function progressText({ notebook, state, cell, cells, secondsLeft }: Progress): string {
  const what = {
    starting: "starting",
    running: `cell ${cell} of ${cells}`,
    done: `done, ${cells} cells`,
    kept: `as it was, ${cells} cells`,
    failed: `failed in cell ${cell} of ${cells}`,
  }[state];
  const left = secondsLeft === undefined ? "" : `  about ${spell(secondsLeft)} left`;
  return `${notebook}  ${what}${left}`;
}

function spell(seconds: number): string {
  if (seconds < 60) return `${seconds} s`;
  return `${Math.floor(seconds / 60)} min ${String(seconds % 60).padStart(2, "0")} s`;
}

// What a Deno subcommand says, on both of its streams; no colours, nothing to read.

export async function denoSays(
  args: readonly string[],
  cwd: string,
  signal?: AbortSignal,
): Promise<{ readonly out: string; readonly err: string }> {
  const command = new Deno.Command(Deno.execPath(), {
    args: [...args],
    cwd,
    ...(signal === undefined ? {} : { signal }),
    env: { NO_COLOR: "1" },
    stdin: "null",
    stdout: "piped",
    stderr: "piped",
  });
  const { stdout, stderr } = await command.output();
  const decoder = new TextDecoder();
  return { out: decoder.decode(stdout), err: decoder.decode(stderr) };
}

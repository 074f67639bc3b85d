/** Runs notebooks on the real Deno kernel; the kernel's silence is never taken for success. */
import { tmpdir } from "node:os";
import { basename, dirname, isAbsolute, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { denoSays } from "./denoSays.ts";
import { cellImports } from "./kernel/imports.ts";
import { instrument } from "./kernel/instrument.ts";
import { Kernel, type Turn } from "./kernel/kernel.ts";
import { collectOutputs, type Tidy, tidyText } from "./kernel/outputs.ts";
import { kernelMetadata } from "./kernelspec.ts";
import {
  type Cell,
  cellTags,
  type CodeCell,
  isCode,
  type Notebook,
  readNotebook,
} from "./notebook.ts";
import {
  type Failure,
  failureAt,
  failureOfEnd,
  failureOutput,
  failuresOf,
  type Place,
  readableError,
} from "./runnerFailure.ts";
import { Pace, type Progress } from "./runnerProgress.ts";
import { tempFolder } from "./tempFolder.ts";

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

/** Where notebooks that ran well are found again and kept. */
export interface Keeper {
  find(path: string, notebook: Notebook): Promise<RunResult | undefined>;
  keep(before: Notebook, result: RunResult): Promise<void>;
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
 * Runs one notebook from top to bottom in a kernel of its own.
 *
 * @param path     the notebook's file; it is read, never written
 * @param options  see {@linkcode RunOptions}
 * @throws {NotebookRefused} where the file is not a notebook; whatever happens in the cells is in the result instead
 */
export async function runNotebook(path: string, options: RunOptions = {}): Promise<RunResult> {
  return await runRead(path, await readNotebook(path), options);
}

/**
 * Runs several notebooks, a few at a time, each in a kernel of its own.
 *
 * @param paths    files; all are read before the first is run
 * @param options  as for one; `parallel`, how many at a time, default 2; `kept`, where finished ones are found and kept
 * @returns results in the order of `paths`
 * @throws {NotebookRefused} where one of the files is not a notebook; nothing has been run then
 */
export async function runNotebooks(
  paths: readonly string[],
  options: RunOptions & { readonly parallel?: number; readonly kept?: Keeper } = {},
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
      const path = paths[i] ?? "", before = await options.kept?.find(path, notebook);
      if (before !== undefined) tellKept(before, options, pace);
      const result = before ?? await runRead(path, notebook, options, pace);
      if (before === undefined) await options.kept?.keep(notebook, result);
      results[i] = result;
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, options.parallel ?? 2) }, work));
  return results;
}

/** A notebook that need not run again counts as run. */
function tellKept({ path, notebook }: RunResult, { onProgress }: RunOptions, pace: Pace): void {
  const cells = countCode(notebook);
  pace.skip(cells);
  onProgress?.({ notebook: path, state: "kept", cell: cells, cells });
}

function countCode(notebook: Notebook): number {
  return notebook.cells.filter(isCode).length;
}

async function runRead(
  path: string,
  notebook: Notebook,
  options: RunOptions,
  pace: Pace = new Pace(countCode(notebook)),
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
      ...await this.#failuresOf(turn, outputs, place, kernel.lastWords),
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
    lastWords: string,
  ): Promise<Failure[]> {
    if (turn.ended !== "done") {
      return [failureOfEnd(turn, place, this.#seconds, this.#tidy(lastWords))];
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
function neverBegan({ ended, reply, line }: Turn): boolean {
  return ended === "done" && reply?.status === "error" && line === undefined;
}

/** Folders of this computer that have no business in a notebook, and what stands for each. */
function foldersToHide(
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

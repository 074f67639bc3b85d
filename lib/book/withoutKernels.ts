/**
 * Runs notebooks in this process, a few threads side by side, without kernels: the cells are read and run as in a page, and
 * what they put out is what a kernel puts out, byte for byte (`tests/book/withoutKernels.test.ts` compares them).
 */
import { basename, dirname, resolve } from "node:path";
import type { Mirror } from "../knowledge/open.ts";
import { tidiedOutputs, tidyText } from "./kernel/outputs.ts";
import type { Kept } from "./kept.ts";
import { kernelMetadata } from "./kernelspec.ts";
import {
  type Cell,
  cellTags,
  type CodeCell,
  isCode,
  type Notebook,
  readNotebook,
} from "./notebook.ts";
import { Results } from "./results.ts";
import type {
  ThreadBegin,
  ThreadCell,
  ThreadDone,
  ThreadJob,
  ThreadSaid,
} from "./notebookThread.ts";
import {
  countCode,
  type Failure,
  failureAt,
  failureOutput,
  foldersToHide,
  Pace,
  type Place,
  type Progress,
  type RunOptions,
  type RunResult,
} from "./runner.ts";

/** How notebooks are run without kernels. */
export interface ThreadOptions
  extends Pick<RunOptions, "cwd" | "secondsPerCell" | "onProgress" | "signal"> {
  /** how many run side by side; default 2 */
  readonly parallel?: number;
  readonly record?: string;
  readonly today?: string;
  /** records that are read already, with what is known of them, by their folders */
  readonly known?: ReadonlyMap<string, Mirror>;
  /** told each result, in any order, while its thread runs the next notebook */
  readonly onResult?: (result: RunResult) => void;
  /** all of `paths` in the order in which threads take them, by turns from both its ends; default from the first to the last */
  readonly row?: readonly string[];
  /** threads that were begun before, to be ended by whoever began them; default those begun now, `parallel` of them */
  readonly threads?: readonly NotebookThread[];
  /** what the last build gave: cells and computations that have not changed are not run again */
  readonly kept?: Kept;
}

type Heard = Exclude<ThreadSaid, "ready" | ThreadDone>;

/** One thread, and whoever waits for what it says. */
export class NotebookThread {
  readonly #worker: Worker;
  // shared, for a thread that computes says nothing
  readonly #line = new Int32Array(new SharedArrayBuffer(4));
  #hear: (said: Heard | ThreadDone) => void = () => {};
  #fail: (why: string) => void = () => {};
  readonly #ready = Promise.withResolvers<void>();
  #ended: string | undefined;

  /**
   * @param reads  whether it reads all of the library at once, while whoever made it has something else to do
   */
  constructor(reads = false) {
    this.#worker = new Worker(new URL("./notebookThread.ts", import.meta.url), { type: "module" });
    this.#worker.onmessage = ({ data }: MessageEvent<ThreadSaid>) =>
      data === "ready" ? this.#ready.resolve() : this.#hear(data);
    this.#worker.onerror = (event) => {
      event.preventDefault();
      this.#over(event.message);
    };
    if (reads) this.#worker.postMessage("read");
  }

  /** It has read what it needs, or has ended. */
  get ready(): Promise<void> {
    return this.#ready.promise;
  }

  #over(why: string): void {
    this.#ended ??= why;
    this.#ready.resolve();
    this.#fail(why);
  }

  begin(begin: Omit<ThreadBegin, "line">): void {
    this.#worker.postMessage({ begin: { ...begin, line: this.#line } });
  }

  /** The line that its cell has come to. */
  get line(): number | undefined {
    return this.#line[0] === 0 ? undefined : this.#line[0];
  }

  /**
   * Runs a notebook.
   *
   * @param hear  told what comes
   * @returns what was worked out on the way, or why it ended before its time
   */
  run(
    job: ThreadJob,
    hear: (said: Heard) => void,
  ): Promise<ThreadDone | string> {
    return new Promise((ended) => {
      if (this.#ended !== undefined) return ended(this.#ended);
      this.#fail = ended;
      this.#hear = (said) => "done" in said ? ended(said) : hear(said);
      this.#worker.postMessage({ job });
    });
  }

  end(): void {
    this.#worker.terminate();
    this.#over("the thread was ended");
  }
}

/** One notebook on its way. */
class OnItsWay {
  readonly cells: Cell[];
  readonly failures: Failure[] = [];
  /** what cells gave, by their stamps */
  readonly given = new Map<string, ThreadCell>();
  /** whether no cell had to run */
  isKept = true;
  #kept: ReadonlyMap<string, ThreadCell> = new Map();
  readonly #code: readonly number[];
  readonly #tidy;
  readonly #total: number;
  /** cells begun */
  #cell = 0;

  constructor(
    readonly path: string,
    private readonly notebook: Notebook,
    readonly cwd: string,
    private readonly options: ThreadOptions,
    private readonly pace: Pace,
  ) {
    this.cells = notebook.cells.map((cell) =>
      isCode(cell) ? { ...cell, outputs: [], execution_count: null } : cell
    );
    this.#code = this.cells.flatMap((cell, at) => isCode(cell) ? [at] : []);
    this.#total = countCode(notebook);
    const env = options.record === undefined ? {} : { FIRST_MIRROR_RECORD: options.record };
    this.#tidy = tidyText(foldersToHide(cwd, env));
  }

  /** What the thread is asked. */
  async job(results: ThreadJob["results"]): Promise<ThreadJob> {
    const { kept } = this.options;
    this.#kept = await kept?.cellsOf(this.name) ?? new Map();
    const code = this.#code.map((at) => this.cells[at]).filter((cell) => cell !== undefined);
    return {
      cwd: this.cwd,
      sources: code.map(({ source }) => source),
      mayThrow: code.flatMap((cell, n) => cellTags(cell).includes("raises-exception") ? [n] : []),
      record: kept?.record ?? "",
      kept: new Set(this.#kept.keys()),
      results,
    };
  }

  tell(state: Progress["state"]): void {
    const secondsLeft = this.pace.secondsLeft();
    this.options.onProgress?.({
      notebook: this.path,
      state,
      cell: this.#cell,
      cells: this.#total,
      ...(secondsLeft === undefined ? {} : { secondsLeft }),
    });
  }

  get name(): string {
    return basename(this.path, ".ipynb");
  }

  hear(said: Heard): void {
    if ("ran" in said) {
      const { ran, stamp } = said;
      if (ran.stopped === undefined) this.given.set(stamp, ran);
      this.isKept = false;
      return this.#ran(ran);
    }
    if ("kept" in said) {
      const { kept: cell, stamp } = said, ran = { outputs: [], ...this.#kept.get(stamp), cell };
      this.given.set(stamp, ran);
      return this.#ran(ran);
    }
    this.#cell = said.begins + 1;
    this.tell("running");
  }

  #ran({ cell: n, outputs, stopped, unshown }: ThreadCell): void {
    const at = this.#code[n] ?? 0, cell = this.cells[at] as CodeCell;
    this.#cell = n + 1;
    this.pace.finish();
    const place: Place = { notebook: this.path, cell: n + 1, source: cell.source };
    const { outputs: tidied, problems } = tidiedOutputs(outputs, this.#tidy);
    const failures = problems.map((problem) => failureAt(place, "output", problem));
    if (unshown !== undefined) {
      const why =
        `the cell's value is ${unshown}, which a kernel does not show; end the cell with show(...)`;
      failures.push(failureAt(place, "unshown", why));
    }
    const counted = tidied.map((output) =>
      output.output_type === "execute_result" ? { ...output, execution_count: n + 1 } : output
    );
    const said: CodeCell["outputs"][number][] = [...counted, ...failures.map(failureOutput)];
    if (stopped !== undefined) {
      const message = this.#tidy(stopped.message);
      said.push({
        output_type: "error",
        ename: stopped.name,
        evalue: message,
        traceback: [
          `${stopped.name}: ${message}`,
          `    at ${stopped.line === undefined ? "" : `line ${stopped.line} of `}code cell ${n + 1}`
            .replace(/line (\d+) of (code cell \d+)/, "$2, line $1"),
        ],
      });
      const wanted = cellTags(cell).includes("raises-exception");
      const told = stopped.kind === "error" ? `${stopped.name}: ${message}` : message;
      if (!wanted) failures.push(failureAt(place, stopped.kind, told, stopped.line));
    }
    this.cells[at] = { ...cell, execution_count: n + 1, outputs: said };
    this.failures.push(...failures);
  }

  /** The cell that runs did not come back. */
  end(why: string, line: number | undefined): void {
    const n = Math.max(1, this.#cell), at = this.#code[n - 1] ?? 0;
    const source = this.cells[at]?.source ?? "";
    const kind = why.startsWith("still") ? "loop" : "died";
    this.failures.push(failureAt({ notebook: this.path, cell: n, source }, kind, why, line));
  }

  result(begun: number): RunResult {
    this.pace.finish(this.#total - this.#cell);
    this.tell(this.failures.length > 0 ? "failed" : this.isKept ? "kept" : "done");
    const metadata = { ...this.notebook.metadata, ...kernelMetadata() };
    return {
      path: this.path,
      notebook: { ...this.notebook, metadata, cells: this.cells },
      failures: this.failures,
      seconds: (performance.now() - begun) / 1000,
    };
  }
}

/**
 * Runs notebooks without kernels.
 *
 * @param paths  files; all are read before the first is run
 * @returns results in the order of `paths`
 * @throws {NotebookRefused} where one of the files is not a notebook; nothing has been run then
 */
export async function runWithoutKernels(
  paths: readonly string[],
  options: ThreadOptions = {},
): Promise<RunResult[]> {
  options.signal?.throwIfAborted();
  const { parallel = 2, record, today, secondsPerCell = 120, signal, kept } = options;
  const count = Math.max(1, Math.min(parallel, paths.length));
  const threads = [...options.threads ?? Array.from({ length: count }, () => new NotebookThread())];
  const stop = (): void => threads.forEach((thread) => thread.end());
  signal?.addEventListener("abort", stop);
  try {
    const notebooks = await Promise.all(paths.map(readNotebook));
    const pace = new Pace(notebooks.reduce((sum, notebook) => sum + countCode(notebook), 0));
    const known = options.known ?? new Map<string, Mirror>();
    const memory = kept?.results ?? new Results();
    const begin = {
      known,
      results: memory.all(),
      ...(record === undefined ? {} : { record }),
      ...(today === undefined ? {} : { today }),
    };
    const results: RunResult[] = [], row = [...options.row ?? paths];
    const take = (place: number): string | undefined =>
      options.row !== undefined && place % 2 === 1 ? row.pop() : row.shift();
    /** what came after the beginning, and how much of it each thread has been told */
    const news: [string, Uint8Array][] = [], told = threads.map(() => 0);
    const keeping: Promise<void>[] = [];
    const work = async (place: number): Promise<void> => {
      threads[place]?.begin(begin);
      let tell = (): void => {};
      while (signal?.aborted !== true) {
        const path = take(place), begun = performance.now();
        if (path === undefined) break;
        const i = paths.indexOf(path), notebook = notebooks[i], thread = threads[place];
        if (notebook === undefined || thread === undefined) continue;
        const way = new OnItsWay(
          path,
          notebook,
          resolve(options.cwd ?? dirname(path)),
          options,
          pace,
        );
        way.tell("starting");
        const job = await way.job(new Map(news.slice(told[place])));
        told[place] = news.length;
        // what it reads before is no cell's time
        await thread.ready;
        const running = limited(thread, job, way, secondsPerCell);
        tell();
        const ended = await running, runsOn = typeof ended !== "string";
        if (runsOn) {
          news.push(...ended.done);
          memory.take(ended);
        } else {
          way.end(ended, thread.line);
          thread.end();
          threads[place] = new NotebookThread();
          threads[place]?.begin(begin);
          told[place] = 0;
        }
        const result = results[i] = way.result(begun);
        tell = () => {
          if (runsOn && !way.isKept && kept !== undefined) {
            keeping.push(kept.keepCells(way.name, way.given));
          }
          options.onResult?.(result);
        };
      }
      tell();
    };
    await Promise.all(threads.map((_, place) => work(place)));
    await Promise.all(keeping);
    signal?.throwIfAborted();
    return results;
  } finally {
    signal?.removeEventListener("abort", stop);
    for (const thread of threads) thread.end();
  }
}

/** Runs a notebook as long as each of its cells takes no longer than it may. @returns what it worked out, or why it was ended */
async function limited(
  thread: NotebookThread,
  job: ThreadJob,
  way: OnItsWay,
  seconds: number,
): Promise<ThreadDone | string> {
  let end: (why: string) => void = () => {};
  const over = new Promise<string>((ended) => end = ended);
  const limit = (): ReturnType<typeof setTimeout> =>
    setTimeout(
      () =>
        end(`still computing or waiting after ${seconds} s; a loop or an await that does not end?`),
      seconds * 1000,
    );
  let clock = limit();
  try {
    const run = thread.run(job, (said) => {
      if (!("begins" in said)) {
        clearTimeout(clock);
        clock = limit();
      }
      way.hear(said);
    });
    return await Promise.race([run, over]);
  } finally {
    clearTimeout(clock);
  }
}

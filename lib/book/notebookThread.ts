/** A thread in which notebooks run without a kernel: a notebook's cells in, what each gave out. */
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { type Mirror, openAnew, openMirrorsBy } from "../knowledge/open.ts";
import { type CellCode, readCell } from "../living/cellCode.ts";
import { CellRefused } from "../living/cellErrors.ts";
import type { Output } from "../living/output.ts";
import { Dependence, noNames } from "../living/dependence.ts";
import { frames } from "../living/frames.ts";
import { Session } from "../living/session.ts";
import { namesIn } from "../living/thread.ts";
import { rememberIn } from "../numeric/remembered.ts";
import { makeFramesBy } from "../record/polars.ts";
import { files, useFiles } from "../record/fileSystem.ts";
import { Results } from "./results.ts";

/** What a thread is told first. */
export interface ThreadBegin {
  /** folder of the record, and the day it is, as a kernel has them in its environment */
  readonly record?: string;
  readonly today?: string;
  /** records that are read already, with what is known of them, by their folders */
  readonly known: ReadonlyMap<string, Mirror>;
  /** results of long computations, as `Results` keeps them */
  readonly results: ReadonlyMap<string, Uint8Array>;
  /** one number, shared: the line that the cell has come to; 0 before the first */
  readonly line: Int32Array;
}

/** A notebook to run. */
export interface ThreadJob {
  /** folder from which its own modules are found */
  readonly cwd: string;
  readonly sources: readonly string[];
  /** cells that may throw: what comes after them runs all the same */
  readonly mayThrow: readonly number[];
  /** a mark of the record as it stands, for the cells' stamps */
  readonly record: string;
  /** stamps of cells of which it is kept what they gave */
  readonly kept: ReadonlySet<string>;
  /** what other threads have worked out meanwhile */
  readonly results: ReadonlyMap<string, Uint8Array>;
}

/** What came of a cell. */
export interface ThreadCell {
  readonly cell: number;
  readonly outputs: readonly Output[];
  readonly stopped?: {
    readonly kind: "error" | "syntax" | "import" | "uncaught";
    readonly name: string;
    readonly message: string;
    readonly line?: number;
  };
  /** the cell's value in words, where it is one that a kernel does not show */
  readonly unshown?: string;
}

/** What a thread says. */
export type ThreadSaid =
  | "ready"
  /** a cell that begins */
  | { readonly begins: number }
  | { readonly ran: ThreadCell; readonly stamp: string }
  /** a cell that did not have to run */
  | { readonly kept: number; readonly stamp: string }
  | ThreadDone;

/** The notebook has ended. */
export interface ThreadDone {
  /** what was worked out on the way */
  readonly done: ReadonlyMap<string, Uint8Array>;
  /** keys of results that were used */
  readonly used: ReadonlySet<string>;
}

interface Door {
  onmessage: (event: MessageEvent<"read" | { begin: ThreadBegin } | { job: ThreadJob }>) => void;
  readonly postMessage?: (message: ThreadSaid) => void;
}

const door = self as unknown as Door;

/** Each record is opened once in a thread; one that is known is neither read nor worked out again. */
function begin({ record, today, known, results, line }: ThreadBegin): void {
  lineNow = line;
  memory = new Results(results);
  rememberIn(memory);
  const disk = files(), settings = { record, today };
  useFiles({ ...disk, setting: (name) => settings[name] });
  // frames as in a page: the same to the last digit, and polars itself takes longer to load than all of them to make
  makeFramesBy(frames);
  const opened = new Map<string, Promise<Mirror>>();
  openMirrorsBy(async (folder, day, instead) => {
    const real = await files().realPath(folder).catch(() => folder);
    if (instead !== undefined) return await openAnew(folder, day, instead);
    const key = JSON.stringify([real, day]);
    const there = known.get(real), isOfDay = day === undefined || day === today;
    if (there !== undefined && isOfDay) return there;
    const mirror = opened.get(key) ?? openAnew(folder, day, undefined, there?.summary);
    opened.set(key, mirror);
    return await mirror;
  });
}

const inWords = (value: unknown): string | undefined => {
  if (Object.is(value, -0)) return "-0";
  if (value === null) return "null";
  if (typeof value === "bigint") return "a bigint";
  return typeof value === "number" && Number.isNaN(value) ? "NaN" : undefined;
};

function codeOf(source: string): CellCode | CellRefused {
  try {
    return readCell(source);
  } catch (refused) {
    if (refused instanceof CellRefused) return refused;
    throw refused;
  }
}

/** Runs a notebook's cells until one stops. */
async function run(
  { cwd, sources, mayThrow, record, kept }: ThreadJob,
  say: (said: ThreadSaid) => void,
): Promise<void> {
  const from = pathToFileURL(join(cwd, "notebook.ipynb"));
  const loaded = new Map<string, Promise<Readonly<Record<string, unknown>>>>();
  const session = new Session({
    load: (module) => {
      const there = loaded.get(module) ?? moduleFrom(module, from);
      loaded.set(module, there);
      return there;
    },
    modules: [],
    library: new Map(),
    inspect: Deno.inspect,
  });
  listening = (reason) => session.fault(reason);
  const codes = sources.map(codeOf);
  const read = codes.filter((code): code is CellCode => !(code instanceof CellRefused));
  const names = new Set(
    read.flatMap((code) => [...code.declares.keys(), ...code.imports.keys()]),
  );
  const dependence = new Dependence(
    codes.map((code) => code instanceof CellRefused ? noNames : namesIn(code)),
  );
  const stamps = dependence.stamps(sources, record), done = new Map<number, ThreadCell>();
  const runOne = async (cell: number, code: CellCode | CellRefused): Promise<ThreadCell> => {
    const ran = done.get(cell) ?? await cellOf(cell, code, session, names, say);
    done.set(cell, ran);
    return ran;
  };
  for (const [cell, code] of codes.entries()) {
    if (sources[cell]?.trim() === "") continue;
    const stamp = stamps[cell] ?? "";
    if (kept.has(stamp)) {
      say({ kept: cell, stamp });
      continue;
    }
    // what was kept has not run: its names have no values yet
    for (const need of dependence.needs(cell)) {
      const other = codes[need];
      if (other !== undefined && need < cell) await runOne(need, other);
    }
    if (!(code instanceof CellRefused)) await provide(session, code, read);
    const ran = await runOne(cell, code);
    say({ ran: { ...ran, cell }, stamp });
    if (ran.stopped !== undefined && !mayThrow.includes(cell)) return;
  }
}

async function moduleFrom(module: string, from: URL): Promise<Readonly<Record<string, unknown>>> {
  if (module === "nodejs-polars") return { default: frames };
  return await import(module.startsWith(".") ? new URL(module, from).href : module);
}

/** Gives a cell the imports that it uses of cells which have not run. */
async function provide(session: Session, code: CellCode, all: readonly CellCode[]): Promise<void> {
  for (const other of all) {
    await session.provide(new Map([...other.imports].filter(([name]) => code.uses.has(name))));
  }
}

async function cellOf(
  cell: number,
  code: CellCode | CellRefused,
  session: Session,
  names: ReadonlySet<string>,
  say: (said: ThreadSaid) => void,
): Promise<ThreadCell> {
  if (code instanceof CellRefused) {
    return { cell, outputs: [], stopped: stoppedBy("syntax", code, code) };
  }
  lineNow[0] = 0;
  say({ begins: cell });
  const { outputs, refused, thrown, value } = await session.run(
    code,
    names,
    (line) => void (lineNow[0] = line),
  );
  if (refused !== undefined) {
    const kind = thrown instanceof CellRefused ? "import" : "error";
    return { cell, outputs, stopped: stoppedBy(kind, refused, thrown) };
  }
  const unshown = inWords(value);
  return { cell, outputs, ...(unshown !== undefined && { unshown }) };
}

function stoppedBy(
  kind: "error" | "syntax" | "import",
  { message, line }: CellRefused,
  thrown: unknown,
): NonNullable<ThreadCell["stopped"]> {
  const name = thrown instanceof Error ? thrown.name : "Error";
  const said = thrown instanceof Error && !(thrown instanceof CellRefused)
    ? thrown.message
    : message;
  return { kind, name, message: said, ...(line !== undefined && { line }) };
}

let memory = new Results();
let lineNow: Int32Array = new Int32Array(1);
let listening: (reason: unknown) => void = () => {};

// outside a thread, where the tests load every file, there is no door
const send = door.postMessage;
if (send !== undefined) {
  const say = (said: ThreadSaid): void => send(said);
  addEventListener("unhandledrejection", (event) => {
    event.preventDefault();
    listening(event.reason);
  });
  addEventListener("error", (event) => {
    event.preventDefault();
    listening(event.error ?? event.message);
  });
  door.onmessage = async ({ data }): Promise<void> => {
    // as nearly every notebook does in its first cells
    if (data === "read") {
      await Promise.all([
        import("../figures/mod.ts"),
        import("../knowledge/mod.ts"),
        import("../lessons/mod.ts"),
        import("../stages/mod.ts"),
      ]);
    } else if ("begin" in data) begin(data.begin);
    else {
      memory.learn(data.job.results);
      await run(data.job, say);
      const { added, used } = memory;
      memory = new Results(memory.all());
      rememberIn(memory);
      say({ done: added, used });
    }
  };
  say("ready");
}

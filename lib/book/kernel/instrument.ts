/** Words with which a statement begins that ends in its own closing brace, without a semicolon. */
import { runnersMark } from "../../figures/show.ts";
import { maskCode } from "../../living/maskCode.ts";

const BLOCK =
  /^(?:async\s+function|function|class|if|for|while|do|switch|try|interface|enum|namespace|\{)/;
/** Words that continue the statement before them. */
const CONTINUES = /^(?:else|catch|finally)\b/;
/** Words with which a statement begins that has no value of its own. */
const VALUELESS = new RegExp(
  "^(?:const|let|var|function|class|if|for|while|do|switch|try|return|throw|import|export|interface|type" +
    "|enum|declare|namespace|abstract|async\\s+function|debugger|break|continue)\\b|^[{@]",
);

/**
 * Adds to a cell what the kernel does not tell: before each statement a note of its line, and around the last
 * expression a copy of its value.
 *
 * The kernel names no line of the cell (it counts in its own rewritten code), nothing at all for a cell that hangs or
 * ends the process, and shows nothing for NaN, null, -0 and bigint. The notes are `var` declarations on the same line,
 * so that they change neither the lines nor the value of the cell. Where a statement's end cannot be seen for certain,
 * nothing is added; and a cell that does not even begin with the notes in it is run again as written (see the runner).
 *
 * @param source  a code cell's text
 * @param cell    the code cell's number, from 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(instrument("// depth\nfoo();", 3).split("\n").length, 2);
 * ```
 */
export function instrument(source: string, cell: number): string {
  const masked = maskCode(source);
  const starts = statementStarts(masked);
  const last = starts.at(-1);
  let out = "";
  let from = 0;
  for (const start of starts) {
    const line = source.slice(0, start).split("\n").length;
    out += source.slice(from, start) + `var firstMirrorLine = ${HOOK}.at(${cell}, ${line});`;
    from = start;
  }
  const tail = source.slice(from);
  if (last === undefined) return source;
  return out + (keepValue(tail, masked.slice(last)) ?? tail);
}

/** Positions at which a statement of the outermost level begins, in masked code. */
export function statementStarts(masked: string): number[] {
  const starts: number[] = [];
  let depth = 0;
  let begun = -1;
  for (let at = 0; at < masked.length; at++) {
    const char = masked[at] ?? "";
    if (/\s/.test(char)) continue;
    if (begun < 0 && char !== ";") {
      begun = at;
      starts.push(at);
    }
    if ("([{".includes(char)) depth++;
    if (")]}".includes(char)) depth--;
    if (depth !== 0 || begun < 0) continue;
    const statement = masked.slice(begun);
    const next = masked.slice(at + 1).trimStart();
    const closesBlock = char === "}" && BLOCK.test(statement);
    const continued = CONTINUES.test(next) || /^do\b/.test(statement) && /^while\b/.test(next);
    if ((char === ";" || closesBlock) && !continued) begun = -1;
  }
  return starts;
}

/** The last statement with its value kept aside, or undefined where it has none or its extent is not certain. */
function keepValue(statement: string, masked: string): string | undefined {
  if (VALUELESS.test(masked)) return undefined;
  const body = masked.replace(/[;\s]*$/, "");
  if (body === "" || body.includes(";") && !balanced(body)) return undefined;
  const text = statement.slice(0, body.length);
  return `(${HOOK}.value = (${text}))${statement.slice(body.length)}`;
}

function balanced(body: string): boolean {
  let depth = 0;
  for (const char of body) {
    if ("([{".includes(char)) depth++;
    if (")]}".includes(char)) depth--;
    if (char === ";" && depth === 0) return false;
  }
  return true;
}

// One import statement of a cell: the names it takes from a module as values.

export interface CellImport {
  /** the module as the cell writes it: "first-mirror/optics" */
  readonly specifier: string;
  /** exported names asked for; "default" for a default import; none for `import * as x` */
  readonly names: readonly string[];
  /** the cell's line on which the statement begins, from 1 */
  readonly line: number;
}

const STATEMENT = /^[ \t]*import\s+(type\s+)?([^"';]*?)\s*from\s*(["'])/gm;

/**
 * Lists what a cell imports as values, because the kernel gives `undefined` without a word for a name that a module
 * does not export. Imports of types ask for nothing at run time and are left out.
 *
 * @param source  a code cell's text
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const [found] = cellImports('import { sagitta as s, type Conic } from "first-mirror/optics";');
 * assert.deepEqual(found, { specifier: "first-mirror/optics", names: ["sagitta"], line: 1 });
 * ```
 */
export function cellImports(source: string): CellImport[] {
  const found: CellImport[] = [];
  for (const match of maskCode(source).matchAll(STATEMENT)) {
    const [whole, type, clause = "", quote = '"'] = match;
    const from = match.index + whole.length;
    const specifier = source.slice(from, source.indexOf(quote, from));
    const line = source.slice(0, match.index).split("\n").length;
    if (type === undefined) found.push({ specifier, names: namesIn(clause), line });
  }
  return found;
}

function namesIn(clause: string): string[] {
  const braces = /\{([^}]*)\}/.exec(clause);
  const named = (braces?.[1] ?? "").split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "" && !part.startsWith("type "))
    .map((part) => part.split(/\s+as\s+/)[0] ?? part);
  const rest = clause.replace(/\{[^}]*\}/, "").split(",").map((part) => part.trim());
  const wantsDefault = rest.some((part) => part !== "" && !part.startsWith("*"));
  return wantsDefault ? ["default", ...named] : named;
}

// Where the runner's own helpers live inside the kernel; no name that a cell could meet.

export const HOOK = `globalThis[Symbol.for(${JSON.stringify(runnersMark.description)})]`;

/** The MIME type under which the barrier's report comes back. */
export const REPORT = "application/vnd.first-mirror.barrier+json";

/** The MIME type under which a kernel that awaits says that it heard of Stop. */
export const HEARD = "application/vnd.first-mirror.heard+json";

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
  let halt = () => {};
  const listen = async () => {
    const bytes = new Uint8Array(64), decoder = new TextDecoder();
    for (let read; (read = await Deno.stdin.read(bytes)) !== null;) {
      // meant for a cell that has ended since, it stops nothing
      const cells = decoder.decode(bytes.subarray(0, read)).split("\\n");
      if (!cells.includes(String(runner.cell))) continue;
      halt();
      const data = { ${JSON.stringify(HEARD)}: true };
      await Deno.jupyter.broadcast("display_data", { data, metadata: {}, transient: {} });
    }
  };
  void listen();
  runner.stoppable = (awaited) => {
    const { promise, reject } = Promise.withResolvers();
    halt = () => reject(new Error("stopped"));
    return Promise.race([awaited, promise]);
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

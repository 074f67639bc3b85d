/**
 * Checks the code cells of notebooks by type and by lint. Neither tool reads .ipynb, so each notebook becomes a module
 * for the time of the check, and what is found is told in the notebook's own places.
 */
import { basename, dirname, isAbsolute, join, relative, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { maskCode } from "../../lib/living/maskCode.ts";
import { type CodeCell, isCode, type Notebook, readNotebook } from "../../lib/book/notebook.ts";
import { denoSays } from "../../lib/book/runner.ts";
import { tempFolder } from "../../lib/book/outputFolder.ts";

/** Something found in a cell, or in the library through it. */
export interface CellFinding {
  /** path of the notebook, as it was given; or of a file of the library */
  readonly notebook: string;
  /** number of the code cell, from 1; absent for what concerns the whole file */
  readonly cell?: number;
  /** line of the cell, from 1 */
  readonly line?: number;
  /** e.g. TS2322, no-unused-vars, house/cell-length */
  readonly code: string;
  readonly message: string;
}

/** A notebook's code as one module. */
export interface Extract {
  readonly source: string;
  /** for each line of the module, from 1, where it comes from */
  readonly places: readonly (CellLine | undefined)[];
}

/** A line of a cell. */
export interface CellLine {
  readonly cell: number;
  readonly line: number;
}

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/**
 * A finding in one line.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const found = { notebook: "a.ipynb", cell: 2, line: 1, code: "TS2322", message: "no number" };
 * assert.equal(findingText(found), "a.ipynb, code cell 2, line 1: no number (TS2322)");
 * ```
 */
export function findingText({ notebook, cell, line, code, message }: CellFinding): string {
  const where = [
    notebook,
    cell === undefined ? undefined : `code cell ${cell}`,
    line === undefined ? undefined : `line ${line}`,
  ];
  return `${where.filter((part) => part !== undefined).join(", ")}: ${message} (${code})`;
}

/**
 * Puts a notebook's code cells under one another as one module and remembers where each line came from.
 *
 * @param notebook  a notebook as read
 */
export function extractCells(notebook: Notebook): Extract {
  const lines: string[] = [];
  const places: (CellLine | undefined)[] = [undefined];
  notebook.cells.filter(isCode).forEach(({ source }, i) => {
    source.split("\n").forEach((text, k) => {
      lines.push(text);
      places.push({ cell: i + 1, line: k + 1 });
    });
    lines.push(";");
    places.push(undefined);
  });
  return { source: [...lines, "export {};", ""].join("\n"), places };
}

/**
 * Reads notebooks and checks their cells: types, imports and names repeated across cells by one `deno check`, style by
 * one `deno lint`, and the rules of the house.
 *
 * @param paths   the notebooks' files
 * @param config  the deno.json whose import map and compiler options hold; default: the kit's
 * @returns everything found, notebook by notebook, in the order of the cells
 * @throws {NotebookRefused} where a file is not a notebook
 */
export async function checkCells(
  paths: readonly string[],
  config: string = join(ROOT, "deno.json"),
): Promise<CellFinding[]> {
  const notebooks = await Promise.all(paths.map(readNotebook));
  const sizes = await Promise.all(paths.map(async (path) => (await Deno.stat(path)).size));
  const house = notebooks.flatMap((notebook, i) =>
    styleRules(notebook, paths[i] ?? "", sizes[i] ?? 0)
  );
  const folder = await Deno.realPath(await tempFolder("cells"));
  try {
    const modules = await writeModules(folder, paths, notebooks, config);
    const lint = await pinSyntax(await lintModules(modules, folder), notebooks, paths, folder);
    const broken = new Set(
      lint.filter(({ code }) => code === "syntax").map(({ notebook }) => notebook),
    );
    const types = await typeModules(modules.filter(({ path }) => !broken.has(path)), folder);
    return inOrder([...types, ...lint, ...house], paths);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** A notebook's module on disk, for the time of the check. */
interface Module {
  readonly path: string;
  readonly file: string;
  readonly places: Extract["places"];
}

async function writeModules(
  folder: string,
  paths: readonly string[],
  notebooks: readonly Notebook[],
  config: string,
): Promise<Module[]> {
  const settings = await checkSettings(config);
  await Deno.writeTextFile(join(folder, "deno.json"), JSON.stringify(settings));
  return await Promise.all(notebooks.map(async (notebook, i) => {
    const path = paths[i] ?? "";
    const { source, places } = extractCells(notebook);
    const file = join(folder, `${i}-${basename(path).replace(/[^\w-]/g, "_")}.ts`);
    await Deno.writeTextFile(file, source);
    return { path, file, places };
  }));
}

/**
 * The kit's settings as the cells need them: import map with whole paths, because the modules stand elsewhere; a name
 * used in no later cell is lint's business; `console.log` is how a cell speaks.
 */
async function checkSettings(config: string): Promise<Record<string, unknown>> {
  const settings = JSON.parse(await Deno.readTextFile(config));
  const here = dirname(resolve(config));
  const whole = ([name, target]: [string, string]): [string, string] =>
    target.startsWith("./") ? [name, pathToFileURL(join(here, target)).href] : [name, target];
  return {
    imports: Object.fromEntries(Object.entries<string>(settings.imports ?? {}).map(whole)),
    nodeModulesDir: settings.nodeModulesDir ?? "none",
    lock: false,
    compilerOptions: { ...settings.compilerOptions, noUnusedLocals: false },
    lint: { rules: { tags: ["recommended"], include: ["eqeqeq"], exclude: ["no-redeclare"] } },
  };
}

interface LintReport {
  readonly diagnostics: readonly {
    readonly filename: string;
    readonly range: { readonly start: { readonly line: number } };
    readonly message: string;
    readonly code: string;
  }[];
  readonly errors: readonly { readonly file_path: string; readonly message: string }[];
}

async function lintModules(modules: readonly Module[], folder: string): Promise<CellFinding[]> {
  if (modules.length === 0) return [];
  const { out, err } = await denoSays(
    ["lint", "--json", ...modules.map(({ file }) => file)],
    folder,
  );
  if (!out.trimStart().startsWith("{")) throw new Error(`deno lint could not run: ${err.trim()}`);
  const { diagnostics, errors } = JSON.parse(out) as LintReport;
  const style = diagnostics.map(({ filename, range, message, code }) =>
    placed(modules, fileURLToPath(filename), range.start.line, code, message)
  );
  const syntax = errors.map(({ file_path: file, message }) => {
    const line = Number(/:(\d+):\d+\s*$/.exec(message.split("\n\n")[0] ?? "")?.[1] ?? 0);
    const said = (message.split("\n")[0] ?? "").replace(/^SyntaxError: /, "");
    return placed(modules, file, line, "syntax", said);
  });
  const mended = [
    ...err.matchAll(/^warn: SyntaxError: (.+)\n(?:.*\|.*\n)+\s+at (file:\S+?):(\d+):/gm),
  ].map(
    ([, message = "", url = "", line]) =>
      placed(modules, fileURLToPath(url), Number(line), "syntax", message),
  );
  return [...style, ...syntax, ...mended].filter((found) => found !== undefined);
}

/**
 * A cell that is left open makes the parser stumble only in a later one; so the cells of a notebook that could not be
 * read are read once more, each alone.
 */
async function pinSyntax(
  findings: readonly CellFinding[],
  notebooks: readonly Notebook[],
  paths: readonly string[],
  folder: string,
): Promise<CellFinding[]> {
  const broken = new Set(
    findings.filter(({ code }) => code === "syntax").map(({ notebook }) => notebook),
  );
  if (broken.size === 0) return [...findings];
  const alone: Module[] = [];
  for (const [i, notebook] of notebooks.entries()) {
    const path = paths[i] ?? "";
    if (!broken.has(path)) continue;
    for (const [k, { source }] of notebook.cells.filter(isCode).entries()) {
      const file = join(folder, `${i}-cell-${k + 1}.ts`);
      await Deno.writeTextFile(file, `${source}\n`);
      const places = source.split("\n").map((_, line) => ({ cell: k + 1, line: line + 1 }));
      alone.push({ path, file, places: [undefined, ...places] });
    }
  }
  const pinned = (await lintModules(alone, folder)).filter(({ code }) => code === "syntax");
  const known = new Set(pinned.map(({ notebook }) => notebook));
  const rest = findings.filter(({ code, notebook }) => code !== "syntax" || !known.has(notebook));
  return [...rest, ...pinned];
}

async function typeModules(modules: readonly Module[], folder: string): Promise<CellFinding[]> {
  if (modules.length === 0) return [];
  const { out, err } = await denoSays(["check", ...modules.map(({ file }) => file)], folder);
  return readTypeReport(out + err, modules);
}

/** Reads what `deno check` says, block by block, and tells it in the cells' places. */
function readTypeReport(said: string, modules: readonly Module[]): CellFinding[] {
  const found: CellFinding[] = [];
  const blocks = said.split(/\n(?=TS\d+ \[ERROR\]|error: )/);
  for (const block of blocks) {
    const [, code = "module", message] = /^(?:(TS\d+) \[ERROR\]|error): (.+)/m.exec(block) ?? [];
    const [, url, line] = /\bat (file:\S+?):(\d+):\d+/.exec(block) ?? [];
    if (message === undefined || message.startsWith("Type checking failed")) continue;
    if (url === undefined) found.push({ notebook: "deno check", code, message });
    else found.push(...also(placed(modules, fileURLToPath(url), Number(line), code, message)));
  }
  return tellRepeated(found);
}

const also = (finding: CellFinding | undefined): CellFinding[] =>
  finding === undefined ? [] : [finding];

/** A finding at a line of a module, told in the notebook's places; in a file of the library, as it is. */
function placed(
  modules: readonly Module[],
  file: string,
  line: number,
  code: string,
  message: string,
): CellFinding | undefined {
  const module = modules.find((candidate) => candidate.file === file);
  if (module === undefined) {
    const inside = relative(ROOT, file);
    return {
      notebook: isAbsolute(inside) || inside.startsWith("..") ? file : inside,
      line,
      code,
      message,
    };
  }
  const place = module.places[line] ?? module.places[Math.max(0, line - 1)];
  if (module.places[line] === undefined && code !== "syntax" && !code.startsWith("TS1")) {
    return undefined;
  }
  return { notebook: module.path, ...place, code, message };
}

/** Names declared twice: the checker names both places with one sentence; kept is the later, which names the earlier. */
function tellRepeated(findings: readonly CellFinding[]): CellFinding[] {
  const first = new Map<string, CellFinding>();
  return findings.flatMap((finding) => {
    if (!["TS2451", "TS2300"].includes(finding.code)) return [finding];
    const name = /'([^']+)'/.exec(finding.message)?.[1] ?? "";
    const key = `${finding.notebook} ${name}`;
    const earlier = first.get(key);
    if (earlier === undefined) {
      first.set(key, finding);
      return [];
    }
    const message = `${name} is declared again; it already stands in code cell ${earlier.cell}`;
    return [{ ...finding, message }];
  });
}

function inOrder(findings: readonly CellFinding[], paths: readonly string[]): CellFinding[] {
  const rank = (path: string): number => paths.includes(path) ? paths.indexOf(path) : paths.length;
  return [...findings].sort((a, b) =>
    rank(a.notebook) - rank(b.notebook) || (a.cell ?? 0) - (b.cell ?? 0) ||
    (a.line ?? 0) - (b.line ?? 0)
  );
}

/** The most lines a code cell may have. */
export const MOST_LINES = 12;
/** The most bytes a stored notebook may have. */
export const MOST_BYTES = 40_000;
/** The most code cells in a row. */
const MOST_IN_A_ROW = 2;

/**
 * Compares a notebook with the rules of the house: cells of 12 lines or fewer, no function or class made in a notebook,
 * imports only through the import map, no outputs stored, never three code cells in a row, at most 40 kB.
 *
 * @param notebook  as read
 * @param path      as it shall be named
 * @param bytes     size of its file
 * @returns one finding for each breach; empty where there is none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const empty = { nbformat: 4, nbformat_minor: 5, metadata: {}, cells: [] } as const;
 * assert.equal(styleRules(empty, "a.ipynb", 50_000)[0]?.code, "house/size");
 * ```
 */
export function styleRules(notebook: Notebook, path: string, bytes: number): CellFinding[] {
  const breach = (
    rule: string,
    message: string,
    place: Partial<CellFinding> = {},
  ): CellFinding => ({
    notebook: path,
    ...place,
    code: `house/${rule}`,
    message,
  });
  const found: CellFinding[] = [];
  if (bytes > MOST_BYTES) {
    found.push(breach("size", `a stored notebook has at most ${MOST_BYTES} bytes, got ${bytes}`));
  }
  let row = 0;
  let cell = 0;
  for (const each of notebook.cells) {
    if (!isCode(each)) {
      row = 0;
      continue;
    }
    cell++;
    row++;
    if (row === MOST_IN_A_ROW + 1) {
      found.push(
        breach("rhythm", `at most ${MOST_IN_A_ROW} code cells in a row; say something between`, {
          cell,
        }),
      );
    }
    found.push(
      ...cellBreaches(each).map(([rule, message, line]) =>
        breach(rule, message, { cell, ...(line !== undefined && { line }) })
      ),
    );
  }
  return found;
}

type Breach = readonly [rule: string, message: string, line?: number];

function cellBreaches(cell: CodeCell): Breach[] {
  const found: Breach[] = [];
  const lines = cell.source.trimEnd().split("\n").length;
  if (lines > MOST_LINES) {
    found.push([
      "cell-length",
      `a code cell has at most ${MOST_LINES} lines, got ${lines}; more belongs in lib`,
    ]);
  }
  if (cell.outputs.length > 0 || cell.execution_count !== null) {
    found.push(["stored-output", "notebooks are stored without outputs and counts"]);
  }
  const masked = maskCode(cell.source);
  const line = (at: number): number => masked.slice(0, at).split("\n").length;
  for (const made of masked.matchAll(MAKES_FUNCTION)) {
    found.push([
      "no-functions",
      "functions and classes belong in lib, not in a notebook",
      line(made.index),
    ]);
  }
  for (const taken of cell.source.matchAll(/^\s*import\b[^"']*["'](\.{1,2}\/[^"']*)["']/gm)) {
    found.push([
      "imports",
      `import through the import map, not by the path ${taken[1]}`,
      line(taken.index),
    ]);
  }
  return found;
}

/** A function or class declared, or a function kept under a name; not one handed to another on the spot. */
const MAKES_FUNCTION = new RegExp(
  [
    String.raw`^[ \t]*(?:export\s+)?(?:async\s+)?function\b`,
    String.raw`^[ \t]*(?:export\s+)?(?:abstract\s+)?class\s+\w`,
    String
      .raw`\b(?:const|let|var)\s+\w+\s*(?::[^\n]*?)?=\s*(?:async\s+)?(?:function\b|\w+\s*=>|\([^()]*\)\s*(?::[^=\n]*)?=>)`,
  ].join("|"),
  "gm",
);

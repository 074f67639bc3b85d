/** Notebooks as files: nbformat 4.5 read, checked and written. */
import { basename, dirname, join } from "node:path";
import { notebookProblems } from "./notebookRules.ts";

/** MIME types and what is shown for each: text, or JSON for the +json types. */
export type MimeBundle = Record<string, unknown>;

/** What a cell has put out, as nbformat 4.5 stores it; texts joined to one string. */
export type Output =
  | { readonly output_type: "stream"; readonly name: "stdout" | "stderr"; readonly text: string }
  | {
    readonly output_type: "display_data";
    readonly data: MimeBundle;
    readonly metadata: Record<string, unknown>;
  }
  | {
    readonly output_type: "execute_result";
    readonly execution_count: number | null;
    readonly data: MimeBundle;
    readonly metadata: Record<string, unknown>;
  }
  | {
    readonly output_type: "error";
    readonly ename: string;
    readonly evalue: string;
    readonly traceback: readonly string[];
  };

/** What every cell has. */
interface CellBase {
  readonly id: string;
  readonly metadata: Record<string, unknown>;
  readonly source: string;
}

/** A cell to be run. */
export interface CodeCell extends CellBase {
  readonly cell_type: "code";
  readonly execution_count: number | null;
  readonly outputs: readonly Output[];
}

/** A cell to be read. */
export interface TextCell extends CellBase {
  readonly cell_type: "markdown" | "raw";
  readonly attachments?: Record<string, MimeBundle>;
}

/** One cell of a notebook. */
export type Cell = CodeCell | TextCell;

/** A notebook, its texts joined to single strings. */
export interface Notebook {
  readonly nbformat: 4;
  readonly nbformat_minor: 5;
  readonly metadata: Record<string, unknown>;
  readonly cells: readonly Cell[];
}

/** A file that is not a notebook of the kind this kit reads, with everything that is wrong with it. */
export class NotebookRefused extends Error {
  override readonly name = "NotebookRefused";

  constructor(readonly path: string, readonly problems: readonly string[]) {
    const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : "";
    super(`${path}: ${problems[0] ?? "not a notebook"}${more}`);
  }
}

/**
 * Reads a notebook from text: nbformat 4, any minor; cells without an id get one from their place.
 *
 * @param text  the file's text
 * @param path  where it stands, for the message
 * @throws {NotebookRefused} where it is not JSON or not a valid notebook
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const text = '{"nbformat":4,"nbformat_minor":5,"metadata":{},"cells":[]}';
 * assert.deepEqual(parseNotebook(text, "empty.ipynb").cells, []);
 * ```
 */
export function parseNotebook(text: string, path: string): Notebook {
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch (error) {
    throw new NotebookRefused(path, [`is not JSON: ${(error as Error).message}`]);
  }
  const brought = broughtUp(raw);
  const problems = notebookProblems(brought);
  if (problems.length > 0) throw new NotebookRefused(path, problems);
  const notebook = brought as Notebook;
  return { ...notebook, cells: notebook.cells.map(joined) };
}

/**
 * Reads a notebook's file.
 *
 * @throws {NotebookRefused} where it is missing, not JSON or not a valid notebook
 */
export async function readNotebook(path: string): Promise<Notebook> {
  let text: string;
  try {
    text = await Deno.readTextFile(path);
  } catch (error) {
    const missing = error instanceof Deno.errors.NotFound;
    const why = missing ? "there is no such file" : (error as Error).message;
    throw new NotebookRefused(path, [why]);
  }
  return parseNotebook(text, path);
}

/**
 * The notebook as the text of a file, in the form that Jupyter itself writes: keys sorted, one blank of indent, texts as
 * lists of lines. The same notebook gives the same bytes.
 *
 * @throws {NotebookRefused} where the result would not be valid
 */
export function notebookText(notebook: Notebook, path = "notebook"): string {
  const problems = notebookProblems(notebook);
  if (problems.length > 0) throw new NotebookRefused(path, problems);
  const split = { ...notebook, cells: notebook.cells.map(splitTexts) };
  return JSON.stringify(sorted(split), null, 1) + "\n";
}

/** Writes a notebook beside its place and then moves it there, so that no half-written file ever stands. */
export async function writeNotebook(path: string, notebook: Notebook): Promise<void> {
  const text = notebookText(notebook, path);
  const beside = join(dirname(path), `.${basename(path)}.${crypto.randomUUID()}`);
  try {
    await Deno.writeTextFile(beside, text);
    await Deno.rename(beside, path);
  } catch (error) {
    await Deno.remove(beside).catch(() => {});
    throw error;
  }
}

/** Whether a cell is one to be run. */
export function isCode(cell: Cell): cell is CodeCell {
  return cell.cell_type === "code";
}

/** The tags of a cell's metadata. */
export function cellTags(cell: Cell): readonly string[] {
  const tags = cell.metadata["tags"];
  return Array.isArray(tags) ? tags.filter((tag) => typeof tag === "string") : [];
}

/** nbformat 4.0 to 4.4 as 4.5: every cell gets an id, by its place, so that it stays the same. */
function broughtUp(raw: unknown): unknown {
  if (typeof raw !== "object" || raw === null) return raw;
  const { nbformat, nbformat_minor: minor, cells } = raw as Record<string, unknown>;
  if (nbformat !== 4 || typeof minor !== "number" || minor >= 5 || !Array.isArray(cells)) {
    return raw;
  }
  const named = cells.map((cell, i) => ({ id: `cell-${i + 1}`, ...cell }));
  return { ...raw, nbformat_minor: 5, cells: named };
}

const joinText = (text: unknown): unknown =>
  Array.isArray(text) && text.every((line) => typeof line === "string") ? text.join("") : text;

function joinBundle(data: MimeBundle): MimeBundle {
  const isJson = (type: string): boolean => /[/+]json$/.test(type);
  return Object.fromEntries(
    Object.entries(data).map(([type, value]) => [type, isJson(type) ? value : joinText(value)]),
  );
}

function joined(cell: Cell): Cell {
  const source = joinText(cell.source) as string;
  if (!isCode(cell)) return { ...cell, source };
  const outputs = cell.outputs.map((output) => {
    if (output.output_type === "stream") {
      return { ...output, text: joinText(output.text) as string };
    }
    return "data" in output ? { ...output, data: joinBundle(output.data) } : output;
  });
  return { ...cell, source, outputs };
}

const lines = (text: string): string[] => text.match(/[^\n]*\n|[^\n]+/g) ?? [];

function splitTexts(cell: Cell): unknown {
  const source = lines(cell.source);
  if (!isCode(cell)) return { ...cell, source };
  const outputs = cell.outputs.map((output) => {
    if (output.output_type === "stream") return { ...output, text: lines(output.text) };
    if (!("data" in output)) return output;
    const data = Object.entries(output.data).map(([type, value]) => [
      type,
      typeof value === "string" && type.startsWith("text/") ? lines(value) : value,
    ]);
    return { ...output, data: Object.fromEntries(data) };
  });
  return { ...cell, source, outputs };
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => a < b ? -1 : 1);
  return Object.fromEntries(entries.map(([key, inner]) => [key, sorted(inner)]));
}

/** Notebooks as files: nbformat 4.5 read, checked and written. */
import { basename, dirname, join } from "node:path";
import type { MimeBundle, Output } from "../living/output.ts";

export type { MimeBundle, Output };

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

// * Whether something is a valid notebook of nbformat 4.5, and if not, what is wrong and where.
// * Source: the nbformat 4.5 JSON schema; the test compares the verdicts with Python's nbformat.

type Fields = Record<string, unknown>;

/** Collects problems with the place where each was found. */
class Findings {
  readonly problems: string[] = [];

  /** Notes that `where` must be `wanted`, unless it holds; gives back whether it holds. */
  need(holds: boolean, where: string, wanted: string, got: unknown): boolean {
    if (!holds) this.problems.push(`${where} must be ${wanted}, got ${inWords(got)}`);
    return holds;
  }

  /** Notes a key that has no place there. */
  only(object: Fields, where: string, allowed: readonly string[]): void {
    for (const key of Object.keys(object)) {
      if (!allowed.includes(key)) this.problems.push(`${where}.${key} has no place in a notebook`);
    }
  }
}

/**
 * Lists what keeps a value from being a notebook of nbformat 4.5.
 *
 * @param value  parsed JSON
 * @returns one sentence for each fault, naming the place; empty where there is none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const notebook = { nbformat: 4, nbformat_minor: 5, metadata: {}, cells: "none" };
 * assert.deepEqual(notebookProblems(notebook), ['cells must be a list, got "none"']);
 * ```
 */
export function notebookProblems(value: unknown): string[] {
  const found = new Findings();
  if (!isObject(value)) {
    found.need(false, "the file", "a notebook (a JSON object)", value);
    return found.problems;
  }
  found.only(value, "notebook", ["nbformat", "nbformat_minor", "metadata", "cells"]);
  const { nbformat, nbformat_minor: minor, metadata, cells } = value;
  found.need(nbformat === 4, "nbformat", "4", nbformat);
  found.need(isCount(minor) && minor >= 5, "nbformat_minor", "5 or more", minor);
  checkNotebookMetadata(metadata, found);
  if (found.need(Array.isArray(cells), "cells", "a list", cells)) {
    checkCells(cells as unknown[], found);
  }
  return found.problems;
}

function checkNotebookMetadata(metadata: unknown, found: Findings): void {
  if (!found.need(isObject(metadata), "metadata", "an object", metadata)) return;
  const { kernelspec, language_info: language } = metadata as Fields;
  if (kernelspec !== undefined) {
    const named = isObject(kernelspec) && isText(kernelspec["name"]) &&
      isText(kernelspec["display_name"]);
    found.need(named, "metadata.kernelspec", "an object with name and display_name", kernelspec);
  }
  if (language !== undefined) {
    const named = isObject(language) && isText(language["name"]);
    found.need(named, "metadata.language_info", "an object with a name", language);
  }
}

function checkCells(cells: readonly unknown[], found: Findings): void {
  const seen = new Set<unknown>();
  cells.forEach((cell, i) => {
    const where = `cells[${i}]`;
    if (!isObject(cell)) {
      found.need(false, where, "an object", cell);
      return;
    }
    checkCell(cell, where, found);
    found.need(!seen.has(cell["id"]), `${where}.id`, "unlike every other id", cell["id"]);
    seen.add(cell["id"]);
  });
}

const CELL_KEYS = ["id", "cell_type", "metadata", "source"];
const KINDS = ["code", "markdown", "raw"];

function checkCell(cell: Fields, where: string, found: Findings): void {
  const { id, cell_type: kind, metadata, source } = cell;
  const goodId = isText(id) && /^[a-zA-Z0-9_-]{1,64}$/.test(id);
  found.need(goodId, `${where}.id`, "1 to 64 letters, digits, - or _", id);
  found.need(isMultiline(source), `${where}.source`, "text or a list of lines", source);
  if (found.need(isObject(metadata), `${where}.metadata`, "an object", metadata)) {
    checkCellMetadata(metadata as Fields, where, found);
  }
  if (!found.need(KINDS.includes(kind as string), `${where}.cell_type`, KINDS.join(", "), kind)) {
    return;
  }
  if (kind !== "code") return found.only(cell, where, [...CELL_KEYS, "attachments"]);
  found.only(cell, where, [...CELL_KEYS, "execution_count", "outputs"]);
  const { execution_count: count, outputs } = cell;
  found.need(isCountOrNull(count), `${where}.execution_count`, "a whole number or null", count);
  if (found.need(Array.isArray(outputs), `${where}.outputs`, "a list", outputs)) {
    (outputs as unknown[]).forEach((o, i) => checkOutput(o, `${where}.outputs[${i}]`, found));
  }
}

function checkCellMetadata(metadata: Fields, where: string, found: Findings): void {
  const { tags, name } = metadata;
  const goodTags = tags === undefined ||
    isTextList(tags) && tags.every((tag) => !tag.includes(","));
  found.need(goodTags, `${where}.metadata.tags`, "a list of words without commas", tags);
  const goodName = name === undefined || isText(name);
  found.need(goodName, `${where}.metadata.name`, "text", name);
}

function checkOutput(output: unknown, where: string, found: Findings): void {
  if (!isObject(output)) return void found.need(false, where, "an object", output);
  const kind = output["output_type"];
  const text = (key: string): boolean =>
    found.need(isText(output[key]), `${where}.${key}`, "text", output[key]);
  if (kind === "stream") {
    found.only(output, where, ["output_type", "name", "text"]);
    text("name");
    found.need(
      isMultiline(output["text"]),
      `${where}.text`,
      "text or a list of lines",
      output["text"],
    );
  } else if (kind === "error") {
    found.only(output, where, ["output_type", "ename", "evalue", "traceback"]);
    text("ename");
    text("evalue");
    const { traceback } = output;
    found.need(isTextList(traceback), `${where}.traceback`, "a list of texts", traceback);
  } else if (kind === "display_data" || kind === "execute_result") {
    checkDisplay(output, kind, where, found);
  } else {
    const kinds = "stream, error, display_data or execute_result";
    found.need(false, `${where}.output_type`, kinds, kind);
  }
}

function checkDisplay(output: Fields, kind: string, where: string, found: Findings): void {
  const { data, metadata, execution_count: count } = output;
  const keys = ["output_type", "data", "metadata"];
  found.only(output, where, kind === "execute_result" ? [...keys, "execution_count"] : keys);
  if (kind === "execute_result") {
    found.need(isCountOrNull(count), `${where}.execution_count`, "a whole number or null", count);
  }
  found.need(isObject(metadata), `${where}.metadata`, "an object", metadata);
  if (!found.need(isObject(data), `${where}.data`, "an object", data)) return;
  found.problems.push(...bundleProblems(data as Fields, `${where}.data`));
}

/**
 * What is wrong with the data of an output: only the +json types may hold anything but text.
 *
 * @param data   MIME types and their contents
 * @param where  how the place is called in the sentence
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(bundleProblems({ "text/plain": 5 }, "data").length, 1);
 * ```
 */
export function bundleProblems(data: Readonly<Fields>, where: string): string[] {
  const found = new Findings();
  for (const [type, content] of Object.entries(data)) {
    const good = isJsonType(type) || isMultiline(content);
    found.need(good, `${where}["${type}"]`, "text or a list of lines", content);
  }
  return found.problems;
}

const isJsonType = (type: string): boolean => /^[^/]+\/(?:.*\+)?json$/.test(type);

function isObject(value: unknown): value is Fields {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isText(value: unknown): value is string {
  return typeof value === "string";
}

function isTextList(value: unknown): value is string[] {
  return Array.isArray(value) && value.every(isText);
}

function isMultiline(value: unknown): boolean {
  return isText(value) || isTextList(value);
}

function isCount(value: unknown): value is number {
  return Number.isInteger(value) && (value as number) >= 0;
}

function isCountOrNull(value: unknown): boolean {
  return value === null || isCount(value);
}

function inWords(value: unknown): string {
  if (value === undefined) return "nothing";
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

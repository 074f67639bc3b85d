/**
 * Whether something is a valid notebook of nbformat 4.5, and if not, what is wrong and where.
 *
 * Source: the nbformat 4.5 JSON schema (from memory); the test compares the verdicts with Python's nbformat.
 */

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

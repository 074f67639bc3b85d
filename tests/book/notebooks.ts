/** Small notebooks for the tests of this room, written into temporary folders. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Cell, Notebook } from "../../lib/book/notebook.ts";
import { runNotebooks, type RunOptions, type RunResult } from "../../lib/book/runner.ts";

/** A code cell; `tags` as a cell bears them. */
export function code(source: string, tags: readonly string[] = []): Cell {
  const metadata = tags.length > 0 ? { tags: [...tags] } : {};
  return { id: "", cell_type: "code", metadata, source, outputs: [], execution_count: null };
}

/** A cell to be read. */
export function prose(source: string): Cell {
  return { id: "", cell_type: "markdown", metadata: {}, source };
}

/** A notebook of these cells, with ids by their places; plain texts are code. */
export function notebook(cells: readonly (string | Cell)[]): Notebook {
  const whole = cells.map((cell) => typeof cell === "string" ? code(cell) : cell)
    .map((cell, i) => ({ ...cell, id: `c${i + 1}` }));
  return { nbformat: 4, nbformat_minor: 5, metadata: {}, cells: whole };
}

/** Runs something in a temporary folder that is gone afterwards. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await Deno.realPath(await Deno.makeTempDir({ prefix: "first-mirror-test-" }));
  try {
    return await work(folder);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** Writes a notebook into a folder and gives its path. */
export async function write(
  folder: string,
  name: string,
  cells: readonly (string | Cell)[],
): Promise<string> {
  const path = join(folder, name);
  await Deno.writeTextFile(path, JSON.stringify(notebook(cells)));
  return path;
}

/** The project's folder, where the import map is found. */
export const home: string = fileURLToPath(new URL("../../", import.meta.url));

/** Runs one notebook in a kernel of its own. */
export async function runNotebook(path: string, options: RunOptions = {}): Promise<RunResult> {
  const [result] = await runNotebooks([path], options);
  if (result === undefined) throw new Error(`no result for ${path}`);
  return result;
}

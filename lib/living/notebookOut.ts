/** A page's notebook with the reader's changes in it, as Jupyter opens it. */
import type { KeptPiece } from "./kept.ts";

/** As much of a notebook as is changed here; the rest stays as it is. */
interface Notebook {
  cells: Cell[];
  metadata: Record<string, unknown>;
  nbformat: number;
  nbformat_minor: number;
}
interface Cell {
  cell_type: string;
  id?: string;
  metadata: Record<string, unknown>;
  source: string | string[];
  outputs?: unknown[];
  execution_count?: number | null;
}

/** The line of an exercise's cell that waits for an answer. */
const ANSWER = /^(\s*const tried = ).*?(; \/\/ answer\s*)$/m;

/**
 * The notebook of a page, with what was written in the page.
 *
 * Changed cells have their new text, exercises the answer that was given; guesses stand in a cell of their own at the end, as
 * plain text, whatever they hold. Nothing has been run: there are no outputs.
 *
 * @param notebook  as the book has it, JSON
 * @param pieces    what is kept of this page
 * @param day       ISO day on which it is taken along
 * @returns JSON of format 4.5
 */
export function notebookWith(
  notebook: string,
  pieces: readonly KeptPiece[],
  day: string,
): string {
  const book = JSON.parse(notebook) as Notebook;
  const changed = new Map(
    pieces.flatMap(({ kind, key, value }) => kind === "cell" ? [[Number(key), value]] : []),
  );
  const answers = new Map(
    pieces.flatMap(({ kind, key, value }) => kind === "answer" ? [[key, value]] : []),
  );
  let number = 0;
  for (const [at, cell] of book.cells.entries()) {
    cell.id ??= `cell-${at}`;
    if (cell.cell_type !== "code") continue;
    cell.outputs = [];
    cell.execution_count = null;
    const source = changed.get(number++) ?? textOf(cell);
    cell.source = linesOf(withAnswer(source, answers));
  }
  const guesses = pieces.filter(({ kind }) => kind === "guess");
  if (guesses.length > 0) book.cells.push(guessesCell(guesses, day, book.cells));
  return `${JSON.stringify({ ...book, nbformat: 4, nbformat_minor: 5 }, null, 1)}\n`;
}

function textOf({ source }: Cell): string {
  return typeof source === "string" ? source : source.join("");
}

/** Lines as Jupyter stores them: each with its end, but the last. */
function linesOf(text: string): string[] {
  return text.split(/(?<=\n)/);
}

/** An exercise's cell with the answer in place of what stands there; a number stays one, words become a string. */
function withAnswer(source: string, answers: ReadonlyMap<string, string>): string {
  const [, name = ""] = /\b(?:exercise|question)\("([^"]+)"/.exec(source) ?? [];
  const given = answers.get(name);
  if (given === undefined) return source;
  const plain = given.trim().replace(",", ".").replace("−", "-");
  const isNumber = plain !== "" && Number.isFinite(Number(plain));
  const written = isNumber ? String(Number(plain)) : JSON.stringify(given);
  return source.replace(
    ANSWER,
    (_, before: string, after: string) => `${before}${written}${after}`,
  );
}

/** Guesses as a block of plain text: indented, so that no sign in it is markup. */
function guessesCell(
  guesses: readonly KeptPiece[],
  day: string,
  cells: readonly Cell[],
): Cell {
  const ids = new Set(cells.map(({ id }) => id));
  let id = "my-guesses";
  while (ids.has(id)) id += "-x";
  const lines = guesses.map(({ key, value }) =>
    `    cell ${Number(key) + 1}: ${value.replace(/\s+/g, " ")}`
  );
  return {
    cell_type: "markdown",
    id,
    metadata: {},
    source: linesOf(`My guesses, taken along on ${day}:\n\n${lines.join("\n")}`),
  };
}

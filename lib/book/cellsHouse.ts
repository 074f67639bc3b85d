/** The rules by which notebooks of this house are written: they narrate, the library computes. */
import type { CellFinding } from "./cells.ts";
import { maskCode } from "./kernel/instrument.ts";
import { type CodeCell, isCode, type Notebook } from "./notebook.ts";

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
 * assert.equal(houseRules(empty, "a.ipynb", 50_000)[0]?.code, "house/size");
 * ```
 */
export function houseRules(notebook: Notebook, path: string, bytes: number): CellFinding[] {
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

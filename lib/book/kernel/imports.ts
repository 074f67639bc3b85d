import { maskCode } from "./mask.ts";

/** One import statement of a cell: the names it takes from a module as values. */
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

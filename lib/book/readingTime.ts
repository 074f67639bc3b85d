/** How long a notebook takes to read, from what stands in it. */
import { cellTags, isCode, type Notebook } from "./notebook.ts";

/** Minutes, assumed: technical prose at 130 words a minute, then what one looks at, moves, or works out. */
const pace = { wordsPerMinute: 130, formula: 0.5, result: 0.5, live: 3, exercise: 3 } as const;

/**
 * Minutes to read a notebook, exercises tried, to the nearest five.
 *
 * @param notebook  as stored
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const text = { id: "a", metadata: {}, cell_type: "markdown", source: "word ".repeat(1300) } as const;
 * assert.equal(readingMinutes({ cells: [text] }), 10);
 * ```
 */
export function readingMinutes({ cells }: Pick<Notebook, "cells">): number {
  let minutes = 0;
  for (const cell of cells) {
    const source = cell.source;
    if (!isCode(cell)) {
      const prose = source.replace(/\$\$[\s\S]*?\$\$/g, "").replace(/\]\([^)]*\)/g, "");
      minutes += (prose.match(/[\p{L}\p{N}][^\s]*/gu) ?? []).length / pace.wordsPerMinute;
      minutes += (source.match(/\$\$/g) ?? []).length / 2 * pace.formula;
    } else if (cellTags(cell).includes("exercise")) minutes += pace.exercise;
    else if (/\blive\(/.test(source)) minutes += pace.live;
    else if (!source.includes("openRecord")) minutes += pace.result;
  }
  return Math.max(5, 5 * Math.round(minutes / 5));
}

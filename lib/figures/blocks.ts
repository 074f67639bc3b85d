/** The blocks of a page: yours, the demo's, not yet measured, a table of readings, a list of facts, a note. */
import type { Measured } from "../quantity/measured.ts";
import { type Html, safe, trusted } from "./html.ts";
import { asShown, type Showable, type Shown, wordsOf } from "./show.ts";
import { quantityHtml } from "./words.ts";

/** A cell of a table or the value of a fact: a quantity is printed by its uncertainty. */
export type Cell = Measured | Html | string | number | undefined;

/** Makes a block `Shown`: its markup, and its words where none are given. */
function block(markup: Html, text = wordsOf(markup.markup)): Shown {
  return { html: markup.markup, text };
}

function contentsOf(things: readonly Showable[]): { markup: Html; text: string } {
  const all = things.map((thing) => asShown(thing));
  return {
    markup: trusted(all.map((s) => s.html).join("\n")),
    text: all.map((s) => s.text).join("\n"),
  };
}

/**
 * The reader's own: a filled mark, a bar at the left.
 *
 * @param whose     who and how much, as "Inés, the kitchen table · 7 readings"
 * @param contents  figures, tables, sentences
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(yours("Bram & co · 2 readings", "It is deep.").html, /<b>Yours<\/b> · Bram &amp; co/);
 * ```
 */
export function yours(whose: string, ...contents: Showable[]): Shown {
  const { markup, text } = contentsOf(contents);
  return block(
    safe`<section class="yours" aria-label="${`Yours: ${whose}`}">
<p class="tag"><span><b>Yours</b> · ${whose}</span></p>
${markup}
</section>`,
    `Yours · ${whose}\n${text}`,
  );
}

/**
 * The demo's: an open mark, no bar, and always said so.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(demo("Kestrel Lane, blue group", "2402 mm").text, /^Demo mirror, not yours · Kestrel Lane/);
 * ```
 */
export function demo(whose: string, ...contents: Showable[]): Shown {
  const { markup, text } = contentsOf(contents);
  return block(
    safe`<section class="demo" aria-label="${`Demo mirror, not yours: ${whose}`}">
<p class="tag"><span>Demo mirror, not yours · ${whose}</span></p>
${markup}
</section>`,
    `Demo mirror, not yours · ${whose}\n${text}`,
  );
}

/**
 * Not yet measured: a dashed bar, and what to do about it.
 *
 * @param what      what has no reading yet, as "spherometer"
 * @param contents  what to measure, how, and which file it goes into
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(notYet("spherometer", "Read it five times.").html, /class="yours empty"/);
 * ```
 */
export function notYet(what: string, ...contents: Showable[]): Shown {
  const { markup, text } = contentsOf(contents);
  return block(
    safe`<section class="yours empty" aria-label="${`Yours: ${what}, nothing yet`}">
<p class="tag"><span><b>Yours</b> · ${what} · nothing yet</span></p>
${markup}
</section>`,
    `Yours · ${what} · nothing yet\n${text}`,
  );
}

/** A small line under a block: where the readings stand, by which function, what to look at. */
export function note(...contents: (Html | string)[]): Shown {
  return block(safe`<p class="note kicker">${contents}</p>`);
}

/** A sentence to be read before all else: what was found, what to do next. */
export function sentence(...contents: (Html | string)[]): Shown {
  return block(safe`<p>${contents}</p>`);
}

function cellHtml(cell: Cell): Html {
  if (cell === undefined) return safe`–`;
  if (typeof cell === "string" || typeof cell === "number") return safe`${cell}`;
  return "u" in cell ? quantityHtml(cell) : cell;
}

/**
 * Facts one under the other: name at the left, value at the right.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(facts([["Glass", "soda-lime"]]).html, /<dt>Glass<\/dt><dd>soda-lime<\/dd>/);
 * ```
 */
export function facts(rows: readonly (readonly [name: string, value: Cell])[]): Shown {
  const items = rows.map(([name, value]) => safe`<dt>${name}</dt><dd>${cellHtml(value)}</dd>`);
  const text = rows.map(([name, value]) => `${name}: ${wordsOf(cellHtml(value).markup)}`);
  return block(safe`<dl class="facts">${items}</dl>`, text.join("\n"));
}

/** A column: its title, its unit beneath, and whether it holds words instead of numbers. */
export interface Column {
  /** its heading */
  readonly title: string;
  /** below the heading; default none */
  readonly unit?: string;
  /** true: words, set to the left; default numbers, set to the right */
  readonly text?: boolean;
}

/** A row of a table; `setAside` strikes its first number through and says why. */
export interface TableRow {
  /** one for each column */
  readonly cells: readonly Cell[];
  /** why the row is set aside; absent where it counts */
  readonly setAside?: string;
}

/** A quantity under a head that names its unit is printed without it. */
function underHead(cell: Cell, { title, unit }: Column): Cell {
  if (unit === undefined || typeof cell !== "object" || !("u" in cell)) return cell;
  if (cell.unit !== unit) {
    throw new RangeError(
      `readingsTable requires ${title} in ${unit}, as its head says, got ${cell.unit}`,
    );
  }
  return { ...cell, unit: "" };
}

function rowHtml(row: TableRow, columns: readonly Column[]): Html {
  const cells = columns.map((column, i) => {
    const value = cellHtml(underHead(row.cells[i], column));
    const kind = column.text !== true && trusted(' class="n"');
    const shown = row.setAside !== undefined && i === columns.length - 1
      ? safe`<s>${value}</s>`
      : value;
    return i === 0 ? safe`<th scope="row"${kind}>${shown}</th>` : safe`<td${kind}>${shown}</td>`;
  });
  const aside = row.setAside !== undefined && trusted(' class="aside"');
  return safe`<tr${aside}>${cells}</tr>\n`;
}

/**
 * A table of readings, in a frame that scrolls sideways on a narrow screen.
 *
 * A reading that was set aside stays in its place, struck through; its reason stands under the table.
 *
 * @param label  what the table holds, for a screen reader
 * @throws {RangeError} without a column, where a row has more cells than there are columns, or where a quantity
 *   has another unit than its column's head
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const table = readingsTable("Readings", [{ title: "Passes", unit: "mm" }], [{ cells: ["0.15"] }]);
 * assert.match(table.html, /<th scope="col" class="n">Passes<br>mm<\/th>/);
 * ```
 */
export function readingsTable(
  label: string,
  columns: readonly Column[],
  rows: readonly TableRow[],
): Shown {
  const longest = Math.max(0, ...rows.map((row) => row.cells.length));
  if (columns.length === 0 || longest > columns.length) {
    throw new RangeError(
      `readingsTable requires a column for each cell, got ${columns.length} columns, ${longest} cells`,
    );
  }
  const heads = columns.map(({ title, unit, text }) => {
    const kind = text !== true && trusted(' class="n"');
    return safe`<th scope="col"${kind}>${title}${unit !== undefined && safe`<br>${unit}`}</th>`;
  });
  const reasons = [...new Set(rows.flatMap((row) => row.setAside ?? []))].map((why) =>
    safe`\n<p class="note kicker"><s>Struck through</s>: set aside, kept in the file. ${why}</p>`
  );
  const table = safe`<table>
<thead><tr>${heads}</tr></thead>
<tbody>
${rows.map((row) => rowHtml(row, columns))}</tbody></table>`;
  const frame = trusted('class="scroll" tabindex="0" role="region"');
  return block(
    safe`<div ${frame} aria-label="${`${label}, table`}">${table}</div>${reasons}`,
    tableText(label, columns, rows),
  );
}

function tableText(label: string, columns: readonly Column[], rows: readonly TableRow[]): string {
  const head = columns.map(({ title, unit }) => unit === undefined ? title : `${title}, ${unit}`);
  const body = rows.map((row) => {
    const cells = columns.map((column, i) =>
      wordsOf(cellHtml(underHead(row.cells[i], column)).markup)
    ).join(" | ");
    return row.setAside === undefined ? cells : `${cells} | set aside: ${row.setAside}`;
  });
  return [label, head.join(" | "), ...body].join("\n");
}

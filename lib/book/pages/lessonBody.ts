/** The cells of a notebook, in order, as the body of its page. */
import { type Cell, cellTags, type CodeCell, isCode, type Notebook } from "../notebook.ts";
import { codeBlock, line, prose, slug } from "./markdown.ts";
import { afterGuess, guessAccount, guessAt, guessForm, trialForm } from "./guesses.ts";
import { outputPlace, outputsOf } from "./outputs.ts";
import { explained } from "./glossaryPage.ts";
import { trialOf } from "../../lessons/guess.ts";
import { textOf } from "./textOf.ts";

/** A heading the reader may jump to. */
export interface Anchor {
  readonly id: string;
  /** escaped */
  readonly text: string;
}

/** What a notebook gives to its page. */
export interface LessonBody {
  /** the notebook's first heading, as written */
  readonly title?: string;
  /** the paragraph under it, as markup */
  readonly standfirst?: string;
  readonly html: string;
  readonly anchors: readonly Anchor[];
  /** words of the course that are explained where they first stand */
  readonly words: ReadonlySet<string>;
}

/** Title, first paragraph and the rest of a notebook's first cell; nothing where it has no heading. */
function opening(cell: Cell | undefined): { title?: string; standfirst?: string; rest: string } {
  const source = cell?.cell_type === "markdown" ? cell.source : "";
  const heading = /^\s*#\s+(.+)\n*/.exec(source);
  if (heading === null) return { rest: source };
  const after = source.slice(heading[0].length);
  const paragraph = /^(?![#\-*|<>$]\s|\$\$|<)([\s\S]+?)(?:\n\s*\n|$)/.exec(after);
  const title = (heading[1] ?? "").trim();
  if (paragraph === null) return { title, rest: after };
  const first = (paragraph[1] ?? "").trim().replace(/^([*_]{1,2})([\s\S]*)\1$/, "$2");
  return { title, standfirst: line(first), rest: after.slice(paragraph[0].length) };
}

const tagged = (cell: Cell, tag: string): boolean => cellTags(cell).includes(tag);

/** The notebook's own title: its first heading, with the apostrophe of print. */
export function titleOf(notebook: Pick<Notebook, "cells">): string | undefined {
  return opening(notebook.cells[0]).title?.replaceAll("'", "’");
}

/** Names the cell in whatever goes wrong in it. */
function inCell<T>(number: number, make: () => T): T {
  try {
    return make();
  } catch (reason) {
    const why = reason instanceof Error ? reason.message : String(reason);
    throw new Error(`cell ${number} of all, prose included: ${why}`, { cause: reason });
  }
}

function proseHtml(cell: Cell, number: number): string {
  if (tagged(cell, "card")) return card(cell.source);
  if (tagged(cell, "caution")) return caution(cell.source, `caution-${number}`);
  return prose(cell.source);
}

/** A cell with its places: in the notebook from 1, and among its code cells from 0. */
interface Placed {
  readonly cell: Cell;
  readonly number: number;
  readonly n: number;
  /** the cell above whose result was to be guessed, where this one tells it */
  readonly guess?: number;
}

function cellHtml(
  placed: Placed,
  cells: readonly Cell[],
  explain: (html: string) => string,
): string {
  const { cell, number, n, guess } = placed;
  if (cell.cell_type === "markdown") {
    const html = explain(proseHtml(cell, number)) + trialHtml(placed, cells);
    return guess === undefined ? html : afterGuess(guess, html);
  }
  if (!isCode(cell) || cell.source.trim() === "") return "";
  if (tagged(cell, "exercise")) return exerciseHtml(cell, n);
  const code = tagged(cell, "decide")
    ? ""
    : codeBlock(cell.source, n, { open: tagged(cell, "open") });
  const asked = guessAt(cell, cells);
  const form = asked === undefined ? "" : guessForm(n, asked).markup;
  const hidden = { isFolded: asked !== undefined, ...(guess === undefined ? {} : { guess }) };
  return form + code + outputPlace(n, outputsOf(cell.outputs), hidden);
}

/** The field behind prose tagged `try`: for the next code cell where that proposes a value, else for the last above that does. */
function trialHtml({ cell, number, n }: Placed, cells: readonly Cell[]): string {
  if (!tagged(cell, "try")) return "";
  const code = cells.filter(isCode), last = code.slice(0, n).findLastIndex(proposes);
  const next = cells.slice(number).find(isCode), at = next && proposes(next) ? n : last;
  const trial = trialOf(code[at]?.source ?? "");
  if (trial === undefined) {
    throw new RangeError(
      "tagged try, but no code cell above, nor the next, has a line that ends in // try VALUE",
    );
  }
  return trialForm(at, trial, n - 1).markup;
}

const proposes = ({ source }: Cell): boolean => trialOf(source) !== undefined;

const grouping = ["exercise", "decide"] as const;

/** Runs of cells that belong into one block: neighbours with the same tag; a heading begins a new block. */
function grouped(cells: readonly Cell[]): { kind?: "exercise" | "decide"; cells: Placed[] }[] {
  const groups: { kind?: "exercise" | "decide"; cells: Placed[] }[] = [];
  let n = 0, guess: number | undefined;
  cells.forEach((cell, index) => {
    const kind = grouping.find((tag) => tagged(cell, tag));
    const last = groups.at(-1);
    const begins = cell.cell_type === "markdown" && /^\s*#/.test(cell.source);
    const told = tagged(cell, "after-guess") ? guess : undefined;
    const placed = { cell, number: index + 1, n, ...(told === undefined ? {} : { guess: told }) };
    if (tagged(cell, "guess")) guess = n;
    if (isCode(cell)) n++;
    if (kind !== undefined && last?.kind === kind && !begins) last.cells.push(placed);
    else groups.push({ ...(kind === undefined ? {} : { kind }), cells: [placed] });
  });
  return groups;
}

/** A page asks, it does not tell what came of the answer in the cell. */
function unjudged(html: string): string {
  return html.replace(/<p class="result judged"[\s\S]*?<\/p>\n?/g, "");
}

/** The cell of an exercise: to start from where the answer is left out, else folded. */
function startOf(source: string, n: number): string {
  return /\bquestion\(/.test(source)
    ? codeBlock(source, n, { open: true, under: `Cell ${n + 1}, to start from` })
    : codeBlock(source, n, { under: `Cell ${n + 1}, the answer as a cell` });
}

/** What an exercise shows, with its cell at the end of the block; a run in the page says what came of the answer. */
function exerciseHtml({ source, outputs }: CodeCell, n: number): string {
  const shown = unjudged(outputsOf(outputs));
  if (!/\b(exercise|question)\(/.test(source)) return outputPlace(n, shown);
  const cell = startOf(source, n) + outputPlace(n, "", { only: ".judged" });
  const end = shown.lastIndexOf("</section>");
  return end < 0 ? shown + cell : shown.slice(0, end) + cell + shown.slice(end);
}

/** The code of a decision, folded under the block it made. */
function codeOf(cells: readonly Placed[]): string {
  return cells.map(({ cell, n }) => isCode(cell) ? codeBlock(cell.source, n) : "").join("");
}

/** Gives every heading an identifier of its own and tells those a reader may jump to. */
function anchored(html: string): { html: string; anchors: Anchor[] } {
  const taken = new Set([
    "text",
    "theme",
    ...[...html.matchAll(/\sid="([^"]+)"/g)].map((m) => m[1] ?? ""),
  ]);
  const unique = (wanted: string): string => {
    let id = wanted;
    for (let again = 2; taken.has(id); again++) id = `${wanted}-${again}`;
    taken.add(id);
    return id;
  };
  const named = html.replace(
    /<h([23])((?:\s(?!id=)[a-z-]+="[^"]*")*)>([\s\S]*?)<\/h\1>/g,
    (_, level, rest, inner) =>
      `<h${level} id="${unique(slug(textOf(inner)))}"${rest}>${inner}</h${level}>`,
  );
  const places = [...named.matchAll(
    /<(h2|section class="exercise[^>]*>\s*<h3)\s[^>]*?id="([^"]+)"[^>]*>([\s\S]*?)<\/h[23]>/g,
  )].map(([, kind, id, inner]) => ({ kind, id: id ?? "", text: textOf(inner ?? "") }));
  // exercises under a heading of their own need no second line in the list
  const hasHeading = places.some(({ kind, text }) => kind === "h2" && text.startsWith("Check"));
  return {
    html: named,
    anchors: places.filter(({ kind }) => kind === "h2" || !hasHeading).map(({ id, text }) => ({
      id,
      text,
    })),
  };
}

/**
 * The body of a notebook's page: prose, folded cells with their results, blocks by tag.
 *
 * @param notebook  executed
 * @param on        name of the stage, "measure-curve", by which words are explained
 * @throws {Error} naming the cell (from 1) where prose has a formula that cannot be set
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const body = lessonBody({
 *   cells: [{ id: "a", metadata: {}, cell_type: "markdown", source: "# Depth\n\nHow deep?\n\n## Idea" }],
 * });
 * assert.deepEqual([body.title, body.standfirst], ["Depth", "How deep?"]);
 * assert.deepEqual(body.anchors, [{ id: "idea", text: "Idea" }]);
 * ```
 */
export function lessonBody(notebook: Pick<Notebook, "cells">, on?: string): LessonBody {
  const words = new Set<string>();
  const explain = (html: string): string => explained(html, words, on);
  const [first] = notebook.cells;
  const { rest, title, standfirst } = inCell(1, () => opening(first));
  const cells: Cell[] = notebook.cells.map((cell, index) =>
    index === 0 && title !== undefined ? { ...cell, source: rest } : cell
  );
  const blocks = grouped(cells).map((group) => {
    const number = group.cells[0]?.number;
    const html = group.cells.map((placed) =>
      inCell(placed.number, () => cellHtml(placed, cells, explain))
    )
      .join("");
    if (group.kind === "exercise") return exercise(html, `check-${number}`);
    if (group.kind === "decide") return decision(html, `decide-${number}`) + codeOf(group.cells);
    return html;
  });
  return {
    ...(title === undefined ? {} : { title }),
    ...(standfirst === undefined ? {} : { standfirst }),
    ...anchored(
      blocks.join("\n") +
        guessAccount(notebook.cells.filter((cell) => tagged(cell, "guess")).length),
    ),
    words,
  };
}

// Cells with a tag become the look's blocks: lesson card, caution, exercise, decision.

const sign =
  `<svg viewBox="0 0 48 43" role="img" aria-label="Warning"><path d="M24 3.5 45 40H3Z" fill="none" stroke="var(--rouge)" stroke-width="4" stroke-linejoin="round"></path><path d="M24 15.5V27.5" stroke="var(--rouge)" stroke-width="4.4" stroke-linecap="round"></path><circle cx="24" cy="33.6" r="2.5" fill="var(--rouge)"></circle></svg>`;

/**
 * The lesson card from a list whose items begin with a bold word: what you will do, bring, need before.
 *
 * @param source  `- **You will** read the depth` and so on; anything before or after the list stays prose
 * @returns a `dl` in the look's two columns
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(card("- **Bring** a lamp"), /<dt>Bring<\/dt><dd>a lamp<\/dd>/);
 * ```
 */
export function card(source: string): string {
  const items: [string, string][] = [];
  const rest: string[] = [];
  for (const text of source.split("\n")) {
    const begins = /^\s*[-*]\s+\*\*(.+?)\*\*\s*[:.·]?\s*(.*)$/.exec(text);
    const last = items.at(-1);
    if (begins !== null) items.push([begins[1] ?? "", begins[2] ?? ""]);
    else if (last !== undefined && /^\s+\S/.test(text)) last[1] += ` ${text.trim()}`;
    else rest.push(text);
  }
  const rows = items.map(([name, told]) =>
    `<dt>${line(name.replace(/[:.]$/, ""))}</dt><dd>${line(told)}</dd>`
  );
  const list = `<dl class="card" aria-label="Lesson card">\n${rows.join("\n")}\n</dl>\n`;
  const around = rest.join("\n").trim();
  return (around === "" ? "" : prose(around)) + (rows.length === 0 ? "" : list);
}

/** A section named by its own first heading. */
function named(kind: string, html: string, id: string, before = ""): string {
  const heading = /<h([1-6])>/;
  const has = heading.test(html);
  const body = html.replace(heading, `<h$1 id="${id}">`);
  const label = has ? ` aria-labelledby="${id}"` : ` aria-label="${kind}"`;
  return `<section class="${kind}"${label}>\n${before}${body}</section>\n`;
}

/** A caution: sign, what it is about, what not to do, who must be there. */
export function caution(source: string, id: string): string {
  const html = prose(source).replace(/<h[1-6]>([\s\S]*?)<\/h[1-6]>/, "<h3>$1</h3>");
  return named("caution", html, id, `${sign}\n`);
}

/** An exercise: the question, the form a cell may show, hints and answer folded. */
export function exercise(html: string, id: string): string {
  return /<section class="exercise/.test(html) ? html : named("exercise", html, id);
}

/** The decision the page was for; a cell that shows the whole block is left as it is. */
export function decision(html: string, id: string): string {
  return /<section class="decide/.test(html) ? html : named("decide", html, id);
}

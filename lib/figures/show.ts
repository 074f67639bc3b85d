/** How a cell shows something: a display object that has settled before the cell ends. */
import type { Measured } from "../quantity/measured.ts";
import { Html, safe, trusted } from "./html.ts";
import { runtimeScript } from "./live/runtimeScript.ts";
import { scopedSheet } from "./look.ts";
import { inWords, quantityHtml } from "./words.ts";

/** Something to show: markup for a page, and the same in words for a reader without pictures. */
export interface Shown {
  /** for a page */
  readonly html: string;
  /** the same in words */
  readonly text: string;
}

/** What `show` takes. */
export type Showable = Shown | Html | Measured | string | number;

/** What the kernel displays at the end of a cell; useful outside the kernel for its `shown`. */
export interface Display {
  /** what is displayed */
  readonly shown: Shown;
  /** by which the kernel asks for the output */
  [key: symbol]: () => Promise<Record<string, never>>;
}

/** How long the kernel takes to send an output on, in a front end that does not wait for it. */
const settleMs = 20;

interface Jupyter {
  broadcast(type: string, content: unknown): Promise<void>;
}

function isJupyter(thing: unknown): thing is Jupyter {
  return typeof thing === "object" && thing !== null && "broadcast" in thing;
}

/** The runner's own way out, or the Jupyter API of the kernel, where there is one: outside it even looking at it throws. */
function jupyter(): Jupyter | undefined {
  const runner: unknown = Reflect.get(globalThis, runnersMark);
  if (isJupyter(runner)) return runner;
  try {
    const deno = (globalThis as { Deno?: { jupyter?: Jupyter } }).Deno;
    return typeof deno?.jupyter?.broadcast === "function" ? deno.jupyter : undefined;
  } catch {
    return undefined;
  }
}

/** A value worth showing as `Shown`: text is escaped, a quantity printed by its uncertainty. */
export function asShown(thing: Showable, unit?: string): Shown {
  if (thing instanceof Html) return { html: thing.markup, text: wordsOf(thing.markup) };
  if (typeof thing === "string") return { html: safe`<p>${thing}</p>`.markup, text: thing };
  if (typeof thing === "number") {
    if (!Number.isFinite(thing)) {
      throw new RangeError(`show requires a finite number, got ${thing}`);
    }
    const digits = String(Number(thing.toPrecision(4))).replace("-", "−");
    const inUnit = unit === undefined ? digits : `${digits}\u2009${unit}`;
    return { html: safe`<p class="out"><span class="q">${inUnit}</span></p>`.markup, text: inUnit };
  }
  if ("html" in thing) return thing;
  return {
    html: safe`<p class="out">${quantityHtml(thing)}</p>`.markup,
    text: inWords(thing),
  };
}

/** The words of a piece of our own markup, for a reader without pictures; no space where a tag ended before a comma. */
export function wordsOf(markup: string): string {
  const bare = markup.replace(/<(style|script)[\s\S]*?<\/\1>/g, "")
    .replace(/\s*(<[^>]*>\s*)+(?=[,.;:!?)])/g, "").replace(/\((<[^>]*>)+/g, "(").replace(
      /<[^>]*>/g,
      " ",
    );
  const plain = bare.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'").replaceAll("&amp;", "&");
  return plain.replace(/\s+/g, " ").trim();
}

/**
 * Several things one under the other, as one.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(together("one", "two").text, "one\n\ntwo");
 * ```
 */
export function together(...things: Showable[]): Shown {
  const all = things.map((thing) => asShown(thing));
  return { html: all.map((s) => s.html).join("\n"), text: all.map((s) => s.text).join("\n\n") };
}

/**
 * Shows something as the result of a cell, in the look of the book.
 *
 * The output is sent while the cell still runs, and the cell waits a moment for it: otherwise the kernel may print
 * it under the next cell. The kit's own runner waits by itself. Outside the kernel nothing happens, so the same code
 * runs in tests and scripts.
 *
 * @param thing  a figure, a block, a quantity, a sentence, or a plain number
 * @param unit   the unit of a plain number
 * @throws {RangeError} a number that is NaN or infinite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(show(10.26, "mm").shown.text, "10.26\u2009mm");
 * ```
 */
export function show(thing: Showable, unit?: string): Display {
  const shown = asShown(thing, unit);
  const page = safe`<div class="first-mirror">${trusted(shown.html)}</div>`;
  return {
    shown,
    [Symbol.for("Jupyter.display")]: async () => {
      const data = { "text/html": page.markup, "text/plain": shown.text };
      await jupyter()?.broadcast("display_data", { data, metadata: {}, transient: {} });
      if (!(runnersMark in globalThis)) {
        await new Promise((settled) => setTimeout(settled, settleMs));
      }
      return {};
    },
  };
}

/**
 * A script element that a page may leave out where it has the script already, as it may `style[data-first-mirror]`.
 *
 * @param script  a classic script
 */
export function scriptElement(script: string): Html {
  const inside = script.replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
  return trusted(`<script data-first-mirror>${inside}</script>`);
}

/**
 * The first output of a notebook: the look's style sheet and the script of the live figures, for every output below.
 *
 * A page of the book has both already and may leave out what is marked `data-first-mirror`.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(opening().html.startsWith("<style data-first-mirror>"));
 * ```
 */
export function opening(): Shown {
  const style = trusted(`<style data-first-mirror>${scopedSheet()}</style>`);
  return { html: safe`${style}${scriptElement(runtimeScript)}`.markup, text: "" };
}

// What the kit's own runners leave behind: in the kernel one that waits for a mark behind every cell, so that no output comes
// late; without a kernel one that takes the output itself.

export const runnersMark: unique symbol = Symbol.for("first-mirror.runner");

/** What every figure must hold: drawn at every width, told in words, no number missing, nothing loaded from elsewhere. */
import assert from "node:assert/strict";
import { parseHTML } from "linkedom";
import type { Shown } from "../../lib/figures/show.ts";

/** The few members of an element that tests read. */
export interface Part {
  readonly textContent: string;
  readonly outerHTML: string;
  getAttribute(name: string): string | null;
  querySelector(selector: string): Part | null;
  querySelectorAll(selector: string): Iterable<Part>;
}

export function parsed(html: string): Part {
  return (parseHTML(`<html><body>${html}</body></html>`) as unknown as { document: Part }).document;
}

/** Every tag closed in order: a strict reading, since a browser would mend silently. */
export function assertWellFormed(markup: string): void {
  const open: string[] = [], single = new Set(["br", "input", "img", "hr", "meta", "link"]);
  const bare = markup.replace(/<(script|style)([^>]*)>[\s\S]*?<\/\1>/g, "");
  for (
    const [tag, slash = "", name = "", , close = ""] of bare.matchAll(
      /<(\/?)([a-zA-Z][\w-]*)((?:"[^"]*"|'[^']*'|[^>"'])*?)(\/?)>/g,
    )
  ) {
    if (slash === "/") assert.equal(open.pop(), name, `${tag} closes what is open`);
    else if (close !== "/" && !single.has(name)) open.push(name);
  }
  assert.deepEqual(open, [], "every element is closed");
  assert.doesNotMatch(
    bare.replace(/<(?:"[^"]*"|'[^']*'|[^>"'])*>/g, ""),
    /[<>]/,
    "no stray angle bracket",
  );
}

/** Widths that a figure of a span is drawn at, and the class of each. */
const widths = {
  column: [["608", "big-only"], ["340", "small-only"]],
  wide: [["880", "wide-only"], ["608", "mid-only"], ["340", "small-only"]],
} as const;

/**
 * Checks one figure; the axis titles must stand in every drawing.
 *
 * @param says  what the finding must tell
 */
export function assertFigure(
  shown: Shown,
  { span = "column", titles = [], says }: {
    readonly span?: keyof typeof widths;
    readonly titles?: readonly RegExp[];
    readonly says?: RegExp;
  } = {},
): Part[] {
  assertWellFormed(shown.html);
  const drawings = [...parsed(shown.html).querySelectorAll("svg")];
  assert.deepEqual(
    drawings.map((svg) => [svg.getAttribute("width"), svg.getAttribute("class")]),
    widths[span].map(([width, only]) => [width, `plot ${only}`]),
  );
  for (const svg of drawings) {
    assert.equal(svg.getAttribute("role"), "img");
    const label = svg.getAttribute("aria-label") ?? "";
    assert.ok(label.length > 20, "the finding is told");
    if (says !== undefined) assert.match(label, says);
    const words = [...svg.querySelectorAll("text")].map((text) => text.textContent);
    titles.forEach((title) =>
      assert.ok(words.some((text) => title.test(text)), `title ${title} in ${words.join(" | ")}`)
    );
    assert.equal([...svg.querySelectorAll("style, script, image, foreignObject")].length, 0);
  }
  assertNoHoles(shown.html);
  assert.ok(
    shown.text.length > 20 &&
      !/<\/?(svg|g|text|path|b|p|span|figure)\b|NaN|undefined|Infinity/.test(shown.text),
    shown.text,
  );
  return drawings;
}

/** No coordinate is NaN, infinite or undefined, and colours are the page's own. */
export function assertNoHoles(html: string): void {
  assert.doesNotMatch(html, /NaN|Infinity|undefined|\[object/);
  assert.doesNotMatch(html, /(fill|stroke)="(#|rgb|red|blue|steelblue|black|white)/);
  assert.doesNotMatch(html, /https?:(?!\/\/www\.w3\.org\/)/);
}

import assert from "node:assert/strict";
import { colours, paperRules, rootTokens, rules, scopedSheet } from "../../lib/figures/look.ts";

/** Custom properties that a sheet sets. */
function set(css: string): Set<string> {
  return new Set([...css.matchAll(/(--[\w-]+)\s*:/g)].map(([, name = ""]) => name));
}

function luminance(hex: string): number {
  const full = hex.length === 4 ? hex.replace(/[0-9a-f]/gi, "$&$&") : hex;
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const c = parseInt(full.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(declarations: string, one: string, other: string): number {
  const value = (name: string): string =>
    new RegExp(`--${name}: (#[0-9a-f]+)`).exec(declarations)?.[1] ?? "";
  const [a, b] = [luminance(value(one)), luminance(value(other))].sort((x, y) => y - x);
  return ((a ?? 0) + 0.05) / ((b ?? 0) + 0.05);
}

Deno.test("every property a rule uses is set", () => {
  const known = set(rootTokens());
  for (const css of [rules, paperRules, scopedSheet()]) {
    for (const [, name = ""] of css.matchAll(/var\((--[\w-]+)\)/g)) {
      assert.ok(known.has(name), name);
    }
  }
});

Deno.test("brackets close, so that one rule cannot swallow the next", () => {
  for (const css of [rootTokens(), rules, paperRules, scopedSheet()]) {
    let depth = 0;
    for (const mark of css.replace(/"[^"]*"/g, "")) {
      depth += mark === "{" ? 1 : mark === "}" ? -1 : 0;
      assert.ok(depth >= 0);
    }
    assert.equal(depth, 0);
  }
});

Deno.test("in a notebook no rule reaches outside its frame", () => {
  const top = scopedSheet().split("\n").reduce<{ depth: number; heads: string[] }>(
    ({ depth, heads }, line) => {
      const head = depth === 0 && line.includes("{") ? [line.split("{")[0] ?? ""] : [];
      const change = (line.match(/\{/g)?.length ?? 0) - (line.match(/\}/g)?.length ?? 0);
      return { depth: depth + change, heads: [...heads, ...head] };
    },
    { depth: 0, heads: [] },
  );
  assert.ok(top.heads.length >= 3);
  for (const head of top.heads) {
    head.split(/,(?![^(]*\))/).forEach((one) => assert.match(one, /\.(first-mirror)/));
  }
});

Deno.test("words read against the page, by day, in the dark and on paper", () => {
  // READ W3C, WCAG 2.2, 1.4.3 and 1.4.11 (from memory): 4.5 for text, 3 for lines that mean something.
  for (const declarations of Object.values(colours)) {
    for (const word of ["ink", "soft", "glass", "rouge", "graphite"]) {
      assert.ok(
        contrast(declarations, word, "paper") >= 4.5,
        `${word}: ${contrast(declarations, word, "paper")}`,
      );
    }
    assert.ok(contrast(declarations, "line", "paper") >= 3);
  }
});

Deno.test("nothing is fetched", () => {
  for (const css of [rootTokens(), rules, paperRules, scopedSheet()]) {
    assert.doesNotMatch(css, /url\(|@import|https?:/);
  }
});

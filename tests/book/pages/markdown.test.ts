import fc from "fast-check";
import assert from "node:assert/strict";
import {
  cellSummary,
  codeBlock,
  functionsCalled,
  line,
  prose,
  quietCode,
  slug,
} from "../../../lib/book/pages/markdown.ts";

Deno.test("a table gets scopes, columns of numbers and a frame that scrolls", () => {
  const html = prose("| Grade | µm |\n|---|--:|\n| F80 | 185 |");
  assert.match(html, /<div class="scroll" tabindex="0" role="region" aria-label="Table"><table>/);
  assert.match(html, /<th scope="col">Grade<\/th>/);
  assert.match(html, /<th scope="col" class="n">µm<\/th>/);
  assert.match(html, /<td class="n">185<\/td>/);
});

Deno.test("the sentence after a formula names its letters in a row", () => {
  const html = prose("$$R$$\n\nwhere **r** half the chord · **s** depth · all in mm.");
  assert.match(
    html,
    /<p class="where"><span><strong>r<\/strong> half the chord<\/span> <span><strong>s<\/strong> depth<\/span> <span>all in mm<\/span><\/p>/,
  );
});

Deno.test("a sentence that begins with where stays a sentence when no formula is before it", () => {
  assert.equal(prose("where it rests · it wears"), "<p>where it rests · it wears</p>\n");
});

Deno.test("underscores make a blank to write in, in prose and in one line", () => {
  assert.match(prose("R is ______ mm"), /R is <span class="blank"><\/span> mm/);
  assert.equal(line("____ mm"), '<span class="blank"></span> mm');
});

Deno.test("details fold quietly, and one with a class keeps it", () => {
  assert.match(
    prose("<details><summary>A hint</summary>\n\nLook.\n\n</details>"),
    /<details class="fold">/,
  );
  assert.match(
    prose('<details class="cell"><summary>x</summary></details>'),
    /<details class="cell">/,
  );
});

Deno.test("quotes are those of print, but code, symbols and abbreviations are left as written", () => {
  assert.equal(prose('the Sun\'s "image"'), "<p>the Sun’s “image”</p>\n");
  assert.equal(prose("`it's`"), "<p><code>it's</code></p>\n");
  assert.equal(prose("(c) (R) +-"), "<p>(c) (R) +-</p>\n");
});

Deno.test("a fence is quiet code, escaped", () => {
  assert.match(prose("```ts\na < b\n```"), /<pre tabindex="0"><code>a &lt; b<\/code><\/pre>/);
});

Deno.test("a slug has the words of a heading and nothing else", () => {
  assert.equal(slug("From depth to radius"), "from-depth-to-radius");
  assert.equal(slug("What’s up &amp; where?"), "what-s-up-where");
  assert.equal(slug("Inés"), "ine-s");
  assert.equal(slug("∞"), "section");
});

Deno.test("a formula in a line becomes MathML, without a wrapper that needs a style sheet", () => {
  const html = prose("With $s = 1.14$ mm it is flat.");
  assert.match(html, /^<p>With <math[^>]*>.*<mn>1.14<\/mn>.*<\/math> mm it is flat\.<\/p>\n$/);
  assert.doesNotMatch(html, /katex/);
});

Deno.test("a formula on its own line scrolls by itself and can be reached by keyboard", () => {
  for (const source of ["$$R = 2f$$", "$$\nR = 2f\n$$", "text\n$$R = 2f$$\nmore"]) {
    assert.match(prose(source), /<div class="formula" tabindex="0" role="group"/, source);
  }
});

Deno.test("a formula may begin with a number, a minus, a bracket or a command", () => {
  for (const tex of ["2f", "-1", "(a+b)^2", "\\lambda/8", "74^2 + 1.14^2"]) {
    assert.match(prose(`so $${tex}$ it is`), /<math/, tex);
  }
});

Deno.test("a lone dollar, an escaped one and two prices are no formula", () => {
  for (const source of ["It costs 5 $ here.", "\\$R\\$", "from $5 to $9 apiece", "a $ b $ c"]) {
    assert.doesNotMatch(prose(source), /<math/, source);
  }
});

Deno.test("a dollar sign in code stays code", () => {
  assert.match(prose("`$a$`"), /<code>\$a\$<\/code>/);
  assert.doesNotMatch(prose("```\n$$a$$\n```"), /<math/);
});

Deno.test("a mistake in prose is refused with the formula that has it", () => {
  assert.throws(() => prose("so $\\wrong{x}$ it is"), /\\wrong/);
});

const unescaped = (html: string): string =>
  html.replace(/<[^>]*>/g, "").replaceAll("&lt;", "<").replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"').replaceAll("&#x27;", "'").replaceAll("&amp;", "&");

Deno.test("code has three classes: names called, literals, comments", () => {
  assert.equal(
    quietCode('show(depth, "mm"); // so deep'),
    '<span class="f">show</span>(depth, <span class="l">&quot;mm&quot;</span>); <span class="c">// so deep</span>',
  );
});

Deno.test("keywords and names stay plain, nested marks stay balanced", () => {
  const html = quietCode("const s = await read(`a${b + 1}c`);");
  assert.doesNotMatch(html, /hljs/);
  assert.equal(html.match(/<span/g)?.length, html.match(/<\/span>/g)?.length);
});

Deno.test("whatever the code, its characters are all there and none is a tag", () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 60 }), (source) => {
      const html = quietCode(source);
      assert.equal(unescaped(html), source);
      assert.doesNotMatch(html.replace(/<span class="[cfl]">|<\/span>/g, ""), /[<>]/);
    }),
    { numRuns: 200 },
  );
});

Deno.test("functions called are told once, in their order, without methods, keywords, comments, strings and show", () => {
  const source = `if (ready) { // area(1)
  const a = sagitta(150, 2400), b = Math.round(sagitta(150, 2400)), c = "say(1)";
  show(radiusFromSagitta(a, b));
}`;
  assert.deepEqual(functionsCalled(source), ["sagitta", "radiusFromSagitta"]);
});

Deno.test("the line of a folded cell says its length and what it calls, four names at most", () => {
  assert.equal(cellSummary("curveLog(1)", 2), "Cell 3, 1 line: <code>curveLog</code>");
  assert.equal(cellSummary("a;\nb;", 0), "Cell 1, 2 lines");
  assert.match(cellSummary("a(b(c(d(e()))))", 0), /<code>a<\/code>, .*<code>d<\/code> …$/);
});

Deno.test("a cell of imports alone is named for what it is", () => {
  assert.equal(
    cellSummary('import { a } from "x";\nimport type { B } from "y";\nimport "z";', 0),
    "Cell 1, the tools of this page, 3 lines",
  );
  assert.match(
    cellSummary('import { a } from "x";\na(1);', 0),
    /^Cell 1, 2 lines: <code>a<\/code>$/,
  );
});

Deno.test("a cell is folded unless it is to stand open, and is found by its number", () => {
  assert.match(codeBlock("a", 4), /^<details class="cell" data-cell="4"><summary>Cell 5, 1 line</);
  assert.match(codeBlock("a", 0, { open: true }), /^<details class="cell" data-cell="0" open>/);
  const acts = [...codeBlock("a", 0).matchAll(/<button[^>]*>([^<]*)</g)].map(([, name]) => name);
  assert.deepEqual(acts, ["Run", "Stop", "As it was"]);
});

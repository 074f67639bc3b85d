import assert from "node:assert/strict";
import fc from "fast-check";
import {
  cellSummary,
  codeBlock,
  functionsCalled,
  quietCode,
} from "../../../lib/book/pages/code.ts";

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
  assert.equal(cellSummary("curveLog(1)"), "The cell, 1 line: <code>curveLog</code>");
  assert.equal(cellSummary("a;\nb;"), "The cell, 2 lines");
  assert.match(cellSummary("a(b(c(d(e()))))"), /<code>a<\/code>, .*<code>d<\/code> …$/);
});

Deno.test("a cell of imports alone is named for what it is", () => {
  assert.equal(
    cellSummary('import { a } from "x";\nimport type { B } from "y";\nimport "z";'),
    "The tools of this page, 3 lines",
  );
  assert.match(
    cellSummary('import { a } from "x";\na(1);'),
    /^The cell, 2 lines: <code>a<\/code>$/,
  );
});

Deno.test("a cell is folded unless it is to stand open", () => {
  assert.match(codeBlock("a"), /^<details class="cell"><summary>/);
  assert.match(codeBlock("a", true), /^<details class="cell" open>/);
});

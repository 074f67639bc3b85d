import assert from "node:assert/strict";
import { prose } from "../../../lib/book/pages/markdown.ts";

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

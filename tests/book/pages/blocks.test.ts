import assert from "node:assert/strict";
import { card, caution, decision, exercise } from "../../../lib/book/pages/blocks.ts";

Deno.test("a card has a row for each item, with its lines joined and its blank to write in", () => {
  const html = card(
    "- **You will** read the depth\n  with leaves\n- **Write on the disc:** R ____ mm",
  );
  assert.match(html, /^<dl class="card" aria-label="Lesson card">/);
  assert.match(html, /<dt>You will<\/dt><dd>read the depth with leaves<\/dd>/);
  assert.match(html, /<dt>Write on the disc<\/dt><dd>R <span class="blank"><\/span> mm<\/dd>/);
});

Deno.test("what stands around a card's list stays prose; a card without items is prose alone", () => {
  assert.match(card("First this.\n\n- **Bring** a lamp"), /^<p>First this\.<\/p>\n<dl/);
  assert.equal(card("No list."), "<p>No list.</p>\n");
});

Deno.test("a caution has the sign, its own heading as its name, and only one level of heading", () => {
  const html = caution("## Caution: it burns\n\n- Never look.\n\nAsk first.", "caution-4");
  assert.match(
    html,
    /^<section class="caution" aria-labelledby="caution-4">\n<svg[^>]*aria-label="Warning"/,
  );
  assert.match(html, /<h3 id="caution-4">Caution: it burns<\/h3>/);
  assert.match(html, /<ul>[\s\S]*Never look/);
});

Deno.test("an exercise or a decision without a heading still has a name", () => {
  assert.match(
    exercise("<p>How deep?</p>", "x"),
    /^<section class="exercise" aria-label="exercise">/,
  );
  assert.match(decision("<p>Go on.</p>", "x"), /^<section class="decide" aria-label="decide">/);
});

Deno.test("a block that a cell shows whole is not put into another", () => {
  for (
    const html of ['<section class="exercise" id="e">1</section>', '<section class="exercise">']
  ) {
    assert.equal(exercise(html, "x"), html);
  }
  const whole = '<section class="decide" aria-label="Decide: stop">…</section>';
  assert.equal(decision(whole, "x"), whole);
});

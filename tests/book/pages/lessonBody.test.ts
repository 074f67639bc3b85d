import assert from "node:assert/strict";
import {
  card,
  caution,
  decision,
  exercise,
  lessonBody,
  titleOf,
} from "../../../lib/book/pages/lessonBody.ts";
import type { Output } from "../../../lib/book/notebook.ts";
import { code, notebookOf, prose } from "../sampleBook.ts";

const bodyOf = (...cells: Parameters<typeof notebookOf>[0]): ReturnType<typeof lessonBody> =>
  lessonBody(notebookOf(cells));

Deno.test("the first heading is the title, the paragraph under it the first sentence of the page", () => {
  const body = bodyOf(prose("# Depth\n\n*How deep?*\n\nThen this."), prose("Next."));
  assert.equal(body.title, "Depth");
  assert.equal(body.standfirst, "How deep?");
  assert.equal(body.html, "<p>Then this.</p>\n\n<p>Next.</p>\n");
});

Deno.test("a notebook without a heading, or with a list under it, keeps all its prose", () => {
  assert.equal(bodyOf(prose("Just prose.")).title, undefined);
  const body = bodyOf(prose("# Depth\n\n- **Bring** a lamp"));
  assert.equal(body.standfirst, undefined);
  assert.match(body.html, /<li><strong>Bring/);
  assert.equal(bodyOf().html, "");
});

Deno.test("the title of a notebook has the apostrophe of print", () => {
  assert.equal(
    titleOf(notebookOf([prose("# The mirror's report\n\nOne sheet.")])),
    "The mirror’s report",
  );
  assert.equal(titleOf(notebookOf([prose("no heading")])), undefined);
});

Deno.test("every heading has an id of its own, also where two say the same or a figure has that id already", () => {
  const figure = { "text/html": '<p id="again">1</p><h2>Decide: stop</h2>' };
  const body = bodyOf(
    prose("## Again"),
    prose("## Again"),
    prose("### Text"),
    code("1", [{
      output_type: "display_data",
      data: figure,
      metadata: {},
    }]),
  );
  assert.match(body.html, /<h2 id="again-2">Again<\/h2>/);
  assert.match(body.html, /<h2 id="again-3">Again<\/h2>/);
  assert.match(body.html, /<h3 id="text-2">Text<\/h3>/);
  assert.deepEqual(body.anchors.map(({ id }) => id), ["again-2", "again-3", "decide-stop"]);
});

Deno.test("the list of a page has its exercises, and headings without their formulas' source", () => {
  const body = bodyOf(prose("## Why $s$"), prose("### Check yourself\n\nHow deep?", "exercise"));
  assert.deepEqual(body.anchors, [{ id: "why-s", text: "Why s" }, {
    id: "check-2",
    text: "Check yourself",
  }]);
});

Deno.test("cells of one exercise make one block; a new heading begins another; code that holds the answer is left out", () => {
  const { html } = bodyOf(
    prose("### First\n\nHow deep?", "exercise"),
    code("check(answer, 2402)", [], "exercise"),
    prose("### Second\n\nHow far?", "exercise"),
  );
  assert.equal(html.match(/<section class="exercise"/g)?.length, 2);
  assert.doesNotMatch(html, /2402/);
});

Deno.test("a decision's code is folded under the block", () => {
  const { html } = bodyOf(code('decide("stop")', [{
    output_type: "display_data",
    data: { "text/html": '<section class="decide"><h2>Decide: stop</h2></section>' },
    metadata: {},
  }], "decide"));
  assert.ok(
    html.indexOf('<section class="decide"') < html.indexOf('<details class="cell" data-cell="0">'),
  );
  assert.equal(html.match(/<section/g)?.length, 1);
});

Deno.test("a tag opens a cell; an empty cell leaves nothing; raw cells are not shown", () => {
  assert.match(bodyOf(code("f(1)", [], "open")).html, /<details class="cell" data-cell="0" open>/);
  assert.equal(bodyOf(code("  ", [])).html, "");
  assert.equal(bodyOf({ id: "r", cell_type: "raw", source: "<b>", metadata: {} }).html, "");
});

Deno.test("a code cell and what it gave are found by their number among the code cells, from 0", () => {
  const shown = (html: string): Output[] => [
    { output_type: "display_data", data: { "text/html": html }, metadata: {} },
  ];
  const { html } = bodyOf(
    prose("One."),
    code("f(1)", shown("<p>first</p>")),
    prose("Two."),
    code("  ", []),
    code(
      'show(exercise("x-1", "Leaves", 1));',
      shown('<section class="exercise"><p class="result judged">no</p></section>'),
      "exercise",
    ),
    code("g(2)", shown('<section class="decide"></section>'), "decide"),
  );
  const places = [...html.matchAll(/data-(cell|output-of)="(\d)"/g)].map(([, kind, n]) =>
    `${kind}${n}`
  );
  assert.deepEqual(places, ["cell0", "output-of0", "cell2", "output-of2", "output-of3", "cell3"]);
  assert.match(html, /data-output-of="0" data-state="as built" aria-live="polite">\n<p>first<\/p>/);
  // what an exercise says to an answer comes there alone, inside the block
  assert.match(html, /data-output-of="2"[^>]* data-only="\.judged">\n<\/div>\n<\/section>/);
  assert.doesNotMatch(html, />no</);
});

Deno.test("a mistake in a formula names its cell", () => {
  assert.throws(
    () => bodyOf(prose("Fine."), prose("so $\\frac{1}$")),
    /^Error: cell 2 of all, prose included: formula/,
  );
});

Deno.test("exercises under a heading of their own take one line of the list", () => {
  const body = bodyOf(
    prose("## Check yourself"),
    prose("### Leaves\n\nHow deep?", "exercise"),
    prose("### Sun\n\nHow far?", "exercise"),
    prose("## Decide"),
  );
  assert.deepEqual(body.anchors.map(({ text }) => text), ["Check yourself", "Decide"]);
});

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

/** Lengths in a finished text, told in inches. */
import assert from "node:assert/strict";
import { inchesOf, inInches, pageInInches } from "../../lib/quantity/inches.ts";

Deno.test("whole millimetres stand at the nearest 32nd of an inch, within half a millimetre", () => {
  for (let mm = 1; mm <= 3000; mm++) {
    const [whole = "0", part] = inchesOf(String(mm)).split(" ");
    const value = [whole, part].reduce((sum, one) => {
      const [top = "0", bottom = "1"] = (one ?? "0").split("/");
      return sum + Number(top) / Number(bottom);
    }, 0);
    // DERIVED: half of a 32nd is 25.4 / 64 = 0.397 mm
    assert.ok(Math.abs(25.4 * value - mm) <= 0.397, `${mm}: ${inchesOf(String(mm))}`);
  }
});

Deno.test("the doubt keeps its digits, in text and on a page", () => {
  // DERIVED: 1203.3 / 25.4 = 47.37, 4 / 25.4 = 0.157; 0.965 / 25.4 = 0.03799, 0.012 / 25.4 = 0.00047
  assert.equal(inInches("1203 mm ± 4 mm"), "47.36 in ± 0.16 in");
  assert.equal(
    inInches('<span class="q">0.965 <i>± 0.012</i>\u2009mm</span>'),
    '<span class="q">0.0380 <i>± 0.0005</i>\u2009in</span>',
  );
});

Deno.test("rates and small depths are told in thousandths", () => {
  // DERIVED: 56 / 25.4 = 2.2; 4.7 / 25.4 = 0.185, 0.5 / 25.4 = 0.0197
  assert.equal(inInches("56 µm too deep"), "2.2 thou too deep");
  assert.equal(
    inInches("deepens by 4.7 µm/min ± 0.5 µm/min"),
    "deepens by 0.185 thou/min ± 0.020 thou/min",
  );
});

Deno.test("what is no length stays, and so do names of columns", () => {
  for (
    const text of [
      "550 nm",
      "4 lines per mm",
      "depth_mm",
      "zone_1_mm",
      "3 mm2",
      "20 minutes",
      "f/8",
    ]
  ) assert.equal(inInches(text), text);
});

Deno.test("on a page scripts, styles and code stay", () => {
  const page =
    "<style>a { width: 150 mm }</style><p>150 mm</p><code>mask: [0 mm, 30 mm]</code><p>30 mm</p>";
  assert.equal(
    pageInInches(page),
    page.replace("<p>150 mm", "<p>5 29/32 in").replace("<p>30 mm", "<p>1 3/16 in"),
  );
});

Deno.test("a table's columns follow their heads; words, and what is no length, stay", () => {
  const table = (unit: string, cells: readonly string[]): string =>
    `<table>\n<thead><tr><th scope="col">Day</th><th scope="col" class="n">Depth<br>${unit}</th></tr></thead>\n<tbody>\n` +
    cells.map((cell) => `<tr><th scope="row">30</th><td class="n">${cell}</td></tr>\n`).join("") +
    "</tbody></table>";
  // DERIVED: 1203.3 / 25.4 = 47.37; 0.88 / 25.4 = 0.0346, 0.25 / 25.4 = 0.0098, so 0.010; 20 / 25.4 is 25/32
  assert.equal(
    pageInInches(
      table("mm", ['<span class="q">1203 <i>± 4</i></span>', "0.88+0.25", "<s>20</s>", "–"]),
    ),
    table("in", ['<span class="q">47.36 <i>± 0.16</i></span>', "0.035+0.01", "<s>25/32</s>", "–"]),
  );
  assert.equal(pageInInches(table("µm", ["-56"])), table("thou", ["-2.2"]));
  for (const [unit, cell] of [["mm", "20 or so"], ["nm", "20"]] as const) {
    assert.equal(pageInInches(table(unit, [cell, "20"])), table(unit, [cell, "20"]));
  }
});

Deno.test("exercises, live figures and formulas are asked and answered in millimetres", () => {
  const kept =
    '<section class="exercise" id="a"><section><p>20 mm</p></section><p>20 mm</p></section>' +
    '<figure class="live" data-live="x"><p>20 mm</p></figure><math><mtext>20 mm</mtext></math><pre>20 mm</pre>';
  assert.equal(
    pageInInches(`<p>20 mm</p>${kept}<p>20 mm</p>`),
    `<p>25/32 in</p>${kept}<p>25/32 in</p>`,
  );
});

Deno.test("what is guessed in millimetres comes out in them; what is guessed in minutes, or not at all, is told in inches", () => {
  const form = (n: number, unit: string): string =>
    `<form data-guess="${n}" data-about="{&quot;unit&quot;:&quot;${unit}&quot;,&quot;truth&quot;:4.45}"></form>`;
  const gave = (n: number, text: string): string =>
    `<div class="gave" data-output-of="${n}" hidden><div>${text}</div></div>`;
  const told = (n: number, text: string): string =>
    `<div data-after-guess="${n}" hidden><p>${text}</p></div>`;
  const page = (a: string, b: string): string =>
    form(3, "mm") + gave(3, "20 mm") + told(3, "20 mm") + form(4, "min") + gave(4, a) + told(4, b) +
    gave(5, a);
  assert.equal(pageInInches(page("20 mm", "20 mm")), page("25/32 in", "25/32 in"));
});

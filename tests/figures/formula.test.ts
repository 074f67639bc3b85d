import assert from "node:assert/strict";
import fc from "fast-check";
import { formula, standingFormula } from "../../lib/figures/formula.ts";

Deno.test("a formula in a line is bare MathML; one alone has the look's frame", () => {
  assert.match(formula("R = 2f"), /^<math(?![^>]*display="block").*<\/math>$/);
  assert.match(
    standingFormula("R"),
    /^<div class="formula" tabindex="0" role="group".*display="block".*<\/div>\n$/,
  );
});

Deno.test("a mistake is refused with the formula that has it", () => {
  assert.throws(
    () => formula("\\frac{1}"),
    /formula requires TeX that can be set, got \\frac\{1\}/,
  );
});

Deno.test("any sum of letters and numbers is set as one formula and keeps its letters", () => {
  const term = fc.oneof(
    fc.constantFrom("R", "f", "s", "r"),
    fc.integer({ min: 1, max: 999 }).map(String),
  );
  fc.assert(
    fc.property(fc.array(term, { minLength: 1, maxLength: 5 }), (terms) => {
      const html = formula(terms.join(" + "));
      assert.equal(html.match(/<mo>\+<\/mo>/g)?.length ?? 0, terms.length - 1);
      assert.match(html, /^<math.*<\/math>$/);
    }),
    { numRuns: 40 },
  );
});

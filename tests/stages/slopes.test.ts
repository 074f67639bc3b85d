import assert from "node:assert/strict";
import { propagateFormula } from "../../lib/quantity/derivative.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { slopes } from "../../lib/stages/slopes.ts";

Deno.test("slopes: R = r²/2s falls by r²/2s² for each millimetre of depth, written as one fraction", () => {
  const inputs = { r: measured(74, 0.15, "mm"), s: measured(1.1485, 0.0058, "mm") };
  const shown = slopes("R", propagateFormula("r^2 / (2 s)", inputs));
  // DERIVED 74 / 1.1485 = 64.4; 5476 / (2 x 1.31905) = 2075.7
  assert.match(shown.text, /dR\/dr = r \/ s = 64\.4/);
  assert.match(shown.text, /= -2080$/);
  assert.doesNotMatch(shown.html, /mathrm|<mfrac>\s*<mfrac>/);
  assert.equal(shown.html.match(/<mfrac>/g)?.length, 4);
});

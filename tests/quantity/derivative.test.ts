import assert from "node:assert/strict";
import fc from "fast-check";
import { propagateFormula } from "../../lib/quantity/derivative.ts";
import { type Measured, measured } from "../../lib/quantity/measured.ts";
import { propagate } from "../../lib/quantity/propagate.ts";
import { near } from "../references/reference.ts";
import { endGauge, endGaugeInputs } from "./gumExamples.ts";

Deno.test("GUM H.1 by symbolic derivatives", () => {
  const { computed } = endGauge.expected, rel = endGauge.tolerance["computed_rel"] ?? 0;
  const l = propagateFormula("lS + d - lS * (dAlpha * theta + alphaS * dTheta)", endGaugeInputs(), {
    unit: "nm",
  });
  near(l.value, computed.l_nm, 1e-15, "length");
  near(l.u, computed.u_c_nm, rel, "u");
  near(l.dof, computed.nu_eff, rel, "dof");
  assert.equal(l.unit, "nm");
});

Deno.test("the depth of a curve: partials as text and TeX", () => {
  const radius = propagateFormula("(r^2 + s^2) / (2 s)", {
    r: measured(75, 0.25, "mm"),
    s: measured(1.17, 0.01, "mm"),
  });
  // DERIVED: R = (r² + s²)/2s, ∂R/∂r = r/s = 64.102564, ∂R/∂s = (s² - r²)/2s² = -2054.069362
  near(radius.value, 2404.431154, 1e-9, "R");
  near(radius.budget[0]?.sensitivity, 64.102564, 1e-8, "by r");
  near(radius.budget[1]?.sensitivity, -2054.069362, 1e-9, "by s");
  near(radius.u, 26.052663, 1e-7, "u");
  assert.equal(radius.budget[0]?.partial, "r / s");
  assert.match(radius.budget[0]?.partialTex ?? "", /\\frac\{/);
  assert.match(radius.formulaTex, /\\frac\{/);
});

const positive = fc.double({ min: 0.5, max: 5, noNaN: true });

Deno.test("law: the symbolic and the plain route agree, correlations and all", () => {
  const formulas: readonly (readonly [string, (x: { a: number; b: number }) => number])[] = [
    ["a * b^2", ({ a, b }) => a * b * b],
    ["sqrt(a) / b", ({ a, b }) => Math.sqrt(a) / b],
    ["log(a * b) + sin(a)", ({ a, b }) => Math.log(a * b) + Math.sin(a)],
    ["a - sqrt(a^2 + b^2)", ({ a, b }) => a - Math.sqrt(a * a + b * b)],
    ["exp(-a) * atan(b)", ({ a, b }) => Math.exp(-a) * Math.atan(b)],
  ];
  fc.assert(
    fc.property(
      positive,
      positive,
      fc.double({ min: -0.9, max: 0.9, noNaN: true }),
      fc.constantFrom(...formulas),
      (a, b, r, [text, f]) => {
        const inputs: { a: Measured; b: Measured } = {
          a: measured(a, 0.02, "", 5),
          b: measured(b, 0.03, "", 7),
        };
        const correlations = [["a", "b", r]] as const;
        const shown = propagateFormula(text, inputs, { correlations }),
          plain = propagate(f, inputs, { correlations });
        near(shown.value, plain.value, 1e-14, text);
        near(shown.u, plain.u, 1e-8 * (1 + plain.u), text, "absolute");
        near(shown.dof, plain.dof, 1e-6, text);
      },
    ),
    { numRuns: 40 },
  );
});

Deno.test("a formula may do arithmetic only", () => {
  const x = { x: measured(1, 0.1, "") };
  assert.throws(
    () => propagateFormula("x + y", x),
    /value for each name, got none for "y" in "x \+ y"; known: x/,
  );
  assert.throws(() => propagateFormula("x +", x), /a formula it can read, got "x \+"/);
  for (const text of ["x = 2", "f(x) = x", "[x, 1]", "x; 2", '"x"', "x.y"]) {
    assert.throws(() => propagateFormula(text, x), RangeError, text);
  }
  assert.throws(() => propagateFormula("1 / (x - 1)", x), /finite number/);
  assert.throws(() => propagateFormula("sqrt(x - 5)", x), RangeError, "a complex result is none");
  near(propagateFormula("pi * x", x).u, 0.1 * Math.PI, 1e-12, "pi is known");
});

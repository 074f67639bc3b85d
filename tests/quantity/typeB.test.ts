import assert from "node:assert/strict";
import fc from "fast-check";
import { arcsine, rectangular, resolution, typeA } from "../../lib/quantity/typeB.ts";
import { near, reference } from "../references/reference.ts";
import { sampleCorrelation } from "./gumExamples.ts";

Deno.test("half-widths to standard uncertainties", () => {
  // DERIVED: second moments of the three shapes, a²/3, a²/2 and step²/12
  near(rectangular(3), Math.sqrt(3), 1e-15, "rectangle");
  near(arcsine(3), Math.sqrt(4.5), 1e-15, "arcsine");
  near(resolution(3), Math.sqrt(0.75), 1e-15, "step");
  for (const f of [rectangular, arcsine, resolution]) {
    assert.equal(f(0), 0);
    assert.throws(() => f(-1), new RegExp(`${f.name} requires a finite size of 0 or more, got -1`));
    assert.throws(() => f(NaN), RangeError);
  }
});

Deno.test("GUM H.1 and H.2: components, means and correlations of readings", () => {
  const h1 = reference<
    { readonly theta: { readonly components: readonly { readonly u: number }[] } },
    object
  >("gum-h1-end-gauge");
  near(arcsine(0.5), h1.inputs.theta.components[1]?.u ?? NaN, 1e-14, "cyclic temperature");
  const { inputs, expected, tolerance } = reference<
    Readonly<Record<"V_volt" | "I_ampere" | "phi_rad", readonly number[]>>,
    { readonly computed: Readonly<Record<"mean" | "u" | "r", Readonly<Record<string, number>>>> }
  >("gum-h2-resistance-reactance");
  const rel = tolerance["computed_rel"] ?? 0, { computed } = expected;
  const lists = { V: inputs.V_volt, I: inputs.I_ampere, phi: inputs.phi_rad };
  for (const [name, values] of Object.entries(lists)) {
    const { mean, u, dof } = typeA(values);
    near(mean, computed.mean[name] ?? NaN, rel, name);
    near(u, computed.u[name] ?? NaN, rel, `u ${name}`);
    assert.equal(dof, 4);
  }
  near(sampleCorrelation(lists.V, lists.I), computed.r["V,I"] ?? NaN, rel, "r(V, I)");
  near(sampleCorrelation(lists.V, lists.phi), computed.r["V,phi"] ?? NaN, rel, "r(V, phi)");
  near(sampleCorrelation(lists.I, lists.phi), computed.r["I,phi"] ?? NaN, rel, "r(I, phi)");
});

Deno.test("equal readings on a coarse scale are not perfectly sure", () => {
  const a = typeA([5.522, 5.522, 5.522, 5.522], 0.001);
  assert.equal(a.s, 0.001 / Math.sqrt(12));
  assert.equal(a.u, a.s / 2);
  assert.equal(typeA([1, 1, 1]).s, 0);
});

const list = fc.array(fc.double({ min: -100, max: 100, noNaN: true }), {
  minLength: 2,
  maxLength: 20,
});

Deno.test("law: another zero and unit move mean and u as they should", () => {
  fc.assert(
    fc.property(
      list,
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.double({ min: 0.01, max: 100, noNaN: true }),
      (values, zero, unit) => {
        const before = typeA(values), after = typeA(values.map((v) => (v + zero) * unit));
        near(after.mean, (before.mean + zero) * unit, 1e-7, "mean", "absolute");
        near(after.u, before.u * unit, 1e-6, "u", "absolute");
      },
    ),
  );
});

Deno.test("too little is refused", () => {
  assert.throws(() => typeA([1]), /typeA requires two or more finite readings, got \[1\]/);
  assert.throws(() => typeA([1, NaN]), RangeError);
  assert.throws(() => typeA([1, 2], -1), /size of 0 or more/);
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { coverageFactor, effectiveDof, interval } from "../../lib/quantity/coverage.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { near, reference } from "../references/reference.ts";

Deno.test("GUM G.4.1: a product of three means", () => {
  const { inputs, expected, tolerance } = reference<
    {
      readonly relative_u_percent: readonly number[];
      readonly n: readonly number[];
      readonly p: number;
    },
    {
      readonly published: Readonly<Record<string, number>>;
      readonly computed: Readonly<Record<string, number>>;
    }
  >("gum-g4-welch-satterthwaite");
  const parts = inputs.relative_u_percent.map((u, i) => ({ u, dof: (inputs.n[i] ?? 0) - 1 }));
  const u = Math.hypot(...parts.map((p) => p.u)), dof = effectiveDof(parts);
  const t = coverageFactor(inputs.p, Math.round(dof));
  const { computed, published } = expected, rel = tolerance["computed_rel"] ?? 0;
  near(u, computed["u_c_percent"] ?? NaN, rel, "u");
  near(dof, computed["nu_eff"] ?? NaN, rel, "dof");
  near(t, computed["t95_19"] ?? NaN, rel, "t");
  near(t * u, computed["U95_percent"] ?? NaN, rel, "U");
  near(u, published["u_c_percent"] ?? NaN, tolerance["u_c_percent"] ?? 0, "printed u", "absolute");
  near(dof, published["nu_eff"] ?? NaN, tolerance["nu_eff"] ?? 0, "printed dof", "absolute");
  near(t, published["t95"] ?? NaN, tolerance["t95"] ?? 0, "printed t", "absolute");
  near(
    t * u,
    published["U95_percent"] ?? NaN,
    tolerance["U95_percent"] ?? 0,
    "printed U",
    "absolute",
  );
});

Deno.test("a sum of a known and a measured contribution", () => {
  const extra = JSON.parse(
    Deno.readTextFileSync(
      new URL("../references/gum-g4-welch-satterthwaite.json", import.meta.url),
    ),
  );
  const dof = effectiveDof([{ u: 0.57, dof: 9 }, { u: 0.25, dof: Infinity }]);
  near(dof, extra.extra.test_dof_example.computed, 1e-9, "dof");
});

Deno.test("degrees of freedom are cut down to whole ones", () => {
  assert.equal(coverageFactor(0.99, 16.75), coverageFactor(0.99, 16));
  assert.ok(coverageFactor(0.99, 17) < coverageFactor(0.99, 16.99));
  assert.equal(
    coverageFactor(0.95, 16.9999999999),
    coverageFactor(0.95, 17),
    "but not for rounding's sake",
  );
  assert.ok(coverageFactor(0.95, 0.7) > coverageFactor(0.95, 1));
});

Deno.test("an interval lies evenly about its value", () => {
  const [low, high] = interval(measured(2400, 10, "mm"), 0.95);
  // READ in every table of the normal distribution: 1.959964
  near(high, 2419.59964, 1e-9, "high");
  near(low, 2380.40036, 1e-9, "low");
  assert.deepEqual(interval(measured(5, 0, "mm", 3)), [5, 5]);
});

const part = fc.record({
  u: fc.double({ min: 0.01, max: 10, noNaN: true }),
  dof: fc.double({ min: 1, max: 50, noNaN: true }),
});

Deno.test("law: between the fewest degrees of freedom and their sum", () => {
  fc.assert(fc.property(fc.array(part, { minLength: 1, maxLength: 8 }), (parts) => {
    const dof = effectiveDof(parts);
    assert.ok(dof >= Math.min(...parts.map((p) => p.dof)) * (1 - 1e-12));
    assert.ok(dof <= parts.reduce((sum, p) => sum + p.dof, 0) * (1 + 1e-12));
  }));
});

Deno.test("law: n equal contributions of dof k have n k", () => {
  fc.assert(fc.property(part, fc.integer({ min: 1, max: 20 }), (p, n) => {
    near(effectiveDof(new Array(n).fill(p)), n * p.dof, 1e-12, "n k");
    near(effectiveDof(new Array(n).fill({ ...p, u: -p.u })), n * p.dof, 1e-12, "sign");
  }));
});

Deno.test("nothing unsure, or all known: infinite", () => {
  assert.equal(effectiveDof([]), Infinity);
  assert.equal(effectiveDof([{ u: 0, dof: 3 }]), Infinity);
  assert.equal(effectiveDof([{ u: 2, dof: Infinity }]), Infinity);
});

Deno.test("wrong arguments are refused", () => {
  assert.throws(() => coverageFactor(95, 3), /0 < p < 1, got p=95/);
  assert.throws(() => coverageFactor(0.95, 0), RangeError);
  assert.throws(() => effectiveDof([{ u: NaN, dof: 3 }]), /u=NaN/);
  assert.throws(() => effectiveDof([{ u: 1, dof: 0 }]), /dof=0/);
});

import fc from "fast-check";
import assert from "node:assert/strict";
import { coverageFactor, effectiveDof } from "../../lib/quantity/coverage.ts";
import { rectangularBetween } from "../../lib/quantity/distributions.ts";
import { measured } from "../../lib/quantity/measured.ts";
import {
  combineTerms,
  correlationMatrix,
  propagate,
  secondOrder,
} from "../../lib/quantity/propagate.ts";
import { arcsine, rectangular, typeA } from "../../lib/quantity/typeB.ts";
import { near, reference } from "../references/reference.ts";
import {
  endGauge,
  endGaugeInputs,
  resistance,
  resultCorrelation,
  sampleCorrelation,
} from "./gumExamples.ts";

Deno.test("GUM H.1, an end gauge: contributions, dof, expanded uncertainty", () => {
  const { expected, tolerance } = endGauge, { computed, published } = expected;
  const rel = tolerance["computed_rel"] ?? 0, inputs = endGaugeInputs();
  near(inputs.d.u, computed.u_d_nm, rel, "u(d)");
  near(inputs.d.dof, computed.nu_d, rel, "dof(d)");
  near(inputs.theta.u, computed.u_theta_degC, rel, "u(theta)");
  const l = propagate(
    ({ lS, d, alphaS, dAlpha, theta, dTheta }) => lS + d - lS * (dAlpha * theta + alphaS * dTheta),
    inputs,
    { unit: "nm" },
  );
  const wanted: Readonly<Record<string, number>> = {
    lS: computed.contributions_nm["l_S"] ?? NaN,
    d: computed.contributions_nm["d"] ?? NaN,
    dAlpha: computed.contributions_nm["d_alpha"] ?? NaN,
    dTheta: computed.contributions_nm["d_theta"] ?? NaN,
    alphaS: 0,
    theta: 0,
  };
  for (const line of l.budget) {
    near(Math.abs(line.contribution), wanted[line.source] ?? NaN, 1e-6, line.source, "absolute");
  }
  near(l.value, computed.l_nm, 1e-15, "length");
  near(l.u, computed.u_c_nm, rel, "u");
  near(l.dof, computed.nu_eff, rel, "dof");
  near(coverageFactor(0.99, l.dof), computed.k99_t16, rel, "k");
  near(coverageFactor(0.99, l.dof) * l.u, computed.U99_nm, rel, "U");
  near(l.value, published.l_nm, tolerance["l_nm"] ?? 0, "printed length", "absolute");
  near(l.u, published.u_c_nm, tolerance["u_c_nm"] ?? 0, "printed u", "absolute");
  assert.equal(Math.floor(l.dof), published.nu_eff);
  near(
    coverageFactor(0.99, l.dof) * Math.round(l.u),
    published.U99_nm,
    0.5,
    "printed U",
    "absolute",
  );
});

Deno.test("GUM H.2, resistance and reactance: correlated inputs, correlated results", () => {
  const { inputs, expected, tolerance } = resistance, { computed, published } = expected;
  const rel = tolerance["computed_rel"] ?? 0, printed = tolerance["published_abs"] ?? 0;
  const lists = { V: inputs.V_volt, I: inputs.I_ampere, phi: inputs.phi_rad };
  const of = (list: readonly number[]): ReturnType<typeof measured> => {
    const { mean, u, dof } = typeA(list);
    return measured(mean, u, "", dof);
  };
  const x = { V: of(lists.V), I: of(lists.I), phi: of(lists.phi) };
  const correlations = [
    ["V", "I", sampleCorrelation(lists.V, lists.I)],
    ["V", "phi", sampleCorrelation(lists.V, lists.phi)],
    ["I", "phi", sampleCorrelation(lists.I, lists.phi)],
  ] as const;
  const R = propagate(({ V, I, phi }) => V / I * Math.cos(phi), x, { correlations });
  const X = propagate(({ V, I, phi }) => V / I * Math.sin(phi), x, { correlations });
  const Z = propagate(({ V, I }) => V / I, x, { correlations });
  const got: Readonly<Record<string, number>> = {
    R: R.value,
    u_R: R.u,
    X: X.value,
    u_X: X.u,
    Z: Z.value,
    u_Z: Z.u,
    r_RX: resultCorrelation(R, X, correlations),
    r_RZ: resultCorrelation(R, Z, correlations),
    r_XZ: resultCorrelation(X, Z, correlations),
  };
  assert.equal(Object.keys(computed.approach1).length, 9);
  for (const [key, wanted] of Object.entries(computed.approach1)) {
    near(got[key], wanted, rel, key);
    near(got[key], published[key] ?? NaN, printed, `printed ${key}`, "absolute");
  }
  for (const [name, result] of Object.entries({ R, X, Z })) {
    assert.equal(
      result.dof,
      4,
      "five sets of readings have four degrees of freedom, whatever is made of them",
    );
    near(result.budget.reduce((sum, line) => sum + line.share, 0), 1, 1e-12, `shares of ${name}`);
  }
  const alone = propagate(({ V, I, phi }) => V / I * Math.cos(phi), x);
  near(alone.u, computed.wrong_if_correlation_ignored["u_R"] ?? NaN, rel, "without correlation");
  const ratios = lists.V.map((v, i) => v / (lists.I[i] ?? NaN) * Math.cos(lists.phi[i] ?? NaN));
  near(typeA(ratios).u, computed.approach2_mean_of_ratios["u_R"] ?? NaN, rel, "second approach");
});

const value = fc.double({ min: -100, max: 100, noNaN: true });
const input = fc.record({
  value,
  u: fc.double({ min: 0.001, max: 10, noNaN: true }),
  dof: fc.integer({ min: 1, max: 60 }),
  unit: fc.constant("mm"),
});

Deno.test("law: a linear form has the root sum of squares, dof by Welch-Satterthwaite, shares that add to one", () => {
  fc.assert(fc.property(input, input, input, value, value, (a, b, c, p, q) => {
    fc.pre(Math.abs(p) > 0.01);
    const y = propagate((x) => p * x.a + q * x.b - x.c + 7, { a, b, c }, { unit: "mm" });
    near(y.value, p * a.value + q * b.value - c.value + 7, 1e-9, "value", "absolute");
    near(y.u, Math.hypot(p * a.u, q * b.u, c.u), 1e-9, "u");
    near(
      y.dof,
      effectiveDof([{ u: p * a.u, dof: a.dof }, { u: q * b.u, dof: b.dof }, {
        u: c.u,
        dof: c.dof,
      }]),
      1e-7,
      "dof",
    );
    near(y.budget.reduce((sum, line) => sum + line.share, 0), 1, 1e-12, "shares");
    assert.equal(y.unit, "mm");
  }));
});

Deno.test("law: fully correlated contributions add as they are", () => {
  fc.assert(fc.property(input, input, fc.double({ min: -1, max: 1, noNaN: true }), (a, b, r) => {
    const sum = (tie: number): number =>
      propagate((x) => x.a + x.b, { a, b }, { correlations: [["a", "b", tie]] }).u;
    near(sum(1), a.u + b.u, 1e-9, "r = 1");
    near(sum(-1), Math.abs(a.u - b.u), 1e-5 * (a.u + b.u), "r = -1", "absolute");
    near(
      sum(r) ** 2,
      a.u ** 2 + b.u ** 2 + 2 * r * a.u * b.u,
      1e-8 * (a.u + b.u) ** 2,
      "r",
      "absolute",
    );
  }));
});

Deno.test("law: differences find the derivatives of smooth functions to ten digits", () => {
  // DERIVED: elementary derivatives
  const cases: readonly (readonly [(x: number) => number, (x: number) => number])[] = [
    [Math.sqrt, (x) => 0.5 / Math.sqrt(x)],
    [Math.log, (x) => 1 / x],
    [(x) => x ** 4, (x) => 4 * x ** 3],
    [(x) => 1 / x, (x) => -1 / (x * x)],
    [Math.sin, Math.cos],
  ];
  fc.assert(
    fc.property(
      fc.double({ min: 0.5, max: 3, noNaN: true }),
      fc.constantFrom(...cases),
      (x, [f, slope]) => {
        const y = propagate((v) => f(v.x), { x: measured(x, 0.01 * x, "") });
        near(y.budget[0]?.sensitivity, slope(x), 2e-10 * (1 + Math.abs(f(x))), "slope", "absolute");
      },
    ),
  );
});

Deno.test("given derivatives are used, and no uncertainty means no uncertainty", () => {
  const y = propagate(({ a }) => a * a, { a: measured(3, 0.1, "") }, { partials: { a: 5 } });
  assert.equal(y.budget[0]?.contribution, 0.5);
  const sure = propagate(({ a, b }) => a + b, { a: measured(3, 0, ""), b: measured(0, 0, "") });
  assert.deepEqual([sure.u, sure.dof, sure.budget[0]?.share], [0, Infinity, 0]);
});

Deno.test("near the edge of where a function is defined the step shrinks", () => {
  const y = propagate(({ x }) => Math.sqrt(1 - x), { x: measured(0.9999, 1e-6, "") });
  near(y.budget[0]?.sensitivity, -0.5 / Math.sqrt(1e-4), 1e-6, "slope");
  assert.throws(
    () => propagate(({ x }) => Math.sqrt(1 - x), { x: measured(1, 0.1, "") }),
    /finite on both sides of x=1/,
  );
  assert.throws(
    () => propagate(({ x }) => Math.sqrt(1 - x), { x: measured(2, 0.1, "") }),
    /f finite at the inputs, got NaN/,
  );
});

Deno.test("a correlated group has the fewest degrees of freedom among its members", () => {
  const a = measured(0, 1, "", 4), b = measured(0, 1, "", 9), c = measured(0, 1, "", 20);
  const y = propagate((x) => x.a + x.b + x.c, { a, b, c }, { correlations: [["a", "b", 0.5]] });
  // DERIVED: group a, b: variance 3, dof 4; c: variance 1, dof 20; (3 + 1)² / (9/4 + 1/20)
  near(y.dof, 16 / (9 / 4 + 1 / 20), 1e-9, "dof");
});

Deno.test("results of one input are fully correlated, of different inputs not at all", () => {
  const a = measured(2, 0.1, ""), b = measured(3, 0.2, "");
  const twice = propagate((x) => 2 * x.a, { a }), less = propagate((x) => 1 - x.a, { a });
  near(resultCorrelation(twice, twice), 1, 1e-12, "itself");
  near(resultCorrelation(twice, less), -1, 1e-12, "opposite");
  assert.equal(resultCorrelation(twice, propagate((x) => x.b, { b })), 0);
});

Deno.test("correlations that cannot be are refused", () => {
  assert.throws(
    () => correlationMatrix(["a", "b"], [["a", "c", 0.5]]),
    /two different inputs of a, b, got a and c/,
  );
  assert.throws(() => correlationMatrix(["a", "b"], [["a", "a", 0.5]]), /got a and a/);
  assert.throws(() => correlationMatrix(["a", "b"], [["a", "b", 1.5]]), /-1 <= r <= 1, got r=1.5/);
  const one = { value: 0, u: 1, dof: Infinity, sensitivity: 1 };
  const three = ["a", "b", "c"].map((source) => ({ source, ...one }));
  assert.throws(
    () => combineTerms(0, three, [["a", "b", -0.9], ["a", "c", -0.9], ["b", "c", -0.9]]),
    /can hold together/,
  );
});

Deno.test("a rectangle and a swing propagate by their standard uncertainties", () => {
  // DERIVED: √(3²/3 + 2²/2) = √5
  const y = propagate(({ a, b }) => a + b, {
    a: measured(0, rectangular(3), ""),
    b: measured(0, arcsine(2), ""),
  });
  near(y.u, Math.sqrt(5), 1e-9, "u");
});

Deno.test("GUM H.1.7: the two second-order terms of the end gauge", () => {
  const { computed, published } = endGauge.expected;
  const inputs = endGaugeInputs();
  // lengths less the nominal 50 mm, so that differences of 10 nm are not lost in 50,000,000; the rest is rounding
  const rel = 1e-6;
  const bent = secondOrder(
    ({ lS, d, alphaS, dAlpha, theta, dTheta }) =>
      (lS - 50e6) + d - lS * (dAlpha * theta + alphaS * dTheta),
    inputs,
  );
  near(bent.firstOrder, computed.u_c_nm, rel, "first order");
  near(bent.u, Math.hypot(computed.u_c_nm, ...bent.terms.map((t) => t.u)), 1e-12, "sum");
  const big = bent.terms.slice(0, 2);
  assert.deepEqual(big.map((t) => t.pair), [["dAlpha", "theta"], ["alphaS", "dTheta"]]);
  big.forEach((t, i) => near(t.u, computed.second_order_nm[i] ?? NaN, rel, `term ${i}`));
  big.forEach((t, i) =>
    near(t.u, published.second_order_nm[i] ?? NaN, 0.05, `printed term ${i}`, "absolute")
  );
  near(
    Math.hypot(computed.u_c_nm, ...big.map((t) => t.u)),
    computed.u_c_with_second_order_nm,
    rel,
    "both",
  );
  near(bent.u, published.u_c_with_second_order_nm, 0.5, "printed", "absolute");
});

Deno.test("JCGM 101 9.3: the mass, first and second order", () => {
  const { expected, tolerance } = reference<object, {
    readonly published: Readonly<
      Record<"GUF_first_order" | "GUF_second_order", { readonly u: number }>
    >;
    readonly computed: { readonly u_first_order: number; readonly u_second_order: number };
  }>("jcgm101-9.3-mass");
  const box = (a: number, b: number): ReturnType<typeof measured> => {
    const { mean, u } = rectangularBetween(a, b);
    return measured(mean, u, "");
  };
  const bent = secondOrder(
    (x) => (x.mR + x.dmR) * (1 + (x.air - 1.2) * (1 / x.weight - 1 / x.standard)) - 100000,
    {
      mR: measured(100000, 0.05, "mg"),
      dmR: measured(1.234, 0.02, "mg"),
      air: box(1.1, 1.3),
      weight: box(7000, 9000),
      standard: box(7950, 8050),
    },
  );
  const { computed, published } = expected, allowed = tolerance["u_abs"] ?? 0;
  near(bent.firstOrder, computed.u_first_order, 1e-8, "first order");
  near(bent.u, computed.u_second_order, allowed, "second order", "absolute");
  near(bent.firstOrder, published.GUF_first_order.u, allowed, "printed first order", "absolute");
  near(bent.u, published.GUF_second_order.u, allowed, "printed second order", "absolute");
});

const slope = fc.double({ min: -5, max: 5, noNaN: true });

Deno.test("law: a linear form has no second-order terms and no shift", () => {
  fc.assert(fc.property(slope, slope, (p, q) => {
    const inputs = { a: measured(1, 0.1, ""), b: measured(2, 0.3, "") };
    const bent = secondOrder(({ a, b }) => p * a + q * b, inputs);
    near(bent.u, Math.hypot(p * 0.1, q * 0.3), 1e-9, "u", "absolute");
    near(bent.shift, 0, 1e-12, "shift", "absolute");
  }));
});

Deno.test("law: a square and a product of normal inputs are exact", () => {
  // DERIVED: var(x²) = 4m²u² + 2u⁴, mean m² + u²; var(xy) = m²v² + n²u² + u²v²
  const u = fc.double({ min: 0.01, max: 2, noNaN: true });
  fc.assert(fc.property(slope, slope, u, u, (m, n, s, t) => {
    const x = measured(m, s, ""), y = measured(n, t, "");
    const square = secondOrder((v) => v.x * v.x, { x });
    near(
      square.u ** 2,
      4 * m * m * s * s + 2 * s ** 4,
      1e-7 * (1 + square.u ** 2),
      "square",
      "absolute",
    );
    near(square.shift, s * s, 1e-10, "shift", "absolute");
    const product = secondOrder((v) => v.x * v.y, { x, y });
    near(
      product.u ** 2,
      m * m * t * t + n * n * s * s + s * s * t * t,
      1e-7 * (1 + product.u ** 2),
      "product",
      "absolute",
    );
  }));
});

Deno.test("third derivatives count: a cube", () => {
  // DERIVED: f = x³ at m: first order (3m²u)²; ½ f″² u⁴ = 18 m² u⁴; f′ f‴ u⁴ = 18 m² u⁴
  const { u } = secondOrder(({ x }) => x ** 3, { x: measured(2, 0.1, "") });
  near(u ** 2, (12 * 0.1) ** 2 + 36 * 4 * 1e-4, 1e-9, "variance");
});

Deno.test("a bend that lowers the variance is told by a negative term", () => {
  const { terms, u, firstOrder } = secondOrder(({ x }) => Math.sin(x), {
    x: measured(0.3, 0.3, ""),
  });
  assert.ok((terms[0]?.u ?? 0) < 0 && u < firstOrder);
});

Deno.test("inputs without uncertainty are passed over; a function undefined nearby is refused", () => {
  const bent = secondOrder(({ a, b }) => a * b, { a: measured(2, 0, ""), b: measured(3, 0.1, "") });
  near(bent.u, 0.2, 1e-10, "u");
  assert.equal(bent.terms.length, 1);
  assert.throws(
    () => secondOrder(({ a }) => Math.log(a), { a: measured(1, 3, "") }),
    /finite within half a standard uncertainty, got NaN/,
  );
});

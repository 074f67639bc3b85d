import assert from "node:assert/strict";
import fc from "fast-check";
import { measured } from "../../lib/quantity/measured.ts";
import { rectangularBetween } from "../../lib/quantity/distributions.ts";
import { secondOrder } from "../../lib/quantity/secondOrder.ts";
import { near, reference } from "../references/reference.ts";
import { endGauge, endGaugeInputs } from "./gumExamples.ts";

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

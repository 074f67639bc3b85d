import assert from "node:assert/strict";
import { bothRoutes } from "../../lib/quantity/monteCarlo.ts";
import { normalAbout, rectangularBetween, studentAbout } from "../../lib/quantity/distributions.ts";
import { near, reference } from "../references/reference.ts";

type Ends = readonly [number, number];

Deno.test("the logarithm of a wide rectangle: both routes as published, and said to differ", () => {
  const { inputs, expected, tolerance } = reference<
    { readonly x: { readonly a: number; readonly b: number }; readonly p: number },
    {
      readonly published: {
        readonly GUF: { readonly y: number; readonly u: number; readonly upper95: number };
        readonly MC: { readonly y: number; readonly u: number; readonly shortest95: Ends };
      };
      readonly computed: Readonly<Record<"GUF_y" | "GUF_u" | "exact_mean" | "exact_sd", number>> & {
        readonly GUF_interval95: Ends;
        readonly exact_shortest95: Ends;
      };
    }
  >("mc-log-model");
  const allowed = tolerance["mc_1e6_abs"] ?? 0, { computed, published } = expected;
  const { law, simulated, differ, says, bent } = bothRoutes(
    ({ x }) => Math.log(x),
    { x: rectangularBetween(inputs.x.a, inputs.x.b) },
    { trials: 1e6, seed: 2, p: inputs.p },
  );
  near(law.value, computed.GUF_y, 1e-12, "law");
  near(law.u, computed.GUF_u, tolerance["exact_abs"] ?? 0, "law's u", "absolute");
  law.interval.forEach((end, k) =>
    near(end, computed.GUF_interval95[k] ?? NaN, 1e-8, `law's end ${k}`, "absolute")
  );
  near(law.u, published.GUF.u, 0.0005, "printed", "absolute");
  near(simulated.value, computed.exact_mean, allowed, "mean", "absolute");
  near(simulated.u, computed.exact_sd, allowed, "u", "absolute");
  near(simulated.value, published.MC.y, allowed, "printed mean", "absolute");
  near(simulated.u, published.MC.u, allowed, "printed u", "absolute");
  simulated.interval.forEach((end, k) => {
    near(end, computed.exact_shortest95[k] ?? NaN, allowed, `end ${k}`, "absolute");
    near(end, published.MC.shortest95[k] ?? NaN, 0.005, `printed end ${k}`, "absolute");
  });
  assert.equal(differ, true);
  assert.match(
    says,
    /^The two routes differ: u 0.481 by the law of propagation, 0.60\d by simulation; .*believe the simulation\.$/,
  );
  // DERIVED: with f′ 1/x, f″ -1/x², f‴ 2/x³ at 0.6: u² = (u/x)² + 2.5 (u/x)⁴
  const relative = computed.GUF_u;
  near(bent?.u, Math.sqrt(relative ** 2 + 2.5 * relative ** 4), 0.001, "second order");
});

Deno.test("a gentle formula: the routes agree, by the digits that matter", () => {
  const { differ, says, bent, law } = bothRoutes(
    ({ r, s }) => r * r / (2 * s),
    { r: normalAbout(75, 0.05), s: normalAbout(1.17, 0.002) },
    { digits: 1, unit: "mm" },
  );
  assert.equal(differ, false);
  assert.match(
    says,
    /^The two routes agree: u 5\.\d+ by the law of propagation, 5\.\d+ by simulation\.$/,
  );
  assert.ok(bent && Math.abs(bent.u - bent.firstOrder) < 1e-3 * bent.u);
  assert.equal(law.unit, "mm");
});

Deno.test("two factors near zero: the law sees nothing, the bend and the simulation do", () => {
  const { law, bent, simulated, differ } = bothRoutes(
    ({ a, b }) => a * b,
    { a: normalAbout(0, 1), b: normalAbout(0, 2) },
    { trials: 50000 },
  );
  assert.equal(law.u, 0);
  near(bent?.u, 2, 1e-9, "second order"); // DERIVED: var(ab) = u²v²
  near(simulated.u, 2, 0.03, "simulated");
  assert.equal(differ, true);
});

Deno.test("correlated inputs go through both; few readings widen both alike", () => {
  const tied = bothRoutes(({ a, b }) => a + b, { a: normalAbout(1, 1), b: normalAbout(2, 1) }, {
    correlations: [["a", "b", 0.6]],
    trials: 200000,
  });
  near(tied.law.u, Math.sqrt(3.2), 1e-9, "law");
  near(tied.simulated.u, Math.sqrt(3.2), 0.01, "simulated");
  assert.equal(tied.bent, undefined);
  const edge = bothRoutes(({ a }) => Math.sqrt(a), { a: rectangularBetween(0, 1e-9) }, {
    trials: 1000,
  });
  assert.ok(edge.bent);
  const few = bothRoutes(({ a }) => 3 * a, { a: studentAbout(10, 1, 5) }, { trials: 200000 });
  near(few.simulated.interval[1], few.law.interval[1], 0.03 * few.law.u * 2.57, "t95", "absolute");
});

import fc from "fast-check";
import assert from "node:assert/strict";
import { random } from "../../lib/numeric/random.ts";
import {
  type Distribution,
  normalAbout,
  rectangularBetween,
  studentAbout,
} from "../../lib/quantity/distributions.ts";
import {
  middleInterval,
  middleOfDraws,
  monteCarlo,
  numericalTolerance,
  shortestInterval,
  shortestOfDraws,
} from "../../lib/quantity/monteCarlo.ts";
import { near, reference } from "../references/reference.ts";
import { arcsineBetween, looseRectangle } from "./shapes.ts";

type Ends = readonly [number, number];
interface Known {
  readonly mean: number;
  readonly u: number;
  readonly interval95: Ends;
}

Deno.test("JCGM 101 9.2: sums of four, a million draws each", () => {
  const { expected, tolerance } = reference<
    object,
    Readonly<Record<"9.2.2" | "9.2.3" | "9.2.4", Known>>,
    {
      readonly mc_1e6_interval_abs: Readonly<Record<string, number>>;
      readonly mc_1e6_u_rel: number;
    }
  >("jcgm101-9.2-additive");
  const bell = normalAbout(0, 1), box = rectangularBetween(-Math.sqrt(3), Math.sqrt(3));
  const wide = rectangularBetween(-10 * Math.sqrt(3), 10 * Math.sqrt(3));
  const cases = { "9.2.2": [bell, bell], "9.2.3": [box, box], "9.2.4": [box, wide] } as const;
  for (const [clause, [a, d]] of Object.entries(cases)) {
    const wanted = expected[clause as keyof typeof cases];
    const got = monteCarlo((x) => x.a + x.b + x.c + x.d, { a, b: a, c: a, d }, {
      trials: 1e6,
      seed: 7,
    });
    near(got.value, wanted.mean, 4 * wanted.u / 1000, `${clause} mean`, "absolute");
    near(got.u, wanted.u, tolerance.mc_1e6_u_rel, `${clause} u`);
    const allowed = tolerance.mc_1e6_interval_abs[clause] ?? 0, [low, high] = wanted.interval95;
    // the density is symmetric: the middle and the shortest interval are one; where it is flat the shortest's place
    // wanders, so its ends are compared by the middle one and its own width
    middleInterval(got.draws.slice().sort()).forEach((end, k) =>
      near(end, wanted.interval95[k] ?? NaN, allowed, `${clause} end ${k}`, "absolute")
    );
    near(got.interval[1] - got.interval[0], high - low, 2 * allowed, `${clause} width`, "absolute");
  }
});

interface Range {
  readonly mean: number;
  readonly sd: number;
  readonly scale: number;
  readonly dof: number;
  readonly a: number;
  readonly b: number;
  readonly d: number;
}

Deno.test("JCGM 101 9.3: a mass, whose first-order uncertainty is wrong", () => {
  const { inputs, expected, tolerance } = reference<
    Readonly<Record<"mR" | "dmR" | "rho_a" | "rho_W" | "rho_R", Range>> & {
      readonly m_nom_mg: number;
    },
    {
      readonly published: {
        readonly MCM: { readonly y: number; readonly u: number; readonly shortest: Ends };
      };
      readonly computed: { readonly u_exact_variance: number };
    }
  >("jcgm101-9.3-mass");
  const { mR, dmR, rho_a, rho_W, rho_R, m_nom_mg } = inputs, { MCM } = expected.published;
  const got = monteCarlo(
    (x) => (x.mR + x.dmR) * (1 + (x.air - 1.2) * (1 / x.weight - 1 / x.standard)) - m_nom_mg,
    {
      mR: normalAbout(mR.mean, mR.sd),
      dmR: normalAbout(dmR.mean, dmR.sd),
      air: rectangularBetween(rho_a.a, rho_a.b),
      weight: rectangularBetween(rho_W.a, rho_W.b),
      standard: rectangularBetween(rho_R.a, rho_R.b),
    },
    { trials: 1e6, seed: 3 },
  );
  near(got.value, MCM.y, tolerance["y_abs"] ?? 0, "mean", "absolute");
  near(got.u, MCM.u, tolerance["u_abs"] ?? 0, "u", "absolute");
  near(got.u, expected.computed.u_exact_variance, tolerance["u_abs"] ?? 0, "exact u", "absolute");
  got.interval.forEach((end, k) =>
    near(end, MCM.shortest[k] ?? NaN, tolerance["interval_abs"] ?? 0, `end ${k}`, "absolute")
  );
});

Deno.test("JCGM 101 9.5: a gauge block", () => {
  type Names = "L_S" | "D" | "d1" | "d2" | "alpha_S" | "theta0" | "Delta" | "d_alpha" | "d_theta";
  const { inputs, expected, tolerance } = reference<
    Readonly<Record<Names, Range>> & { readonly L_nom: number; readonly p: number },
    {
      readonly published: {
        readonly MCM: {
          readonly y: number;
          readonly u: number;
          readonly interval99_shortest: Ends;
        };
      };
      readonly computed: { readonly exact_sd: number };
    }
  >("jcgm101-9.5-gauge-block");
  const t = ({ mean, scale, dof }: Range): Distribution => studentAbout(mean, scale, dof);
  const loose = ({ a, b, d }: Range): Distribution => looseRectangle(a, b, d);
  const got = monteCarlo(
    (x) =>
      x.L_S + x.D + x.d1 + x.d2 - x.L_S * (x.dAlpha * (x.theta0 + x.Delta) + x.alphaS * x.dTheta) -
      inputs.L_nom,
    {
      L_S: t(inputs.L_S),
      D: t(inputs.D),
      d1: t(inputs.d1),
      d2: t(inputs.d2),
      alphaS: rectangularBetween(inputs.alpha_S.a, inputs.alpha_S.b),
      theta0: normalAbout(inputs.theta0.mean, inputs.theta0.sd),
      Delta: arcsineBetween(inputs.Delta.a, inputs.Delta.b),
      dAlpha: loose(inputs.d_alpha),
      dTheta: loose(inputs.d_theta),
    },
    { trials: 1e6, seed: 5, p: inputs.p },
  );
  const { MCM } = expected.published;
  near(got.value, MCM.y, tolerance["y_abs"] ?? 0, "mean", "absolute");
  near(got.u, MCM.u, tolerance["u_abs"] ?? 0, "u", "absolute");
  near(got.u, expected.computed.exact_sd, tolerance["u_abs"] ?? 0, "exact", "absolute");
  got.interval.forEach((end, k) =>
    near(
      end,
      MCM.interval99_shortest[k] ?? NaN,
      tolerance["interval_abs"] ?? 0,
      `end ${k}`,
      "absolute",
    )
  );
});

const unit = normalAbout(0, 1);

Deno.test("law: equal seeds, equal results; another seed, others", () => {
  fc.assert(
    fc.property(fc.nat(), (seed) => {
      const run = (s: number): readonly number[] => {
        const { value, u, interval } = monteCarlo((x) => x.a * x.b, { a: unit, b: unit }, {
          seed: s,
          trials: 200,
        });
        return [value, u, ...interval];
      };
      assert.deepEqual(run(seed), run(seed));
      assert.notDeepEqual(run(seed), run(seed + 1));
    }),
    { numRuns: 20 },
  );
});

Deno.test("the adaptive run stops once the digits stand still, sooner for one digit than for two", () => {
  // DERIVED: the normal's 0.975 quantile, 1.959964
  const run = (digits: 1 | 2): ReturnType<typeof monteCarlo> =>
    monteCarlo((x) => 2.5 * (x.a + x.b), { a: unit, b: unit }, { digits, seed: 4 });
  const one = run(1), two = run(2);
  assert.equal(one.settled, true);
  assert.equal(two.settled, true);
  assert.ok(one.trials < two.trials && two.trials < 2e6, `${one.trials}, ${two.trials}`);
  assert.equal(two.draws.length, two.trials);
  // DERIVED: u = 2.5√2 = 3.5, ends ±1.959964 u; two digits leave 0.05
  near(two.u, 2.5 * Math.SQRT2, 0.05, "u", "absolute");
  near(two.interval[1], 1.959964 * 2.5 * Math.SQRT2, 0.05, "high", "absolute");
});

Deno.test("an adaptive run that may not go on says so", () => {
  const got = monteCarlo((x) => x.a, { a: studentAbout(0, 1, 1.2) }, { digits: 3, most: 40000 });
  assert.equal(got.settled, false);
  assert.equal(got.trials, 40000);
});

Deno.test("correlated inputs are drawn together", () => {
  const run = (r: number): number =>
    monteCarlo((x) => x.a - x.b, { a: unit, b: unit, c: unit }, {
      correlations: [["a", "b", r]],
      trials: 40000,
    }).u;
  near(run(0.8), Math.sqrt(0.4), 0.02, "r = 0.8"); // DERIVED: var(a - b) = 2 - 2r
  near(run(1), 0, 1e-12, "r = 1", "absolute");
  near(run(-1), 2, 0.02, "r = -1");
  const rectangle = rectangularBetween(-1, 1);
  near(
    monteCarlo((x) => x.c, { a: unit, b: unit, c: rectangle }, {
      correlations: [["a", "b", 0.5]],
      trials: 40000,
    }).u,
    1 / Math.sqrt(3),
    0.02,
    "others stay",
  );
});

Deno.test("tolerances of the digits", () => {
  // DERIVED: half a unit of the last digit of 0.50, 35, 0.097 (two digits), 0.5 (one)
  near(numericalTolerance(0.5, 2), 0.005, 1e-12, "0.50");
  near(numericalTolerance(35, 2), 0.5, 1e-12, "35");
  near(numericalTolerance(0.0972, 2), 0.0005, 1e-12, "0.097");
  near(numericalTolerance(0.5, 1), 0.05, 1e-12, "0.5");
  near(numericalTolerance(0.997, 2), 0.05, 1e-12, "1.0");
  assert.equal(numericalTolerance(0, 2), 0);
});

Deno.test("what cannot be simulated is refused, with the inputs that failed", () => {
  assert.throws(
    () => monteCarlo((x) => Math.log(x.a), { a: unit }, { trials: 100 }),
    /f finite, got NaN at \{"a":-/,
  );
  assert.throws(() => monteCarlo((x) => x.a, { a: unit }, { p: 1 }), /p=1/);
  assert.throws(
    () => monteCarlo((x) => x.a, { a: unit }, { trials: 3 }),
    /whole trials, got trials=3/,
  );
  const t = studentAbout(0, 1, 3);
  assert.throws(
    () =>
      monteCarlo((x) => x.a, { a: t, b: unit }, { correlations: [["a", "b", 0.5]], trials: 100 }),
    /normal inputs where they are correlated: a, b/,
  );
  assert.throws(() =>
    monteCarlo((x) => x.a, { a: unit, b: unit, c: unit }, {
      correlations: [["a", "b", 0.9], ["a", "c", 0.9], ["b", "c", -0.9]],
      trials: 100,
    }), /not negative/);
});

Deno.test("a tail on one side is left out on that side", () => {
  const sorted = [...Array.from({ length: 95 }, (_, i) => i), 200, 300, 400, 500, 600];
  assert.deepEqual(shortestInterval(sorted, 0.94), [0, 94]);
  assert.deepEqual(middleInterval(sorted, 0.9), [4, 94]);
});

const draws = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 20, maxLength: 200 })
  .map((list) => list.sort((a, b) => a - b));
const share = fc.double({ min: 0.1, max: 0.94, noNaN: true });

Deno.test("law: both hold their share, and none is shorter than the shortest", () => {
  fc.assert(fc.property(draws, share, (sorted, p) => {
    const short = shortestInterval(sorted, p), middle = middleInterval(sorted, p);
    for (const [low, high] of [short, middle]) {
      assert.ok(sorted.filter((x) => x >= low && x <= high).length >= p * sorted.length);
    }
    assert.ok(short[1] - short[0] <= middle[1] - middle[0]);
  }));
});

Deno.test("law: a shift and a unit move both ends", () => {
  fc.assert(fc.property(draws, share, fc.integer({ min: -50, max: 50 }), (sorted, p, shift) => {
    const [low, high] = shortestInterval(sorted, p);
    assert.deepEqual(shortestInterval(sorted.map((x) => 4 * x + shift), p), [
      4 * low + shift,
      4 * high + shift,
    ]);
  }));
});

Deno.test("law: draws out of order have the interval of the same draws in order", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 20, max: 6000 }),
      fc.nat(),
      fc.double({ min: 0.3, max: 0.999, noNaN: true }),
      fc.constantFrom(0, 1, 2),
      (n, seed, p, shape) => {
        fc.pre(Math.round(p * n) < n);
        const source = random(seed);
        const draws = Float64Array.from(
          { length: n },
          (_, i) => shape === 0 ? source.normal() : shape === 1 ? Math.exp(source.normal()) : i % 7,
        );
        const before = [...draws];
        assert.deepEqual(
          shortestOfDraws(draws, p),
          shortestInterval([...draws].sort((a, b) => a - b), p),
        );
        assert.deepEqual(
          middleOfDraws(draws, p),
          middleInterval([...draws].sort((a, b) => a - b), p),
        );
        assert.deepEqual([...draws], before, "left as they were");
      },
    ),
    { numRuns: 60 },
  );
});

Deno.test("draws in an order that misleads a sample still give the right interval", () => {
  const rising = Float64Array.from({ length: 10000 }, (_, i) => (i / 100) ** 2);
  assert.deepEqual(shortestOfDraws(rising, 0.95), shortestInterval(rising, 0.95));
  const comb = rising.map((x, i) => i % 10 === 0 ? 1e6 : x);
  assert.deepEqual(shortestOfDraws(comb, 0.95), shortestInterval(comb.slice().sort(), 0.95));
  assert.deepEqual(middleOfDraws(comb, 0.95), middleInterval(comb.slice().sort(), 0.95));
});

Deno.test("draws that mislead a sample on one side only, in either order", () => {
  const rising = Array.from({ length: 10000 }, (_, i) => (i / 100) ** 2 + (i % 100) / 1000);
  for (const order of [rising, rising.toReversed()]) {
    for (const sign of [1, -1]) {
      // all that a sample of every tenth sees is far out; or it sees nine in a hundred far out, where there is one
      for (const last of [10000, 900]) {
        const draws = order.map((x, i) => i % 10 === 0 && i < last ? sign * 1e6 : x);
        const sorted = draws.toSorted((a, b) => a - b), what = `${order[0]} ${sign} ${last}`;
        assert.deepEqual(shortestOfDraws(draws, 0.95), shortestInterval(sorted, 0.95), what);
        assert.deepEqual(middleOfDraws(draws, 0.95), middleInterval(sorted, 0.95), what);
      }
    }
  }
});

Deno.test("too few draws are refused", () => {
  assert.throws(
    () => shortestInterval([1, 2, 3], 0.95),
    /0 < p < 1 and enough draws for it, got p=0.95, 3/,
  );
  assert.throws(() => shortestInterval([], 0.5), RangeError);
  assert.throws(() => middleInterval([1, 2, 3], 1), /p=1/);
});

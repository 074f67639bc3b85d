import fc from "fast-check";
import assert from "node:assert/strict";
import { curveModel, simulateCurve } from "../../lib/measuring/curveMonteCarlo.ts";
import type { CurveReadings } from "../../lib/measuring/methods/methods.ts";
import { radiusFromSagitta } from "../../lib/optics/sphere.ts";
import { exactly, normalAbout } from "../../lib/quantity/distributions.ts";
import { bothRoutes, monteCarlo } from "../../lib/quantity/monteCarlo.ts";
import { propagate } from "../../lib/quantity/propagate.ts";
import { near } from "../references/reference.ts";
import { KESTREL } from "./bench.ts";

const bracketed = (go: number, nogo: number) => ({ go: [0.88, 0.2, go], nogo: [0.88, 0.2, nogo] });
const LEAVES = [0.04, 0.04, 0.05, 0.04, 0.05, 0.04].map((go) => bracketed(go, go + 0.02));
const DIALS = [
  ...[5.001, 5, 5.002, 5, 5.001].map((dial) => ({ surface: "flat" as const, dial })),
  ...[5.523, 5.524, 5.522, 5.523, 5.524].map((dial) => ({ surface: "mirror" as const, dial })),
];
const SUN = [1199, 1194, 1203, 1197, 1196, 1201].map((distance) => ({ distance }));
const DEPTHS = [1.14, 1.15, 1.14, 1.16].map((depth) => ({ depth }));
const ALL: CurveReadings = {
  sagitta: [...LEAVES, ...DEPTHS],
  spherometer: DIALS,
  sun: SUN,
  rulerU: 0.3,
};
const middles = (readings: CurveReadings): Record<string, number> =>
  Object.fromEntries(
    Object.entries(curveModel(readings, KESTREL).inputs).map(([name, { mean }]) => [name, mean]),
  );

const alone: Readonly<Record<string, CurveReadings>> = {
  leaves: { sagitta: LEAVES },
  "depth gauge": { sagitta: DEPTHS },
  spherometer: { spherometer: DIALS },
  "sun distance": { sun: SUN, rulerU: 0.3 },
  all: ALL,
};

for (const [name, readings] of Object.entries(alone)) {
  Deno.test(`${name}: at the middle of its inputs the model gives the estimate, and its slopes the same u`, () => {
    const { radius, inputs, combined, methods } = curveModel(readings, KESTREL);
    if (name !== "all") assert.deepEqual(methods, [name]);
    near(radius(middles(readings)), combined.weightedMean.value, 1e-9, "value");
    const measured = Object.fromEntries(
      Object.entries(inputs).map(([input, { mean, u, dof }]) => [
        input,
        { value: mean, u, dof, unit: "mm" },
      ]),
    );
    // the law of propagation through the model's own numeric slopes against the components' written ones
    near(propagate(radius, measured).u, combined.weightedMean.u, 1e-4, "u");
  });
}

Deno.test("the simulation of all methods gives the weighted mean, and a u that holds the long tails of few readings", () => {
  const got = simulateCurve(ALL, KESTREL, { trials: 200_000 }),
    { weightedMean, weights } = got
      .combined;
  near(got.value, weightedMean.value, 0.05, "value", "absolute");
  // DERIVED: Student's t has variance dof/(dof-2) of its scale's: settings 5, dials 4 and 4, depths 3
  const widened = ([
    ["sun distance", "settings of the Sun's image", 5],
    ["spherometer", "readings on the flat", 4],
    ["spherometer", "readings on the mirror", 4],
  ] as const).reduce((sum, [method, source, dof]) => {
    const { methods } = curveModel(ALL, KESTREL), at = methods.indexOf(method);
    const only = curveModel(
      method === "spherometer" ? { spherometer: DIALS } : { sun: SUN },
      KESTREL,
    );
    const share = only.combined.budget.find((part) => part.source === source)?.share ?? NaN;
    const u = Math.sqrt(share) * only.combined.weightedMean.u * (weights[at] ?? NaN);
    return sum + u * u * (dof / (dof - 2) - 1);
  }, weightedMean.u ** 2);
  near(got.u, Math.sqrt(widened), 0.02, "u");
  assert.ok(got.interval[0] < weightedMean.value && weightedMean.value < got.interval[1]);
});

Deno.test("row by row and in columns are the same numbers", () => {
  const { radius, inColumns, inputs } = curveModel(ALL, KESTREL), options = { trials: 1500 };
  const rows = monteCarlo(radius, inputs, options),
    columns = monteCarlo(inColumns, inputs, options);
  assert.deepEqual(rows.draws, columns.draws);
});

Deno.test("one bevel under leaves and gauge is one error: both radii move together", () => {
  const wide = { ...KESTREL, gauges: { ...KESTREL.gauges, chordU: 1 } };
  const both = curveModel({ sagitta: [...LEAVES, ...DEPTHS] }, wide);
  const out = monteCarlo(both.inColumns, {
    ...Object.fromEntries(Object.entries(both.inputs).map(([n, { mean }]) => [n, exactly(mean)])),
    "where the straight-edge rests": normalAbout(0, 1),
  }, { trials: 20_000 });
  // DERIVED: dR/dr = r / s = 74 / 1.142 = 64.8 whatever the weights, for they sum to 1
  near(out.u, 64.8, 0.02, "u");
});

Deno.test("law: readings of the Sun alone are Student's t about twice their mean", () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 1150, max: 1250, noNaN: true }), { minLength: 5, maxLength: 5 }),
      (settings) => {
        fc.pre(Math.max(...settings) - Math.min(...settings) > 5);
        const sun = settings.map((distance) => ({ distance }));
        const { interval, combined } = simulateCurve({ sun }, KESTREL, { trials: 40_000 });
        const { value, u } = combined.weightedMean;
        // READ any table of Student's t: 2.776 for four degrees of freedom at 95 %
        near((interval[1] - interval[0]) / (2 * u), 2.776, 0.05, "half-width over u");
        near((interval[0] + interval[1]) / 2, value, 0.35 * u, "middle", "absolute");
      },
    ),
    { numRuns: 10 },
  );
});

Deno.test("a wide bracket bends the radius: simulation and law of propagation part, and it is said", () => {
  const { radius, inputs } = curveModel({ sagitta: [{ go: [0.9], nogo: [1.4] }] }, KESTREL);
  const both = bothRoutes(radius, inputs, { trials: 20_000 });
  assert.equal(both.differ, true);
  // DERIVED: a rectangle of depth from 0.9 to 1.4 mm, 95 % of it the shortest in R: the long radii are left out
  const [low, high] = both.simulated.interval;
  near(low, radiusFromSagitta(1.4, 148), 0.02, "low end");
  near(high, radiusFromSagitta(0.925, 148), 0.02, "high end");
});

Deno.test("one reading of each, equal readings and mishandling are simulated too", () => {
  const single = simulateCurve(
    {
      sagitta: [bracketed(0.04, 0.06), { depth: 1.14 }],
      handling: { offset: 3, tilt: 0.01, sag: 0.002 },
      spherometer: [{ surface: "flat", dial: 5 }, { surface: "mirror", dial: 4.478 }],
      sun: [{ distance: 1200 }],
    },
    KESTREL,
    { trials: 20_000 },
  );
  near(single.value, single.combined.weightedMean.value, 0.005, "value");
  const alike = simulateCurve(
    { sun: [1200, 1200, 1200].map((distance) => ({ distance })) },
    KESTREL,
    {
      trials: 20_000,
    },
  );
  // DERIVED: readings all alike lie anywhere within the ruler's step: 2 x 1 mm wide, 95 % of it
  near(alike.interval[1] - alike.interval[0], 1.9, 0.01, "width");
});

Deno.test("equal seeds, equal draws; no readings are refused, missing draws told", () => {
  const run = (seed: number): number => simulateCurve(ALL, KESTREL, { trials: 100, seed }).value;
  assert.equal(run(4), run(4));
  assert.notEqual(run(4), run(5));
  assert.throws(() => simulateCurve({}, KESTREL), /readings of one method or more, got none/);
  assert.throws(() => curveModel({ sun: SUN }, KESTREL).radius({}), /draws of settings of the Sun/);
});

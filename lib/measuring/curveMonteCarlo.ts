/** The curve's whole budget by simulation: every error drawn, every formula worked anew, the methods weighed together. */
import type { Distribution } from "../quantity/distributions.ts";
import {
  monteCarlo,
  type MonteCarloOptions,
  type MonteCarloResult,
} from "../quantity/monteCarlo.ts";
import { combine, type Combined } from "./combine.ts";
import type { Estimate } from "./estimate.ts";
import type { Bench } from "./gauges.ts";
import type { Draws, MethodDraws } from "./methods/method.ts";
import { type CurveReadings, methods as registry, rowsOf } from "./methods/methods.ts";

/** The curve as something to draw from. */
export interface CurveModel {
  /** each error and each mean of readings, mm */
  readonly inputs: Readonly<Record<string, Distribution>>;
  /** weighted mean of the methods' radii for many draws at once, mm: what `monteCarlo` takes */
  readonly inColumns: { readonly rows: (x: Draws, out: Float64Array) => void };
  /** the same for one draw, mm: what `bothRoutes` and `propagate` take */
  readonly radius: (x: Readonly<Record<string, number>>) => number;
  /** the same methods by the law of propagation; its weights are the model's */
  readonly combined: Combined;
  readonly methods: readonly string[];
}

export interface SimulatedCurve extends MonteCarloResult {
  /** the same methods by the law of propagation; compare its `weightedMean` */
  readonly combined: Combined;
}

/**
 * Simulates the radius of curvature from everything that was read.
 *
 * Each draw takes the mean of each method's readings from Student's t (or from its gauge's step where that hides the
 * scatter), each leaf and each place of a dial from its tolerance, the leg circle, the balls, the bevel and the ruler
 * from the bell curve, works out each method's radius by its own formula and weighs them as `combine` does. What the
 * methods share, they share in every draw. Where they disagree beyond their known errors, so does the simulation not
 * know why: it holds the known errors only.
 *
 * @param readings  tables as the methods read them, each as many rows as there are; handling and ruler
 * @param bench     aperture, bevel, gauges, mm
 * @param options   `trials` (default: until the digits stand still), `seed`, `p`
 * @returns radius, mm
 * @throws {RangeError} without any reading; as the methods do
 * @see JCGM 101:2008 (its examples read: tests/references/jcgm101-9.5-gauge-block.json)
 * @example six settings of the Sun's image: Student's t with five degrees of freedom
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * const sun = [1199, 1194, 1203, 1197, 1196, 1201].map((distance) => ({ distance }));
 * const { value, interval } = simulateCurve({ sun }, bench, { trials: 100_000 });
 * assert.equal(value.toFixed(0), "2397");
 * assert.ok(Math.abs(interval[1] - interval[0] - 2 * 2.571 * 2.72) < 0.3); // twice t times u
 * ```
 */
export function simulateCurve(
  readings: CurveReadings,
  bench: Bench,
  options: MonteCarloOptions = {},
): SimulatedCurve {
  const { inColumns, inputs, combined } = curveModel(readings, bench);
  return { ...monteCarlo(inColumns, inputs, options), combined };
}

/**
 * The measurement as a formula of its errors: for `monteCarlo`, or for `bothRoutes` to set it beside the law of propagation.
 *
 * @param readings  tables as the methods read them, each as many rows as there are; handling and ruler
 * @param bench     aperture, bevel, gauges, mm
 * @throws {RangeError} without any reading; as the methods do
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = { leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * const { inputs } = curveModel({ sagitta: [{ go: [0.88, 0.25], nogo: [0.85, 0.3] }] }, bench);
 * assert.deepEqual(Object.keys(inputs).sort(), ["film between the leaves", "leaf brackets", "leaf thickness", "mishandling", "where the straight-edge rests"]);
 * ```
 */
export function curveModel(readings: CurveReadings, bench: Bench): CurveModel {
  const methods = methodsWith(readings, bench);
  if (methods.length === 0) {
    throw new RangeError("curveModel requires readings of one method or more, got none");
  }
  const combined = combine(methods.map(({ estimate }) => estimate)), { weights } = combined;
  const rows = (x: Draws, out: Float64Array): void => {
    out.fill(0);
    methods.forEach(({ addRadius }, k) => addRadius(x, weights[k] ?? 0, out));
  };
  return {
    inputs: Object.fromEntries(methods.flatMap((method) => Object.entries(method.inputs))),
    inColumns: { rows },
    radius: (x) => {
      const single = Object.entries(x).map(([name, value]) => [name, Float64Array.of(value)]);
      const out = new Float64Array(1);
      rows(Object.fromEntries(single), out);
      return out[0] ?? NaN;
    },
    combined,
    methods: methods.map(({ estimate }) => estimate.method),
  };
}

/** The methods that have readings and are weighed, each as something to draw from. */
function methodsWith(
  readings: CurveReadings,
  bench: Bench,
): readonly (MethodDraws & { readonly estimate: Estimate })[] {
  return registry.flatMap((method) => {
    if (method.draws === undefined) return [];
    const rows = rowsOf(method, readings), estimate = method.reduce(rows, bench, readings);
    return estimate === undefined ? [] : [{ estimate, ...method.draws(rows, bench, readings) }];
  });
}

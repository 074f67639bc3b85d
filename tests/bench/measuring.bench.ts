/** The curve's whole budget, 100,000 draws: six brackets of three leaves, ten dial readings, six settings of the Sun. */
import type { CurveReadings } from "../../lib/measuring/methods/methods.ts";
import { curveModel } from "../../lib/measuring/curveMonteCarlo.ts";
import { monteCarlo, type MonteCarloResult } from "../../lib/quantity/monteCarlo.ts";
import { KESTREL } from "../measuring/bench.ts";
import { beside } from "./beside.ts";

const TRIALS = 100_000;
const bracketed = (go: number, nogo: number) => ({ go: [0.88, 0.2, go], nogo: [0.88, 0.2, nogo] });
const dials = (surface: "flat" | "mirror", values: readonly number[]) =>
  values.map((dial) => ({ surface, dial }));

const READINGS: CurveReadings = {
  sagitta: [[0.04, 0.06], [0.04, 0.06], [0.05, 0.07], [0.04, 0.06], [0.05, 0.07], [0.04, 0.06]]
    .map(([go = 0, nogo = 0]) => bracketed(go, nogo)),
  spherometer: [
    ...dials("flat", [5.001, 5, 5.002, 5, 5.001]),
    ...dials("mirror", [5.523, 5.524, 5.522, 5.523, 5.524]),
  ],
  sun: [1199, 1194, 1203, 1197, 1196, 1201].map((distance) => ({ distance })),
  rulerU: 0.3,
};

const { inColumns, inputs, combined } = curveModel(READINGS, KESTREL);

/** The same inputs for numpy: middles, spreads and degrees of freedom, mm. */
function forNumpy(): unknown {
  const of = (name: string) => inputs[name] ?? { mean: NaN, u: NaN, dof: NaN };
  const depth = of("leaf brackets"), flat = of("readings on the flat");
  const mirror = of("readings on the mirror"), sun = of("settings of the Sun's image");
  const { aperture, bevel, gauges } = KESTREL;
  return {
    trials: TRIALS,
    seed: 1,
    rim: aperture / 2,
    chord: aperture / 2 - bevel,
    chordU: gauges.chordU,
    leaves: {
      depth: depth.mean,
      depthU: depth.u,
      count: 3,
      tolerance: gauges.leaves.tolerance,
      film: 0.001,
    },
    spherometer: {
      flat: flat.mean,
      flatU: flat.u,
      flatDof: flat.dof,
      mirror: mirror.mean,
      mirrorU: mirror.u,
      mirrorDof: mirror.dof,
      dial: gauges.dialStep / 2,
      legs: of("leg circle").mean,
      legsU: of("leg circle").u,
      ball: of("ball feet").mean,
      ballU: of("ball feet").u,
    },
    sun: { mean: sun.mean, u: sun.u, dof: sun.dof, rulerU: READINGS.rulerU },
    weights: combined.weights,
  };
}

/** What `simulateCurve` does once its model stands; numpy is given the model ready-made too. */
const simulate = (): MonteCarloResult => monteCarlo(inColumns, inputs, { trials: TRIALS });

/** So many budgets by the law of propagation, from rows to weights and shares. */
const TIMES = 50;
const budget = (): readonly number[] => {
  let last = combined;
  for (let turn = 0; turn < TIMES; turn++) last = curveModel(READINGS, KESTREL).combined;
  return [last.weightedMean.value, last.weightedMean.u];
};

const { u } = simulate();
await beside("peer_measuring.py", [{
  name: "curve budget, 100,000 draws and their shortest interval",
  ours: () => {
    const { value, u, interval } = simulate();
    return [value, u, ...interval];
  },
  peers: [{ kernel: "curve_budget", goal: 0.5 }, { kernel: "curve_budget_blocks", goal: 0.5 }],
  input: forNumpy(),
  // five standard errors of the difference of two such runs for the mean; u and the ends wander more, by their tails
  tolerance: [u * 5 * Math.sqrt(2 / TRIALS), u * 0.05, u * 0.15, u * 0.15],
}, {
  name: "curve budget by the law of propagation, 50 times",
  ours: budget,
  peers: [{ kernel: "curve_budget_first_order", goal: 1 }],
  input: { ...forNumpy() as Record<string, unknown>, times: TIMES },
  tolerance: [0.01 * u, 0.01 * u],
}]);

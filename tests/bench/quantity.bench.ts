/** Simulation as a notebook writes it, one formula of named inputs, and the shortest interval by itself. */
import { random } from "../../lib/numeric/random.ts";
import { normalAbout, studentAbout } from "../../lib/quantity/distributions.ts";
import { monteCarlo, shortestOfDraws } from "../../lib/quantity/monteCarlo.ts";
import { beside } from "./beside.ts";

const TRIALS = 100_000;

/** Radius from a depth and a chord, mm: sagitta 1.17 by six readings, half a chord 74. */
const depth = studentAbout(1.17, 0.01, 5), half = normalAbout(74, 0.15);
const leaning = new Float64Array(TRIALS);
random(1).fillNormal(leaning, 0, 0.25);
leaning.forEach((z, i) => leaning[i] = Math.exp(z));

await beside("peer_quantity.py", [{
  name: "a formula of two inputs draw by draw, 100,000 draws",
  ours: () => {
    const { value, u, interval } = monteCarlo(
      ({ half, depth }) => (half * half + depth * depth) / (2 * depth),
      { half, depth },
      { trials: TRIALS },
    );
    return [value, u, ...interval];
  },
  peers: [{ kernel: "radius", goal: 0.5 }],
  input: { trials: TRIALS },
  tolerance: [0.6, 1.5, 4, 4], // u is about 26.5
}, {
  name: "shortest interval of 100,000 draws that lean to one side",
  ours: () => shortestOfDraws(leaning),
  peers: [{ kernel: "shortest_of_draws", goal: 1 }],
  input: [...leaning],
  tolerance: [0, 0],
}]);

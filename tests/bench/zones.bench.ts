/** 10,000 wavefronts that agree with zone readings, as the zone test draws them, each judged by P-V, RMS, Strehl, conic; intervals. */
import { middleOfDraws } from "../../lib/quantity/shortestInterval.ts";
import { LEAST_SHARE } from "../../lib/testing/zoneBeliefs.ts";
import { kindsOfWiggle } from "../../lib/testing/zoneKinds.ts";
import { zoneModel } from "../../lib/testing/zoneModel.ts";
import { zonePosterior } from "../../lib/testing/zonePosterior.ts";
import { beside } from "./beside.ts";

const COUNT = 10_000, WAVELENGTH = 550;
const edges = [0, 28, 42, 53, 62, 69, 74];
const zones = edges.slice(1).map((outer, i) => ({ inner: edges[i] ?? 0, outer }));
const model = zoneModel(zones, { half: 74, radius: 2400, source: "moves", openings: "bands" });

/** A mirror a quarter of a wave off, four runs of six zones, 0.05 mm of scatter with 18 degrees of freedom; mm. */
const departures = [0.02, -0.03, -0.06, 0.01, 0.05, 0.12];
const evidence = { departures, counts: departures.map(() => 4), s: 0.05, dof: 18 };

/** Mean, standard deviation, and both ends of the 95 % interval. */
function told(sample: Float64Array): readonly number[] {
  let sum = 0, square = 0;
  for (const x of sample) sum += x;
  const mean = sum / sample.length;
  for (const x of sample) square += (x - mean) ** 2;
  return [mean, Math.sqrt(square / sample.length), ...middleOfDraws(sample)];
}

function ours(): readonly number[] {
  const { draws, profileU } = zonePosterior(model, evidence, WAVELENGTH, 1, COUNT);
  const { pv, rms, strehl, conic } = draws;
  return [...[pv, rms, strehl, conic].flatMap(told), profileU.at(-1) ?? NaN];
}

const matrixOf = (rows: readonly Float64Array[]): number[][] => rows.map((row) => [...row]);
const expected = ours();
// some 10 ms each, in many small functions: the race's few rounds of warming end before all of them are compiled
for (let i = 0; i < 40; i++) ours();
await beside("peer_zones.py", [{
  name: "zone draws, 10,000 of six zones and four runs",
  ours,
  peers: [{ kernel: "posterior", goal: 0.6 }],
  input: {
    seen: matrixOf(model.seen),
    wavefront: matrixOf(model.wavefront),
    profile: matrixOf(model.profile),
    conic: [...model.conic],
    weights: [...model.grid.weights],
    // what is likely before any reading
    kinds: kindsOfWiggle(model).map((kind) => ({ ...kind, deviations: [...kind.deviations] })),
    leastShare: LEAST_SHARE,
    y: departures.map((d) => d * model.nmPerMm),
    variance: evidence.counts.map((n) => (evidence.s * model.nmPerMm) ** 2 / n),
    dof: evidence.dof,
    count: COUNT,
    wavelength: WAVELENGTH,
  },
  // nine standard errors of the difference of two such runs, those of an end taken as four of the mean's; the profile's
  // u is no draw and must be the same
  tolerance: expected.map((value, i) => {
    if (i === 16) return 1e-6 * value;
    const deviation = expected[4 * Math.floor(i / 4) + 1] ?? NaN;
    return 9 * Math.sqrt(2 / COUNT) * deviation * (i % 4 < 2 ? 1 : 4);
  }),
}]);

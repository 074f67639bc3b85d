/** Every make of surface weighed by zone readings, 10,000 surfaces drawn, each judged by P-V, RMS, Strehl, conic; intervals. */
import { random } from "../../lib/numeric/random.ts";
import { middleOfDraws } from "../../lib/quantity/monteCarlo.ts";
import { drawAbout } from "../../lib/testing/zones/zoneDraws.ts";
import { zoneModel } from "../../lib/testing/zones/zoneModel.ts";
import { MAKES, zonePosterior } from "../../lib/testing/zones/zonePosterior.ts";
import {
  BACKGROUNDS,
  FAULT_COUNT_SHARES,
  FAULT_SIZE_SHARES,
  FAULT_SIZES,
  FAULTS,
  FIRST_FAULT,
  FIRST_WAVE,
  waveDeviations,
} from "../../lib/testing/zones/zoneShapes.ts";
import { beside } from "./beside.ts";

const COUNT = 10_000, WAVELENGTH = 550, DOF = 18;
const edges = [0, 11, 22, 32, 42, 53, 62, 69, 74];
const zones = edges.slice(1).map((outer, i) => ({ inner: edges[i] ?? 0, outer }));
const model = zoneModel(zones, { half: 74, radius: 2400, source: "moves", openings: "bands" });

/** A mirror a quarter of a wave off, four runs of eight zones, 0.05 mm of scatter; mm. */
const departures = [0, 0.02, 0.02, -0.03, -0.06, 0.01, 0.05, 0.12];
const variance = (0.05 * model.nmPerMm) ** 2 / 4;
const evidence = {
  y: Float64Array.from(departures, (d) => d * model.nmPerMm),
  covariance: departures.map((_, i) =>
    Float64Array.from(departures, (_, j) => i === j ? variance : 0)
  ),
};

/** Mean, standard deviation, and both ends of the 95 % interval. */
function told(sample: Float64Array): readonly number[] {
  let sum = 0, square = 0;
  for (const x of sample) sum += x;
  const mean = sum / sample.length;
  for (const x of sample) square += (x - mean) ** 2;
  return [mean, Math.sqrt(square / sample.length), ...middleOfDraws(sample)];
}

function ours(): readonly number[] {
  const source = random(1), empty = (): Float64Array => new Float64Array(COUNT);
  const { makes } = zonePosterior(model, evidence, source);
  const into = { pv: empty(), rms: empty(), strehl: empty(), conic: empty() };
  const judging = { weights: model.whole.grid.weights, wavelength: WAVELENGTH, dof: DOF };
  const all = makes.reduce((sum, { count }) => sum + count, 0);
  let reached = 0, begin = 0;
  for (const make of makes) {
    reached += make.count;
    const end = Math.round((reached / all) * COUNT);
    drawAbout(make, judging, source, begin, end, into);
    begin = end;
  }
  return [into.pv, into.rms, into.strehl, into.conic].flatMap(told);
}

const matrixOf = (rows: readonly Float64Array[]): number[][] => rows.map((row) => [...row]);
const expected = ours();
// some 20 ms each, in many small functions: the race's few rounds of warming end before all of them are compiled
for (let i = 0; i < 30; i++) ours();
await beside("peer_zones.py", [{
  name: "zone draws, 10,000 of eight zones and four runs, makes weighed",
  ours,
  peers: [{ kernel: "posterior", goal: 0.6 }],
  input: {
    seen: matrixOf(model.seen),
    rows: matrixOf([...model.whole.wavefront, model.whole.conic]),
    weights: [...model.whole.grid.weights],
    y: [...evidence.y],
    covariance: matrixOf(evidence.covariance),
    // what is likely before any reading
    backgrounds: BACKGROUNDS.map((background) => ({
      sizes: background.sizes,
      share: background.share,
      underFaults: background.underFaults,
      deviations: [...waveDeviations(background)],
    })),
    firstWave: FIRST_WAVE,
    firstFault: FIRST_FAULT,
    faults: FAULTS.length,
    faultShares: FAULTS.map(({ share }) => share),
    sizes: FAULT_SIZES,
    sizeShares: FAULT_SIZE_SHARES,
    countShares: FAULT_COUNT_SHARES,
    makes: MAKES,
    dof: DOF,
    count: COUNT,
    wavelength: WAVELENGTH,
  },
  // fifteen standard errors of the difference of two such runs, an end's taken as four of the mean's: makes are few
  // hundred in both, so a run has more scatter than its draws
  tolerance: expected.map((_, i) => {
    const deviation = expected[4 * Math.floor(i / 4) + 1] ?? NaN;
    return 15 * Math.sqrt(2 / COUNT) * deviation * (i % 4 < 2 ? 1 : 4);
  }),
}]);

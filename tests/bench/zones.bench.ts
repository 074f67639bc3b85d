/** 10,000 wavefronts that agree with zone readings, as the zone test draws them, each judged by P-V, RMS, Strehl, conic. */
import { median } from "../../lib/numeric/lines.ts";
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

function spread(sample: Float64Array): readonly number[] {
  const mean = sample.reduce((a, b) => a + b, 0) / sample.length;
  const square = sample.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return [median(sample), Math.sqrt(square / sample.length)];
}

function ours(): readonly number[] {
  const { draws, profileU } = zonePosterior(model, evidence, WAVELENGTH, 1, COUNT);
  const { pv, rms, strehl, conic } = draws;
  return [...[pv, rms, strehl, conic].flatMap(spread), profileU.at(-1) ?? NaN];
}

const matrixOf = (rows: readonly Float64Array[]): number[][] => rows.map((row) => [...row]);
const expected = ours();
const agreed = await beside("peer_zones.py", [{
  name: "zone draws, 10,000 of six zones and four runs",
  ours,
  peers: [{ kernel: "posterior", goal: 0.6 }],
  input: {
    seen: matrixOf(model.seen),
    wavefront: matrixOf(model.wavefront),
    profile: matrixOf(model.profile),
    conic: [...model.conic],
    weights: [...model.grid.weights],
    frequencies: [...model.frequencies],
    y: departures.map((d) => d * model.nmPerMm),
    variance: evidence.counts.map((n) => (evidence.s * model.nmPerMm) ** 2 / n),
    dof: evidence.dof,
    count: COUNT,
    // what is likely before any reading: lib/testing/zonePosterior.ts
    lengths: [0.1, 0.2, 0.4, 0.8],
    sizes: Array.from({ length: 11 }, (_, i) => 550 * 0.02 * 400 ** (i / 10)),
    usualSize: 550,
    wavelength: WAVELENGTH,
  },
  // nine standard errors of the difference of two such runs; the profile's u is no draw and must be the same
  tolerance: expected.map((value, i) =>
    i === 8
      ? 1e-6 * value
      : 9 * Math.sqrt(2 / COUNT) * (i % 2 === 0 ? expected[i + 1] ?? NaN : value)
  ),
}]);
if (!agreed) Deno.exit(1);

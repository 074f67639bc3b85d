/** Beliefs, reckoned from the readings' covariance, against the other route: the precision of the glass, inverted whole. */
import assert from "node:assert/strict";
import { inverse, Matrix as Dense } from "ml-matrix";
import { beliefs, LEAST_SHARE } from "../../lib/testing/zoneBeliefs.ts";
import { type Kind, kindsOfWiggle } from "../../lib/testing/zoneKinds.ts";
import { zoneModel } from "../../lib/testing/zoneModel.ts";
import { near } from "../references/reference.ts";

const EDGES = [0, 34, 48, 58, 67, 75];
const zones = EDGES.slice(1).map((outer, i) => ({ inner: EDGES[i] ?? 0, outer }));
const model = zoneModel(zones, { half: 75, radius: 2400, source: "moves", openings: "bands" });
const y = Float64Array.of(-40, 25, -30, 10, 160), variance = Float64Array.of(90, 110, 100, 80, 120);
const places = [...model.wavefront, model.conic];

interface Plain {
  readonly logWeight: number;
  readonly middle: number[];
  readonly covariance: Dense;
}

/** Unit normals behind the columns; those of the line have no prior at all. */
function plainly(kind: Kind, size: number): Plain {
  const columns = [0, 1, ...Array.from(kind.deviations, (_, j) => kind.from + j)];
  const deviations = [1, 1, ...Array.from(kind.deviations, (d) => d * size)];
  const of = (rows: readonly Float64Array[]): Dense =>
    new Dense(rows.map((row) => columns.map((c, j) => (row[c] ?? NaN) * (deviations[j] ?? NaN))));
  const seen = of(model.seen), glass = of(places), readings = Dense.columnVector([...y]);
  const told = seen.transpose().mmul(Dense.diag([...variance].map((v) => 1 / v)));
  const precision = told.mmul(seen).add(Dense.diag(columns.map((_, j) => j < 2 ? 0 : 1)));
  const covariance = inverse(precision), pull = told.mmul(readings);
  const best = covariance.mmul(pull), t = size / kind.usual;
  const fit = y.reduce((sum, v, i) => sum + (v * v) / (variance[i] ?? NaN), 0) -
    pull.transpose().mmul(best).get(0, 0);
  return {
    logWeight: Math.log(kind.share * t) - t - logDeterminant(precision) / 2 - fit / 2,
    middle: glass.mmul(best).to1DArray(),
    covariance: glass.mmul(covariance).mmul(glass.transpose()),
  };
}

/** By elimination; ml-matrix's own would run over for numbers this large. */
function logDeterminant(matrix: Dense): number {
  const rows = matrix.to2DArray();
  return rows.reduce((sum, row, k) => {
    const pivot = row[k] ?? NaN;
    for (const below of rows.slice(k + 1)) {
      const factor = (below[k] ?? NaN) / pivot;
      row.forEach((v, j) => below[j] = (below[j] ?? NaN) - factor * v);
    }
    return sum + Math.log(pivot);
  }, 0);
}

const plain = kindsOfWiggle(model).flatMap((kind) => kind.sizes.map((size) => plainly(kind, size)));
const best = Math.max(...plain.map((p) => p.logWeight));
const weights = plain.map((p) => Math.exp(p.logWeight - best));
const all = weights.reduce((a, b) => a + b, 0);
const held = plain.flatMap((p, i) =>
  (weights[i] ?? 0) > LEAST_SHARE * all ? [{ ...p, weight: weights[i] ?? 0 }] : []
);
const found = beliefs(model, { y, variance });

Deno.test("the same kinds and sizes are held, in the same shares", () => {
  assert.equal(found.length, held.length);
  near(found.reduce((sum, b) => sum + b.share, 0), 1, 1e-12, "sum");
  const sum = held.reduce((s, h) => s + h.weight, 0);
  found.forEach((belief, i) => near(belief.share, (held[i]?.weight ?? 0) / sum, 1e-9, `${i}`));
});

Deno.test("each has the same middle, and columns whose products are the same covariances", () => {
  found.forEach(({ middle, columns }, b) => {
    const { middle: expected, covariance } = held[b] as Plain;
    const widest = Math.max(...places.slice(0, -1).map((_, i) => covariance.get(i, i)));
    middle.forEach((value, i) => {
      const size = i < middle.length - 1 ? Math.sqrt(widest) : Math.sqrt(covariance.get(i, i));
      near(value, expected[i] ?? NaN, 1e-6 * size, `middle ${i}`, "absolute");
      const own = columns.reduce((sum, column) => sum + (column[i] ?? 0) ** 2, 0);
      near(own, covariance.get(i, i), 1.1e-6 * size * size, `variance ${i}`, "absolute");
    });
    const cross = columns.reduce((sum, c) => sum + (c[0] ?? 0) * (c[20] ?? 0), 0);
    near(cross, covariance.get(0, 20), 1.1e-6 * widest, "covariance", "absolute");
  });
});

Deno.test("the profile's variance is the wavefront's at the edge, where both have a place", () => {
  for (const { columns, profile, profileVariance, middle } of found) {
    const edge = middle.length - 2;
    const own = columns.reduce((sum, column) => sum + (column[edge] ?? 0) ** 2, 0);
    near(profile.at(-1) ?? NaN, middle[edge] ?? NaN, 1e-6, "edge");
    near(profileVariance.at(-1) ?? NaN, own, 1e-3, "variance");
  }
});

import assert from "node:assert/strict";
import { normalCdf } from "../../lib/numeric/quantiles.ts";
import { bell } from "../../lib/numeric/bells.ts";
import { fillZiggurat } from "../../lib/numeric/ziggurat.ts";
import { near } from "../references/reference.ts";

const n = 2_000_000, draws = new Float64Array(n);
fillZiggurat(draws, Int32Array.of(101, 202, 303, 1), bell());

Deno.test("two million draws: four moments within four of their standard errors", () => {
  let s1 = 0, s2 = 0, s3 = 0, s4 = 0;
  for (const z of draws) {
    const square = z * z;
    s1 += z;
    s2 += square;
    s3 += square * z;
    s4 += square * square;
  }
  // DERIVED: variances of z, z², z³, z⁴ are 1, 2, 15, 96
  near(s1 / n, 0, 4 * Math.sqrt(1 / n), "mean", "absolute");
  near(s2 / n, 1, 4 * Math.sqrt(2 / n), "variance", "absolute");
  near(s3 / n, 0, 4 * Math.sqrt(15 / n), "third", "absolute");
  near(s4 / n, 3, 4 * Math.sqrt(96 / n), "fourth", "absolute");
});

Deno.test("the share beyond each limit, out to the tail below the last layer", () => {
  for (const limit of [0.1, 0.5, 1, 2, 3, 3.3, 3.6, 3.65415289, 3.7, 4, 4.5]) {
    const p = normalCdf(-limit), sure = 4 * Math.sqrt(p * (1 - p) / n);
    near(draws.filter((z) => z > limit).length / n, p, sure, `above ${limit}`, "absolute");
    near(draws.filter((z) => z < -limit).length / n, p, sure, `below ${-limit}`, "absolute");
  }
});

Deno.test("neighbours are unrelated", () => {
  for (const lag of [1, 2, 7]) {
    let sum = 0;
    for (let i = lag; i < n; i++) sum += (draws[i] ?? 0) * (draws[i - lag] ?? 0);
    near(sum / n, 0, 4 / Math.sqrt(n), `lag ${lag}`, "absolute");
  }
});

Deno.test("no value comes back too often", () => {
  const sorted = draws.slice(0, 200000).sort();
  assert.equal(sorted.filter((z, i) => i > 0 && z === sorted[i - 1]).length, 0);
});

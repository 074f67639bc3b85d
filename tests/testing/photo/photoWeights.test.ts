/** Sets of kinds of shape: what is left out moves the rest, and is as likely as the readings make it. */
import assert from "node:assert/strict";
import {
  drawMirrors,
  mixed,
  shareOf,
  weightedModelsOf,
} from "../../../lib/testing/photo/photoWeights.ts";
import { type Term, TERMS } from "../../../lib/testing/photo/photoTerms.ts";
import { close } from "../../optics/close.ts";

/** One shape of one kind, 10 nm usual. */
const term: Term = { ...(TERMS[0] as Term), usual: 10 };

Deno.test("one shape beside the conic: shares by hand", () => {
  // DERIVED: y = amount + noise of 1, amount 0 or N(0, 10^2) at even odds; y = 3: densities N(3; 0, 1) and N(3; 0, 101)
  const y = 3, variance = 1 / (1 + 1 / 100), mean = y * variance;
  const found = weightedModelsOf(
    [term],
    Float64Array.of(-1, mean),
    Float64Array.of(0.01, 0, 0, variance),
  );
  const without = Math.exp(-(y * y) / 2), withIt = Math.exp(-(y * y) / 202) / Math.sqrt(101);
  close(shareOf(found, "smooth"), withIt / (withIt + without), 1e-9);
  const all = mixed(found), share = shareOf(found, "smooth");
  close(all.mean[1] ?? NaN, share * mean, 1e-9);
  close(all.covariance[3] ?? NaN, share * variance + share * (1 - share) * mean * mean, 1e-9);
});

Deno.test("an amount held at nothing takes along what goes with it", () => {
  // DERIVED: conditional normal, mean -1 - 0.04 / 4 x 5, variance 0.01 - 0.04^2 / 4
  const found = weightedModelsOf(
    [term],
    Float64Array.of(-1, 5),
    Float64Array.of(0.01, 0.04, 0.04, 4),
  );
  const plain = found.find(({ kinds }) => kinds.size === 0);
  close(plain?.mean[0] ?? NaN, -1.05, 1e-12);
  assert.equal(plain?.mean[1], 0);
  close(plain?.covariance[0] ?? NaN, 0.01 - 0.0004, 1e-12);
});

Deno.test("draws have the mean and the spread of the beliefs, and noughts where a kind is left out", () => {
  const found = weightedModelsOf(
    [term],
    Float64Array.of(-1, 1.5),
    Float64Array.of(0.01, 0.04, 0.04, 1),
  );
  const draws = drawMirrors(found, 2, 20_000, 3), { mean, covariance } = mixed(found);
  for (const k of [0, 1]) {
    const own = draws.map((d) => d[k] ?? NaN), m = own.reduce((a, b) => a + b, 0) / own.length;
    const spread = own.reduce((sum, v) => sum + (v - m) ** 2, 0) / own.length;
    const wanted = covariance[3 * k] ?? NaN;
    close(m, mean[k] ?? NaN, 5 * Math.sqrt(wanted / own.length));
    close(spread / wanted, 1, 0.06);
  }
  const none = draws.filter((d) => d[1] === 0).length / draws.length;
  close(none, 1 - shareOf(found, "smooth"), 0.02);
});

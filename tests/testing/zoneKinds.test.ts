import assert from "node:assert/strict";
import { kindsOfWiggle } from "../../lib/testing/zoneKinds.ts";
import { zoneModel } from "../../lib/testing/zoneModel.ts";
import { PATCH_TERMS, PATCHES, patchHeights } from "../../lib/testing/zonePatches.ts";
import { near } from "../references/reference.ts";

const zones = [[0, 37], [37, 53], [53, 65], [65, 75]].map(([inner = 0, outer = 0]) => ({
  inner,
  outer,
}));
const model = zoneModel(zones, { half: 75, radius: 2400, source: "moves", openings: "bands" });
const kinds = kindsOfWiggle(model);
const [patch] = PATCHES;
const middle = patch ? patchHeights(patch, patch.place) : [];

Deno.test("shares sum to 1, and every kind's columns are in the model and its own", () => {
  near(kinds.reduce((sum, kind) => sum + kind.share, 0), 1, 1e-12, "shares");
  const width = model.seen[0]?.length ?? 0;
  for (const { from, deviations } of kinds) {
    assert.ok(from >= 2 && from + deviations.length <= width);
  }
  const patches = kinds.filter((kind) => kind.deviations.length === PATCH_TERMS);
  assert.equal(patches.length, PATCHES.length);
  assert.equal(new Set(patches.map((kind) => kind.from)).size, PATCHES.length);
});

Deno.test("sizes rise evenly by ratio on both sides of the usual one", () => {
  for (const { sizes, usual } of kinds) {
    const ratios = sizes.slice(1).map((size, i) => size / (sizes[i] ?? NaN));
    ratios.forEach((ratio) => near(ratio, ratios[0] ?? NaN, 1e-12, "ratio"));
    assert.ok((sizes[0] ?? Infinity) < 0.1 * usual && (sizes.at(-1) ?? 0) > 3 * usual);
  }
});

Deno.test("unit size is unit size: of the waves over their stretch, of a patch in its middle", () => {
  for (const { deviations } of kinds) {
    const variance = deviations.length === PATCH_TERMS
      ? deviations.reduce((sum, d, j) => sum + (d * (middle[j] ?? 0)) ** 2, 0)
      : deviations.reduce((sum, d) => sum + (d * d) / 2, 0); // DERIVED: the mean square of a sine is a half
    near(variance, 1, 1e-12, "variance");
  }
});

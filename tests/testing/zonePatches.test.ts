import assert from "node:assert/strict";
import fc from "fast-check";
import { PATCHES, patchHeights, patchSlopes } from "../../lib/testing/zonePatches.ts";
import { near } from "../references/reference.ts";

const anyPatch = fc.constantFrom(...PATCHES);
const inside = fc.double({ min: -1.2, max: 1.2, noNaN: true });

Deno.test("law: terms' products are a bell times a smooth curve's covariance times a bell", () => {
  fc.assert(fc.property(anyPatch, inside, inside, (patch, x, y) => {
    const at = (t: number): Float64Array => patchHeights(patch, patch.place + t * patch.width);
    const a = at(x), b = at(y), sum = a.reduce((all, v, j) => all + v * (b[j] ?? 0), 0);
    // DERIVED: the covariance that is expanded, written out; what the terms left out are worth there is below 0.003
    const bell = (t: number): number => Math.exp((-t * t) / 2);
    const smooth = Math.exp(-((x - y) ** 2) / (2 * patch.memory ** 2));
    near(sum, bell(x) * smooth * bell(y), 0.003, `${x}, ${y}`, "absolute");
  }));
});

Deno.test("law: slopes are what heights change by", () => {
  fc.assert(
    fc.property(anyPatch, fc.double({ min: 0, max: 1, noNaN: true }), (patch, q) => {
      const step = 1e-5,
        before = patchHeights(patch, q - step),
        after = patchHeights(patch, q + step);
      patchSlopes(patch, q).forEach((slope, j) =>
        near(
          slope,
          ((after[j] ?? 0) - (before[j] ?? 0)) / (2 * step),
          2e-5 / patch.width ** 2,
          `term ${j}`,
          "absolute",
        )
      );
    }),
  );
});

Deno.test("a patch is gone four widths from its middle, and together they cover the glass", () => {
  for (const patch of PATCHES) {
    for (const height of patchHeights(patch, patch.place + 4 * patch.width)) {
      assert.ok(Math.abs(height) < 0.02);
    }
  }
  for (let q = 0; q <= 1; q += 0.01) {
    assert.ok(
      PATCHES.some((patch) => Math.abs(q - patch.place) <= 1.3 * patch.width),
      `nobody looks after q = ${q}`,
    );
  }
});

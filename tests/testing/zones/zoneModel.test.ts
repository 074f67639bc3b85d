import assert from "node:assert/strict";
import { outside, panelGrid, zoneModel } from "../../../lib/testing/zones/zoneModel.ts";
import { close } from "../../optics/close.ts";
import { conicCurve, knifeAt, mirrorOf } from "../judge.ts";

const zones = [{ inner: 0, outer: 100 }, { inner: 100, outer: 200 }];
const tester = { half: 200, radius: 3200, source: "fixed", openings: "bands" } as const;

Deno.test("focus makes no wavefront, a fourth power makes a conic, for both lamps", () => {
  for (const source of ["moves", "fixed"] as const) {
    const { whole } = zoneModel(zones, { ...tester, source });
    assert.ok(whole.wavefront.every((row) => Math.abs(row[0] ?? 1) < 1e-12));
    const middle = whole.wavefront[35]?.[1] ?? 0, edge = whole.wavefront.at(-1)?.[1] ?? 0;
    assert.ok(middle * edge < 0);
  }
});

Deno.test("fixed lamp: the exact factor of the slope, 0.99827 at r = 100, R = 2400", () => {
  // DERIVED (R^2 + r^2) / (r^2 + (L-z)^2); CROSS-CHECK ../secondRoute.py, tilt at a fixed lamp: 0.998266, which is 0.998059 + 0.5/2400
  const tilt = 1e-7, r = 100;
  const plain = conicCurve(2400, -1);
  const tipped = { height: plain.height, slope: (x: number) => plain.slope(x) + tilt };
  const change = knifeAt(mirrorOf(r, 2400, [0, r], tipped), r, "fixed") -
    knifeAt(mirrorOf(r, 2400, [0, r], plain), r, "fixed");
  const linear = (-r * change) / (2 * 2400 * 2400);
  close(tilt / linear, 0.998059 + 0.5 / 2400, 2e-5);
});

Deno.test("windows see minus the mean slope over q of each column, bands and sectors", () => {
  for (const openings of ["bands", "sectors"] as const) {
    const model = zoneModel(zones, { ...tester, source: "moves", openings });
    zones.forEach(({ inner, outer }, z) => {
      // DERIVED by Simpson's rule over the window, weight r for bands and r^2 for sectors
      const wanted = [1, (r: number) => 2 * (r / 200) ** 2].map((slope) => {
        let top = 0, bottom = 0;
        for (let k = 0; k <= 1000; k++) {
          const r = inner + ((outer - inner) * k) / 1000;
          const weight = (k % 1000 === 0 ? 1 : k % 2 === 1 ? 4 : 2) *
            (openings === "bands" ? r : r * r);
          top += weight * (typeof slope === "number" ? slope : slope(r));
          bottom += weight;
        }
        return -top / bottom;
      });
      wanted.forEach((v, j) => close(model.seen[z]?.[j] ?? 0, v, 1e-9));
    });
  }
});

Deno.test("the conic row gives one for one unit of K's own wavefront, on the whole and outside a shadow", () => {
  const bench = { ...tester, source: "moves" } as const;
  // DERIVED conic K - paraboloid = (1+K) r^4 / 8R^3, twice that for the wavefront, nm
  const amount = (2 * 200 ** 4 * 1e6) / (8 * 3200 ** 3);
  for (const region of [zoneModel(zones, bench).whole, outside(0.3, bench)]) {
    close(amount * (region.conic[1] ?? 0), 1, 5e-3); // f/4: the slope's own cos^2
  }
});

Deno.test("the grid integrates over the area, also the part outside a shadow", () => {
  for (const inner of [0, 0.25, 0.93]) {
    const { q, weights } = panelGrid(inner);
    // DERIVED mean of q^3 over inner^2 <= q <= 1
    const low = inner * inner, mean = (1 - low ** 4) / 4 / (1 - low);
    close(q.reduce((sum, v, i) => sum + (weights[i] ?? 0) * v ** 3, 0), mean, 1e-12);
  }
  assert.throws(() => zoneModel([{ inner: 0, outer: 300 }], tester), {
    name: "CannotTell",
  });
});

import assert from "node:assert/strict";
import { wiggle, zoneModel } from "../../lib/testing/zoneModel.ts";
import { times } from "../../lib/numeric/smallMatrix.ts";
import { close } from "../optics/close.ts";
import { conicCurve, knifeAt, mirrorOf } from "./judge.ts";

const zones = [{ inner: 0, outer: 100 }, { inner: 100, outer: 200 }];
const tester = { half: 200, radius: 3200, source: "fixed", openings: "bands" } as const;

Deno.test("a constant makes no wavefront, a line makes a conic, for both lamps", () => {
  for (const source of ["moves", "fixed"] as const) {
    const model = zoneModel(zones, { ...tester, source });
    assert.ok(
      model.wavefront.every((row) => Math.abs(row[0] ?? 1) < (source === "moves" ? 1e-12 : 2e-3)),
    );
    const middle = model.wavefront[18]?.[1] ?? 0, edge = model.wavefront.at(-1)?.[1] ?? 0;
    assert.ok(middle * edge < 0);
  }
});

Deno.test("fixed lamp: the exact factor of the slope, 0.99827 at r = 100, R = 2400", () => {
  // DERIVED (R^2 + r^2) / (r^2 + (L-z)^2); CROSS-CHECK numpy 1.24.2 with 0.5 mm of dL beside it: 0.998059 - 0.5/2400
  const tilt = 1e-7, r = 100;
  const plain = conicCurve(2400, -1);
  const tipped = { height: plain.height, slope: (x: number) => plain.slope(x) + tilt };
  const change = knifeAt(mirrorOf(r, 2400, [0, r], tipped), r, "fixed") -
    knifeAt(mirrorOf(r, 2400, [0, r], plain), r, "fixed");
  const linear = (-r * change) / (2 * 2400 * 2400);
  close(tilt / linear, 0.998059 + 0.5 / 2400, 2e-5);
});

Deno.test("windows see the average of each column", () => {
  const model = zoneModel(zones, tester);
  // DERIVED bands average over q: (a^2 + b^2) / 2 over half^2, less 1/2
  close(model.seen[1]?.[1] ?? 0, (100 ** 2 + 200 ** 2) / 2 / 200 ** 2 - 0.5, 1e-12);
  close(model.seen[0]?.[0] ?? 0, 1, 1e-12);
});

Deno.test("the conic row gives one for one unit of K's own wavefront", () => {
  const model = zoneModel(zones, { ...tester, source: "moves" });
  // DERIVED dL = -(1+K) r^2/2R for K near -1: slope -a^2/2R mm of q per unit of K
  const column = new Float64Array(model.conic.length);
  column[1] = (-(200 ** 2) / 2 / 3200) * model.nmPerMm;
  close(times([model.conic], column)[0] ?? 0, 1, 3e-3); // f/4: the slope's own cos^2
});

Deno.test("a wiggle has unit size, and a short one more of the fast sines", () => {
  const { frequencies } = zoneModel(zones, tester);
  for (const length of [0.1, 0.4]) {
    const sd = wiggle(frequencies, length);
    close(sd.reduce((sum, v) => sum + v * v, 0) / 2, 1, 1e-12);
  }
  assert.ok((wiggle(frequencies, 0.1).at(-1) ?? 0) > (wiggle(frequencies, 0.4).at(-1) ?? 0));
  assert.throws(() => zoneModel([{ inner: 0, outer: 300 }], tester), RangeError);
});

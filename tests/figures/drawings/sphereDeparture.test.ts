import assert from "node:assert/strict";
import fc from "fast-check";
import { sphereDepartures, sphereGlassPv } from "../../../lib/figures/drawings/sphereDeparture.ts";

Deno.test("at the rim a sphere stands r⁴ ÷ 8R³ + r⁶ ÷ 16R⁵ over the paraboloid of the same middle", () => {
  for (const [aperture, radius] of [[150, 2400], [200, 2400], [114, 1800]] as const) {
    const r = aperture / 2, atRim = sphereDepartures(aperture, radius).at(-1)?.same ?? NaN;
    // DERIVED: the series of R − √(R² − r²) less r² ÷ 2R; the next term is below a millionth of the first here.
    const series = (r ** 4 / (8 * radius ** 3) + r ** 6 / (16 * radius ** 5)) * 1e6;
    assert.ok(Math.abs(atRim / series - 1) < 2e-6, `${atRim} beside ${series}`);
  }
});

Deno.test("at best focus it touches in the middle and at the rim and hangs below between", () => {
  const curve = sphereDepartures(150, 2400);
  assert.equal(curve[0]?.best, 0);
  assert.ok(Math.abs(curve.at(-1)?.best ?? NaN) < 1e-9);
  curve.slice(1, -1).forEach((p) => assert.ok(p.best < 0));
});

Deno.test("its peak to valley is the lowest place of a fine curve, and grows as D⁴ ÷ R³", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 60, max: 400, noNaN: true }),
      fc.double({ min: 4, max: 30, noNaN: true }),
      (d, n) => {
        const radius = d * n,
          fine = Math.min(...sphereDepartures(d, radius, 4000).map((p) => p.best));
        assert.ok(Math.abs(sphereGlassPv(d, radius) / -fine - 1) < 2e-5);
        assert.ok(
          Math.abs(sphereGlassPv(2 * d, 2 * radius) / sphereGlassPv(d, radius) - 2) < 1e-6,
          "all lengths doubled",
        );
      },
    ),
    { numRuns: 30 },
  );
});

Deno.test("a sphere wider than itself is refused", () => {
  assert.throws(() => sphereGlassPv(150, 50), RangeError);
  assert.throws(() => sphereDepartures(NaN, 2400), RangeError);
});

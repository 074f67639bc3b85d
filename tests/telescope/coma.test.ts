import assert from "node:assert/strict";
import { comaFreeRadius, comaOf } from "../../lib/telescope/coma.ts";
import { near } from "./near.ts";
import { atHeight, disc, pathDifference, reflected } from "./rays.ts";

/** W131 from exact paths along the meridian: odd part, cubic taken apart from the tilt. */
function tracedPeak(aperture: number, f: number, h: number): number {
  const odd = (rho: number): number => {
    const x = (rho * aperture) / 2;
    return (pathDifference(f, x, 0, h) - pathDifference(f, -x, 0, h)) / 2;
  };
  return Math.abs(odd(1) - 2 * odd(0.5)) / 0.75;
}

function tracedTangential(aperture: number, f: number, h: number): number {
  const [chief] = atHeight(reflected(f, 0, 0, h, 0), f);
  const [a] = atHeight(reflected(f, aperture / 2, 0, h, 0), f);
  const [b] = atHeight(reflected(f, -aperture / 2, 0, h, 0), f);
  return Math.abs((a + b) / 2 - chief);
}

Deno.test("coma by the formula, mm", () => {
  // DERIVED third order: h/32N^3, 3h/16N^2, h/16N^2
  const coma = comaOf({ aperture: 200, focalLength: 1000 }, 1);
  near(coma.wavefrontPeak, 250, 1e-12);
  near(coma.tangential, 7.5e-3, 1e-12);
  near(coma.sagittal, 2.5e-3, 1e-12);
  near(coma.wavefrontRms, 29.46, 1e-3);
});

Deno.test("coma by exact paths and rays, within 0.6 % of the third order", () => {
  // CROSS-CHECK numpy 1.24.2: exact path differences and rays: aperture, f, h -> W131, tangential, mm
  const rows = [
    [200, 1000, 1, 2.4925e-4, 7.525e-3],
    [150, 1200, 5, 3.048e-4, 0.014668],
    [250, 1000, 2, 9.7199e-4, 0.02356],
  ] as const;
  for (const [aperture, focalLength, h, peak, tangential] of rows) {
    near(tracedPeak(aperture, focalLength, h), peak, 5e-3, "traced peak");
    near(tracedTangential(aperture, focalLength, h), tangential, 5e-3, "traced tangential");
    const formula = comaOf({ aperture, focalLength }, h);
    near(formula.wavefrontPeak / 1e6, peak, 6e-3);
    near(formula.tangential, tangential, 6e-3);
  }
});

Deno.test("the field that coma leaves free", () => {
  // CROSS-CHECK numpy 1.24.2: 32 root 72 N^3 550 nm / 14
  const rows = [[4, 0.6827], [5, 1.3334], [6, 2.3041], [8, 5.4616], [10, 10.667]];
  for (const [ratio = 0, h = 0] of rows) near(comaFreeRadius(ratio), h, 1e-4);
});

Deno.test("at its edge the traced wavefront is 1/14 wave RMS, tilt removed", () => {
  for (const [aperture, f] of [[250, 1000], [200, 1000], [150, 1200]] as const) {
    const h = comaFreeRadius(f / aperture), points = disc(aperture, 60);
    const paths = points.map(([x, y]) => pathDifference(f, x, y, h));
    // only coma is judged: the part odd in x, less its tilt
    const odd = points.map(([x, y]) =>
      (pathDifference(f, x, y, h) - pathDifference(f, -x, y, h)) / 2
    );
    const slope = odd.reduce((sum, w, i) => sum + w * (points[i]?.[0] ?? 0), 0) /
      points.reduce((sum, [x]) => sum + x * x, 0);
    const rms = Math.sqrt(
      odd.reduce((sum, w, i) => sum + (w - slope * (points[i]?.[0] ?? 0)) ** 2, 0) / paths.length,
    );
    near(rms * 1e6, 550 / 14, 7e-3, `${aperture}`);
  }
});

Deno.test("laws: linear in the field, cubic in the focal ratio, free of the size", () => {
  near(
    comaOf({ aperture: 150, focalLength: 1200 }, 6).wavefrontPeak,
    comaOf({ aperture: 300, focalLength: 2400 }, 6).wavefrontPeak,
    1e-12,
  );
  near(comaFreeRadius(8) / comaFreeRadius(4), 8, 1e-12);
  assert.equal(comaOf({ aperture: 150, focalLength: 1200 }, 0).tangential, 0);
  assert.throws(() => comaFreeRadius(0), RangeError);
  assert.throws(() => comaOf({ aperture: 150, focalLength: 1200 }, -1), RangeError);
});

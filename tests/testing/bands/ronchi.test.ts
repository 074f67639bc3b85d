import assert from "node:assert/strict";
import fc from "fast-check";
import { traceRays } from "../rays.ts";
import {
  bandSpacing,
  rayAtGrating,
  requireRonchi,
  type RonchiSetting,
} from "../../../lib/testing/bands/ronchi.ts";
import { close } from "../../optics/close.ts";
import { bench } from "../ronchiBench.ts";

Deno.test("a lamp that moves along doubles the grating's travel", () => {
  // DERIVED on a sphere: lamp and grating d from the centre, the image moves to -d, they part by 2d; a lamp that stays
  // at the centre has its image there, they part by d; a ray from the rim slants by x/R
  for (const d of [-8, -2, 3, 10]) {
    const moves = rayAtGrating(75, 0, bench(150, 2400, 0, d)).across;
    const beside = rayAtGrating(75, 0, bench(150, 2400, 0, d, "slit beside")).across;
    const stays = rayAtGrating(75, 0, bench(150, 2400, 0, d, "fixed")).across;
    close(moves / stays, 2, 0.012); // d/R to first order, more than once
    assert.equal(beside, moves);
    close(stays, (-d * 75) / 2400, 0.002 * Math.abs(d));
  }
});

Deno.test("rays agree with an independent trace", () => {
  // CROSS-CHECK ../secondRoute.py, rays at the knife: vectors, the normal by differences; printed to 9 digits
  const printed = [
    [150, 2400, 0, -5, 37.5, 0.156268997, 0.078134538],
    [150, 2400, 0, -5, 75, 0.312652062, 0.156326350],
    [200, 2400, -1, -3, 50, 0.146701295, 0.084187821],
    [200, 2400, -1, -3, 100, 0.423609553, 0.298502249],
    [200, 2400, -1, 3, 100, -0.076388939, 0.048719451],
    [200, 2400, -0.5, -3, 100, 0.336969702, 0.211861998],
    [400, 3200, -1, -5, 200, 1.406230696, 1.093132515],
  ] as const;
  for (const [aperture, radius, conic, d, x, moving, fixed] of printed) {
    close(rayAtGrating(x, 0, bench(aperture, radius, conic, d)).across, moving, 6e-10);
    close(rayAtGrating(x, 0, bench(aperture, radius, conic, d, "fixed")).across, fixed, 6e-10);
  }
});

/** Astigmatism of A nm along `alpha`. */
const astigmatism = (amount: number, alpha: number) => (x: number, y: number): number =>
  (amount * ((x * x - y * y) * Math.cos(2 * alpha) + 2 * x * y * Math.sin(2 * alpha))) / 75 ** 2;

Deno.test("astigmatism tilts straight bands, one way inside and the other outside", () => {
  const error = astigmatism(100, Math.PI / 4);
  // CROSS-CHECK ../secondRoute.py, astigmatism's bands: three-dimensional trace; the tilt from its differences at (30, 20)
  for (
    const [d, across, tilt] of [[-5, 0.121608750, 2.333256], [5, -0.128433697, -2.354994]] as const
  ) {
    const setting = { ...bench(150, 2400, 0, d), error };
    const at = (x: number, y: number): number => rayAtGrating(x, y, setting).across;
    close(at(30, 20), across, 2e-9);
    const h = 0.5;
    const slant = Math.atan(
      -(at(30, 20 + h) - at(30, 20 - h)) / (at(30 + h, 20) - at(30 - h, 20)),
    );
    close((slant * 180) / Math.PI, tilt, 2e-4);
  }
});

Deno.test("a hill's slope moves the ray by 2R times it", () => {
  // DERIVED reflection turns by twice the slope, over the distance R
  const smooth = bench(200, 2400, -1, -4);
  const hill: RonchiSetting = {
    ...smooth,
    error: (x, y) => 50 * Math.exp(-((Math.hypot(x, y) - 60) ** 2) / 242),
  };
  for (const x of [45, 55, 65, 80]) {
    const slope = (-50e-6 * (x - 60)) / 121 * Math.exp(-((x - 60) ** 2) / 242);
    const moved = rayAtGrating(x, 0, hill).across - rayAtGrating(x, 0, smooth).across;
    close(moved, -2 * 2400 * slope, 2e-4);
  }
});

Deno.test("any point of any conic agrees with the kit's traced rays", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -95, max: 95, noNaN: true }),
      fc.double({ min: -30, max: 30, noNaN: true }),
      fc.double({ min: -2, max: 1, noNaN: true }),
      fc.double({ min: -9, max: 9, noNaN: true }),
      (x, y, conic, d) => {
        const here = rayAtGrating(x, y, bench(200, 2400, conic, d));
        const outX = new Float64Array(1), outY = new Float64Array(1);
        // aim so that the ray meets the glass at (x, y): through that point from the lamp to the plane z = 0
        const lamp = 2400 + d, r2 = x * x + y * y;
        const z = r2 / (2400 * (1 + Math.sqrt(1 - ((1 + conic) * r2) / 2400 ** 2)));
        const aim = lamp / (lamp - z);
        const [aimX, aimY] = [Float64Array.of(x * aim), Float64Array.of(y * aim)];
        traceRays(
          { radius: 2400, conic },
          { x: 0, y: 0, z: lamp },
          lamp,
          aimX,
          aimY,
          outX,
          outY,
        );
        close(here.across, outX[0] ?? NaN, 1e-9);
        close(here.along, outY[0] ?? NaN, 1e-9);
      },
    ),
  );
});

Deno.test("turning the grating turns the axes and nothing else", () => {
  const plain = bench(150, 2400, -1, -5);
  const turned = { ...plain, turn: Math.PI / 2 };
  const a = rayAtGrating(20, 50, plain), b = rayAtGrating(20, 50, turned);
  close(b.across, a.along, 1e-12);
  close(b.along, -a.across, 1e-12);
});

Deno.test("impossible benches are refused with what they are", () => {
  const good = bench(150, 2400, 0, -5);
  for (
    const bad of [
      { half: 0 },
      { linesPerMm: -4 },
      { clear: 1 },
      { slit: -1 },
      { wavelength: 0 },
      {
        offset: NaN,
      },
      { offset: -1500 },
      { turn: Infinity },
    ]
  ) {
    assert.throws(() => requireRonchi("ronchi", { ...good, ...bad }), /ronchi requires half/);
  }
});

Deno.test("spacing on a sphere: a pitch on the grating by rays, and what it refuses", () => {
  for (const setUp of ["same grating", "fixed"] as const) {
    const place = bandSpacing(2396, -5, 4, setUp);
    // DERIVED X grows by a pitch from one band to the next; the series in r/R left out is some thousandths
    close(rayAtGrating(place, 0, bench(260, 2396, 0, -5, setUp)).across, 1 / 4, 0.003);
  }
  assert.throws(() => bandSpacing(2396, 0, 4, "fixed"), /an offset that is not 0/);
  assert.throws(() => bandSpacing(0, 1, 4, "fixed"), /radius=0/);
});

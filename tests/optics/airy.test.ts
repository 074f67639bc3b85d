import assert from "node:assert/strict";
import {
  AIRY_DARK_RINGS,
  airyEncircled,
  airyIntensity,
  airyRadius,
  besselJ,
  firstDarkRing,
} from "../../lib/optics/airy.ts";
import { close } from "./close.ts";

Deno.test("dark rings are where J1 is zero", () => {
  // CROSS-CHECK scipy 1.10.1 jn_zeros(1, 3) / pi, printed to 1e-8
  const printed = [1.21966989, 2.23313059, 3.23831548];
  AIRY_DARK_RINGS.forEach((ring, i) => {
    close(ring, printed[i] ?? 0, 6e-9);
    close(besselJ(1, Math.PI * ring), 0, 1e-14);
  });
});

Deno.test("light inside the dark rings", () => {
  // CROSS-CHECK scipy 1.10.1, 1 - J0^2 - J1^2, printed to 1e-8
  const printed = [0.83778487, 0.90993054, 0.93764747];
  AIRY_DARK_RINGS.forEach((ring, i) => close(airyEncircled(ring), printed[i] ?? 0, 6e-9));
});

Deno.test("bright rings and half width", () => {
  // CROSS-CHECK scipy 1.10.1, printed to 1e-8
  close(airyIntensity(1.63471935), 0.01749786, 6e-9);
  close(airyIntensity(2.67929202), 0.004158, 6e-9);
  close(airyIntensity(1.02899397 / 2), 0.5, 1e-8);
});

Deno.test("Airy radii at 550 nm", () => {
  // CROSS-CHECK numpy 1.24.2, um, printed to 1e-8
  close(1000 * airyRadius(8), 5.36654752, 6e-9);
  close(1000 * airyRadius(6), 4.02491064, 6e-9);
});

Deno.test("obstruction: first dark ring and the light inside it", () => {
  // CROSS-CHECK scipy 1.10.1, annular pupil, printed to 1e-6
  const rows = [
    [0, 1.21967, 0.837785],
    [0.1, 1.20506, 0.818419],
    [0.15, 1.188132, 0.795046],
    [0.2, 1.166507, 0.763763],
    [0.25, 1.141567, 0.725773],
    [0.3, 1.114518, 0.682368],
    [0.35, 1.086314, 0.634825],
    [0.4, 1.057666, 0.584336],
  ];
  for (const [eps = 0, ring = 0, inside = 0] of rows) {
    close(firstDarkRing(eps), ring, 6e-7);
    close(airyEncircled(firstDarkRing(eps), eps), inside, 1e-6);
  }
});

Deno.test("all light is inside a large circle, and more inside a larger one", () => {
  for (const eps of [0, 0.2, 0.35]) {
    let before = 0;
    for (const r of [0.3, 0.8, 1.5, 3, 6, 12]) {
      const here = airyEncircled(r, eps);
      assert.ok(here >= before - 1e-9 && here <= 1);
      before = here;
    }
    assert.ok(before > 0.96);
  }
});

Deno.test("Bessel functions keep their recurrence and their pole", () => {
  // DERIVED J0' = -J1
  for (const x of [0.3, 2, 7, 20, 55]) {
    close((besselJ(0, x + 1e-5) - besselJ(0, x - 1e-5)) / 2e-5, -besselJ(1, x), 1e-9);
  }
  close(besselJ(0, 0), 1, 1e-15);
  close(besselJ(0, 2.404825557695773), 0, 1e-14); // MEMORY first zero of J0, Abramowitz and Stegun 9.5
});

Deno.test("refusals", () => {
  assert.throws(() => airyRadius(0), RangeError);
  assert.throws(() => airyIntensity(-1), RangeError);
  assert.throws(() => airyEncircled(1, 1), /obstruction/);
  assert.throws(() => besselJ(0, NaN), RangeError);
  assert.throws(() => firstDarkRing(0.95), RangeError);
});

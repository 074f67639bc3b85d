import assert from "node:assert/strict";
import {
  abbeNumber,
  BLUE_F,
  RED_C,
  refractiveIndex,
  singleLensColours,
  YELLOW_D,
} from "../../lib/optics/glass.ts";
import { close } from "./close.ts";

Deno.test("catalogue indices of the two glasses", () => {
  // READ SCHOTT.xls of PyPI opticalglass 1.1.1 (the maker's catalogue, June 2018), the crown of code 517642: n_d 1.51680, n_F 1.52238, n_C 1.51432, V 64.17; fused silica n_d 1.45846, V 67.8; to the last printed digit
  close(refractiveIndex("borosilicate crown", YELLOW_D), 1.5168, 5e-6);
  close(refractiveIndex("borosilicate crown", BLUE_F), 1.52238, 5e-6);
  close(refractiveIndex("borosilicate crown", RED_C), 1.51432, 5e-6);
  close(abbeNumber("borosilicate crown"), 64.17, 5e-3);
  close(refractiveIndex("fused silica", YELLOW_D), 1.45846, 5e-6);
  close(abbeNumber("fused silica"), 67.8, 0.05);
});

Deno.test("a lens of 150 mm, f 1200: foci 18.6 mm apart, blur 1.17 mm, hidden from 149 m", () => {
  // DERIVED f (n-1)(1/(n_C-1) - 1/(n_F-1)) = 18.60; D/2V = 150/128.34 = 1.169; D^2/(4 x 587.6e-6 x 64.17) = 149.2e3
  const lens = singleLensColours(150, 1200);
  close(lens.fociApart, 18.6, 0.05);
  close(lens.blur, 1.169, 5e-4);
  close(lens.hiddenFrom / 1000, 149.2, 0.1);
});

Deno.test("the same lens to the last digit of another computation", () => {
  // CROSS-CHECK secondRoute.py, single lens: Sellmeier: foci 1187.190 (F) and 1205.781 (C), 18.5906 apart; V 64.1673; least circle
  // D (fC - fF) / (fC + fF) = 1.1653 mm = 200.3 arcseconds; 149.19 m
  const lens = singleLensColours(150, 1200);
  const focus = (nm: number): number =>
    (1200 * (refractiveIndex("borosilicate crown", YELLOW_D) - 1)) /
    (refractiveIndex("borosilicate crown", nm) - 1);
  close(focus(BLUE_F), 1187.19, 1e-3);
  close(focus(RED_C), 1205.781, 1e-3);
  close(lens.fociApart, 18.5906, 1e-4);
  close(abbeNumber("borosilicate crown"), 64.1673, 1e-4);
  close(1200 / abbeNumber("borosilicate crown"), 18.701, 1e-3);
  const least = (150 * lens.fociApart) / (focus(BLUE_F) + focus(RED_C));
  close(least, 1.1653, 1e-4);
  close((least / 1200) * 206264.806, 200.3, 0.05);
  // the thin rule D / 2V that the library gives is 0.3 % more
  close(lens.blur / least, 1, 3.5e-3);
  close(lens.hiddenFrom / 1e6, 0.14919, 1e-5);
});

Deno.test("blur grows with the aperture and cares nothing for the focal length", () => {
  close(singleLensColours(150, 5000).blur, singleLensColours(150, 1200).blur, 1e-15);
  close(singleLensColours(300, 1200).blur, 2 * singleLensColours(150, 1200).blur, 1e-12);
  close(singleLensColours(150, 2400).fociApart, 2 * singleLensColours(150, 1200).fociApart, 1e-9);
});

Deno.test("blue is bent more than red, all through the visible", () => {
  for (const glass of ["borosilicate crown", "fused silica"] as const) {
    for (let w = 380; w < 760; w += 20) {
      assert.ok(refractiveIndex(glass, w) > refractiveIndex(glass, w + 20));
    }
  }
  assert.throws(() => refractiveIndex("borosilicate crown", 100), RangeError);
  assert.throws(() => singleLensColours(0, 1200), RangeError);
});

/** The fit's own units: the air's blur by its exponent and by its width, and the grid that holds a disc. */
import assert from "node:assert/strict";
import { airOf, gridFor, seeingOf } from "../../../lib/testing/star/starFit.ts";
import { close } from "../../optics/close.ts";

Deno.test("blur of the air: 0.98 wavelengths over r0, and back", () => {
  // DERIVED r0 = half the width: exponent 3.44 at a shift of half the width, blur 0.98 wavelength / r0 = 0.98 slope units
  close(airOf(0.98), 3.44, 1e-12);
  close(seeingOf(3.44), 0.98, 1e-12);
  for (const seeing of [0.3, 1.3, 4]) close(seeingOf(airOf(seeing)), seeing, 1e-12);
  // DERIVED half the r0 is twice the blur and 2^(5/3) of the exponent
  close(airOf(2.6) / airOf(1.3), 2 ** (5 / 3), 1e-12);
});

Deno.test("the grid is as wide as the disc and its blur, and as fine as the rim's wave asks", () => {
  for (const defocus of [2, 4, 6.5, 7, 8]) {
    const { across, step, fft } = gridFor(defocus), reach = (step * fft.size) / 2;
    // DERIVED a disc of w waves reaches 2 w slope units; from place to place the wave may turn by half a wave at most
    assert.ok(reach > 2 * defocus + 3, `${defocus}: ${reach}`);
    assert.ok((2 * defocus * 2) / across < 0.5, `${defocus}: ${across}`);
  }
});

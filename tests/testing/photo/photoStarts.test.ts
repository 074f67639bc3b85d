/** Where a fit begins: near what the picture was made of, by a maker that shares no optics with it. */
import assert from "node:assert/strict";
import { OWN } from "../../../lib/testing/photo/photoModel.ts";
import { findOutline } from "../../../lib/testing/photo/photoOutline.ts";
import { pixelsOf } from "../../../lib/testing/photo/photoPixels.ts";
import { firstStates } from "../../../lib/testing/photo/photoStarts.ts";
import { makePhoto } from "../photoGenerator.ts";

Deno.test("the conic of the glass is among the first three, the first is it or its neighbour, with offset and turn at hand", () => {
  const bench = {
    ...{ radius: 2400, half: 75, setUp: "same grating" as const },
    ...{ linesPerMm: 4, wavelength: 550 },
  };
  // INVENTED mirrors, photographed with an offset told 0.3 mm amiss
  for (const conic of [-1.1, -0.7, 0.1]) {
    const photo = makePhoto({
      ...{ aperture: 150, radius: 2400, conic, offset: -6, linesPerMm: 4, light: [550] },
      ...{ width: 260, height: 250, x: 131.3, y: 124.8, r: 104.4, noise: 0.02, uneven: 0.2 },
      turn: 2,
    });
    const outline = findOutline(photo) ?? assert.fail("no outline");
    const picked = pixelsOf(photo, outline, bench, { offset: -6.3, offsetU: 0.5 });
    const states = firstStates([picked]), [first = assert.fail("no start")] = states;
    const conics = states.map((one) => one.conic);
    assert.ok(conics.includes(conic), conics.join());
    assert.ok(Math.abs(first.conic - conic) < 0.5, conics.join());
    const own = first.own[0] ?? assert.fail("no picture");
    // a step of the net is half a millimetre
    assert.ok(Math.abs((own[OWN.offset] ?? NaN) + 6) < 0.5, `${own[OWN.offset]}`);
    assert.ok(Math.abs((own[OWN.turn] ?? NaN) - (2 * Math.PI) / 180) < 0.02, `${own[OWN.turn]}`);
  }
});

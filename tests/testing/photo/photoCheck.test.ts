/** The look over: each thing that goes wrong at the bench is named, and nothing is said against a good photograph. */
import assert from "node:assert/strict";
import { lookOver } from "../../../lib/testing/photo/photoCheck.ts";
import { findOutline } from "../../../lib/testing/photo/photoOutline.ts";
import { type MadePhoto, makePhoto } from "../photoGenerator.ts";

const good: MadePhoto = {
  ...{ aperture: 150, radius: 2400, conic: -0.7, offset: -5, linesPerMm: 4, light: [550] },
  ...{ width: 260, height: 240, x: 128, y: 121, r: 90, noise: 0.02, uneven: 0.2, turn: 2 },
};
const bench = {
  radius: 2400,
  half: 75,
  setUp: "same grating",
  linesPerMm: 4,
  wavelength: 550,
} as const;

/** Grade and sentence of all that is not good. */
function wrong(change: Partial<MadePhoto>, offset = -5): string {
  const image = makePhoto({ ...good, ...change }), outline = findOutline(image);
  return lookOver(image, outline, bench, offset)
    .filter(({ grade }) => grade !== "good").map(({ grade, says }) => `${grade}: ${says}`).join(
      "\n",
    );
}

Deno.test("nothing is said against a good photograph", () => {
  assert.equal(wrong({}), "");
  assert.equal(wrong({ conic: 0.2, stand: true, seed: 3 }), "");
});

Deno.test("size and place of the disc, light, focus and number of bands are named, with what to do", () => {
  assert.match(wrong({ x: 40 }), /^bad: the disc is cut off at the left .* turn the camera/);
  assert.match(wrong({ y: 200 }), /^bad: the disc is cut off at the bottom/);
  assert.match(wrong({ r: 50 }), /^fair: the disc is only (99|100|101) pixels across: zoom in/);
  assert.match(
    wrong({ covered: 0.4 }),
    /bad: (about \d\d % of the mirror is in the dark|no mirror)/,
  );
  assert.match(
    wrong({ exposure: 3 }),
    /bad: this photograph is burnt out: \d\d % .* shorter exposure/,
  );
  assert.match(wrong({ exposure: 0.06, fog: 0 }), /^fair: the bands are rather dark: a longer/m);
  assert.match(wrong({ blur: 16 }), /bad: this photograph is out of focus: .* not on the grating/);
  assert.match(wrong({ blur: 5 }), /^fair: the rim is a little soft/m);
  assert.match(wrong({}, -0.2), /^fair: about 2 bands by the record: few; farther/);
  assert.match(wrong({}, -25), /^fair: about \d\d bands by the record: many; nearer/);
  assert.match(wrong({}, -90), /^bad: this photograph shows bands finer than its pixels can tell/);
});

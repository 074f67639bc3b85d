/** What a reduction of photographs must be given: each bound from both sides. */
import assert from "node:assert/strict";
import {
  type PhotoTest,
  requireTest,
  type RonchiPhoto,
} from "../../../lib/testing/photo/photoGiven.ts";

const image = { width: 2, height: 2, values: new Float32Array(4) };
const photo: RonchiPhoto = { image, linesPerMm: 4, offset: -5 };
const test: PhotoTest = {
  photos: [photo],
  ...{ aperture: 150, bevel: 1, radius: 2400, setUp: "same grating" },
};
const of = (change: Partial<RonchiPhoto>): PhotoTest => ({
  ...test,
  photos: [photo, { ...photo, ...change }],
});

Deno.test("what is sound is taken, to the edge of each bound", () => {
  for (
    const sound of [
      test,
      ...[{ gamma: 0.31 }, { gamma: 4.9 }, { offset: 599 }, { offset: -599 }].map(of),
      ...[{ offsetU: 1e-6 }, { linesPerMm: 0.1 }].map(of),
      ...[{ bevel: 0 }, { bevel: 74.9 }, { radius: 151 }].map((part) => ({ ...test, ...part })),
    ]
  ) assert.doesNotThrow(() => requireTest(sound));
});

Deno.test("what is not is refused in one sentence, also in the second of two photographs", () => {
  for (
    const wrong of [
      { ...test, photos: [] },
      ...[{ gamma: 0.29 }, { gamma: 5.1 }, { offset: 601 }, { offset: -601 }].map(of),
      ...[{ offsetU: 0 }, { linesPerMm: 0 }, { offset: NaN }].map(of),
      ...[{ bevel: -1 }, { bevel: 75 }, { radius: 150 }].map((part) => ({ ...test, ...part })),
      ...[{ wavelength: 0 }, { radius: Infinity }].map((part) => ({ ...test, ...part })),
    ]
  ) {
    assert.throws(
      () => requireTest(wrong),
      /^RangeError: reducePhotos requires a photograph, 0 <= bevel/,
    );
  }
});

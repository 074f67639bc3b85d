/** Eyepieces' fields to scale: the Moon's share of them, Jupiter's moons inside. */
import assert from "node:assert/strict";
import { fieldsOfView } from "../../lib/figures/drawings/fieldsOfView.ts";
import { assertNoHoles, assertWellFormed, parsed } from "./soundFigure.ts";

const view = {
  moonArcsec: 1860,
  jupiterArcsec: 40,
  moons: [{ eastArcsec: 300, northArcsec: 0 }, { eastArcsec: -900, northArcsec: 0 }],
};
const eyepiece = { focalLength: 25, magnification: 48, fieldArcsec: 3750 };

Deno.test("the Moon's share of the field, and what lies outside is not drawn", () => {
  const narrow = { focalLength: 6, magnification: 200, fieldArcsec: 900 };
  const { html, text } = fieldsOfView({ ...view, fields: [eyepiece, narrow] });
  assertWellFormed(html);
  assertNoHoles(html);
  assert.match(text, /The whole Moon fits into the eyepiece of 25 mm\./);
  const [figure] = [...parsed(html).querySelectorAll("svg")];
  const radii = [...figure?.querySelectorAll("circle") ?? []].map((one) =>
    Number(one.getAttribute("r"))
  );
  // DERIVED: a field is 62 px; per eyepiece two fields, Jupiter, and those moons within: both of 3750, one of 900
  assert.equal(radii.filter((r) => r === 62).length, 4);
  assert.equal(radii.filter((r) => r === 1.1).length, 3);
  // DERIVED: 40 / 900 of 62 px
  assert.ok(radii.some((r) => Math.abs(r - 62 * 40 / 900) < 0.051)); // places are printed to a tenth
});

Deno.test("no eyepiece takes the whole Moon in, no eyepiece at all", () => {
  const fields = [{ ...eyepiece, fieldArcsec: 1800 }];
  assert.match(fieldsOfView({ ...view, fields }).text, /fits into none of these/);
  assert.throws(() => fieldsOfView({ ...view, fields: [] }), RangeError);
  assert.throws(() => fieldsOfView({ ...view, moonArcsec: NaN, fields }), RangeError);
});

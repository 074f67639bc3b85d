/** A lamp at the centre of curvature: the distance is R, and what reading again does not cure stays. */
import assert from "node:assert/strict";
import fc from "fast-check";
import { byLamp, lamp, lampSettingU } from "../../../lib/measuring/methods/lamp.ts";
import { KESTREL } from "../bench.ts";

const at = (...distances: readonly number[]) => distances.map((distance) => ({ distance }));

Deno.test("how much one setting spreads: half the depth of an equally sharp picture", () => {
  // DERIVED: R/D = 16; blur hypot(0.3, 4 x 0.00025 x 2400) = 2.4187 mm; the picture parts from the card by twice the
  // box's shift, so that half the depth is 16 x 2.4187 / 2 = 19.349 mm, over sqrt 3: 11.171 mm
  assert.equal(lampSettingU(2400, 150).toFixed(3), "11.171");
  // DERIVED: the same with no slope at all: 16 x 0.3 / (2 sqrt 3) = 1.386 mm
  assert.equal(lampSettingU(2400, 150, 0).toFixed(3), "1.386");
  assert.throws(() => lampSettingU(0, 150), /radius and aperture above 0/);
});

Deno.test("five settings: their scatter beside what every setting shares", () => {
  // INVENTED settings; DERIVED: their mean, (2391 + 2402 + 2397 + 2409 + 2394) / 5 = 2398.6
  const made = lamp(at(2391, 2402, 2397, 2409, 2394), KESTREL) ?? assert.fail();
  assert.equal(made.radius.value.toFixed(1), "2398.6");
  const of = (source: string): string =>
    made.components.find((one) => one.source === source)?.u.toFixed(2) ?? "none";
  // DERIVED: s = sqrt((7.6^2 + 3.4^2 + 1.6^2 + 10.4^2 + 4.6^2) / 4) = 7.092 over sqrt 5
  assert.equal(of("settings of the lamp"), "3.17");
  // DERIVED: half of 11.171; 2400 x 0.002 / 1.171875 / sqrt 3; 3 / sqrt 3
  assert.equal(of("what the eye calls sharpest"), "5.59");
  assert.equal(of("water on the glass"), "2.36");
  assert.equal(of("lamp and card on their box"), "1.73");
  // COMMON PRACTICE: 10 mm after F80, 5 after F320, says who reads it often; ours between the two
  assert.ok(made.radius.u > 5 && made.radius.u < 10, `${made.radius.u}`);
});

Deno.test("reading again and again does not take away what all settings share", () => {
  const many = Array.from({ length: 400 }, (_, i) => 2400 + (i % 9) - 4);
  const { radius } = lamp(at(...many), KESTREL) ?? assert.fail();
  assert.ok(radius.u > 6, `${radius.u}`);
});

Deno.test("one setting alone is told to be assumed; none is no estimate", () => {
  const one = lamp(at(2400), KESTREL) ?? assert.fail();
  assert.match(one.assumed[0] ?? "", /one setting only: 11\.2 mm is assumed/);
  assert.ok(one.radius.u > 12);
  assert.equal(lamp([], KESTREL), undefined);
});

Deno.test("law: a metre more of every reading is a metre more of radius, and no more doubt", () => {
  const list = fc.array(fc.integer({ min: 2300, max: 2500 }), { minLength: 2, maxLength: 9 });
  fc.assert(fc.property(list, (distances) => {
    const here = lamp(at(...distances), KESTREL) ?? assert.fail();
    const there = lamp(at(...distances.map((one) => one + 1000)), KESTREL) ?? assert.fail();
    assert.ok(Math.abs(there.radius.value - here.radius.value - 1000) < 1e-8);
    assert.ok(Math.abs(there.radius.u - here.radius.u) < 1e-8);
  }));
});

Deno.test("a distance of 0, and one that does not go with the others, give the table away", () => {
  const told = (...distances: readonly number[]): string =>
    byLamp.misread?.(at(...distances), [], KESTREL)?.message ?? "";
  assert.match(told(2400, 0), /^0 mm is no distance of the lamp/);
  assert.match(
    told(2400, 2395, 1199),
    /1199 mm does not go .* the distance was halved, or that of the Sun/,
  );
  assert.equal(told(2400, 2395, 2410), "");
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { flatToFocus, layOut, tubeBore } from "../../lib/telescope/layout.ts";
import { near } from "./near.ts";

const bend = { innerDiameter: 180, wall: 3, height: 70, margin: 15 };
const mirror = { aperture: 150, focalLength: 1198.3 };
const flats = [25, 31, 35, 40, 46];

Deno.test("the demo's invented telescope, number by number", () => {
  const plan = layOut({ ...mirror, bend, frontLength: 150, fullyLit: 8, flats, fieldStop: 21 });
  // CROSS-CHECK secondRoute.py, the demo's telescope: the layout of the demo's INVENTED telescope
  assert.equal(plan.flatToFocus, 178);
  assert.equal(plan.flatFromVertex.toFixed(1), "1020.3");
  assert.equal(plan.neededFlat.toFixed(1), "29.2");
  assert.equal(plan.flat, 31);
  assert.equal(plan.fullyLit.toFixed(1), "10.1");
  assert.equal(plan.offset.toFixed(2), "0.91");
  assert.equal(plan.offsetAlongFace.toFixed(2), "1.28");
  assert.equal(plan.obstructionByDiameter.toFixed(3), "0.207");
  assert.equal((100 * plan.obstructionByArea).toFixed(1), "4.3");
  assert.equal(plan.magnitudeLoss.toFixed(3), "0.047");
  assert.equal(plan.illuminationAtStop.toFixed(2), "0.79");
  assert.equal(plan.tubeBore.toFixed(1), "170.5");
  assert.equal(plan.tubeIsWideEnough, true);
  assert.deepEqual(plan.problems, []);
});

Deno.test("flats may be told in any order: the smallest that holds the cone, else the largest", () => {
  const of = (...told: readonly number[]): number =>
    layOut({ ...mirror, bend, fullyLit: 8, flats: told }).flat;
  assert.equal(of(46, 31, 25, 40, 35), 31);
  assert.equal(of(40, 46, 35), 35);
  assert.equal(of(28, 25, 20), 28);
});

Deno.test("a second invented telescope: 200 f/6", () => {
  const wide = { innerDiameter: 230, wall: 5, height: 70, margin: 15 };
  const plan = layOut({
    ...{ aperture: 200, focalLength: 1200, bend: wide, fullyLit: 10 },
    flats: [35, 40, 46, 50],
  });
  assert.equal(plan.flatToFocus, 205);
  assert.equal(plan.neededFlat.toFixed(1), "42.8");
  assert.equal(plan.flat, 46);
});

Deno.test("no flat large enough: the largest is taken, and it is said", () => {
  const plan = layOut({ ...mirror, bend, fullyLit: 8, flats: [25, 28] });
  assert.equal(plan.flat, 28);
  assert.match(plan.problems.join(), /no flat at hand holds the cone: 29.2 mm is needed/);
});

Deno.test("a flat below the axial cone: nothing is fully lit, and it is said", () => {
  const plan = layOut({ ...mirror, bend, fullyLit: 8, flats: [20] });
  assert.ok(plan.fullyLit < 0);
  assert.match(plan.problems.join(), /nothing is fully lit/);
});

Deno.test("a tube narrower than the beam, and one that cuts the edge", () => {
  const narrow = layOut({ ...mirror, bend: { ...bend, innerDiameter: 140 }, flats });
  assert.match(narrow.problems.join(), /narrower than the mirror's light/);
  const edge = layOut({ ...mirror, bend: { ...bend, innerDiameter: 160 }, flats, fieldStop: 21 });
  assert.match(edge.problems.join(), /cuts light for the edge of the field/);
  assert.equal(edge.tubeIsWideEnough, false);
});

Deno.test("without a list of flats the needed one is taken; without a stop the lit field counts", () => {
  const plan = layOut({ ...mirror, bend, fullyLit: 8 });
  assert.equal(plan.flat, plan.neededFlat);
  near(plan.fullyLit, 8, 1e-6);
  near(plan.illuminationAtStop, 1, 1e-9);
});

Deno.test("refuses a focus that cannot come out, and impossible lengths", () => {
  const high = { ...bend, height: 1200 };
  assert.throws(() => layOut({ ...mirror, bend: high }), /no place for a flat is left/);
  assert.throws(() => flatToFocus({ ...bend, margin: -5 }), /margin/);
  assert.throws(() => layOut({ ...mirror, bend, flats: [0] }), RangeError);
  assert.throws(() => layOut({ ...mirror, bend, fullyLit: -3 }), RangeError);
});

Deno.test("bore of the tube at its front", () => {
  // DERIVED: 150 + 2 x 1170.3 x 10.5 / 1198.3
  near(tubeBore({ aperture: 150, focalLength: 1198.3 }, 1170.3, 10.5), 170.509, 1e-5);
  assert.equal(tubeBore({ aperture: 150, focalLength: 1200 }, 1170, 0), 150);
});

Deno.test("law: wider fields and shorter mirrors never ask for less", () => {
  const mm = fc.double({ min: 1, max: 100, noNaN: true });
  fc.assert(fc.property(mm, mm, (s, i) => {
    const long = { aperture: 150, focalLength: 1200 }, short = { aperture: 150, focalLength: 750 };
    assert.ok(tubeBore(short, 700, i) >= tubeBore(long, 700, i));
    assert.ok(tubeBore(long, s, i) <= tubeBore(long, s, i + 1));
  }));
  assert.throws(() => tubeBore({ aperture: 150, focalLength: 0 }, 1, 1), RangeError);
  assert.throws(() => tubeBore({ aperture: 150, focalLength: 900 }, -1, 1), RangeError);
});

import assert from "node:assert/strict";
import fc from "fast-check";
import {
  COLLIMATION_STEPS,
  collimationTolerance,
  imageShift,
  screwTurns,
  shiftPerTurn,
  tiltAfter,
} from "../../lib/telescope/collimation.ts";
import { comaOf } from "../../lib/telescope/coma.ts";
import { near } from "./near.ts";
import { atHeight, disc, offTilted } from "./rays.ts";

const rad = (angle: number): number => (angle * Math.PI) / 180;
const arcmin = (angle: number): number => (angle * 180 * 60) / Math.PI;
const thirds = [90, 210, 330].map(rad);
const screws = { pitch: 1, radius: 60, angles: thirds };

Deno.test("one turn of one screw: the lever is one and a half radii, not one", () => {
  // DERIVED p / 1.5 Rs in arcminutes
  for (const [pitch, radius, wanted] of [[1, 60, 38.197], [0.8, 45, 40.744], [1.25, 100, 28.648]]) {
    const set = { pitch: pitch ?? 0, radius: radius ?? 0, angles: thirds };
    for (const turns of [[1, 0, 0], [0, 1, 0], [0, 0, 1]]) {
      const { x, y } = tiltAfter(set, turns);
      near(arcmin(Math.hypot(x, y)), wanted ?? 0, 1e-4);
    }
  }
});

Deno.test("the image moves 26.67 mm a turn, a quarter of it for a quarter turn", () => {
  // CROSS-CHECK numpy 1.24.2: plane and reflection; 26.670 exact
  near(shiftPerTurn(1200, screws)[0], 26.67, 1e-5);
  const quarter = imageShift(1200, tiltAfter(screws, [0.25, 0, 0]));
  near(Math.hypot(quarter.x, quarter.y), 6.667, 1e-4);
  assert.ok(
    quarter.y < 0 && Math.abs(quarter.x) < 1e-9,
    "raising the screw at +y sends the image to -y",
  );
});

Deno.test("an image at (3, -2): three turns, and it stands in the middle by exact reflection", () => {
  // CROSS-CHECK numpy 1.24.2: -.05000 -.03995 +.08995, residual below 1e-5 mm
  const turns = screwTurns(1200, screws, [3, -2]);
  [-0.05, -0.03995, 0.08995].forEach((wanted, i) =>
    assert.ok(Math.abs((turns[i] ?? 0) - wanted) < 6e-6)
  );
  const moved = imageShift(1200, tiltAfter(screws, turns));
  assert.ok(Math.hypot(3 + moved.x, -2 + moved.y) < 1e-5);
});

Deno.test("50 random cells: rays off the tilted mirror land where the screws say", () => {
  let seed = 5;
  const pick = (low: number, high: number): number => {
    seed = (seed * 16807) % 2147483647;
    return low + ((high - low) * seed) / 2147483647;
  };
  for (let k = 0; k < 50; k++) {
    const first = pick(0, 2), angles = [first, first + pick(1.6, 2.4), first + pick(3.7, 4.6)];
    const cell = { pitch: pick(0.5, 1.5), radius: pick(40, 110), angles };
    const f = pick(600, 2000), tilt = tiltAfter(cell, [pick(-0.1, 0.1), pick(-0.1, 0.1), 0]);
    const wanted = imageShift(f, tilt);
    const [x, y] = atHeight(offTilted(f, 0, 0, tilt.x, tilt.y), f);
    assert.ok(Math.hypot(x - wanted.x, y - wanted.y) < 1e-9, `${x - wanted.x}`);
    // and bringing it back: the same turns with the other sign, but for a constant
    const back = screwTurns(f, cell, [wanted.x, wanted.y], 2);
    const rest = imageShift(f, tiltAfter(cell, back));
    assert.ok(
      Math.hypot(rest.x + wanted.x, rest.y + wanted.y) < 1e-3 * Math.hypot(wanted.x, wanted.y),
    );
    assert.equal(back[2], 0);
  }
});

Deno.test("tolerance: coma of 1/14 wave, as tilt of the main mirror", () => {
  // CROSS-CHECK numpy 1.24.2 trace: 15.66, 6.13, 2.36 arcminutes
  for (
    const [aperture, focalLength, wanted] of [[150, 1200, 15.66], [150, 750, 6.13], [
      250,
      1000,
      2.36,
    ]]
  ) {
    const { axis, tilt } = collimationTolerance({
      aperture: aperture ?? 0,
      focalLength: focalLength ?? 0,
    });
    near(arcmin(tilt), wanted ?? 0, 6e-3);
    near(axis / (focalLength ?? 1), tilt, 1e-12);
  }
});

Deno.test("tilted by 10 arcminutes: the axis moves f x tilt, the star twice that, and coma follows the axis", () => {
  // CROSS-CHECK numpy 1.24.2: 3.4907, 6.9813 mm, .04565 wave; N5 2.1817 mm, .1169 wave
  const tilt = rad(10 / 60);
  near(1200 * tilt, 3.4907, 1e-4);
  near(-imageShift(1200, { x: tilt, y: 0 }).x, 6.9813, 1e-4);
  const slow = comaOf({ aperture: 150, focalLength: 1200 }, 1200 * tilt);
  const fast = comaOf({ aperture: 150, focalLength: 750 }, 750 * tilt);
  near(slow.wavefrontRms / 550, 0.04565, 1e-3);
  near(fast.wavefrontRms / 550, 0.1169, 1e-3);
});

Deno.test("rays off a tilted mirror stay together: the spot's length is the coma of the axis's shift", () => {
  const tilt = rad(10 / 60),
    xs = disc(150, 40).map(([x, y]) => atHeight(offTilted(750, x, y, tilt, 0), 750)[0]);
  // DERIVED: the field angle is the tilt itself, so h = f tan(tilt)
  const length = Math.max(...xs) - Math.min(...xs);
  near(length, comaOf({ aperture: 150, focalLength: 750 }, 750 * tilt).tangential, 0.1);
});

Deno.test("laws: lifting all three tilts nothing, the turns add up to nothing", () => {
  const turn = fc.double({ min: -1, max: 1, noNaN: true });
  fc.assert(fc.property(turn, turn, turn, (a, b, c) => {
    const one = tiltAfter(screws, [a, b, c]), lifted = tiltAfter(screws, [a + 2, b + 2, c + 2]);
    assert.ok(Math.hypot(one.x - lifted.x, one.y - lifted.y) < 1e-12);
    const sum = screwTurns(1200, screws, [a, b]).reduce((s, t) => s + t, 0);
    assert.ok(Math.abs(sum) < 1e-12);
  }));
});

Deno.test("refuses two screws, and three on one line through the middle twice", () => {
  assert.throws(
    () => screwTurns(1200, { ...screws, angles: [0, Math.PI] }, [1, 0]),
    /two cannot point/,
  );
  assert.throws(() => tiltAfter({ ...screws, angles: [0, 0, 2] }, [0, 0, 0]), RangeError);
  assert.throws(() => tiltAfter(screws, [1, 2]), /three turns/);
  assert.throws(() => screwTurns(1200, { ...screws, pitch: 0 }, [1, 0]), RangeError);
  assert.throws(() => screwTurns(1200, screws, [NaN, 0]), RangeError);
});

Deno.test("order of the work: the main mirror never first, the star last", () => {
  const names = COLLIMATION_STEPS.map(({ name }) => name);
  assert.deepEqual(names, ["flat under the focuser", "flat's tilt", "main mirror's tilt", "star"]);
});

import fc from "fast-check";
import assert from "node:assert/strict";
import {
  COLLIMATION_STEPS,
  collimationTolerance,
  comaFreeRadius,
  comaOf,
  imageShift,
  screwTurns,
  shiftPerTurn,
  tiltAfter,
} from "../../lib/telescope/collimation.ts";
import { near } from "./near.ts";
import { atHeight, disc, offTilted, pathDifference, reflected } from "./rays.ts";

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
  // CROSS-CHECK secondRoute.py, a turn of a screw: plane and reflection; 26.667
  near(shiftPerTurn(1200, screws)[0], 26.67, 1e-5);
  const quarter = imageShift(1200, tiltAfter(screws, [0.25, 0, 0]));
  near(Math.hypot(quarter.x, quarter.y), 6.667, 1e-4);
  assert.ok(
    quarter.y < 0 && Math.abs(quarter.x) < 1e-9,
    "raising the screw at +y sends the image to -y",
  );
});

Deno.test("an image at (3, -2): three turns, and it stands in the middle by exact reflection", () => {
  // CROSS-CHECK secondRoute.py, turns of three screws: -.05000 -.03995 +.08995, residual below 1e-5 mm
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
  // CROSS-CHECK secondRoute.py, as tilt: 15.66, 6.13, 2.36 arcminutes
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
  // CROSS-CHECK secondRoute.py, tilted by ten minutes: 3.4907, 6.9813 mm, .04565 wave; N5 2.1817 mm, .1169 wave
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

// W131 from exact paths along the meridian: odd part, cubic taken apart from the tilt.

function tracedPeak(aperture: number, f: number, h: number): number {
  const odd = (rho: number): number => {
    const x = (rho * aperture) / 2;
    return (pathDifference(f, x, 0, h) - pathDifference(f, -x, 0, h)) / 2;
  };
  return Math.abs(odd(1) - 2 * odd(0.5)) / 0.75;
}

function tracedTangential(aperture: number, f: number, h: number): number {
  const [chief] = atHeight(reflected(f, 0, 0, h, 0), f);
  const [a] = atHeight(reflected(f, aperture / 2, 0, h, 0), f);
  const [b] = atHeight(reflected(f, -aperture / 2, 0, h, 0), f);
  return Math.abs((a + b) / 2 - chief);
}

Deno.test("coma by the formula, mm", () => {
  // DERIVED third order: h/32N^3, 3h/16N^2, h/16N^2
  const coma = comaOf({ aperture: 200, focalLength: 1000 }, 1);
  near(coma.wavefrontPeak, 250, 1e-12);
  near(coma.tangential, 7.5e-3, 1e-12);
  near(coma.sagittal, 2.5e-3, 1e-12);
  near(coma.wavefrontRms, 29.46, 1e-3);
});

Deno.test("coma by exact paths and rays, within 0.6 % of the third order", () => {
  // CROSS-CHECK secondRoute.py, coma: exact path differences and rays: aperture, f, h -> W131, tangential, mm
  const rows = [
    [200, 1000, 1, 2.4925e-4, 7.525e-3],
    [150, 1200, 5, 3.048e-4, 0.014668],
    [250, 1000, 2, 9.7199e-4, 0.02356],
  ] as const;
  for (const [aperture, focalLength, h, peak, tangential] of rows) {
    near(tracedPeak(aperture, focalLength, h), peak, 5e-3, "traced peak");
    near(tracedTangential(aperture, focalLength, h), tangential, 5e-3, "traced tangential");
    const formula = comaOf({ aperture, focalLength }, h);
    near(formula.wavefrontPeak / 1e6, peak, 6e-3);
    near(formula.tangential, tangential, 6e-3);
  }
});

Deno.test("the field that coma leaves free", () => {
  // CROSS-CHECK secondRoute.py, field free of coma: 32 root 72 N^3 550 nm / 14
  const rows = [[4, 0.6827], [5, 1.3334], [6, 2.3041], [8, 5.4616], [10, 10.667]];
  for (const [ratio = 0, h = 0] of rows) near(comaFreeRadius(ratio), h, 1e-4);
});

/** RMS of the coma in exact paths, mm: the part odd along the field, less its tilt. */
function tracedRms(aperture: number, f: number, h: number): number {
  const points = disc(aperture, 60);
  const odd = points.map(([x, y]) =>
    (pathDifference(f, x, y, h) - pathDifference(f, -x, y, h)) / 2
  );
  const slope = odd.reduce((sum, w, i) => sum + w * (points[i]?.[0] ?? 0), 0) /
    points.reduce((sum, [x]) => sum + x * x, 0);
  return Math.sqrt(
    odd.reduce((sum, w, i) => sum + (w - slope * (points[i]?.[0] ?? 0)) ** 2, 0) / odd.length,
  );
}

Deno.test("the traced wavefront's RMS, and how far out it is 1/14 wave", () => {
  // CROSS-CHECK secondRoute.py, coma's RMS: exact path differences, coma only: 2.938e-5 mm; .6859, 1.3373, 5.4680 mm
  near(tracedRms(200, 1000, 1), 2.938e-5, 5e-3);
  const rows = [[250, 1000, 0.6859], [200, 1000, 1.3373], [150, 1200, 5.468]] as const;
  for (const [aperture, f, wanted] of rows) {
    const h = comaFreeRadius(f / aperture), rms = tracedRms(aperture, f, h);
    near(rms * 1e6, 550 / 14, 7e-3, `${aperture}`);
    near((h * 550e-6) / 14 / rms, wanted, 2e-3, `${aperture}`);
  }
  // CROSS-CHECK secondRoute.py, as tilt: of the mirror, h / f: 15.66, 6.13, 2.36 arcminutes, to the last printed digit
  const tilts = [[150, 1200, 15.66], [150, 750, 6.13], [250, 1000, 2.36]] as const;
  for (const [aperture, f, wanted] of tilts) {
    const h = comaFreeRadius(f / aperture), share = 550e-6 / 14 / tracedRms(aperture, f, h);
    near((((h * share) / f) * 180 * 60) / Math.PI, wanted, 3e-3, `${aperture}`);
  }
  // CROSS-CHECK secondRoute.py, coma of ten minutes: a 150 mm mirror of f 750 tilted by 10 arcminutes: .1165 wave
  near(tracedRms(150, 750, 750 * Math.tan(Math.PI / 1080)) / 550e-6, 0.1165, 5e-3);
});

Deno.test("50 random mirrors: the third order beside exact paths and rays, within 1 % from f/4.5", () => {
  let seed = 3, worst = 0;
  const pick = (low: number, high: number): number => {
    seed = (seed * 16807) % 2147483647;
    return low + ((high - low) * seed) / 2147483647;
  };
  for (let k = 0; k < 50; k++) {
    const aperture = pick(76, 300), focalLength = aperture * pick(4.5, 10);
    const h = pick(0.2, 1.5) * comaFreeRadius(focalLength / aperture);
    const coma = comaOf({ aperture, focalLength }, h), N = focalLength / aperture;
    const off = [
      tracedPeak(aperture, focalLength, h) / (coma.wavefrontPeak / 1e6) - 1,
      tracedTangential(aperture, focalLength, h) / coma.tangential - 1,
    ];
    // the next order falls with the square of the focal ratio: 0.6 % at f/4 to f/5
    worst = Math.max(worst, ...off.map((share) => Math.abs(share) * (N / 5) ** 2));
  }
  // measured 4.5e-3, brought to f/5
  assert.ok(worst < 6e-3, `worst ${worst}, brought to f/5`);
});

Deno.test("laws: linear in the field, cubic in the focal ratio, free of the size", () => {
  near(
    comaOf({ aperture: 150, focalLength: 1200 }, 6).wavefrontPeak,
    comaOf({ aperture: 300, focalLength: 2400 }, 6).wavefrontPeak,
    1e-12,
  );
  near(comaFreeRadius(8) / comaFreeRadius(4), 8, 1e-12);
  assert.equal(comaOf({ aperture: 150, focalLength: 1200 }, 0).tangential, 0);
  assert.throws(() => comaFreeRadius(0), RangeError);
  assert.throws(() => comaOf({ aperture: 150, focalLength: 1200 }, -1), RangeError);
});

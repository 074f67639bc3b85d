import assert from "node:assert/strict";
import fc from "fast-check";
import { baffleHalfAngle, drawtubeBore, focusTravel, tubeBore } from "../../lib/telescope/bore.ts";
import { near } from "./near.ts";
import { aimedAt, atHeight } from "./rays.ts";

Deno.test("clear bore of the drawtube", () => {
  // DERIVED: 20 + 75 x 230/1250; 10 + 85 x 140/1200
  near(drawtubeBore({ aperture: 250, focalLength: 1250 }, 75, 20), 33.8, 1e-9);
  near(drawtubeBore({ aperture: 150, focalLength: 1200 }, 85, 10), 19.9167, 1e-5);
});

Deno.test("rays of the fully lit field pass the drawtube, and touch it", () => {
  const mirror = { aperture: 150, focalLength: 1200 };
  let widest = 0;
  for (let i = 0; i < 360; i++) {
    const a = (Math.PI * i) / 180;
    for (const h of [-5, 5]) {
      const [x, y] = atHeight(aimedAt(1200, 75 * Math.cos(a), 75 * Math.sin(a), h, 0), 1200 - 85);
      widest = Math.max(widest, 2 * Math.hypot(x, y));
    }
  }
  near(widest, drawtubeBore(mirror, 85, 10), 2e-3);
});

Deno.test("bore of the tube at its front", () => {
  // DERIVED: 150 + 2 x 1170.3 x 10.5 / 1198.3
  near(tubeBore({ aperture: 150, focalLength: 1198.3 }, 1170.3, 10.5), 170.509, 1e-5);
  assert.equal(tubeBore({ aperture: 150, focalLength: 1200 }, 1170, 0), 150);
});

Deno.test("baffle opposite the focuser", () => {
  // DERIVED: atan((25 + 10) / 70)
  near(baffleHalfAngle(50, 70, 10), Math.atan2(1, 2), 1e-12);
  assert.throws(() => baffleHalfAngle(50, 0, 10), RangeError);
});

Deno.test("focus travel for eyes without glasses: in for the short-sighted", () => {
  // DERIVED: 25^2/1000 = 0.625 mm a dioptre
  assert.deepEqual(focusTravel([25]), { inward: 3.75, outward: 2.5 });
  assert.deepEqual(focusTravel([10, 25, 6]), focusTravel([25]));
  const none = focusTravel([25], [1, 2]);
  assert.deepEqual(none, { inward: 0, outward: 1.25 });
  assert.throws(() => focusTravel([]), RangeError);
  assert.throws(() => focusTravel([25], [2, -2]), /from low to high/);
});

Deno.test("law: wider fields and shorter mirrors never ask for less", () => {
  const mm = fc.double({ min: 1, max: 100, noNaN: true });
  fc.assert(fc.property(mm, mm, (s, i) => {
    const long = { aperture: 150, focalLength: 1200 }, short = { aperture: 150, focalLength: 750 };
    assert.ok(drawtubeBore(long, s, i) <= drawtubeBore(long, s, i + 1) + 1e-9);
    assert.ok(drawtubeBore(short, s, i) >= drawtubeBore(long, s, i) - 1e-9);
    assert.ok(tubeBore(short, 700, i) >= tubeBore(long, 700, i));
  }));
  assert.throws(() => tubeBore({ aperture: 150, focalLength: 0 }, 1, 1), RangeError);
  assert.throws(() => drawtubeBore({ aperture: 150, focalLength: 900 }, -1, 1), RangeError);
});

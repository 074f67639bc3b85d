import assert from "node:assert/strict";
import fc from "fast-check";
import { flatFor, flatHad, lightOnAxis, starPatch } from "../../lib/telescope/flat.ts";
import { near } from "./near.ts";
import { aimedAt, landing, onFlat, reflected } from "./rays.ts";

Deno.test("flat for a fully lit field: 150 f/8, with its cut and its offset", () => {
  // CROSS-CHECK secondRoute.py, flat for a field: exact cone cut by a plane, printed to 6 digits
  const flat = flatFor({ aperture: 150, focalLength: 1200 }, 200, 8);
  near(flat.minorAxis, 31.8014);
  near(flat.sectionMinor, 31.7455);
  near(flat.sectionMajor, 44.9739);
  near(flat.offset, 0.94171);
  near(flat.offsetAlongFace, 1.33178);
  near(flat.simpleMinorAxis, 31.6667);
});

Deno.test("flats of three other mirrors", () => {
  // CROSS-CHECK secondRoute.py, three flats: exact cone: aperture, f, L, i -> needed minor axis, offset
  const rows = [
    [200, 1200, 230, 12, 48.394, 1.8987],
    [250, 1250, 260, 15, 64.576, 3.0427],
    [150, 750, 180, 15, 47.871, 2.1596],
  ] as const;
  for (const [aperture, focalLength, L, i, minor, offset] of rows) {
    const flat = flatFor({ aperture, focalLength }, L, i);
    near(flat.minorAxis, minor);
    near(flat.offset, offset);
  }
});

Deno.test("fully lit field of a flat at hand, exact and by the thin-cone rule", () => {
  // CROSS-CHECK secondRoute.py, lit by a flat at hand: 11.8335; DERIVED (35 - 25) / (1 - 1/6) = 12
  const had = flatHad({ aperture: 150, focalLength: 1200 }, 200, 35);
  near(had.fullyLit, 11.8335);
  near(had.simpleFullyLit, 12, 1e-9);
  assert.equal(had.onAxis, 1);
});

Deno.test("a flat smaller than the axial cone: the field is negative, and it is said what is left", () => {
  const mirror = { aperture: 150, focalLength: 1200 };
  const had = flatHad(mirror, 200, 20);
  assert.ok(had.fullyLit < 0);
  // CROSS-CHECK rays.ts, 960,000 exact rays: 0.63408; the thin cone's (20/25)^2 = 0.64 is too bright
  assert.ok(Math.abs(had.onAxis - 0.63408) < 1e-4, `${had.onAxis}`);
  near(had.simpleFullyLit, (20 - 25) / (1 - 1 / 6), 1e-9);
  assert.ok(flatHad(mirror, 900, 3).fullyLit < -100);
  assert.throws(() => flatFor(mirror, 200, -1), /no point of the field gets all the light/);
});

Deno.test("light on the axis behind a flat that is too small: by exact rays, not by the thin cone", () => {
  // CROSS-CHECK rays.ts, 240,000 exact rays off the paraboloid past the tilted ellipse; its raster is good to 1e-3
  for (const ratio of [3.5, 5, 6, 8, 12]) {
    for (const share of [0.5, 0.9, 1, 1.005, 1.01, 1.03]) {
      const aperture = 200, f = aperture * ratio, L = 200, minor = (share * aperture * L) / f;
      const { onAxis, offset } = flatHad({ aperture, focalLength: f }, L, minor);
      const rays = landing({ f, aperture, toFocus: L, minor, offset }, 0, 0, 1000);
      assert.ok(Math.abs(onAxis - rays) < 1e-3, `f/${ratio}, ${share}: ${onAxis}, rays ${rays}`);
    }
  }
  // the case that was told as 1: f/5, a flat as wide as the thin cone
  const told = flatHad({ aperture: 200, focalLength: 1000 }, 200, 40).onAxis;
  assert.ok(Math.abs(told - 0.98) < 1e-3, `${told}`);
  assert.throws(
    () => lightOnAxis({ aperture: 200, focalLength: 100, flatToFocus: 200, minorAxis: 9 }),
    RangeError,
  );
});

Deno.test("law: light on the axis grows with the flat, and is whole when the cone fits", () => {
  const mm = (min: number, max: number): fc.Arbitrary<number> =>
    fc.double({ min, max, noNaN: true });
  fc.assert(
    fc.property(
      mm(80, 400),
      mm(3, 12),
      mm(0.6, 1.4),
      mm(0.05, 1),
      (aperture, ratio, bend, share) => {
        const mirror = { aperture, focalLength: aperture * ratio }, flatToFocus = bend * aperture;
        const whole = flatFor(mirror, flatToFocus, 0).minorAxis;
        const at = (minorAxis: number): number =>
          lightOnAxis({ ...mirror, flatToFocus, minorAxis });
        assert.ok(at(whole * share) <= at(whole * Math.min(1, share * 1.01)) + 1e-12);
        assert.ok(at(whole * share) <= share ** 2 * 1.1 && at(whole * share) > 0);
        assert.equal(at(whole), 1);
      },
    ),
  );
});

Deno.test("law: the flat for a field has that field", () => {
  fc.assert(fc.property(
    fc.record({
      aperture: fc.double({ min: 80, max: 400, noNaN: true }),
      ratio: fc.double({ min: 4, max: 12, noNaN: true }),
      bend: fc.double({ min: 0.6, max: 1.4, noNaN: true }),
      lit: fc.double({ min: 0, max: 30, noNaN: true }),
    }),
    ({ aperture, ratio, bend, lit }) => {
      const mirror = { aperture, focalLength: aperture * ratio }, L = bend * aperture;
      const wanted = flatFor(mirror, L, lit);
      const had = flatHad(mirror, L, wanted.minorAxis);
      assert.ok(Math.abs(had.fullyLit - lit) < 1e-6, `${had.fullyLit} ${lit}`);
      assert.ok(Math.abs(had.offset - wanted.offset) < 1e-6);
      assert.ok(Math.abs(wanted.sectionMajor / wanted.sectionMinor / Math.SQRT2 - 1) < 0.01);
      assert.ok(wanted.minorAxis >= wanted.simpleMinorAxis);
    },
  ));
});

/** How far rays from the rim reach on the flat, in its own half-widths: to points of the lit field, or from stars. */
function reachOf(
  [aperture, f, L, lit]: readonly [number, number, number, number],
  ray: typeof reflected,
): number {
  const flat = flatFor({ aperture, focalLength: f }, L, lit);
  let reach = 0;
  for (let i = 0; i < 72; i++) {
    for (let j = 0; j < 72; j++) {
      const a = (Math.PI * i) / 36, b = (Math.PI * j) / 36, rim = aperture / 2, edge = lit / 2;
      const [x, y] = onFlat(
        ray(f, rim * Math.cos(a), rim * Math.sin(a), edge * Math.cos(b), edge * Math.sin(b)),
        f,
        L,
      );
      reach = Math.max(reach, Math.hypot(x + flat.offset, y) / (flat.minorAxis / 2));
    }
  }
  return reach;
}

Deno.test("50 random layouts: the outermost rim ray of the fully lit field touches the flat's edge", () => {
  let seed = 7, points = 0, stars = 0;
  const pick = (low: number, high: number): number => {
    seed = (seed * 16807) % 2147483647;
    return low + ((high - low) * seed) / 2147483647;
  };
  for (let k = 0; k < 50; k++) {
    const aperture = pick(100, 300), f = aperture * pick(4.5, 9), L = aperture * pick(0.8, 1.3);
    const lit = pick(2, 20), layout = [aperture, f, L, lit] as const;
    points = Math.max(points, Math.abs(reachOf(layout, aimedAt) - 1));
    // DERIVED: a star's own rim rays run past its place by the length of its coma, 3h / 16N^2, seen at the flat
    const coma = ((3 * lit) / 32 / (f / aperture) ** 2) * (1 - L / f);
    const half = flatFor({ aperture, focalLength: f }, L, lit).minorAxis / 2;
    stars = Math.max(stars, Math.abs(reachOf(layout, reflected) - 1 - coma / half));
  }
  // every point of the field gets the whole mirror: the cone's formula is exact, to rounding
  assert.ok(points < 1e-9, `rays to the field's edge reach the flat's edge within ${points}`);
  // measured 3.6e-4 once coma is counted, 2.3e-3 without, at f/4.5
  assert.ok(stars < 1e-3, `rays of the stars there, coma taken off: within ${stars}`);
});

Deno.test("the patch of the flat that one star lights", () => {
  // DERIVED: D L / f
  near(starPatch({ aperture: 150, focalLength: 1200 }, 200), 25, 1e-12);
});

Deno.test("refuses what cannot be", () => {
  const mirror = { aperture: 150, focalLength: 1200 };
  assert.throws(() => flatFor(mirror, 1200, 5), /flatToFocus < focalLength/);
  assert.throws(() => flatFor(mirror, 0, 5), /above 0, got .*flatToFocus=0/);
  assert.throws(() => flatFor({ aperture: NaN, focalLength: 1200 }, 200, 5), RangeError);
  assert.throws(() => flatHad(mirror, 200, 150), /below the aperture/);
  assert.throws(() => flatHad(mirror, 200, 0), RangeError);
});

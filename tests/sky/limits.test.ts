import * as engine from "astronomy-engine";
import fc from "fast-check";
import assert from "node:assert/strict";
import { airyRadius } from "../../lib/optics/airy.ts";
import { doubleStars } from "../../lib/record/tables.ts";
import { ARCSEC } from "../../lib/sky/eyepiece.ts";
import { limitsOf, splitOf } from "../../lib/sky/limits.ts";

const near = (got: number, wanted: number, within = 1e-3): void =>
  assert.ok(Math.abs(got - wanted) <= within * Math.abs(wanted), `${got}, wanted ${wanted}`);

Deno.test("closest pairs: Dawes, Rayleigh, and 1.22 wavelength / D", () => {
  // DERIVED 116/D, 138/D; CROSS-CHECK tests/optics/secondRoute.py, closest pairs: the third
  const rows = [[150, 0.7733, 0.92, 0.9224], [114, 1.0175, 1.2105, 1.2137], [
    250,
    0.464,
    0.552,
    0.5535,
  ]];
  for (const [aperture = 0, dawes = 0, rayleigh = 0, airy = 0] of rows) {
    const limits = limitsOf(aperture);
    near(limits.dawesArcsec, dawes);
    near(limits.rayleighArcsec, rayleigh);
    near((airyRadius(8) / (8 * aperture)) * ARCSEC, airy);
    near(limits.rayleighArcsec, airy, 3e-3);
  }
});

Deno.test("faintest star as a range of three rules", () => {
  // DERIVED: 12.880, 12.655, 13.580 for 150 mm
  const { faintest: [low, high] } = limitsOf(150);
  near(low, 12.655, 1e-4);
  near(high, 13.58, 1e-4);
  near(limitsOf(150, 6.5).faintest[0], 12.88, 1e-4);
});

Deno.test("useful magnifications", () => {
  // DERIVED: 150 / 7 and 2 x 150
  const [low, high] = limitsOf(150).magnification;
  near(low, 21.43);
  assert.equal(high, 300);
});

Deno.test("law: twice the glass, half the angle, a magnitude and a half", () => {
  fc.assert(fc.property(fc.double({ min: 50, max: 1000, noNaN: true }), (aperture) => {
    const one = limitsOf(aperture), two = limitsOf(2 * aperture);
    near(two.dawesArcsec, one.dawesArcsec / 2, 1e-12);
    near(two.faintest[0] - one.faintest[0], 5 * Math.log10(2), 1e-9);
    assert.ok(one.faintest[0] < one.faintest[1] && one.dawesArcsec < one.rayleighArcsec);
  }));
  assert.throws(() => limitsOf(0), /above 0 mm, got 0/);
  assert.throws(() => limitsOf(150, NaN), RangeError);
});

Deno.test("the table: 24 pairs from wide to close, what is from memory says so", () => {
  const pairs = doubleStars();
  assert.equal(pairs.length, 24);
  assert.ok(
    pairs.every(({ source }) =>
      /^place( and separation of \d{4}| and magnitudes)? read; .* from memory$|^place, separation (of|about) \d{4} and magnitudes read$/
        .test(source)
    ),
  );
  const widths = pairs.map(({ separationArcsec }) => separationArcsec);
  assert.deepEqual(widths, [...widths].sort((a, b) => b - a));
  assert.equal(new Set(pairs.map(({ name }) => name)).size, 24);
});

Deno.test("every pair's place lies in its constellation", () => {
  // CROSS-CHECK engine.Constellation of npm's astronomy-engine 2.1.19, called here (limits.test.ts): the constellations' own borders
  for (const { name, constellation, raHours, declinationDeg } of doubleStars()) {
    assert.equal(engine.Constellation(raHours, declinationDeg).symbol, constellation, name);
  }
});

Deno.test("what a mirror splits: twins at the limit, a faint one beside a bright one later", () => {
  const twins = { separationArcsec: 0.8, brighterMagnitude: 5, fainterMagnitude: 5 };
  // DERIVED 0.8 / (116 / 150) = 1.034; four arcminutes over 0.8 arcseconds
  const split = splitOf(150, twins);
  assert.ok(
    Math.abs(split.overDawes - 1.0345) < 1e-3 && Math.abs(split.magnification - 300) < 1e-9,
  );
  assert.equal(split.says, "on a still night");
  assert.equal(splitOf(150, { ...twins, fainterMagnitude: 8 }).says, "hard");
  assert.equal(splitOf(114, twins).says, "not with this mirror");
  assert.equal(splitOf(150, { ...twins, separationArcsec: 10 }).says, "apart");
  assert.equal(
    splitOf(50, { ...twins, separationArcsec: 30, fainterMagnitude: 14 }).says,
    "not with this mirror",
  );
});

Deno.test("a faint star beside a bright one wants a fifth of the limit more for each magnitude", () => {
  const says = (overDawes: number, apart: number): string =>
    splitOf(116, {
      separationArcsec: overDawes,
      brighterMagnitude: 3,
      fainterMagnitude: 3 + apart,
    }).says;
  // DERIVED the limit of 116 mm is one arcsecond; five magnitudes make it two, and four are comfortable
  assert.deepEqual([0.99, 1.99, 2.01, 3.99, 4.01].map((over) => says(over, 5)), [
    "not with this mirror",
    "hard",
    "on a still night",
    "on a still night",
    "apart",
  ]);
  assert.deepEqual([1.01, 1.99, 2.01].map((over) => says(over, 0)), [
    "on a still night",
    "on a still night",
    "apart",
  ]);
});

Deno.test("law: more glass never splits less", () => {
  const order = ["not with this mirror", "hard", "on a still night", "apart"];
  const positive = fc.double({ min: 0.3, max: 40, noNaN: true });
  fc.assert(
    fc.property(
      positive,
      fc.double({ min: 60, max: 400, noNaN: true }),
      (separationArcsec, aperture) => {
        const pair = { separationArcsec, brighterMagnitude: 3, fainterMagnitude: 5 };
        const rank = (width: number): number => order.indexOf(splitOf(width, pair).says);
        assert.ok(rank(aperture * 1.2) >= rank(aperture));
      },
    ),
  );
});

Deno.test("refuses what is no pair", () => {
  const pair = { separationArcsec: 0, brighterMagnitude: 1, fainterMagnitude: 2 };
  assert.throws(() => splitOf(150, pair), /separation above 0/);
  assert.throws(() => splitOf(0, { ...pair, separationArcsec: 1 }), RangeError);
});

import assert from "node:assert/strict";
import * as engine from "astronomy-engine";
import fc from "fast-check";
import { doubleStars } from "../../lib/record/tables.ts";
import { splitOf } from "../../lib/sky/doubles.ts";

Deno.test("the table: 24 pairs from wide to close, every one marked as remembered", () => {
  const pairs = doubleStars();
  assert.equal(pairs.length, 24);
  assert.ok(pairs.every(({ source }) => source === "from memory"));
  const widths = pairs.map(({ separationArcsec }) => separationArcsec);
  assert.deepEqual(widths, [...widths].sort((a, b) => b - a));
  assert.equal(new Set(pairs.map(({ name }) => name)).size, 24);
});

Deno.test("every pair's place lies in its constellation", () => {
  // CROSS-CHECK astronomy-engine 2.1.19: the constellations' own borders
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

import assert from "node:assert/strict";
import fc from "fast-check";
import type { Estimate } from "../../lib/measuring/estimate.ts";
import type { Method } from "../../lib/measuring/methods/methods.ts";
import { reconcile } from "../../lib/measuring/reconcile.ts";
import { sagitta } from "../../lib/optics/sphere.ts";
import { measured } from "../../lib/quantity/measured.ts";

function says(method: Method, radius: number, u: number, more: Partial<Estimate> = {}): Estimate {
  return {
    method,
    radius: measured(radius, u, "mm", 5),
    components: [{ source: `${method} readings`, u, dof: 5 }],
    readings: 6,
    setAside: [],
    doubted: [],
    assumed: [],
    ...more,
  };
}
const SETTINGS = { aperture: 150 };

Deno.test("three methods that agree: radius, focal length and sagitta with half and carried u", () => {
  const all = [
    says("leaves", 2398.7, 13.9),
    says("spherometer", 2396.1, 5.7),
    says("sun distance", 2396.7, 2.7),
  ];
  const got = reconcile(all, 2400, SETTINGS);
  assert.ok(got.radius && got.focalLength && got.sagitta && got.combined);
  assert.equal(got.focalLength.value, got.radius.value / 2);
  assert.equal(got.focalLength.u, got.radius.u / 2);
  assert.equal(got.sagitta.value, sagitta(150, got.radius.value));
  // ds/s = -dR/R to first order
  assert.ok(
    Math.abs(got.sagitta.u / got.sagitta.value / (got.radius.u / got.radius.value) - 1) < 1e-3,
  );
  assert.equal(got.consistent, true);
  assert.deepEqual(got.warnings, []);
  assert.equal(got.mistake, undefined);
  assert.ok(got.estimates.every(({ used }) => used));
});

Deno.test("a table with a named slip is left out, named, and not converted", () => {
  // INVENTED estimates
  const inches = says("spherometer", 60_860, 145, { file: "spherometer.csv" });
  const got = reconcile([says("leaves", 2398.7, 13.9), inches], 2400, SETTINGS);
  assert.equal(got.radius?.value, 2398.7);
  assert.deepEqual(got.estimates.map(({ used }) => used), [true, false]);
  assert.equal(got.mistake?.file, "spherometer.csv");
  assert.match(got.mistake?.what ?? "", /inches were read as mm/);
  assert.match(got.suspects[0]?.what ?? "", /inches were read as mm/);
  assert.equal(got.suspects[0]?.file, "spherometer.csv");
});

Deno.test("a lone table with a slip leaves nothing to rest on", () => {
  const got = reconcile([says("leaves", 60_945, 600)], 2400, SETTINGS);
  assert.equal(got.radius, undefined);
  assert.equal(got.combined, undefined);
  assert.equal(got.consistent, false);
  assert.match(got.mistake?.what ?? "", /inches were read as mm/);
  assert.equal(
    reconcile([says("leaves", 9600, 60)], 2400, { ...SETTINGS, hollowing: true }).radius?.value,
    9600,
  );
});

Deno.test("the Sun's width is a check only, and carries the result when alone", () => {
  // INVENTED estimates
  const image = says("sun image", 2396, 90);
  const both = reconcile([says("leaves", 2398.7, 13.9), image], 2400, SETTINGS);
  assert.deepEqual(both.estimates.map(({ used }) => used), [true, false]);
  assert.equal(both.radius?.value, 2398.7);
  assert.deepEqual(both.warnings, []);
  const alone = reconcile([image], 2400, SETTINGS);
  assert.equal(alone.radius?.value, 2396);
  const off = reconcile(
    [says("leaves", 2398.7, 13.9), says("sun image", 2900, 90)],
    2400,
    SETTINGS,
  );
  assert.match(off.warnings[0] ?? "", /^sun image: .* does not fit/);
});

Deno.test("disagreement is told with its chance and the odd one, and widens", () => {
  const all = [
    says("leaves", 2300, 8),
    says("spherometer", 2396.1, 5.7),
    says("sun distance", 2396.7, 2.7),
  ]
    .map((one) => ({ ...one, radius: { ...one.radius, dof: Infinity } }));
  const got = reconcile(all, 2400, SETTINGS);
  assert.equal(got.consistent, false);
  assert.equal(got.oddOne, "leaves");
  assert.match(got.warnings[0] ?? "", /disagree .* less than 1 in 1000.* leaves is the odd one/);
  assert.ok((got.radius?.u ?? 0) > 20);
  assert.ok(got.budget.some(({ source }) => source === "disagreement between the methods"));
});

Deno.test("a radius too long on the rim only points at the bevel", () => {
  const all = [
    says("leaves", 2465, 14),
    says("spherometer", 2396.1, 5.7),
    says("sun distance", 2396.7, 2.7),
  ];
  const hint = reconcile(all, 2400, SETTINGS).warnings.find((words) => /bevel/.test(words));
  assert.match(hint ?? "", /as if the bevel were 1\.0 mm wider than written/);
});

Deno.test("what was set aside, doubted and assumed is passed on", () => {
  const doubt = { file: "sun.csv", line: 5, value: 1299, why: "too far" };
  const got = reconcile(
    [
      says("sun distance", 2396.7, 2.7, { setAside: [doubt], assumed: ["one setting only"] }),
      says("leaves", 2398, 14, { doubted: [{ ...doubt, file: "sagitta.csv" }] }),
    ],
    2400,
    SETTINGS,
  );
  assert.deepEqual(got.setAside, [doubt]);
  assert.equal(got.doubted[0]?.file, "sagitta.csv");
  assert.deepEqual(got.warnings, ["sun distance: one setting only"]);
});

Deno.test("law: leaving out a method never makes the rest's interval depend on it", () => {
  const radius = fc.double({ min: 2350, max: 2450, noNaN: true });
  fc.assert(
    fc.property(radius, radius, fc.double({ min: 20, max: 30, noNaN: true }), (a, b, factor) => {
      const good = [says("leaves", a, 14), says("sun distance", b, 14)];
      const wrong = says("spherometer", 2400 * factor, 10);
      const mixed = reconcile([...good, wrong], 2400, SETTINGS);
      assert.deepEqual(mixed.radius, reconcile(good, 2400, SETTINGS).radius);
    }),
  );
});

Deno.test("no estimates: nothing is known, and nothing is claimed", () => {
  const got = reconcile([], 2400, SETTINGS);
  assert.deepEqual([got.radius, got.consistent, got.estimates.length], [undefined, false, 0]);
  assert.throws(() => reconcile([says("leaves", 2400, 5)], 2400, { aperture: 0 }), /aperture/);
});

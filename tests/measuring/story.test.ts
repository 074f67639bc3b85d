import assert from "node:assert/strict";
import { leaves } from "../../lib/measuring/methods/leaves.ts";
import { spherometer } from "../../lib/measuring/methods/spherometer.ts";
import { sunDistance } from "../../lib/measuring/methods/sunDistance.ts";
import { focalLengthPerImage, sunImage } from "../../lib/measuring/methods/sunImage.ts";
import { misconceptionFromRatio } from "../../lib/measuring/misconceptions.ts";
import { reconcile } from "../../lib/measuring/reconcile.ts";
import { spherometerRadius } from "../../lib/measuring/spherometerFeet.ts";
import { radiusFromSagitta, sagitta } from "../../lib/optics/sphere.ts";
import { KESTREL } from "./bench.ts";

/** One mirror measured three ways, from the rows its maker wrote to the one number on the disc. */

// The numbers here were worked out by hand from the formulas of the docstrings (DERIVED), printed to the digits shown.

const stack = (go: number, nogo: number) => ({ go: [go], nogo: [nogo] });
const LEAVES = [
  ...[1, 2, 3, 4].map(() => stack(1.12, 1.14)),
  ...[1, 2].map(() => stack(1.13, 1.15)),
];
const dial = (surface: "flat" | "mirror", values: readonly number[]) =>
  values.map((at) => ({ surface, dial: at }));
const DIALS = [
  ...dial("flat", [5.001, 5, 5.002, 5, 5.001]),
  ...dial("mirror", [5.523, 5.524, 5.522, 5.523, 5.524]),
];
const SUN = [1199, 1194, 1203, 1197, 1196, 1201].map((distance) => ({ distance }));
const IMAGE = [{ image: 11.1, date: "2026-04-18" }];

function shown({ value, u }: { value: number; u: number }): string {
  return `${value.toFixed(1)} ${u.toFixed(1)}`;
}

Deno.test("six brackets of two leaves: 2398.7 +- 13.9", () => {
  const made = leaves(LEAVES, KESTREL) ?? assert.fail();
  assert.equal(shown(made.radius), "2398.7 13.9");
  const [brackets, rest, thickness] = made.components.map(({ u }) => Math.abs(u).toFixed(0));
  assert.deepEqual([brackets, rest, thickness], ["5", "10", "9"]);
});

Deno.test("the same height stacked of three leaves is known less well", () => {
  // DERIVED as said above, from rows that are INVENTED
  const three = LEAVES.map(({ go: [a = 0], nogo: [b = 0] }) => ({
    go: [0.88, 0.2, Number((a - 1.08).toFixed(2))],
    nogo: [0.88, 0.2, Number((b - 1.08).toFixed(2))],
  }));
  const made = leaves(three, KESTREL) ?? assert.fail();
  assert.equal(made.radius.value.toFixed(1), "2398.7");
  assert.equal(made.radius.u.toFixed(0), "15");
});

Deno.test("spherometer 2396.1 +- 5.7, Sun 2396.7 +- 2.7", () => {
  // DERIVED as said above, from rows that are INVENTED
  assert.equal(shown((spherometer(DIALS, KESTREL) ?? assert.fail()).radius), "2396.1 5.7");
  const bySun = sunDistance(SUN, KESTREL) ?? assert.fail();
  assert.equal(shown(bySun.radius), "2396.7 2.7");
  assert.equal((bySun.radius.value / 2).toFixed(2), "1198.33");
  assert.equal((bySun.radius.u / 2).toFixed(2), "1.36");
});

Deno.test("together 2396.6 +- 2.4, f 1198.3 +- 1.2; the methods differ less than they might", () => {
  // DERIVED as said above, from rows that are INVENTED
  const all = [
    leaves(LEAVES, KESTREL),
    spherometer(DIALS, KESTREL),
    sunDistance(SUN, KESTREL),
    sunImage(IMAGE, KESTREL),
  ].filter((one) => one !== undefined);
  assert.equal(all.length, 4);
  const got = reconcile(all, 2400, { aperture: 150 });
  assert.equal(shown(got.radius ?? assert.fail()), "2396.6 2.4");
  assert.equal(shown(got.focalLength ?? assert.fail()), "1198.3 1.2");
  assert.equal(got.sagitta?.value.toFixed(3), "1.174");
  // chi-square is 0.032 with two degrees of freedom: sqrt(0.032 / 2)
  assert.equal(got.birgeRatio?.toFixed(2), "0.13");
  assert.equal(got.combined?.chiSquare.toFixed(3), "0.032");
  assert.deepEqual([got.consistent, got.warnings, got.mistake], [true, [], undefined]);
  assert.equal(got.budget[0]?.source, "settings of the Sun's image");
});

Deno.test("first depths of a half-ground mirror, carried to the full aperture", () => {
  // DERIVED as said above, from rows that are INVENTED
  const rows = [[0.19, 0.2], [0.37, 0.38], [0.54, 0.55], [0.71, 0.73], [0.89, 0.9], [1.06, 1.08]];
  const depths = rows.map(([go = 0, nogo = 0]) => {
    const made = leaves([stack(go, nogo)], KESTREL) ?? assert.fail();
    return sagitta(KESTREL.aperture, made.radius.value);
  });
  const want = [0.202, 0.388, 0.564, 0.745, 0.926, 1.107];
  depths.forEach((depth, at) =>
    assert.ok(Math.abs(depth - (want[at] ?? 0)) < 6e-4, `${at}: ${depth}`)
  );
  assert.equal((depths[5] ?? 0).toFixed(3), "1.107");
});

Deno.test("exercises: one bracket, its three wrong answers, and the Sun's width", () => {
  // DERIVED as said above, from readings that are INVENTED
  const made = leaves([stack(1.13, 1.15)], KESTREL) ?? assert.fail();
  assert.equal(made.radius.value.toFixed(0), "2385");
  assert.equal(radiusFromSagitta(1.1484, 150).toFixed(0), "2450");
  assert.equal(misconceptionFromRatio(9537 / 2385)?.name, "diameter for radius");
  assert.equal(radiusFromSagitta(1.14, 148).toFixed(0), "2402");
  assert.equal(
    spherometerRadius({ kind: "balls", legRadius: 50, ballRadius: 3 }, 0.5224).toFixed(0),
    "2396",
  );
  assert.equal((11.1 * focalLengthPerImage("2026-04-18")).toFixed(0), "1198");
  assert.equal(misconceptionFromRatio(1.027, { aperture: 150, bevel: 1 })?.name, "bevel forgotten");
});

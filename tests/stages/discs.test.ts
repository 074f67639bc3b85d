/** The stage of the discs: mass, wedge, powder, and what mirror.yaml allows. */
import assert from "node:assert/strict";
import fc from "fast-check";
import { decideDiscs, discMass, powderFor, rimWedge, yourDiscs } from "../../lib/stages/discs.ts";
import { demo, empty, halfway, hostile, marks, mirror } from "./mirrors.ts";

const yaml = (more: string): ReturnType<typeof mirror> =>
  mirror({ "mirror.yaml": `aperture: 150 mm\nfocal_length: 1200 mm\n${more}` });

Deno.test("mass: a disc of the size and glass, and what goes with what", () => {
  // DERIVED: pi x 7.5^2 cm2 x 2.5 cm x 2.5 g/cm3
  assert.ok(Math.abs(discMass(150, 25, 2500) - Math.PI * 7.5 ** 2 * 2.5 * 2.5) < 1e-9);
  const size = fc.double({ min: 1, max: 1000, noNaN: true });
  fc.assert(fc.property(size, size, (d, t) => {
    const one = discMass(d, t, 2500);
    assert.ok(Math.abs(discMass(2 * d, t, 2500) / one - 4) < 1e-9, "areas grow with the square");
    assert.ok(Math.abs(discMass(d, 2 * t, 2500) / one - 2) < 1e-9);
  }));
  assert.throws(() => discMass(0, 25, 2500), /above 0, got 0, 25, 2500/);
  assert.throws(() => discMass(150, NaN, 2500), RangeError);
});

Deno.test("law: a plane wedge in any direction is found whole, and nothing is left", () => {
  const small = fc.double({ min: 0, max: 1, noNaN: true });
  const turn = fc.double({ min: 0, max: 2 * Math.PI, noNaN: true });
  fc.assert(fc.property(small, turn, (wedge, direction) => {
    const [a = 0, b = 0, c = 0, d = 0] = [0, 1, 2, 3].map((i) =>
      25 + wedge / 2 * Math.cos(i * Math.PI / 2 - direction)
    );
    const found = rimWedge([a, b, c, d]);
    assert.ok(Math.abs(found.wedge - wedge) < 1e-9 && found.left < 1e-9);
    assert.ok(Math.abs(rimWedge([b, c, d, a]).wedge - wedge) < 1e-9, "wherever one begins");
  }));
});

Deno.test("a saddle is no wedge: it is what is left", () => {
  const { wedge, left } = rimWedge([25.1, 25, 25.1, 25]);
  assert.ok(wedge < 1e-9 && Math.abs(left - 0.05) < 1e-9);
  assert.throws(() => rimWedge([25, 25, 0, 25]), /got 25, 25, 0, 25/);
});

Deno.test("the discs, number by number; with nothing written the demo's, marked", () => {
  const { text } = yourDiscs(halfway, demo);
  // DERIVED: pi x 10^2 x 3.2 x 2.5 g; (200 / 198)^2 = 1.0203
  for (
    const told of ["200 mm by 32 mm", "2.51 kg", "6.3", "198 mm", "2.0 %"]
  ) {
    assert.ok(text.includes(told), told);
  }
  assert.equal(marks(yourDiscs(halfway, demo)), "y");
  assert.equal(marks(yourDiscs(demo, demo)), "y");
  assert.equal(marks(yourDiscs(empty, demo)), "nd");
  assert.doesNotMatch(yourDiscs(hostile, demo).html, /<img|<script>alert/);
});

Deno.test("a disc half told says which numbers are only taken as usual", async () => {
  const { text } = yourDiscs(await yaml("bevel: 1.2 mm\n"), demo);
  assert.match(text, /the discs, 1 number\n/);
  assert.match(text, /mirror\.yaml says nothing: thickness, glass/);
});

Deno.test("decide: measure, widen, swap, go on; the course's limits counting as inside", async () => {
  const cases = [
    ["", /^Decide: measure first/],
    ["bevel: 1 mm\n", /^Decide: measure first/],
    ["bevel: 0.8 mm\nthickness: 25 mm\n", /^Decide: widen the bevel\. The bevel is 0\.8 mm/],
    ["bevel: 1 mm\nthickness: 25 mm\n", /^Decide: go on/],
    ["bevel: 1 mm\nthickness: 18.75 mm\n", /^Decide: go on/],
    ["bevel: 1 mm\nthickness: 18.7 mm\n", /^Decide: ask the leader\. 150 mm by 18\.7 mm/],
    ["bevel: 9 mm\nthickness: 25 mm\n", /^Decide: go on/],
  ] as const;
  for (const [more, told] of cases) {
    const { text, html } = decideDiscs(await yaml(more));
    assert.match(text, told, more);
    assert.equal(html.match(/<li class="chosen">/g)?.length, 1, more);
    assert.match(text, /no crack, no chip over 2 mm inside it, wedge under 0\.1 mm/);
  }
  assert.match(decideDiscs(halfway).text, /^Decide: go on/);
  assert.match(decideDiscs(empty).text, /^Decide: measure first/);
});

Deno.test("powder: minutes and removals by formulas of the test's own", () => {
  const rows = powderFor({ aperture: 150, focalLength: 1200 }, 12).text.split("\n").slice(2)
    .map((row) => row.split(" | "));
  assert.deepEqual(rows.map(([name]) => name), [
    "F80",
    "F120",
    "F220",
    "F320",
    "F500",
    "F800",
    "F1200",
  ]);
  // DERIVED: s a^2 / (6 <d^2>) with <d^2> = 37.5^2 + 50^2 / 12, s = 1172.161 um; path 100 mm a stroke, 40 a minute,
  // at 4e-4 mm2/N x 60 N / (pi 75^2 mm2)
  const off = 1172.161 * 75 ** 2 / (6 * (37.5 ** 2 + 50 ** 2 / 12));
  const each = 4e-4 * 60 / (Math.PI * 75 ** 2) * 100 * 40 * 1000;
  assert.deepEqual(rows[0]?.slice(1, 3), [off.toFixed(0), (off / each).toFixed(0)]);
  const sizes = [185, 109, 58, 29.2, 12.8, 6.5, 3];
  rows.slice(1).forEach(([name, removal, minutes], i) => {
    const half = (sizes[i] ?? NaN) / 2;
    assert.equal(removal, half.toFixed(0), name);
    assert.equal(minutes, (half / (each * (sizes[i + 1] ?? NaN) / 185)).toFixed(0), name);
  });
  rows.forEach(([name, , , , one = "", all = ""]) => {
    const wanted = 12 * Number(one);
    assert.ok(Number(all) >= wanted - 6 && Number(all) < wanted + 56, `${name}: ${all} for ${one}`);
  });
});

Deno.test("a wider mirror takes more powder; no class of no one", () => {
  const grams = (aperture: number): number =>
    Number(powderFor({ aperture, focalLength: 1200 }, 1).text.split("\n")[2]?.split(" | ")[4]);
  assert.ok(grams(200) > grams(150) && grams(150) > grams(114));
  assert.throws(() => powderFor({ aperture: 150, focalLength: 1200 }, 0), RangeError);
  assert.throws(() => powderFor({ aperture: 150, focalLength: 30 }, 1), RangeError);
});

import assert from "node:assert/strict";
import fc from "fast-check";
import {
  filmLight,
  type Metal,
  metalIndex,
  mirrorFilm,
  thickReflectance,
} from "../../lib/optics/film.ts";
import { refractiveIndex } from "../../lib/optics/glass.ts";

function near(got: number, wanted: number, within: number, what = ""): void {
  assert.ok(
    Math.abs(got - wanted) <= within * Math.abs(wanted),
    `${what} ${got}, wanted ${wanted}`,
  );
}

/** The same film by summing bounces (Airy), in the code of this test only. */
function byBounces(
  n: number,
  k: number,
  d: number,
  wavelength: number,
  behind: number,
): [r: number, t: number] {
  type C = [number, number];
  const mul = (a: C, b: C): C => [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
  const div = (a: C, b: C): C => {
    const s = b[0] ** 2 + b[1] ** 2;
    return [(a[0] * b[0] + a[1] * b[1]) / s, (a[1] * b[0] - a[0] * b[1]) / s];
  };
  const add = (a: C, b: C): C => [a[0] + b[0], a[1] + b[1]];
  const r = (a: C, b: C): C => div([a[0] - b[0], a[1] - b[1]], add(a, b));
  const t = (a: C, b: C): C => div([2 * a[0], 2 * a[1]], add(a, b));
  const air: C = [1, 0], film: C = [n, k], glass: C = [behind, 0];
  const x = (2 * Math.PI * d) / wavelength, fade = Math.exp(-k * x);
  const once: C = [fade * Math.cos(n * x), fade * Math.sin(n * x)], twice = mul(once, once);
  const r1 = r(air, film), r2 = r(film, glass);
  const under = add([1, 0], mul(mul(r1, r2), twice));
  const back = div(add(r1, mul(r2, twice)), under);
  const on = div(mul(mul(t(air, film), t(film, glass)), once), under);
  return [back[0] ** 2 + back[1] ** 2, behind * (on[0] ** 2 + on[1] ** 2)];
}

Deno.test("the table in the code is the table with the passport, row by row", () => {
  const text = Deno.readTextFileSync(new URL("../../data/tables/films.csv", import.meta.url));
  const rows = text.split("\n").filter((line) => /^(silver|aluminium),/.test(line));
  assert.equal(rows.length, Number(/^# rows: (\d+)$/m.exec(text)?.[1]));
  for (const row of rows) {
    const [metal = "", um, n, k] = row.split(",");
    const found = metalIndex(metal as Metal, 1000 * Number(um));
    assert.ok(
      Math.abs(found.re - Number(n)) < 1e-12 && Math.abs(found.im - Number(k)) < 1e-12,
      row,
    );
  }
});

Deno.test("indices between the rows", () => {
  // DERIVED: linear between READ rows (Johnson and Christy 1972): n .0595821 k 3.5973672 at 550 nm
  const silver = metalIndex("silver", 550);
  near(silver.re, 0.0595821, 1e-6);
  near(silver.im, 3.5973672, 1e-7);
  near(metalIndex("silver", 450).im, 2.648397, 1e-6);
  near(metalIndex("silver", 650).im, 4.4093583, 1e-6);
});

Deno.test("silver on glass, air side: reflectance against thickness", () => {
  // CROSS-CHECK secondRoute.py, silver by thickness: characteristic matrix, printed to 5 digits
  const rows = [
    [10, 0.3414],
    [20, 0.68362],
    [30, 0.85171],
    [50, 0.95755],
    [80, 0.98083],
    [100, 0.98261],
    [150, 0.98305],
  ];
  for (const [d = 0, r = 0] of rows) near(mirrorFilm("silver", d).reflected, r, 2e-5, `${d} nm`);
});

Deno.test("what silver lets through, into the glass and out of the plate", () => {
  // CROSS-CHECK secondRoute.py, silver lets through: the same
  const rows = [
    [20, 0.29182, 0.27945],
    [50, 0.023904, 0.022891],
    [100, 3.9045e-4, 3.739e-4],
  ];
  for (const [d = 0, into = 0, through = 0] of rows) {
    near(mirrorFilm("silver", d).transmitted, into, 3e-5);
    near(mirrorFilm("silver", d).throughPlate, through, 3e-5);
  }
});

Deno.test("silver by blue and red light, aluminium by three colours", () => {
  // CROSS-CHECK secondRoute.py, films by colour: the same
  near(mirrorFilm("silver", 100, 450).reflected, 0.97879, 2e-5);
  near(mirrorFilm("silver", 100, 650).reflected, 0.9896, 2e-5);
  near(mirrorFilm("silver", 100, 450).transmitted, 1.3713e-3, 1e-4);
  near(mirrorFilm("silver", 100, 650).transmitted, 2.0793e-4, 1e-4);
  const rows = [[450, 0.92186], [550, 0.91537], [650, 0.90561]];
  for (const [nm = 0, r = 0] of rows) {
    near(mirrorFilm("aluminium", 100, nm).reflected, r, 2e-5);
    near(thickReflectance("aluminium", nm), r, 2e-5);
  }
  near(mirrorFilm("aluminium", 20).reflected, 0.87236, 2e-5);
  near(mirrorFilm("aluminium", 20).transmitted, 0.022552, 1e-4);
  near(mirrorFilm("aluminium", 50).reflected, 0.91486, 2e-5);
  near(mirrorFilm("aluminium", 50).transmitted, 2.3288e-4, 1e-4);
});

Deno.test("glass of the plate", () => {
  // READ catalogue: 1.51680 at d, V 64.17; CROSS-CHECK secondRoute.py, bare glass: Sellmeier
  const rows = [
    [486.1327, 1.5223763],
    [587.5618, 1.5168],
    [656.2725, 1.5143223],
    [546.074, 1.518722],
    [550, 1.5185224],
  ];
  for (const [nm = 0, n = 0] of rows) near(refractiveIndex("borosilicate crown", nm), n, 1e-7);
});

Deno.test("law: the matrix is the sum of all bounces, for any film", () => {
  fc.assert(fc.property(
    fc.double({ min: 0.02, max: 4, noNaN: true }),
    fc.double({ min: 0, max: 6, noNaN: true }),
    fc.double({ min: 0, max: 200, noNaN: true }),
    (n, k, d) => {
      const { reflected, transmitted } = filmLight({ re: n, im: k }, d, 550, 1, 1.52);
      const [r, t] = byBounces(n, k, d, 550, 1.52);
      assert.ok(Math.abs(reflected - r) < 1e-11 && Math.abs(transmitted - t) < 1e-11);
    },
  ));
});

Deno.test("law: light is kept, a clear film takes none, and a thick film lets none through", () => {
  fc.assert(fc.property(fc.double({ min: 0, max: 2000, noNaN: true }), (d) => {
    for (const metal of ["silver", "aluminium"] as const) {
      const { reflected, transmitted, absorbed } = mirrorFilm(metal, d);
      assert.ok(Math.abs(reflected + transmitted + absorbed - 1) < 1e-9);
      assert.ok(reflected >= 0 && transmitted >= 0);
    }
    assert.ok(filmLight({ re: 1.38, im: 0 }, d, 550, 1, 1.52).absorbed < 1e-12);
  }));
  assert.ok(mirrorFilm("silver", 1e6).transmitted < 1e-100);
  near(mirrorFilm("silver", 1e6).reflected, thickReflectance("silver"), 1e-9);
});

Deno.test("law: bare glass is bare glass", () => {
  const n = refractiveIndex("borosilicate crown", 550);
  near(mirrorFilm("silver", 0).reflected, ((n - 1) / (n + 1)) ** 2, 1e-12);
});

Deno.test("refuses light outside the table, and a film that would amplify", () => {
  assert.throws(() => metalIndex("silver", 700), /430.5 to 659.5 nm for silver, got 700/);
  assert.throws(() => metalIndex("aluminium", 400), RangeError);
  assert.throws(() => metalIndex("silver", NaN), RangeError);
  assert.throws(() => filmLight({ re: 1, im: -1 }, 10, 550), /k and thickness of 0 or more/);
  assert.throws(() => mirrorFilm("silver", -1), RangeError);
});

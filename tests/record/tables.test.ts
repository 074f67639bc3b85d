import assert from "node:assert/strict";
import { course } from "../../lib/lessons/course.ts";
import { abrasives, decision, decisions, glasses } from "../../lib/record/tables.ts";

const size = (name: string): number => abrasives().find((row) => row.name === name)?.ds50Um ?? NaN;

Deno.test("the tables have the rows of their provenance headers", () => {
  assert.equal(glasses().length, 4);
  assert.equal(abrasives().length, 56);
  assert.equal(decisions().length, 50);
});

Deno.test("no name stands twice in a table", () => {
  for (const rows of [glasses(), abrasives(), decisions()]) {
    const names = rows.map(({ name }) => name);
    assert.deepEqual([...new Set(names)], names);
  }
});

Deno.test("every row says where it was read, or that it is common practice", () => {
  for (const { name, source } of [...glasses(), ...abrasives()]) {
    assert.match(source, /\bread\b|as table of|opticalglass|common practice/, name);
  }
  assert.ok(decisions().every(({ status }) => status === "common practice"));
});

Deno.test("glass is nominal and possible", () => {
  for (const glass of glasses()) {
    assert.ok(glass.densityKgPerM3 > 2000 && glass.densityKgPerM3 < 3000, glass.name);
    assert.ok(glass.expansionPerK > 0.1e-6 && glass.expansionPerK < 12e-6, glass.name);
    assert.ok(glass.youngGPa > 50 && glass.youngGPa < 100, glass.name);
    assert.ok(glass.poisson > 0.1 && glass.poisson < 0.3, glass.name);
    assert.ok(glass.indexD > 1.4 && glass.indexD < 1.6, glass.name);
  }
});

Deno.test("the borosilicate crown's index agrees with its dispersion formula", () => {
  // READ: Sellmeier coefficients of the glass maker's data sheet of 2017, from a public optical constants database.
  const squared = (um: number): number =>
    1 + [[1.03961212, 0.00600069867], [0.231792344, 0.0200179144], [1.01046945, 103.560653]]
      .reduce((sum, [b = 0, c = 0]) => sum + b * um ** 2 / (um ** 2 - c), 0);
  const index = glasses().find(({ name }) => name === "borosilicate crown")?.indexD ?? NaN;
  assert.ok(Math.abs(index - Math.sqrt(squared(0.5875618))) < 5e-5);
});

Deno.test("within each scale a larger number is a finer grain", () => {
  for (const scale of ["F", "#", "P"] as const) {
    const rows = abrasives().filter((row) => row.scale === scale);
    assert.ok(rows.length >= 13, scale);
    rows.slice(1).forEach((row, index) => {
      const before = rows[index];
      assert.ok(before !== undefined && row.ds50Um < before.ds50Um, row.name);
      assert.ok(Number(row.name.slice(1)) > Number(before.name.slice(1)), row.name);
    });
    assert.ok(rows.every(({ name }) => name.startsWith(scale)), scale);
  }
});

Deno.test("the three scales are never mixed: 400 is three grains", () => {
  // READ: JIS R 6001:1987 microgrit table, in a reprint: #400 30.0 um. COMMON PRACTICE: F400 17.3 um; READ a table of grits of 2008: P400 35.0 um.
  assert.deepEqual(["F400", "#400", "P400"].map(size), [17.3, 30, 35]);
});

Deno.test("macro grits lie within their sieve band", () => {
  const bands = abrasives().flatMap(({ name, source, ds50Um }) => {
    const band = /sieve range (\d+)-(\d+) um/.exec(source);
    return band === null ? [] : [{ name, ds50Um, low: Number(band[1]), high: Number(band[2]) }];
  });
  assert.equal(bands.length, 10);
  for (const { name, ds50Um, low, high } of bands) assert.ok(ds50Um > low && ds50Um < high, name);
});

Deno.test("decision numbers are asked for by name", () => {
  assert.equal(decision("probability_yes"), 0.95);
  assert.equal(decision("runs_least"), 3);
  assert.throws(() => decision("probability_yess"), {
    name: "RangeError",
    message:
      "decision requires a name of data/tables/decisions.csv, got probability_yess; near: probability_yes",
  });
});

Deno.test("every decision belongs to a notebook", () => {
  for (const { name, stage, value } of decisions()) {
    assert.ok(course[Number(stage)] !== undefined && /^(?!00)\d\d$/.test(stage), name);
    assert.ok(value > 0, name);
  }
});

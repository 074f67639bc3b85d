/** Numbers, units and days as makers write them. */
import { isDate } from "../../lib/record/date.ts";
import assert from "node:assert/strict";
import fc from "fast-check";
import { type Decimal, decimalSign, parseNumber, unitFactor } from "../../lib/record/written.ts";

Deno.test("numbers as people write them", () => {
  const written: readonly (readonly [string, Decimal, number])[] = [
    ["0.88", ".", 0.88],
    ["0,88", ",", 0.88],
    [".5", ".", 0.5],
    ["5.", ".", 5],
    ["+3", ".", 3],
    ["-2.5", ".", -2.5],
    ["\u22122.5", ".", -2.5],
    ["1e-3", ".", 0.001],
    ["1,5E2", ",", 150],
    ["007", ",", 7],
  ];
  for (const [text, decimal, value] of written) {
    assert.equal(parseNumber(text, decimal), value, text);
  }
});

Deno.test("what is no number", () => {
  const texts = [
    "",
    "-",
    ".",
    ",",
    "1.2.3",
    "1,200.5",
    "1 200",
    "12 mm",
    "NaN",
    "Infinity",
    "0x10",
    "1e999",
    "1e",
    "--1",
  ];
  texts.push("१२", "1_000", "٣", "½", "=1", "1".repeat(41));
  for (const text of texts) {
    assert.equal(parseNumber(text, "."), undefined, text);
    assert.equal(parseNumber(text, ","), undefined, text);
  }
});

Deno.test("the other decimal sign is never guessed at", () => {
  assert.equal(parseNumber("0,88", "."), undefined);
  assert.equal(parseNumber("0.88", ","), undefined);
});

Deno.test("every finite number is read back from its own spelling, by either sign", () => {
  fc.assert(fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
    const text = String(value);
    assert.equal(parseNumber(text, "."), Object.is(value, -0) ? 0 : value);
    assert.equal(parseNumber(text.replace(".", ","), ","), Object.is(value, -0) ? 0 : value);
  }));
});

Deno.test("the decimal sign is told only of what is a number", () => {
  assert.deepEqual(["0,5", "0.5", "5", "a,b", "1,200.5"].map(decimalSign), [
    ",",
    ".",
    undefined,
    undefined,
    undefined,
  ]);
});

Deno.test("fractions as a ruler in inches has them", () => {
  // DERIVED: 40 + 1/4
  assert.equal(parseNumber("1/128", "."), 1 / 128);
  assert.equal(parseNumber("40 1/4", ","), 40.25);
  assert.equal(parseNumber("-1/2", "."), -0.5);
  for (const text of ["1/0", "1/", "/8", "1/2/3", "1//8", "4 1/4 1"]) {
    assert.equal(parseNumber(text, "."), undefined, text);
  }
});

Deno.test("lengths, angles, times and masses to the kit's units", () => {
  // READ: definitions of inch, foot, pound and ounce (international agreement of 1959, from memory).
  const factors: readonly (readonly [string, Parameters<typeof unitFactor>[1], number])[] = [
    ["mm", "length", 1],
    ["cm", "length", 10],
    ["m", "length", 1000],
    ["um", "length", 1e-3],
    ["µm", "length", 1e-3],
    ["μm", "length", 1e-3],
    ["nm", "length", 1e-6],
    ["in", "length", 25.4],
    ["thou", "length", 0.0254],
    ["mil", "length", 0.0254],
    ["ft", "length", 304.8],
    ["rad", "angle", 1],
    ["deg", "angle", Math.PI / 180],
    ["arcmin", "angle", Math.PI / 10_800],
    ["min", "time", 1],
    ["h", "time", 60],
    ["kg", "mass", 1000],
    ["lb", "mass", 453.59237],
  ];
  for (const [unit, dimension, factor] of factors) {
    const found = unitFactor(unit, dimension) ?? NaN;
    assert.ok(Math.abs(found / factor - 1) < 1e-14, `${unit}: ${found}`);
  }
});

Deno.test("no unit, another's unit, and what is no word at all", () => {
  for (
    const unit of [
      "",
      "mn",
      "kg",
      "deg",
      "min",
      "mm^2",
      "mm*mm",
      "1",
      "constructor",
      "x".repeat(100),
      "mm;",
    ]
  ) {
    assert.equal(unitFactor(unit, "length"), undefined, unit);
  }
});

Deno.test("days of the calendar", () => {
  for (const text of ["2026-04-18", "2024-02-29", "2000-02-29", "1999-12-31"]) {
    assert.ok(isDate(text), text);
  }
});

Deno.test("days that there are not, and days written otherwise", () => {
  const texts = [
    "2026-02-29",
    "1900-02-29",
    "2026-04-31",
    "2026-00-10",
    "2026-13-01",
    "2026-01-00",
    "0026-04-18",
  ];
  texts.push(
    "18/04/2026",
    "2026-4-18",
    "2026/04/18",
    "18.04.2026",
    "26-04-18",
    "2026-04-18T10:00",
    " 2026-04-18",
    "",
  );
  for (const text of texts) assert.ok(!isDate(text), text);
});

Deno.test("every day of two centuries is one", () => {
  const day = fc.date({
    min: new Date("1900-01-01"),
    max: new Date("2199-12-31"),
    noInvalidDate: true,
  });
  fc.assert(fc.property(day, (any) => assert.ok(isDate(any.toISOString().slice(0, 10)))));
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { type Decimal, decimalSign, parseNumber } from "../../lib/record/number.ts";

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
  assert.equal(parseNumber("1/128", "."), 1 / 128);
  assert.equal(parseNumber("40 1/4", ","), 40.25);
  assert.equal(parseNumber("-1/2", "."), -0.5);
  for (const text of ["1/0", "1/", "/8", "1/2/3", "1//8", "4 1/4 1"]) {
    assert.equal(parseNumber(text, "."), undefined, text);
  }
});

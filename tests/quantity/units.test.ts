import assert from "node:assert/strict";
import fc from "fast-check";
import { convert, quantity } from "../../lib/quantity/units.ts";
import { near } from "../references/reference.ts";

Deno.test("what people write, in the kit's units", () => {
  // DERIVED: 1 in = 25.4 mm, 1 lb = 453.59237 g and 1 ft = 12 in by definition; 1 deg = π/180 rad
  const cases: readonly (readonly [string, number, string])[] = [
    ["6 in", 152.4, "mm"],
    ["150mm", 150, "mm"],
    ["15 cm", 150, "mm"],
    ["1.5e-1 m", 150, "mm"],
    ["1/8 in", 3.175, "mm"],
    ["1 1/2 in", 38.1, "mm"],
    ['6"', 152.4, "mm"],
    ["2 thou", 0.0508, "mm"],
    ["1 mil", 0.0254, "mm"],
    ["5 µm", 0.005, "mm"],
    ["5 micron", 0.005, "mm"],
    ["550 nm", 0.00055, "mm"],
    ["3 ft", 914.4, "mm"],
    ["180 deg", Math.PI, "rad"],
    ["18.5°", 18.5 * Math.PI / 180, "rad"],
    ["60 arcmin", Math.PI / 180, "rad"],
    ["90 s", 1.5, "min"],
    ["2 hours", 120, "min"],
    ["1.2 kg", 1200, "g"],
    ["1 lb", 453.59237, "g"],
    ["20 degC", 20, "degC"],
    ["68 °F", 20, "degC"],
    ["293.15 K", 20, "degC"],
    ["2.5 g/cm^3", 0.0025, "g/mm^3"],
    ["20 mg/cm²", 0.0002, "g/mm^2"],
    ["9 um/min", 0.009, "mm/min"],
    ["4 /mm", 4, "1/mm"],
    ["-3 mm", -3, "mm"],
    ["−3 mm", -3, "mm"],
    ["+3 mm", 3, "mm"],
    [".5 mm", 0.5, "mm"],
  ];
  for (const [text, value, unit] of cases) {
    const got = quantity(text);
    assert.equal(got.unit, unit, text);
    near(got.value, value, 1e-15, text);
  }
});

Deno.test("decimal units come out as the decimals they are", () => {
  // DERIVED: 6 x 25.4
  assert.equal(quantity("6 in").value, 152.4);
  assert.equal(quantity("0.005 mm").value, 0.005);
  assert.equal(quantity("0.005 mm", "um").value, 5);
  assert.equal(quantity("0.55 um", "nm").value, 550);
  assert.equal(convert(0.1, "in", "mm"), 2.54);
});

Deno.test("a bare number is refused with both readings of it", () => {
  assert.throws(() => quantity("6"), {
    name: "RangeError",
    message: 'quantity requires a unit, got "6": 6 mm or 6 in (152.4 mm)?',
  });
  assert.throws(() => quantity(" 550 ", "nm"), /got " 550 ": 550 nm or 550 um \(550000 nm\)\?/);
  assert.throws(() => quantity("18.5", "deg"), /18.5 rad or 18.5 deg \(0.322886 rad\)\?/);
  assert.throws(() => quantity("20", "degC"), /20 degC or 20 degF \(-6.66667 degC\)\?/);
  assert.throws(() => quantity("3", "g/mm^3"), /requires a unit, got "3"; 3 g\/mm\^3\?/);
});

Deno.test("a decimal comma is refused with the mended text", () => {
  assert.throws(
    () => quantity("1,17 mm"),
    /requires a decimal point, got "1,17 mm"; write "1.17 mm"/,
  );
  assert.throws(() => quantity("1,200 mm"), /decimal point/);
});

Deno.test("an unknown unit is refused, the nearest offered", () => {
  assert.throws(
    () => quantity("6 inc"),
    /requires a unit it knows, got "inc" in "6 inc"; did you mean in/,
  );
  assert.throws(() => quantity("6 mn"), /did you mean mm/);
  assert.throws(() => quantity("6 blorps"), /got "blorps" in "6 blorps"; for example mm or in/);
  assert.throws(() => convert(6, "mm", "incs"), /got "incs"/);
});

Deno.test("what is no quantity is refused, and no text is run as a program", () => {
  for (
    const text of [
      "",
      "mm",
      "six inches",
      "NaN mm",
      "Infinity mm",
      "1e400 mm",
      "6 mm + 2 mm",
      "6 mm; 2",
      "6 sqrt(4)",
      "1/0 in",
      "6 import",
    ]
  ) {
    assert.throws(() => quantity(text), RangeError, text);
  }
});

Deno.test("a unit of another kind is refused", () => {
  assert.throws(
    () => quantity("6 in", "deg"),
    /a quantity in deg requires a unit of the same kind, got 6 in/,
  );
  assert.throws(() => convert(1, "kg", "mm"), /same kind/);
  assert.throws(() => convert(NaN, "mm", "in"), /finite value/);
});

const families = [
  ["mm", "in", "ft", "um", "nm", "m", "thou"],
  ["deg", "rad", "arcmin", "arcsec"],
  ["s", "min", "h"],
  ["g", "kg", "lb"],
  ["degC", "degF", "K"],
];
const pair = fc.constantFrom(...families).chain((units) =>
  fc.tuple(fc.constantFrom(...units), fc.constantFrom(...units))
);
const value = fc.double({ min: -1e6, max: 1e6, noNaN: true });

Deno.test("law: there and back is the same value", () => {
  fc.assert(fc.property(value, pair, (x, [a, b]) => {
    near(
      convert(convert(x, a, b), b, a),
      x,
      1e-9 * (1 + Math.abs(x)),
      `${x} ${a} ${b}`,
      "absolute",
    );
  }));
});

Deno.test("law: a text reads as its number and unit say, whichever unit is asked for", () => {
  fc.assert(fc.property(fc.double({ min: -1e3, max: 1e3, noNaN: true }), pair, (x, [a, b]) => {
    const got = quantity(`${x} ${a}`, b);
    assert.equal(got.unit, b);
    near(got.value, convert(x, a, b), 1e-12 * (1 + Math.abs(got.value)), `${x} ${a}`, "absolute");
  }));
});

Deno.test("feet with inches, fractions in one sign or behind a dash, capitals, a point behind a unit", () => {
  // DERIVED: 3 ft 4 in = 40 in = 40 x 25.4 mm; 40 1/4 in = 1022.35 mm
  const mm = (text: string): number => quantity(text, "mm").value;
  for (const text of ["3 ft 4 in", `3' 4"`, "3 feet 4 inches", "3ft 4in", "3′ 4″", "3 ft. 4 in."]) {
    assert.equal(mm(text), 1016, text);
  }
  assert.equal(mm(`3' 4 1/2"`), 1028.7);
  for (const text of ["40 1/4 in", "40-1/4 in", "40¼ in", `40 1/4"`, "40 1/4''"]) {
    assert.equal(mm(text), 1022.35, text);
  }
  assert.ok(Math.abs(mm("1/128 in") - 0.1984375) < 1e-12);
  assert.deepEqual([mm("6 in."), mm("150MM"), mm("6 Inches"), mm("150 Mm")], [
    152.4,
    150,
    152.4,
    150,
  ]);
  for (const text of ["3 ft 14 in", "3 ft 4", "ft 4 in"]) assert.throws(() => mm(text), RangeError);
});

import assert from "node:assert/strict";
import fc from "fast-check";
import {
  formatMeasured,
  formatNumber,
  formatQuantityHtml,
  measuredDigits,
  uncertaintyPlace,
  unitSymbol,
} from "../../lib/quantity/format.ts";
import { measured } from "../../lib/quantity/measured.ts";

Deno.test("values as a page prints them", () => {
  // DERIVED: u to two digits where it begins with 1 or 2, else to one; the value to the same place
  const cases: readonly (readonly [number, number, string, string])[] = [
    [1203.3, 4.2, "mm", "1203 mm ± 4 mm"],
    [2404.431154, 26.052663, "mm", "2404 mm ± 26 mm"],
    [2396.47, 3.26, "mm", "2396 mm ± 3 mm"],
    [0.96532, 0.0118, "mm", "0.965 mm ± 0.012 mm"],
    [8.93, 0.2, "um/min", "8.93 µm/min ± 0.20 µm/min"],
    [1203, 118, "mm", "1200 mm ± 120 mm"],
    [1203, 800, "mm", "1200 mm ± 800 mm"],
    [50000838, 31.66, "nm", "5.000084 × 10^7 nm ± 0.000003 × 10^7 nm"],
    [-0.1712, 0.0029, "degC", "-0.1712 °C ± 0.0029 °C"],
    [0.00001, 0.02, "", "0.000 ± 0.020"],
    [-0.00001, 0.5, "mm", "0.0 mm ± 0.5 mm"],
    [152.4, 0, "mm", "152.4 mm"],
    [1 / 3, 0, "", "0.333333"],
    [7.320592e-7, 1.578e-10, "", "7.3206 × 10^-7 ± 0.0016 × 10^-7"],
  ];
  for (const [value, u, unit, text] of cases) {
    assert.equal(formatMeasured(measured(value, u, unit)), text);
  }
});

Deno.test("a rounding that adds a digit keeps the rule", () => {
  // DERIVED: to two digits 0.0996 is 0.10, which begins with 1; 2.96 is 3.0, which begins with 3
  assert.deepEqual(measuredDigits(5, 0.0996), { value: "5.00", u: "0.10" });
  assert.deepEqual(measuredDigits(5, 2.96), { value: "5", u: "3" });
  assert.deepEqual(measuredDigits(5.04, 0.96), { value: "5.0", u: "1.0" });
});

Deno.test("the same in HTML: thin space, true minus, escaped unit", () => {
  assert.equal(
    formatQuantityHtml(measured(0.965, 0.012, "mm")),
    '<span class="q">0.965 <i>± 0.012</i>\u2009mm</span>',
  );
  assert.equal(
    formatQuantityHtml(measured(-0.1712, 0.0029, "degC")),
    '<span class="q">−0.1712 <i>± 0.0029</i>\u2009°C</span>',
  );
  assert.equal(formatQuantityHtml(measured(2, 0, "")), '<span class="q">2</span>');
  assert.equal(
    formatQuantityHtml(measured(2, 0, "<b>")),
    '<span class="q">2\u2009&lt;b&gt;</span>',
  );
});

Deno.test("numbers without an uncertainty", () => {
  // DERIVED: six significant digits, trailing zeros left out
  const cases: readonly (readonly [number, string])[] = [
    [0, "0"],
    [-0, "0"],
    [152.39999999999998, "152.4"],
    [1200, "1200"],
    [1234567, "1234570"],
    [0.000123456789, "0.000123457"],
    [2.1e-6, "2.1 × 10^-6"],
    [6.02e23, "6.02 × 10^23"],
    [-2.5, "-2.5"],
  ];
  for (const [value, text] of cases) assert.equal(formatNumber(value), text);
  assert.equal(formatNumber(Math.PI, 3), "3.14");
  assert.equal(unitSymbol("deg"), "°");
  assert.equal(unitSymbol("furlong"), "furlong");
});

const u = fc.double({ min: 1e-3, max: 1e4, noNaN: true });
const value = fc.double({ min: -9e6, max: 9e6, noNaN: true });

Deno.test("law: printing loses less than a fifth of the uncertainty, and both end at the same place", () => {
  fc.assert(fc.property(value, u, (x, doubt) => {
    const printed = measuredDigits(x, doubt);
    assert.ok(
      Math.abs(Number(printed.value) - x) <= doubt * 0.17 + 1e-9,
      `${x} ${doubt} ${printed.value}`,
    );
    assert.ok(Math.abs(Number(printed.u) - doubt) <= doubt * 0.17);
    const places = (text = ""): number => text.split(".")[1]?.length ?? 0;
    assert.equal(places(printed.value), places(printed.u));
    assert.ok(!printed.value.startsWith("-0") || Number(printed.value) !== 0);
  }));
});

Deno.test("law: the printed uncertainty has two digits from 10 to 29, else one", () => {
  fc.assert(fc.property(u, (doubt) => {
    const digits = doubt / 10 ** uncertaintyPlace(doubt);
    assert.ok(
      (digits >= 9.9 && digits < 29.6) || (digits >= 2.9 && digits <= 9.96),
      `${doubt}: ${digits}`,
    );
  }));
});

Deno.test("what has no digits is refused", () => {
  assert.throws(() => measuredDigits(NaN, 1), RangeError);
  assert.throws(() => measuredDigits(1, -1), /u >= 0, got 1, -1/);
  assert.throws(() => uncertaintyPlace(0), /u above 0, got u=0/);
  assert.throws(() => formatNumber(Infinity), /finite value/);
});

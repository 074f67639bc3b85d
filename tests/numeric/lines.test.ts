import assert from "node:assert/strict";
import fc from "fast-check";
import { lineFit, median, repeatedMedianLine, theilSen } from "../../lib/numeric/lines.ts";
import { near, reference } from "../references/reference.ts";

interface Line {
  readonly x: readonly number[];
  readonly y: readonly number[];
}
interface Robust {
  readonly slope: number;
  readonly intercept: number;
  readonly low95: number;
  readonly high95: number;
}
interface Case {
  readonly ols: readonly number[];
  readonly theil_sen: Robust;
  readonly siegel: Robust;
}
type Names = "line_outlier" | "sen1968";
const { inputs, expected, tolerance } = reference<
  Readonly<Record<Names, Line>>,
  Readonly<Record<Names, Case>>
>("robust-regression");
const exact = tolerance["theil_sen_abs"] ?? 0;

for (const name of ["line_outlier", "sen1968"] as const) {
  const { x, y } = inputs[name], wanted = expected[name];
  Deno.test(`${name}: least squares, Theil-Sen with its interval, Siegel`, () => {
    const plain = lineFit(x, y);
    near(plain.intercept, wanted.ols[0] ?? NaN, 1e-12, "intercept");
    near(plain.slope, wanted.ols[1] ?? NaN, 1e-12, "slope");
    const robust = theilSen(x, y);
    near(robust.slope, wanted.theil_sen.slope, exact, "slope", "absolute");
    near(robust.intercept, wanted.theil_sen.intercept, exact, "intercept", "absolute");
    near(robust.interval[0], wanted.theil_sen.low95, exact, "low", "absolute");
    near(robust.interval[1], wanted.theil_sen.high95, exact, "high", "absolute");
    const siegel = repeatedMedianLine(x, y);
    near(siegel.slope, wanted.siegel.slope, exact, "Siegel slope", "absolute");
    near(siegel.intercept, wanted.siegel.intercept, exact * 10, "Siegel intercept", "absolute");
  });
}

Deno.test("ties narrow the count behind Theil-Sen's interval", () => {
  // CROSS-CHECK scipy 1.10.1 stats.theilslopes([1,2,2,3,5,4,6,8], [0,1,1,2,3,4,5,6])
  const { slope, intercept, interval } = theilSen([0, 1, 1, 2, 3, 4, 5, 6], [
    1,
    2,
    2,
    3,
    5,
    4,
    6,
    8,
  ]);
  near(slope, 1.0, 1e-12, "slope");
  near(intercept, 1.0, 1e-12, "intercept");
  near(interval[0], 0.75, 1e-12, "low");
  near(interval[1], 1.5, 1e-12, "high");
});

const number = fc.double({ min: -1e3, max: 1e3, noNaN: true });

Deno.test("law: all three lines follow a change of scale and a shift", () => {
  const x = [0, 1, 2.5, 3, 4.2, 6, 7], y = [0.1, 1.3, 2.2, 3.4, 20, 6.1, 6.8];
  fc.assert(
    fc.property(
      fc.double({ min: 0.01, max: 100, noNaN: true }),
      number,
      number,
      (size, shift, tilt) => {
        const moved = y.map((v, i) => size * v + shift + tilt * (x[i] ?? 0));
        for (const fit of [lineFit, theilSen, repeatedMedianLine]) {
          const before = fit(x, y), after = fit(x, moved);
          near(
            after.slope,
            size * before.slope + tilt,
            1e-9 * (1 + size + Math.abs(tilt)),
            fit.name,
            "absolute",
          );
        }
      },
    ),
  );
});

Deno.test("one wild reading in seven moves least squares, not the other two", () => {
  const x = [0, 1, 2, 3, 4, 5, 6], y = [0, 1, 2, 3, 4, 50, 6];
  assert.ok(Math.abs(lineFit(x, y).slope - 1) > 1);
  assert.equal(theilSen(x, y).slope, 1);
  assert.equal(repeatedMedianLine(x, y).slope, 1);
});

Deno.test("a weighted line and its correlation", () => {
  // DERIVED: x = 0, 1, 2 unweighted: correlation of intercept and slope is -x̄/√(mean of x²) = -1/√(5/3)
  near(lineFit([0, 1, 2], [1, 3.1, 4.9]).correlation, -1 / Math.sqrt(5 / 3), 1e-13, "correlation");
  near(lineFit([0, 1, 2, 3], [0, 1, 2, 9], [1, 1, 1, 1e-12]).slope, 1, 1e-10, "slope");
});

Deno.test("law: the median does not mind the order, and lies in the middle", () => {
  fc.assert(fc.property(fc.array(number, { minLength: 1, maxLength: 30 }), (values) => {
    const middle = median(values);
    assert.equal(middle, median([...values].reverse()));
    assert.ok(values.filter((v) => v < middle).length <= values.length / 2);
    assert.ok(values.filter((v) => v > middle).length <= values.length / 2);
  }));
});

Deno.test("wrong arguments are refused", () => {
  assert.throws(() => theilSen([1, 1], [1, 2]), /two different places/);
  assert.throws(() => theilSen([1, 2], [1]), /got 2 and 1/);
  assert.throws(() => theilSen([1, 2], [1, NaN]), RangeError);
  assert.throws(() => theilSen([1, 2], [1, 2], 1), /p=1/);
  assert.throws(() => repeatedMedianLine([], []), RangeError);
  assert.throws(() => median([]), /median requires one value or more/);
  assert.throws(() => lineFit([1, 1, 1], [1, 2, 3]), /column 1/);
});

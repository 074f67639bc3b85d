import assert from "node:assert/strict";
import fc from "fast-check";
import { linearFit } from "../../lib/numeric/leastSquares.ts";
import { random } from "../../lib/numeric/random.ts";
import { fewestDigits, near, reference } from "../references/reference.ts";

interface Inputs {
  readonly rows: readonly (readonly number[])[];
}
interface Expected {
  readonly coefficients: readonly number[];
  readonly standard_errors: readonly number[];
  readonly residual_sd: number;
  readonly r_squared: number;
  readonly dof: number;
}
interface Tolerance {
  readonly coefficients_rel: number;
  readonly standard_errors_rel: number | null;
  readonly standard_errors_abs: number | null;
}

/** Design rows of each set: its README's formula, powers by repeated multiplication. */
const designs: Readonly<Record<string, (x: readonly number[], size: number) => number[]>> = {
  norris: powers,
  pontius: powers,
  filip: powers,
  wampler1: powers,
  longley: (x) => [1, ...x],
  noint1: (x) => [...x],
};

function powers([x = 0]: readonly number[], size: number): number[] {
  const row = [1];
  while (row.length < size) row.push((row[row.length - 1] ?? 0) * x);
  return row;
}

for (const [name, design] of Object.entries(designs)) {
  const { inputs, expected, tolerance } = reference<Inputs, Expected, Tolerance>(
    `nist-strd-${name}`,
  );
  const y = inputs.rows.map(([first = 0]) => first);
  const rows = inputs.rows.map(([, ...x]) => design(x, expected.coefficients.length));
  const fit = linearFit(rows, y);
  const exact = expected.residual_sd === 0;
  const told =
    `${
      fewestDigits(fit.coefficients, expected.coefficients).toFixed(1)
    } digits of the coefficients` +
    (exact
      ? ""
      : `, ${
        fewestDigits(fit.standardErrors, expected.standard_errors).toFixed(1)
      } of their errors`);
  Deno.test(`certified linear set ${name}: ${told}`, () => {
    fit.coefficients.forEach((b, j) =>
      near(b, expected.coefficients[j] ?? NaN, tolerance.coefficients_rel, `b${j}`)
    );
    fit.standardErrors.forEach((u, j) => {
      const wanted = expected.standard_errors[j] ?? NaN;
      if (tolerance.standard_errors_rel !== null) {
        near(u, wanted, tolerance.standard_errors_rel, `u${j}`);
      } else near(u, wanted, tolerance.standard_errors_abs ?? 0, `u${j}`, "absolute");
    });
    assert.equal(fit.dof, expected.dof);
    if (!exact) near(fit.s, expected.residual_sd, 1e-7, "residual standard deviation");
    const mean = name === "noint1" ? 0 : y.reduce((sum, v) => sum + v, 0) / y.length;
    const total = y.reduce((sum, v) => sum + (v - mean) ** 2, 0);
    near(1 - fit.s ** 2 * fit.dof / total, expected.r_squared, 1e-9, "R squared");
  });
}

Deno.test("Filip is reached to seven digits", () => {
  const { inputs, expected } = reference<Inputs, Expected>("nist-strd-filip");
  const fit = linearFit(
    inputs.rows.map(([, ...x]) => powers(x, 11)),
    inputs.rows.map(([y = 0]) => y),
  );
  assert.ok(fewestDigits(fit.coefficients, expected.coefficients) >= 7);
});

interface Thermometer {
  readonly t0: number;
  readonly t_degC: readonly number[];
  readonly b_degC: readonly number[];
  readonly predict_at: number;
}

Deno.test("GUM H.3, a thermometer's line: coefficients, covariance and a new reading", () => {
  const { inputs, expected, tolerance } = reference<Thermometer, {
    readonly published: Readonly<Record<string, number>>;
    readonly computed: Readonly<Record<string, number>> & { readonly residuals: readonly number[] };
  }, { readonly published_abs: Readonly<Record<string, number>>; readonly computed_rel: number }>(
    "gum-h3-thermometer",
  );
  const fit = linearFit(inputs.t_degC.map((t) => [1, t - inputs.t0]), inputs.b_degC);
  const at = [1, inputs.predict_at - inputs.t0];
  const along = (row: readonly number[]): number =>
    row.reduce((sum, v, i) => sum + v * (at[i] ?? 0), 0);
  const u = Math.sqrt(along(fit.covariance.map(along)));
  const [[a = 0, ab = 0] = [], [, b = 0] = []] = fit.covariance;
  const got: Readonly<Record<string, number>> = {
    y1: fit.coefficients[0] ?? NaN,
    y2: fit.coefficients[1] ?? NaN,
    u_y1: fit.standardErrors[0] ?? NaN,
    u_y2: fit.standardErrors[1] ?? NaN,
    r: ab / Math.sqrt(a * b),
    s: fit.s,
    b30: along(fit.coefficients),
    u_b30_curve: u,
    u_b30_single_new_reading: Math.hypot(u, fit.s),
    dof: fit.dof,
  };
  const { computed, published } = expected;
  for (const [key, value] of Object.entries(got)) {
    near(value, computed[key] ?? NaN, tolerance.computed_rel, key);
  }
  for (const [key, allowed] of Object.entries(tolerance.published_abs)) {
    near(got[key], published[key] ?? NaN, allowed, `printed ${key}`, "absolute");
  }
  fit.residuals.forEach((r, i) =>
    near(r, computed.residuals[i] ?? NaN, 1e-12, `residual ${i}`, "absolute")
  );
});

const coefficient = fc.double({ min: -100, max: 100, noNaN: true });

Deno.test("law: exact readings give their coefficients back, whatever the weights", () => {
  const rows = [-2, -1, 0.5, 1, 3, 4].map((x) => [1, x, x * x]);
  fc.assert(
    fc.property(
      coefficient,
      coefficient,
      coefficient,
      fc.array(fc.double({ min: 0.1, max: 10, noNaN: true }), {
        minLength: 6,
        maxLength: 6,
      }),
      (a, b, c, weights) => {
        const y = rows.map(([one = 0, x = 0, xx = 0]) => a * one + b * x + c * xx);
        const size = Math.max(Math.abs(a), Math.abs(b), Math.abs(c), 1);
        linearFit(rows, y, weights).coefficients.forEach((v, j) =>
          near(v, [a, b, c][j] ?? NaN, 1e-11 * size, `b${j}`, "absolute")
        );
      },
    ),
  );
});

Deno.test("law: a column in another unit changes its coefficient by that factor and nothing else", () => {
  const source = random(4);
  const rows = Array.from({ length: 12 }, () => [1, source.uniform()]);
  const y = rows.map(([, x = 0]) => 3 + 2 * x + 0.1 * source.normal());
  const plain = linearFit(rows, y);
  fc.assert(fc.property(fc.double({ min: 1e-9, max: 1e9, noNaN: true }), (unit) => {
    const scaled = linearFit(rows.map(([one = 0, x = 0]) => [one, x * unit]), y);
    near((scaled.coefficients[1] ?? 0) * unit, plain.coefficients[1] ?? 0, 1e-10, "slope");
    near((scaled.standardErrors[1] ?? 0) * unit, plain.standardErrors[1] ?? 0, 1e-10, "its error");
    near(scaled.s, plain.s, 1e-12, "s");
  }));
});

Deno.test("a reading of weight two counts as two equal readings", () => {
  const once = linearFit([[1, 0], [1, 1], [1, 2]], [1, 2.2, 2.9], [1, 2, 1]);
  const twice = linearFit([[1, 0], [1, 1], [1, 1], [1, 2]], [1, 2.2, 2.2, 2.9]);
  once.coefficients.forEach((b, j) => near(b, twice.coefficients[j] ?? NaN, 1e-13, `b${j}`));
  once.unscaledCovariance.flat().forEach((v, i) =>
    near(v, twice.unscaledCovariance.flat()[i] ?? NaN, 1e-12, `covariance ${i}`)
  );
});

Deno.test("the stated error of a slope is the scatter of slopes over many sets of readings", () => {
  const source = random(9), rows = [0, 1, 2, 3, 4, 5, 6, 7].map((x) => [1, x]);
  const slopes: number[] = [];
  for (let run = 0; run < 4000; run++) {
    slopes.push(linearFit(rows, rows.map(() => source.normal())).coefficients[1] ?? 0);
  }
  const seen = Math.sqrt(slopes.reduce((sum, b) => sum + b * b, 0) / slopes.length);
  // DERIVED: 1/√Σ(x-x̄)² = 1/√42; four standard errors of a scatter of 4000 are 4.5 %
  near(seen, 1 / Math.sqrt(42), 0.045, "scatter");
  near(
    Math.sqrt(linearFit(rows, rows.map(([, x = 0]) => x % 2)).unscaledCovariance[1]?.[1] ?? 0),
    1 / Math.sqrt(42),
    1e-12,
    "stated",
  );
});

Deno.test("what cannot be fitted is refused", () => {
  assert.throws(
    () => linearFit([[1, 0], [1, 1]], [1, 2]),
    /more readings than coefficients, got 2 rows, 2 readings, 2/,
  );
  assert.throws(() => linearFit([[1], [1]], [1, 2, 3]), /one row for each reading/);
  assert.throws(() => linearFit([], []), RangeError);
  assert.throws(() => linearFit([[1, 0], [1, 1], [1]], [1, 2, 3]), /rows of 2 finite numbers/);
  assert.throws(() => linearFit([[1], [1]], [1, NaN]), /finite readings/);
  assert.throws(() => linearFit([[1], [1]], [1, 2], [1, -1]), /weight of 0 or more/);
  assert.throws(() => linearFit([[1, 0], [1, 0], [1, 0]], [1, 2, 3]), /zeros in column 1/);
  assert.throws(
    () => linearFit([[1, 2], [2, 4], [3, 6]], [1, 2, 3]),
    /column 1 made up of the earlier ones/,
  );
});

Deno.test("a long table is factored row by row: each certified reading a hundred times over is the same fit", () => {
  // DERIVED: more rows than one block of the factoring, 2048, holds
  for (const [name, digits] of [["norris", 8], ["longley", 8], ["filip", 6]] as const) {
    const { inputs, expected } = reference<Inputs, Expected>(`nist-strd-${name}`);
    const design = designs[name], size = expected.coefficients.length, times = 200;
    const many = Array.from({ length: times }, () => inputs.rows).flat();
    assert.ok(design !== undefined && many.length > 2048);
    const fit = linearFit(
      many.map(([, ...x]) => design(x, size)),
      many.map(([y = 0]) => y),
    );
    assert.ok(fewestDigits(fit.coefficients, expected.coefficients) >= digits, name);
    // DERIVED: the squares left are `times` as many, and so are the readings: s^2 = times dof s1^2 / (times n - size)
    const n = inputs.rows.length;
    const s = expected.residual_sd * Math.sqrt(times * (n - size) / (times * n - size));
    near(fit.s, s, 1e-6, `${name}: s`);
    near(
      fit.unscaledCovariance[0]?.[0] ?? NaN,
      (linearFit(
        inputs.rows.map(([, ...x]) => design(x, size)),
        inputs.rows.map(([y = 0]) => y),
      ).unscaledCovariance[0]?.[0] ?? NaN) / times,
      1e-5,
      `${name}: covariance`,
    );
  }
});

Deno.test("long tables: columns that repeat one another or are all zero are refused as in short ones", () => {
  const y = Array.from({ length: 3000 }, (_, i) => i);
  assert.throws(() => linearFit(y.map((v) => [1, v, 2 * v]), y), /do not repeat one another/);
  assert.throws(() => linearFit(y.map((v) => [v, 0]), y), /zeros in column 1/);
  assert.throws(() => linearFit(y.map((v) => [1, v === 7 ? NaN : v]), y), /finite numbers/);
});

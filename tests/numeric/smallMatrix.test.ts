import assert from "node:assert/strict";
import fc from "fast-check";
import {
  backward,
  cholesky,
  choleskyOfCovariance,
  dot,
  forward,
  forwardAll,
  matrix,
  pivotedCholesky,
  product,
  solve,
  solveColumn,
  times,
  transpose,
} from "../../lib/numeric/smallMatrix.ts";
import { close } from "../optics/close.ts";
import { near } from "../references/reference.ts";

const numbers = fc.array(fc.double({ min: -2, max: 2, noNaN: true }), {
  minLength: 16,
  maxLength: 16,
});

Deno.test("L L^T gives the matrix back, and both triangles are solved", () => {
  fc.assert(fc.property(numbers, (v) => {
    const b = matrix(4, 4, (i, j) => v[4 * i + j] ?? 0), a = product(b, transpose(b));
    a.forEach((row, i) => row[i] = (row[i] ?? 0) + 1);
    const lower = cholesky(a), back = product(lower, transpose(lower));
    back.forEach((row, i) => row.forEach((x, j) => close(x, a[i]?.[j] ?? NaN, 1e-12)));
    const right = [1, -2, 3, 0.5], x = backward(lower, forward(lower, right));
    times(a, x).forEach((y, i) => close(y, right[i] ?? NaN, 1e-10));
    const half = a.map((row, i) => row.map((y, j) => j > i ? NaN : y));
    assert.deepEqual(solveColumn(half, right), x, "the upper triangle is not read");
    const inverse = solve(a, matrix(4, 4, (i, j) => i === j ? 1 : 0));
    product(a, inverse).forEach((row, i) =>
      row.forEach((y, j) => close(y, i === j ? 1 : 0, 1e-10))
    );
  }));
});

Deno.test("a matrix that is not positive is refused", () => {
  assert.throws(() => cholesky([Float64Array.of(1, 2), Float64Array.of(2, 1)]), /positive/);
  assert.equal(dot([1, 2], [3, 4]), 11);
});

Deno.test("all columns solved at once are the columns solved one by one", () => {
  const lower = [
    Float64Array.of(2, 0, 0),
    Float64Array.of(-1, 3, 0),
    Float64Array.of(0.5, 4, 0.25),
  ];
  const right = [Float64Array.of(1, 4), Float64Array.of(2, -5), Float64Array.of(3, 6)];
  const before = right.map((row) => [...row]), all = forwardAll(lower, right);
  [0, 1].forEach((j) =>
    forward(lower, right.map((row) => row[j] ?? NaN)).forEach((x, i) =>
      assert.ok(Math.abs(x - (all[i]?.[j] ?? NaN)) < 1e-14 * Math.max(1, Math.abs(x)))
    )
  );
  assert.deepEqual(right.map((row) => [...row]), before, "left as they were");
});

const someNumbers = (length: number): fc.Arbitrary<Float64Array> =>
  fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: length, maxLength: length })
    .map((list) => Float64Array.from(list));

/** Columns for places whose covariances are the products of these rows. */
const pivoted = (rows: readonly Float64Array[], leading = rows.length): Float64Array[] =>
  pivotedCholesky(
    Float64Array.from(rows, (row) => dot(row, row)),
    (at) => times(rows, rows[at] ?? []),
    leading,
  );

Deno.test("law: the columns' products are the rows', but for a thousandth of the widest spread", () => {
  fc.assert(fc.property(fc.array(someNumbers(5), { minLength: 2, maxLength: 9 }), (rows) => {
    const columns = pivoted(rows);
    assert.ok(columns.length <= 5);
    const widest = Math.max(...rows.map((row) => dot(row, row)));
    rows.forEach((a, i) =>
      rows.forEach((b, j) => {
        const product = columns.reduce((sum, c) => sum + (c[i] ?? 0) * (c[j] ?? 0), 0);
        near(product, dot(a, b), 1.01e-6 * widest, `${i}, ${j}`, "absolute");
      })
    );
  }));
});

Deno.test("law: a place that only follows keeps its share, however small its unit", () => {
  fc.assert(
    fc.property(
      fc.array(someNumbers(4), { minLength: 3, maxLength: 6 }),
      someNumbers(6),
      (rows, parts) => {
        fc.pre(Math.max(...rows.map((row) => dot(row, row))) > 0.1);
        const unit = 1e-6;
        const follower = Float64Array.from(
          { length: 4 },
          (_, k) => rows.reduce((sum, row, i) => sum + unit * (parts[i] ?? 0) * (row[k] ?? 0), 0),
        );
        const columns = pivoted([...rows, follower], rows.length);
        const held = columns.reduce((sum, c) => sum + (c.at(-1) ?? 0) ** 2, 0);
        const widest = Math.max(...rows.map((row) => dot(row, row)));
        const most = 1e-6 * widest * (unit * parts.reduce((sum, p) => sum + Math.abs(p), 0)) ** 2;
        near(held, dot(follower, follower), 1.01 * most + 1e-24, "variance", "absolute");
      },
    ),
  );
});

Deno.test("places that move alike need one column, places at rest none", () => {
  const alike = [1, -2, 0.5].map((size) => Float64Array.of(size, size, size));
  assert.equal(pivoted(alike).length, 1);
  assert.deepEqual(pivoted([new Float64Array(3), new Float64Array(3)]), []);
});

function timesTranspose(a: readonly (readonly number[])[]): number[][] {
  return a.map((row) => a.map((other) => row.reduce((sum, v, k) => sum + v * (other[k] ?? 0), 0)));
}

Deno.test("two by two, by hand", () => {
  // DERIVED: [[4,2],[2,10]] = L Lᵀ with L = [[2,0],[1,3]]
  assert.deepEqual(choleskyOfCovariance([[4, 2], [2, 10]]), [[2, 0], [1, 3]]);
  assert.deepEqual(choleskyOfCovariance([[9]]), [[3]]);
});

Deno.test("law: L Lᵀ gives the matrix back, also one of lower rank", () => {
  const entry = fc.integer({ min: -24, max: 24 }).map((n) => n / 8);
  const square = fc.array(fc.array(entry, { minLength: 4, maxLength: 4 }), {
    minLength: 4,
    maxLength: 4,
  });
  fc.assert(fc.property(square, fc.boolean(), (a, repeat) => {
    const rows = repeat ? [...a.slice(0, 3), a[0] ?? []] : a;
    const matrix = timesTranspose(
      rows.map((row, i) => row.map((v, j) => repeat ? v : v + (i === j ? 8 : 0))),
    );
    const lower = choleskyOfCovariance(matrix);
    timesTranspose(lower).forEach((row, i) =>
      row.forEach((v, j) => near(v, matrix[i]?.[j] ?? NaN, 1e-5, `${i}${j}`, "absolute"))
    );
    assert.ok(lower.every((row, i) => row.every((v, j) => j <= i || v === 0)));
  }));
});

Deno.test("perfect correlation of either sign is allowed", () => {
  assert.deepEqual(choleskyOfCovariance([[1, 1], [1, 1]]), [[1, 0], [1, 0]]);
  assert.deepEqual(choleskyOfCovariance([[1, -1, 1], [-1, 1, -1], [1, -1, 1]]), [[1, 0, 0], [
    -1,
    0,
    0,
  ], [
    1,
    0,
    0,
  ]]);
});

Deno.test("what counts as zero is taken beside the diagonal, whatever the units", () => {
  // DERIVED: a second line 1e-11 of the diagonal apart is a rank less, one 1e-6 apart is not; in pm and in km alike
  for (const unit of [1e-12, 1, 1e12]) {
    assert.equal(
      choleskyOfCovariance([[unit, unit], [unit, unit * (1 - 1e-11)]])[1]?.[1],
      0,
      `${unit}`,
    );
    const apart = choleskyOfCovariance([[unit, unit], [unit, unit * (1 + 1e-6)]])[1]?.[1] ?? NaN;
    near(apart, Math.sqrt(1e-6 * unit), 1e-9, `${unit}`);
    assert.throws(
      () => choleskyOfCovariance([[unit, unit], [unit, unit * (1 - 1e-6)]]),
      /not negative/,
    );
    assert.throws(() =>
      choleskyOfCovariance(
        [[0, 0], [0, unit]].map((row) => [...row, unit / 2]).concat([[
          unit / 2,
          unit / 2,
          unit,
        ]]),
      ), /got .* beside 0/);
  }
});

Deno.test("what is no covariance is refused", () => {
  assert.throws(() => choleskyOfCovariance([[1, 2], [2, 1]]), /not negative, got a pivot of -3/);
  assert.throws(
    () => choleskyOfCovariance([[1, 0.5], [0.4, 1]]),
    /symmetric matrix, got 0.4 and 0.5/,
  );
  assert.throws(() => choleskyOfCovariance([[0, 1], [1, 1]]), RangeError);
  assert.throws(() => choleskyOfCovariance([[1, NaN], [NaN, 1]]), RangeError);
  // 0.9, 0.9 and -0.9 cannot hold together
  assert.throws(
    () => choleskyOfCovariance([[1, 0.9, 0.9], [0.9, 1, -0.9], [0.9, -0.9, 1]]),
    /not negative/,
  );
});

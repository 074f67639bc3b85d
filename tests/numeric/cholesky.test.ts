import assert from "node:assert/strict";
import fc from "fast-check";
import { cholesky } from "../../lib/numeric/cholesky.ts";
import { near } from "../references/reference.ts";

type Matrix = readonly (readonly number[])[];

function timesTranspose(a: Matrix): number[][] {
  return a.map((row) => a.map((other) => row.reduce((sum, v, k) => sum + v * (other[k] ?? 0), 0)));
}

Deno.test("two by two, by hand", () => {
  // DERIVED: [[4,2],[2,10]] = L Lᵀ with L = [[2,0],[1,3]]
  assert.deepEqual(cholesky([[4, 2], [2, 10]]), [[2, 0], [1, 3]]);
  assert.deepEqual(cholesky([[9]]), [[3]]);
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
    const lower = cholesky(matrix);
    timesTranspose(lower).forEach((row, i) =>
      row.forEach((v, j) => near(v, matrix[i]?.[j] ?? NaN, 1e-5, `${i}${j}`, "absolute"))
    );
    assert.ok(lower.every((row, i) => row.every((v, j) => j <= i || v === 0)));
  }));
});

Deno.test("perfect correlation of either sign is allowed", () => {
  assert.deepEqual(cholesky([[1, 1], [1, 1]]), [[1, 0], [1, 0]]);
  assert.deepEqual(cholesky([[1, -1, 1], [-1, 1, -1], [1, -1, 1]]), [[1, 0, 0], [-1, 0, 0], [
    1,
    0,
    0,
  ]]);
});

Deno.test("what counts as zero is taken beside the diagonal, whatever the units", () => {
  // DERIVED: a second line 1e-11 of the diagonal apart is a rank less, one 1e-6 apart is not; in pm and in km alike
  for (const unit of [1e-12, 1, 1e12]) {
    assert.equal(cholesky([[unit, unit], [unit, unit * (1 - 1e-11)]])[1]?.[1], 0, `${unit}`);
    const apart = cholesky([[unit, unit], [unit, unit * (1 + 1e-6)]])[1]?.[1] ?? NaN;
    near(apart, Math.sqrt(1e-6 * unit), 1e-9, `${unit}`);
    assert.throws(() => cholesky([[unit, unit], [unit, unit * (1 - 1e-6)]]), /not negative/);
    assert.throws(() =>
      cholesky(
        [[0, 0], [0, unit]].map((row) => [...row, unit / 2]).concat([[
          unit / 2,
          unit / 2,
          unit,
        ]]),
      ), /got .* beside 0/);
  }
});

Deno.test("what is no covariance is refused", () => {
  assert.throws(() => cholesky([[1, 2], [2, 1]]), /not negative, got a pivot of -3/);
  assert.throws(() => cholesky([[1, 0.5], [0.4, 1]]), /symmetric matrix, got 0.4 and 0.5/);
  assert.throws(() => cholesky([[0, 1], [1, 1]]), RangeError);
  assert.throws(() => cholesky([[1, NaN], [NaN, 1]]), RangeError);
  // 0.9, 0.9 and -0.9 cannot hold together
  assert.throws(() => cholesky([[1, 0.9, 0.9], [0.9, 1, -0.9], [0.9, -0.9, 1]]), /not negative/);
});

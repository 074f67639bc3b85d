import assert from "node:assert/strict";
import fc from "fast-check";
import {
  backward,
  dot,
  forward,
  forwardAll,
  lowerTriangle,
  matrix,
  product,
  solve,
  solveColumn,
  times,
  transpose,
} from "../../lib/numeric/smallMatrix.ts";
import { close } from "../optics/close.ts";

const numbers = fc.array(fc.double({ min: -2, max: 2, noNaN: true }), {
  minLength: 16,
  maxLength: 16,
});

Deno.test("L L^T gives the matrix back, and both triangles are solved", () => {
  fc.assert(fc.property(numbers, (v) => {
    const b = matrix(4, 4, (i, j) => v[4 * i + j] ?? 0), a = product(b, transpose(b));
    a.forEach((row, i) => row[i] = (row[i] ?? 0) + 1);
    const lower = lowerTriangle(a), back = product(lower, transpose(lower));
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
  assert.throws(() => lowerTriangle([Float64Array.of(1, 2), Float64Array.of(2, 1)]), /positive/);
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

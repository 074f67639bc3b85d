import assert from "node:assert/strict";
import fc from "fast-check";
import { symmetricSolve } from "../../lib/telescope/symmetricSolve.ts";

Deno.test("law: what it finds solves the equations", () => {
  const entry = fc.double({ min: -1, max: 1, noNaN: true });
  fc.assert(fc.property(
    fc.array(fc.array(entry, { minLength: 5, maxLength: 5 }), { minLength: 5, maxLength: 5 }),
    fc.array(entry, { minLength: 5, maxLength: 5 }),
    (rows, b) => {
      // DERIVED: M M^T + 1 is positive whatever M is
      const a = rows.map((row, i) =>
        Float64Array.from(
          rows,
          (other, j) => row.reduce((sum, v, k) => sum + v * (other[k] ?? 0), i === j ? 1 : 0),
        )
      );
      const x = symmetricSolve(a, Float64Array.from(b));
      a.forEach((row, i) => {
        const got = row.reduce((sum, v, k) => sum + v * (x[k] ?? 0), 0);
        assert.ok(Math.abs(got - (b[i] ?? 0)) < 1e-10);
      });
    },
  ));
});

Deno.test("refuses a matrix that is not positive", () => {
  const flat = [Float64Array.of(1, 1), Float64Array.of(1, 1)];
  assert.throws(
    () => symmetricSolve(flat, Float64Array.of(1, 1)),
    /positive matrix, got a pivot of 0/,
  );
});

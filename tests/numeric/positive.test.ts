import assert from "node:assert/strict";
import fc from "fast-check";
import { inversePositive, solvePositive, triangle } from "../../lib/numeric/positive.ts";
import { close } from "../optics/close.ts";

Deno.test("positive matrices are solved and inverted; others are told", () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 16, maxLength: 16 }),
      (m) => {
        const a = new Float64Array(16); // M M^T + 1 is positive
        for (let i = 0; i < 4; i++) {
          for (let j = 0; j < 4; j++) {
            a[4 * i + j] = i === j ? 1 : 0;
            for (let k = 0; k < 4; k++) {
              a[4 * i + j] = (a[4 * i + j] ?? 0) + (m[4 * i + k] ?? 0) * (m[4 * j + k] ?? 0);
            }
          }
        }
        const x = Float64Array.of(1, -2, 3, 0.5);
        const b = x.map((_, i) => x.reduce((s, v, j) => s + (a[4 * i + j] ?? 0) * v, 0));
        solvePositive(a, b)?.forEach((v, i) => close(v, x[i] ?? NaN, 1e-8));
        const inverse = inversePositive(a, 4) ?? new Float64Array(16);
        let trace = 0;
        for (let i = 0; i < 4; i++) {
          for (let j = 0; j < 4; j++) trace += (a[4 * i + j] ?? 0) * (inverse[4 * j + i] ?? 0);
        }
        close(trace, 4, 1e-8);
      },
    ),
  );
  assert.equal(solvePositive(Float64Array.of(1, 2, 2, 1), Float64Array.of(1, 1)), undefined);
  const thin = Float64Array.of(4, 2, 2, 1 + 1e-9); // DERIVED: pivots 4 and 1e-9
  assert.notEqual(triangle(thin, 2), undefined);
  assert.equal(triangle(thin, 2, 1e-8), undefined);
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { fewestColumns } from "../../../lib/testing/zones/fewestColumns.ts";
import { dot, times } from "../../../lib/numeric/smallMatrix.ts";
import { near } from "../../references/reference.ts";

const numbers = (length: number): fc.Arbitrary<Float64Array> =>
  fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: length, maxLength: length })
    .map((list) => Float64Array.from(list));

/** Fewest columns for places whose covariances are the products of these rows. */
const fewest = (rows: readonly Float64Array[], leading = rows.length): Float64Array[] =>
  fewestColumns(
    Float64Array.from(rows, (row) => dot(row, row)),
    (at) => times(rows, rows[at] ?? []),
    leading,
  );

Deno.test("law: the columns' products are the rows', but for a thousandth of the widest spread", () => {
  fc.assert(fc.property(fc.array(numbers(5), { minLength: 2, maxLength: 9 }), (rows) => {
    const columns = fewest(rows);
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
    fc.property(fc.array(numbers(4), { minLength: 3, maxLength: 6 }), numbers(6), (rows, parts) => {
      fc.pre(Math.max(...rows.map((row) => dot(row, row))) > 0.1);
      const unit = 1e-6;
      const follower = Float64Array.from(
        { length: 4 },
        (_, k) => rows.reduce((sum, row, i) => sum + unit * (parts[i] ?? 0) * (row[k] ?? 0), 0),
      );
      const columns = fewest([...rows, follower], rows.length);
      const held = columns.reduce((sum, c) => sum + (c.at(-1) ?? 0) ** 2, 0);
      const widest = Math.max(...rows.map((row) => dot(row, row)));
      const most = 1e-6 * widest * (unit * parts.reduce((sum, p) => sum + Math.abs(p), 0)) ** 2;
      near(held, dot(follower, follower), 1.01 * most + 1e-24, "variance", "absolute");
    }),
  );
});

Deno.test("places that move alike need one column, places at rest none", () => {
  const alike = [1, -2, 0.5].map((size) => Float64Array.of(size, size, size));
  assert.equal(fewest(alike).length, 1);
  assert.deepEqual(fewest([new Float64Array(3), new Float64Array(3)]), []);
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { median } from "../../lib/numeric/median.ts";

const number = fc.double({ min: -1e3, max: 1e3, noNaN: true });

Deno.test("law: the median does not mind the order, and lies in the middle", () => {
  fc.assert(fc.property(fc.array(number, { minLength: 1, maxLength: 30 }), (values) => {
    const middle = median(values);
    assert.equal(middle, median([...values].reverse()));
    assert.ok(values.filter((v) => v < middle).length <= values.length / 2);
    assert.ok(values.filter((v) => v > middle).length <= values.length / 2);
  }));
});

Deno.test("no value has no middle", () => {
  assert.throws(() => median([]), /median requires one value or more/);
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { measured } from "../../lib/quantity/measured.ts";
import { exactQ, fromQ, toQ } from "../../lib/knowledge/q.ts";

Deno.test("a measured value keeps value, unit, u and where it is from", () => {
  // INVENTED
  assert.deepEqual(toQ(measured(1198.3, 1.2, "mm", 8), ["sun.csv"]), {
    value: 1198.3,
    unit: "mm",
    u: 1.2,
    dof: 8,
    from: ["sun.csv"],
  });
});

Deno.test("what is not known is left out: no u of zero, no endless dof, no empty from", () => {
  assert.deepEqual(toQ(measured(3, 0, "mm")), { value: 3, unit: "mm" });
  assert.deepEqual(toQ(measured(3, 0, "mm", 4)), { value: 3, unit: "mm" });
  assert.deepEqual(toQ(measured(3, 1, "", Infinity), []), { value: 3, unit: "", u: 1 });
  assert.deepEqual(exactQ(3, "mm"), { value: 3, unit: "mm" });
  assert.deepEqual(exactQ(3, "mm", ["mirror.yaml"]).from, ["mirror.yaml"]);
});

Deno.test("law: there and back through JSON nothing is lost", () => {
  const finite = fc.double({ noNaN: true, noDefaultInfinity: true });
  const above = fc.double({ min: 1e-12, max: 1e12, noNaN: true });
  fc.assert(
    fc.property(finite, above, above, fc.constantFrom("mm", "nm", ""), (value, u, dof, unit) => {
      const there = toQ({ value, u, dof, unit });
      const back = fromQ(JSON.parse(JSON.stringify(there)));
      // JSON has no minus zero
      assert.deepEqual(back, { value: value + 0 === 0 ? 0 : value, u, dof, unit });
    }),
    { numRuns: 200, seed: 1 },
  );
});

Deno.test("a value without uncertainty comes back as exact", () => {
  assert.deepEqual(fromQ({ value: 2400, unit: "mm" }), {
    value: 2400,
    u: 0,
    dof: Infinity,
    unit: "mm",
  });
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { measured } from "../../lib/quantity/measured.ts";

Deno.test("keeps what it is given; degrees of freedom are infinite unless said", () => {
  // INVENTED
  assert.deepEqual(measured(1203, 4, "mm", 5), { value: 1203, u: 4, dof: 5, unit: "mm" });
  assert.deepEqual(measured(-0.1, 0, ""), { value: -0.1, u: 0, dof: Infinity, unit: "" });
});

Deno.test("law: any finite value with u of 0 or more is taken, anything else refused", () => {
  const any = fc.oneof(fc.double(), fc.constantFrom(NaN, Infinity, -Infinity, 0, -1));
  fc.assert(fc.property(any, any, any, (value, u, dof) => {
    const good = Number.isFinite(value) && Number.isFinite(u) && u >= 0 && dof > 0;
    if (good) assert.deepEqual(measured(value, u, "mm", dof), { value, u, dof, unit: "mm" });
    else assert.throws(() => measured(value, u, "mm", dof), RangeError);
  }));
});

Deno.test("the refusal names what was wrong", () => {
  assert.throws(() => measured(NaN, 1, "mm"), /measured requires a finite value, got NaN/);
  assert.throws(() => measured(1, -1, "mm"), /finite u of 0 or more, got u=-1/);
  assert.throws(() => measured(1, 1, "mm", 0), /dof above 0, got dof=0/);
});

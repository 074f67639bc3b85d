import assert from "node:assert/strict";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { classSpread } from "../../lib/knowledge/classSpread.ts";
import { kestrelLane } from "../record/classBench.ts";

const many = await openClass(kestrelLane);

Deno.test("the demo class lies 12.5 mm apart, mended 8.5", () => {
  const spread = classSpread(many, "leaves");
  // INVENTED class; CROSS-CHECK tests/measuring/secondRoute.py, twelve of the class: its f, 12.4 and 8.4; the leaves' steps move each f by up to half a millimetre
  assert.ok(Math.abs((spread?.sd ?? 0) - 12.4) < 0.3, `${spread?.sd}`);
  assert.ok(Math.abs((spread?.ownU ?? 0) - 3) < 0.2, `${spread?.ownU}`);
  assert.equal(spread?.rows[spread.farthest?.index ?? 0]?.record, "bench-06");
  assert.equal(spread?.farthest?.tooFar, false);
  const mended = classSpread(many, "leaves", { mended: { "bench-06": 1196.4 } });
  assert.ok(Math.abs((mended?.sd ?? 0) - 8.4) < 0.3, `${mended?.sd}`);
});

Deno.test("only one plan is compared: a mirror of another is left out and counted", () => {
  const [first] = many.rows;
  assert.ok(first !== undefined);
  const rows = [...many.rows, { ...first, record: "other", aperture: 200 }];
  const spread = classSpread({ rows }, "leaves");
  assert.deepEqual([spread?.count, spread?.leftOut], [12, 1]);
});

Deno.test("by stage; and nothing where fewer than three have such a reading", () => {
  assert.equal(
    classSpread(many, "leaves", { at: ["fine grinding", "measuring", "correcting"] })?.count,
    5,
  );
  assert.equal(classSpread(many, "leaves", { at: ["polishing"] }), undefined);
  assert.equal(classSpread(many, "spherometer"), undefined);
  assert.equal(classSpread(many, "sun distance")?.count, 3);
});

import assert from "node:assert/strict";
import { classFrame } from "../../lib/knowledge/classFrame.ts";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { kestrelLane } from "../record/classBench.ts";

const many = await openClass(kestrelLane), frame = await classFrame(many);

Deno.test("a row a mirror, units in the columns' names, places of the leader's order from 1 on", () => {
  assert.equal(frame.height, 12);
  for (const name of ["f_mm", "f_u_mm", "sagitta_mm", "too_deep_um", "minutes_to_target"]) {
    assert.ok(frame.columns.includes(name), name);
  }
  const places = frame.getColumn("attention").toArray().map(Number);
  assert.deepEqual(places.toSorted((a, b) => a - b), Array.from({ length: 12 }, (_, i) => i + 1));
});

Deno.test("it answers what a leader asks: mean f of the polished ones, who should measure", async () => {
  const { default: pl } = await import("nodejs-polars");
  const polishing = frame.filter(pl.col("stage").eq(pl.lit("polishing"))).getColumn("f_mm");
  const [a = 0, b = 0] = polishing.toArray().map(Number);
  assert.ok(Math.abs(polishing.mean() - (a + b) / 2) < 1e-9);
  const measure = frame.filter(pl.col("measure").isNotNull()).getColumn("record").toArray();
  assert.deepEqual(measure, ["bench-04", "bench-06", "bench-11", "bench-12"]);
});

Deno.test("a class of none is a frame of no rows with the same columns", async () => {
  const none = await classFrame({ name: "none", rows: [], unreadable: [] });
  assert.deepEqual([none.height, none.columns], [0, frame.columns]);
});

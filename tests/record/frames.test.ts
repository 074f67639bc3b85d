import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { tableFrame } from "../../lib/record/frames.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import { columnsOf, TABLES, usualHeader } from "../../lib/record/schema.ts";
import { read } from "./bench.ts";

const demo = await readRecord(
  fileURLToPath(new URL("../../data/records/demo-150-f8", import.meta.url)),
);

Deno.test("a frame has the table's own column names, then the common ones and the line", async () => {
  for (const table of TABLES) {
    const { columns } = await tableFrame(demo, table);
    const own = columnsOf(table).map(usualHeader);
    const read = own.filter((name) => name !== "minutes" || table === "grinding");
    assert.deepEqual(columns, [...read, "line"], "minutes of a row are read as after_min");
  }
});

Deno.test("a frame has as many rows as the table, also none", async () => {
  const empty = await read({});
  for (const table of TABLES) {
    assert.equal((await tableFrame(demo, table)).height, demo[table].length);
    assert.equal((await tableFrame(empty, table)).height, 0);
  }
});

Deno.test("leaves stand as their sum, what is absent as null", async () => {
  const { sagitta } = demo;
  const rows = (await tableFrame(demo, "sagitta")).toRecords();
  assert.equal(rows[0]?.["go_mm"], 0.19);
  assert.equal(rows[0]?.["depth_mm"], null);
  assert.deepEqual(rows.map((row) => row["line"]), sagitta.map(({ line }) => line));
});

Deno.test("a column keeps its kind when every cell is empty", async () => {
  const record = await read({ "sun.csv": "distance_mm,note\n1199,\n" });
  const frame = await tableFrame(record, "sun");
  const kinds = frame.dtypes.map((kind) => String(kind).replace(/^DataType\((.*)\)$/, "$1"));
  assert.deepEqual(kinds, [
    "Float64",
    "Float64",
    "Float64",
    "String",
    "Float64",
    "String",
    "Float64",
  ]);
});

Deno.test("a frame answers a question that a leader asks: the mean of each zone on the last day", async () => {
  const { default: pl } = await import("nodejs-polars");
  const frame = (await tableFrame(demo, "zones"))
    .filter(pl.col("date").eq(pl.lit("2026-06-26")))
    .groupBy("inner_mm").agg(pl.col("reading_mm").mean()).sort("inner_mm");
  const means = frame.getColumn("reading_mm").toArray().map((value) => Number(value).toFixed(3));
  // DERIVED: the means of the workshop's story, as in the test of the demo record.
  assert.deepEqual(means, ["12.126", "12.210", "12.394", "12.536", "12.758"]);
});

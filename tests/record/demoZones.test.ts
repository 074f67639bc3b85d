import assert from "node:assert/strict";
import { demoRows } from "./demoZones.ts";

Deno.test("the demo's rows of three seats are those that its invented bench gives", () => {
  const table = Deno.readTextFileSync(
    new URL("../../data/records/demo-150-f8/zones.csv", import.meta.url),
  );
  const rows = table.split("\n").filter((row) => row.startsWith("2026-06-27"));
  assert.equal(rows.length, 108);
  assert.deepEqual(rows, demoRows());
});

import assert from "node:assert/strict";
import { attention, daysBetween } from "../../lib/knowledge/classAttention.ts";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { kestrelLane, withClass } from "../record/classBench.ts";

const many = await openClass(kestrelLane);

Deno.test("refused or warned first, then whoever stops soon, then the longest idle, the done last", () => {
  const list = attention(many, 10);
  assert.deepEqual(list.map(({ record }) => Number(record.slice(-2))), [
    ...[6, 12, 11, 4, 10, 9, 8, 2, 3, 5, 7, 1],
  ]);
  assert.deepEqual(list.map(({ reason }) => reason), [
    ...["warned", "warned", "soon", "soon", "idle", "idle", "idle", "idle", "idle", "idle"],
    ...["idle", "done"],
  ]);
  assert.deepEqual(list.slice(4, 7).map(({ idleDays }) => idleDays), [21, 14, 7]);
});

Deno.test("a record that cannot be read comes before all, and is named by its folder", () =>
  withClass({ "bench-10/mirror.yaml": "aperture: 150\n" }, async (folder) => {
    const [first, second] = attention(await openClass(folder), 10);
    assert.deepEqual([first?.record, first?.reason, first?.title], [
      "bench-10",
      "refused",
      "bench-10",
    ]);
    assert.match(first?.why ?? "", /^Cannot be read: mirror\.yaml/);
    assert.equal(second?.record, "bench-06");
  }));

Deno.test("with a limit of nothing nobody stops soon; every bench is there once", () => {
  const list = attention(many, 0);
  assert.ok(list.every(({ reason }) => reason !== "soon"));
  assert.equal(new Set(list.map(({ record }) => record)).size, 12);
});

Deno.test("rows without a date come after those that have one", () => {
  const undated = many.rows.map((row) => {
    const { lastDay: _, ...rest } = row;
    return row.record === "bench-10" ? rest : row;
  });
  const idle = attention({ ...many, rows: undated }, 10).filter(({ reason }) => reason === "idle");
  assert.equal(idle.at(-1)?.record, "bench-10");
  assert.equal(idle.at(-1)?.idleDays, undefined);
});

Deno.test("days are counted over months and leap years", () => {
  assert.equal(daysBetween("2026-09-05", "2026-09-26"), 21);
  assert.equal(daysBetween("2028-02-28", "2028-03-01"), 2);
});

import assert from "node:assert/strict";
import { attention, daysBetween } from "../../lib/knowledge/classAttention.ts";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { kestrelLane, withClass } from "../record/classBench.ts";

const many = await openClass(kestrelLane);

Deno.test("what cannot be undone first, then an adult, slips, the longest idle, the done last", () => {
  const list = attention(many, 10);
  assert.deepEqual(list.map(({ record }) => Number(record.slice(-2))), [
    ...[11, 4, 6, 7, 9, 12, 10, 8, 2, 3, 5, 1],
  ]);
  assert.deepEqual(list.map(({ reason }) => reason), [
    ...["cannot be undone", "cannot be undone", "adult", "adult", "too deep", "slip"],
    ...["idle", "idle", "idle", "idle", "idle", "done"],
  ]);
  assert.deepEqual(list.slice(6, 8).map(({ idleDays }) => idleDays), [21, 7]);
  assert.match(list[2]?.why ?? "", /Edge work: an adult stands beside\. f by leaves .*bevel/);
  assert.match(list[3]?.why ?? "", /pitch/);
});

Deno.test("a record that cannot be read is named by its folder, after slips; every folder is there", () =>
  withClass({
    "bench-10/mirror.yaml": "aperture: 150\n",
    "bench-13/photos/x.txt": "no record",
  }, async (folder) => {
    await Deno.mkdir(`${folder}/bench-14`);
    const list = attention(await openClass(folder), 10);
    const at = (record: string): number => list.findIndex((one) => one.record === record);
    const [ten, nothing] = [list[at("bench-10")], list[at("bench-14")]];
    assert.deepEqual([ten?.reason, ten?.title], ["cannot be read", "bench-10"]);
    assert.match(ten?.why ?? "", /^Cannot be read: mirror\.yaml/);
    assert.deepEqual([nothing?.reason, nothing?.why], ["nothing yet", "Its folder is empty."]);
    assert.ok(at("bench-06") < at("bench-10") && at("bench-10") < at("bench-14"));
    assert.equal(list.length, 14);
  }));

Deno.test("one table with a slip of the pencil hides nothing that the others say: a bench near its depth stays first", () =>
  withClass({ "bench-11/zones.csv": "run;reading\n" }, async (folder) => {
    const [first] = attention(await openClass(folder), 10);
    assert.deepEqual([first?.record, first?.reason], ["bench-11", "cannot be undone"]);
    assert.match(first?.why ?? "", /min to its depth.* Cannot be read: zones\.csv/);
    assert.match(first?.do ?? "", /^Grind the last minute/);
  }));

Deno.test("with a limit of nothing nobody stops soon; every bench is there once", () => {
  const list = attention(many, 0);
  assert.ok(list.every(({ reason }) => reason !== "cannot be undone"));
  assert.equal(new Set(list.map(({ record }) => record)).size, 12);
});

Deno.test("one reading of a wrong year leaves the others' days as they are: the clock counts", async () => {
  const list = attention(await openClass(kestrelLane, { today: "2026-09-28" }), 10);
  assert.deepEqual(list.map(({ idleDays }) => idleDays), [2, 2, 9, 2, 16, 2, 23, 9, 2, 2, 2, 2]);
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

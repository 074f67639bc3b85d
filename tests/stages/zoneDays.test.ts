/** Surface by surface: pooled days, days alone, their names, masks, and faults in the flat's shadow. */
import assert from "node:assert/strict";
import {
  daysAlone,
  daysOf,
  isInShadow,
  masksOf,
  openingsOf,
  reducedDays,
} from "../../lib/stages/zoneDays.ts";
import { demo, empty, mirrorOf, shadowed } from "./mirrors.ts";

Deno.test("every surface is reduced, in order, days without work between them as one, and says what the summary says of the last", () => {
  const days = reducedDays(demo);
  assert.deepEqual(days.map(({ date, found }) => [date, found.runs, found.verdict]), [
    ["2026-06-12", 3, "not shown"],
    ["2026-06-19", 3, "not shown"],
    ["2026-06-27", 17, "yes"],
  ]);
  const last = demo.summary.figure?.zones?.wavefront_pv?.value;
  assert.equal(days.at(-1)?.found.wavefrontPv.value, last);
  assert.equal(reducedDays(demo), days, "reduced once, remembered");
});

Deno.test("the first runs only, to see what fewer would have said", () => {
  assert.deepEqual(reducedDays(demo, 1).map(({ found }) => found.runs), [1, 1, 1]);
  assert.deepEqual(reducedDays(demo, 2).map(({ found }) => found.runs), [2, 2, 2]);
});

Deno.test("a surface that cannot be reduced is left out, the others stay", () => {
  const odd = {
    file: "zones.csv",
    line: 99,
    date: "2026-07-01",
    run: "x",
    inner: 0,
    outer: 30,
    reading: 1,
  };
  const [spell] = demo.record.grinding.slice(-1);
  assert.ok(spell !== undefined);
  const grinding = [...demo.record.grinding, { ...spell, date: "2026-06-30" }];
  const days = reducedDays(
    mirrorOf({ ...demo.record, grinding, zones: [...demo.record.zones, odd] }),
  );
  assert.deepEqual(days.map(({ date }) => date), ["2026-06-12", "2026-06-19", "2026-06-27"]);
  assert.deepEqual(reducedDays(empty), []);
});

Deno.test("the days of one surface by themselves, as if the others had not been read", () => {
  const alone = daysAlone(demo);
  assert.deepEqual(alone.map(({ date, found }) => [date, found.runs, found.verdict, found.scope]), [
    ["2026-06-26", 5, "not shown", "one diameter"],
    ["2026-06-27", 12, "yes", "whole surface"],
  ]);
  // the same as a record that ends with that day
  const zones = demo.record.zones.filter(({ date }) => (date ?? "") <= "2026-06-26");
  const until = reducedDays(mirrorOf({ ...demo.record, zones })).at(-1)?.found;
  assert.equal(alone[0]?.found.probabilityWithinGoal, until?.probabilityWithinGoal);
  assert.equal(daysAlone(demo), alone, "reduced once, remembered");
  assert.deepEqual(daysAlone(empty), []);
  const first = demo.record.zones.filter(({ date }) => date === "2026-06-12");
  assert.deepEqual(daysAlone(mirrorOf({ ...demo.record, zones: first })), []);
});

Deno.test("days in short keep what differs", () => {
  assert.equal(daysOf({ dates: [] }), "undated");
  assert.equal(daysOf({ dates: ["2026-06-26"] }), "2026-06-26");
  assert.equal(daysOf({ dates: ["2026-06-30", "2026-07-01"] }), "2026-06-30 and 07-01");
  assert.equal(
    daysOf({ dates: ["2026-12-30", "2026-12-31", "2027-01-02"] }),
    "2026-12-30 to 2027-01-02",
  );
});

Deno.test("runs through one mask stand together, whatever their order of openings", () => {
  const rows = demo.record.zones.filter(({ date }) => (date ?? "") >= "2026-06-26");
  const masks = masksOf(rows);
  assert.deepEqual(masks.map((own) => [own.length, openingsOf(own).length]), [[25, 5], [108, 9]]);
  assert.equal(openingsOf(masks[1] ?? []).at(-1)?.outer, 74);
});

Deno.test("a fault in the flat's shadow alone: no of the whole disc, yes outside", () => {
  const found = reducedDays(shadowed).at(-1)?.found;
  assert.ok(found !== undefined);
  assert.deepEqual([found.verdict, found.outsideShadow?.verdict], ["no", "yes"]);
  assert.equal(isInShadow(found), true);
  for (const { found: other } of reducedDays(demo)) assert.equal(isInShadow(other), false);
});

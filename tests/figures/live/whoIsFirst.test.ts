import assert from "node:assert/strict";
import { inOrder, soonMin, whoIsFirst } from "../../../lib/figures/live/whoIsFirst.ts";
import { decision } from "../../../lib/record/tables.ts";

const { start } = whoIsFirst;
const reasons = (changes: Record<string, number>): string[] =>
  inOrder({ ...start, ...changes }).map(({ bench, reason }) => `${bench} ${reason}`);

Deno.test("near its depth by the course's own limit, and not before", () => {
  assert.equal(soonMin, decision("forecast_soon"));
  assert.equal(reasons({ minutes: soonMin - 1 })[0], "1 cannot be undone");
  assert.equal(reasons({ minutes: soonMin })[0], "3 adult");
});

Deno.test("too deep stands between the adult and the slip, idle days among those that go on", () => {
  assert.deepEqual(reasons({ minutes: 30, deep: 20, idle: 5 }), [
    "3 adult",
    "2 too deep",
    "4 slip",
    "5 tester",
    "6 idle",
    "1 idle",
  ]);
  assert.deepEqual(reasons({ minutes: 30, deep: 0, idle: 0 }).slice(3), [
    "1 idle",
    "2 idle",
    "6 idle",
  ]);
});

Deno.test("the words tell the queue and who is first", () => {
  assert.match(whoIsFirst.reading({ ...start, testers: 4 }).markup, /hardly anybody waits/);
  assert.match(whoIsFirst.reading({ ...start, mirrors: 12 }).markup, /does not end/);
  assert.match(whoIsFirst.reading({ ...start, minutes: 5 }).markup, /bench 1<\/output>: 5\.0 min/);
});

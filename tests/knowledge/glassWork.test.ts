/** Which readings are of one surface: by days, by minutes of the log, by the diary. */
import assert from "node:assert/strict";
import { isStale, readingsSaid, zoneMeasurements } from "../../lib/knowledge/glassWork.ts";
import { read } from "../record/bench.ts";

type Parts = Parameters<typeof zoneMeasurements>[0];

const zone = (date?: string, afterMin?: number): Parts["zones"][number] => ({
  ...{ file: "zones.csv", line: 2, run: "1", inner: 0, outer: 30, reading: 12 },
  ...(date === undefined ? {} : { date }),
  ...(afterMin === undefined ? {} : { afterMin }),
});
const session = (minutes: number, date?: string): Parts["grinding"][number] => ({
  ...{ file: "grinding.csv", line: 2, abrasive: "rouge", position: "mirror on top", minutes },
  ...(date === undefined ? {} : { date }),
});
const act = (what: Parts["diary"][number]["what"], date: string): Parts["diary"][number] => ({
  ...{ file: "diary.csv", line: 2, what, date },
});
const parts = (some: Partial<Parts>): Parts => ({ zones: [], grinding: [], diary: [], ...some });
const days = (some: Partial<Parts>): (readonly string[])[] =>
  zoneMeasurements(parts(some)).map(({ dates }) => dates);

Deno.test("days without work between them are one measurement, in the order of time, however typed", () => {
  const zones = ["2026-10-02", "2026-06-30", "2026-07-04", "2026-10-02"].map((date) => zone(date));
  assert.deepEqual(days({ zones }), [["2026-06-30", "2026-07-04", "2026-10-02"]]);
  assert.deepEqual(days({ zones, grinding: [session(5, "2026-08-01")] }), [
    ["2026-06-30", "2026-07-04"],
    ["2026-10-02"],
  ]);
  assert.deepEqual(days({ zones, grinding: [session(0, "2026-08-01")] }).length, 1, "no minute");
  assert.deepEqual(zoneMeasurements(parts({})), []);
});

Deno.test("acts that change the glass part readings, others do not", () => {
  const zones = [zone("2026-06-30"), zone("2026-07-04")];
  const parted = (what: Parts["diary"][number]["what"]): number =>
    days({ zones, diary: [act(what, "2026-07-01")] }).length;
  assert.deepEqual((["bevel renewed", "chip"] as const).map(parted), [2, 2]);
  assert.deepEqual((["lap pressed", "pits", "washed", "star seen"] as const).map(parted), [
    1,
    1,
    1,
    1,
  ]);
});

Deno.test("work of a reading's own day came before it, unless the minutes say otherwise", () => {
  const zones = [zone("2026-06-12"), zone("2026-06-19")], grinding = [session(6, "2026-06-19")];
  const [, after] = zoneMeasurements(parts({ zones, grinding }));
  assert.deepEqual([after?.dates, after?.afterWork], [["2026-06-19"], ["2026-06-19"]]);
  assert.equal(isStale(parts({ zones, grinding })), false);
  const timed = parts({ zones: [zone("2026-06-12", 0), zone("2026-06-19", 0)], grinding });
  assert.deepEqual(
    zoneMeasurements(timed).map(({ dates, afterWork }) => [dates.length, afterWork]),
    [
      [2, []],
    ],
  );
  assert.equal(isStale(timed), true);
});

Deno.test("without days the minutes part the readings; without either all work came before", () => {
  const grinding = [session(60), session(4)];
  const timed = parts({ zones: [zone(undefined, 60), zone(undefined, 64)], grinding });
  assert.equal(zoneMeasurements(timed).length, 2);
  assert.equal(zoneMeasurements(timed)[1]?.date, undefined);
  const untold = parts({ zones: [zone(), zone()], grinding });
  assert.deepEqual([zoneMeasurements(untold).length, isStale(untold)], [1, false]);
});

Deno.test("work after the last reading makes it stale; without readings nothing is", () => {
  const zones = [zone("2026-06-12")];
  assert.equal(isStale(parts({ zones, grinding: [session(6, "2026-06-13")] })), true);
  assert.equal(isStale(parts({ zones, diary: [act("chip", "2026-06-13")] })), true);
  assert.equal(isStale(parts({ zones, diary: [act("washed", "2026-06-13")] })), false);
  assert.equal(isStale(parts({ grinding: [session(6, "2026-06-13")] })), false);
});

Deno.test("a run is one pass: the same name in another seat, with another knife, on another day is another", async () => {
  const { zones, grinding, diary } = await read({
    "zones.csv": "date,run,angle_deg,knife_deg,inner_mm,outer_mm,reading_mm\n" +
      ["12,1,0,0", "12,1,0,90", "12,1,45,0", "13,1,45,0"].map((head) =>
        `2026-06-${head},0,30,1\n2026-06-${head},30,45,1\n`
      ).join(""),
  });
  const [all] = zoneMeasurements({ zones, grinding, diary });
  assert.ok(all !== undefined);
  assert.match(readingsSaid(all), /^4 runs of 2026-06-12 and 2026-06-13 taken together/);
});

Deno.test("many days are told by the first and the last", () => {
  const zones = [1, 2, 3, 4].map((day) => zone(`2026-06-0${day}`));
  const [all] = zoneMeasurements(parts({ zones, grinding: [session(5, "2026-06-01")] }));
  assert.ok(all !== undefined);
  assert.equal(
    readingsSaid(all),
    "4 runs of 4 days from 2026-06-01 to 2026-06-04 taken together, for no work on the glass lies between them " +
      "(the work of 2026-06-01 is taken as done before the readings)",
  );
});

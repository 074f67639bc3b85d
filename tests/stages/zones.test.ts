/** The stage of the zones: days reduced one by one, the blocks, and what the readings call for. */
import assert from "node:assert/strict";
import {
  decideZones,
  firstRunAlone,
  reducedDays,
  verdictOverTime,
  yourReadings,
  yourSurface,
} from "../../lib/stages/zones.ts";
import { SPELL_2 } from "../testing/story.ts";
import { demo, empty, halfway, mirror, mirrorOf } from "./mirrors.ts";

Deno.test("every day is reduced, in order, and says what the summary says of the last", () => {
  const days = reducedDays(demo);
  assert.deepEqual(days.map(({ date, found }) => [date, found.runs, found.verdict]), [
    ["2026-06-12", 3, "no"],
    ["2026-06-19", 3, "not shown"],
    ["2026-06-26", 5, "yes"],
  ]);
  const last = demo.summary.figure?.zones?.wavefront_pv?.value;
  assert.equal(days.at(-1)?.found.wavefrontPv.value, last);
  assert.equal(reducedDays(demo), days, "reduced once, remembered");
});

Deno.test("the first runs only, to see what fewer would have said", () => {
  assert.deepEqual(reducedDays(demo, 1).map(({ found }) => found.runs), [1, 1, 1]);
  assert.deepEqual(reducedDays(demo, 2).map(({ found }) => found.runs), [2, 2, 2]);
});

Deno.test("a day that cannot be reduced is left out, the others stay", () => {
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
  assert.deepEqual(days.map(({ date }) => date), ["2026-06-12", "2026-06-19", "2026-06-26"]);
  assert.deepEqual(reducedDays(empty), []);
});

Deno.test("readings of the last day only, with their place in the file", () => {
  const { text } = yourReadings(demo, demo);
  assert.match(text, /From zones\.csv ?, lines 34 to 58, read on 2026-06-26\./);
  // DERIVED: the means of the five runs, opening by opening
  assert.match(text, /5 runs through 5 openings: means 12\.13, 12\.21, 12\.39, 12\.54, 12\.76 mm/);
});

Deno.test("the surface drawn and in numbers", () => {
  const { html, text } = yourSurface(demo, demo);
  assert.match(html, /<svg/);
  assert.match(text, /Conic constant: .0\.66/);
  assert.match(text, /Glass, peak to valley: 26/);
  assert.match(text, /Runs: 5/);
});

Deno.test("the verdict date by date, and what the first run alone would have said", () => {
  const { text } = verdictOverTime(demo, demo);
  for (const date of ["2026-06-12", "2026-06-19", "2026-06-26"]) {
    assert.ok(text.includes(date), date);
  }
  const [, , ...rows] = firstRunAlone(demo).text.split("\n");
  const cells = rows.map((row) => row.split(" | "));
  assert.deepEqual(cells.map((row) => row.at(-1)), ["no", "not shown", "yes"]);
  // on 19 June one run lies over the goal of 0.250, all three under it
  assert.ok(Number(cells[1]?.[1]) > 0.25, `${cells[1]}`);
  assert.ok(Number.parseFloat(cells[1]?.[2] ?? "") < 0.25, `${cells[1]}`);
});

Deno.test("what the readings call for: runs, still air, or the verdict", async () => {
  assert.match(decideZones(empty).text, /^Decide: measure\. Make the mask/);
  assert.match(decideZones(halfway).text, /^Decide: measure\./);
  assert.match(decideZones(demo).text, /^Decide: go on\./);
  assert.match(decideZones(demo).text, /Your scatter: 0\.06\d mm over 5 runs\./);
  const table = (runs: readonly (readonly number[])[], noise: number): Record<string, string> => {
    const edges = [0, 30, 45, 57, 67, 74];
    const rows = runs.flatMap((run, i) =>
      run.map((value, z) =>
        `${i},${edges[z]},${edges[z + 1]},${(value + (i % 2 === 0 ? noise : -noise)).toFixed(3)}`
      )
    );
    return { "zones.csv": `run,inner_mm,outer_mm,reading_mm\n${rows.join("\n")}\n` };
  };
  assert.match(
    decideZones(await mirror(table(SPELL_2.slice(0, 1), 0))).text,
    /^Decide: more runs\./,
  );
  assert.match(decideZones(await mirror(table(SPELL_2.slice(0, 1), 0))).text, /over 1 run\./);
});

Deno.test("readings that scatter: wait for still air", () => {
  const zones = demo.record.zones.map((row, i) => ({
    ...row,
    reading: row.reading + 0.2 * (i % 3 - 1),
  }));
  assert.match(
    decideZones(mirrorOf({ ...demo.record, zones })).text,
    /^Decide: wait for still air\./,
  );
});

/** The stage of the zones: the blocks, and what the readings call for. */
import assert from "node:assert/strict";
import {
  decideZones,
  firstRunAlone,
  verdictOverTime,
  yourReadings,
  yourSurface,
} from "../../lib/stages/zones.ts";
import { SPELL_2 } from "../testing/story.ts";
import { demo, empty, halfway, mirror, mirrorOf } from "./mirrors.ts";

Deno.test("readings of the last surface only, mask by mask, with their place in the file", () => {
  const { text, html } = yourReadings(demo, demo);
  assert.match(
    text,
    /From zones\.csv ?, lines 35 to 167: 17 runs of 2026-06-26 and 2026-06-27 taken together/,
  );
  // DERIVED: the means of the five runs, opening by opening
  assert.match(text, /5 runs through 5 openings: means 12\.13, 12\.21, 12\.39, 12\.54, 12\.76 mm/);
  assert.match(text, /12 runs through 9 openings: means 12\.37, /);
  assert.equal(html.match(/<figure/g)?.length, 2);
});

Deno.test("seats and knives stand beside the readings where there are several", () => {
  const { text } = yourReadings(demo, demo);
  // DERIVED: three seats with two knives each, and the day before
  assert.equal(text.match(/^2026-06-2[67] \| \d+° \| (upright|on its side) \| \d \|/gm)?.length, 7);
  assert.match(text, /^2026-06-27 \| 45° \| on its side \| 2 \| 12\.13$/m);
  const first = demo.record.zones.filter(({ date }) => date === "2026-06-12");
  const one = mirrorOf({ ...demo.record, zones: first });
  assert.doesNotMatch(yourReadings(one, demo).text, /Seats and knives/);
});

Deno.test("a seat's zero is taken out of what is drawn: the strokes of one opening lie as near as their scatter", () => {
  const turned = demo.record.zones.filter(({ date }) => date === "2026-06-27");
  const shifted = turned.map((row) => ({
    ...row,
    reading: row.reading + (row.angleDeg === 45 ? 0.5 : 0),
  }));
  const [was, is] = [turned, shifted].map((zones) =>
    yourReadings(mirrorOf({ ...demo.record, zones }), demo).text
  );
  const means = (text = ""): string | undefined => /12 runs .*? mm\./.exec(text)?.[0];
  assert.equal(means(is), means(was));
});

Deno.test("the surface drawn, as the mean of its diameters where there are several, and in numbers", () => {
  const { html, text } = yourSurface(demo, demo);
  assert.match(html, /<svg/);
  assert.match(text, /Conic constant: .0\.676 ± 0\.021/);
  assert.match(text, /Glass, peak to valley: 32 ± 7/);
  assert.match(text, /Runs: 17/);
  assert.match(text, /What was read: the whole surface/);
  assert.match(text, /Astigmatism of the glass, amplitude: 6 ± 5 nm/);
  assert.match(text, /as the mean of 4 diameters/);
  const first = demo.record.zones.filter(({ date }) => date === "2026-06-12");
  const one = yourSurface(mirrorOf({ ...demo.record, zones: first }), demo).text;
  assert.match(one, /What was read: one diameter/);
  assert.doesNotMatch(one, /mean of|Astigmatism/);
});

Deno.test("the verdict date by date, and what the first run alone would have said", () => {
  const { text } = verdictOverTime(demo, demo);
  for (const date of ["2026-06-12", "2026-06-19", "2026-06-26 and 27"]) {
    assert.ok(text.includes(date), date);
  }
  const [, , ...rows] = firstRunAlone(demo).text.split("\n");
  const cells = rows.map((row) => row.split(" | "));
  assert.deepEqual(cells.map((row) => row.at(-1)), ["not shown", "not shown", "yes"]);
  // on 19 June one run lies over the goal of 0.250, all three under it
  assert.ok(Number(cells[1]?.[1]) > 0.25, `${cells[1]}`);
  assert.ok(Number.parseFloat(cells[1]?.[2] ?? "") < 0.25, `${cells[1]}`);
});

Deno.test("what the readings call for: runs, still air, or the verdict", async () => {
  assert.match(decideZones(empty).text, /^Decide: measure\. Make the mask/);
  assert.match(decideZones(halfway).text, /^Decide: measure\./);
  assert.match(decideZones(demo).text, /^Decide: go on\./);
  assert.match(decideZones(demo).text, /Your scatter: 0\.056 mm over 17 runs\./);
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

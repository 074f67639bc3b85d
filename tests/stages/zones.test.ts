/** The stage of the zones: the blocks, and what the readings call for. */
import assert from "node:assert/strict";
import {
  daysAlone,
  daysOf,
  decideZones,
  doubtOn,
  firstRunAlone,
  isInShadow,
  masksOf,
  openingsOf,
  reducedDays,
  shadowOf,
  verdictOverTime,
  yourDoubt,
  yourReadings,
  yourSurface,
  yourSurfaceFromAbove,
} from "../../lib/stages/zones.ts";
import { SPELL_2 } from "../testing/story.ts";
import { demo, empty, halfway, marks, mirror, mirrorOf, shadowed } from "./mirrors.ts";

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

// The surface from above, and what the doubt is made of.

Deno.test("from above: own where more than one diameter was read, else how to get there and the demo's", () => {
  const own = yourSurfaceFromAbove(demo, demo);
  assert.equal(marks(own), "y");
  assert.match(own.text, /the surface from above, 4 diameters/);
  assert.match(own.text, /a round mirror is not excluded/);
  const zones = demo.record.zones.filter(({ date }) => (date ?? "") <= "2026-06-19");
  const one = yourSurfaceFromAbove(mirrorOf({ ...demo.record, zones }), demo);
  assert.equal(marks(one), "nd");
  assert.match(one.text, /turn the mirror in its stand/);
  assert.equal(marks(yourSurfaceFromAbove(empty, demo)), "nd");
});

Deno.test("the flat's shadow on the mirror is half the flat's width", () => {
  // DERIVED: the demo's flat is 31 mm wide
  assert.equal(shadowOf(demo), 15.5);
  assert.equal(shadowOf(empty), undefined);
});

Deno.test("the doubt in shares: each that counts has its bar, the others their name, and all make one", () => {
  const shown = yourDoubt(demo, demo);
  assert.equal(marks(shown), "y");
  const { budget } = reducedDays(demo).at(-1)?.found ?? { budget: [] };
  for (const { source } of budget) assert.ok(shown.text.includes(source), source);
  assert.match(shown.text, /astigmatism 96 %/);
  assert.match(shown.text, /Below half of one per cent: .*drift within a run/);
  const first = doubtOn(demo, 0).map(({ text }) => text).join("\n");
  const shares = [...first.matchAll(/ (\d+) %/g)].map(([, share]) => Number(share));
  assert.ok(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 100) <= 2, first);
  assert.match(first, /glass that no opening sees 74 %, drift within a run 15 %/);
  assert.equal(marks(yourDoubt(halfway, demo)), "nd");
  assert.throws(() => doubtOn(empty, 0), RangeError);
});

// Surface by surface: pooled days, days alone, their names, masks, and faults in the flat's shadow.

Deno.test("every surface is reduced, in order, days without work between them as one, and says what the summary says of the last", () => {
  const days = reducedDays(demo);
  assert.deepEqual(days.map(({ date, found }) => [date, found.runs, found.verdict]), [
    ["2026-06-12", 3, "not shown"],
    ["2026-06-19", 3, "not shown"],
    ["2026-06-27", 17, "yes"],
  ]);
  const last = demo.summary.figure?.zones?.wavefrontPv?.value;
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
  const [session] = demo.record.grinding.slice(-1);
  assert.ok(session !== undefined);
  const grinding = [...demo.record.grinding, { ...session, date: "2026-06-30" }];
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

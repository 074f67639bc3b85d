/** Days of a table: all or none, and none to come. */
import assert from "node:assert/strict";
import { describe, RecordRefused } from "../../lib/record/errors.ts";
import { dayNow, readRecord } from "../../lib/record/readRecord.ts";
import { KIT_DAY } from "../../lib/version.ts";
import { type Files, refusals, warned, withRecord } from "./bench.ts";

const HEADS: Readonly<Record<string, readonly [head: string, row: string]>> = {
  grinding: ["abrasive,position,minutes", "F80,mirror on top,20"],
  sagitta: ["depth_mm", "1.1"],
  spherometer: ["surface,dial_mm", "flat,1"],
  sun: ["distance_mm", "1199"],
  zones: ["run,inner_mm,outer_mm,reading_mm", "1,0,30,1"],
  ronchi: ["photo,lines_per_mm,offset_mm", "a.jpg,4,-5"],
  diary: ["what", "no pits"],
};

const told = async (files: Files): Promise<string[]> => (await refusals(files)).map(describe);

async function toldOn(today: string, files: Files): Promise<string[]> {
  return await withRecord(files, async (folder) => {
    try {
      await readRecord(folder, today);
      return [];
    } catch (error) {
      if (error instanceof RecordRefused) return error.refusals.map(describe);
      throw error;
    }
  });
}

Deno.test("a day in some rows only is refused in every table, at the first row without one", async () => {
  for (const [table, [head, row]] of Object.entries(HEADS)) {
    const text = `date,${head}\n2026-05-01,${row}\n2026-05-02,${row}\n\n,${row}\n,${row}\n`;
    const found = (await told({ [`${table}.csv`]: text })).filter((line) =>
      /, line 5, .*date/.test(line)
    );
    const wanted = table === "diary"
      ? /found nothing, wanted the day/
      : /wanted a day in each row, as in line 2/;
    assert.equal(found.filter((line) => wanted.test(line)).length, 1, `${table}: ${found}`);
  }
  const first = await told({ "sun.csv": "date,distance_mm\n,1199\n2026-05-01,1199\n" });
  assert.deepEqual(first, [
    "sun.csv, line 2, column date: found nothing, wanted a day in each row, as in line 3: " +
    "write its day; where none is known, leave the column out",
  ]);
});

Deno.test("a day after today is refused in every table, today is not", async () => {
  for (const [table, [head, row]] of Object.entries(HEADS)) {
    const text = `date,${head}\n2026-05-01,${row}\n2026-05-02,${row}\n`;
    const dated = async (today: string): Promise<string[]> =>
      (await toldOn(today, { [`${table}.csv`]: text })).filter((line) => /column date/.test(line));
    assert.deepEqual(await dated("2026-05-01"), [
      `${table}.csv, line 3, column date: found "2026-05-02", wanted a day up to today, 2026-05-01: ` +
      "look at the year and the month; --today sets the day where a clock is wrong",
    ]);
    assert.deepEqual(await dated("2026-05-02"), []);
  }
});

Deno.test("far-off years: beyond the calendar and after today refused, long ago asked about once", async () => {
  const sun = (...days: string[]): Files => ({
    "sun.csv": `date,distance_mm\n${days.map((day) => `${day},1199`).join("\n")}\n`,
  });
  assert.match((await told(sun("0026-05-01"))).join(), /a day that there is, year first/);
  assert.match((await told(sun("2126-05-01"))).join(), /a day up to today/);
  const asked = (await warned(sun("1926-05-01", "1926-05-02"))).filter((line) =>
    /years ago/.test(line)
  );
  assert.deepEqual(asked, [
    "sun.csv, line 2, column date: 1926-05-01 is more than 30 years ago: is the year right?",
  ]);
});

Deno.test("a clock before the kit's own day is not believed", () => {
  assert.equal(dayNow(new Date(1980, 0, 1)), KIT_DAY);
  assert.equal(dayNow(new Date(2099, 11, 31)), "2099-12-31");
});

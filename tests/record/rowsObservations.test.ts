/** observations.csv: clocks, and what each project needs beside what it is called. */
import assert from "node:assert/strict";
import { describe } from "../../lib/record/errors.ts";
import { gapOf, sameName } from "../../lib/record/rows.ts";
import { read, refusals } from "./bench.ts";

const HEAD =
  "date,time,what,object,event,tenths,brighter,fainter,gap_arcsec,right,tries,doubt_s,warmer_c";

Deno.test("one row of each project is read as it was written", async () => {
  const { observations } = await read({
    "observations.csv": `${HEAD}
2026-06-01,21:05,Looked,Saturn,,,,,,,,,
2026-06-01,3:28:01,moon of jupiter,io,fades,,,,,,,20,
2026-06-01,,double star,Mizar,,,,,,9,10,,
2026-06-01,21.40,moon shadow,copernicus,,2.5,,,,,,,
2026-06-01,22:00,variable,Delta Cephei,,3,3.4,4.2,,,,,
2026-06-01,22:11:05.4,occultation,Regulus,goes,,,,,,,0.5,
2026-06-01,,star image,Mizar,before,3,,,,,,,9
`,
  });
  assert.deepEqual(observations.map(({ what, time, event }) => [what, time, event]), [
    ["seen", "21:05", undefined],
    ["moon of jupiter", "03:28:01", "vanishes"],
    ["double star", undefined, undefined],
    ["moon shadow", "21:40", undefined],
    ["variable star", "22:00", undefined],
    ["occultation", "22:11:05.4", "vanishes"],
    ["star image", undefined, "before cooling"],
  ]);
  assert.equal(observations[5]?.doubt, 0.5);
  assert.equal(observations[6]?.warmer, 9);
});

Deno.test("a decimal comma of a clock's seconds, an hour of one digit; twelve hours are asked about", async () => {
  const { observations } = await read({
    "observations.csv": "date;time;what;object\n2026-06-01;9:05:07,5;seen;Moon\n",
  });
  assert.equal(observations[0]?.time, "09:05:07.5");
  const told = (await refusals({
    "observations.csv":
      "date,time,what,object\n2026-06-01,9:05 pm,seen,Moon\n2026-06-01,25:00,seen,Moon\n2026-06-01,half past,seen,Moon\n",
  })).map(describe);
  assert.match(told[0] ?? "", /line 2, column time: found "9:05 pm", .* count the hours to 24/);
  assert.match(told[1] ?? "", /line 3, column time: found "25:00", wanted a time of the clock/);
  assert.equal(told.length, 3);
});

Deno.test("what a project lacks, or cannot have, is refused with line, column and how to mend it", async () => {
  const told = (await refusals({
    "observations.csv": `${HEAD}
2026-06-01,,moon of jupiter,Io,vanishes,,,,,,,,
2026-06-01,22:00,moon of jupiter,Ion,vanishes,,,,,,,,
2026-06-01,22:00,moon of jupiter,Io,before cooling,,,,,,,,
2026-06-01,,double star,my pair,,,,,,9,10,,
2026-06-01,,double star,Mizar,,,,,,11,10,,
2026-06-01,22:00,moon shadow,Copernikus,,2,,,,,,,
2026-06-01,22:00,variable star,Mira,,3,4.2,3.4,,,,,
2026-06-01,22:00,variable star,Mira,,12,3.4,4.2,,,,,
2026-06-01,22:00,occultation,Vega,vanishes,,,,,,,,
`,
  })).map(describe);
  const wanted = [
    /line 2, column time: found nothing, wanted what a row of moon of jupiter needs/,
    /line 3, column object: found "Ion", .* did you mean Io/,
    /line 4, column event: found "before cooling", wanted vanishes or appears/,
    /line 5, column gap_arcsec: found nothing, wanted the gap/,
    /line 6, column right: found 11, wanted no more than the 10 tries/,
    /line 7, column object: found "Copernikus", .* did you mean Copernicus/,
    /line 8, column fainter: found 3.4, wanted more than 4.2/,
    /line 9, column tenths: found 12, wanted 0 to 10/,
    /line 10, column object: found "Vega", wanted a name that occultation knows/,
  ];
  assert.equal(told.length, wanted.length, told.join("\n"));
  wanted.forEach((pattern, i) => assert.match(told[i] ?? "", pattern));
});

Deno.test("names are the same whatever their capitals, and without what stands in brackets", () => {
  assert.ok(sameName("Mizar (zeta Ursae Majoris)", "mizar"));
  assert.ok(!sameName("Epsilon 1 Lyrae", "Epsilon 2 Lyrae"));
  assert.equal(gapOf("MIZAR"), 14.6);
  assert.equal(gapOf("no such pair"), undefined);
});

/** The log's stroke, words for which disc lies on top, and minutes that the reader adds up. */
import assert from "node:assert/strict";
import { describe } from "../../lib/record/errors.ts";
import { read, refusals } from "./bench.ts";

Deno.test("side and length of the stroke are read in any unit, and left out where empty", async () => {
  const { grinding } = await read({
    "grinding.csv":
      "abrasive,position,minutes,side_cm,length_mm\nrouge,tool on top,20,1.5,50\nrouge,tool on top,10,,\n",
  });
  // DERIVED: 1.5 x 10 mm
  assert.deepEqual(grinding.map(({ side, length }) => [side, length]), [
    [15, 50],
    [undefined, undefined],
  ]);
});

Deno.test("lap on top and tool on top are one, whatever the words", async () => {
  const words = ["lap on top", "Tool On Top", "mirror underneath", "mirror below", "TOT"];
  const rows = words.map((word) => `rouge,${word},20`).join("\n");
  const { grinding } = await read({ "grinding.csv": `abrasive,position,minutes\n${rows}\n` });
  assert.deepEqual(new Set(grinding.map(({ position }) => position)), new Set(["tool on top"]));
});

Deno.test("a stroke beyond the disc is refused", async () => {
  const told = (await refusals({
    "grinding.csv":
      "abrasive,position,minutes,side_mm,length_mm\nrouge,tool on top,20,75,150\nrouge,tool on top,20,76,151\n",
  })).map(describe);
  assert.equal(told.length, 2, "75 mm and 150 mm are the edge of a disc of 150 mm, and are read");
  assert.match(told[0] ?? "", /^grinding.csv, line 3, column side_mm: found 76 mm, wanted .*75 mm/);
  assert.match(told[1] ?? "", /^grinding.csv, line 3, column length_mm: found 151 mm, .*150 mm/);
});

Deno.test("minutes since the row above are added up where after_min is not written", async () => {
  const { sagitta } = await read({
    "sagitta.csv":
      "minutes,after_min,go_mm,nogo_mm\n20,,0.15,0.20\n,,0.15,0.20\n20,,0.30,0.35\n,60,0.40,0.45\n15,,0.55,0.60\n",
  });
  // DERIVED: 20; nothing since, 20; 20 + 20; 60 as written; 60 + 15
  assert.deepEqual(sagitta.map(({ afterMin }) => afterMin), [20, 20, 40, 60, 75]);
});

Deno.test("minutes and after_min in one row are refused", async () => {
  const told = (await refusals({
    "sun.csv": "minutes,after_min,distance_mm\n20,20,1300\n",
  })).map(describe);
  assert.equal(told.length, 1);
  assert.match(told[0] ?? "", /^sun.csv, line 2, column minutes: .*leave one of them empty$/);
});

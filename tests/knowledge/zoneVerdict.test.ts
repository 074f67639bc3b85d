/** What a good surface still lacks: by the diary and by the log. */
import assert from "node:assert/strict";
import { grainUm, rules } from "../../lib/knowledge/rules.ts";
import { glassLacks } from "../../lib/knowledge/zoneVerdict.ts";
import type { DiaryRow, GrindingRow } from "../../lib/record/types.ts";

const stretch = (abrasive: string, minutes: number, date = "2026-05-30"): GrindingRow => ({
  ...{ file: "grinding.csv", line: 2, position: "mirror on top", date },
  abrasive,
  minutes,
});
const look = (what: DiaryRow["what"], date: string, amount?: number): DiaryRow => ({
  ...{ file: "diary.csv", line: 2, what, date },
  ...(amount === undefined ? {} : { amount }),
});
const lacks = (
  grinding: readonly GrindingRow[],
  diary: readonly DiaryRow[] = [],
): readonly string[] => glassLacks({ grinding, diary }, rules());
const polished = [stretch("F1200", 20), stretch("cerium oxide", 360)];

Deno.test("nothing is lacking after six hours on F1200; without a log of polishing that is told", () => {
  assert.deepEqual(lacks(polished), []);
  assert.deepEqual(lacks([stretch("F1200", 20)]), ["polishing log"]);
  assert.deepEqual(lacks([]), ["polishing log"]);
});

Deno.test("less than a fifth of the hours foreseen is too little, the more so after a coarse grade", () => {
  // DERIVED: pits and cracks of F1200 (3 um) end at 5 um, the course's own; 5.49 h at the edge, a fifth is 1.10 h
  assert.equal(grainUm("F1200"), 3);
  assert.deepEqual(lacks([stretch("F1200", 20), stretch("rouge", 65)]), ["polishing"]);
  assert.deepEqual(lacks([stretch("F1200", 20), stretch("rouge", 67)]), []);
  // DERIVED: F320 has 29.2 um: (29.2 / 4 + 2 x 29.2^0.85) / 2 = 21.3 um, 23.4 h, a fifth 4.7 h
  assert.deepEqual(lacks([stretch("F320", 20), stretch("rouge", 270)]), ["polishing"]);
  assert.deepEqual(lacks([stretch("F320", 20), stretch("rouge", 290)]), []);
});

Deno.test("hours count from the last grade on: ground again after polishing, they begin anew", () => {
  const again = [...polished, stretch("F1200", 10), stretch("rouge", 30)];
  assert.deepEqual(lacks(again), ["polishing"]);
});

Deno.test("pits count from the last polishing on, until a look finds none", () => {
  assert.deepEqual(lacks(polished, [look("pits", "2026-05-29", 3)]), []);
  assert.deepEqual(lacks(polished, [look("pits", "2026-05-30", 3)]), ["pits"]);
  assert.deepEqual(lacks(polished, [look("pits", "2026-06-02")]), ["pits"]);
  assert.deepEqual(lacks(polished, [look("pits", "2026-06-02", 0)]), [], "counted, and none");
  const looks = [look("no pits", "2026-06-04"), look("pits", "2026-06-02")];
  assert.deepEqual(lacks(polished, looks), [], "the latest look, however typed");
  assert.deepEqual(lacks([], [look("pits", "2026-06-02")]), ["pits", "polishing log"]);
});

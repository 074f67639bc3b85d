/** The diary: acts and sights with their day. */
import assert from "node:assert/strict";
import { SCHEMA } from "../../lib/record/schema.ts";
import { read } from "./bench.ts";

const DIARY_WORDS = SCHEMA.diary.columns.what.choices;

Deno.test("every word of the diary is read, whatever its capitals and spaces", async () => {
  const rows = DIARY_WORDS.map((word) => `2026-05-30,${word.toUpperCase().replace(" ", "  ")}`);
  const { diary } = await read({ "diary.csv": `date,what\n${rows.join("\n")}\n` });
  assert.deepEqual(diary.map(({ what }) => what), [...DIARY_WORDS]);
});

Deno.test("place, amount and note are kept; lengths in any unit", async () => {
  const { diary } = await read({
    "diary.csv": "date,what,where_in,amount,note\n2026-05-30,pits,2.5,3,at the edge\n",
  });
  // DERIVED: 2.5 x 25.4 mm
  assert.deepEqual(diary, [{
    file: "diary.csv",
    line: 2,
    date: "2026-05-30",
    what: "pits",
    where: 63.5,
    amount: 3,
    note: "at the edge",
  }]);
});

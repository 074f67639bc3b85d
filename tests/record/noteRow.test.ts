/** Rows put behind a table: in its columns, units, decimal sign and line ends, with day, run and minutes filled in. */
import assert from "node:assert/strict";
import { type NoteRows, noteRows } from "../../lib/record/noteRow.ts";
import { noteWords, NotUnderstood } from "../../lib/record/noteWords.ts";
import { type Files, MIRROR, read } from "./bench.ts";

const TODAY = "2026-06-19";

/** What a sentence adds to a table of a record. */
async function added(sentence: string, text: string, files: Files = {}): Promise<NoteRows> {
  const noted = noteWords(sentence, { aperture: 150, lastAbrasive: () => "rouge" });
  const own = text.split(/\r\n|\n/).filter((line) => line !== "").length > 1
    ? { [`${noted.table}.csv`]: text }
    : {};
  return noteRows(noted, text, await read({ ...own, ...files }), TODAY);
}

/** The sentence with which it is refused. */
async function told(sentence: string, text: string, files: Files = {}): Promise<string> {
  const error = await added(sentence, text, files).then(() => undefined, (one: unknown) => one);
  assert.ok(error instanceof NotUnderstood, String(error));
  return error.message;
}

const LOG = "note,minutes,position,abrasive,side_mm,date\n,10,tool on top,rouge,0,2026-06-12\n";

Deno.test("cells stand in the file's own order of columns, the day filled in", async () => {
  const { added: text } = await added("polished 20 min, lap on top, side 20, note wet, warm", LOG);
  assert.equal(text, `"wet, warm",20,tool on top,rouge,20,${TODAY}\n`);
});

Deno.test("line ends are the file's; a last line without one gets it first", async () => {
  const text = LOG.replaceAll("\n", "\r\n");
  assert.match((await added("polished 20 min, lap on top", text)).added, /^,20,[^\r\n]*\r\n$/);
  const { added: open } = await added("polished 20 min, lap on top", text.slice(0, -2));
  assert.match(open, /^\r\n,20,[^\r\n]*\r\n$/);
});

Deno.test("units and decimal sign are the file's; a bare number is in its column's unit", async () => {
  const text = "distance_in;image_in\n47,2;0,44\n";
  assert.equal((await added("sun 47.3", text)).added, "47,3;\n");
  // DERIVED: 1199 mm / 25.4 = 47.2047 in
  assert.equal((await added("sun 1199 mm", text)).added, "47,2047;\n");
});

Deno.test("a table without days gets none, one without minutes gets none", async () => {
  const grinding = { "grinding.csv": "abrasive,position,minutes\nF80,mirror on top,60\n" };
  assert.equal(
    (await added("depth 1.2", "depth_mm,date,after_min\n1.1,,\n", grinding)).added,
    "1.2,,\n",
  );
  // DERIVED: the log's 60 minutes
  assert.equal(
    (await added("depth 1.2", "depth_mm,after_min\n1.1,40\n", grinding)).added,
    "1.2,60\n",
  );
  assert.equal(
    (await added("depth 1.2", "depth_mm,after_h\n1.1,0.5\n", grinding)).added,
    "1.2,1\n",
  );
  // DERIVED: 60 in the log less the 40 at the row above
  assert.equal(
    (await added("depth 1.2", "depth_mm,minutes\n1.1,40\n", grinding)).added,
    "1.2,20\n",
  );
});

const MASK = { "mirror.yaml": `${MIRROR}mask: [0 mm, 30 mm, 55 mm, 74 mm]\n` };
const WIDE = "date,run,zone_1_mm,zone_2_mm,zone_3_mm,first_again_mm\n";

Deno.test("with a mask a run is one row, and its number is counted on", async () => {
  const { added: text } = await added(
    "zones 12.01 11.70 - / 12.00 11.80 11.90",
    `${WIDE}2026-06-12,a1,1,1,1,\n${TODAY},b2,1,1,1,\n`,
    MASK,
  );
  assert.equal(text, `${TODAY},b3,12.01,11.70,,\n${TODAY},b4,12.00,11.80,11.90,\n`);
});

Deno.test("in the long form a run is a row for each opening, the mask's or the last run's", async () => {
  const long = "run,inner_mm,outer_mm,reading_mm\n1,30,55,12.1\n1,0,30,12\n";
  const { added: text } = await added("zones 12.01 11.70 again 12.02", long);
  assert.equal(text, "2,0,30,12.01\n2,30,55,11.70\n2,0,30,12.02\n");
  assert.equal(
    (await added("zones 1 2 3", long, MASK)).added,
    "2,0,30,1\n2,30,55,2\n2,55,74,3\n",
  );
});

Deno.test("too few readings, no mask, a column that is not there: refused in a sentence", async () => {
  assert.match(await told("zones 1 2", WIDE, MASK), /^2 readings for the 3 openings of the mask/);
  assert.match(
    await told("zones 1 2", "run,inner_mm,outer_mm,reading_mm\n"),
    /mask's edges into mirror.yaml/,
  );
  assert.match(
    await told("sun 1199, image 11", "distance_mm\n1190\n"),
    /^sun.csv has no column for image/,
  );
});

Deno.test("a stroke's side without a column stands in the note, never beyond the disc", async () => {
  const bare = "abrasive,position,minutes,note\nrouge,tool on top,20,\n";
  const { added: text, noted } = await added("polished 5 min lap on top side 20", bare);
  assert.equal(text, "rouge,tool on top,5,side 20\n");
  assert.deepEqual(noted, ["side 20"]);
  assert.match(await told("polished 5 min lap on top side 80", bare), /beyond the disc.*75 mm/);
});

/** Rows as they are typed: refused in the record's own sentences, or added in the file's own style. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { type JudgedRows, judgeRows, type TypedRow } from "../../lib/forms/judgeRows.ts";
import { tableForm } from "../../lib/forms/tableForm.ts";
import { Findings } from "../../lib/record/errors.ts";
import { decodeText } from "../../lib/record/files.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import type { TableName } from "../../lib/record/schema.ts";
import { type Files, withRecord } from "../record/bench.ts";

const TODAY = "2026-11-30";

/** INVENTED readings, typed into a record of these files; nothing is written. */
function judged(files: Files, table: TableName, ...rows: TypedRow[]): Promise<JudgedRows> {
  return withRecord(files, async (folder) => {
    const record = await readRecord(folder, TODAY, undefined, { photos: true });
    const bytes = await Deno.readFile(join(folder, `${table}.csv`)).catch(() => undefined);
    const text = bytes && decodeText(bytes, `${table}.csv`, new Findings());
    const names = tableForm(table, text, record, TODAY).fields
      .map(({ name }) => name);
    return await judgeRows(folder, table, rows, names, record, TODAY);
  });
}

function added(judged: JudgedRows): string {
  assert.ok("taken" in judged, JSON.stringify(judged));
  return judged.taken.added;
}

function sentences(judged: JudgedRows): string[] {
  assert.ok("refusals" in judged, JSON.stringify(judged));
  return judged.refusals.map(({ name, sentence }) => `${name}: ${sentence}`);
}

Deno.test("a row is added in the file's own style, whatever decimal sign is typed", async () => {
  const text = "\ufeff# at the bench; wet\r\nafter_min;go_mm;nogo_mm;note\r\n10;0,10;0,15;\r\n";
  const row = { after_min: "20", go_mm: "0.88+0.25", nogo_mm: "1,15", note: "wet; read twice" };
  const one = await judged({ "sagitta.csv": text }, "sagitta", row);
  assert.equal(added(one), '20;0,88+0,25;1,15;"wet; read twice"\r\n');
  assert.ok("taken" in one);
  assert.deepEqual(one.taken.lines, [4]);
  assert.equal(
    new TextDecoder("utf-8", { ignoreBOM: true }).decode(one.taken.bytes),
    text + one.taken.added,
  );
  assert.equal(one.taken.record.sagitta.length, 2);
});

Deno.test("a file is begun with a fresh file's header", async () => {
  const row = { date: "2026-11-29", distance_mm: "1199", image_mm: "" };
  assert.equal(
    added(await judged({}, "sun", row)),
    "date,after_min,distance_mm,image_mm,note\n2026-11-29,,1199,,\n",
  );
});

Deno.test("a UTF-16 file stays one", async () => {
  const text = "distance_mm,image_mm\n1199,11\n";
  const bytes = new Uint8Array(2 * text.length + 2).map((_, at) =>
    at === 0 ? 0xff : at === 1 ? 0xfe : at % 2 === 0 ? text.charCodeAt(at / 2 - 1) : 0
  );
  const one = await judged({ "sun.csv": bytes }, "sun", { distance_mm: "1200" });
  assert.ok("taken" in one);
  assert.equal(
    new TextDecoder("utf-16le").decode(one.taken.bytes),
    `${text}1200,\n`,
  );
});

Deno.test("what is wrong is said at its field, in the record's sentence, and nothing is added", async () => {
  const files = { "sagitta.csv": "after_min,go_mm,nogo_mm\n10,0.10,0.15\n" };
  assert.deepEqual(
    sentences(await judged(files, "sagitta", { after_min: "soon", go_mm: "0.2", nogo_mm: "0.1" })),
    ['after_min: Found "soon", wanted a number: write digits, such as 120.'],
  );
  assert.deepEqual(
    sentences(await judged(files, "sagitta", { after_min: "20", go_mm: "0.2", nogo_mm: "0.1" })),
    [
      "nogo_mm: Found 0.1 mm, wanted more than the go of 0.2 mm: the no-go is the next thicker stack; are they swapped?",
    ],
  );
  assert.deepEqual(
    sentences(
      await judged({}, "grinding", { position: "upside down", minutes: "20", abrasive: "F80" }),
    ),
    [
      'position: Found "upside down", wanted mirror on top or tool on top: write one of them.',
    ],
  );
  assert.deepEqual(sentences(await judged(files, "sagitta", {})), [
    "undefined: Found a row without a cell, wanted a reading: write it, or leave it out.",
  ]);
});

Deno.test("a day after today and an unknown abrasive are refused", async () => {
  const rows = { date: "2026-12-24", abrasive: "F81", position: "mot", minutes: "20" };
  const said = sentences(await judged({}, "grinding", rows));
  assert.equal(said.length, 2);
  assert.match(said.join("\n"), /^abrasive: Found "F81"/m);
  assert.match(said.join("\n"), /^date: Found "2026-12-24", wanted a day up to today, 2026-11-30/m);
});

Deno.test("the first of a pair that needs its other waits for it; both together are taken", async () => {
  const flat = { surface: "flat", dial_mm: "5.001" },
    mirror = { surface: "mirror", dial_mm: "5.5" };
  const yaml = "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n" +
    "gauges: { spherometer: { leg_radius: 50 mm, ball_radius: 3 mm } }\n";
  const one = await judged({ "mirror.yaml": yaml }, "spherometer", flat);
  assert.ok("waits" in one, JSON.stringify(one));
  assert.match(one.waits, /^Found no reading on the mirror, wanted readings on flat glass and/);
  const both = await judged({ "mirror.yaml": yaml }, "spherometer", flat, mirror);
  assert.equal(added(both).split("\n").length, 4);
});

Deno.test("a cell that a spreadsheet would run, and one of script, are words or refused, never more", async () => {
  const note = '=cmd|"/c calc"!A1', script = "<script>alert(1)</script>\n2,3";
  assert.match(
    sentences(await judged({}, "sun", { distance_mm: "1199", note })).join(),
    /the formula/,
  );
  const row = added(await judged({}, "sun", { distance_mm: "1199", note: script }));
  assert.equal(row.split("\n").length, 3);
  assert.match(row, /"<script>alert\(1\)<\/script> 2,3"/);
});

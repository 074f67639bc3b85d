/** Nothing that a stranger's record holds moves a cursor, turns a line round or fills a screen. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { clean, LONGEST_PRINTED, plainLine } from "../../lib/record/clean.ts";
import { describe } from "../../lib/record/errors.ts";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { tableFrame } from "../../lib/record/frames.ts";
import { tell } from "../../lib/knowledge/tell.ts";
import { tellClass } from "../../lib/knowledge/tellClass.ts";
import { type Files, read, refusals, withRecord } from "./bench.ts";

/** INVENTED: a colour, a cursor sent home, a bell, a line turned round, an isolate, signs nobody sees. */
const HARM = "a\u001b[2J\u009b1mb\u0007c\u202ed\u2066e\u200ff\u{e0041}g\u2028h";
const BAD =
  // deno-lint-ignore no-control-regex
  /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff]|[\u{e0000}-\u{e007f}]/u;

const yaml = (title: string): string =>
  `title: ${JSON.stringify(title)}\naperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n`;

Deno.test("a text is made plain: one line, nothing unseen, at most two hundred characters", () => {
  assert.equal(clean(HARM), "a [2J 1mb cdefg h");
  assert.equal(clean("x".repeat(1000)).length, LONGEST_PRINTED);
  assert.equal(clean("  \u202e "), "");
  assert.doesNotMatch(plainLine(HARM.repeat(50)), BAD);
  assert.equal(clean("दर्पण, κάτοπτρο, 鏡"), "दर्पण, κάτοπτρο, 鏡", "letters of any script stay");
});

Deno.test("title, run, note and name of a part come out clean in what check prints", async () => {
  const files: Files = {
    "mirror.yaml": `${yaml(HARM)}telescope:\n  parts: [{ name: ${
      JSON.stringify(HARM)
    }, mass: 2 kg, at: 0 mm }]\n`,
    "sun.csv": `date,distance_mm,note\n2026-04-18,1199,"${HARM}"\n`,
    "zones.csv": `run,inner_mm,outer_mm,reading_mm\n${HARM.replace(/\u2028/, "")},0,30,12.1\n${
      HARM.replace(/\u2028/, "")
    },0,30,12.2\n`,
  };
  await withRecord(files, async (folder) => {
    const { record, summary } = await openMirror(folder);
    assert.doesNotMatch(tell(summary, record.defaults).join("\n"), BAD);
    assert.doesNotMatch(summary.title, BAD);
    const frame = await tableFrame(record, "sun");
    assert.doesNotMatch(String(frame.getColumn("note").toArray()[0]), BAD);
    assert.doesNotMatch(summary.warnings.map(describe).join("\n"), BAD);
  });
});

Deno.test("headers, keys, words and names of files come out clean in refusals", async () => {
  const all: readonly Files[] = [
    { "sun.csv": `distance_mm,${HARM}\n1199,1\n` },
    { "sun.csv": `distance_mm\n${HARM}\n` },
    { "mirror.yaml": `${yaml("x")}${JSON.stringify(HARM)}: 1\n` },
    { "mirror.yaml": `${yaml("x")}glass: ${JSON.stringify(HARM)}\n` },
    { "grinding.csv": `abrasive,position,minutes\n${HARM},mirror on top,1\n` },
    { "ronchi.csv": `photo,lines_per_mm,offset_mm\n${HARM},4,-5\n` },
  ];
  for (const files of all) {
    const told = (await refusals(files)).map(describe);
    assert.ok(told.length > 0);
    for (const line of told) {
      assert.doesNotMatch(line, BAD);
      assert.doesNotMatch(line, /\n/);
      assert.ok(line.length < 600, line);
    }
  }
});

Deno.test("a folder's and a mirror's name come out clean in the class's table", async () => {
  await withRecord({}, async (outer) => {
    await Deno.remove(join(outer, "mirror.yaml"));
    for (const [name, text] of [["one\u202eten", yaml(HARM)], ["bad\u001b[31m", "aperture: x"]]) {
      await Deno.mkdir(join(outer, name ?? ""));
      await Deno.writeTextFile(join(outer, name ?? "", "mirror.yaml"), text ?? "");
    }
    await Deno.mkdir(join(outer, "none\u2067here"));
    const lines = tellClass(await openClass(outer));
    assert.doesNotMatch(lines.join("\n"), BAD);
    assert.match(lines.join("\n"), /nonehere \(empty\)/);
  });
});

Deno.test("a long note stays whole in the record and is cut where it is printed", async () => {
  const note = "wet ".repeat(100).trim();
  const record = await read({ "sun.csv": `distance_mm,note\n1199,${note}\n` });
  assert.equal(record.sun[0]?.note, note);
  assert.equal(clean(note).length, 200);
});

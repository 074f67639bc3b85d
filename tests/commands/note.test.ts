/** `deno task note` as a person runs it: shown, written, refused; the rest of the file stays as it is, byte for byte. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { readRecord } from "../../lib/record/readRecord.ts";
import { assertForPeople, inFolder, names, run } from "./run.ts";

const MIRROR =
  "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\nmask: [0 mm, 30 mm, 45 mm, 57 mm, 67 mm, 74 mm]\n";
const DAY = "2026-06-12";

/** A record of these files, in a folder of its own. */
async function withRecord(
  files: Readonly<Record<string, string | Uint8Array>>,
  use: (folder: string) => Promise<void>,
): Promise<void> {
  await inFolder(async (outer) => {
    const folder = join(outer, "asha");
    await Deno.mkdir(folder);
    for (const [name, content] of Object.entries({ "mirror.yaml": MIRROR, ...files })) {
      const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
      await Deno.writeFile(join(folder, name), bytes);
    }
    await use(folder);
  });
}

const LOG =
  "date,abrasive,position,minutes,side_mm,note\n2026-06-10,cerium oxide,lap on top,60,,\n";

Deno.test("a row is shown, with what it means and the next step, and written", async () => {
  await withRecord({ "grinding.csv": LOG }, async (folder) => {
    const words = ["polished 20 min, lap on top, side 20", "--today", DAY];
    const dry = await run("note", [folder, ...words, "--dry"]);
    assert.equal(dry.code, 0, dry.err);
    assert.equal(await Deno.readTextFile(join(folder, "grinding.csv")), LOG, "only shown");
    const { code, out, err } = await run("note", [folder, ...words]);
    assert.equal(code, 0, err);
    assert.equal(out.split("\n\n").slice(0, 2).join(), dry.out.split("\n\n").slice(0, 2).join());
    assert.match(out, /position tool on top, minutes 20, side_mm 20$/m);
    assert.match(
      out,
      /^Read as: 20 minutes with cerium oxide, tool on top, 20 mm beside the centre; 80 minutes/m,
    );
    assert.match(out, /^Next step: /m);
    assert.match(out, /^Written: grinding\.csv$/m);
    assert.equal(
      await Deno.readTextFile(join(folder, "grinding.csv")),
      `${LOG}${DAY},cerium oxide,tool on top,20,20,\n`,
    );
    assert.deepEqual(
      await names(folder),
      ["grinding.csv", "mirror.yaml"],
      "nothing left beside it",
    );
  });
});

Deno.test("mark, line ends, remarks and an open last line of the file are kept byte for byte", async () => {
  const texts: readonly (readonly [string, (text: string) => Uint8Array])[] = [
    [
      "\ufeff# mine; äöü\r\ndistance_mm;date\r\n1199,5;2026-06-10",
      (t) => new TextEncoder().encode(t),
    ],
    [
      "\ufeffdate\tdistance_mm\r\n2026-06-10\t1199\r\n# end\r\n",
      (t) => new Uint8Array(new Uint16Array([...t].map((one) => one.charCodeAt(0))).buffer),
    ],
  ];
  for (const [text, bytesOf] of texts) {
    const before = bytesOf(text);
    await withRecord({ "sun.csv": before }, async (folder) => {
      const { code, err } = await run("note", [folder, "sun", "1201", "--today", DAY]);
      assert.equal(code, 0, err);
      const after = await Deno.readFile(join(folder, "sun.csv"));
      assert.deepEqual(after.slice(0, before.length), before);
      const { sun } = await readRecord(folder, DAY);
      // INVENTED: as typed above
      assert.deepEqual([sun.length, sun[1]?.distance, sun[1]?.date], [2, 1201, DAY]);
    });
  }
});

Deno.test("a table that is not there is begun with its header, and reads", async () => {
  const sentences = [
    "pits 3 at 60",
    "depth 1.135",
    "ground 20 min F80 mirror on top",
    "zones 1 2 3 4 5",
  ];
  await withRecord({}, async (folder) => {
    for (const sentence of sentences) {
      const { code, err, out } = await run("note", [folder, sentence, "--today", DAY]);
      assert.equal(code, 0, err);
      assert.match(out, /, which is begun:/);
    }
    const { diary, sagitta, grinding, zones } = await readRecord(folder, DAY);
    assert.deepEqual([diary.length, sagitta.length, grinding.length, zones.length], [1, 1, 1, 5]);
  });
});

Deno.test("what the reader refuses is refused here in its words, and nothing is written", async () => {
  const cases: readonly (readonly [sentence: string, told: RegExp])[] = [
    ["polished 20 min, lap on top, side 76", /column side_mm: found 76 mm, wanted .*75 mm/],
    ["leaves 0.30 go, 0.25 no", /sagitta\.csv, line \d+, column nogo_mm: .*are they swapped/],
    ["pits 3 at 90", /diary\.csv, line \d+, column where_mm: found 90 mm/],
    ["scrach 12 at 40", /did you mean scratch\?/],
    ["zones 1 2 3", /^3 readings for the 5 openings/],
    ["washed on 2026-06-30", /a day up to today/],
  ];
  await withRecord({ "grinding.csv": LOG }, async (folder) => {
    for (const [sentence, told] of cases) {
      const { code, out, err } = await run("note", [folder, sentence, "--today", DAY]);
      assert.equal(code, 1, `${sentence}: ${out}`);
      assert.equal(out, "");
      assertForPeople(err);
      assert.match(err, told);
      assert.equal(err.trimEnd().split("\n").length, 1, err);
    }
    assert.deepEqual(await names(folder), ["grinding.csv", "mirror.yaml"]);
    assert.equal(await Deno.readTextFile(join(folder, "grinding.csv")), LOG);
  });
});

Deno.test("a record that cannot be read is not added to", async () => {
  await withRecord({ "sun.csv": "distance_mm\nfar\n" }, async (folder) => {
    const { code, err } = await run("note", [folder, "washed", "--today", DAY]);
    assert.equal(code, 1);
    assert.match(err, /^sun\.csv, line 2/);
    assert.deepEqual(await names(folder), ["mirror.yaml", "sun.csv"]);
  });
});

Deno.test("a day of zone readings takes fewer than 150 keys", async () => {
  // RECORDED: data/records/demo-150-f8/zones.csv, the three runs of 2026-06-12
  const runs = [
    [12.34, 12.34, 12.09, 12.17, 12.29],
    [12.35, 12.29, 12.29, 12.19, 12.27],
    [12.29, 12.20, 12.18, 12.20, 12.22],
  ];
  const words = ["zones", ...runs.flat().map((one) => one.toFixed(2))];
  const typed = `deno task note asha ${words.join(" ")}\n`;
  assert.ok(typed.length < 150, `${typed.length} keys`);
  await withRecord({}, async (folder) => {
    const { code, err } = await run("note", [folder, ...words, "--today", DAY]);
    assert.equal(code, 0, err);
    const { zones } = await readRecord(folder, DAY);
    assert.deepEqual(zones.map(({ reading }) => reading), runs.flat());
    assert.deepEqual([...new Set(zones.map(({ run }) => run))], ["1", "2", "3"]);
    // what the day takes as it stands in the demo's table, row by row
    const rows = zones.map(({ run, inner, outer, reading }) =>
      `${DAY},${run},${inner},${outer},${reading.toFixed(2)},0,0,\n`
    );
    assert.ok(rows.join("").length > 3 * typed.length);
  });
});

Deno.test("without a record or without words: how to type it", async () => {
  for (const args of [[], ["asha"]]) {
    const { code, err } = await run("note", args);
    assert.equal(code, 2);
    assert.match(err, /such as sun 1199\.\nTry: deno task note --help/);
  }
});

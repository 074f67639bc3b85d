/** A record held in a page: rows laid on it, found again in its own tables, refused, told; another record put in its place. */
import assert from "node:assert/strict";
import { HeldRecord, type KeptRow } from "../../lib/living/heldRecord.ts";
import { readFromPage } from "../../lib/living/inPage.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import { kitFolder } from "../../lib/record/fileSystem.ts";
import type { MemoryFile } from "../../lib/record/memoryFiles.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import type { TableName } from "../../lib/record/schema.ts";

const MINE = "/record/mine", TODAY = "2026-11-30";
const YAML = "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n" +
  "gauges: { spherometer: { leg_radius: 50 mm, ball_radius: 3 mm } }\n";

/** INVENTED: the kit's tables, and a record of these files. */
function held(own: Readonly<Record<string, MemoryFile>>): HeldRecord {
  const all = new Map<string, MemoryFile>();
  for (const { name } of Deno.readDirSync(`${kitFolder}/data/tables`)) {
    const path = `${kitFolder}/data/tables/${name}`;
    all.set(path, Deno.readTextFileSync(path));
  }
  for (const [name, file] of Object.entries(own)) all.set(`${MINE}/${name}`, file);
  readFromPage({ files: all, record: MINE, today: TODAY });
  return new HeldRecord(all, MINE, TODAY);
}

const row = (id: string, table: TableName, cells: Record<string, string>): KeptRow => ({
  id,
  table,
  cells,
});

const LOG = "date,abrasive,position,minutes\n2026-11-28,F80,mirror on top,60\n";
const DEPTHS = "# at the bench\r\nafter_min;go_mm;nogo_mm;note\r\n20;0,30;0,35;\r\n";

Deno.test("kept rows are laid on the record in the file's style, and told as check tells them", async () => {
  const one = held({ "mirror.yaml": YAML, "grinding.csv": LOG, "sagitta.csv": DEPTHS });
  const before = await one.told("sagitta", true);
  const { marks, changed } = await one.lay([
    row("a", "sagitta", { after_min: "40", go_mm: "0.50+0.05", nogo_mm: "0.60", note: "" }),
    row("b", "sagitta", { after_min: "60", go_mm: "0.80", nogo_mm: "0.85", note: "" }),
    row("c", "diary", { date: "2026-11-30", what: "no pits" }),
  ]);
  assert.deepEqual(marks.get("b"), { is: "kept here", line: 5 });
  assert.deepEqual([...changed.keys()], ["sagitta.csv", "diary.csv"]);
  assert.equal(changed.get("sagitta.csv"), `${DEPTHS}40;0,50+0,05;0,60;\r\n60;0,80;0,85;\r\n`);
  assert.equal(String(changed.get("diary.csv")).split("\n")[1], "2026-11-30,no pits,,,");
  const after = await one.told("sagitta", true);
  assert.notDeepEqual(after.numbers, before.numbers);
  assert.equal(after.nextStep.do, summarize(await readRecord(MINE, TODAY)).nextStep.do);
  // laid again, nothing is doubled
  assert.equal((await one.lay([])).changed.size, 0);
  assert.equal((await one.record()).sagitta.length, 1);
});

Deno.test("a kept row that stands in the record's own table is that row, by its cells; others stay kept here", async () => {
  const one = held({ "mirror.yaml": YAML, "sagitta.csv": DEPTHS });
  const twin = { after_min: "20", go_mm: "0.3", nogo_mm: "0.350", note: "" };
  const { marks, changed } = await one.lay([
    row("same", "sagitta", twin),
    row("noted", "sagitta", { ...twin, note: "wet" }),
    row("again", "sagitta", twin),
  ]);
  assert.equal(marks.get("same")?.is, "in the record");
  assert.equal(marks.get("noted")?.is, "kept here");
  // the record has one such row, so a second is another reading
  assert.equal(marks.get("again")?.is, "kept here");
  assert.deepEqual([...changed.keys()], ["sagitta.csv"]);
});

Deno.test("a row that the record refuses says why and does not hinder the others; a flat waits for its mirror", async () => {
  const one = held({ "mirror.yaml": YAML, "sagitta.csv": DEPTHS });
  const { marks, changed } = await one.lay([
    row("a", "sagitta", { after_min: "40", go_mm: "0.50", nogo_mm: "0.40" }),
    row("b", "sagitta", { after_min: "60", go_mm: "0.50", nogo_mm: "0.55" }),
    row("flat", "spherometer", { surface: "flat", dial_mm: "5" }),
  ]);
  const refused = marks.get("a");
  assert.ok(
    refused?.is === "refused" && /are they swapped/.test(refused.why),
    JSON.stringify(refused),
  );
  assert.equal(marks.get("b")?.is, "kept here");
  assert.equal(marks.get("flat")?.is, "waits");
  assert.deepEqual([...changed.keys()], ["sagitta.csv"]);
  const more = await one.lay([
    row("flat", "spherometer", { surface: "flat", dial_mm: "5" }),
    row("mirror", "spherometer", { surface: "mirror", dial_mm: "5.5" }),
  ]);
  assert.deepEqual([...more.marks.values()].map(({ is }) => is), ["kept here", "kept here"]);
});

Deno.test("refusals come while a row is typed, and change nothing", async () => {
  const one = held({ "mirror.yaml": YAML, "sagitta.csv": DEPTHS });
  const [first] = await one.refusals("sagitta", { go_mm: "0.5", nogo_mm: "0.4" });
  assert.equal(first?.name, "nogo_mm");
  assert.deepEqual(await one.refusals("sagitta", { go_mm: "0,5", nogo_mm: "0.6" }), []);
  assert.equal((await one.record()).sagitta.length, 1);
});

Deno.test("a record with errors is refused by its sentences and the old one stays; a good one takes its place", async () => {
  const one = held({ "mirror.yaml": YAML, "sagitta.csv": DEPTHS });
  const bad = new Map([["mirror.yaml", "aperture: wide\n"], ["sun.csv", "distance_mm\nfar\n"]]);
  const refusals = await one.take(bad);
  assert.ok(refusals.length >= 2 && refusals.some((one) => one.startsWith("sun.csv, line 2")));
  assert.equal((await one.record()).sagitta.length, 1);
  assert.deepEqual(
    await one.take(new Map([["mirror.yaml", YAML], ["sun.csv", "distance_mm\n1199\n"]])),
    [],
  );
  const { sagitta, sun } = await one.record();
  assert.deepEqual([sagitta.length, sun.length], [0, 1]);
  const { changed } = await one.lay([row("a", "sun", { distance_mm: "1200" })]);
  assert.equal(changed.get("sun.csv"), "distance_mm\n1199\n1200\n");
});

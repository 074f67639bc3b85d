/** What a whole summary is made of, and what must not change it. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import { KIT_VERSION } from "../../lib/version.ts";
import { contractProblems } from "../contract/contract.ts";
import { read } from "../record/bench.ts";

const fixture = (name: string): string =>
  fileURLToPath(new URL(`../record/fixtures/${name}`, import.meta.url));
const demo = await readRecord(join(recordsFolder, "demo-150-f8"));
const finished = summarize(demo);

Deno.test("a plan alone: design, a next step and what the aperture says, and no key for anything else", async () => {
  const summary = summarize(await read({}));
  assert.deepEqual(Object.keys(summary).sort(), [
    "coating",
    "design",
    "kit_version",
    "next_step",
    "record",
    "sky",
    "title",
    "warnings",
  ]);
  assert.equal(summary.kit_version, KIT_VERSION);
  assert.deepEqual(contractProblems(summary), []);
});

Deno.test("each table adds its own part and no other", async () => {
  const PARTS = ["curve", "grinding", "figure", "verdict"];
  const cases: readonly (readonly [Record<string, string>, readonly string[]])[] = [
    [{ "sun.csv": "distance_mm\n1199\n1198\n" }, ["curve"]],
    [{ "sagitta.csv": "go_mm,nogo_mm\n1.13,1.15\n" }, ["curve"]],
    [{ "grinding.csv": "abrasive,position,minutes\nF80,mirror on top,20\n" }, []],
    [{
      "grinding.csv": "abrasive,position,minutes\nF80,mirror on top,20\n",
      "sagitta.csv": "after_min,go_mm,nogo_mm\n20,0.19,0.20\n",
    }, ["curve", "grinding"]],
    [{
      "zones.csv": "run,inner_mm,outer_mm,reading_mm\n" +
        ["0,30,12.1", "30,45,12.2", "45,57,12.4", "57,67,12.5", "67,74,12.7"]
          .map((row) => `1,${row}\n`).join(""),
    }, ["figure", "verdict"]],
  ];
  for (const [files, wanted] of cases) {
    const summary = summarize(await read(files));
    const found = PARTS.filter((part) => part in summary);
    assert.deepEqual(found, wanted, Object.keys(files).join());
  }
});

Deno.test("a row that both log and curve set aside stands there once, rows in the order of the file", () => {
  const rows = finished.curve?.set_aside.map(({ file, line }) => `${file}:${line}`) ?? [];
  assert.deepEqual(rows, ["sagitta.csv:7"]);
  const twice = { ...demo, sagitta: demo.sagitta.map((row) => row) };
  const misread = twice.sagitta.map((row) =>
    row.line === 4 ? { ...row, go: [0.8], nogo: [0.82] } : row
  );
  const both = summarize({ ...demo, sagitta: misread }).curve?.set_aside.map(({ line }) => line) ??
    [];
  assert.deepEqual(both, both.toSorted((a, b) => a - b));
  assert.equal(new Set(both).size, both.length);
});

Deno.test("the same sentence about the same place is told once, a sentence about two places twice", () => {
  const warning = { file: "sun.csv", line: 2, message: "look again" };
  const { warnings } = summarize({
    ...demo,
    warnings: [warning, { ...warning }, { ...warning, line: 3 }],
  });
  assert.deepEqual(
    warnings.filter(({ message }) => message === "look again").map(({ line }) => line),
    [
      2,
      3,
    ],
  );
});

Deno.test("law: the same record gives the same summary byte for byte", async () => {
  const again = summarize(await readRecord(join(recordsFolder, "demo-150-f8")));
  assert.equal(JSON.stringify(again), JSON.stringify(finished));
});

Deno.test("law: words change no number", () => {
  const talk = <T extends object>(rows: readonly T[]): T[] =>
    rows.map((row) => ({ ...row, note: "psst" }));
  const told = summarize({
    ...demo,
    settings: { ...demo.settings, title: "<b>Another</b>" },
    grinding: talk(demo.grinding),
    sagitta: talk(demo.sagitta),
    zones: talk(demo.zones),
  });
  const { title, ...numbers } = told;
  const { title: _, ...before } = finished;
  assert.equal(title, "<b>Another</b>", "escaping is the page's business, not the record's");
  assert.deepEqual(numbers, before);
});

/** Every number of a summary by its path; places in files differ by remarks and are left out. */
function numbers(value: unknown, path = "", into = new Map<string, number>()): Map<string, number> {
  if (typeof value === "number") return into.set(path, value);
  if (typeof value !== "object" || value === null) return into;
  for (const [key, one] of Object.entries(value)) {
    if (key !== "line" && key !== "warnings") numbers(one, `${path}/${key}`, into);
  }
  return into;
}

Deno.test("law: a record in inches, thou and hours says what its metric twin says", async () => {
  const metric = numbers(summarize(await readRecord(fixture("metric"))));
  const inch = numbers(summarize(await readRecord(fixture("inch"))));
  assert.deepEqual([...inch.keys()].sort(), [...metric.keys()].sort());
  assert.ok(metric.size > 40, `${metric.size} numbers`);
  for (const [path, value] of metric) {
    const twin = inch.get(path) ?? NaN;
    // thrown dice see the last digit of a reading: what rests on them may differ in theirs
    const apart = Math.abs(twin - value) / Math.max(1e-3, Math.abs(value));
    assert.ok(apart < 1e-6, `${path}: ${twin} against ${value}`);
  }
});

Deno.test("law: the order of the other tables' rows does not matter to the radius", () => {
  const backwards = summarize({
    ...demo,
    sun: demo.sun.toReversed(),
    spherometer: demo.spherometer.toReversed(),
  });
  const [there, here] = [backwards.curve?.radius, finished.curve?.radius];
  assert.ok(Math.abs((there?.value ?? 0) - (here?.value ?? 1)) < 1e-9);
  assert.ok(Math.abs((there?.u ?? 0) - (here?.u ?? 1)) < 1e-9);
});

/** Records that no careful maker would write, to the end: read or refused in sentences, never a crash, a hang or a NaN. */
import assert from "node:assert/strict";
import { join } from "node:path";
import fc from "fast-check";
import { reportPage } from "../../lib/book/pages/reportPage.ts";
import { RecordRefused } from "../../lib/record/errors.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { tell } from "../../lib/knowledge/tell.ts";
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import { contractProblems } from "../contract/contract.ts";
import { type Files, read, withRecord } from "./bench.ts";

const RUNS = Number(Deno.env.get("FUZZ_RUNS") ?? 100);
/** The same records every day, so that a change is judged by what it changed; FUZZ_SEED=7 throws others. */
const seed = Number(Deno.env.get("FUZZ_SEED") ?? 2026);
const number = (...likely: number[]): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: 80, arbitrary: fc.constantFrom(...likely).map(String) },
    {
      weight: 40,
      arbitrary: fc.double({ min: 0.8, max: 1.25, noNaN: true }).map((x) => (likely[0] ?? 1) * x)
        .map(String),
    },
    {
      weight: 1,
      arbitrary: fc.constantFrom(
        "0",
        "-0",
        "-1",
        "1e-9",
        "1e9",
        "1e308",
        "-1e308",
        "NaN",
        "Infinity",
        "0x10",
        "١٢",
        "",
      ),
    },
  );
const date = fc.constantFrom("2026-04-18", "2026-04-19", "1999-12-31", "");
const rows = (header: string, ...cells: fc.Arbitrary<string>[]): fc.Arbitrary<string | undefined> =>
  fc.option(
    fc.array(fc.tuple(...cells), { maxLength: 12 }).map((lines) =>
      [header, ...lines.map((line) => line.join(","))].join("\n")
    ),
    { nil: undefined, freq: 3 },
  );

/** Whole records: mostly of a likely size, some cells absurd. */
const record: fc.Arbitrary<Files> = fc.record({
  "mirror.yaml": fc.tuple(
    number(150, 200, 300, 30),
    number(1200, 600, 3000),
    number(1, 2, 0),
    fc.constantFrom("sphere", "paraboloid", "auto"),
  )
    .map(([aperture, focal, bevel, shape]) =>
      `title: "<script>x()</script> ](javascript:x) \u202eabc 🔭"\naperture: ${aperture} mm\nfocal_length: ${focal} mm\nbevel: ${bevel} mm\ngoal: { shape: ${shape} }\n`
    ),
  "grinding.csv": rows(
    "abrasive,position,minutes",
    fc.constantFrom("F80", "F120", "F1200"),
    fc.constantFrom("mirror on top", "tool on top"),
    number(20, 5, 60),
  ),
  "sagitta.csv": rows(
    "date,after_min,go_mm,nogo_mm",
    date,
    number(20, 40, 60, 120),
    number(0.5, 0.9, 1.1),
    number(0.52, 0.92, 1.13),
  ),
  "spherometer.csv": rows("surface,dial_mm", fc.constantFrom("flat", "mirror"), number(5.0, 5.52)),
  "sun.csv": rows("date,distance_mm,image_mm", date, number(1199, 1203), number(11.1, 11.2)),
  "zones.csv": rows(
    "run,inner_mm,outer_mm,reading_mm",
    fc.constantFrom("1", "2", "3"),
    number(0, 30, 45, 57, 67),
    number(30, 45, 57, 67, 74),
    number(12.3, 12.2, 12.1),
  ),
}, { requiredKeys: ["mirror.yaml"] }).map((files) =>
  Object.fromEntries(Object.entries(files).filter(([, text]) => text !== undefined)) as Files
);

/** The tables of the zone test as a tester writes them, every run with every zone, at odd readings. */
const zones = fc.tuple(
  fc.array(
    fc.array(fc.double({ min: -40, max: 40, noNaN: true }), { minLength: 5, maxLength: 5 }),
    { minLength: 1, maxLength: 4 },
  ),
  fc.constantFrom([0, 30, 45, 57, 67, 74], [0, 10, 10.001, 30, 60, 74], [5, 10, 20, 30, 31, 75]),
).map(([runs, edges]): Files => ({
  "zones.csv": [
    "run,inner_mm,outer_mm,reading_mm",
    ...runs.flatMap((readings, run) =>
      readings.map((reading, zone) => `${run + 1},${edges[zone]},${edges[zone + 1]},${reading}`)
    ),
  ].join("\n"),
}));

/** Opens it and tells everything of it; what it is refused for is in sentences. */
async function toTheEnd(files: Files): Promise<"told" | "refused"> {
  return await withRecord(files, async (folder) => {
    try {
      const { record, summary } = await openMirror(folder);
      assert.deepEqual(contractProblems(JSON.parse(summaryText(summary))), []);
      const words = tell(summary, record.defaults).join("\n");
      const page = reportPage({ record, summary, builtOn: new Date(2026, 10, 26) });
      assert.doesNotMatch(words, /NaN|Infinity|undefined|\[object/);
      const text = page.replace(/<script[\s\S]*?<\/script>|<style[\s\S]*?<\/style>/g, "");
      assert.doesNotMatch(text, /NaN|Infinity|undefined|\[object/);
      assert.ok(!page.includes("<script>x()") && !page.includes('href="javascript:'));
      return "told";
    } catch (error) {
      if (!(error instanceof RecordRefused)) throw error;
      assert.doesNotMatch(error.message, /\n +at |undefined|\[object/);
      return "refused";
    }
  });
}

Deno.test("any tables at all are told or refused to the end, without a crash or a NaN", async () => {
  const ends = { told: 0, refused: 0 };
  await fc.assert(
    fc.asyncProperty(record, async (files) => void ends[await toTheEnd(files)]++),
    { numRuns: RUNS, seed },
  );
  assert.ok(ends.told >= RUNS / 20, `${ends.told} told, ${ends.refused} refused`);
});

Deno.test("what dice once found stays found: no leaf that passes, two windows a hair apart", async () => {
  assert.equal(await toTheEnd({ "sagitta.csv": "go_mm,nogo_mm\n0,0.4\n" }), "told");
  const zones = "run,inner_mm,outer_mm,reading_mm\n1,0,24,12.3\n1,0,24.000004,12.3\n";
  assert.equal(await toTheEnd({ "zones.csv": zones }), "told");
});

Deno.test("what dice found of lengths that cannot be is told: no sentence of the program's insides, no fault", async () => {
  const page = (more: string): string =>
    `aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n${more}`;
  const all: readonly Files[] = [
    // a ball smaller than the disc; a leaf that does not reach in; a depth deeper than its chord allows
    { "sun.csv": "distance_mm\n20\n21\n" },
    {
      "mirror.yaml": page("gauges: { leaves: { width: 100 mm } }\n"),
      "sagitta.csv": "after_min,go_mm,nogo_mm,chord_mm\n20,9,9.5,60\n",
      "grinding.csv": "abrasive,position,minutes\nF80,mirror on top,20\n",
    },
    {
      "sagitta.csv": "after_min,depth_mm,chord_mm\n20,8,20\n40,0,\n",
      "grinding.csv": "abrasive,position,minutes\nF80,mirror on top,60\n",
    },
    // a tube that leaves no place for a flat, a flat of a hair
    ...["inner_diameter: 2300 mm, wall: 3 mm", "inner_diameter: 180 mm, wall: 3 mm"].map((
      tube,
    ) => ({
      "mirror.yaml": page(
        `telescope:\n  tube: { ${tube} }\n  focuser: { height: 40 mm, margin: 1 mm }\n  fully_lit_field: 149 mm\n  flats: [0.5 mm]\n`,
      ),
    })),
    { "spherometer.csv": "surface,dial_mm\nflat,0\nmirror,900\n" },
  ];
  for (const files of all) {
    await withRecord(files, async (folder) => {
      const { record, summary } = await openMirror(folder).catch((error: unknown) => {
        assert.ok(error instanceof RecordRefused, String(error));
        return { record: undefined, summary: undefined };
      });
      if (summary === undefined) return;
      const words = tell(summary, record.defaults).join("\n");
      assert.doesNotMatch(words, /\brequires\b|got \w+=|NaN|Infinity|undefined/);
    });
  }
});

Deno.test("zone readings however odd, narrow zones and single runs are told to the end", async () => {
  await fc.assert(
    fc.asyncProperty(zones, async (files) => void await toTheEnd(files)),
    { numRuns: Math.ceil(RUNS / 4), seed },
  );
});

Deno.test("a folder that vanishes while it is read, at any moment, is refused or read, never a crash", async () => {
  const table = `distance_mm\n${"1199\n".repeat(20_000)}`;
  const files = { "sun.csv": table, "zones.csv": "run,inner_mm,outer_mm,reading_mm\n1,0,30,12\n" };
  for (let wait = 0; wait < 12; wait++) {
    await withRecord(files, async (folder) => {
      const reading = openMirror(folder).then(() => undefined, (error: unknown) => error);
      await new Promise((later) => setTimeout(later, wait));
      await Deno.remove(folder, { recursive: true });
      await Deno.mkdir(join(folder), { recursive: true });
      const error = await reading;
      assert.ok(error === undefined || error instanceof RecordRefused, String(error));
    });
  }
  assert.equal((await read(files)).sun.length, 20_000);
});

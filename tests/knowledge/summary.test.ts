import fc from "fast-check";
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { CAUTIONS } from "../../lib/coating/silver.ts";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import {
  coatingSummary,
  designSummary,
  skySummary,
  summarize,
} from "../../lib/knowledge/summary.ts";
import type { DesignSummary } from "../../lib/knowledge/summaryTypes.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import type { Settings } from "../../lib/record/types.ts";
import { KIT_VERSION } from "../../lib/version.ts";
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import { contractProblems } from "../contract/contract.ts";
import { read } from "../record/bench.ts";

/** What a whole summary is made of, and what must not change it. */

const fixture = (name: string): string =>
  fileURLToPath(new URL(`../record/fixtures/${name}`, import.meta.url));
const demo = await readRecord(join(recordsFolder, "demo-150-f8"));
const finished = summarize(demo);

Deno.test("a plan alone: design, a next step and what the aperture says, and no key for anything else", async () => {
  const summary = summarize(await read({}));
  assert.deepEqual(Object.keys(summary).sort(), [
    "coating",
    "design",
    "kitVersion",
    "nextStep",
    "record",
    "sky",
    "title",
    "warnings",
  ]);
  assert.equal(summary.kitVersion, KIT_VERSION);
  assert.deepEqual(contractProblems(JSON.parse(summaryText(summary))), []);
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
  const rows = finished.curve?.setAside.map(({ file, line }) => `${file}:${line}`) ?? [];
  assert.deepEqual(rows, ["sagitta.csv:7"]);
  const twice = { ...demo, sagitta: demo.sagitta.map((row) => row) };
  const misread = twice.sagitta.map((row) =>
    row.line === 4 ? { ...row, go: [0.8], nogo: [0.82] } : row
  );
  const both = summarize({ ...demo, sagitta: misread }).curve?.setAside.map(({ line }) => line) ??
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

const { settings } = await read({});
const designOf = (change: Partial<Settings> = {}): DesignSummary =>
  designSummary({ ...settings, ...change });
const near = (value: number, wanted: number, apart: number): void =>
  assert.ok(Math.abs(value - wanted) <= apart, `${value} is not ${wanted}`);

Deno.test("150 mm f/8: each number by its own formula", () => {
  const { focalRatio, radius, sagitta, sphereDeparture, airyRadius, shape, sphereIsEnough } =
    designOf();
  assert.deepEqual([focalRatio, radius.value, radius.unit], [8, 2400, "mm"]);
  // DERIVED: 2400 - sqrt(2400^2 - 75^2)
  near(sagitta.value, 2400 - Math.sqrt(2400 ** 2 - 75 ** 2), 1e-9);
  // DERIVED: sphere less paraboloid, 2400 - sqrt(2400^2 - 75^2) - 75^2 / 4800, mm to nm
  near(
    sphereDeparture.value,
    (2400 - Math.sqrt(2400 ** 2 - 75 ** 2) - 75 ** 2 / 4800) * 1e6,
    1e-3,
  );
  // DERIVED: first dark ring at 3.83171 (zero of J1) / pi = 1.21967 wavelengths times the focal ratio
  near(airyRadius.value, 1.21967 * 0.55 * 8, 1e-4);
  assert.deepEqual([airyRadius.unit, sphereDeparture.unit], ["um", "nm"]);
  assert.deepEqual([shape, sphereIsEnough], ["paraboloid", false]);
});

Deno.test("a sphere is enough from 1216 mm on for 150 mm, and only just not below", () => {
  // DERIVED: at best focus a sphere's wavefront is D^4 / (2048 f^3) P-V; a quarter wave of 550 nm asks for f of 1216 mm
  const least = Math.cbrt(150 ** 4 / (2048 * 0.25 * 550e-6));
  near(least, 1216, 0.5);
  assert.equal(designOf({ focalLength: least + 1 }).sphereIsEnough, true);
  assert.equal(designOf({ focalLength: least + 1 }).shape, "sphere");
  assert.equal(designOf({ focalLength: least - 1 }).sphereIsEnough, false);
});

Deno.test("the maker's own wish for a shape goes before what would be enough", () => {
  for (const shape of ["sphere", "paraboloid"] as const) {
    for (const focalLength of [900, 1500]) {
      const design = designOf({ focalLength, goal: { ...settings.goal, shape } });
      assert.equal(design.shape, shape);
      assert.equal(design.sphereIsEnough, focalLength === 1500);
    }
  }
});

Deno.test("a harder goal asks for a longer mirror", () => {
  const hard = { ...settings.goal, surfaceWaves: 1 / 16 };
  assert.equal(designOf({ focalLength: 1300 }).sphereIsEnough, true);
  assert.equal(designOf({ focalLength: 1300, goal: hard }).sphereIsEnough, false);
});

Deno.test("what the plan says is from mirror.yaml and has no uncertainty", () => {
  const design = designOf();
  assert.deepEqual([design.aperture.from, design.focalLength.from], [["mirror.yaml"], [
    "mirror.yaml",
  ]]);
  for (const value of Object.values(design)) {
    if (typeof value === "object") assert.equal("u" in value, false);
  }
});

Deno.test("law: everything scaled by k keeps the ratio and scales the depth", () => {
  const size = fc.record({
    aperture: fc.double({ min: 60, max: 400, noNaN: true }),
    ratio: fc.double({ min: 3, max: 15, noNaN: true }),
    k: fc.double({ min: 0.3, max: 3, noNaN: true }),
  });
  fc.assert(
    fc.property(size, ({ aperture, ratio, k }) => {
      const small = designOf({ aperture, focalLength: aperture * ratio });
      const large = designOf({ aperture: k * aperture, focalLength: k * aperture * ratio });
      near(large.focalRatio / small.focalRatio, 1, 1e-9);
      near(large.sagitta.value / small.sagitta.value / k, 1, 1e-6);
      near(large.sphereDeparture.value / small.sphereDeparture.value / k, 1, 1e-4);
      near(large.airyRadius.value / small.airyRadius.value, 1, 1e-9);
    }),
    { numRuns: 100, seed: 2 },
  );
});

Deno.test("silver for 150 mm, in mg, by area; no bath beside it", () => {
  // DERIVED: 10.49 g/cm3 x 176.715 cm2 x 1e-5 cm = 18.537 mg
  const found = coatingSummary({ aperture: 150 });
  assert.deepEqual([found.silverMass.value.toFixed(3), found.silverMass.unit], ["18.537", "mg"]);
  assert.deepEqual(Object.keys(found), ["silverMass", "cautions"]);
  const wide = coatingSummary({ aperture: 300 });
  assert.ok(Math.abs(wide.silverMass.value / found.silverMass.value - 4) < 1e-12);
});

Deno.test("cautions always stand with it, all of them", () => {
  assert.deepEqual(coatingSummary({ aperture: 60 }).cautions, CAUTIONS);
  assert.deepEqual(JSON.parse(JSON.stringify(coatingSummary({ aperture: 60 }))).cautions, [
    ...CAUTIONS,
  ]);
});

Deno.test("limits of 150 mm", () => {
  // DERIVED 116/D, 138/D; 6 + 5 log(D/7) and 2.7 + 5 log D
  const { dawesLimit, rayleighLimit, limitingMagnitude: [low, high] } = skySummary({
    aperture: 150,
  });
  assert.equal(dawesLimit.value.toFixed(4), "0.7733");
  assert.equal(rayleighLimit.value.toFixed(2), "0.92");
  assert.deepEqual([dawesLimit.unit, rayleighLimit.unit], ["arcsec", "arcsec"]);
  assert.deepEqual([low.toFixed(3), high.toFixed(3)], ["12.655", "13.580"]);
});

Deno.test("law: a wider mirror splits closer and sees fainter", () => {
  for (const aperture of [80, 114, 150, 250]) {
    const one = skySummary({ aperture }), more = skySummary({ aperture: aperture * 1.5 });
    assert.ok(more.dawesLimit.value < one.dawesLimit.value);
    assert.ok(more.limitingMagnitude[0] > one.limitingMagnitude[0]);
    assert.ok(one.limitingMagnitude[0] < one.limitingMagnitude[1]);
  }
});

/** Which readings make the curve, which are shown and not used, and what is told of the rest. */
import assert from "node:assert/strict";
import { curveSummary } from "../../lib/knowledge/curveSummary.ts";
import type { CurveSummary } from "../../lib/knowledge/summaryTypes.ts";
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import { contractProblems } from "../contract/contract.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import { type Files, MIRROR, read } from "../record/bench.ts";

async function found(files: Files): Promise<{ curve: CurveSummary; told: string }> {
  const { curve, warnings } = curveSummary(await read(files));
  assert.ok(curve !== undefined, "no curve");
  return {
    curve,
    told: warnings.map(({ file, message }) => `${file ?? ""}: ${message}`).join("\n"),
  };
}

const LEAVES = "go_mm,nogo_mm\n" + "1.12,1.14\n1.13,1.15\n".repeat(3);
const SUN = "distance_mm\n1199\n1194\n1203\n1197\n1196\n1201\n";
/** DERIVED: h = R - b - sqrt((R - b)^2 - a^2), a 50 mm, b 3 mm, R 2400 mm, is 0.5217 mm */
const DIALS = "surface,dial_mm\nflat,5.000\nflat,5.001\nmirror,5.522\nmirror,5.523\n";
const GAUGES = MIRROR + "gauges: { spherometer: { leg_radius: 50 mm, ball_radius: 3 mm } }\n";

Deno.test("no readings, no curve; rows of a plan alone warn of nothing", async () => {
  assert.deepEqual(curveSummary(await read({})), { warnings: [], slips: [] });
});

Deno.test("one method: a radius, no Birge ratio, its budget adds up to one", async () => {
  const { curve } = await found({ "sagitta.csv": LEAVES });
  // DERIVED: 1.135 mm and the leaf's 12.7^2 / 8R more under 148 mm: R = (74^2 + s^2) / 2s
  const depth = 1.135 + 12.7 ** 2 / (8 * 2394);
  const radius = (74 ** 2 + depth ** 2) / (2 * depth);
  assert.ok(
    Math.abs((curve.radius?.value ?? 0) - radius) < 1,
    `${curve.radius?.value} for ${radius}`,
  );
  assert.equal(curve.focalLength?.value, (curve.radius?.value ?? 0) / 2);
  assert.equal(curve.birgeRatio, undefined);
  assert.equal(curve.consistent, true);
  assert.deepEqual(curve.radius?.from, ["sagitta.csv"]);
  const whole = curve.budget.reduce((sum, { share }) => sum + share, 0);
  assert.ok(Math.abs(whole - 1) < 1e-9, `${whole}`);
});

Deno.test("three methods: weighed together, each with its readings and its file", async () => {
  const { curve } = await found({
    "mirror.yaml": GAUGES,
    "sagitta.csv": LEAVES,
    "spherometer.csv": DIALS,
    "sun.csv": SUN,
  });
  assert.deepEqual(
    curve.estimates.filter(({ used }) => used).map(({ method, readings, radius: { from } }) =>
      `${method} ${readings} ${from}`
    ),
    ["leaves 6 sagitta.csv", "spherometer 4 spherometer.csv", "sun distance 6 sun.csv"],
  );
  assert.deepEqual(curve.radius?.from, ["sagitta.csv", "spherometer.csv", "sun.csv"]);
  const least = Math.min(...curve.estimates.map(({ radius: { u = Infinity } }) => u));
  assert.ok((curve.radius?.u ?? Infinity) < least, "together is surer than the surest");
  assert.equal(typeof curve.birgeRatio, "number");
});

Deno.test("only the latest minute counts; what was last read before it is shown, not used, and told", async () => {
  const { curve, told } = await found({
    "sagitta.csv":
      "after_min,go_mm,nogo_mm\n100,0.89,0.90\n120,1.12,1.14\n120,1.13,1.15\n120,1.12,1.14\n",
    "sun.csv": "after_min,distance_mm\n100,1520\n100,1524\n",
  });
  const by = new Map(curve.estimates.map((one) => [one.method, one]));
  assert.equal(by.get("leaves")?.readings, 3);
  assert.deepEqual([by.get("leaves")?.used, by.get("sun distance")?.used], [true, false]);
  assert.deepEqual(curve.radius?.from, ["sagitta.csv"]);
  assert.match(
    told,
    /sun\.csv: sun distance: last read at minute 100, .* minute 120; shown, not used/,
  );
});

Deno.test("where no row tells its minute, all count", async () => {
  const { curve } = await found({ "sagitta.csv": LEAVES });
  assert.equal(curve.estimates[0]?.readings, 6);
});

Deno.test("a depth gauge's rows are a method of their own beside the leaves", async () => {
  const { curve } = await found({
    "sagitta.csv": "go_mm,nogo_mm,depth_mm\n1.12,1.14,\n1.13,1.15,\n,,1.14\n,,1.15\n",
  });
  assert.deepEqual(curve.estimates.map(({ method, readings }) => [method, readings]), [
    ["leaves", 2],
    ["depth gauge", 2],
  ]);
});

Deno.test("a table that gives no radius is told and left out, the others stay", async () => {
  const { curve, told } = await found({
    "mirror.yaml": GAUGES,
    "sagitta.csv": LEAVES,
    "spherometer.csv": "surface,dial_mm\nflat,5.000\nmirror,5.000\n",
  });
  assert.deepEqual(curve.estimates.map(({ method }) => method), ["leaves"]);
  assert.match(told, /spherometer\.csv: not used: /);
});

Deno.test("a slip that a ratio gives away: named, told, left out, never converted", async () => {
  // INVENTED readings of a mirror of 2396.7 mm, as in the tests above
  const record = await read({
    "mirror.yaml": GAUGES,
    "sagitta.csv": LEAVES,
    "sun.csv": SUN,
    // the dial's travel read in inches: 0.0205 where 0.522 mm is meant
    "spherometer.csv": "surface,dial_mm\nflat,5.0000\nflat,5.0001\nmirror,5.0205\nmirror,5.0206\n",
  });
  const { curve, warnings } = curveSummary(record);
  assert.equal(curve?.mistake?.file, "spherometer.csv");
  assert.match(curve?.mistake?.what ?? "", /inch|25\.4/);
  const slip = curve?.estimates.find(({ method }) => method === "spherometer");
  assert.equal(slip?.used, false);
  assert.ok((slip?.radius.value ?? 0) > 20_000, "as it was read");
  assert.ok(Math.abs((curve?.radius?.value ?? 0) - 2396.7) < 10);
  assert.ok(!(curve?.radius?.from ?? []).includes("spherometer.csv"));
  assert.ok(warnings.length > 0, "it is told in the warnings too");
  assert.deepEqual(contractProblems(JSON.parse(summaryText(summarize(record)))), []);
});

Deno.test("a shallow hollow in rough grinding is no slip", async () => {
  const { curve } = await found({
    "grinding.csv": "abrasive,position,minutes\nF80,mirror on top,60\n",
    "sagitta.csv": "after_min,go_mm,nogo_mm\n60,0.28,0.29\n",
  });
  // a quarter of the depth: four times the radius, and right so
  assert.ok((curve.radius?.value ?? 0) > 9000);
  assert.equal(curve.mistake, undefined);
});

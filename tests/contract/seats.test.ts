/**
 * From three seats of the mirror to what the summary says: tables made by this file's own sums, read by the whole kit.
 */
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import assert from "node:assert/strict";
import { openMirror } from "../../lib/knowledge/open.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";
import { type Files, withRecord } from "../record/bench.ts";
import { contractProblems } from "./contract.ts";

const RADIUS = 2400, HALF = 74;
const EDGES = [0, 10, 20, 30, 37.5, 45, 51, 57, 67, 74];
const YAML = `aperture: 150 mm
focal_length: 1200 mm
bevel: 1 mm
mask: [${EDGES.map((edge) => `${edge} mm`).join(", ")}]
`;

/** How the glass and the bench are: amplitudes in nm, its axis in degrees from the mark. */
interface Bench {
  readonly mirror: number;
  readonly axis: number;
  readonly stand: number;
}

/** Dice of this file's own, about normal: the sum of twelve. */
function dice(seed: number): () => number {
  let state = seed;
  const one = (): number => (state = (state * 1103515245 + 12345) % 2147483648) / 2147483648;
  return () => Array.from({ length: 12 }, one).reduce((a, b) => a + b, 0) - 6;
}

/**
 * DERIVED: a paraboloid reads r^2 / 2R farther out with the lamp on the slide. A height A (r / rho)^2 along a diameter
 * makes 1 / 2R' = 1 / 2R + A / rho^2, so that the knife moves by -2 R^2 A / rho^2. An upright knife reads the level
 * diameter, which lies 90 degrees from the top; with the mirror turned by `seat` its mark is turned as much.
 */
function zonesCsv(
  bench: Bench,
  seats: readonly number[],
  knives: readonly number[],
  runs = 3,
): string {
  const throws = dice(5), lines: string[] = [];
  const radians = Math.PI / 180;
  seats.forEach((seat, n) => {
    const put = [0, 0.04, -0.05][n] ?? 0;
    for (const knife of knives) {
      const along = knife + 90, phi = along - seat;
      const height = (bench.mirror * Math.cos(2 * (phi - bench.axis) * radians) +
        bench.stand * Math.cos(2 * along * radians)) * 1e-6;
      const shift = -2 * RADIUS ** 2 * height / HALF ** 2;
      for (let run = 0; run < runs; run++) {
        const readings = EDGES.slice(1).map((outer, i) => {
          const inner = EDGES[i] ?? 0, square = (inner ** 2 + outer ** 2) / 2;
          return (12 + put + shift + square / 2 / RADIUS + 0.03 * throws()).toFixed(2);
        });
        const order = run % 2 === 0 ? "outward" : "inward";
        lines.push(`2026-06-26,${run + 1},${seat},${knife},${order},${readings.join(",")}`);
      }
    }
  });
  const zones = EDGES.slice(1).map((_, i) => `zone_${i + 1}_mm`).join(",");
  return `date,run,angle_deg,knife_deg,order,${zones}\n${lines.join("\n")}\n`;
}

async function summaryOf(zones: string, yaml = "", more: Files = {}): Promise<Summary> {
  const files = { "mirror.yaml": YAML + yaml, "zones.csv": zones, ...more };
  return await withRecord(files, async (folder) => {
    const { summary } = await openMirror(folder);
    assert.deepEqual(contractProblems(JSON.parse(summaryText(summary))), []);
    return summary;
  });
}

const ROUND: Bench = { mirror: 0, axis: 0, stand: 30 };
const ALL = [0, 45, 90], BOTH = [0, 90];

Deno.test("a round mirror in three seats with both knives: yes, of the whole surface, and it may be coated", async () => {
  const { verdict, figure, nextStep: step } = await summaryOf(zonesCsv(ROUND, ALL, BOTH));
  assert.deepEqual([verdict?.meetsGoal, verdict?.scope], ["yes", "whole surface"]);
  assert.deepEqual(verdict?.lacks, ["polishing log"]);
  assert.equal(step.stage, "coating");
  const { astigmatism, diameters } = figure?.zones ?? {};
  assert.equal(astigmatism?.interval95[0], 0, "a clean mirror's amplitude is told from 0");
  assert.ok((diameters ?? 0) >= 4);
  const { value = 0, u = 0 } = astigmatism?.stand ?? {};
  assert.ok(Math.abs(value - ROUND.stand) < 3 * u, `stand ${value} ± ${u}`);
});

Deno.test("46 and 150 nm of astigmatism: found with axis and doubt, verdict no, no strokes in rings", async () => {
  for (const mirror of [46, 150]) {
    const bench = { mirror, axis: 20, stand: 30 };
    const { verdict, figure, nextStep: step } = await summaryOf(zonesCsv(bench, ALL, BOTH));
    const { amplitude, axis, interval95: ends } = figure?.zones?.astigmatism ?? {};
    assert.ok(amplitude?.u !== undefined && axis?.u !== undefined && ends !== undefined);
    assert.ok(Math.abs(amplitude.value - mirror) < 3 * amplitude.u, `${amplitude.value}`);
    assert.ok(amplitude.u < 15 && ends[0] <= amplitude.value && amplitude.value <= ends[1]);
    assert.ok(Math.abs(axis.value - 20) < 3 * axis.u, `axis ${axis.value} ± ${axis.u}`);
    assert.equal(verdict?.meetsGoal, "no");
    assert.equal(step.stage, "polishing");
    assert.match(step.do, /turn both discs/);
  }
});

Deno.test("one seat: never the coating, whatever the verdict; the missing seats and knives are asked for", async () => {
  const bench = { mirror: 150, axis: 0, stand: 0 };
  const { verdict, nextStep: step } = await summaryOf(zonesCsv(bench, [0], [0]));
  assert.deepEqual([verdict?.meetsGoal, verdict?.scope], ["yes", "one diameter"]);
  assert.ok(verdict?.lacks?.includes("another diameter"));
  assert.equal(step.stage, "zone test");
  assert.deepEqual(step.readings?.map(({ angleDeg, knifeDeg }) => [angleDeg, knifeDeg]), [
    [0, 90],
    [45, 0],
    [45, 90],
    [90, 0],
    [90, 90],
  ]);
  assert.match(step.do, /until the mark stands at 45 degrees/);
});

Deno.test("turned seats without a turned knife, one seat with both: allowed, and of one diameter", async () => {
  const bench = { mirror: 46, axis: 0, stand: 30 };
  for (const [seats, knives] of [[ALL, [0]], [[0], BOTH]] as const) {
    const { verdict, figure, nextStep: step } = await summaryOf(zonesCsv(bench, seats, knives));
    assert.equal(verdict?.scope, "one diameter");
    assert.ok((figure?.zones?.diameters ?? 0) >= 2);
    assert.notEqual(step.stage, "coating");
  }
});

Deno.test("goal.scope one diameter leads on to the coating, and both say what was not looked for", async () => {
  const { verdict, nextStep: step } = await summaryOf(
    zonesCsv(ROUND, [0], [0]),
    "goal: { scope: one diameter }\n",
  );
  assert.deepEqual([verdict?.meetsGoal, verdict?.scope], ["yes", "one diameter"]);
  assert.equal(step.stage, "coating");
  assert.match(step.why, /astigmatism was not looked for/);
});

Deno.test("pits seen after the last polishing, or hardly any polishing, hold a yes back", async () => {
  const zones = zonesCsv(ROUND, ALL, BOTH);
  const log = (minutes: number): string =>
    `date,abrasive,position,minutes\n2026-04-18,F1200,mirror on top,20\n2026-06-20,cerium oxide,mirror on top,${minutes}\n`;
  const pitted = await summaryOf(zones, "", {
    "grinding.csv": log(360),
    "diary.csv": "date,what,where_mm,amount\n2026-06-22,pits,70,3\n",
  });
  assert.deepEqual([pitted.verdict?.meetsGoal, pitted.nextStep.stage], ["yes", "polishing"]);
  assert.deepEqual(pitted.verdict?.lacks, ["pits"]);
  const short = await summaryOf(zones, "", { "grinding.csv": log(30) });
  assert.deepEqual([short.verdict?.lacks, short.nextStep.stage], [["polishing"], "polishing"]);
  const whole = await summaryOf(zones, "", {
    "grinding.csv": log(360),
    "diary.csv":
      "date,what\n2026-06-21,pits\n2026-06-22,no pits\n2026-07-01,sent to be coated\n2026-07-20,coated\n",
  });
  assert.deepEqual([whole.verdict?.lacks, whole.nextStep.stage], [undefined, "flat and tube"]);
});

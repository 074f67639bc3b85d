import assert from "node:assert/strict";
import { join } from "node:path";
import { openMirror } from "../../lib/knowledge/open.ts";
import { kestrelLane } from "./classBench.ts";
import { benchRows } from "./classZones.ts";

const bench = join(kestrelLane, "bench-01");

Deno.test("bench 1's rows of three seats are those that its invented bench gives", async () => {
  const rows = (await Deno.readTextFile(join(bench, "zones.csv"))).trim().split("\n");
  assert.deepEqual(rows.slice(-108), benchRows());
});

Deno.test("bench 1 is done: a yes of the whole surface with nothing lacking", async () => {
  const { summary: { verdict, nextStep: step, figure } } = await openMirror(bench);
  assert.deepEqual([verdict?.meetsGoal, verdict?.scope, verdict?.lacks, step.stage], [
    "yes",
    "whole surface",
    undefined,
    "coating",
  ]);
  // INVENTED: the bench's own 6 nm
  const { amplitude } = figure?.zones?.astigmatism ?? {};
  assert.ok(Math.abs((amplitude?.value ?? NaN) - 6) < 3 * (amplitude?.u ?? 0));
});

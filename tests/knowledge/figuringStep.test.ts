import assert from "node:assert/strict";
import { changeSaid, minutesSaid, planFor, strokeSaid } from "../../lib/knowledge/figuringStep.ts";
import { modeShape } from "../../lib/shaping/figuring/figuringModes.ts";
import { figuringStroke } from "../../lib/shaping/figuring/figuringStrokes.ts";
import { decision } from "../../lib/record/tables.ts";
import { tell } from "../../lib/knowledge/tell.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { cut, withCopy } from "../contract/copies.ts";
import { read } from "../record/bench.ts";

const { settings } = await read({});

Deno.test("a stroke is said in millimetres of this very disc", () => {
  const said = (...[face, lap, travel, offset]: Parameters<typeof figuringStroke>): string =>
    strokeSaid({ stroke: figuringStroke(face, lap, travel, offset), minutes: 1.5 }, 200);
  assert.equal(
    said("down", 1, 1 / 2, 1 / 4),
    "1.5 minutes with the mirror on top, 50 mm to the side, strokes 100 mm long",
  );
  assert.equal(
    said("up", 1, 1 / 3, 0),
    "1.5 minutes with the lap on top, over the centre, strokes 67 mm long",
  );
  assert.match(said("up", 0.3, 1 / 4, 0.1), /with a lap of 60 mm on top, 20 mm to the side/);
  assert.deepEqual([0.25, 1, 2].map(minutesSaid), ["15 seconds", "1 minute", "2 minutes"]);
});

Deno.test("the plan is for full laps, no longer than a spell, and none once the goal is shown", () => {
  const profile = Array.from({ length: 60 }, (_, i) => ({
    radius: i * 74 / 59,
    surfaceError: 60 * modeShape(2, (i / 59) ** 2),
    u: 3,
  }));
  const plan = planFor({ profile, verdict: "no" }, settings, 4);
  assert.ok(plan.next.every(({ stroke }) => stroke.lap === 1));
  assert.ok(plan.next.reduce((sum, { minutes }) => sum + minutes, 0) <= 4.5);
  assert.match(
    changeSaid(plan),
    /^This spell should bring the RMS of the glass from \d+ to \d+ nm/,
  );
  assert.equal(planFor({ profile, verdict: "yes" }, settings, 4).do, "stop");
});

Deno.test("the demo on the evenings before its spells: strokes, minutes, what they should come to", async () => {
  for (const date of ["2026-06-12", "2026-06-19"]) {
    const { nextStep: step, ...summary } = await withCopy(
      "demo-150-f8",
      (name, text) => cut(name, text, { date }),
      async (folder) => (await openMirror(folder)).summary,
    );
    assert.match(step.do, /(minutes?|seconds) with the (mirror|lap) on top/, date);
    assert.ok(step.do.includes(`cool ${decision("spell_rest")} minutes`));
    assert.match(step.why, /RMS of the glass from \d+ to \d+ nm \(95 %: \d+ to \d+\)/);
    const lines = tell({ ...summary, nextStep: step });
    const from = lines.findIndex((line) => /^ {2}do /.test(line));
    assert.match(lines[from] ?? "", /do +Press the lap, then polish/);
    assert.ok(
      lines.some((line) => /^ {18}After every 8 strokes turn/.test(line)),
      lines.join("\n"),
    );
  }
});

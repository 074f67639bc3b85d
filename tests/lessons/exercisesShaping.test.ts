/** Answers and traps of fine grinding, lap, polishing and figuring, computed by the lib or by hand. */
import assert from "node:assert/strict";
import { exercises } from "../../lib/lessons/exercises.ts";
import { judge } from "../../lib/lessons/grader.ts";
import { sagitta } from "../../lib/optics/sphere.ts";
import { fineAllowance } from "../../lib/shaping/grinding/ladder.ts";
import { removalAfter } from "../../lib/shaping/grinding/grade.ts";
import { pitchNeeded } from "../../lib/shaping/lap/lap.ts";
import { polishTime } from "../../lib/shaping/lap/polish.ts";
import { agrees } from "./agrees.ts";

Deno.test("07: what must go, where to stop, what it does to f", () => {
  agrees("smooth-surface-1", removalAfter({ ds50Um: 58 }).least, [
    removalAfter({ ds50Um: 29 }).least,
    removalAfter({ ds50Um: 58 }).most,
  ]);
  const grades = [185, 109, 58, 29.2, 12.8, 6.5, 3].map((sizeUm) => ({ name: "F", sizeUm }));
  const added = fineAllowance({ grades, mirrorOnTop: 1 }), target = sagitta(150, 2400);
  agrees("smooth-surface-2", target - added, [target + added, target, target - added * 1000]);
  const off = -1200 * 0.089 / target;
  agrees("smooth-surface-3", off, [2 * off, -off, -2 * off]);
});

Deno.test("08: pitch and contact", () => {
  const grams = (diameter: number): number => pitchNeeded({ diameter, thickness: 7 }).grams;
  agrees("pour-lap-1", grams(150), [4 * grams(150)]);
  agrees("pour-lap-2", (1 - 5 / 25) ** 2, [1 - 5 / 25, 1 - (20 / 25) ** 2, (5 / 25) ** 2]);
  agrees("pour-lap-3", grams(200), [grams(150) * 200 / 150, grams(150) * (200 / 150) ** 3]);
});

Deno.test("09: hours", () => {
  const at = (um: number, rate: number): number =>
    polishTime({ pits: { least: um, most: um }, rate, edgeShare: 1 }).centre.hours;
  agrees("polish-surface-1", at(5, 1.3), [1.3 / 5, 5 * 1.3]);
  const halving = 2 / Math.log2(32 / 8), more = Math.log2(8);
  agrees("polish-surface-2", 4 + halving * more, [
    halving * more,
    4 + 8 / ((32 - 8) / 2),
    4 + 2 * halving * more,
  ]);
  agrees("polish-surface-3", at(1, 0.9), [at(1, 1.3), 0.9]);
});

Deno.test("13: minutes, and whether more runs would settle it", () => {
  const nmPerMinute = 1300 / 60;
  agrees("shape-surface-1", 68 / nmPerMinute, [
    68 / nmPerMinute * 1000,
    68 / nmPerMinute / 60,
    68 / 1.3,
  ]);
  // DERIVED: shares are of u²
  agrees("shape-surface-3", 0.035 * Math.sqrt(1 - 0.07), [
    0.035 * 0.93,
    0.035 * 0.07,
    0.035,
  ]);
  const where = exercises.find(({ id }) => id === "shape-surface-2");
  assert.ok(where !== undefined && "choices" in where && where.choices.length === 3);
  assert.equal(judge(where, "in the middle").is, "right");
});

import assert from "node:assert/strict";
import { fittedSagitta } from "../../../lib/shaping/grinding/discShape.ts";
import { fineAllowance } from "../../../lib/shaping/grinding/ladder.ts";
import {
  curveThroughLadder,
  leaveGrade,
  pencilTest,
} from "../../../lib/shaping/grinding/leaveGrade.ts";
import { chordRoutine, playRoutine } from "../../../lib/shaping/grinding/routine.ts";
import { WearBench } from "../../../lib/shaping/grinding/wear.ts";
import { closedWear, wearSettings } from "../../../lib/shaping/grinding/wearLaws.ts";

const rules = { fields: 5, scratch: 30, radiusOff: 0.01 };
const clean = { pits: [0, 0, 0, 0, 0], pencilGone: true };
const names = ["F80", "F120", "F220", "F320", "F500", "F800", "F1200"];
const grains = [185, 109, 58, 29.2, 12.8, 6.5, 3];
const grades = names.map((name, i) => ({ name, sizeUm: grains[i] ?? 0 }));

Deno.test("each look has its answer, the costliest fault first", () => {
  const said = (look: Parameters<typeof leaveGrade>[0]): string => leaveGrade(look, rules).do;
  assert.equal(said(clean), "next grade");
  assert.equal(said({ ...clean, pits: [0, 0, 2, 0, 0] }), "same grade");
  assert.equal(said({ ...clean, pencilGone: false }), "same grade");
  assert.equal(said({ pits: [0, 0, 0, 0], pencilGone: true }), "look more");
  assert.equal(said({ pits: [0, 0, 0, 0, 0] }), "look more");
  assert.equal(said({ ...clean, scratch: 31 }), "back one grade");
  assert.equal(said({ ...clean, scratch: 30 }), "next grade");
  assert.equal(said({ ...clean, radiusOff: -0.012 }), "back to correct the curve");
  assert.equal(said({ ...clean, scratch: 40, radiusOff: 0.02 }), "back to correct the curve");
  assert.throws(() => leaveGrade({ pits: [1.5] }, rules), /whole counts/);
});

Deno.test("an hour of short centre strokes, mirror on top: removal and sagitta by grade", () => {
  // DERIVED m = k F L / (pi a^2), 6 m (50^2 / 12) / a^2 for 2400 strokes of 50 mm, k 4e-4 by the grain: um of removal, um of sagitta
  const wanted = [
    [325.9, 72.43],
    [192.0, 42.68],
    [102.2, 22.71],
    [51.4, 11.43],
    [22.6, 5.01],
    [11.5, 2.54],
    [5.3, 1.17],
  ];
  grades.forEach((grade, i) => {
    const wear = closedWear(wearSettings(150, grade), { offset: 0, travel: 50 }, 2400);
    const [removal = 0, added = 0] = wanted[i] ?? [];
    assert.ok(Math.abs(wear.upperRemoval * 1000 - removal) < 0.06, `${grade.name} removal`);
    assert.ok(Math.abs(wear.upperSagitta * 1000 - added) < 0.006, `${grade.name} sagitta`);
  });
});

Deno.test("the ladder's drift: sums of 89.0 um, and none with equal times", () => {
  // DERIVED: 2/9 of the former grain for each grade, always mirror on top
  const steps = [41.1, 24.2, 12.9, 6.5, 2.8, 1.4];
  const after = curveThroughLadder({
    ...{ grades, sagitta: 1.0832, aperture: 150, mirrorOnTop: 1, removalShare: 1 },
  });
  after.forEach(({ added }, i) =>
    assert.ok(Math.abs(added * 1000 - (steps[i] ?? 0)) < 0.1, `${added}`)
  );
  assert.ok(Math.abs((after.at(-1)?.sagitta ?? 0) - 1.0832 - 0.089) < 1e-5);
  assert.ok(Math.abs((after.at(-1)?.radius ?? 0) - 2400) < 1);
  const even = curveThroughLadder({ grades, sagitta: 1.172161, aperture: 150 });
  assert.ok(even.every(({ radius }) => Math.abs(radius - 2400) < 0.01));
});

Deno.test("the drift summed grade by grade is the allowance for the whole ladder", () => {
  const plan = { mirrorOnTop: 0.55, removalShare: 0.5 };
  const after = curveThroughLadder({ grades, sagitta: 1.1, aperture: 150, ...plan });
  const sum = after.reduce((total, { added }) => total + added, 0);
  assert.ok(Math.abs(sum - fineAllowance({ grades, ...plan })) < 1e-12);
  assert.throws(() => curveThroughLadder({ grades: [], sagitta: 1, aperture: 150 }), /a finer one/);
});

Deno.test("pencil test: what each grade can show, and how far contact reaches", () => {
  // DERIVED: squeeze of the layer 10 um for F80, in proportion to the grain; all over while s <= 2 x squeeze
  grades.forEach((grade) => {
    const shows = pencilTest(0, grade).showsUm;
    assert.ok(Math.abs(shows - 2 * 9.986 * grade.sizeUm / 185) < 0.01 * shows, `${shows}`);
    assert.equal(pencilTest(shows * 0.99, grade).reach, 1);
    assert.ok(Math.abs(pencilTest(16 * shows, grade).reach - 0.5) < 1e-9);
  });
  assert.ok(
    Math.abs(pencilTest(-40, { sizeUm: 29.2 }).reach - pencilTest(40, { sizeUm: 29.2 }).reach) <
      1e-12,
  );
  assert.throws(() => pencilTest(NaN, { sizeUm: 29 }), /finite misfit/);
});

Deno.test("matched discs under the wear engine stay within what the pencil can show", () => {
  const grain = { sizeUm: 29.2 };
  const bench = new WearBench(wearSettings(150, grain));
  for (const set of playRoutine({ ...chordRoutine(150), offset: 0, travel: 50 }, 300)) {
    bench.grind(set);
  }
  const { upper, lower } = bench.worn;
  const misfit = 1000 * (fittedSagitta(upper) + fittedSagitta(lower));
  assert.equal(pencilTest(misfit, grain).reach, 1, `${misfit} um`);
});

Deno.test("one pit is one pit", () => {
  const rules = { fields: 5, scratch: 30, radiusOff: 0.01 };
  const why = (pits: number[]): string => leaveGrade({ pits, pencilGone: true }, rules).why;
  assert.match(why([0, 0, 0, 1, 0]), /^1 pit of the former grade in 5 fields$/);
  assert.match(why([0, 0, 2, 1, 0]), /^3 pits of /);
});

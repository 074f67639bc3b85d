/** Answers and traps of the exercises, computed: the answer by the lib, each trap by the misconception it stands for. */
import assert from "node:assert/strict";
import { course } from "../../lib/lessons/course.ts";
import type { Exercise } from "../../lib/lessons/exercise.ts";
import { misconceptions } from "../../lib/lessons/exercises/misconceptions.ts";
import { exercise, exercises } from "../../lib/lessons/exercises.ts";
import { judge } from "../../lib/lessons/grader.ts";
import { radiusFromSagitta, sagitta } from "../../lib/optics/sphere.ts";
import { coverageFactor } from "../../lib/quantity/coverage.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { propagate } from "../../lib/quantity/propagate.ts";
import { typeA } from "../../lib/quantity/typeB.ts";
import { abrasives } from "../../lib/record/tables.ts";
import { gradeOf } from "../../lib/shaping/grinding/grade.ts";
import { centreRoutine, chordRoutine } from "../../lib/shaping/grinding/routine.ts";
import { closedWear, wearSettings } from "../../lib/shaping/grinding/wearLaws.ts";
import { discMass } from "../../lib/stages/discs.ts";
import { agrees, numberExercise } from "./agrees.ts";

/** DERIVED: a half chord given as the chord is the radius of a chord twice as wide. */
const doubled = (depth: number, chord: number): number => radiusFromSagitta(depth, 2 * chord);

/** DERIVED: bracket middle, and w² ÷ 8R for a flat leaf of width w, with the wanted R = 2400. */
const leaf = 1.14 + 12.7 ** 2 / (8 * 2400);
/** DERIVED: three balls of radius b on a hollow, R = (d² + h²) ÷ 2h + b. */
const spherometer = (legs: number, ball: number): number =>
  (legs ** 2 + 0.5224 ** 2) / (2 * 0.5224) + ball;

Deno.test("00: units, and a number's readings", () => {
  agrees("open-record-1", 0.047 * 25.4, [0.047, 0.047 / 25.4]);
  // INVENTED: 2400 mm is what the record of the question says
  agrees("open-record-2", radiusFromSagitta(1.17, 150) / 2, [
    radiusFromSagitta(1.17, 150),
    2400,
    doubled(1.17, 150) / 2,
    doubled(1.17, 150),
  ]);
  agrees("open-record-3", 12 * 9, [12, 9, 12 + 9]);
});

Deno.test("01: depth, and what a sphere is short of", () => {
  agrees("choose-mirror-1", sagitta(114, 1800), [4 * sagitta(114, 1800), sagitta(114, 900)]);
  // DERIVED: sphere less paraboloid is r⁴ ÷ 8R³ at the rim; best focus leaves a quarter of it on the glass.
  const glassNm = 100 ** 4 / (8 * 2400 ** 3) / 4 * 1e6;
  // DERIVED: f stays, so the wavefront of 150 mm grows by the fourth power of the width; lower powers are the misconceptions
  const narrow = 2 * (75 ** 4 / (8 * 2400 ** 3) / 4 * 1e6) / 550;
  const lower = [1, 2, 3].map((power) => narrow * (200 / 150) ** power);
  agrees("choose-mirror-2", 2 * glassNm / 550, [glassNm / 550, ...lower]);
  agrees("choose-mirror-3", 2 ** -3, [2 ** -1, 2 ** -2, 2 ** -4, 2 ** 3]);
});

Deno.test("02: a disc's mass, two jars, a bevel forgotten", () => {
  agrees("prepare-discs-1", discMass(150, 25, 2500) / 1000, [discMass(300, 25, 2500) / 1000]);
  const [f400, jis400] = ["F400", "#400"].map((name) => gradeOf(name, abrasives()).ds50Um);
  const coarser = (jis400 ?? 0) > (f400 ?? Infinity) ? "#400" : "F400";
  assert.equal(exercises.find(({ id }) => id === "prepare-discs-2")?.answer, coarser);
  const depth = sagitta(146, 2400), long = radiusFromSagitta(depth, 150) / 2400;
  agrees("prepare-discs-3", 100 * (long - 1), [100 * (75 / 73 - 1), 100 * (2 / 75)]);
  // the page's own rule, which a reader goes by: one part in 75 for each millimetre of bevel, counted twice
  assert.equal(judge(numberExercise("prepare-discs-3"), 100 * 2 * (2 / 75)).is, "right");
});

Deno.test("03: which way, how long, how far", () => {
  const settings = wearSettings(150), strokes = 60 * 40;
  const { upperSagitta, lowerSagitta } = closedWear(settings, chordRoutine(150), strokes);
  agrees("grind-hollow-1", 1000 * lowerSagitta, [1000 * upperSagitta, 0]);
  const slow = closedWear(settings, centreRoutine(150), strokes).upperSagitta;
  const depth = sagitta(150, 2400);
  agrees("grind-hollow-2", depth / slow, [
    depth / upperSagitta,
    depth / slow / 1000,
    slow / depth,
  ]);
  const { travel } = centreRoutine(150);
  agrees("grind-hollow-3", travel / 2, [travel]);
});

Deno.test("04: one radius three ways, and the ways to miss it", () => {
  agrees("measure-curve-1", radiusFromSagitta(leaf, 148), [
    radiusFromSagitta(leaf, 150),
    doubled(leaf, 148),
    radiusFromSagitta(1.14, 148),
    radiusFromSagitta(1.14, 150),
    radiusFromSagitta(leaf, 148) / 2,
  ]);
  agrees("measure-curve-2", spherometer(50, 3), [
    spherometer(50, -3),
    spherometer(100, 3),
    spherometer(50, 0),
    spherometer(50, 3) / 2,
  ]);
  agrees("measure-curve-3", 11.1 * 107.9, [11.1 * 109, 2 * 11.1 * 107.9]);
});

Deno.test("05: how sure", () => {
  const { s, u, dof } = typeA([12.31, 12.36, 12.27, 12.33, 12.38]);
  agrees("weigh-readings-1", coverageFactor(0.95, dof) * u, [
    s,
    2 * u,
    u,
    coverageFactor(0.95, dof) * s,
  ]);
  const focal = measured(1198.33, 1.36, "mm");
  agrees("weigh-readings-2", propagate(({ f }) => 2 * (f ?? NaN), { f: focal }).u, [
    1.36,
    1.36 / 2,
  ]);
  const values = [2350, 2402, 2440], us = [12, 6, 10];
  const weights = us.map((x) => 1 / x ** 2), total = weights.reduce((a, b) => a + b);
  const mean = values.reduce((sum, x, i) => sum + x * (weights[i] ?? NaN), 0) / total;
  const chi2 = values.reduce((sum, x, i) => sum + (x - mean) ** 2 * (weights[i] ?? NaN), 0);
  agrees("weigh-readings-3", Math.sqrt(chi2 / 2 / total), [
    1 / Math.sqrt(total),
    1 / Math.sqrt(total) / Math.sqrt(chi2 / 2),
  ]);
});

Deno.test("06: when to stop, how far out", () => {
  const left = (1.168 - 1.107) / 0.0091;
  agrees("correct-depth-1", left, [left / 1000, 120 + left, 1.168 / 0.0091, 1 / left]);
  const off = radiusFromSagitta(sagitta(150, 2400) + 0.035, 150) / 2 - 1200;
  const slope = -1200 * 0.035 / sagitta(150, 2400);
  for (const value of [off, slope]) {
    agrees("correct-depth-2", value, [2 * value, -value, -2 * value]);
  }
});

Deno.test("11: zones to nanometres", () => {
  const squared = (inner: number, outer: number): number => (inner ** 2 + outer ** 2) / 2;
  // DERIVED: normals of a paraboloid cross the axis at R + r²/2R: a fixed source sees twice that.
  const spread = (squared(67, 74) - squared(0, 30)) / 2396;
  agrees("measure-zones-1", spread, [
    spread / 2,
    74 ** 2 / 2396,
    (70.5 ** 2 - 15 ** 2) / 2396,
  ]);
  // DERIVED: a normal that crosses dL too far leans dL·r ÷ R² too little.
  const low = 0.05 * 70.6 / 2396 ** 2 * 7 * 1e6;
  agrees("measure-zones-3", low, [2 * low, low / 2]);
});

Deno.test("12: waves and Strehl", () => {
  agrees("judge-mirror-1", 2 * 32 / 550, [32 / 550]);
  // DERIVED: exp(−(2π·rms)²), the usual estimate for small errors.
  const strehl = (rms: number): number => Math.exp(-((2 * Math.PI * rms) ** 2));
  agrees("judge-mirror-3", strehl(0.026), [
    strehl(0.115),
    1 / strehl(0.026),
    1 - strehl(0.026),
  ]);
});

Deno.test("every exercise is whole: three hints, known misconceptions, one right choice", () => {
  assert.equal(new Set(exercises.map((e) => e.id)).size, exercises.length);
  assert.deepEqual(
    exercises.map(({ id }) => id),
    course.flatMap(({ name }) => [1, 2, 3].map((i) => `${name}-${i}`)),
    "three for each stage, in the order of the course",
  );
  for (const each of exercises) {
    assert.match(each.ask, /[?.]$/);
    each.hints.forEach((hint) => assert.match(hint, /[?.]$/, hint));
    assert.match(each.hints[0], /\?$/, `${each.id}: the first hint is a question`);
    assert.match(each.hints[1], /^Look at /, `${each.id}: the second names the number`);
    each.traps.forEach(({ hint }) =>
      assert.ok(hint in misconceptions || hint.length > 9, `${each.id}: ${hint}`)
    );
    assert.equal(judge(each as Exercise, each.answer).is, "right", each.id);
    if ("choices" in each) {
      assert.ok(each.choices.includes(each.answer), each.id);
      each.traps.forEach(({ value }) =>
        assert.ok(each.choices.includes(value), `${each.id}: ${value}`)
      );
    }
  }
});

Deno.test("an unknown number is refused with the known ones", () => {
  assert.throws(
    () => exercise("measure-curve-9"),
    /exercise requires one of open-record-1.*got "measure-curve-9"/,
  );
  assert.equal(exercise("measure-curve-1").html, exercise(numberExercise("measure-curve-1")).html);
});

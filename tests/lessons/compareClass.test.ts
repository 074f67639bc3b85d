/** Answers and traps of the class, computed. */
import assert from "node:assert/strict";
import { compareClass } from "../../lib/lessons/exercises/compareClass.ts";
import { judge } from "../../lib/lessons/grader.ts";
import { misconceptionFromRatio } from "../../lib/measuring/misconceptions.ts";
import { grubbsLimit } from "../../lib/numeric/outliers.ts";

const [mean, cause, makers] = compareClass;

Deno.test("compare-class-1: u of the mean of twelve; the spread itself and 12.4/12 are met with their hints", () => {
  assert.ok(mean !== undefined);
  assert.equal(judge(mean, 12.4 / Math.sqrt(12)).is, "right");
  assert.match(judge(mean, 12.4).say, /How well is the mean known/);
  assert.match(judge(mean, 12.4 / 12).say, /root of twelve, not by twelve/);
  assert.match(judge(mean, 12.4 * Math.sqrt(12)).say, /More makers/);
});

Deno.test("compare-class-2: the ratio is the bevel's", () => {
  assert.ok(cause !== undefined);
  const slip = misconceptionFromRatio(1229 / 1197, { aperture: 150, bevel: 1 })?.name;
  assert.equal(slip, "bevel forgotten");
  assert.equal(judge(cause, "the bevel was forgotten").is, "right");
  assert.match(judge(cause, "an outlier: drop it").say, /2\.33 deviations, limit 2\.41/);
  assert.equal(grubbsLimit(12).toFixed(2), "2.41");
});

Deno.test("compare-class-3: squares are taken away, not lengths", () => {
  assert.ok(makers !== undefined);
  assert.equal(judge(makers, Math.sqrt(8.5 ** 2 - 9)).is, "right");
  assert.match(judge(makers, 8.5 - 3).say, /squares/);
  assert.match(judge(makers, Math.hypot(8.5, 3)).say, /less than the whole/);
  assert.equal(judge(makers, 8.5).is, "off");
});

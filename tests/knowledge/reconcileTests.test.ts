/** Tests of one surface reconciled: by hand, and by draws beside what no statistics could better; `deno task trial oneSurface` draws more. */
import assert from "node:assert/strict";
import { nextTest, reconcileTests, wrongness } from "../../lib/knowledge/reconcileTests.ts";
import { close } from "../optics/close.ts";
import { otherDice } from "../testing/photoOther.ts";
import { BENCH, fairly, like, nearerShare, nearest, oddShares, reading } from "./reconcileDraws.ts";

Deno.test("two tests that agree: the weighted mean, its doubt, their say", () => {
  const { values, covariance, weights, birgeRatio, consistent, oddOne } = reconcileTests([
    reading({ test: "zones", us: [1] }, () => 2),
    reading({ test: "star", us: [2] }, () => 5),
  ]);
  // DERIVED weights 4 to 1: 2.6, u 1 / sqrt 1.25; chi-square 3^2 / 5 = 1.8, Birge sqrt 1.8 = 1.3416
  close(values[0] ?? NaN, 2.6, 1e-12);
  close(birgeRatio, Math.sqrt(1.8), 1e-9);
  close(covariance[0]?.[0] ?? NaN, 1.8 / 1.25, 1e-9);
  weights.forEach(([weight = NaN], k) => close(weight, [0.8, 0.2][k] ?? NaN, 1e-12));
  assert.ok(consistent && oddOne === undefined);
  assert.throws(() => reconcileTests([reading({ test: "zones", us: [1] }, () => 0)]), RangeError);
});

Deno.test("what hangs together in one test moves a term that the other does not see", () => {
  const one = {
    ...reading({ test: "knife", us: [1, 1] }, () => 0),
    covariance: [[1, 0.8], [0.8, 1]],
  };
  const { values, covariance } = reconcileTests([
    one,
    reading({ test: "zones", us: [1] }, () => 2),
  ]);
  // DERIVED the first: half way, 1; the second follows by 0.8 of that; its variance 1 - 0.8^2 / 2
  close(values[0] ?? NaN, 1, 1e-9);
  close(values[1] ?? NaN, 0.8, 1e-9);
  // DERIVED chi-square 2^2 / 2 = 2 over one free: doubts widened by 2
  close(covariance[1]?.[1] ?? NaN, 2 * (1 - 0.32), 1e-9);
});

Deno.test("tests that disagree: variance is added until chi-square is what is free, and no mean is sure", () => {
  const { between, consistent, covariance } = reconcileTests([
    reading({ test: "zones", us: [1] }, () => 0),
    reading({ test: "bands", us: [1] }, () => 10),
  ]);
  // DERIVED 50 / (1 + tau^2) = 1
  assert.ok(!consistent);
  close(between, 49, 1e-5);
  close(covariance[0]?.[0] ?? NaN, 25, 1e-4);
});

Deno.test("the next test is the one that lessens the whole surface's doubt most for its minutes", () => {
  // DERIVED zones and bands leave astigmatism and threefold as they usually are, 18 and 8 nm twice each, 27.9 nm in all: 0.42 nm a
  // minute by the knife (8 and 4 nm left), while zones and bands again leave that as it is, and a star sees one part of each
  const round = reading({ test: "zones", us: [3.5, 3, 3, 3] }, () => 0);
  const next = nextTest([round, { ...round, test: "bands" }], 0);
  assert.equal(next.test, "knife");
  const left = (usual: number, u: number): number => 1 / (1 / usual ** 2 + 1 / u ** 2);
  const all = 2 * left(18, 8) + 2 * left(8, 4) +
    [[21, 3.5, 1.5], [9, 3, 1], [4.5, 3, 1], [3, 3, 1]].reduce(
      (sum, [usual = 0, u = 0, knife = 0]) =>
        sum + 1 / (1 / usual ** 2 + 2 / u ** 2 + 1 / knife ** 2),
      0,
    );
  close(next.u, Math.sqrt(all), 1e-9);
});

Deno.test("nearer to the truth than the best test as often as normal errors allow", () => {
  const draws = 300;
  for (const [count, terms] of [[2, 1], [3, 8]] as const) {
    const { nearer, held } = nearerShare(like(count, terms), terms, draws, 100 * count + terms);
    const most = nearest(terms, Math.sqrt(count));
    // DERIVED within three binomial standard deviations of theory
    close(nearer, most, 3 * Math.sqrt((most * (1 - most)) / draws));
    // disagreement widens doubts, agreement never narrows them
    assert.ok(held > 0.93, `${held}`);
  }
});

Deno.test("a test that is off by 3 u in all it sees is named nine times in ten", () => {
  const { doubted, named, wrongly, falsely, most } = oddShares(BENCH, 200, 31);
  const told = `doubted ${doubted}, named ${named}, another ${wrongly}, without cause ${falsely}`;
  assert.ok(named >= 0.9 && named <= most && doubted >= named, told);
  assert.ok(wrongly <= 0.05 && falsely < 0.1, told);
});

Deno.test("a test that shares no term with the others is never the odd one", () => {
  const alone = reading({ test: "star", us: [, , , , , , 1] }, () => 50);
  assert.equal(wrongness([...fairly(like(2, 2), otherDice(3), []), alone])[2], -Infinity);
});

import assert from "node:assert/strict";
import { betweenMakersSpread } from "../../lib/measuring/betweenMakers.ts";

/** The twelve of the invented class, mm. */
const f = [1198.3, 1191, 1206, 1183, 1202, 1229, 1195, 1208, 1187, 1199, 1211, 1193];
const withU = (values: readonly number[], u: number): { value: number; u: number }[] =>
  values.map((value) => ({ value, u }));

Deno.test("the invented twelve: mean, spread, and the far one a test keeps", () => {
  const { mean, sd, uOfMean, farthest } = betweenMakersSpread(withU(f, 3));
  // INVENTED twelve; CROSS-CHECK secondRoute.py, twelve makers: mean 1200.19, SD 12.37, u of the mean 3.57; DERIVED (1229 - 1200.19) / 12.37 = 2.33
  // READ tests/references/outlier-tests.json: the two-sided 5 % limit of the largest deviation of twelve, 2.41
  assert.deepEqual([mean, sd, uOfMean].map((v) => v.toFixed(1)), ["1200.2", "12.4", "3.6"]);
  assert.deepEqual([farthest?.deviations.toFixed(2), farthest?.limit.toFixed(2)], ["2.33", "2.41"]);
  assert.equal(farthest?.index, 5);
});

Deno.test("mended the spread is 8.4, of which 7.8 is the makers'", () => {
  const mended = f.map((value) => value === 1229 ? value * (148 / 150) ** 2 : value);
  const { sd, betweenMakers } = betweenMakersSpread(withU(mended, 3));
  // INVENTED twelve; CROSS-CHECK secondRoute.py, mended makers: SD 8.4; DERIVED: sqrt(8.4^2 - 3^2) = 7.85
  assert.equal(sd.toFixed(1), "8.4");
  assert.ok(Math.abs(betweenMakers - Math.sqrt(sd * sd - 9)) < 1e-12);
});

Deno.test("gauges that explain it all leave nothing for the makers, never a root of less than 0", () => {
  assert.equal(betweenMakersSpread(withU([1, 2, 3], 5)).betweenMakers, 0);
});

Deno.test("laws: shifted, scaled and turned round, the spread follows", () => {
  const one = betweenMakersSpread(withU(f, 3));
  const other = betweenMakersSpread(withU(f.map((v) => 25.4 * (v - 1000)).reverse(), 3 * 25.4));
  assert.ok(Math.abs(other.sd / one.sd - 25.4) < 1e-9);
  assert.ok(Math.abs(other.betweenMakers / one.betweenMakers - 25.4) < 1e-9);
  assert.equal(other.farthest?.index, f.length - 1 - 5);
});

Deno.test("two give a spread and no farthest, three a farthest", () => {
  // DERIVED: 1 and 3 have mean 2 and standard deviation root 2; of 1, 2 and 6 the last is the farthest from 3
  const two = betweenMakersSpread(withU([1, 3], 0));
  assert.deepEqual([two.mean, two.farthest], [2, undefined]);
  assert.ok(Math.abs(two.sd - Math.SQRT2) < 1e-12);
  const three = betweenMakersSpread(withU([1, 2, 6], 0));
  assert.equal(three.farthest?.index, 2);
  assert.ok(Math.abs((three.farthest?.deviations ?? 0) - 3 / Math.sqrt(7)) < 1e-12);
});

Deno.test("two alike have no farthest; fewer than two, or what is not finite, is refused", () => {
  assert.equal(betweenMakersSpread(withU([7, 7, 7], 0)).farthest, undefined);
  for (const bad of [[], [1], [1, NaN]]) {
    assert.throws(() => betweenMakersSpread(withU(bad, 1)), /betweenMakersSpread requires/);
  }
  assert.throws(() => betweenMakersSpread(withU([1, 2], -1)), /got 1 with u=-1/);
});

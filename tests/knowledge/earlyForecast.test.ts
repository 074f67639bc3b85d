/** The 95 % interval of a forecast with two to six readings holds for hidden makers whose grinding it knows nothing of. */
import assert from "node:assert/strict";
import { foreseen, METHODS } from "./earlyForecast.ts";

const MAKERS = 40;

for (const by of METHODS) {
  Deno.test(`${by}: from the second reading on there is a forecast, and its interval holds in nine of ten`, async () => {
    for (const readings of [2, 3, 6]) {
      let held = 0;
      const ratios: number[] = [];
      for (let seed = 1; seed <= MAKERS; seed++) {
        const { interval, minutes, truth, from } = await foreseen(by, seed, readings);
        assert.ok(interval !== undefined && minutes !== undefined, `${by}, maker ${seed}`);
        assert.equal(from, by);
        assert.ok(interval[0] <= minutes && minutes <= interval[1]);
        if (interval[0] <= truth && truth <= interval[1]) held++;
        ratios.push(minutes / truth);
      }
      assert.ok(held >= 36, `${readings} readings: ${held} of ${MAKERS}`);
      const middle = ratios.sort((a, b) => a - b)[MAKERS / 2] ?? NaN;
      assert.ok(
        middle > 0.93 && middle < 1.07,
        `${readings} readings: ${middle} of the true minutes`,
      );
    }
  });
}

Deno.test("one reading forecasts nothing, by whatever it is read", async () => {
  for (const by of METHODS) {
    const { minutes, interval } = await foreseen(by, 1, 1);
    assert.deepEqual([minutes, interval], [undefined, undefined], by);
  }
});

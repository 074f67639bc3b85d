import assert from "node:assert/strict";
import fc from "fast-check";
import {
  airIndexLessOne,
  airIndexPerDegree,
  bandShift,
  minutesToCalm,
  readingShift,
  warmAir,
} from "../../../lib/testing/star/air.ts";
import { close } from "../../optics/close.ts";

Deno.test("index of dry air", () => {
  // CROSS-CHECK ../secondRoute.py, index of air: Ciddor's formulae (dispersion looked up, compressibility from memory)
  close(airIndexLessOne(15), 2.778376e-4, 1e-10);
  close(airIndexLessOne(20), 2.730849e-4, 1e-10);
  // CROSS-CHECK ../secondRoute.py, index by another formula: Birch and Downs 1994 (from memory) differs by 2e-9
  close(airIndexLessOne(15), 2.778355e-4, 3e-9);
  close(airIndexPerDegree(15), -9.67149e-7, 1e-11);
  close(airIndexPerDegree(20), -9.34239e-7, 1e-11);
});

Deno.test("thinner and warmer air bends less, blue light more", () => {
  fc.assert(
    fc.property(fc.double({ min: -30, max: 50, noNaN: true }), (t) => {
      const here = airIndexLessOne(t);
      assert.ok(airIndexLessOne(t + 5) < here && airIndexLessOne(t, 450) > here);
      // DERIVED gas law, to what compressibility changes
      close(airIndexLessOne(t, 550, 9e4) / here, 9e4 / 101325, 1e-3);
      close(airIndexPerDegree(t) / (-here / (t + 273.15)), 1, 0.006);
    }),
  );
});

Deno.test("one degree over ten millimetres, twice through", () => {
  const effect = warmAir({ excess: 1, length: 10, sigma: 5 }, 2400);
  // CROSS-CHECK ../secondRoute.py, warm air: from the index above, there and back; half as much once through
  close(effect.pathAdvance, 18.68478, 3e-4);
  close(effect.pathAdvanceWaves, 0.033972, 1e-6);
  close(effect.looksLikeGlass, 9.34239, 2e-4);
  close(effect.steepest, 2.26658e-6, 5e-11);
  close(effect.transverse, 0.00544, 5e-6);
  close(bandShift(effect, 4), 0.0218, 5e-5);
});

Deno.test("a band hardly shows it, a knife reading does", () => {
  // CROSS-CHECK ../secondRoute.py, warm air and the knife: three widths of the plume, zones at 30 and 70 mm, lamp moving along
  for (
    const [sigma, inner, outer] of [[5, 0.218, 0.093], [3, 0.363, 0.155], [
      20,
      0.054,
      0.023,
    ]] as const
  ) {
    const effect = warmAir({ excess: 1, length: 10, sigma }, 2400);
    close(readingShift(effect, 30, 2400, "same grating"), inner, 6e-4);
    close(readingShift(effect, 70, 2400, "slit beside"), outer, 6e-4);
    assert.equal(
      readingShift(effect, 30, 2400, "fixed"),
      2 * readingShift(effect, 30, 2400, "same grating"),
    );
  }
});

Deno.test("cold air looks like a hollow; twice the column is twice the effect", () => {
  const warm = warmAir({ excess: 1, length: 10, sigma: 5 }, 2400);
  const cold = warmAir({ excess: -1, length: 10, sigma: 5 }, 2400);
  const long = warmAir({ excess: 1, length: 20, sigma: 5 }, 2400);
  close(cold.looksLikeGlass, -warm.looksLikeGlass, 1e-12);
  close(long.transverse, 2 * warm.transverse, 1e-15);
});

Deno.test("waiting: each time constant leaves 0.37 of the excess", () => {
  close(minutesToCalm(Math.E, 1, 46), 46, 1e-9);
  assert.equal(minutesToCalm(0.3, 0.5, 46), 0);
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 30, noNaN: true }),
      fc.double({ min: 0.05, max: 0.9, noNaN: true }),
      (excess, allowed) => {
        const t = minutesToCalm(excess, allowed, 50);
        close(excess * Math.exp(-t / 50), allowed, 1e-9);
      },
    ),
  );
});

Deno.test("what cannot be is refused", () => {
  assert.throws(() => airIndexLessOne(200), /-40 to 60 degC.*got 200/);
  assert.throws(() => airIndexLessOne(20, 100), /300 to 1700 nm/);
  assert.throws(() => warmAir({ excess: 1, length: 0, sigma: 5 }, 2400), /got length=0/);
  assert.throws(() => minutesToCalm(2, 0, 46), /allowed and timeConstant above 0/);
  const effect = warmAir({ excess: 1, length: 10, sigma: 5 }, 2400);
  assert.throws(() => readingShift(effect, 0, 2400, "fixed"), /zone=0/);
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { fittedSagitta } from "../../../lib/shaping/grinding/discShape.ts";
import { wearEvenly } from "../../../lib/shaping/grinding/evenWear.ts";
import { chordRoutine, playRoutine } from "../../../lib/shaping/grinding/routine.ts";
import { WearBench } from "../../../lib/shaping/grinding/wear.ts";
import { closedWear } from "../../../lib/shaping/grinding/wearLaws.ts";
import { wearSettings } from "../../../lib/shaping/grinding/wearSettings.ts";

const usual = wearSettings(150);
const rough = { offset: 37.5, travel: 50 };

Deno.test("beside the polar engine with regular turning: sagitta within 1 %", () => {
  for (const [offset, travel] of [[37.5, 50], [0, 50], [25, 75]] as const) {
    const bench = new WearBench(usual, { step: 0.3 });
    for (const set of playRoutine({ ...chordRoutine(150), offset, travel }, 240)) bench.grind(set);
    const polar = fittedSagitta(bench.worn.upper);
    const { upperSagitta } = wearEvenly(usual, { offset, travel }, 4800);
    assert.ok(
      Math.abs(upperSagitta / polar - 1) < 0.01,
      `${offset} ${travel}: ${upperSagitta} ${polar}`,
    );
  }
});

Deno.test("the balance of moments, also leaning, unequally hard and unequally large", () => {
  const cases = [{}, { lean: [0, 5] as const }, { lowerWear: 8e-4 }, { upperRadius: 60 }];
  for (const changes of cases) {
    const settings = { ...usual, ...changes }, overhang = { offset: 30, travel: 50 };
    const { upperRadius, lowerRadius, upperWear, lowerWear } = settings;
    // DERIVED equal volumes and balanced moments alone: c_U a_U^6 / k_U - c_L a_L^6 / k_L is fixed, c a^2 the sagittas
    const moment = (upper: number, lower: number): number =>
      upper * upperRadius ** 4 / upperWear - lower * lowerRadius ** 4 / lowerWear;
    const worn = wearEvenly(settings, overhang, 4800), law = closedWear(settings, overhang, 4800);
    const found = moment(worn.upperSagitta, worn.lowerSagitta);
    const wanted = moment(law.upperSagitta, law.lowerSagitta);
    // against the whole of 12 F L <d^2> / pi, of which a smaller upper disc leaves little
    const whole = 12 * settings.force * 4800 * 100 * (30 ** 2 + 50 ** 2 / 12) / Math.PI;
    const off = (found - wanted) / whole;
    assert.ok(Math.abs(off) < 0.01, `${JSON.stringify(changes)}: ${off}`);
  }
});

Deno.test("the course runs to the end in equal steps, fast first", () => {
  const { course, upperSagitta } = wearEvenly(usual, rough, 4800);
  assert.equal(course[course.length - 1]?.strokes, 4800);
  assert.equal(course[course.length - 1]?.upperSagitta, upperSagitta);
  const rate = (from: number, to: number): number => {
    const at = (i: number): { strokes: number; upperSagitta: number } =>
      course[i] ?? { strokes: NaN, upperSagitta: NaN };
    return (at(to).upperSagitta - at(from).upperSagitta) / (at(to).strokes - at(from).strokes);
  };
  assert.ok(rate(0, 4) > 1.15 * rate(60, 140));
  // DERIVED 0.2338988 um a stroke
  assert.ok(Math.abs(rate(60, 140) * 1000 / 0.2338988 - 1) < 0.005, `${rate(60, 140)}`);
});

Deno.test("no strokes, no change; zones have no mean", () => {
  const none = wearEvenly(usual, rough, 0);
  assert.deepEqual([none.upperSagitta, none.lowerSagitta, none.course.length], [0, 0, 0]);
  const { upperZones } = wearEvenly(usual, rough, 2400);
  const whole = upperZones.reduce((sum, { radius }) => sum + radius, 0);
  const mean = upperZones.reduce((sum, { radius, heightUm }) => sum + radius * heightUm, 0) / whole;
  assert.ok(Math.abs(mean) < 1e-9);
});

Deno.test("law: finer grain, slower by the grain", () => {
  fc.assert(
    fc.property(fc.double({ min: 3, max: 185, noNaN: true }), (sizeUm) => {
      const coarse = wearEvenly(usual, rough, 1000),
        fine = wearEvenly(wearSettings(150, { sizeUm }), rough, 1000);
      const share = (fine.upperSagitta - fine.lowerSagitta) /
        (coarse.upperSagitta - coarse.lowerSagitta);
      assert.ok(Math.abs(share * 185 / sizeUm - 1) < 1e-6);
    }),
    { numRuns: 10 },
  );
});

Deno.test("quick enough to follow a slider: 4800 strokes", () => {
  const spent: number[] = [];
  for (let i = 0; i < 20; i++) {
    const start = performance.now();
    wearEvenly(usual, rough, 4800);
    spent.push(performance.now() - start);
  }
  assert.ok(Math.min(...spent) < 10, `${Math.min(...spent)} ms`);
});

Deno.test("bad input", () => {
  assert.throws(() => wearEvenly(usual, rough, -1), /strokes=-1/);
  assert.throws(() => wearEvenly(usual, { offset: 0, travel: 0 }, 10), /travel=0/);
  assert.throws(
    () => wearEvenly(usual, { offset: 0, travel: 151 }, 10),
    /no longer than the lower disc/,
  );
  assert.throws(() => wearEvenly(usual, { offset: 74, travel: 40 }, 10), /at which it tips/);
});

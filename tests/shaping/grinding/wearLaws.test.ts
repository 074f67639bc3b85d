/** Half a unit of the last printed digit, as for every value taken from a table. */
import fc from "fast-check";
import assert from "node:assert/strict";
import {
  capVolume,
  radiusFromSagitta,
  sagitta,
  sagittaSensitivity,
} from "../../../lib/optics/sphere.ts";
import { ahead } from "../../../lib/shaping/grinding/curveLog.ts";
import { fitDepths } from "../../../lib/shaping/grinding/depthColumns.ts";
import { meet, overshootPlan } from "../../../lib/shaping/grinding/forecast.ts";
import { fineAllowance, glassToRemove } from "../../../lib/shaping/grinding/ladder.ts";
import {
  closedWear,
  overhangSquared,
  removalFor,
  sphereLimit,
  wearSettings,
} from "../../../lib/shaping/grinding/wearLaws.ts";

function printed(value: number, text: string): void {
  const digits = text.split(".")[1]?.length ?? 0;
  assert.equal(value.toFixed(digits), text);
}

const rough = { offset: 37.5, travel: 50 };
const settings = wearSettings(150);

Deno.test("the sphere's depth, radius and cap", () => {
  // DERIVED r^2 = s (2R - s), computed to seven digits with numpy 1.24.2
  printed(sagitta(150, 2400), "1.172161");
  printed(75 ** 2 / 4800, "1.171875");
  printed(sagitta(150, 2000), "1.406745");
  printed(sagitta(150, 1500), "1.876173");
  printed(sagitta(150, 1200), "2.346043");
  printed(radiusFromSagitta(1.17, 150), "2404.431");
  printed(radiusFromSagitta(1.1, 150), "2557.368");
  printed(1 / sagittaSensitivity(150, 2400) / 1000, "-2.04650");
  printed(capVolume(150, 2400), "10357.74");
  printed(Math.PI * 75 ** 2 * sagitta(150, 2400) / 2, "10356.90");
  printed(capVolume(150, 2400) / (Math.PI * 75 ** 2), "0.586128");
  printed(glassToRemove(150, 2400, rough, 2510).grams, "25.998");
  printed(glassToRemove(150, 2400, rough, 2230).grams, "23.098");
  printed(sagitta(200, 1600), "3.128058");
  printed(capVolume(200, 1600), "49151.44");
  printed(sagitta(100, 2400), "0.520890");
  // DERIVED the sphere is not quite a parabola: by squares of the radii it would read 0.520961
  printed(sagitta(150, 2400) * (50 / 75) ** 2, "0.520961");
});

Deno.test("removal and change of sagitta, matched equal discs", () => {
  // DERIVED m = k p L and 6 m <d^2> / a^2 by hand calculator; k 4e-10 m2/N, 60 N on 150 mm
  printed(settings.force / (Math.PI * 0.075 ** 2), "3395.305");
  const two = closedWear(settings, rough, 4800);
  printed(two.upperRemoval * 1000, "651.8986");
  printed(two.upperSagitta * 1000, "1122.714");
  const one = closedWear(settings, rough, 1);
  printed(one.upperRemoval * 1000, "0.1358122");
  printed(one.upperSagitta * 1000, "0.2338988");
  const cases = [
    [{ offset: 0, travel: 50 }, "325.9493", "72.4332"],
    [{ offset: 0, travel: 100 }, "651.8986", "579.4655"],
    [{ offset: 25, travel: 75 }, "488.9240", "570.4113"],
  ] as const;
  for (const [overhang, removal, change] of cases) {
    const wear = closedWear(settings, overhang, 2400);
    printed(wear.upperRemoval * 1000, removal);
    printed(wear.upperSagitta * 1000, change);
  }
  const strokes = sagitta(150, 2400) / one.upperSagitta;
  printed(strokes, "5011.40");
  printed(strokes / 40, "125.285");
});

Deno.test("overhang squared and the removal that a sagitta costs", () => {
  // DERIVED (offset^2 + travel^2 / 12) / a^2, and s a^2 / (6 <d^2>)
  const cases = [
    [37.5, 50, "0.287037", "0.680610"],
    [0, 50, "0.037037", "5.274726"],
    [0, 100, "0.148148", "1.318681"],
    [25, 75, "0.194444", "1.004710"],
    [0, 150, "0.333333", "0.586081"],
  ] as const;
  for (const [offset, travel, share, removal] of cases) {
    printed(overhangSquared({ offset, travel }) / 75 ** 2, share);
    printed(removalFor(sagitta(150, 2400), 150, { offset, travel }), removal);
  }
  // eight middles instead of the whole stroke: travel^2 / 12 loses a 64th
  const coarse = 37.5 ** 2 + 50 ** 2 / 12 * (1 - 1 / 64);
  const full = closedWear(settings, rough, 4800).upperSagitta * 1000;
  printed(full * coarse / overhangSquared(rough), "1120.4508");
});

Deno.test("unequal discs, unequal hardness, a leaning hand", () => {
  // DERIVED from the balance of moments of two discs, by hand calculator
  const small = wearSettings(150, undefined, { upperRadius: 60 });
  const wear = closedWear(small, { offset: 0, travel: 70 }, 1000);
  printed(wear.upperSagitta / 60 ** 2 * 1000, "-0.03451842");
  printed(wear.upperSagitta * 1000, "-124.2663");
  printed(Math.sqrt((75 ** 2 - 60 ** 2) / 2), "31.8198");
  const equal = closedWear(settings, rough, 1).upperSagitta;
  const rate = (lowerWear: number): number =>
    closedWear({ ...settings, lowerWear }, rough, 1).upperSagitta / equal;
  printed(rate(8e-4), "1.33333");
  printed(rate(1e-4), "0.4");
  printed(closedWear({ ...settings, lean: [0, 5] }, rough, 4800).upperSagitta * 1000, "1383.4738");
});

Deno.test("a log of six depths: line, stopping minute, Fieller's interval", () => {
  const times = [0, 20, 40, 60, 80, 100], depths = [2, 190, 382, 565, 760, 948];
  const readings = times.map((top, i) => ({
    afterMin: top,
    sagitta: (depths[i] ?? 0) / 1000,
    u: 0.003,
    file: "sagitta.csv",
    line: i + 2,
    clocks: { top, bottom: 0, drift: top * top / 2 },
  }));
  const fit = fitDepths(readings);
  assert.ok(fit);
  // CROSS-CHECK ../secondRoute.py, six depths: least squares, Student's t of 4 degrees of freedom, Fieller's quadratic
  printed(fit.coefficients[0] * 1000, "1.428571");
  printed(fit.coefficients[1] * 1000, "9.461429");
  printed(fit.s * 1000, "2.504282");
  printed(Math.sqrt(fit.covariance[0]?.[0] ?? 0) * 1000, "1.812466");
  printed(Math.sqrt(fit.covariance[1]?.[1] ?? 0) * 1000, "0.0299319");
  const from = { top: 100, bottom: 0, drift: 5000 };
  const stop = meet(ahead(fit, from, "mirror on top", 1), 1.172161, fit.dof);
  assert.ok(stop);
  printed(stop.minutes.value + 100, "123.737385");
  printed(stop.minutes.u, "0.257085");
  printed(stop.minutes.u * 2.776445, "0.713782");
  printed(stop.interval95[0] + 100, "123.029242");
  printed(stop.interval95[1] + 100, "124.456907");
});

Deno.test("the way back from an overshoot", () => {
  // DERIVED o / r and its propagation
  const plan = overshootPlan(
    { value: 60, u: 4, dof: Infinity, unit: "um" },
    { value: 8.7, u: 0.3, dof: Infinity, unit: "um/min" },
  );
  printed(plan.minutes.value, "6.896552");
  printed(plan.minutes.u, "0.517632");
  printed(plan.workMinutes, "4.137931");
  assert.throws(() => overshootPlan({ ...plan.minutes, value: -3 }, plan.minutes), /above 0/);
});

Deno.test("what the finer grades add", () => {
  const grades = [185, 109, 58, 29.2, 12.8, 6.5, 3].map((sizeUm) => ({ name: "F", sizeUm }));
  const added = (mirrorOnTop: number, removalShare: number): number =>
    fineAllowance({ grades, mirrorOnTop, removalShare }) * 1000;
  // DERIVED 6/27 of the sum of the former grains, 400.5 um
  printed(added(1, 1), "89.000");
  printed(added(1, 0.5), "44.500");
  printed(added(0.5, 1), "0.000");
  printed(fineAllowance({ grades }) * 1000, "4.450");
  printed(1172.161 - added(1, 1), "1083.161");
  printed(1172.161 - added(1, 0.5), "1127.661");
  assert.throws(() => fineAllowance({ grades, mirrorOnTop: 1.2 }), /mirrorOnTop 0 to 1/);
  assert.throws(() => fineAllowance({ grades: [{ name: "F80", sizeUm: -1 }] }), /above 0 um/);
});

Deno.test("laws: equal discs mirror one another, wear is linear, far out nothing is a sphere", () => {
  const overhang = fc.record({
    offset: fc.double({ min: 0, max: 40, noNaN: true }),
    travel: fc.double({ min: 1, max: 60, noNaN: true }),
  });
  fc.assert(fc.property(overhang, fc.integer({ min: 0, max: 9999 }), (d, strokes) => {
    const wear = closedWear(settings, d, strokes), double = closedWear(settings, d, 2 * strokes);
    assert.ok(Math.abs(wear.upperSagitta + wear.lowerSagitta) <= 1e-12);
    assert.ok(Math.abs(double.upperSagitta - 2 * wear.upperSagitta) <= 1e-12 * (1 + strokes));
    // what the closed form costs is what the removal says
    if (strokes > 0) {
      const cost = removalFor(wear.upperSagitta, 150, d);
      assert.ok(Math.abs(cost - wear.upperRemoval) <= 1e-9 * cost);
    }
  }));
  printed(overhangSquared(rough) / sphereLimit(150), "0.86");
  assert.throws(() => closedWear(settings, rough, -1), /strokes of 0 or more, got strokes=-1/);
  assert.throws(() => overhangSquared({ offset: -1, travel: 5 }), /got offset=-1/);
  assert.throws(() => removalFor(1, 150, { offset: 0, travel: 0 }), /overhang above 0/);
  assert.throws(() => sphereLimit(NaN), /aperture above 0/);
});

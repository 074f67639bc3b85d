/**
 * The workshop's story, told by the records alone: what each evening's folder gives. The story is invented, and so are its
 * numbers; they are what an independent reduction of the same tables (numpy 1.24, scipy 1.10, written before this library)
 * gave, with the range over several ways of reducing them. Verdicts and ranges are asserted, not last digits.
 */
import assert from "node:assert/strict";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import type { Q, Summary } from "../../lib/knowledge/summaryTypes.ts";
import { type Change, cut, withCopy } from "./copies.ts";

const summaryOf = async (folder: string): Promise<Summary> => (await openMirror(folder)).summary;
const demoAt = (change: Change): Promise<Summary> => withCopy("demo-150-f8", change, summaryOf);
const onEvening = (date: string): Promise<Summary> =>
  demoAt((name, text) => cut(name, text, { date }));
const atMinute = (minute: number): Promise<Summary> =>
  demoAt((name, text) => cut(name, text, { minute }));

const asha = await summaryOf(`${recordsFolder}/demo-150-f8`);
const bram = await summaryOf(`${recordsFolder}/halfway-200-f6`);

/** A quantity that must be there, within limits. */
function within(quantity: Q | undefined, low: number, high: number, unit: string): Q {
  assert.ok(quantity !== undefined, `no quantity between ${low} and ${high} ${unit}`);
  assert.equal(quantity.unit, unit);
  assert.ok(
    quantity.value >= low && quantity.value <= high,
    `${quantity.value} ${unit} is not between ${low} and ${high}`,
  );
  return quantity;
}
const about = (quantity: Q | undefined, value: number, apart: number, unit: string): Q =>
  within(quantity, value - apart, value + apart, unit);

Deno.test("Asha's plan: 150 mm f/8, radius 2400, sagitta 1.1722, a sphere is just not enough", () => {
  const { design } = asha;
  assert.equal(design.focalRatio, 8);
  about(design.radius, 2400, 1e-9, "mm");
  // DERIVED: 2400 - sqrt(2400^2 - 75^2)
  about(design.sagitta, 1.17216, 1e-5, "mm");
  // DERIVED: 75^4 / (8 x 2400^3) mm, to the first order
  about(design.sphereDeparture, 286.1, 0.2, "nm");
  assert.deepEqual([design.sphereIsEnough, design.shape], [false, "paraboloid"]);
});

Deno.test("Asha's curve: three methods, R 2396.6 ± 2.4 mm, no disagreement, the misread row set aside", () => {
  const { curve } = asha;
  assert.ok(curve !== undefined);
  about(about(curve.radius, 2396.6, 1.2, "mm"), 2396.6, 1.2, "mm");
  assert.ok(Math.abs((curve.radius?.u ?? 0) - 2.4) < 0.4, `u ${curve.radius?.u}`);
  about(curve.focalLength, 1198.3, 0.6, "mm");
  const by = new Map(curve.estimates.map((one) => [one.method, one]));
  about(by.get("leaves")?.radius, 2398.7, 4, "mm");
  about(by.get("spherometer")?.radius, 2396.1, 2, "mm");
  about(by.get("sun distance")?.radius, 2396.7, 1, "mm");
  assert.deepEqual([by.get("leaves")?.readings, by.get("sun distance")?.readings], [6, 6]);
  assert.equal(curve.consistent, true);
  assert.ok((curve.birgeRatio ?? 9) < 0.5, `Birge ${curve.birgeRatio}`);
  assert.deepEqual(curve.setAside.map(({ file, line }) => `${file}:${line}`), ["sagitta.csv:7"]);
  assert.equal(curve.mistake, undefined);
});

Deno.test("Asha's log: both rates as told", () => {
  const rates = asha.grinding?.rates;
  about(rates?.mirrorOnTop, 9.1, 0.1, "um/min");
  about(rates?.toolOnTop, 8.4, 0.4, "um/min");
  assert.ok((rates?.toolOnTop?.u ?? 0) > 1, "two readings after four minutes tell little");
});

Deno.test("at minute 120 the log says: stop at minute 126.8 ± 0.7", async () => {
  // INVENTED record; DERIVED: 120 + (1.168 - 1.107) mm over 9.03 um/min = 126.8
  const { grinding, nextStep, curve } = await atMinute(120);
  assert.ok(grinding?.canForecast);
  const { stopAt: stopAt, sagittaNow: now, rates } = grinding;
  about(now, 1.107, 0.001, "mm");
  const rate = about(rates.mirrorOnTop, 9.03, 0.03, "um/min");
  // what F120 to F1200 will add is left for them: 4.5 um
  const stop = about(stopAt, 1.168, 0.0005, "mm");
  const minute = 120 + (stop.value - now.value) * 1000 / rate.value;
  assert.ok(Math.abs(minute - 126.8) < 0.2, `stop at ${minute}`);
  const toTarget = about(grinding.minutesToTarget, 7.2, 0.3, "min");
  // the six depths scatter by chance less than their brackets are wide; the brackets give ± 0.7
  const [low = 0, high = 0] = grinding.interval95 ?? [];
  assert.ok(low < toTarget.value && toTarget.value < high, `${low} to ${high}`);
  assert.ok(Math.abs((high - low) / 2 - 0.7) < 0.05, `${low} to ${high}`);
  assert.equal(nextStep.stage, "rough grinding");
  assert.equal(curve?.mistake, undefined, "a hollow that is not deep yet is no slip");
});

Deno.test("at minute 130 it is too deep, and the discs are swapped", async () => {
  const { grinding, nextStep } = await atMinute(130);
  about(grinding?.sagittaNow, 1.203, 0.002, "mm");
  about(grinding?.overshoot, 31, 5, "um");
  assert.equal(grinding?.nextPosition, "tool on top");
  assert.equal(nextStep.stage, "correcting");
});

Deno.test("one depth forecasts nothing; from the second on the usual rate helps, wide at first", async () => {
  const { grinding: first } = await atMinute(20);
  assert.equal(first?.canForecast, false);
  assert.equal(first?.minutesToTarget, undefined);
  const widths: number[] = [];
  for (const minute of [40, 60]) {
    const { grinding } = await atMinute(minute);
    assert.equal(grinding?.canForecast, true, `minute ${minute}`);
    const [low = NaN, high = NaN] = grinding?.interval95 ?? [];
    // RECORDED in the demo's log: 1.172 mm was reached in minute 127
    assert.ok(low < 127 - minute && 127 - minute < high, `${low} to ${high} at ${minute}`);
    widths.push(high - low);
  }
  assert.ok((widths[1] ?? NaN) < (widths[0] ?? NaN), widths.join(" "));
});

Deno.test("12 June: most likely no, and that is worked on", async () => {
  const { verdict, figure, nextStep } = await onEvening("2026-06-12");
  within(figure?.zones?.wavefrontPv, 0.281, 0.304, "wave");
  about(figure?.zones?.conic, 0.09, 0.06, "");
  about(figure?.zones?.strehl, 0.76, 0.02, "");
  // three runs through five wide openings do not settle it any more: what no opening sees is in the doubt
  assert.notEqual(verdict?.meetsGoal, "yes");
  assert.ok((verdict?.probability ?? 1) <= 0.1, `${verdict?.probability}`);
  assert.equal(nextStep.stage, "figuring");
});

Deno.test("19 June, after one session: not shown", async () => {
  const { verdict, figure, nextStep } = await onEvening("2026-06-19");
  within(figure?.zones?.wavefrontPv, 0.228, 0.247, "wave");
  about(figure?.zones?.conic, -0.12, 0.06, "");
  about(figure?.zones?.strehl, 0.84, 0.02, "");
  assert.equal(verdict?.meetsGoal, "not shown");
  assert.ok(verdict.probability >= 0.54 && verdict.probability <= 0.94, `${verdict.probability}`);
  assert.equal(nextStep.stage, "figuring");
});

Deno.test("26 June alone, one diameter through five wide openings: not enough for a yes", async () => {
  const { verdict, figure, nextStep } = await onEvening("2026-06-26");
  const pv = within(figure?.zones?.wavefrontPv, 0.085, 0.097, "wave");
  about(figure?.zones?.conic, -0.67, 0.05, "");
  about(figure?.zones?.strehl, 0.975, 0.005, "");
  about(figure?.zones?.wavefrontRms, 0.025, 0.003, "wave");
  // twice the glass is the wavefront: 550 nm a wave
  assert.ok(Math.abs(2 * (figure?.zones?.surfacePv?.value ?? 0) / 550 - pv.value) < 1e-9);
  assert.deepEqual([verdict?.meetsGoal, verdict?.scope], ["not shown", "one diameter"]);
  assert.deepEqual(verdict?.lacks, ["another diameter", "narrower openings"]);
  assert.equal(figure?.zones?.runs, 5);
  assert.equal(nextStep.stage, "zone test");
  assert.match(nextStep.do, /narrower openings/);
});

Deno.test("27 June, three seats and both knives: yes, of the whole surface; leave it alone", () => {
  const { verdict, figure: { zones } = {}, nextStep } = asha;
  about(zones?.conic, -0.67, 0.05, "");
  about(zones?.strehl, 0.975, 0.005, "");
  about(zones?.wavefrontRms, 0.025, 0.003, "wave");
  const [low = 1, high = 0] = zones?.interval95?.wavefrontPv ?? [];
  assert.ok(low < 0.093 && 0.093 < high && high < 0.25, `${low} to ${high}`);
  // INVENTED: 5 nm at the rim, on a stand that is crooked by 22 nm
  const { amplitude, stand, interval95: ends } = zones?.astigmatism ?? {};
  assert.ok(Math.abs((amplitude?.value ?? NaN) - 5) < 3 * (amplitude?.u ?? 0));
  assert.ok(Math.abs((stand?.value ?? NaN) - 22) < 3 * (stand?.u ?? 0));
  assert.equal(ends?.[0], 0);
  assert.deepEqual([verdict?.meetsGoal, verdict?.scope, verdict?.lacks], [
    "yes",
    "whole surface",
    undefined,
  ]);
  assert.ok((verdict?.probability ?? 0) > 0.999);
  assert.equal(verdict?.outsideShadow?.meetsGoal, "yes");
  assert.equal(zones?.runs, 17);
  assert.match(verdict?.why ?? "", /17 runs of 2026-06-26 and 2026-06-27 taken together/);
  assert.match(nextStep.do, /Leave the surface alone/);
});

Deno.test("the first run of 19 June alone: worse than all three, and never a yes", async () => {
  const { verdict, figure, warnings, nextStep } = await demoAt((name, text) => {
    const evening = cut(name, text, { date: "2026-06-19" });
    return name === "zones.csv"
      ? evening?.split("\n").filter((line) => !/,b[23],/.test(line)).join("\n")
      : evening;
  });
  within(figure?.zones?.wavefrontPv, 0.25, 0.29, "wave");
  assert.notEqual(verdict?.meetsGoal, "yes");
  assert.ok(warnings.some(({ file, message }) => file === "zones.csv" && /assumed/.test(message)));
  assert.equal(nextStep.stage, "zone test", "three runs of June do not stand for this day's");
  assert.match(nextStep.do, /3 runs/);
});

Deno.test("Bram's mirror: half-way, 47 um too deep, both rates known, five and a half minutes to go", () => {
  const { curve, grinding, nextStep } = bram;
  about(curve?.radius, 2347, 3, "mm");
  about(curve?.focalLength, 1173.5, 1.5, "mm");
  about(grinding?.sagittaNow, 2.131, 0.002, "mm");
  about(grinding?.targetSagitta, 2.0842, 0.0001, "mm");
  about(grinding?.rates.mirrorOnTop, 9.34, 0.03, "um/min");
  about(grinding?.rates.toolOnTop, 8.6, 0.2, "um/min");
  about(grinding?.overshoot, 47, 2, "um");
  about(grinding?.minutesToTarget, 5.5, 0.3, "min");
  const [low = 0, high = 0] = grinding?.interval95 ?? [];
  assert.ok(low > 1 && low < 5.5 && high > 5.5, `${low} to ${high}`);
  assert.match(
    nextStep.do,
    /^Grind 3 minutes, tool on top, then measure\. Strokes 67 mm long, 50 mm/,
  );
  assert.deepEqual(nextStep.plan?.map(({ position, minutes }) => [position, minutes]), [[
    "tool on top",
    3,
  ]]);
  assert.equal(bram.figure, undefined);
  assert.equal(bram.verdict, undefined);
});

Deno.test("Bram at minute 210: his forecast was 220", async () => {
  // INVENTED record; CROSS-CHECK tests/shaping/secondRoute.py, Bram's forecast: 220.3, the middle of 219.32 and 221.24
  const { grinding } = await withCopy(
    "halfway-200-f6",
    (name, text) => cut(name, text, { minute: 210 }),
    summaryOf,
  );
  const { stopAt: stop, sagittaNow: now, rates } = grinding ?? {};
  const minute = 210 +
    ((stop?.value ?? 0) - (now?.value ?? 0)) * 1000 / (rates?.mirrorOnTop?.value ?? 0);
  assert.ok(Math.abs(minute - 220.3) < 0.9, `stop at ${minute}`);
});

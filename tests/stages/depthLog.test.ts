import assert from "node:assert/strict";
import { grindingSummary } from "../../lib/knowledge/grindingSummary.ts";
import {
  coverLast,
  depthNumbers,
  depthPicture,
  forecastByReadings,
} from "../../lib/stages/depth.ts";
import { forecastOf, lineOf, logUpTo, requireLog } from "../../lib/stages/depthLog.ts";
import { demo as asha, empty, halfway as bram, mirrorOf } from "./mirrors.ts";

const near = (got: number | undefined, wanted: number, within: number): void =>
  assert.ok(Math.abs((got ?? NaN) - wanted) <= within, `${got} is not ${wanted} ± ${within}`);

Deno.test("logUpTo: Asha after 120 minutes, later minutes and readings covered", () => {
  const log = requireLog("test", asha, 120);
  assert.equal(log.input.readings.length, 7);
  assert.equal(log.grinding.minutes, 120);
  // DERIVED by hand through .202 .388 .564 .745 .926 1.107 at 20..120 min, the row at 0.98 left out:
  // sum (t - 70) s / 7000 = 63.20 / 7000 = 9.029 um/min; depths rounded to 0.001 move that by 0.013 at most
  near(log.rates.mirrorOnTop?.value, 9.029, 0.013);
  near(log.toStop?.minutes.value, 6.72, 0.05);
  assert.deepEqual(log.setAside.map(({ file, value }) => [file, value.toFixed(2)]), [[
    "sagitta.csv",
    "1.02",
  ]]);
});

Deno.test("logUpTo: a spell is cut where the minute falls", () => {
  const log = requireLog("test", asha, 127);
  assert.deepEqual(log.input.intervals.map(({ minutes }) => minutes), [20, 20, 20, 20, 20, 20, 7]);
});

Deno.test("logUpTo: all of a log in one grade says what the summary says", () => {
  const log = requireLog("test", bram, Infinity), { grinding } = grindingSummary(bram.record);
  near(log.sagittaNow?.value, grinding?.sagitta_now.value ?? NaN, 1e-12);
  near(log.overshoot?.value, grinding?.overshoot?.value ?? NaN, 1e-9);
  near(log.stopAt, grinding?.stop_at?.value ?? NaN, 1e-12);
  near(log.toTarget?.minutes.value, grinding?.minutes_to_target?.value ?? NaN, 1e-9);
});

Deno.test("logUpTo: nothing without a log, or before its first depth", () => {
  assert.equal(logUpTo(empty), undefined);
  assert.equal(logUpTo(asha, 10), undefined);
  assert.equal(logUpTo(mirrorOf({ ...asha.record, sagitta: [] })), undefined);
  for (const make of [depthNumbers, depthPicture, coverLast, forecastByReadings]) {
    assert.throws(() => make(empty, 120), /requires a log and a depth/);
  }
});

Deno.test("the line turns over where the discs were swapped, and its band holds it", () => {
  const line = lineOf(requireLog("test", asha, 134));
  const at = (minute: number): number => line.find((p) => p.minutes === minute)?.sagitta ?? NaN;
  assert.ok(at(130) > at(120) && at(134) < at(130));
  assert.ok(line.every(({ low, sagitta, high }) => low < sagitta && sagitta < high));
  assert.deepEqual(
    line.map((p) => p.minutes),
    line.map((p) => p.minutes).toSorted((a, b) => a - b),
  );
});

Deno.test("the forecast begins on the line and ends at the stop, or at the target on the way back", () => {
  const up = requireLog("test", asha, 120), ahead = forecastOf(up);
  near(ahead[0]?.sagitta, lineOf(up).at(-1)?.sagitta ?? NaN, 1e-12);
  near(ahead.at(-1)?.sagitta, up.stopAt, 1e-6);
  const back = requireLog("test", asha, 130);
  near(forecastOf(back).at(-1)?.sagitta, back.target, 1e-6);
  assert.deepEqual(forecastOf(requireLog("test", asha, 134)), []);
});

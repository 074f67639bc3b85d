import assert from "node:assert/strict";
import { grindingSummary } from "../../lib/knowledge/grindingSummary.ts";
import {
  coverLast,
  decideDepth,
  depthNumbers,
  depthPicture,
  forecastByReadings,
  forecastOf,
  lineOf,
  logUpTo,
  nearStop,
  requireLog,
  withOwnCover,
  withOwnForecasts,
  yourDepth,
} from "../../lib/stages/depth.ts";
import {
  chosen,
  demo as asha,
  empty,
  halfway as bram,
  hostile,
  marks,
  mirrorOf,
} from "./mirrors.ts";

Deno.test("coverLast: minute 120 foretold from the depths before it, within its interval", () => {
  const text = coverLast(asha, 120).text;
  const [, low, high] = /At 95 %: ([\d.]+) to ([\d.]+)/.exec(text) ?? [];
  const read = Number(/Read there: ([\d.]+)/.exec(text)?.[1]);
  assert.ok(Number(low) < read && read < Number(high), text);
  assert.throws(() => coverLast(asha, 40), /requires four depths/);
  // what is foretold knows nothing of the reading that is covered
  const sagitta = asha.record.sagitta.map((row) =>
    row.afterMin === 120 ? { ...row, go: [0.88, 0.2], nogo: [0.88, 0.22] } : row
  );
  const other = coverLast(mirrorOf({ ...asha.record, sagitta }), 120).text;
  const foretold = (words: string): string => words.slice(0, words.indexOf("Read there"));
  assert.equal(foretold(other), foretold(text));
  assert.notEqual(other, text);
});

Deno.test("forecastByReadings: none from three depths, then ever narrower about one stop", () => {
  const rows = forecastByReadings(asha, 120).text.split("\n").slice(2);
  assert.match(rows[2] ?? "", /^60 \| 3 \| – \| can’t forecast yet/);
  const ends = rows.slice(3).map((row) => /([\d.]+) to ([\d.]+)/.exec(row)?.slice(1).map(Number));
  const widths = ends.map((pair) => (pair?.[1] ?? NaN) - (pair?.[0] ?? NaN));
  assert.equal(widths.length, 3);
  assert.ok(widths.every((width, i) => i === 0 || width < (widths[i - 1] ?? 0)), String(widths));
});

Deno.test("depthNumbers: the overshoot and the way back at minute 130", () => {
  const text = depthNumbers(asha, 130).text;
  assert.match(text, /Too deep by: 31 ± 3 µm/); // DERIVED 1.203 - 1.172 mm
  assert.match(text, /To go, tool on top: 3\.4/); // DERIVED 31 / 9.10
});

Deno.test("nearStop: zero is the stop, and the misread row is not drawn", () => {
  const shown = nearStop(asha, 130, "Too long.");
  assert.match(shown.text, /At minute 130 the line stands at 3[4-6]/); // DERIVED 1203 - 1168 um
  const first = shown.html.slice(0, shown.html.indexOf("</svg>"));
  assert.equal(first.match(/<circle/g)?.length, 2); // minutes 120, 130
  assert.throws(() => nearStop(empty, 130, ""), /requires a log/);
});

Deno.test("yourDepth: own, half way, and the demo's where there is no log", () => {
  assert.equal(marks(yourDepth(asha, asha)), "y");
  assert.doesNotMatch(yourDepth(asha, asha).text, /To go/);
  assert.match(yourDepth(bram, asha).text, /To go, tool on top: 5\.5/);
  assert.equal(marks(yourDepth(empty, asha)), "nd");
  assert.doesNotMatch(yourDepth(hostile, asha).html, /<img|<script/);
  const few = mirrorOf({ ...bram.record, sagitta: bram.record.sagitta.slice(0, 3) });
  assert.match(yourDepth(few, asha).text, /Can’t forecast yet: it takes 4 depths/);
});

Deno.test("decideDepth: stop, swap, go on, measure", () => {
  assert.equal(chosen(decideDepth(asha).html), "Stop here");
  // DERIVED a target of 1.172 mm, fine grades that take 0.004, 0.010 either way
  assert.match(decideDepth(asha).text, /go on up to 1\.158, stop up to 1\.182, swap beyond/);
  assert.equal(chosen(decideDepth(bram).html), "Swap");
  assert.match(decideDepth(bram).text, /Tool on top for 3\.3 minutes/); // DERIVED 0.6 x 5.47
  assert.equal(chosen(decideDepth(empty).html), "Measure again");
  const early = mirrorOf({
    ...bram.record,
    grinding: bram.record.grinding.slice(0, 5),
    sagitta: bram.record.sagitta.slice(0, 4),
  });
  assert.equal(chosen(decideDepth(early).html), "Go on");
});

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

Deno.test("logUpTo: a session is cut where the minute falls", () => {
  const log = requireLog("test", asha, 127);
  assert.deepEqual(log.input.intervals.map(({ minutes }) => minutes), [20, 20, 20, 20, 20, 20, 7]);
});

Deno.test("logUpTo: all of a log in one grade says what the summary says", () => {
  const log = requireLog("test", bram, Infinity), { grinding } = grindingSummary(bram.record);
  near(log.sagittaNow?.value, grinding?.sagittaNow.value ?? NaN, 1e-12);
  near(log.overshoot?.value, grinding?.overshoot?.value ?? NaN, 1e-9);
  near(log.stopAt, grinding?.stopAt?.value ?? NaN, 1e-12);
  near(log.toTarget?.minutes.value, grinding?.minutesToTarget?.value ?? NaN, 1e-9);
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

Deno.test("below the demo's forecasts stand the reader's own, where there are depths enough; the demo's book has one", () => {
  const example = forecastByReadings(asha, 120), cover = coverLast(asha, 120);
  const own = withOwnForecasts(example, bram);
  assert.equal(marks(own), "y");
  assert.ok(own.text.startsWith(example.text));
  // RECORDED in his log: depths to minute 210 and beyond, so more lines than the demo's first two hours
  assert.ok(own.text.includes("The stopping minute, foretold", example.text.length - 1));
  assert.match(
    withOwnCover(cover, bram).text,
    /Foretold for minute 1\d\d[\s\S]*Foretold for minute 2\d\d/,
  );
  for (const none of [asha, empty]) {
    assert.equal(withOwnForecasts(example, none).html, example.html);
    assert.equal(withOwnCover(cover, none).html, cover.html);
  }
  assert.doesNotMatch(withOwnForecasts(example, hostile).html, /<img|<script/);
});

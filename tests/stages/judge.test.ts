import assert from "node:assert/strict";
import {
  decideVerdict,
  threeNumbers,
  throwReadings,
  verdictOn,
  yourVerdict,
} from "../../lib/stages/judge.ts";
import { reducedDays } from "../../lib/stages/zones.ts";
import {
  chosen,
  demo as asha,
  empty,
  halfway as bram,
  hostile,
  marks,
  mirrorOf,
} from "./mirrors.ts";

const until = (date: string): typeof asha =>
  mirrorOf({ ...asha.record, zones: asha.record.zones.filter((row) => (row.date ?? "") <= date) });

Deno.test("yourVerdict: own with its word, else the demo's, marked", () => {
  const own = yourVerdict(asha, asha);
  assert.equal(marks(own), "y");
  assert.match(own.text, /\bYes\. The surface meets its goal/);
  assert.equal(marks(yourVerdict(bram, asha)), "nd");
  assert.equal(marks(yourVerdict(empty, asha)), "nd");
  assert.doesNotMatch(yourVerdict(hostile, asha).html, /<img|<script/);
});

Deno.test("verdictOn: no, not shown, yes on the three days, the demo's marks open", () => {
  assert.match(verdictOn(asha, 0).text, /2026-06-12[^\n]*: no, P/);
  assert.match(verdictOn(asha, 1).text, /2026-06-19[^\n]*: not shown, P/);
  assert.match(verdictOn(asha, -1).text, /2026-06-26[^\n]*: yes, P/);
  assert.throws(() => verdictOn(asha, 3), /requires a day of zone readings among 3/);
  assert.throws(() => verdictOn(empty, 0), RangeError);
});

Deno.test("throwReadings: the share that meets the goal is the day's probability", () => {
  const met = Number(/^(\d+) of 5000/m.exec(throwReadings(asha, 1).text)?.[1]);
  const p = reducedDays(asha)[1]?.found.probabilityWithinGoal ?? NaN;
  // half of the same draws: three standard deviations of a share of 5000
  assert.ok(Math.abs(met / 5000 - p) < 3 * Math.sqrt(p * (1 - p) / 5000), `${met} of 5000, p ${p}`);
  assert.match(throwReadings(asha, 1, 100).text, /of 100 throws/);
});

Deno.test("threeNumbers: P-V, RMS and Strehl of each day", () => {
  const rows = threeNumbers(asha).text.split("\n").slice(2);
  assert.equal(rows.length, 3);
  assert.match(rows[2] ?? "", /^2026-06-26 \| 0\.09\d ± [\d.]+ \| 0\.025 ± [\d.]+ \| 0\.97\d/);
});

Deno.test("decideVerdict: coat, polish where runs would not help, polish at a no, more runs, measure", () => {
  assert.equal(chosen(decideVerdict(asha).html), "Coat it");
  assert.equal(chosen(decideVerdict(until("2026-06-12")).html), "Polish");
  const open = decideVerdict(until("2026-06-19"));
  assert.equal(chosen(open.html), "Polish");
  assert.match(open.text, /It would take about \d+ runs in all/);
  assert.equal(chosen(decideVerdict(empty).html), "More runs");
  const first = mirrorOf({
    ...asha.record,
    zones: asha.record.zones.filter(({ run }) => run === "c1"),
  });
  assert.equal(chosen(decideVerdict(first).html), "More runs");
});

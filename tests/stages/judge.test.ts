import assert from "node:assert/strict";
import { conicPvWaves } from "../../lib/optics/sphereEnough.ts";
import {
  conicAlone,
  conicBeside,
  decideVerdict,
  perfectBut,
  perfectTest,
  threeNumbers,
  throwReadings,
  verdictOn,
  yourVerdict,
} from "../../lib/stages/judge.ts";
import { reducedDays } from "../../lib/stages/zones.ts";
import { demo as asha, empty, halfway as bram, hostile, marks, mirrorOf } from "./mirrors.ts";

const chosen = (html: string): string | undefined =>
  /<li class="chosen"><b>([^<]*)<\/b>/.exec(html)?.[1];
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

Deno.test("a perfect sphere meets a quarter wave and is not shown to, with any number of runs", () => {
  for (const runs of [3, 10, 160]) {
    const { found } = perfectTest(asha, "sphere", runs);
    // DERIVED W040 / 4 of a sphere on its clear 148 mm, f = 1198.3: 0.2476
    const exact = conicPvWaves({ aperture: 148, focalLength: 1198.3 });
    assert.ok(exact < 0.25);
    assert.ok(Math.abs(found.wavefrontPv.value - exact) < 0.003, String(found.wavefrontPv.value));
    assert.ok(Math.abs(found.pooledS - 0.06) < 1e-9);
    assert.equal(found.verdict, "not shown");
  }
  assert.throws(() => perfectTest(asha, "sphere", 1), /2 runs or more/);
  assert.throws(() => perfectTest(bram, "sphere", 3), /zone readings/);
});

Deno.test("a perfect paraboloid is a yes, and its interval never reaches nought", () => {
  const ends = [3, 10, 40].map((runs) => {
    const { found } = perfectTest(asha, "paraboloid", runs);
    assert.ok(found.wavefrontPv.value < 1e-4);
    assert.equal(found.verdict, "yes");
    return found.interval95.wavefrontPv[1];
  });
  assert.ok(ends.every((end, i) => end > 0.002 && (i === 0 || end < (ends[i - 1] ?? 0))));
  assert.match(perfectBut(asha, "paraboloid", [3]).text, /3 \| 0\.000 \|[^|]*\| 1\.00 \| yes/);
});

Deno.test("the conic alone: a smaller P-V on each day, and a yes on the day that shows nothing", () => {
  reducedDays(asha).forEach(({ found }, i) => {
    const alone = conicAlone(asha, i);
    assert.ok(alone.pv < found.wavefrontPv.value);
    assert.ok(alone.u > 0.005 && alone.u < found.wavefrontPv.u);
  });
  // CROSS-CHECK numpy 1.24.2 / scipy 1.10.1: a line through the means of 19 June against (a² + b²) / 2, K = -2 R x its
  // slope, P-V = (1 + K) 148⁴ / (2048 (R/2)³ 550e-6), R 2396.612, Student's t of 10: 0.21894, 0.011315, 0.98968
  const { pv, u, probability } = conicAlone(asha, 1);
  assert.ok(Math.abs(pv - 0.21894) < 1e-5 && Math.abs(u - 0.011315) < 1e-5, `${pv}, ${u}`);
  assert.ok(Math.abs(probability - 0.98968) < 1e-4, String(probability));
  assert.match(
    conicBeside(asha).text,
    /2026-06-19 \| [\d.]+ \| not shown \| [\d.]+ \| 0\.9\d \| yes/,
  );
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

import fc from "fast-check";
import assert from "node:assert/strict";
import { random } from "../../lib/numeric/random.ts";
import { conicPvWaves } from "../../lib/optics/sphereEnough.ts";
import {
  conicAlone,
  conicBeside,
  daysPooled,
  decideVerdict,
  drawReadings,
  drawsHistogram,
  perfectBut,
  perfectTest,
  shareWithin,
  threeNumbers,
  verdictOn,
  withOwnDraws,
  withOwnVerdicts,
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
  shadowed,
} from "./mirrors.ts";

const until = (date: string): typeof asha =>
  mirrorOf({
    ...asha.record,
    grinding: asha.record.grinding.filter((row) => (row.date ?? "") <= date),
    zones: asha.record.zones.filter((row) => (row.date ?? "") <= date),
  });

Deno.test("yourVerdict: own with its word, else the demo's, marked", () => {
  const own = yourVerdict(asha, asha);
  assert.equal(marks(own), "y");
  assert.match(own.text, /\bYes\. The surface meets its goal/);
  assert.equal(marks(yourVerdict(bram, asha)), "nd");
  assert.equal(marks(yourVerdict(empty, asha)), "nd");
  assert.doesNotMatch(yourVerdict(hostile, asha).html, /<img|<script/);
});

Deno.test("verdictOn: not shown, not shown, yes on the three surfaces, the demo's marks open", () => {
  assert.match(verdictOn(asha, 0).text, /2026-06-12[^\n]*: not shown, P 0\.07/);
  assert.match(verdictOn(asha, 1).text, /2026-06-19[^\n]*: not shown, P 0\.67/);
  assert.match(verdictOn(asha, -1).text, /2026-06-26 and 27[^\n]*: yes, P/);
  assert.throws(() => verdictOn(asha, 3), /requires a day of zone readings among 3/);
  assert.throws(() => verdictOn(empty, 0), RangeError);
});

Deno.test("yourVerdict: beside it its scope, what is lacking, and the light outside the shadow, as check tells them", () => {
  const { text } = yourVerdict(asha, asha);
  assert.match(text, /^Scope \| The verdict is of the whole surface, by 4 directions/m);
  assert.match(text, /^Outside shadow \| Outside the flat's shadow the wavefront P-V is 0\.108/m);
  assert.match(text, /17 runs of 2026-06-26 and 2026-06-27 taken together/);
  const one = yourVerdict(until("2026-06-19"), asha).text;
  assert.match(one, /^Scope \| The verdict is of one diameter: astigmatism/m);
  assert.match(one, /^Still lacking \| .*another diameter/m);
  const shade = yourVerdict(shadowed, asha).text;
  assert.match(shade, /No\. The fault lies in the flat’s shadow, where no light of a star goes/);
});

Deno.test("drawReadings: the share that meets the goal is the day's probability, or it says why less is told", () => {
  const share = (which: number): number =>
    Number(/^(\d+) of 5000/m.exec(drawReadings(asha, which).text)?.[1]) / 5000;
  const chance = (p: number): number => 3 * Math.sqrt(p * (1 - p) / 5000);
  for (const which of [0, -1]) {
    const p = reducedDays(asha).at(which)?.found.probabilityWithinGoal ?? NaN;
    // half of the same draws: three standard deviations of a share of 5000
    assert.ok(Math.abs(share(which) - p) <= Math.max(chance(p), 1e-4), `${which}: ${share(which)}`);
    assert.doesNotMatch(drawReadings(asha, which).text, /could hide/);
  }
  const p = reducedDays(asha)[1]?.found.probabilityWithinGoal ?? NaN;
  assert.ok(share(1) > p + chance(p), `${share(1)} and ${p}`);
  assert.match(drawReadings(asha, 1).text, /Told is 0\.67, less than this share: .* could hide/);
  assert.match(drawReadings(asha, 1, 100).text, /of 100 draws/);
});

Deno.test("threeNumbers: P-V, RMS and Strehl of each surface", () => {
  const rows = threeNumbers(asha).text.split("\n").slice(2);
  assert.equal(rows.length, 3);
  assert.match(
    rows[2] ?? "",
    /^2026-06-26 and 27 \| 0\.115 ± [\d.]+ \| 0\.026 ± [\d.]+ \| 0\.97\d/,
  );
});

Deno.test("daysPooled: each day alone, and both as one measurement", () => {
  const { text } = daysPooled(asha);
  assert.match(text, /2026-06-26 [\d.]+, interval [\d.]+ to [\d.]+: not shown, P 0\.8\d/);
  assert.match(text, /2026-06-27 [\d.]+, interval [\d.]+ to [\d.]+: yes/);
  assert.match(text, /2026-06-26 and 27 [\d.]+, interval [\d.]+ to [\d.]+: yes/);
  assert.throws(() => daysPooled(empty), RangeError);
});

Deno.test("decideVerdict: coat, other diameters, read on, polish, measure", () => {
  assert.equal(chosen(decideVerdict(asha).html), "Coat it");
  // more likely out than good, and something stands above its doubt: work comes before more readings
  const first = decideVerdict(until("2026-06-12"));
  assert.equal(chosen(first.html), "Polish");
  const { zones } = until("2026-06-12").record;
  const worked = decideVerdict(mirrorOf({ ...asha.record, zones }));
  assert.equal(chosen(worked.html), "Read on");
  assert.match(worked.text, /has been worked since it was read/);
  const near = decideVerdict(until("2026-06-19"));
  assert.equal(chosen(near.html), "Polish");
  assert.match(near.text, /too near the goal for further readings to settle it/);
  const wide = decideVerdict(until("2026-06-26"));
  assert.equal(chosen(wide.html), "Read on");
  assert.match(wide.text, /runs through narrower ones should, with edges at 0, /);
  assert.equal(chosen(decideVerdict(empty).html), "Read on");
  const once = mirrorOf({
    ...asha.record,
    zones: asha.record.zones.filter(({ run }) => run === "c1"),
  });
  assert.equal(chosen(decideVerdict(once).html), "Read on");
  // two runs of one diameter through the narrow openings
  const narrow = asha.record.zones.filter(({ date, angleDeg, knifeDeg }) =>
    date === "2026-06-27" && angleDeg === 0 && knifeDeg === 0
  );
  const wanting = (scope: "whole surface" | "one diameter"): typeof asha => {
    const { settings } = asha.record, goal = { ...settings.goal, scope };
    return mirrorOf({ ...asha.record, zones: narrow, settings: { ...settings, goal } });
  };
  const whole = decideVerdict(wanting("whole surface"));
  assert.equal(chosen(whole.html), "Other diameters");
  assert.match(
    whole.text,
    /With the mirror's mark at the top: \d runs? with knife and slit on their side\./,
  );
  const decided = decideVerdict(wanting("one diameter"));
  assert.equal(chosen(decided.html), "Coat it");
  assert.match(decided.text, /one diameter is enough here: astigmatism was not looked for/);
});

Deno.test("decideVerdict: a fault in the flat's shadow is harmless; pits hold the coating back", () => {
  const shade = decideVerdict(shadowed);
  assert.equal(chosen(shade.html), "Coat it");
  assert.match(shade.text, /Outside the flat’s shadow the goal is shown to be met/);
  assert.match(shade.text, /outside the flat’s shadow, from 0\.00 to 1\.00.* in “yes”/);
  const pits = { file: "diary.csv", line: 2, date: "2026-06-27", what: "pits", amount: 3 } as const;
  const pitted = decideVerdict(mirrorOf({ ...asha.record, diary: [pits] }));
  assert.equal(chosen(pitted.html), "Polish");
  assert.match(pitted.text, /until no pit is left/);
});

Deno.test("the conic alone: a smaller P-V on each day, and sure on the two days that show nothing", () => {
  reducedDays(asha).forEach(({ found, rows }, i) => {
    const alone = conicAlone(asha, i);
    assert.ok(alone.pv < found.wavefrontPv.value);
    // DERIVED: about 0.0107 from 15 readings, and u falls with the root of their number
    assert.ok(alone.u > 0.01 * Math.sqrt(15 / rows.length) && alone.u < found.wavefrontPv.u);
  });
  // CROSS-CHECK tests/measuring/secondRoute.py, conic alone: a line through the means of a day against (a² + b²) / 2, K = -2 R x its
  // slope, P-V = (1 + K) 148⁴ / (2048 (R/2)³ 550e-6), R 2396.612; scatter of what zones and runs leave, Student's t of 8:
  // 0.27033, 0.010813, 0.04843 on 12 June; 0.21894, 0.010560, 0.99067 on 19 June
  const read = [[0.27033, 0.010813, 0.04843], [0.21894, 0.01056, 0.99067]] as const;
  read.forEach(([wanted, wantedU, chance], day) => {
    const { pv, u, probability } = conicAlone(asha, day);
    assert.ok(Math.abs(pv - wanted) < 1e-5 && Math.abs(u - wantedU) < 1e-5, `${pv}, ${u}`);
    assert.ok(Math.abs(probability - chance) < 1e-4, String(probability));
  });
  const { text } = conicBeside(asha);
  assert.match(text, /2026-06-12 \| [\d.]+ \| not shown \| [\d.]+ \| 0\.05 \| no/);
  assert.match(text, /2026-06-19 \| [\d.]+ \| not shown \| [\d.]+ \| 0\.9\d \| yes/);
  assert.match(text, /2026-06-26 and 27 \| [\d.]+ \| yes/);
});

Deno.test("a perfect sphere meets a quarter wave and is not shown to, with any number of runs", () => {
  for (const runs of [3, 10, 160]) {
    const { found } = perfectTest(asha, "sphere", runs);
    // DERIVED W040 / 4 of a sphere on its clear 148 mm, f = 1198.3: 0.2476
    const exact = conicPvWaves({ aperture: 148, focalLength: 1198.3 });
    assert.ok(exact < 0.25);
    assert.ok(Math.abs(found.wavefrontPv.value - exact) < 0.003, String(found.wavefrontPv.value));
    // DERIVED: what zones and runs leave has (zones - 1)(runs - 1) degrees of freedom, and no drift is in it
    assert.ok(Math.abs(found.pooledS - 0.06) < 1e-9, String(found.pooledS));
    assert.equal(found.pooledDof, 8 * (runs - 1), "through the latest mask alone");
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

const about = { title: "Wavefront (wave)", digits: 3, seed: 1 };
const normal = (count: number): Float64Array => {
  const source = random(3);
  return Float64Array.from({ length: count }, () => 0.25 + 0.02 * source.normal());
};

Deno.test("shareWithin: counts the goal itself as met", () => {
  assert.equal(shareWithin([1, 2, 3], 2), 2 / 3);
  assert.equal(shareWithin(new Float64Array([5]), 4), 0);
  assert.throws(() => shareWithin([], 1), /requires a draw/);
});

Deno.test("shareWithin rises with the goal, from 0 to 1", () => {
  const one = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  fc.assert(fc.property(fc.array(one, { minLength: 1 }), one, one, (draws, a, b) => {
    const [low, high] = a < b ? [a, b] : [b, a];
    assert.ok(shareWithin(draws, low) <= shareWithin(draws, high));
    assert.equal(shareWithin(draws, Infinity), 1);
  }));
});

Deno.test("drawsHistogram: half of a bell about the goal meets it, to three standard deviations", () => {
  const draws = normal(5000);
  const met = Number(
    /^(\d+) of 5000/m.exec(drawsHistogram({ ...about, draws, goal: 0.25 }).text)?.[1],
  );
  assert.ok(Math.abs(met - 2500) < 3 * Math.sqrt(5000 / 4), `${met} of 5000`);
});

Deno.test("drawsHistogram: no bar stands on both sides of the goal", () => {
  const { html } = drawsHistogram({ ...about, draws: normal(2000), goal: 0.26 });
  const goal = Number(/class="limit"[^>]*d="M([\d.]+),/.exec(html)?.[1]);
  const bars = [
    ...html.slice(0, html.indexOf("</svg>")).matchAll(
      /<rect class="(zone-[bc])" x="([\d.]+)" y="[\d.]+" width="([\d.]+)"/g,
    ),
  ];
  assert.ok(bars.length > 30);
  for (const [, kind, x, width] of bars) {
    const left = Number(x), right = left + Number(width);
    assert.ok(kind === "zone-b" ? right <= goal + 0.6 : left >= goal - 0.6, `${kind} ${x}`);
  }
});

Deno.test("drawsHistogram: the seed and the interval are told, and equal draws draw one bar", () => {
  const shown = drawsHistogram({ ...about, draws: normal(400), interval: [0.21, 0.29] });
  assert.match(shown.text, /seed 1/);
  assert.match(shown.text, /95 in a hundred lie from 0\.210 to 0\.290/);
  assert.match(drawsHistogram({ ...about, draws: [2, 2, 2] }).text, /3 draws/);
  assert.match(
    drawsHistogram({ ...about, draws: normal(12000) }).text,
    /12\s000 draws make a histogram/,
  );
  assert.throws(() => drawsHistogram({ ...about, draws: [] }), /requires finite draws/);
  assert.throws(() => drawsHistogram({ ...about, draws: [1, NaN] }), /requires finite draws/);
});

Deno.test("drawsHistogram: a few draws far out stand beyond the drawing and are told, a wide histogram is drawn whole", () => {
  const many = normal(5000), far = Float64Array.from(many, (value, i) => i < 5 ? 3 + i : value);
  const shown = drawsHistogram({ ...about, draws: far, goal: 0.25 });
  assert.match(shown.text, /5 lie beyond the drawing, up to 7\.000/);
  assert.match(shown.text, /from 0\.\d+ to 7\.000/);
  const widths = [...shown.html.matchAll(/<rect class="zone-[bc]"[^>]*width="([\d.]+)"/g)];
  assert.ok(widths.length > 40, `${widths.length} bars for both widths`);
  for (const draws of [many, Float64Array.from(many, (_, i) => i % 50)]) {
    assert.doesNotMatch(drawsHistogram({ ...about, draws }).text, /beyond the drawing/);
  }
});

Deno.test("below the demo's days stand the reader's own verdicts and draws; without readings the example is alone", () => {
  const example = daysPooled(asha), june19 = until("2026-06-19");
  const own = withOwnVerdicts(example, june19);
  assert.equal(marks(own), "y");
  assert.match(own.text, /2026-06-12 \| 3 \| [\s\S]*not shown[\s\S]*2026-06-19 \| 3 \| /);
  assert.equal(marks(withOwnDraws(example, june19)), "y");
  for (const none of [asha, empty, bram]) {
    assert.equal(withOwnVerdicts(example, none).html, example.html);
    assert.equal(withOwnDraws(example, none).html, example.html);
  }
  assert.doesNotMatch(withOwnVerdicts(example, hostile).html, /<img|<script/);
});

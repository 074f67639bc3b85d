import assert from "node:assert/strict";
import fc from "fast-check";
import { shareWithin, throwsHeap } from "../../lib/stages/throws.ts";
import { random } from "../../lib/numeric/random.ts";

const about = { title: "Wavefront (wave)", digits: 3, seed: 1 };
const normal = (count: number): Float64Array => {
  const source = random(3);
  return Float64Array.from({ length: count }, () => 0.25 + 0.02 * source.normal());
};

Deno.test("shareWithin: counts the goal itself as met", () => {
  assert.equal(shareWithin([1, 2, 3], 2), 2 / 3);
  assert.equal(shareWithin(new Float64Array([5]), 4), 0);
  assert.throws(() => shareWithin([], 1), /requires a throw/);
});

Deno.test("shareWithin rises with the goal, from 0 to 1", () => {
  const one = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  fc.assert(fc.property(fc.array(one, { minLength: 1 }), one, one, (draws, a, b) => {
    const [low, high] = a < b ? [a, b] : [b, a];
    assert.ok(shareWithin(draws, low) <= shareWithin(draws, high));
    assert.equal(shareWithin(draws, Infinity), 1);
  }));
});

Deno.test("throwsHeap: half of a bell about the goal meets it, to three standard deviations", () => {
  const draws = normal(5000);
  const met = Number(/^(\d+) of 5000/m.exec(throwsHeap({ ...about, draws, goal: 0.25 }).text)?.[1]);
  assert.ok(Math.abs(met - 2500) < 3 * Math.sqrt(5000 / 4), `${met} of 5000`);
});

Deno.test("throwsHeap: no bar stands on both sides of the goal", () => {
  const { html } = throwsHeap({ ...about, draws: normal(2000), goal: 0.26 });
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

Deno.test("throwsHeap: the seed and the interval are told, and equal throws draw one bar", () => {
  const shown = throwsHeap({ ...about, draws: normal(400), interval: [0.21, 0.29] });
  assert.match(shown.text, /seed 1/);
  assert.match(shown.text, /95 in a hundred lie from 0\.210 to 0\.290/);
  assert.match(throwsHeap({ ...about, draws: [2, 2, 2] }).text, /3 throws/);
  assert.match(
    throwsHeap({ ...about, draws: normal(12000) }).text,
    /12\s000 throws make a heap/,
  );
  assert.throws(() => throwsHeap({ ...about, draws: [] }), /requires finite throws/);
  assert.throws(() => throwsHeap({ ...about, draws: [1, NaN] }), /requires finite throws/);
});

Deno.test("throwsHeap: a few throws far out stand beyond the drawing and are told, a wide heap is drawn whole", () => {
  const many = normal(5000), far = Float64Array.from(many, (value, i) => i < 5 ? 3 + i : value);
  const shown = throwsHeap({ ...about, draws: far, goal: 0.25 });
  assert.match(shown.text, /5 lie beyond the drawing, up to 7\.000/);
  assert.match(shown.text, /from 0\.\d+ to 7\.000/);
  const widths = [...shown.html.matchAll(/<rect class="zone-[bc]"[^>]*width="([\d.]+)"/g)];
  assert.ok(widths.length > 40, `${widths.length} bars for both widths`);
  for (const draws of [many, Float64Array.from(many, (_, i) => i % 50)]) {
    assert.doesNotMatch(throwsHeap({ ...about, draws }).text, /beyond the drawing/);
  }
});

import assert from "node:assert/strict";
import { glassAndWavefront, samePvTwoShapes, starMiddle } from "../../lib/stages/wavefronts.ts";
import { reducedDays } from "../../lib/stages/zones.ts";
import { demo } from "./mirrors.ts";

Deno.test("glassAndWavefront: the wavefront and its goal are twice as long", () => {
  const { html, text } = glassAndWavefront(30, 69);
  assert.match(text, /Glass 30 nm, goal 69; wavefront 60 nm, goal 138/);
  const first = html.slice(0, html.indexOf("</svg>"));
  const widths = [...first.matchAll(/<rect class="zone-b"[^>]*width="([\d.]+)"/g)].map(([, w]) =>
    Number(w)
  );
  assert.equal(widths.length, 2);
  assert.ok(Math.abs((widths[0] ?? 0) - 2 * (widths[1] ?? 0)) < 0.3, String(widths));
  for (const [glass, goal] of [[0, 69], [26, 0], [NaN, 69], [Infinity, 1]] as const) {
    assert.throws(() => glassAndWavefront(glass, goal), /above 0 nm/);
  }
});

Deno.test("samePvTwoShapes: one P-V, and the smooth one is worse by RMS and Strehl", () => {
  const rows = samePvTwoShapes(0.25).text.split("\n").slice(-2);
  const [smooth = [], ring = []] = rows.map((row) => row.split(" | ").slice(1).map(Number));
  // DERIVED spherical aberration at best focus: P-V A/4, RMS A/(6 sqrt 5) = 0.2981 of the P-V
  assert.equal(smooth[0], 0.25);
  assert.equal(ring[0], 0.25);
  assert.equal(smooth[1], 0.075);
  assert.ok((ring[1] ?? 1) < (smooth[1] ?? 0) && (ring[2] ?? 0) > (smooth[2] ?? 1));
  assert.throws(() => samePvTwoShapes(0), /above 0 waves/);
});

Deno.test("starMiddle: the middle's height is the Strehl ratio of each day's figure", () => {
  const days = reducedDays(demo), first = days[0]?.found, last = days.at(-1)?.found;
  assert.ok(first !== undefined && last !== undefined);
  const text = starMiddle(first, last).text;
  const [, before, now] = /perfect 1\.00, before ([\d.]+), now (\d\.\d+)/.exec(text) ?? [];
  assert.ok(Math.abs(Number(before) - first.strehl.value) < 0.006, text);
  assert.ok(Math.abs(Number(now) - last.strehl.value) < 0.006, text);
});

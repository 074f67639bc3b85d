/** Worn discs drawn: greys where the glass is low, sections to one exaggeration, the mark where it is. */
import assert from "node:assert/strict";
import { wearMap } from "../../../lib/figures/drawings/wearMap.ts";
import type { DiscShape } from "../../../lib/shaping/grinding/wornDisc.ts";
import { assertFigure, assertNoHoles, type Part } from "../soundFigure.ts";

const grid = { radius: 75, rings: 24, angles: 72 };

/** A disc whose height over the common curve is `height(rho, theta)`, um. */
function disc(
  height: (rho: number, theta: number) => number,
  curve = 1e-4,
  turned = 0,
): DiscShape {
  const rest = Float64Array.from({ length: grid.rings * grid.angles }, (_, at) => {
    const rho = (Math.floor(at / grid.angles) + 0.5) / grid.rings;
    return height(rho, 2 * Math.PI * (at % grid.angles) / grid.angles) / 1000;
  });
  return { grid, rest, curve, turned };
}

const saddle = (um: number): DiscShape =>
  disc((rho, theta) => um * Math.sqrt(6) * rho * rho * Math.cos(2 * theta));

/** Greys of a drawing by their strength. */
function greys(svg: Part | undefined): Map<number, string> {
  return new Map(
    [...(svg?.querySelectorAll("path") ?? [])].flatMap((one): [number, string][] => {
      const opacity = /opacity:(0\.\d+)/.exec(one.getAttribute("style") ?? "")?.[1];
      return opacity === undefined ? [] : [[Number(opacity), one.getAttribute("d") ?? ""]];
    }),
  );
}

Deno.test("a sphere is one even grey, a saddle has both ends of the scale", () => {
  const [flat] = assertFigure(wearMap({ discs: [{ name: "even", shape: disc(() => 7) }] }));
  assert.equal(greys(flat).size, 1);
  const shown = wearMap({ discs: [{ name: "saddle", shape: saddle(80) }] });
  const [bent] = assertFigure(shown, { titles: [/^saddle$/, /^astigmatism 80 µm$/] });
  assert.ok(greys(bent).size >= 7, `${greys(bent).size} greys`);
  assertNoHoles(shown.html);
});

Deno.test("dark is low: a saddle that is high along its mark is dark up and down", () => {
  const [svg] = assertFigure(wearMap({ discs: [{ name: "saddle", shape: saddle(80) }] }));
  const dark = greys(svg).get(Math.max(...greys(svg).keys())) ?? "";
  const circle = svg?.querySelector("circle.axis");
  const [cx, cy] = ["cx", "cy"].map((key) => Number(circle?.getAttribute(key)));
  for (const [, x, y] of dark.matchAll(/M(-?[\d.]+),(-?[\d.]+)/g)) {
    assert.ok(Math.abs(Number(y) - (cy ?? 0)) > Math.abs(Number(x) - (cx ?? 0)), `${x}, ${y}`);
  }
});

Deno.test("law: turning the disc in the room does not turn its map", () => {
  const low = (rho: number, theta: number): number => -90 * rho ** 3 * Math.cos(3 * theta);
  const quarter = Math.PI / 2;
  const still = wearMap({ discs: [{ name: "one", shape: disc(low) }] });
  const turned = disc((rho, theta) => low(rho, theta - quarter), 1e-4, quarter);
  assert.equal(wearMap({ discs: [{ name: "one", shape: turned }] }).html, still.html);
});

Deno.test("sections: hollow below its chord, domed above, one exaggeration for both", () => {
  const discs = [{ name: "mirror", shape: disc(() => 0) }, {
    name: "tool",
    shape: disc(() => 0, -1e-4),
  }];
  const shown = wearMap({ discs, says: "One each way." });
  // DERIVED: 1e-4 x 75^2 = 0.5625 mm, drawn 20 times as deep: 11.25 mm, no more than a quarter of 75; the line runs from
  // the innermost of 24 rings to the outermost, at 0.5 and 23.5 of 24
  const deep = 11.25 * (23.5 ** 2 - 0.5 ** 2) / 24 ** 2;
  for (
    const svg of assertFigure(shown, { titles: [/^s = \+0\.563 mm$/, /^s = −0\.563 mm$/, /× 20/] })
  ) {
    const [hollow = [], dome = []] = [...svg.querySelectorAll("path.ground")].map((one) =>
      [...(one.getAttribute("d") ?? "").matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n))
        .filter((_, i) => i % 2 === 1)
    );
    const rise = (ys: readonly number[]): number => (ys[24] ?? NaN) - (ys[0] ?? NaN);
    assert.ok(rise(hollow) > 0 && Math.abs(rise(hollow) + rise(dome)) < 0.11);
    const r = Number(svg.querySelector("circle.axis")?.getAttribute("r"));
    assert.ok(Math.abs(rise(hollow) / (deep * r / 75) - 1) < 0.02, `${rise(hollow)} of ${r}`);
  }
  assert.match(shown.text, /mirror: sagitta \+0\.563 mm, hollow.*tool: sagitta −0\.563 mm, domed/);
  assert.match(shown.html, /<b>One each way\.<\/b>/);
});

Deno.test("coarse grids draw too; names and sayings are text", () => {
  const coarse = { grid: { radius: 50, rings: 12, angles: 24 }, rest: new Float64Array(288) };
  const shape = { ...coarse, curve: 2e-4, turned: 1 };
  const { html } = wearMap({ discs: [{ name: "<i>", shape }], says: "<u>" });
  assert.ok(html.includes("&lt;i&gt;") && html.includes("&lt;u&gt;"));
  assertNoHoles(html);
});

Deno.test("no disc, three discs, and a range of nothing are refused", () => {
  const one = { name: "one", shape: disc(() => 0) };
  assert.throws(() => wearMap({ discs: [] }), /one or two discs.*got 0 discs/);
  assert.throws(() => wearMap({ discs: [one, one, one] }), RangeError);
  assert.throws(() => wearMap({ discs: [one], rangeUm: 0 }), /rangeUm=0/);
});

/** The surface from above: every point bears the shade of its height, the mark is at the top, angles run counter-clockwise. */
import assert from "node:assert/strict";
import {
  type SeenFromAbove,
  surfaceFromAbove,
} from "../../../lib/figures/drawings/surfaceFromAbove.ts";
import { measured } from "../../../lib/quantity/measured.ts";
import { random } from "../../../lib/numeric/random.ts";
import { assertFigure, type Part } from "../soundFigure.ts";

// INVENTED: a figure of revolution with a high middle and a high rim, its mean near 0
const RIM = 74;
const round = (r: number): number => 22 * (6 * (r / RIM) ** 4 - 6 * (r / RIM) ** 2 + 1);
const profile = Array.from({ length: 75 }, (_, radius) => ({ radius, height: round(radius) }));
const astigmatic = (amplitude: number, axis: number): SeenFromAbove => ({
  profile,
  astigmatism: {
    amplitude: measured(amplitude, 8, "nm"),
    axis: measured(axis, 5, "deg"),
    interval95: [amplitude - 16, amplitude + 16],
  },
  pv: measured(98, 16, "nm"),
});

type Polygon = readonly (readonly [number, number])[];

function polygons(d: string): Polygon[] {
  return d.split("M").slice(1).map((piece) =>
    piece.replace("Z", "").split("L").map((point) => {
      const [x = NaN, y = NaN] = point.split(",").map(Number);
      return [x, y] as const;
    })
  );
}

/** Whether a point lies within one of the outlines. */
function within(outlines: readonly Polygon[], [x, y]: readonly [number, number]): boolean {
  return outlines.some((outline) => {
    let inside = false;
    outline.forEach(([x1, y1], i) => {
      const [x2, y2] = outline[(i + 1) % outline.length] ?? [x1, y1];
      if ((y1 > y) !== (y2 > y) && x < x1 + ((y - y1) / (y2 - y1)) * (x2 - x1)) inside = !inside;
    });
    return inside;
  });
}

function disc(svg: Part): { cx: number; cy: number; r: number } {
  const rim = svg.querySelector("circle.rim");
  const [cx = NaN, cy = NaN, r = NaN] = ["cx", "cy", "r"].map((key) =>
    Number(rim?.getAttribute(key))
  );
  return { cx, cy, r };
}

Deno.test("every point of the disc lies in as many shades as its height has contours below it", () => {
  for (const [amplitude, axis] of [[46, 30], [5, 116], [0, 0], [150, 90]] as const) {
    const seen = astigmatic(amplitude, axis), dice = random(7);
    for (const svg of assertFigure(surfaceFromAbove(seen))) {
      const { cx, cy, r } = disc(svg);
      const shades = [...svg.querySelectorAll("path.tone")].map((path) =>
        polygons(path.getAttribute("d") ?? "")
      );
      const step = Number(/a line every (\d+) nm/.exec(surfaceFromAbove(seen).text)?.[1]);
      const ends = /from (\S+) to (\S+) nm/.exec(svg.getAttribute("aria-label") ?? "");
      const [low = NaN, high = NaN] = [ends?.[1], ends?.[2]].map((end) =>
        Number(end?.replace("−", "-"))
      );
      assert.ok(Math.abs(shades.length - (high - low) / step) < 1.5, `${shades.length} shades`);
      const lowest = Math.ceil((low - 0.5) / step);
      assert.ok(shades.length >= 4, `${shades.length}`);
      let looked = 0;
      for (let i = 0; i < 400; i++) {
        const share = Math.sqrt(dice.uniform()) * 0.98, angle = 2 * Math.PI * dice.uniform();
        // DERIVED: counter-clockwise from the top as seen, so x falls where the angle is small and positive
        const point = [
          cx - share * r * Math.sin(angle),
          cy - share * r * Math.cos(angle),
        ] as const;
        const height = round(share * RIM) +
          amplitude * share ** 2 * Math.cos(2 * (angle - axis * Math.PI / 180));
        const passed = Math.floor(height / step + 1e-9);
        // near a contour a chord of five degrees, or a tenth of a px, may put it on either side
        if (Math.abs(height / step - Math.round(height / step)) < 0.15) continue;
        looked++;
        const shade = shades.filter((outlines) => within(outlines, point)).length;
        assert.equal(shade, passed - lowest + 1, `${amplitude} nm, ${height.toFixed(1)} nm`);
      }
      assert.ok(looked > 200, `${looked}`);
    }
  }
});

Deno.test("the high diameter is drawn where it lies: at 0 through the mark, at 45 to its left", () => {
  const ends = (axis: number): number[] => {
    const svg = assertFigure(surfaceFromAbove(astigmatic(46, axis)))[0];
    assert.ok(svg !== undefined);
    const { cx, cy, r } = disc(svg);
    const [line] = polygons(svg.querySelector("path.limit")?.getAttribute("d") ?? "");
    const [from, to] = line ?? [];
    assert.ok(from !== undefined && to !== undefined);
    // it passes the middle, and stands out over the rim
    assert.ok(Math.abs(from[0] + to[0] - 2 * cx) < 0.3 && Math.abs(from[1] + to[1] - 2 * cy) < 0.3);
    return [(from[0] - cx) / r, (from[1] - cy) / r];
  };
  const [x0 = NaN, y0 = NaN] = ends(0);
  assert.ok(Math.abs(x0) < 0.01 && y0 < -1);
  const [x45 = NaN, y45 = NaN] = ends(45);
  assert.ok(x45 < -0.7 && y45 < -0.7);
});

Deno.test("it is told in words: sure with its axis, or that a round mirror is not excluded", () => {
  const sure = surfaceFromAbove(astigmatic(46, 30));
  assertFigure(sure, {
    titles: [/Height of the glass \(nm\)/, /^mark$/, /high diameter, 30°$/],
    says:
      /mark at the top: from −\d+ to \+\d+ nm\. Peak to valley 98 nm ± 16 nm of glass\. Astigmatism of amplitude 46 nm ± 8 nm, highest along the diameter at 30 ± 5 degrees/,
  });
  // DERIVED: along and across the high diameter the glass is an amplitude above and below the mean
  assert.match(sure.text, /two diameters differ by 92 nm at the rim/);
  const clean = { ...astigmatic(6, 116).astigmatism, interval95: [0, 18] as const };
  const open = surfaceFromAbove({ profile, astigmatism: clean, shadowRadius: 15.5, whose: "demo" });
  for (
    const svg of assertFigure(open, {
      titles: [/high diameter, 116°, not sure/, /shadow of the flat/],
      says: /^The demo’s glass .* a round mirror is not excluded/,
    })
  ) {
    const dashed = svg.querySelector("path.limit")?.getAttribute("style") ?? "";
    assert.match(dashed, /stroke-dasharray:7 4/);
    const { r } = disc(svg);
    // DERIVED: 15.5 of 74 mm
    const shadow = Number(svg.querySelector("circle.lead")?.getAttribute("r"));
    assert.ok(Math.abs(shadow - (15.5 / 74) * r) < 0.06, `${shadow}`);
  }
  assert.match(open.text, /No astigmatism is shown/);
  assert.match(open.text, /Demo mirror, not yours/);
});

Deno.test("the names of heights stand apart on a phone, and 0 keeps its name", () => {
  const [, narrow] = assertFigure(surfaceFromAbove(astigmatic(60, 10)));
  const names = [...narrow?.querySelectorAll("text") ?? []]
    .filter(({ textContent }) => /^[+−]?\d+$/.test(textContent));
  assert.ok(names.some(({ textContent }) => textContent === "0"));
  const places = names.map((text) => Number(text.getAttribute("x"))).sort((a, b) => a - b);
  places.slice(1).forEach((x, i) => assert.ok(x - (places[i] ?? 0) >= 30, `${places}`));
});

Deno.test("too few points, radii that do not rise and what is not finite are refused", () => {
  const seen = astigmatic(46, 30);
  const bad: readonly SeenFromAbove[] = [
    { ...seen, profile: profile.slice(0, 1) },
    { ...seen, profile: profile.toReversed() },
    { ...seen, profile: profile.map((point) => ({ ...point, height: NaN })) },
    { ...seen, astigmatism: { ...seen.astigmatism, amplitude: measured(-1, 1, "nm") } },
    { ...seen, astigmatism: { ...seen.astigmatism, interval95: [0, Infinity] } },
  ];
  for (const one of bad) assert.throws(() => surfaceFromAbove(one), RangeError);
});

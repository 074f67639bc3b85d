/** The sag map: shades in the order of the heights, points where they stand. */
import assert from "node:assert/strict";
import { sagMap } from "../../../lib/figures/drawings/sagMap.ts";
import { supportSag } from "../../../lib/telescope/cell.ts";
import { assertFigure } from "../soundFigure.ts";

const glass = { youngGPa: 72, poisson: 0.22, densityKgPerM3: 2500 };
const sag = supportSag({ aperture: 150, thickness: 25, ...glass }, 3);
const points = [0, 1, 2].map((i) => ({ radius: 48.4, angle: (2 * Math.PI * i) / 3 }));
const disc = { aperture: 150, at: sag.at, rms: sag.rms, points, name: "3 points" };

Deno.test("it says between what the glass stands, and shows the points", () => {
  for (
    const svg of assertFigure(sagMap(disc), {
      titles: [/nm/, /rings: the points/],
      says: /on 3 points: the glass stands between −3\.\d and \+1\.8 nm, RMS 1\.2 nm/,
    })
  ) {
    assert.equal([...svg.querySelectorAll("circle.theirs")].length, 3);
    // seven shades, each one path, and seven boxes of the key
    assert.equal([...svg.querySelectorAll("path")].length, 7);
    assert.equal([...svg.querySelectorAll("rect")].length, 7);
  }
});

Deno.test("darker stands higher", () => {
  const slope = sagMap({ ...disc, at: (r) => r, points: [] });
  const shades = [
    ...slope.html.matchAll(
      /<path d="[^"]*" style="fill:color-mix\(in srgb, var\(--glass\) (\d+)%/g,
    ),
  ];
  const first = shades.slice(0, 7).map(([, strength]) => Number(strength));
  assert.deepEqual(first, [...first].sort((a, b) => a - b));
  assert.match(slope.text, /\+75\.0 nm/);
});

Deno.test("an even disc has one shade; what is not finite is refused", () => {
  const even = sagMap({ ...disc, at: () => 0, rms: 0 });
  assert.match(even.text, /between 0\.0 and 0\.0 nm/);
  assert.throws(() => sagMap({ ...disc, at: () => NaN }), RangeError);
  assert.throws(() => sagMap({ ...disc, aperture: 0 }), RangeError);
});

/** The round striped region in a picture: found among bright things, not where there is none. */
import assert from "node:assert/strict";
import { roundRegion } from "../../../lib/testing/photo/photoArcs.ts";
import { close } from "../../optics/close.ts";

const width = 140, height = 105;

/** INVENTED: a striped disc at 60, 50, and whatever else `more` puts there, as light. */
function picture(radius: number, more: (x: number, y: number) => number): Float32Array {
  return Float32Array.from({ length: width * height }, (_, k) => {
    const x = (k % width) + 0.5, y = Math.floor(k / width) + 0.5;
    const stripes = 0.4 + 0.35 * Math.cos((2 * Math.PI * x) / (radius / 2.5));
    return Math.max(Math.hypot(x - 60, y - 50) < radius ? stripes : 0.02, more(x, y));
  });
}

const box = (x: number, y: number, left: number, top: number, w: number, h: number): boolean =>
  x > left && x < left + w && y > top && y < top + h;

Deno.test("a striped disc among windows brighter and larger than it, a wall, a lamp", () => {
  const around: readonly ((x: number, y: number) => number)[] = [
    () => 0,
    (x, y) => box(x, y, 100, 5, 38, 60) ? 2 : 0, // a window
    (x, y) => Math.hypot(x - 60, y - 50) > 32 ? 0.12 : 0, // a wall behind a dark cell
    (x, y) => Math.hypot(x - 118, y - 80) < 14 ? 1 : 0, // a lamp, round and without stripes
  ];
  for (const more of around) {
    const found = roundRegion({ width, height, values: picture(26, more) });
    close(found?.x ?? NaN, 60, 1.5);
    close(found?.y ?? NaN, 50, 1.5);
    close(found?.radius ?? NaN, 26, 2.5);
  }
});

Deno.test("a small one too; none where nothing round has stripes", () => {
  const small = roundRegion({ width, height, values: picture(12, () => 0) });
  close(small?.radius ?? NaN, 12, 2);
  const boxes = Float32Array.from({ length: width * height }, (_, k) => {
    const x = k % width, y = Math.floor(k / width);
    return box(x, y, 20, 20, 70, 30) && x % 8 < 4 ? 0.8 : 0.02;
  });
  assert.equal(roundRegion({ width, height, values: boxes }), undefined);
  assert.equal(roundRegion({ width, height, values: boxes.map(() => 0.3) }), undefined);
});

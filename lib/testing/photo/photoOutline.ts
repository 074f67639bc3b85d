/** The mirror's outline in a photograph: an ellipse through the ends of its bright bands. */
import { solvePositive } from "../../numeric/positive.ts";
import { type Circle, circleOfEnds, roundRegion } from "./photoArcs.ts";
import { type GreyImage, quantileOf, shrunk } from "./photoImage.ts";

/** A circle in a picture, or an ellipse that is nearly one, pixels; the middle of the first pixel is (0.5, 0.5). */
export interface Outline {
  /** of the middle, from the left */
  readonly x: number;
  /** of the middle, from the top */
  readonly y: number;
  /** mean radius */
  readonly radius: number;
  /** standard uncertainty of each of the three, pixels */
  readonly u: number;
  /** narrower along x and wider along y by this share of the radius, and the same along the diagonals; default a circle, or nearly */
  readonly stretch?: readonly [number, number];
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Most pixels across in which the outline is measured, and in which the mirror is first looked for. */
export const SEARCH_SIZE = 400, FIRST_SIZE = 140;

/** A picture so many times as large is measured as it is: averaging its pixels would cost more than it spares. */
const LITTLE = 1.5;

/**
 * Finds the mirror.
 *
 * The largest round region with stripes in it, whatever stands beside it (`roundRegion`), is a first place; then each spot
 * where a bright band ends at its rim is measured between pixels, and most of them share an ellipse.
 *
 * @param image  a photograph
 * @returns the ellipse; `undefined` where no disc of stripes stands out
 * @throws {RangeError} where the picture is not one
 * @example a disc 60 pixels wide
 * ```ts
 * import assert from "node:assert/strict";
 * const values = Float32Array.from({ length: 6400 }, (_, k) =>
 *   Math.hypot((k % 80) + 0.5 - 42, Math.floor(k / 80) + 0.5 - 38) < 30 ? 0.8 : 0.05);
 * const found = findOutline({ width: 80, height: 80, values });
 * assert.deepEqual([found?.x, found?.y, found?.radius].map((v) => Math.round(v ?? 0)), [42, 38, 30]);
 * ```
 */
export function findOutline(image: GreyImage): Outline | undefined {
  const longest = Math.max(image.width, image.height), least = longest / SEARCH_SIZE;
  const factor = least < LITTLE ? 1 : least;
  if (Math.min(image.width, image.height) < 30 * factor) return undefined; // no room for a disc
  const small = asLight(shrunk(image, factor));
  const coarse = Math.max(1, Math.max(small.width, small.height) / FIRST_SIZE);
  const first = roundRegion(shrunk(small, coarse));
  const rough = first === undefined
    ? circleOfEnds(small)
    : { x: first.x * coarse, y: first.y * coarse, radius: first.radius * coarse };
  if (rough === undefined) return undefined;
  const near = robustEllipse(edgePlaces(small, { ...rough, u: 0.12 * rough.radius }));
  if (near === undefined) return undefined;
  const measuredIn = (picture: GreyImage, by: number): Outline | undefined => {
    const start = { ...scaled(near, by), u: Math.max(4, 0.05 * near.radius * by) };
    const fine = robustEllipse(edgePlaces(picture, start));
    return fine && { ...scaled(fine, 1 / by) };
  };
  // of a small disc in a large picture every pixel counts
  const found = near.radius < 60 && factor > 1
    ? measuredIn(asLight(image), factor)
    : measuredIn(small, 1);
  return found && scaled(found, factor);
}

function scaled(outline: Outline, by: number): Outline {
  const { x, y, radius, u } = outline;
  return { ...outline, x: x * by, y: y * by, radius: radius * by, u: u * by };
}

/** Values as light, by a usual camera's curve: in the camera's own scale a soft edge would seem to lie too far out. */
export function asLight(image: GreyImage): GreyImage {
  const { values } = image, light = new Float32Array(values.length);
  for (let i = 0; i < light.length; i++) {
    const v = values[i] as number, step = Math.round(255 * v);
    // a picture of eight bits that was not made smaller has its own few values
    light[i] = v === STEPS[step] ? STEPS_LIGHT[step] as number : Math.pow(Math.max(0, v), 2.2);
  }
  return { ...image, values: light };
}

const STEPS = Float32Array.from({ length: 256 }, (_, k) => k / 255);
const STEPS_LIGHT = STEPS.map((v) => Math.pow(v, 2.2));

/** Where brightness falls along 360 spokes within 1 `u` or so of a rim, between pixels: the middle of its fall, where that is clear. */
function edgePlaces(image: GreyImage, rim: Outline): readonly Point[] {
  const step = 0.5, count = 2 * Math.round(Math.max(4, rim.u) / step);
  const falls: { place: Point; fall: number }[] = [], [a, b] = rim.stretch ?? [0, 0];
  const along = new Float64Array(count + 1);
  for (let k = 0; k < 360; k++) {
    const t = (k * Math.PI) / 180, c = Math.cos(t), s = -Math.sin(t);
    const middle = rim.radius * (1 - a * Math.cos(2 * t) - b * Math.sin(2 * t));
    for (let i = 0; i <= count; i++) {
      const r = middle + (i - count / 2) * step;
      along[i] = bilinear(image, rim.x + r * c, rim.y + r * s);
    }
    const at = (i: number): number => along[i] as number;
    let steepest = 0, place = 0;
    for (let i = 2; i < count - 1; i++) {
      const fall = at(i - 2) - at(i + 2);
      if (fall > steepest) [steepest, place] = [fall, i];
    }
    let sum = 0, moment = 0;
    for (let i = Math.max(1, place - 3); i <= Math.min(count - 1, place + 3); i++) {
      const fall = Math.max(0, at(i - 1) - at(i + 1));
      sum += fall;
      moment += fall * i;
    }
    if (!(sum > 0) || place < 4 || place > count - 5) continue;
    const r = middle + (moment / sum - count / 2) * step;
    falls.push({ place: { x: rim.x + r * c, y: rim.y + r * s }, fall: steepest });
  }
  const clear = 0.35 * quantileOf(falls.map(({ fall }) => fall), 0.9);
  return falls.filter(({ fall }) => fall > clear).map(({ place }) => place);
}

function bilinear({ width, height, values }: GreyImage, x: number, y: number): number {
  const fx = Math.min(width - 1.001, Math.max(0, x - 0.5)),
    fy = Math.min(height - 1.001, Math.max(0, y - 0.5));
  const i = Math.floor(fx), j = Math.floor(fy), k = j * width + i, a = fx - i, b = fy - j;
  const top = (values[k] ?? 0) * (1 - a) + (values[k + 1] ?? 0) * a;
  const low = (values[k + width] ?? 0) * (1 - a) + (values[k + width + 1] ?? 0) * a;
  return top * (1 - b) + low * b;
}

/** Fewest places that hold an ellipse. */
const FEWEST = 40;

/** Least-squares ellipse, points far off counting less and less; none where what is left scatters too much. */
function robustEllipse(points: readonly Point[]): Outline | undefined {
  if (points.length < FEWEST) return undefined;
  const mean = (of: (p: Point) => number): number =>
    points.reduce((sum, p) => sum + of(p), 0) / points.length;
  let circle: Circle = { x: mean(({ x }) => x), y: mean(({ y }) => y), radius: 0 };
  circle = { ...circle, radius: quantileOf(points.map((p) => distance(p, circle)), 0.5) };
  let stretch: readonly [number, number] = [0, 0], spread = 0.1 * circle.radius;
  const offs = (): number[] =>
    points.map((p) => {
      const t = Math.atan2(circle.y - p.y, p.x - circle.x), [a, b] = stretch;
      return distance(p, circle) - circle.radius * (1 - a * Math.cos(2 * t) - b * Math.sin(2 * t));
    });
  for (let turn = 0; turn < 14; turn++) {
    const off = offs(), m = new Float64Array(25), right = new Float64Array(5);
    const row = Float64Array.of(0, 0, 1, 0, 0);
    const size = 1.4826 * quantileOf(off.map(Math.abs), 0.5);
    spread = Math.max(0.05, turn < 4 ? Math.max(size, 0.5 * spread) : size);
    for (let i = 0; i < 5; i++) m[6 * i] = i < 3 ? 1e-6 : HARDLY; // a slanted disc is a few parts in a hundred narrower
    for (let i = 3; i < 5; i++) right[i] = -HARDLY * (stretch[i - 3] as number);
    points.forEach((p, i) => {
      const r = distance(p, circle), e = (off[i] as number) / (3 * spread);
      const weight = Math.abs(e) >= 1 ? 0 : (1 - e * e) ** 2;
      const c = (p.x - circle.x) / r, s = (p.y - circle.y) / r, { radius } = circle;
      row[0] = c;
      row[1] = s;
      row[3] = -radius * (c * c - s * s);
      row[4] = radius * 2 * c * s;
      addRow(m, right, row, weight, off[i] as number);
    });
    const [dx = 0, dy = 0, dr = 0, da = 0, db = 0] = solvePositive(m, right) ?? [];
    circle = { x: circle.x + dx, y: circle.y + dy, radius: circle.radius + dr };
    stretch = [stretch[0] + da, stretch[1] + db];
    if (!Number.isFinite(circle.radius)) return undefined;
  }
  const close = offs().filter((off) => Math.abs(off) < 3 * spread).length;
  if (close < FEWEST || close < 0.4 * points.length || spread > 0.05 * circle.radius) {
    return undefined;
  }
  if (Math.hypot(...stretch) > 0.08) return undefined; // no camera looks so aslant, and no mirror is oval
  // neighbouring spokes share their error: one in six counts as its own
  return { ...circle, stretch, u: Math.max(0.1, spread / Math.sqrt(close / 6)) };
}

/** Adds a point's row to the normal equations. */
function addRow(
  m: Float64Array,
  right: Float64Array,
  row: Float64Array,
  weight: number,
  off: number,
): void {
  const size = row.length;
  for (let a = 0; a < size; a++) {
    right[a] = (right[a] as number) + weight * (row[a] as number) * off;
    for (let b = 0; b < size; b++) {
      m[size * a + b] = (m[size * a + b] as number) +
        weight * (row[a] as number) * (row[b] as number);
    }
  }
}

/** How firmly an ellipse is held to a circle: as some points would. */
const HARDLY = 20;

function distance(p: Point, c: Point): number {
  return Math.sqrt((p.x - c.x) * (p.x - c.x) + (p.y - c.y) * (p.y - c.y));
}

/** The mirror's outline in a photograph: a circle through the ends of its bright bands. */
import { random } from "../numeric/random.ts";
import { type GreyImage, quantileOf, shrunk } from "./photoImage.ts";

/** A circle in a picture, pixels; the middle of the first pixel is (0.5, 0.5). */
export interface Outline {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** standard uncertainty of each of the three, pixels */
  readonly u: number;
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** Most pixels across in which the outline is looked for; larger pictures are averaged first. */
export const SEARCH_SIZE = 400;

/**
 * Finds the mirror.
 *
 * Ends of what is bright, from all four sides, are candidates for the edge; the circle that most of them share is taken
 * (so fingers, a stand or a lamp do not matter), then each place where a bright band ends is measured between pixels.
 *
 * @param image  a photograph
 * @returns the circle; `undefined` where no disc of stripes stands out
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
  const factor = Math.max(1, Math.ceil(Math.max(image.width, image.height) / SEARCH_SIZE));
  if (Math.min(image.width, image.height) < 30 * factor) return undefined; // no room for a disc
  const small = asLight(shrunk(image, factor));
  const candidates = endsOfBright(small);
  const rough = commonCircle(candidates, small);
  if (rough === undefined) return undefined;
  const edges = edgePlaces(small, rough);
  if (edges.length < 40) return undefined;
  const fine = robustCircle(edges, rough);
  if (fine === undefined) return undefined;
  return {
    x: fine.x * factor,
    y: fine.y * factor,
    radius: fine.radius * factor,
    u: fine.u * factor,
  };
}

/** Values as light, by a usual camera's curve: in the camera's own scale a soft edge would seem to lie too far out. */
export function asLight(image: GreyImage): GreyImage {
  return { ...image, values: image.values.map((v) => Math.pow(Math.max(0, v), 2.2)) };
}

/** First and last bright pixel of each row and column. */
export function endsOfBright({ width, height, values }: GreyImage): Point[] {
  const dark = quantileOf(values, 0.05), bright = quantileOf(values, 0.97);
  if (!(bright - dark > 0.004)) return [];
  const border: number[] = [];
  for (let x = 0; x < width; x++) {
    border.push(values[x] ?? 0, values[(height - 1) * width + x] ?? 0);
  }
  for (let y = 0; y < height; y++) {
    border.push(values[y * width] ?? 0, values[y * width + width - 1] ?? 0);
  }
  const around = quantileOf(border, 0.5), level = around + 0.2 * (bright - around);
  const points: Point[] = [];
  const scan = (count: number, along: number, at: (line: number, i: number) => Point): void => {
    for (let line = 0; line < count; line++) {
      let first = -1, last = -1;
      for (let i = 0; i < along; i++) {
        const { x, y } = at(line, i);
        if ((values[y * width + x] ?? 0) < level) continue;
        if (first < 0) first = i;
        last = i;
      }
      if (last - first < 3) continue;
      const [a, b] = [at(line, first), at(line, last)];
      points.push({ x: a.x + 0.5, y: a.y + 0.5 }, { x: b.x + 0.5, y: b.y + 0.5 });
    }
  };
  scan(height, width, (y, x) => ({ x, y }));
  scan(width, height, (x, y) => ({ x, y }));
  return points;
}

interface Circle extends Point {
  readonly radius: number;
}

/** Candidates enough to tell by: more of them agree no better. */
const VOTERS = 500;

/** The circle that holds most candidates, of many through three of them; none where too few agree. */
function commonCircle(all: readonly Point[], image: GreyImage): Circle | undefined {
  if (all.length < 40) return undefined;
  const every = Math.ceil(all.length / VOTERS), points = all.filter((_, i) => i % every === 0);
  const { integer } = random(1), most = Math.max(image.width, image.height);
  let best: Circle | undefined, votes = 0;
  for (let turn = 0; turn < 600; turn++) {
    const [a, b, c] = [0, 1, 2].map(() => points[integer(points.length)] as Point);
    const circle = through(a as Point, b as Point, c as Point);
    if (!(circle.radius > 15 && circle.radius < 0.75 * most)) continue;
    let near = 0;
    for (const p of points) if (Math.abs(distance(p, circle) - circle.radius) < 1.5) near++;
    if (near > votes) [best, votes] = [circle, near];
  }
  return best !== undefined && votes > 0.25 * points.length ? best : undefined;
}

function distance(p: Point, c: Point): number {
  return Math.sqrt((p.x - c.x) * (p.x - c.x) + (p.y - c.y) * (p.y - c.y));
}

function through(a: Point, b: Point, c: Point): Circle {
  const bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y;
  const d = 2 * (bx * cy - by * cx), b2 = bx * bx + by * by, c2 = cx * cx + cy * cy;
  const x = a.x + (cy * b2 - by * c2) / d, y = a.y + (bx * c2 - cx * b2) / d;
  return { x, y, radius: distance(a, { x, y }) };
}

/** Where brightness falls along 360 spokes, between pixels: the middle of its fall, where the fall is clear. */
function edgePlaces(image: GreyImage, circle: Circle): Point[] {
  const reach = Math.max(4, 0.06 * circle.radius), step = 0.5;
  const count = 2 * Math.round(reach / step), falls: { place: Point; fall: number }[] = [];
  for (let k = 0; k < 360; k++) {
    const c = Math.cos((k * Math.PI) / 180), s = Math.sin((k * Math.PI) / 180);
    const at = (i: number): number => {
      const r = circle.radius + (i - count / 2) * step;
      return bilinear(image, circle.x + r * c, circle.y + r * s);
    };
    let steepest = 0, place = 0;
    for (let i = 2; i < count - 1; i++) {
      const fall = at(i - 2) - at(i + 2);
      if (fall > steepest) [steepest, place] = [fall, i];
    }
    let sum = 0, moment = 0;
    for (let i = place - 3; i <= place + 3; i++) {
      const fall = Math.max(0, at(i - 1) - at(i + 1));
      sum += fall;
      moment += fall * i;
    }
    if (!(sum > 0) || place < 4 || place > count - 5) continue;
    const r = circle.radius + (moment / sum - count / 2) * step;
    falls.push({ place: { x: circle.x + r * c, y: circle.y + r * s }, fall: steepest });
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

/** Least-squares circle, points far off counting less and less; none where what is left scatters too much. */
function robustCircle(points: readonly Point[], start: Circle): Outline | undefined {
  let circle = start, spread = 1;
  for (let turn = 0; turn < 12; turn++) {
    const off = points.map((p) => distance(p, circle) - circle.radius);
    spread = Math.max(0.05, 1.4826 * quantileOf(off.map(Math.abs), 0.5));
    const m = new Float64Array(9), right = new Float64Array(3);
    points.forEach((p, i) => {
      const r = distance(p, circle), e = (off[i] ?? 0) / (3 * spread);
      const weight = Math.abs(e) >= 1 ? 0 : (1 - e * e) ** 2;
      const row = [(p.x - circle.x) / r, (p.y - circle.y) / r, 1];
      for (let a = 0; a < 3; a++) {
        right[a] = (right[a] ?? 0) + weight * (row[a] ?? 0) * (off[i] ?? 0);
        for (let b = 0; b < 3; b++) {
          m[3 * a + b] = (m[3 * a + b] ?? 0) + weight * (row[a] ?? 0) * (row[b] ?? 0);
        }
      }
    });
    const [dx = 0, dy = 0, dr = 0] = solveThree(m, right);
    circle = { x: circle.x + dx, y: circle.y + dy, radius: circle.radius + dr };
    if (!Number.isFinite(circle.radius)) return undefined;
  }
  const close = points.filter((p) => Math.abs(distance(p, circle) - circle.radius) < 3 * spread);
  if (close.length < 0.5 * points.length || spread > 0.05 * circle.radius) return undefined;
  // neighbouring spokes share their error: one in six counts as its own
  return { ...circle, u: Math.max(0.1, spread / Math.sqrt(close.length / 6)) };
}

/** Cramer's rule. */
function solveThree(m: Float64Array, right: Float64Array): number[] {
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = m;
  const [x = 0, y = 0, z = 0] = right;
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  return [
    (x * (e * i - f * h) - b * (y * i - f * z) + c * (y * h - e * z)) / det,
    (a * (y * i - f * z) - x * (d * i - f * g) + c * (d * z - y * g)) / det,
    (a * (e * z - y * h) - b * (d * z - y * g) + x * (d * h - e * g)) / det,
  ];
}

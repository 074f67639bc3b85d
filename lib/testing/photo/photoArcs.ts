/** A circle through the ends of what is bright in a picture: finds a disc that the picture's border cuts off. */
import { random } from "../../numeric/random.ts";
import type { Circle } from "./photoBlobs.ts";
import { type GreyImage, quantileOf } from "./photoImage.ts";

export interface Point {
  readonly x: number;
  readonly y: number;
}

/**
 * The circle that most ends of bright rows and columns share; none where too few agree.
 *
 * @param light  as light
 */
export function circleOfEnds(light: GreyImage): Circle | undefined {
  return commonCircle(endsOfBright(light), light);
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
  /** Ends of one row or column, `step` apart in the picture. */
  const endsOf = (from: number, step: number, along: number): readonly [number, number] => {
    let first = -1, last = -1;
    for (let i = 0; i < along; i++) {
      if ((values[from + i * step] as number) < level) continue;
      if (first < 0) first = i;
      last = i;
    }
    return [first, last];
  };
  for (let y = 0; y < height; y++) {
    const [first, last] = endsOf(y * width, 1, width);
    if (last - first < 3) continue;
    points.push({ x: first + 0.5, y: y + 0.5 }, { x: last + 0.5, y: y + 0.5 });
  }
  for (let x = 0; x < width; x++) {
    const [first, last] = endsOf(x, width, height);
    if (last - first < 3) continue;
    points.push({ x: x + 0.5, y: first + 0.5 }, { x: x + 0.5, y: last + 0.5 });
  }
  return points;
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

/** A circle through the ends of what is bright in a picture: finds a disc that the picture's border cuts off. */
import { random } from "../../numeric/random.ts";
import { type GreyImage, quantileOf, quantilesOf } from "./photoImage.ts";

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
  const [dark = NaN, bright = NaN] = quantilesOf(values, [0.05, 0.97]);
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

// Where in a picture something round, bright and striped lies: a first look for the mirror, whatever else is in the picture.

/** A circle, pixels; the middle of the first pixel is (0.5, 0.5). */
export interface Circle {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** Widths of dark bands that are filled, pixels of the small picture. */
const FILLED = [3, 7, 13];

/** Levels at which what is bright is told from what is not, between the darkest and the brightest. */
const LEVELS = [0.03, 0.06, 0.1, 0.15, 0.22, 0.3, 0.4, 0.52];

/**
 * The largest round striped region.
 *
 * Dark bands are filled up to some widths, the picture is cut at some levels, and of all connected regions the one is taken
 * that is round, has bright and dark in it, and is brighter than what surrounds it, the larger the better.
 *
 * @param light  small, as light
 */
export function roundRegion(light: GreyImage): Circle | undefined {
  const [low = NaN, high = NaN] = quantilesOf(light.values, [0.02, 0.995]);
  let best: Circle | undefined, most = 0;
  const runs = runsFor(light);
  for (const width of FILLED) {
    const filled = closed(light, width);
    for (const level of LEVELS) {
      for (const circle of roundParts(filled, low + level * (high - low), runs)) {
        if (circle.radius <= most) continue; // none is worth more than its radius
        const worth = worthOf(light, circle);
        if (worth > most) [best, most] = [circle, worth];
      }
    }
  }
  return best;
}

/** Brightest of the neighbours, then darkest of those: dark gaps narrower than `width` are filled. */
function closed(image: GreyImage, width: number): GreyImage {
  const reach = width >> 1;
  let now = image.values;
  for (const sign of [1, -1]) {
    for (const upright of [false, true]) now = mostAlong(image, now, reach, upright, sign);
  }
  return { ...image, values: now };
}

/** The largest of the neighbours along rows or columns, of the values times `sign`. */
function mostAlong(
  { width, height }: GreyImage,
  values: Float32Array,
  reach: number,
  upright: boolean,
  sign: number,
): Float32Array {
  const out = new Float32Array(values.length), step = upright ? width : 1;
  const count = upright ? height : width, lines = upright ? width : height;
  const line = new Float32Array(count + 2 * reach).fill(-Infinity);
  for (let n = 0; n < lines; n++) {
    const from = upright ? n : n * width;
    for (let i = 0; i < count; i++) line[i + reach] = sign * (values[from + i * step] as number);
    for (let i = 0; i < count; i++) {
      let found = line[i] as number;
      for (let k = i + 1; k <= i + 2 * reach; k++) {
        const other = line[k] as number;
        if (other > found) found = other;
      }
      out[from + i * step] = sign * found;
    }
  }
  return out;
}

/** Bright runs of a picture's rows, each with a run of the same region, and a region's sums with the last of these. */
interface Runs {
  readonly first: Int32Array;
  readonly after: Int32Array;
  readonly joined: Int32Array;
  /** number of pixels, sums of x and y, of x^2, x y and y^2 */
  readonly sums: Float64Array;
}

function runsFor({ width, height }: GreyImage): Runs {
  const most = height * Math.ceil(width / 2);
  const whole = (): Int32Array => new Int32Array(most);
  return { first: whole(), after: whole(), joined: whole(), sums: new Float64Array(6 * most) };
}

/** Connected regions above a level whose spread is that of a filled circle. */
function roundParts(
  { width, height, values }: GreyImage,
  level: number,
  { first, after, joined, sums }: Runs,
): Circle[] {
  const rootOf = (run: number): number => {
    while (joined[run] !== run) run = joined[run] = joined[joined[run] as number] as number;
    return run;
  };
  let count = 0, above = 0;
  for (let y = 0; y < height; y++) {
    const row = y * width, here = count;
    for (let x = 0; x < width; x++) {
      if ((values[row + x] as number) < level) continue;
      const from = x;
      while (x < width && !((values[row + x] as number) < level)) x++;
      first[count] = from;
      after[count] = x;
      joined[count] = count;
      setSums(sums, 6 * count, from, x, y);
      while (above < here && (after[above] as number) <= from) above++;
      for (let up = above; up < here && (first[up] as number) < x; up++) {
        const one = rootOf(up), other = rootOf(count);
        if (one === other) continue;
        joined[other] = one;
        for (let k = 0; k < 6; k++) {
          sums[6 * one + k] = (sums[6 * one + k] as number) + (sums[6 * other + k] as number);
        }
      }
      count++;
    }
    above = here;
  }
  const found: Circle[] = [];
  for (let run = 0; run < count; run++) {
    if (joined[run] !== run) continue;
    const circle = roundPart(sums, 6 * run);
    if (circle !== undefined) found.push(circle);
  }
  return found;
}

/** The sums of a run of pixels. */
function setSums(sums: Float64Array, at: number, first: number, after: number, y: number): void {
  const n = after - first, sx = (n * (first + after - 1)) / 2;
  const sxx = n * first * first + first * n * (n - 1) + ((n - 1) * n * (2 * n - 1)) / 6;
  sums[at] = n;
  sums[at + 1] = sx;
  sums[at + 2] = n * y;
  sums[at + 3] = sxx;
  sums[at + 4] = sx * y;
  sums[at + 5] = n * y * y;
}

/** The circle of a region, where it is a filled one. */
function roundPart(sums: Float64Array, at: number): Circle | undefined {
  const area = sums[at] as number, sx = sums[at + 1] as number, sy = sums[at + 2] as number;
  const sxx = sums[at + 3] as number, sxy = sums[at + 4] as number, syy = sums[at + 5] as number;
  const mx = sx / area, my = sy / area, xx = sxx / area - mx * mx, yy = syy / area - my * my;
  const xy = sxy / area - mx * my, radius = Math.sqrt(area / Math.PI);
  const half = (xx + yy) / 2, apart = Math.hypot((xx - yy) / 2, xy);
  // a filled circle spreads by a quarter of its radius squared each way
  const isRound = apart < 0.12 * half && Math.abs(half / (radius * radius / 4) - 1) < 0.12;
  return radius > SMALLEST && isRound ? { x: mx + 0.5, y: my + 0.5, radius } : undefined;
}

/** Smallest disc that bands can be told in, pixels of the small picture. */
const SMALLEST = 9;

/** Spokes of the look around. */
const SPOKES = 48;

/** How much a circle looks like a mirror: bright inside, darker just outside, bright and dark inside; larger is better. */
function worthOf(image: GreyImage, { x, y, radius }: Circle): number {
  let brighter = 0, within = 0, sum = 0, square = 0, count = 0;
  for (let k = 0; k < SPOKES; k++) {
    const c = Math.cos((2 * Math.PI * k) / SPOKES), s = Math.sin((2 * Math.PI * k) / SPOKES);
    let inside = 0, outside = 0, n = 0;
    for (let i = 0; i < 10; i++) {
      const r = radius * (0.35 + 0.06 * i), v = at(image, x + r * c, y + r * s);
      if (i > 4) inside += v / 5;
      sum += v;
      square += v * v;
      count++;
    }
    for (const r of [1.08, 1.13, 1.18]) {
      const px = x + radius * r * c, py = y + radius * r * s;
      if (px < 0 || py < 0 || px >= image.width || py >= image.height) continue;
      outside += at(image, px, py);
      n++;
    }
    if (n === 0) continue;
    within++;
    if (inside > (1.5 * outside) / n) brighter++;
  }
  const mean = sum / count,
    striped = Math.sqrt(Math.max(0, square / count - mean * mean)) / Math.max(mean, 1e-6);
  if (within < 0.6 * SPOKES) return 0; // most of what would be around it is not in the picture
  const clear = brighter / within;
  return clear < 0.6 || striped < 0.08 ? 0 : radius * clear * clear * Math.min(1, striped / 0.25);
}

function at({ width, height, values }: GreyImage, x: number, y: number): number {
  const i = Math.min(width - 1, Math.max(0, Math.floor(x))),
    j = Math.min(height - 1, Math.max(0, Math.floor(y)));
  return values[j * width + i] as number;
}

/** Whether the disc in a photograph is as wide as it is high: a picture that was squeezed shows another mirror. */
import { random } from "../../numeric/random.ts";
import { endsOfBright, type Point } from "./photoArcs.ts";
import { type GreyImage, shrunk } from "./photoImage.ts";
import { asLight, SEARCH_SIZE } from "./photoOutline.ts";
import type { Shape } from "./photoTerms.ts";

/** Candidates enough to tell by. */
const VOTERS = 500;
/** Share by which width and height must differ before a word is said: the finder's own error is a fifth of it. */
const TOLD = 0.03;

/** Votes that an ellipse must have over those of the best circle. */
const CLEARLY = 1.25;

interface Ellipse {
  readonly x: number;
  readonly y: number;
  /** half the width, half the height, pixels */
  readonly a: number;
  readonly b: number;
}

/**
 * Width over height of the disc, where it is clearly not 1.
 *
 * The ends of bright bands are held against circles and against ellipses that lie along the picture's sides, as squeezing
 * makes them; an ellipse is believed only where clearly more ends agree on it than on any circle.
 *
 * @param image  a photograph of the bands
 * @returns the ratio; `undefined` where the disc is round to 3 %, or none is found
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const disc = (a: number) => ({ width: 120, height: 120, values: Float32Array.from({ length: 14400 }, (_, k) =>
 *   Math.hypot(((k % 120) + 0.5 - 60) / a, (Math.floor(k / 120) + 0.5 - 60) / 50) < 1 ? 0.8 : 0.05) });
 * assert.equal(squeezeOf(disc(50)), undefined);
 * assert.ok(Math.abs((squeezeOf(disc(45)) ?? 1) - 0.9) < 0.02);
 * ```
 */
export function squeezeOf(image: GreyImage): number | undefined {
  const factor = Math.max(1, Math.ceil(Math.max(image.width, image.height) / SEARCH_SIZE));
  if (Math.min(image.width, image.height) < 30 * factor) return undefined;
  const all = endsOfBright(asLight(shrunk(image, factor)));
  if (all.length < 40) return undefined;
  const every = Math.ceil(all.length / VOTERS), points = all.filter((_, i) => i % every === 0);
  const most = Math.max(image.width, image.height) / factor;
  const round = best(points, most, 3, points.length / CLEARLY);
  const needed = CLEARLY * (round?.votes ?? 0);
  if (needed >= points.length) return undefined; // on the circle lie so many that no ellipse holds clearly more
  const squeezed = best(points, most, 4);
  if (squeezed === undefined || squeezed.votes < 0.35 * points.length) return undefined;
  const ratio = squeezed.ellipse.a / squeezed.ellipse.b;
  const isClear = squeezed.votes > needed;
  return isClear && Math.abs(ratio - 1) > TOLD ? ratio : undefined;
}

/** The circle (through three places) or ellipse (through four) that most candidates share; the first with `enough` of them. */
function best(
  points: readonly Point[],
  most: number,
  through: 3 | 4,
  enough = Infinity,
): { readonly ellipse: Ellipse; readonly votes: number } | undefined {
  const { integer } = random(1);
  let found: Ellipse | undefined, votes = 0;
  for (let turn = 0; turn < 1200; turn++) {
    const some = Array.from({ length: through }, () => points[integer(points.length)] as Point);
    const ellipse = ellipseThrough(some);
    if (ellipse === undefined || Math.max(ellipse.a, ellipse.b) > 0.75 * most) continue;
    if (Math.min(ellipse.a, ellipse.b) < 15 || Math.abs(Math.log(ellipse.a / ellipse.b)) > 0.4) {
      continue;
    }
    const count = nearTo(points, ellipse, Math.max(0.75, 0.008 * ellipse.a));
    if (count > votes) [found, votes] = [ellipse, count];
    if (votes >= enough) break;
  }
  return found === undefined ? undefined : { ellipse: found, votes };
}

/** How many places lie nearer to an ellipse, nearly round, than so many pixels. */
function nearTo(points: readonly Point[], { x, y, a, b }: Ellipse, near: number): number {
  // asked a million times for a photograph: most places are too far by the shorter half axis, and need no roots
  const share = near / Math.min(a, b), least = Math.max(0, 1 - share) ** 2, most = (1 + share) ** 2;
  let count = 0;
  for (let i = 0; i < points.length; i++) {
    const p = points[i] as Point, dx = p.x - x, dy = p.y - y, u = dx / a, v = dy / b;
    const square = u * u + v * v;
    if (!(square >= least && square <= most)) continue;
    const r = Math.sqrt(square), away = r > 0 ? Math.sqrt(dx * dx + dy * dy) / r : a;
    if (Math.abs(r - 1) * away < near) count++;
  }
  return count;
}

/** A x^2 + B y^2 + C x + D y = 1 through four places, or with A = B through three; none where it is no ellipse. */
function ellipseThrough(points: readonly Point[]): Ellipse | undefined {
  const [first] = points;
  if (first === undefined) return undefined;
  // counted from one of the places, E = 0 there: A x^2 + B y^2 + C x + D y = 0 with A + B = 2
  const rows = points.slice(1).map(({ x, y }) => {
    const [u, v] = [x - first.x, y - first.y];
    return points.length === 4
      ? { row: [u * u - v * v, u, v], right: -2 * v * v }
      : { row: [u, v], right: -(u * u + v * v) };
  });
  const solved = solve(rows.map(({ row, right }) => [...row, right]));
  if (solved === undefined) return undefined;
  const [A, c, d] = points.length === 4
    ? [solved[0] ?? 1, solved[1] ?? 0, solved[2] ?? 0]
    : [1, solved[0] ?? 0, solved[1] ?? 0];
  const B = 2 - A;
  if (!(A > 0.3 && B > 0.3)) return undefined;
  const x = -c / (2 * A), y = -d / (2 * B), size = A * x * x + B * y * y;
  return { x: first.x + x, y: first.y + y, a: Math.sqrt(size / A), b: Math.sqrt(size / B) };
}

/** Gauss with the largest pivot; none where the rows say the same. */
function solve(rows: number[][]): number[] | undefined {
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    const from = rows.slice(k).reduce((a, b) => Math.abs(b[k] ?? 0) > Math.abs(a[k] ?? 0) ? b : a);
    const pivot = from[k] ?? 0;
    if (Math.abs(pivot) < 1e-9) return undefined;
    const at = rows.indexOf(from), old = rows[k] as number[];
    rows[k] = from.map((value) => value / pivot);
    if (at !== k) rows[at] = old;
    rows.forEach((row, i) => {
      if (i === k) return;
      const share = row[k] ?? 0;
      rows[i] = row.map((value, j) => value - share * (rows[k]?.[j] ?? 0));
    });
  }
  return rows.map((row) => row[n] ?? 0);
}

// Shapes read from a table of the radius: a fit asks for them at millions of places.

/** Ways a shape goes round: the same everywhere, then cosine and sine of one to four times the angle. */
export const WAVES = 9;

/** Heights of several shapes over the radius, where each one's wave is 1. */
export interface ShapeTable {
  /** how many of the shapes, from the first on, are of the radius alone */
  readonly count: number;
  /** row k: the heights of all shapes at k / `scale` of the half width; rows to `steps` + 1 */
  readonly rows: Float64Array;
  readonly steps: number;
  readonly scale: number;
  /** which way each shape goes round, by its place in `WAVES` */
  readonly wave: Int32Array;
  /** waves, other than none, that some shape has */
  readonly waves: readonly number[];
  /** first row in which each shape is not nothing, and the row after the last */
  readonly reach: readonly (readonly [number, number])[];
}

/** Steps enough for an edge of a fiftieth of the radius, and how far they go. */
const STEPS = 1500;
export const REACH = 1.08;
const kept = new WeakMap<readonly Shape[], ShapeTable>();

/**
 * The table of a list of shapes, made once for each list.
 *
 * @throws {RangeError} where a shape is not a height over the radius times one of the waves
 */
export function tableOf(shapes: readonly Shape[]): ShapeTable {
  let found = kept.get(shapes);
  if (found === undefined) kept.set(shapes, found = made(shapes));
  return found;
}

/** Angle at which a wave is 1. */
function crestOf(wave: number): number {
  return wave > 0 && wave % 2 === 0 ? Math.PI / wave : 0;
}

function waveAt(wave: number, t: number): number {
  const times = (wave + 1) >> 1;
  return wave % 2 === 1 ? Math.cos(times * t) : wave === 0 ? 1 : Math.sin(times * t);
}

function waveOf(f: Shape): number {
  for (let wave = 0; wave < WAVES; wave++) {
    const crest = crestOf(wave);
    const fits = [0.2, 0.5, 0.8, 0.97].every((r) => {
      const high = f(r * Math.cos(crest), r * Math.sin(crest));
      return [0.7, 2.1, 4].every((t) =>
        Math.abs(f(r * Math.cos(t), r * Math.sin(t)) - high * waveAt(wave, t)) < 1e-9
      );
    });
    if (fits) return wave;
  }
  throw new RangeError(
    "tableOf requires shapes that are a height over the radius times 1, or the cosine or sine of one to four times the angle",
  );
}

function made(shapes: readonly Shape[]): ShapeTable {
  const wave = Int32Array.from(shapes, waveOf), other = wave.findIndex((w) => w > 0);
  const steps = shapes.length === 0 ? 1 : STEPS, scale = steps / REACH;
  const rows = new Float64Array((steps + 2) * shapes.length);
  shapes.forEach((f, j) => {
    const crest = crestOf(wave[j] as number), c = Math.cos(crest), s = Math.sin(crest);
    for (let k = 0; k <= steps + 1; k++) {
      const r = k / scale;
      rows[k * shapes.length + j] = f(r * c, r * s);
    }
  });
  const waves = [...new Set(wave)].filter((w) => w > 0), numbers = [...Array(steps + 2).keys()];
  const reach = shapes.map((_, j) => {
    const has = (k: number): boolean => rows[k * shapes.length + j] !== 0;
    return [Math.max(0, numbers.findIndex(has)), 1 + numbers.findLastIndex(has)] as const;
  });
  return { reach, count: other < 0 ? shapes.length : other, rows, steps, scale, wave, waves };
}

/** Heights of all shapes together for some amounts: at each of the table's radii those of the radius alone, then each wave's at its crest. */
export function summed(amounts: ArrayLike<number>, shapes: readonly Shape[]): Float64Array {
  const { rows, steps, wave, waves, reach } = tableOf(shapes), across = 1 + waves.length;
  const count = wave.length, heights = new Float64Array((steps + 2) * across);
  reach.forEach(([first, end], j) => {
    const amount = amounts[j] as number,
      place = wave[j] === 0 ? 0 : 1 + waves.indexOf(wave[j] as number);
    for (let k = first; k < end; k++) {
      const at = k * across + place;
      heights[at] = (heights[at] as number) + amount * (rows[k * count + j] as number);
    }
  });
  return heights;
}

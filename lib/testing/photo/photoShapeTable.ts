/** Shapes read from a table of the radius: a fit asks for them at millions of places. */
import type { Shape } from "./photoTerms.ts";

/** Ways a shape goes round: the same everywhere, then cosine and sine of one, two and three times the angle. */
export const WAVES = 7;

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
    "tableOf requires shapes that are a height over the radius times 1, or the cosine or sine of one to three times the angle",
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

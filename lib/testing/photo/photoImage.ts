/** A photograph as numbers: grey, upright, in the camera's own scale. */

/** Grey values row after row from the top, 0 black to 1 white, as the camera encoded them. */
export interface GreyImage {
  /** pixels */
  readonly width: number;
  /** pixels */
  readonly height: number;
  /** width x height of them */
  readonly values: Float32Array;
}

/**
 * Averages squares of `factor` pixels into one, by area where they do not fall on whole pixels; what does not fill a
 * square at the right and below is left out.
 *
 * @param image   a picture
 * @param factor  1 or more
 * @throws {RangeError} where the sizes do not fit
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const small = shrunk({ width: 2, height: 2, values: Float32Array.of(0, 1, 1, 0) }, 2);
 * assert.equal(small.values[0], 0.5);
 * ```
 */
export function shrunk(image: GreyImage, factor: number): GreyImage {
  requireImage("shrunk", image);
  const width = Math.floor(image.width / factor), height = Math.floor(image.height / factor);
  if (!(factor >= 1 && width > 0 && height > 0)) {
    throw new RangeError(
      `shrunk requires a factor from 1 to the picture's size, got factor=${factor}`,
    );
  }
  if (factor === 1) return image;
  const columns = shares(width, factor, image.width), rows = shares(height, factor, image.height);
  const values = new Float32Array(width * height), line = new Float64Array(width);
  for (let j = 0; j < height; j++) {
    line.fill(0);
    for (let b = rows.first[j] as number; b < (rows.first[j + 1] as number); b++) {
      const row = (rows.from[b] as number) * image.width;
      addAveraged(line, image.values, row, columns, rows.share[b] as number);
    }
    values.set(line, j * width);
  }
  return { width, height, values };
}

/** Adds a share of one of the picture's rows, its pixels averaged; a function of its own is made fast sooner. */
function addAveraged(
  line: Float64Array,
  values: Float32Array,
  row: number,
  { first, from, share }: Shares,
  upright: number,
): void {
  for (let i = 0, a = 0; i < line.length; i++) {
    const end = first[i + 1] as number;
    let sum = 0;
    for (; a < end; a++) {
      sum += (share[a] as number) * (values[row + (from[a] as number)] as number);
    }
    line[i] = (line[i] as number) + upright * sum;
  }
}

/** Which pixels of a row make each averaged one, and with what share: those of number i are from `first[i]` to before `first[i + 1]`. */
interface Shares {
  readonly first: Int32Array;
  readonly from: Int32Array;
  readonly share: Float64Array;
}

function shares(count: number, factor: number, most: number): Shares {
  const first = new Int32Array(count + 1), room = count * (Math.ceil(factor) + 1);
  const from = new Int32Array(room), share = new Float64Array(room);
  let filled = 0;
  for (let i = 0; i < count; i++) {
    const low = i * factor, high = low + factor;
    for (let k = Math.floor(low); k < Math.min(most, high); k++) {
      const part = (Math.min(k + 1, high) - Math.max(k, low)) / factor;
      if (part <= 1e-9) continue;
      from[filled] = k;
      share[filled++] = part;
    }
    first[i + 1] = filled;
  }
  return { first, from, share };
}

/** The value below which a share of the picture's values lies. */
export function quantileOf(values: ArrayLike<number>, share: number): number {
  return quantilesOf(values, [share])[0] as number;
}

/** The values below which some shares of the picture's values lie; NaN where there are none. */
export function quantilesOf(values: ArrayLike<number>, shares: readonly number[]): number[] {
  const sorted = new Float32Array(values).sort();
  return shares.map((share) => sorted[Math.round(share * (sorted.length - 1))] ?? NaN);
}

/** Refuses what is not a picture. */
export function requireImage(name: string, { width, height, values }: GreyImage): void {
  if (Number.isInteger(width * height) && width > 0 && values.length === width * height) return;
  throw new RangeError(
    `${name} requires width x height grey values, got ${values.length} for ${width} x ${height}`,
  );
}

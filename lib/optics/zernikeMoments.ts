/** Sums of Chebyshev products over a square map and its mask, row by row. */

/** Runs of counted pixels in one row: start, end (not included), start, end ... */
export type Runs = readonly number[][];

/** (i, j) of T_i(x) T_j(y), degree by degree. */
export function degreePairs(degree: number): readonly (readonly [number, number])[] {
  return Array.from(
    { length: degree + 1 },
    (_, d) => Array.from({ length: d + 1 }, (_, j): readonly [number, number] => [d - j, j]),
  ).flat();
}

/** T_i at each pixel, `order + 1` values a pixel, in one array. */
export function chebyshevTable(size: number, order: number): Float64Array {
  const out = new Float64Array(size * (order + 1));
  for (let c = 0; c < size; c++) {
    const x = (2 * c + 1) / size - 1, at = c * (order + 1);
    out[at] = 1;
    if (order > 0) out[at + 1] = x;
    for (let i = 2; i <= order; i++) {
      out[at + i] = 2 * x * (out[at + i - 1] as number) - (out[at + i - 2] as number);
    }
  }
  return out;
}

export function prefixSums(table: Float64Array, size: number, order: number): Float64Array {
  const step = order + 1, out = new Float64Array((size + 1) * step);
  for (let k = 0; k < size * step; k++) out[k + step] = (out[k] as number) + (table[k] as number);
  return out;
}

export function discRuns(size: number): Runs {
  return Array.from({ length: size }, (_, r) => {
    const y = (2 * r + 1) / size - 1, half = Math.sqrt(1 - y * y);
    let start = 0;
    while (start < size && Math.abs((2 * start + 1) / size - 1) > half) start++;
    return start < size - start ? [start, size - start] : [];
  });
}

export function maskRuns(mask: ArrayLike<number>, size: number): Runs {
  const bytes = mask instanceof Uint8Array ? mask : Uint8Array.from(mask, (v) => v === 0 ? 0 : 1);
  return Array.from({ length: size }, (_, r) => {
    const row = bytes.subarray(r * size, (r + 1) * size), runs: number[] = [];
    for (let c = 0; c < size;) {
      while (row[c] === 0) c++;
      if (c >= size) break;
      runs.push(c);
      const end = row.indexOf(0, c);
      c = end < 0 ? size : end;
      runs.push(c);
    }
    return runs;
  });
}

/** Sums of T_i(x) T_j(y) over the mask, i and j up to `order`. */
export function maskMoments(
  runs: Runs,
  prefix: Float64Array,
  table: Float64Array,
  size: number,
  order: number,
): Float64Array {
  const step = order + 1, out = new Float64Array(step * step), line = new Float64Array(step);
  for (let r = 0; r < size; r++) {
    const row = runs[r] as number[];
    if (row.length === 0) continue;
    line.fill(0);
    for (let k = 0; k < row.length; k += 2) {
      const from = (row[k] as number) * step, to = (row[k + 1] as number) * step;
      for (let i = 0; i <= order; i++) {
        line[i] = (line[i] as number) + (prefix[to + i] as number) - (prefix[from + i] as number);
      }
    }
    for (let j = 0; j <= order; j++) {
      const t = table[r * step + j] as number;
      for (let i = 0; i + j <= order; i++) {
        out[j * step + i] = (out[j * step + i] as number) + t * (line[i] as number);
      }
    }
  }
  return out;
}

/** Sums of the map times T_i(x) T_j(y) over the mask: along each row first, then down. */
export function mapMoments(
  map: ArrayLike<number>,
  runs: Runs,
  table: Float64Array,
  size: number,
  degree: number,
  pairs: readonly (readonly [number, number])[],
): Float64Array {
  const step = 2 * degree + 1, sums = new Float64Array((degree + 1) * (degree + 1));
  const line = new Float64Array(degree + 1), masked = new Float64Array(size), half = size >> 1;
  for (let r = 0; r < size; r++) {
    const row = runs[r] as number[], first = row[0], end = row[row.length - 1];
    if (first === undefined || end === undefined) continue;
    // a single run about the middle is read where it stands
    const whole = row.length === 2 && first === size - end;
    if (!whole) copyRuns(map, r * size, row, masked);
    const reach = Math.max(end - half, size - half - first);
    rowMoments(whole ? map : masked, whole ? r * size : 0, reach, size, table, step, line);
    for (let j = 0; j <= degree; j++) {
      const t = table[r * step + j] as number;
      for (let i = 0; i + j <= degree; i++) {
        sums[j * (degree + 1) + i] = (sums[j * (degree + 1) + i] as number) +
          t * (line[i] as number);
      }
    }
  }
  return Float64Array.from(pairs, ([i, j]) => sums[j * (degree + 1) + i] as number);
}

/** One row with 0 where nothing counts. */
function copyRuns(
  map: ArrayLike<number>,
  offset: number,
  row: readonly number[],
  out: Float64Array,
): void {
  out.fill(0);
  for (let n = 0; n < row.length; n += 2) {
    for (let c = row[n] as number; c < (row[n + 1] as number); c++) {
      out[c] = map[offset + c] as number;
    }
  }
}

/**
 * Sums of a row times T_i(x), `reach` places from the middle outward to both sides.
 *
 * Mirrored pixels go together, their sum for even T_i and their difference for odd ones, which halves the work. The first eight
 * come from sums of powers, which at this degree costs two of sixteen digits; what is beyond by a plain loop.
 */
function rowMoments(
  row: ArrayLike<number>,
  offset: number,
  reach: number,
  size: number,
  table: Float64Array,
  step: number,
  line: Float64Array,
): void {
  const half = size >> 1, alone = size % 2, right = offset + half, left = right - 1 + alone;
  // of an odd number of pixels the middle one, at x = 0, is its own mirror
  let p0 = alone === 1 ? row[right] as number : 0;
  let p1 = 0, p2 = 0, p3 = 0, p4 = 0, p5 = 0, p6 = 0, p7 = 0;
  for (let k = alone, at = (half + alone) * step + 1; k < reach; k++, at += step) {
    const x = table[at] as number, square = x * x;
    const a = row[right + k] as number, b = row[left - k] as number;
    const e0 = a + b, o1 = (a - b) * x;
    const e2 = e0 * square, o3 = o1 * square, e4 = e2 * square, o5 = o3 * square;
    p0 += e0;
    p1 += o1;
    p2 += e2;
    p3 += o3;
    p4 += e4;
    p5 += o5;
    p6 += e4 * square;
    p7 += o5 * square;
  }
  const firsts = [
    p0,
    p1,
    2 * p2 - p0,
    4 * p3 - 3 * p1,
    8 * (p4 - p2) + p0,
    16 * p5 - 20 * p3 + 5 * p1,
    32 * p6 - 48 * p4 + 18 * p2 - p0,
    64 * p7 - 112 * p5 + 56 * p3 - 7 * p1,
  ];
  for (let i = 0; i < line.length; i++) {
    line[i] = firsts[i] ??
      plainMoment(row, offset, half - reach + alone, half + reach, table, step, i);
  }
}

function plainMoment(
  row: ArrayLike<number>,
  offset: number,
  from: number,
  to: number,
  table: Float64Array,
  step: number,
  i: number,
): number {
  let sum = 0;
  for (let c = from; c < to; c++) {
    sum += (row[offset + c] as number) * (table[c * step + i] as number);
  }
  return sum;
}

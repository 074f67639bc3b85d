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
  return Array.from({ length: size }, (_, r) => {
    const runs: number[] = [];
    let inside = false;
    for (let c = 0, k = r * size; c < size; c++, k++) {
      if ((mask[k] !== 0) !== inside) {
        runs.push(c);
        inside = !inside;
      }
    }
    if (inside) runs.push(size);
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
  const line = new Float64Array(degree + 1),
    even = new Float64Array(size - (size >> 1)),
    odd = even.slice();
  for (let r = 0; r < size; r++) {
    const row = runs[r] as number[];
    if (row.length === 0) continue;
    const reach = fold(map, r * size, row, size, even, odd);
    rowMoments(even, odd, reach, table, size >> 1, step, line);
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

/**
 * Folds one row about its middle: sums of mirrored pixels for even T_i, differences for odd ones, which halves the work.
 *
 * @returns how many places from the middle outward hold anything
 */
function fold(
  map: ArrayLike<number>,
  offset: number,
  row: readonly number[],
  size: number,
  even: Float64Array,
  odd: Float64Array,
): number {
  const half = size >> 1, last = size - 1;
  const reach = Math.max((row[row.length - 1] as number) - half, size - half - (row[0] as number));
  if (row.length === 2 && row[0] === size - (row[1] as number)) {
    for (let k = 0; k < reach; k++) {
      const right = map[offset + half + k] as number,
        left = map[offset + last - half - k] as number;
      even[k] = right + left;
      odd[k] = right - left;
    }
  } else {
    even.fill(0);
    odd.fill(0);
    for (let n = 0; n < row.length; n += 2) {
      for (let c = row[n] as number; c < (row[n + 1] as number); c++) {
        const v = map[offset + c] as number,
          right = c >= half,
          k = right ? c - half : last - half - c;
        even[k] = (even[k] as number) + v;
        odd[k] = (odd[k] as number) + (right ? v : -v);
      }
    }
  }
  if (size % 2 === 1) {
    // the middle pixel is its own mirror
    const inside = row.some((c, n) => n % 2 === 0 && c <= half && half < (row[n + 1] as number));
    even[0] = inside ? map[offset + half] as number : 0;
    odd[0] = 0;
  }
  return reach;
}

/** Chebyshev sums of a folded row: eight at a time in registers, what is beyond by a plain loop. */
function rowMoments(
  even: Float64Array,
  odd: Float64Array,
  reach: number,
  table: Float64Array,
  half: number,
  step: number,
  line: Float64Array,
): void {
  let a0 = 0, a1 = 0, a2 = 0, a3 = 0, a4 = 0, a5 = 0, a6 = 0, a7 = 0;
  for (let k = 0, at = half * step; k < reach; k++, at += step) {
    const e = even[k] as number, o = odd[k] as number, x = table[at + 1] as number;
    const double = 2 * x * x - 1, t4 = 2 * double * double - 1, turn = 2 * double;
    const t3 = x * (turn - 1), t5 = turn * t3 - x;
    a0 += e;
    a1 += o * x;
    a2 += e * double;
    a3 += o * t3;
    a4 += e * t4;
    a5 += o * t5;
    a6 += e * (turn * t4 - double);
    a7 += o * (turn * t5 - t3);
  }
  const firsts = [a0, a1, a2, a3, a4, a5, a6, a7];
  for (let i = 0; i < line.length; i++) {
    line[i] = firsts[i] ??
      plainMoment(i % 2 === 0 ? even : odd, reach, table, half * step + i, step);
  }
}

function plainMoment(
  folded: Float64Array,
  reach: number,
  table: Float64Array,
  from: number,
  step: number,
): number {
  let sum = 0;
  for (let k = 0; k < reach; k++) sum += (folded[k] as number) * (table[from + k * step] as number);
  return sum;
}

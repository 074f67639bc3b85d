/** Discrete Fourier transform of rows whose length is a power of two, planned once and used many times. */

/** A plan for one length; both transforms work in place on real and imaginary parts. */
export interface Fft {
  /** numbers in each transform */
  readonly length: number;
  /** X[k] = sum x[n] e^(-2 pi i k n / N) */
  forward(re: Float64Array, im: Float64Array): void;
  /** x[n] = (1/N) sum X[k] e^(+2 pi i k n / N) */
  inverse(re: Float64Array, im: Float64Array): void;
}

/**
 * Plans the transform of one length: factors of eight, a last one of four or two, no bit reversal (Stockham's order).
 *
 * @param length  a power of two, 2 to 2^24
 * @throws {RangeError} for another length, or where an array is not of that length
 * @see Van Loan, Computational Frameworks for the Fast Fourier Transform, 1.7 and 2.4 (beside the plain sum in its test)
 * @example one full turn over eight places is the first harmonic
 * ```ts
 * import assert from "node:assert/strict";
 * const re = Float64Array.from({ length: 8 }, (_, n) => Math.cos((2 * Math.PI * n) / 8));
 * const im = new Float64Array(8);
 * fftPlan(8).forward(re, im);
 * assert.deepEqual(Array.from(re, (v) => Math.abs(Math.round(v))), [0, 4, 0, 0, 0, 0, 0, 4]);
 * ```
 */
export function fftPlan(length: number): Fft {
  if (!(Number.isInteger(Math.log2(length)) && length >= 2 && length <= 2 ** 24)) {
    throw new RangeError(`fftPlan requires a power of two from 2 to 2^24, got length=${length}`);
  }
  const cos = new Float64Array(length), sin = new Float64Array(length);
  for (let k = 0; k < length; k++) {
    cos[k] = Math.cos((2 * Math.PI * k) / length);
    sin[k] = -Math.sin((2 * Math.PI * k) / length);
  }
  const work = { cos, sin, re: new Float64Array(length), im: new Float64Array(length) };
  const check = (re: Float64Array, im: Float64Array): void => {
    if (re.length === length && im.length === length) return;
    throw new RangeError(
      `fft requires two arrays of ${length} numbers, got ${re.length} and ${im.length}`,
    );
  };
  return {
    length,
    forward(re, im): void {
      check(re, im);
      transform(re, im, work);
    },
    inverse(re, im): void {
      check(re, im);
      transform(im, re, work);
      for (let k = 0; k < length; k++) {
        re[k] = (re[k] as number) / length;
        im[k] = (im[k] as number) / length;
      }
    },
  };
}

/** A plan for square arrays of one size; both transforms work in place and turn the array: rows come out as columns. */
export interface SquareFft {
  /** numbers in a row */
  readonly size: number;
  /** from `[y][x]` to `[fx][fy]`; `rows`: how many of the first rows are not all zero, default all */
  forward(re: Float64Array, im: Float64Array, rows?: number): void;
  /** from `[fx][fy]` to `[y][x]` */
  inverse(re: Float64Array, im: Float64Array): void;
}

/**
 * Plans the transform of square arrays, row after row in one array each.
 *
 * @param size  a power of two, 2 to 2^12
 * @throws {RangeError} for another size, or where an array is not of size x size
 * @example there and back again
 * ```ts
 * import assert from "node:assert/strict";
 * const re = Float64Array.of(1, 2, 3, 4), im = new Float64Array(4), plan = squareFft(2);
 * plan.forward(re, im);
 * assert.deepEqual([...re], [10, -4, -2, 0]); // f = 0; one turn along y; one along x
 * plan.inverse(re, im);
 * assert.deepEqual([...re], [1, 2, 3, 4]);
 * ```
 */
export function squareFft(size: number): SquareFft {
  if (!(size <= 4096)) throw new RangeError(`squareFft requires 2 to 2^12, got size=${size}`);
  const plan = fftPlan(size), re1 = new Float64Array(size), im1 = new Float64Array(size);
  const pass = (
    turn: Fft["forward"],
    re: Float64Array,
    im: Float64Array,
    rows: number,
  ): void => {
    if (re.length !== size * size || im.length !== size * size) {
      throw new RangeError(
        `squareFft requires two arrays of ${
          size * size
        } numbers, got ${re.length} and ${im.length}`,
      );
    }
    for (let row = 0; row < rows; row++) {
      re1.set(re.subarray(row * size, (row + 1) * size));
      im1.set(im.subarray(row * size, (row + 1) * size));
      turn(re1, im1);
      re.set(re1, row * size);
      im.set(im1, row * size);
    }
  };
  return {
    size,
    forward(re, im, rows = size): void {
      pass(plan.forward, re, im, rows);
      transpose(re, size);
      transpose(im, size);
      pass(plan.forward, re, im, size);
    },
    inverse(re, im): void {
      pass(plan.inverse, re, im, size);
      transpose(re, size);
      transpose(im, size);
      pass(plan.inverse, re, im, size);
    },
  };
}

/** In place, by small squares that stay in the processor's nearest memory. */
function transpose(a: Float64Array, size: number): void {
  const edge = Math.min(16, size);
  for (let top = 0; top < size; top += edge) {
    for (let left = top; left < size; left += edge) {
      for (let y = top; y < top + edge; y++) {
        for (let x = left === top ? y + 1 : left; x < left + edge; x++) {
          const one = a[y * size + x] as number;
          a[y * size + x] = a[x * size + y] as number;
          a[x * size + y] = one;
        }
      }
    }
  }
}

interface Work {
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** All passes, to and fro between the row and the work space; the result ends in the row. */
function transform(re: Float64Array, im: Float64Array, work: Work): void {
  let fromRe = re, fromIm = im, toRe = work.re, toIm = work.im;
  let left = re.length, stride = 1;
  while (left > 1) {
    const factor = left % 8 === 0 ? 8 : left;
    if (factor === 8) passOfEight(fromRe, fromIm, toRe, toIm, left, stride, work);
    else if (factor === 4) passOfFour(fromRe, fromIm, toRe, toIm, left, stride, work);
    else passOfTwo(fromRe, fromIm, toRe, toIm, stride);
    left /= factor;
    stride *= factor;
    [fromRe, fromIm, toRe, toIm] = [toRe, toIm, fromRe, fromIm];
  }
  if (fromRe === re) return;
  re.set(fromRe);
  im.set(fromIm);
}

/** Writes one number turned by an angle's cosine and sine. */
function turned(
  yr: Float64Array,
  yi: Float64Array,
  at: number,
  re: number,
  im: number,
  c: number,
  s: number,
): void {
  yr[at] = re * c - im * s;
  yi[at] = re * s + im * c;
}

function passOfTwo(
  xr: Float64Array,
  xi: Float64Array,
  yr: Float64Array,
  yi: Float64Array,
  stride: number,
): void {
  for (let q = 0; q < stride; q++) {
    const ar = xr[q] as number, ai = xi[q] as number;
    const br = xr[q + stride] as number, bi = xi[q + stride] as number;
    yr[q] = ar + br;
    yi[q] = ai + bi;
    yr[q + stride] = ar - br;
    yi[q + stride] = ai - bi;
  }
}

function passOfFour(
  xr: Float64Array,
  xi: Float64Array,
  yr: Float64Array,
  yi: Float64Array,
  left: number,
  stride: number,
  { cos, sin }: Work,
): void {
  const quarter = left / 4, apart = quarter * stride;
  for (let p = 0; p < quarter; p++) {
    const k = p * stride;
    const c1 = cos[k] as number, s1 = sin[k] as number;
    const c2 = cos[2 * k] as number, s2 = sin[2 * k] as number;
    const c3 = cos[3 * k] as number, s3 = sin[3 * k] as number;
    let from = stride * p, to = 4 * stride * p;
    for (let q = 0; q < stride; q++, from++, to++) {
      const ar = xr[from] as number, ai = xi[from] as number;
      const br = xr[from + apart] as number, bi = xi[from + apart] as number;
      const cr = xr[from + 2 * apart] as number, ci = xi[from + 2 * apart] as number;
      const dr = xr[from + 3 * apart] as number, di = xi[from + 3 * apart] as number;
      const sumR = ar + cr, sumI = ai + ci, gapR = ar - cr, gapI = ai - ci;
      const sum2R = br + dr, sum2I = bi + di, turnR = di - bi, turnI = br - dr;
      yr[to] = sumR + sum2R;
      yi[to] = sumI + sum2I;
      turned(yr, yi, to + stride, gapR - turnR, gapI - turnI, c1, s1);
      turned(yr, yi, to + 2 * stride, sumR - sum2R, sumI - sum2I, c2, s2);
      turned(yr, yi, to + 3 * stride, gapR + turnR, gapI + turnI, c3, s3);
    }
  }
}

function passOfEight(
  xr: Float64Array,
  xi: Float64Array,
  yr: Float64Array,
  yi: Float64Array,
  left: number,
  stride: number,
  { cos, sin }: Work,
): void {
  const eighth = left / 8, apart = eighth * stride, half = Math.SQRT1_2;
  for (let p = 0; p < eighth; p++) {
    const k = p * stride;
    const c1 = cos[k] as number, s1 = sin[k] as number;
    const c2 = cos[2 * k] as number, s2 = sin[2 * k] as number;
    const c3 = cos[3 * k] as number, s3 = sin[3 * k] as number;
    const c4 = cos[4 * k] as number, s4 = sin[4 * k] as number;
    const c5 = cos[5 * k] as number, s5 = sin[5 * k] as number;
    const c6 = cos[6 * k] as number, s6 = sin[6 * k] as number;
    const c7 = cos[7 * k] as number, s7 = sin[7 * k] as number;
    let from = k, to = 8 * k;
    for (let q = 0; q < stride; q++, from++, to++) {
      const ar = xr[from] as number, ai = xi[from] as number;
      const er = xr[from + 4 * apart] as number, ei = xi[from + 4 * apart] as number;
      const cr = xr[from + 2 * apart] as number, ci = xi[from + 2 * apart] as number;
      const gr = xr[from + 6 * apart] as number, gi = xi[from + 6 * apart] as number;
      const br = xr[from + apart] as number, bi = xi[from + apart] as number;
      const fr = xr[from + 5 * apart] as number, fi = xi[from + 5 * apart] as number;
      const dr = xr[from + 3 * apart] as number, di = xi[from + 3 * apart] as number;
      const hr = xr[from + 7 * apart] as number, hi = xi[from + 7 * apart] as number;
      // the even ones: a transform of four
      const aeR = ar + er, aeI = ai + ei, aeDr = ar - er, aeDi = ai - ei;
      const cgR = cr + gr, cgI = ci + gi, cgDr = cr - gr, cgDi = ci - gi;
      const e0r = aeR + cgR, e0i = aeI + cgI, e2r = aeR - cgR, e2i = aeI - cgI;
      const e1r = aeDr + cgDi, e1i = aeDi - cgDr, e3r = aeDr - cgDi, e3i = aeDi + cgDr;
      // the odd ones, turned by eighths
      const bfR = br + fr, bfI = bi + fi, bfDr = br - fr, bfDi = bi - fi;
      const dhR = dr + hr, dhI = di + hi, dhDr = dr - hr, dhDi = di - hi;
      const o0r = bfR + dhR, o0i = bfI + dhI, u2r = bfR - dhR, u2i = bfI - dhI;
      const u1r = bfDr + dhDi, u1i = bfDi - dhDr, u3r = bfDr - dhDi, u3i = bfDi + dhDr;
      const o1r = half * (u1r + u1i), o1i = half * (u1i - u1r);
      const o3r = half * (u3i - u3r), o3i = -half * (u3i + u3r);
      yr[to] = e0r + o0r;
      yi[to] = e0i + o0i;
      turned(yr, yi, to + stride, e1r + o1r, e1i + o1i, c1, s1);
      turned(yr, yi, to + 2 * stride, e2r + u2i, e2i - u2r, c2, s2);
      turned(yr, yi, to + 3 * stride, e3r + o3r, e3i + o3i, c3, s3);
      turned(yr, yi, to + 4 * stride, e0r - o0r, e0i - o0i, c4, s4);
      turned(yr, yi, to + 5 * stride, e1r - o1r, e1i - o1i, c5, s5);
      turned(yr, yi, to + 6 * stride, e2r - u2i, e2i + u2r, c6, s6);
      turned(yr, yi, to + 7 * stride, e3r - o3r, e3i - o3i, c7, s7);
    }
  }
}

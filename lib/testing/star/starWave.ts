/** Light of a star out of focus by its propagated wave: the picture, and how it changes with each fault of the wave. */
import { type SquareFft, squareFft } from "../../numeric/fft.ts";
import { fitZernike, wholeDisc, zernike, type ZernikeTerm } from "../../optics/zernike.ts";
import { LOW_TERMS } from "../surfaceTerms.ts";

/** The low faults that are told, in the order of their amounts; wavefront, RMS over the whole disc. */
export const STAR_TERMS: readonly ZernikeTerm[] = [...LOW_TERMS, { n: 6, m: 0 }];

/** Amounts shared by both pictures: the terms, and the edge's height at the rim. */
export const SHARED: number = STAR_TERMS.length + 1;

/** Where a turned edge begins, over half the width. */
const EDGE_FROM = 0.85;

/** How a turned edge goes: 0 within, 1 at the rim. */
export function turnedEdge(rho: number): number {
  return Math.max(0, (rho - EDGE_FROM) / (1 - EDGE_FROM)) ** 2;
}

/** What a turned edge adds to the wave, 1 at the rim less what the other terms of revolution tell of it. */
export const edgeShape: (rho: number) => number = (() => {
  const { places, weights } = wholeDisc(1), terms = [0, 2, 4, 6].map((n) => ({ n, m: 0 }));
  const told = fitZernike(places, places.map(({ rho }) => turnedEdge(rho)), weights, terms);
  return (rho) =>
    turnedEdge(rho) -
    terms.reduce((sum, term, i) => sum + (told[i] ?? 0) * zernike(term, rho, 0), 0);
})();

/** How a star's picture is worked out: places of the pupil in places of the transform. */
export interface StarGrid {
  /** pupil's places across */
  readonly across: number;
  readonly fft: SquareFft;
  /** slope units between two places of the picture; a slope unit is one wave of wavefront over half the width */
  readonly step: number;
  /** pupil's places that are open: index in the transform's array */
  readonly at: Int32Array;
  readonly rho: Float64Array;
  /** share of the place inside the rim */
  readonly inside: Float64Array;
  /** values of the terms, the edge and defocus at each place, term after term */
  readonly basis: readonly Float64Array[];
  /** |f|^(5/3), fx, fy of each frequency `[fx][fy]`, in half widths */
  readonly fivethirds: Float64Array;
  readonly frequency: Float64Array;
}

const grids = new Map<string, StarGrid>();

/** The grid of a size, made once. */
export function starGrid(across: number, size: number): StarGrid {
  const key = `${across} ${size}`, known = grids.get(key);
  if (known !== undefined) return known;
  const at: number[] = [], rho: number[] = [], inside: number[] = [], theta: number[] = [];
  for (let i = 0; i < across; i++) {
    for (let j = 0; j < across; j++) {
      const x = (2 * i + 1) / across - 1, y = (2 * j + 1) / across - 1, r = Math.hypot(x, y);
      const open = share(1 - r, across);
      if (open <= 0) continue;
      at.push(i * size + j);
      // at the rim the wave is that of the middle of what is open
      rho.push(Math.min(r, (r - 1 / across + 1) / 2));
      inside.push(open);
      theta.push(Math.atan2(y, x));
    }
  }
  const frequency = Float64Array.from(
    { length: size },
    (_, i) => ((i < size / 2 ? i : i - size) * 2) / across,
  );
  const fivethirds = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      fivethirds[i * size + j] = Math.hypot(frequency[i] ?? 0, frequency[j] ?? 0) ** (5 / 3);
    }
  }
  const made: StarGrid = {
    across,
    fft: squareFft(size),
    step: across / (2 * size),
    at: Int32Array.from(at),
    rho: Float64Array.from(rho),
    inside: Float64Array.from(inside),
    basis: [
      ...STAR_TERMS.map((term) =>
        Float64Array.from(rho, (r, k) => zernike(term, Math.min(1, r), theta[k] ?? 0))
      ),
      Float64Array.from(rho, (r) => edgeShape(Math.min(1, r))),
      Float64Array.from(rho, (r) => r * r),
    ],
    fivethirds,
    frequency,
  };
  grids.set(key, made);
  return made;
}

/** Share of a place on the open side of an edge that lies `away` half widths from its middle. */
function share(away: number, across: number): number {
  return Math.min(1, Math.max(0, (away * across) / 2 + 0.5));
}

/** One picture's wave and what blurs it. */
export interface StarState {
  /** waves: STAR_TERMS, edge, then defocus at the rim, + outside */
  readonly waves: ArrayLike<number>;
  /** width of the flat's shadow over the aperture */
  readonly obstruction: number;
  /** the air's blur: exponent at a shift of half the width, 3.44 (a / r0)^(5/3) */
  readonly air: number;
  /** variance of tracking along x, of x with y, along y, square slope units; below 0 where the air blurs less */
  readonly shake: readonly [number, number, number];
  /** width of a pixel, slope units */
  readonly pixel: number;
  /** brightness is told over the mean one of a disc of so many waves of defocus */
  readonly disc: number;
}

/** What a picture changes with, in the order of `StarImage.slopes`: waves, obstruction, ln air, the three of shake. */
export const IMAGE_SLOPES: number = SHARED + 1 + 1 + 4;

/** The blurred picture around its middle, wrapped at the sides: place 0 is the middle, the last ones lie before it. */
export interface StarImage {
  readonly light: Float64Array;
  /** its slopes; empty where they are not wanted */
  readonly slopes: readonly Float64Array[];
}

/** Works out a star's picture. */
export function starLight(grid: StarGrid, state: StarState, wantsSlopes: boolean): StarImage {
  const { at, rho, inside, basis, across, fft, step } = grid, { size } = fft, count = size * size;
  const cos = new Float64Array(at.length), sin = new Float64Array(at.length);
  const re = new Float64Array(count), im = new Float64Array(count);
  const amplitude = new Float64Array(at.length);
  for (let k = 0; k < at.length; k++) {
    let wave = 0;
    for (let j = 0; j < basis.length; j++) {
      wave += (state.waves[j] as number) * ((basis[j] as Float64Array)[k] as number);
    }
    cos[k] = Math.cos(2 * Math.PI * wave);
    sin[k] = Math.sin(2 * Math.PI * wave);
    const r = rho[k] as number;
    amplitude[k] = (inside[k] as number) - share(state.obstruction - r, across);
    if ((amplitude[k] as number) < 0) amplitude[k] = 0;
    re[at[k] as number] = (amplitude[k] as number) * (cos[k] as number);
    im[at[k] as number] = (amplitude[k] as number) * (sin[k] as number);
  }
  fft.forward(re, im, across);
  const whole = (Math.PI * across * across) / 4;
  const scale = (Math.PI * (2 * state.disc) ** 2) / (count * whole * step * step);
  const bare = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const a = re[i] as number, b = im[i] as number;
    bare[i] = scale * (a * a + b * b);
  }
  const { keep, byAir, byX, byXY, byY } = blurOf(grid, state, wantsSlopes);
  const spectrum = [bare, new Float64Array(count)] as const;
  fft.forward(...spectrum);
  const [light, air] = filtered(fft, spectrum, keep, byAir);
  if (!wantsSlopes) return { light, slopes: [] };
  const [shakeX, shakeXY] = filtered(fft, spectrum, byX, byXY);
  const [shakeY] = filtered(fft, spectrum, byY);
  const own: Float64Array[] = [];
  const dre = new Float64Array(count), dim = new Float64Array(count);
  for (let j = 0; j <= basis.length; j++) {
    dre.fill(0);
    dim.fill(0);
    const values = basis[j];
    for (let k = 0; k < at.length; k++) {
      const c = cos[k] as number, s = sin[k] as number, place = at[k] as number;
      if (values === undefined) {
        const r = ((state.obstruction - (rho[k] as number)) * across) / 2 + 0.5;
        if (r <= 0 || r >= 1) continue;
        dre[place] = (-across / 2) * c;
        dim[place] = (-across / 2) * s;
      } else {
        const turn = 2 * Math.PI * (values[k] as number) * (amplitude[k] as number);
        dre[place] = -turn * s;
        dim[place] = turn * c;
      }
    }
    fft.forward(dre, dim, across);
    const slope = new Float64Array(count);
    for (let i = 0; i < count; i++) {
      slope[i] = 2 * scale *
        ((re[i] as number) * (dre[i] as number) + (im[i] as number) * (dim[i] as number));
    }
    own.push(slope);
  }
  for (let j = 0; j < own.length; j += 2) {
    const pair = [own[j] as Float64Array, own[j + 1] ?? new Float64Array(count)] as const;
    fft.forward(...pair);
    for (let i = 0; i < count; i++) {
      const k = keep[i] as number;
      pair[0][i] = (pair[0][i] as number) * k;
      pair[1][i] = (pair[1][i] as number) * k;
    }
    fft.inverse(...pair);
  }
  return { light, slopes: [...own, air, shakeX, shakeXY, shakeY] };
}

/** A real picture's spectrum weakened by one even filter, and by another: both pictures by one transform. */
function filtered(
  fft: SquareFft,
  [re, im]: readonly [Float64Array, Float64Array],
  one: Float64Array,
  other?: Float64Array,
): readonly [Float64Array, Float64Array] {
  const outRe = new Float64Array(re.length), outIm = new Float64Array(re.length);
  for (let i = 0; i < re.length; i++) {
    const a = re[i] as number, b = im[i] as number, p = one[i] as number, q = other?.[i] ?? 0;
    outRe[i] = a * p - b * q;
    outIm[i] = a * q + b * p;
  }
  fft.inverse(outRe, outIm);
  return [outRe, outIm];
}

/** What air, tracking and the pixel leave of each frequency `[fx][fy]`, and its slopes. */
function blurOf(
  { frequency, fivethirds, fft: { size } }: StarGrid,
  { air, shake: [xx, xy, yy], pixel }: StarState,
  wantsSlopes: boolean,
): Readonly<Record<"keep" | "byAir" | "byX" | "byXY" | "byY", Float64Array>> {
  const count = size * size, none = new Float64Array(wantsSlopes ? count : 0);
  const keep = new Float64Array(count);
  const [byAir, byX, byXY, byY] = [none, none.slice(), none.slice(), none.slice()];
  const box = frequency.map((f) =>
    f === 0 ? 1 : Math.sin(Math.PI * f * pixel) / (Math.PI * f * pixel)
  );
  const two = 2 * Math.PI * Math.PI;
  for (let i = 0; i < size; i++) {
    const fx = frequency[i] as number;
    for (let j = 0; j < size; j++) {
      const fy = frequency[j] as number, k = i * size + j, five = fivethirds[k] as number;
      const power = air * five + two * (xx * fx * fx + 2 * xy * fx * fy + yy * fy * fy);
      const left = (box[i] as number) * (box[j] as number) * Math.exp(-Math.max(0, power));
      keep[k] = left;
      if (!wantsSlopes || power < 0) continue;
      byAir[k] = -left * air * five;
      byX[k] = -left * two * fx * fx;
      byXY[k] = -left * two * 2 * fx * fy;
      byY[k] = -left * two * fy * fy;
    }
  }
  return { keep, byAir, byX, byXY, byY };
}

/**
 * Reads pictures at a place between their own by cubic convolution: value, and slopes along x and y a step.
 *
 * @param size  places in a row, a power of two
 * @param x     place along x, steps from the middle
 * @param y     along y, upward
 * @returns weights of 16 places and theirs for the slopes, to be used on every picture of that place
 */
export function cubicPlaces(
  size: number,
  x: number,
  y: number,
  into: {
    readonly at: Int32Array;
    readonly value: Float64Array;
    readonly dx: Float64Array;
    readonly dy: Float64Array;
  },
): void {
  const i = Math.floor(x), j = Math.floor(y), mask = size - 1;
  cubic(x - i, WX, SX);
  cubic(y - j, WY, SY);
  for (let b = 0; b < 4; b++) {
    const row = ((j - 1 + b) & mask) * size;
    for (let a = 0; a < 4; a++) {
      const k = 4 * b + a;
      into.at[k] = row + ((i - 1 + a) & mask);
      into.value[k] = (WX[a] as number) * (WY[b] as number);
      into.dx[k] = (SX[a] as number) * (WY[b] as number);
      into.dy[k] = (WX[a] as number) * (SY[b] as number);
    }
  }
}

const WX = new Float64Array(4),
  SX = new Float64Array(4),
  WY = new Float64Array(4),
  SY = new Float64Array(4);

/** Weights of the four neighbours at a share t of the way from the second to the third, and their slopes (Keys 1981; a wave is read back by them in the tests). */
function cubic(t: number, w: Float64Array, s: Float64Array): void {
  const t2 = t * t, t3 = t2 * t;
  w[0] = -0.5 * t3 + t2 - 0.5 * t;
  w[1] = 1.5 * t3 - 2.5 * t2 + 1;
  w[2] = -1.5 * t3 + 2 * t2 + 0.5 * t;
  w[3] = 0.5 * t3 - 0.5 * t2;
  s[0] = -1.5 * t2 + 2 * t - 0.5;
  s[1] = 4.5 * t2 - 5 * t;
  s[2] = -4.5 * t2 + 4 * t + 0.5;
  s[3] = 1.5 * t2 - t;
}

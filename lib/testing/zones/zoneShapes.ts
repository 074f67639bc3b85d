/**
 * What glass may be like before any reading: heights over the radius, in the forms that hand work leaves.
 *
 * A surface is a free conic and focus (the line), a random background, and none, one or two local faults: a ring, a
 * turned edge, a step, a hill or hole in the middle. A background is a stationary Gaussian process over the radius:
 * smooth (Matern, of several correlation lengths) or rippled (energy near one period). Faults are curves of unit
 * height whose amounts are normal. All of it is linear in its amounts, so that evidence and posterior are exact.
 */

/** Radii are shares of the judged radius, heights are for amount 1. */
export type Height = (rho: number) => number;

export type Family = "smooth" | "ripple" | "ring" | "edge" | "step" | "middle";

/** One local fault of unit height. */
export interface Fault {
  readonly family: Family;
  /** middle of it, share of the radius */
  readonly at: number;
  /** its width: full width at half height of a ring, breadth of an edge or a hole, share of the radius */
  readonly width: number;
  readonly height: Height;
  /** what a place or a breadth a little different changes: a fault of a hand is never just one of the table's */
  readonly moved: Height;
  readonly widened: Height;
  /** probability beforehand, of all faults */
  readonly share: number;
}

/** One kind of background: standard deviations of the waves (cosine and sine of each frequency), for RMS 1. */
export interface Background {
  readonly family: Family;
  readonly deviations: Float64Array;
  /** RMS, nm of wavefront */
  readonly sizes: readonly number[];
  readonly share: number;
  /** whether faults are laid on it too */
  readonly underFaults: boolean;
}

/** Waves of a background reach so far past the rim, share of the radius, before they would repeat. */
const BEYOND = 0.25;
const WAVES = 24;
/** Angular frequencies of the waves, per radius: the shortest has a period of a tenth. */
const FREQUENCIES = Float64Array.from(
  { length: WAVES },
  (_, j) => (Math.PI * (j + 1)) / (1 + BEYOND),
);

type Form = (at: number, width: number) => Height;

const bell: Form = (at, sigma) => (rho) => Math.exp(-((rho - at) ** 2) / (2 * sigma * sigma));
const roll: Form = (_, width) => (rho) => Math.max((Math.min(rho, 1) - 1 + width) / width, 0) ** 2;
const flatTop: Form = (_, width) => (rho) => Math.exp(-((rho / width) ** 4));
const stair: Form = (at, width) => (rho) => Math.tanh((2 * (rho - at)) / width) / 2;

/** A fault with what its place, within `reach`, and its breadth, within a third, change. */
function fault(
  family: Family,
  form: Form,
  at: number,
  size: number,
  reach: number,
  width: number,
  share: number,
): Fault {
  const later = form(at + reach, size), sooner = form(at - reach, size);
  const wider = form(at, 1.3 * size), narrower = form(at, size / 1.3);
  return {
    family,
    at,
    width,
    height: form(at, size),
    moved: (rho) => (later(rho) - sooner(rho)) / 2,
    widened: (rho) => (wider(rho) - narrower(rho)) / 2,
    share,
  };
}

/** Full width at half height of a bell over its standard deviation. */
const FULL_WIDTH = 2 * Math.sqrt(2 * Math.LN2);
/** Rings: standard deviation, and the step of their places. */
const RINGS: readonly (readonly [sigma: number, step: number])[] = [[0.045, 0.03], [0.08, 0.06], [
  0.14,
  0.1,
]];
/** Steps: breadth, and the step of their places. */
const STEPS: readonly (readonly [width: number, step: number])[] = [[0.03, 0.05], [0.1, 0.08]];
const EDGES = [0.01, 0.02, 0.04, 0.07, 0.11, 0.16, 0.25];
const MIDDLES = [0.05, 0.09, 0.16, 0.3];
const FLAT_MIDDLES = [0.08, 0.14, 0.25];

/** Shares of the four families of faults beforehand: rings and edges are what laps do most often (COMMON PRACTICE). */
const FAULT_SHARES = { ring: 0.45, edge: 0.27, step: 0.1, middle: 0.18 };

function places(from: number, to: number, step: number): number[] {
  const out: number[] = [];
  for (let at = from; at <= to + 1e-9; at += step) out.push(at);
  return out;
}

/** All faults. Within a family every place and width is as likely as another. */
export const FAULTS: readonly Fault[] = weighed([
  ...RINGS.flatMap(([sigma, step]) =>
    places(Math.max(step, sigma), 0.985, step).map((at) =>
      fault("ring", bell, at, sigma, 0.35 * sigma, FULL_WIDTH * sigma, step)
    )
  ),
  ...EDGES.map((width) => fault("edge", roll, 1 - width / 2, width, 0, width, 1)),
  ...STEPS.flatMap(([width, step]) =>
    places(0.1, 0.96, step).map((at) => fault("step", stair, at, width, step / 2, width, step))
  ),
  ...MIDDLES.map((sigma) => fault("middle", bell, 0, sigma, 0, (FULL_WIDTH * sigma) / 2, 1)),
  ...FLAT_MIDDLES.map((width) => fault("middle", flatTop, 0, width, 0, width, 1)),
]);

function weighed(raw: readonly Fault[]): Fault[] {
  return raw.map((fault) => {
    const all = raw.reduce((sum, f) => sum + (f.family === fault.family ? f.share : 0), 0);
    const family = FAULT_SHARES[fault.family as keyof typeof FAULT_SHARES];
    return { ...fault, share: (family * fault.share) / all };
  });
}

/** Amounts of faults: standard deviations, nm of wavefront, and their shares beforehand. */
export const FAULT_SIZES: readonly number[] = [4, 12, 36, 110, 330, 1000];
export const FAULT_SIZE_SHARES: readonly number[] = [0.17, 0.21, 0.23, 0.22, 0.13, 0.04];
/** Shares of surfaces with no local fault, with one, with two. */
export const FAULT_COUNT_SHARES = [0.4, 0.3, 0.3] as const;

const SMOOTH_LENGTHS = [1, 0.5, 0.25, 0.12];
const RIPPLE_PERIODS = [0.2, 0.28, 0.4, 0.56, 0.8];
const SIZES = [3, 7, 16, 36, 80, 180, 400, 900];
/** Backgrounds that faults stand on: what every hand leaves, nm of wavefront. */
const SIZES_UNDER_FAULTS = { smooth: [3, 14, 60], short: [4, 14, 45] };

/** All backgrounds; sizes within one are alike likely. */
export const BACKGROUNDS: readonly Background[] = [
  ...SMOOTH_LENGTHS.map((length) => ({
    family: "smooth" as const,
    deviations: smoothWaves(length),
    sizes: SIZES,
    share: 0.6 / SMOOTH_LENGTHS.length,
    underFaults: false,
  })),
  ...RIPPLE_PERIODS.map((period) => ({
    family: "ripple" as const,
    deviations: rippledWaves(period),
    sizes: SIZES,
    share: 0.4 / RIPPLE_PERIODS.length,
    underFaults: false,
  })),
  {
    family: "smooth" as const,
    deviations: smoothWaves(0.5),
    sizes: SIZES_UNDER_FAULTS.smooth,
    share: 0.5,
    underFaults: true,
  },
  {
    family: "smooth" as const,
    deviations: smoothWaves(0.14),
    sizes: SIZES_UNDER_FAULTS.short,
    share: 0.5,
    underFaults: true,
  },
];

/** Spectrum of a Matern process of smoothness 5/2 (Rasmussen and Williams, Gaussian Processes, 4.2); its shape only, for its size is weighed by the readings. */
function smoothWaves(length: number): Float64Array {
  const fall = Math.sqrt(5) / length;
  return ofUnitRms(FREQUENCIES.map((f) => (fall * fall + f * f) ** -1.5));
}

/** Energy within a seventh of one period to both sides. */
function rippledWaves(period: number): Float64Array {
  const middle = (2 * Math.PI) / period;
  return ofUnitRms(FREQUENCIES.map((f) => Math.exp(-(((f - middle) / (0.2 * middle)) ** 2))));
}

function ofUnitRms(raw: Float64Array): Float64Array {
  const size = Math.sqrt(raw.reduce((sum, v) => sum + v * v, 0));
  return raw.map((v) => v / size);
}

/**
 * Ripples that are asked after one by one, whether a mask could miss them: of one period over the radius (0.2 to 0.58 of
 * it, so densely that none slips between), or over its square, in four phases.
 */
export const RIPPLES: readonly { readonly period: number; readonly height: Height }[] = [
  ...Array.from({ length: 28 }, (_, i) => 0.2 * 1.04 ** i).flatMap((period) =>
    phases((rho) => (2 * Math.PI * rho) / period, period)
  ),
  ...[4, 5, 6, 7].flatMap((half) => phases((rho) => Math.PI * half * rho * rho, 1 / half)),
];

function phases(angle: Height, period: number): { period: number; height: Height }[] {
  return [0, 1, 2, 3].map((eighth) => ({
    period,
    height: (rho) => Math.cos(angle(rho) + (Math.PI * eighth) / 4) / 2,
  }));
}

/** A narrow hill or hole at the middle, asked after too: a mask that begins farther out sees nothing of it. */
export const CORES: readonly Fault[] = [fault("middle", flatTop, 0, 0.04, 0, 0.04, 0)];

/** Columns: q (focus), q^2 (conic), the waves' cosines and sines, faults, faults moved, faults widened, ripples, cores. */
export const LINE = 2;
export const FIRST_WAVE: number = LINE;
export const FIRST_FAULT: number = FIRST_WAVE + 2 * WAVES;
const FIRST_MOVED = FIRST_FAULT + FAULTS.length;
const FIRST_WIDENED = FIRST_MOVED + FAULTS.length;
export const FIRST_RIPPLE: number = FIRST_WIDENED + FAULTS.length;
export const FIRST_CORE: number = FIRST_RIPPLE + RIPPLES.length;
export const COLUMNS: number = FIRST_CORE + CORES.length;

/**
 * Heights of all columns at one radius.
 *
 * @param rho  share of the judged radius, 0 or more
 * @example the first two are q and its square
 * ```ts
 * import assert from "node:assert/strict";
 * const [q = 0, square = 0] = heightsAt(0.5);
 * assert.deepEqual([q, square], [0.25, 0.0625]);
 * ```
 */
export function heightsAt(rho: number): Float64Array {
  const out = new Float64Array(COLUMNS), q = rho * rho;
  out[0] = q;
  out[1] = q * q;
  for (let j = 0; j < WAVES; j++) {
    out[FIRST_WAVE + j] = Math.cos((FREQUENCIES[j] as number) * rho);
    out[FIRST_WAVE + WAVES + j] = Math.sin((FREQUENCIES[j] as number) * rho);
  }
  FAULTS.forEach(({ height, moved, widened }, i) => {
    out[FIRST_FAULT + i] = height(rho);
    out[FIRST_MOVED + i] = moved(rho);
    out[FIRST_WIDENED + i] = widened(rho);
  });
  RIPPLES.forEach(({ height }, i) => out[FIRST_RIPPLE + i] = height(rho));
  CORES.forEach(({ height }, i) => out[FIRST_CORE + i] = height(rho));
  return out;
}

/** Standard deviations of the waves' columns, cosines then sines. */
export function waveDeviations({ deviations }: Background): Float64Array {
  const out = new Float64Array(2 * WAVES);
  out.set(deviations);
  out.set(deviations, WAVES);
  return out;
}

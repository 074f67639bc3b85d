/** The zone test's few numbers: of the mean surface, each with the spread of all surfaces that agree with the readings. */
import type { RandomSource } from "../../numeric/random.ts";
import { chiSquareQuantile, normalCdf, normalQuantile } from "../../numeric/quantiles.ts";
import { addScaled, dot, forward, lowerTriangle, type Matrix } from "../../numeric/smallMatrix.ts";
import { middleOfDraws } from "../../quantity/monteCarlo.ts";
import { type Measured, measured } from "../../quantity/measured.ts";
import type { RadialGrid } from "../../optics/quality.ts";
import type { Pair } from "../figureNumbers.ts";
import { drawAbout, type Draws, judgeRow, type Judging } from "./zoneDraws.ts";
import type { FaultLeft, Make } from "./zonePosterior.ts";

/** What is judged and how. */
export interface Bench {
  readonly grid: RadialGrid;
  /** nm */
  readonly wavelength: number;
  /** of the scatter */
  readonly dof: number;
  /** conic constant of the reference */
  readonly base: number;
  /** nm of wavefront, P-V */
  readonly goal: number;
  /** amplitudes of astigmatism that agree with seats and knives, nm of glass, and the one told */
  readonly astigmatism?: { readonly told: number; readonly amplitudes: Float64Array };
}

/** Numbers of one part of the mirror. */
export interface Numbers {
  readonly conic: Measured;
  readonly wavefrontPv: Measured;
  readonly wavefrontRms: Measured;
  readonly strehl: Measured;
  readonly surfacePv: Measured;
  readonly surfaceRms: Measured;
  readonly interval95: {
    readonly wavefrontPv: Pair;
    readonly wavefrontRms: Pair;
    readonly strehl: Pair;
    readonly conic: Pair;
  };
  /** of meeting the goal, over all makes of surface */
  readonly probability: number;
  /** P-V of each draw, nm */
  readonly pv: Float64Array;
}

/** 95 % of a normal number lies within so many standard deviations of its middle. */
const WITHIN = 1.96;

/**
 * Draws surfaces of all makes and judges them.
 *
 * Value: of the mean surface. Interval: the middle 95 % of the draws, and as far as the value and, where the readings do
 * not exclude it, the perfect surface: so a value lies in its interval, and a good mirror's interval holds 0.
 *
 * @param makes      from `zonePosterior`
 * @param bench      what is judged
 * @param isPerfect  whether the readings agree with the reference itself (`agreesWithReference`)
 * @param source     random numbers
 * @param count      draws
 */
export function judgeMakes(
  makes: readonly Make[],
  bench: Bench,
  isPerfect: boolean,
  source: RandomSource,
  count: number,
): Numbers {
  const { wavelength, base, goal, dof } = bench;
  const draws = drawAll(makes, bench, source, count);
  const mean = valueOf(meanOf(makes), bench);
  const ends = (sample: Float64Array, value: number, ideal?: number): Pair => {
    const [low, high] = middleOfDraws(sample);
    const also = isPerfect && ideal !== undefined ? [value, ideal] : [value];
    return [Math.min(low, ...also), Math.max(high, ...also)];
  };
  // divided as the interval's ends are, so that a value which is an end stays in its interval to the last digit
  const told = (value: number, [low, high]: Pair, unit: string, one = 1): Measured =>
    measured(value / one, (high - low) / one / 2 / WITHIN, unit, dof);
  const waves = ([low, high]: Pair): Pair => [low / wavelength, high / wavelength];
  const pv = ends(draws.pv, mean.pv, 0), rms = ends(draws.rms, mean.rms, 0);
  const strehl = ends(draws.strehl, mean.strehl, 1);
  const conic = ends(draws.conic, mean.conic).map((end) => base + end) as unknown as Pair;
  const met = draws.pv.reduce((sum, v) => sum + (v <= goal ? 1 : 0), 0) / count;
  return {
    conic: told(base + mean.conic, conic, ""),
    wavefrontPv: told(mean.pv, pv, "wave", wavelength),
    wavefrontRms: told(mean.rms, rms, "wave", wavelength),
    strehl: told(mean.strehl, strehl, ""),
    surfacePv: told(mean.pv, pv, "nm", 2),
    surfaceRms: told(mean.rms, rms, "nm", 2),
    interval95: { wavefrontPv: waves(pv), wavefrontRms: waves(rms), strehl, conic },
    probability: met,
    pv: strewn(draws.pv),
  };
}

/** Two ways through the same readings may lie as far apart as this many of the P-V's own u. */
const APART = 2;

/**
 * The same numbers, their P-V doubted as far as a plainer way through the same readings lies from it beyond that doubt.
 *
 * Makes of surface that are smooth behind each opening are sure of each other where the glass has a crease that all openings
 * average away: long strokes leave one at a fifth of the radius. A spline through the openings' means shares no such belief. What
 * parts them beyond \`APART\` u is taken as a doubt towards the spline, half of a normal one, in the order of the strewn draws.
 *
 * @param numbers  of \`judgeMakes\`
 * @param plain    wavefront's P-V by the plainer way, nm, of the round part: openings know no other
 * @param makes    the mean surface is theirs
 * @param bench    what is judged
 */
export function doubtedBy(
  numbers: Numbers,
  plain: number,
  makes: readonly Make[],
  bench: Bench,
): Numbers {
  const { astigmatism: _, ...round } = bench, { wavelength, goal, dof } = bench;
  const { value, u } = numbers.wavefrontPv, off = plain - valueOf(meanOf(makes), round).pv;
  const beyond = off ** 2 - (APART * u * wavelength) ** 2;
  if (!(beyond > 0)) return numbers;
  const count = numbers.pv.length, size = Math.sign(off) * Math.sqrt(beyond);
  const pv = numbers.pv.map((v, i) =>
    Math.max(0, v + size * normalQuantile(0.5 + (i + 0.5) / count / 2))
  );
  const [low, high] = middleOfDraws(pv), [from, to] = numbers.interval95.wavefrontPv;
  const ends: Pair = [Math.min(low / wavelength, from), Math.max(high / wavelength, to)];
  const spread = (ends[1] - ends[0]) / 2 / WITHIN;
  return {
    ...numbers,
    wavefrontPv: measured(value, spread, "wave", dof),
    surfacePv: measured(numbers.surfacePv.value, spread * wavelength / 2, "nm", dof),
    interval95: { ...numbers.interval95, wavefrontPv: ends },
    probability: pv.reduce((sum, v) => sum + (v <= goal ? 1 : 0), 0) / count,
    pv,
  };
}

/**
 * Whether so many draws settle a verdict: nearly none of them within the goal, or nearly all and no fault hides that breaks it.
 *
 * The same draws as `judgeMakes`, but no more of them than it takes to see that they settle nothing.
 *
 * @param faults  from `zonePosterior`
 * @param sure    share of the draws from which on a goal counts as met, above one half
 */
export function settles(
  makes: readonly Make[],
  faults: readonly FaultLeft[],
  bench: Bench,
  source: RandomSource,
  count: number,
  sure: number,
): boolean {
  const probabilityOf = withFault(makes, bench), few = Math.floor((1 - sure) * count + 1e-9);
  const isOpenToYes = faults.every((left) => probabilityOf(left) >= sure);
  let met = 0;
  const isOver = ({ pv }: Draws, begin: number, end: number): boolean => {
    for (let d = begin; d < end; d++) if ((pv[d] as number) <= bench.goal) met++;
    return met > few && (!isOpenToYes || end - met > few);
  };
  drawAll(makes, bench, source, count, isOver);
  return met <= few || isOpenToYes && count - met <= few;
}

/**
 * Each make draws its share.
 *
 * @param isOver  told the draws of each make; true ends it before the others have drawn
 */
function drawAll(
  makes: readonly Make[],
  { grid, wavelength, dof, astigmatism }: Bench,
  source: RandomSource,
  count: number,
  isOver: (draws: Draws, begin: number, end: number) => boolean = () => false,
): Draws {
  const empty = (): Float64Array => new Float64Array(count);
  const draws = { pv: empty(), rms: empty(), strehl: empty(), conic: empty() };
  const judging: Judging = {
    weights: grid.weights,
    wavelength,
    dof,
    ...(astigmatism === undefined
      ? {}
      : { astigmatism: { q: grid.q, amplitudes: astigmatism.amplitudes } }),
  };
  const all = makes.reduce((sum, make) => sum + make.count, 0);
  let reached = 0, begin = 0;
  for (const make of makes) {
    reached += make.count;
    const end = Math.round((reached / all) * count);
    drawAbout(make, judging, source, begin, end, draws);
    if (isOver(draws, begin, end)) return draws;
    begin = end;
  }
  return draws;
}

function meanOf(makes: readonly Make[]): Float64Array {
  const mean = new Float64Array(makes[0]?.middle.length ?? 0);
  const all = makes.reduce((sum, { count }) => sum + count, 0);
  for (const { middle, count } of makes) addScaled(mean, middle, count / all);
  return mean;
}

/** The mean surface judged as a draw is, nm. */
function valueOf(
  mean: Float64Array,
  { grid, wavelength, astigmatism }: Bench,
): { pv: number; rms: number; strehl: number; conic: number } {
  const [pv = [], rms = [], strehl = [], conic = []] = [1, 2, 3, 4].map(() => new Float64Array(1));
  const into = { pv, rms, strehl, conic } as Draws;
  const judging: Judging = {
    weights: grid.weights,
    wavelength,
    dof: Infinity,
    ...(astigmatism === undefined
      ? {}
      : { astigmatism: { q: grid.q, amplitudes: Float64Array.of(astigmatism.told) } }),
  };
  judgeRow(mean, judging, 0, into);
  return {
    pv: into.pv[0] ?? NaN,
    rms: into.rms[0] ?? NaN,
    strehl: into.strehl[0] ?? NaN,
    conic: into.conic[0] ?? NaN,
  };
}

/** A fault and the probability that the goal is met if it stands on this surface. */
export interface Hidden {
  readonly left: FaultLeft;
  readonly probability: number;
}

/**
 * What could hide: for each fault the probability of meeting the goal if a fault of this kind stands there.
 *
 * The readings hold the amount of a fault that they see to a few nm; of one that fits between the openings they leave all
 * that is likely beforehand. No yes is given that such a fault could break, however seldom it is.
 *
 * @param makes   the mean surface is theirs
 * @param faults  from `zonePosterior`
 * @param bench   what is judged
 * @returns rising probability
 */
export function hiddenFaults(
  makes: readonly Make[],
  faults: readonly FaultLeft[],
  bench: Bench,
): Hidden[] {
  const probabilityOf = withFault(makes, bench);
  return faults.map((left): Hidden => ({ left, probability: probabilityOf(left) }))
    .sort((a, b) => a.probability - b.probability);
}

/** The probability that the goal is met, by the fault that stands on the mean surface. */
function withFault(makes: readonly Make[], bench: Bench): (left: FaultLeft) => number {
  const mean = meanOf(makes), { q } = bench.grid, told = 2 * (bench.astigmatism?.told ?? 0);
  const pv = (height: Float64Array, amount: number): number => {
    let low = Infinity, high = -Infinity;
    for (let i = 0; i < q.length; i++) {
      const w = (mean[i] as number) + amount * (height[i] as number),
        swing = told * (q[i] as number);
      low = Math.min(low, w - swing), high = Math.max(high, w + swing);
    }
    return high - low;
  };
  /** amount, with its sign, that reaches the goal; 0 where the mean misses it already */
  const reach = (height: Float64Array, sign: 1 | -1): number => {
    let low = 0, high = 4 * bench.goal;
    for (let turn = 0; turn < 18; turn++) {
      const middle = (low + high) / 2;
      if (pv(height, sign * middle) > bench.goal) high = middle;
      else low = middle;
    }
    return sign * low;
  };
  // the mean holds what the readings make of this fault already: only what is left open is laid on top
  return ({ height, amounts }) => {
    const up = reach(height, 1), down = reach(height, -1);
    return amounts.reduce(
      (sum, { weight, s }) => sum + weight * (normalCdf(up / s) - normalCdf(down / s)),
      0,
    );
  };
}

/**
 * Whether departures agree with the reference itself: nothing but the free zero of the scale, chi-square at 95 %.
 *
 * @param y           departures
 * @param covariance  of them, same unit squared
 */
export function agreesWithReference(y: Float64Array, covariance: Matrix): boolean {
  const lower = lowerTriangle(covariance), left = forward(lower, y);
  const ones = forward(lower, new Float64Array(y.length).fill(1));
  const level = dot(left, ones) / dot(ones, ones);
  addScaled(left, ones, -level);
  return dot(left, left) <= chiSquareQuantile(0.95, y.length - 1);
}

/** Draws strewn evenly over all of them, so that the first few hundred stand for the whole. */
function strewn(draws: Float64Array): Float64Array {
  const count = draws.length, out = new Float64Array(count);
  let step = Math.round(0.618 * count);
  while (commonDivisor(step, count) > 1) step++;
  for (let d = 0, place = 0; d < count; d++) {
    out[place] = draws[d] as number;
    place += step;
    if (place >= count) place -= count;
  }
  return out;
}

function commonDivisor(a: number, b: number): number {
  return b === 0 ? a : commonDivisor(b, a % b);
}

/** The fit of knife-edge photographs: one glass, one camera; knife, air, light and place are each photograph's own. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { inversePositive } from "../../numeric/positive.ts";
import type { Source } from "../../optics/conic.ts";
import type { GreyImage } from "../photo/photoImage.ts";
import { descend, fromPrior, type Normal, type Prior } from "../photo/photoSteps.ts";
import { toned } from "../photo/photoTone.ts";
import { rayAtKnife } from "../zones/knife.ts";
import { AIR, KNIFE_SHAPES, knifeShape, STAND } from "./knifeShapes.ts";
import {
  knifeLight,
  type KnifeNodes,
  knifeNodes,
  type SlitPoints,
  slitPoints,
} from "./knifeWave.ts";

/** A photograph with the mirror's place in it, made small. */
export interface KnifeStamp {
  /** averaged so that the disc is some 200 pixels wide */
  readonly image: GreyImage;
  /** middle and radius of the mirror's outline, these pixels, y downward from the top */
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** the knife from the scale's zero, mm: along the axis, + = farther from the mirror; across, + = farther in, where known */
  readonly at: number;
  readonly across?: number;
  /** what passes lies toward this direction, rad, counter-clockwise from the right as the maker sees the mirror */
  readonly toward: number;
  /** where the mirror's mark stands, rad, counter-clockwise from the top */
  readonly mark: number;
}

/** The bench. */
export interface KnifeBench {
  /** half the aperture, mm */
  readonly half: number;
  /** of curvature, mm */
  readonly radius: number;
  /** nm */
  readonly wavelength: number;
  readonly source: Source;
  /** width of slit or hole, mm */
  readonly slit: number;
  readonly isRound: boolean;
  /** how well the width is known, u of its ln */
  readonly slitU: number;
}

/** What a fit found. */
export interface KnifeFit {
  /** amounts of `KNIFE_SHAPES`, nm of glass, in the frame of the mirror's mark, and their covariance */
  readonly amounts: Float64Array;
  readonly covariance: Float64Array;
  /** all unknowns, as `CommonAt` and `ownAt` order them */
  readonly at: Float64Array;
  /** scatter of what is left over the pictures' contrast, all of them and each */
  readonly misfit: number;
  readonly misfits: readonly number[];
  /** sum of squares in units of the noise, and of unknowns in units of what was likely */
  readonly cost: number;
  readonly unlikely: number;
  /** neighbouring places that err together */
  readonly cluster: number;
  readonly scatter: number;
  /** of each unknown, how far it lies from what was likely, in units of that */
  readonly strain: Float64Array;
}

const SHAPES = KNIFE_SHAPES.length;

/** Places of the unknowns that all photographs share, after the shapes. */
export const COMMON = {
  focus: SHAPES,
  slit: SHAPES + 1,
  power: SHAPES + 2,
  bend: SHAPES + 3,
  sky: SHAPES + 5,
  shade: SHAPES + 6,
  scale: SHAPES + 11,
  stretch: SHAPES + 12,
  stand: SHAPES + 14,
} as const;
const COMMON_COUNT = SHAPES + 14 + STAND.length;

/** Unknowns of the light's unevenness. */
export const SHADES = 5;

/** Places of a photograph's own unknowns. */
export const OWN = { across: 0, at: 1, light: 2, x: 3, y: 4, air: 5 } as const;
const OWN_COUNT = 5 + AIR.length;

/** Where an unknown of photograph n stands. */
export function ownAt(n: number, key: number): number {
  return COMMON_COUNT + n * OWN_COUNT + key;
}

/**
 * What benches and phones do (COMMON PRACTICE): a slide set to a hundredth of a millimetre along the axis; exposure locked, or not;
 * an outline found to half a hundredth of its radius; air and mounting that bend a wave by some nm of glass; a curve bent by a
 * tenth of white; light that falls off to the rim by a tenth or two.
 */
const AT_U = 0.012, ACROSS_U = 0.012, LIGHT_U = 0.5, PLACE_U = 0.006;
const AIR_U = 2.5, POWER_U = 0.08, BEND_U = 0.08, SKY_U = 0.02, SHADE_U = 0.15;
const SCALE_U = 0.006, STRETCH_U = 0.003, STAND_U = 8;

/** Farthest place from the middle that counts, radii: beyond it the camera mixes mirror and surroundings. */
const COUNTED = 0.98;

interface View {
  readonly stamp: KnifeStamp;
  readonly nodes: KnifeNodes;
  /** places as the maker sees them, in radii */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly rho: Float64Array;
  /** which places count */
  readonly counted: readonly number[];
  /** values of shapes of the glass, of the stand and of the air at each place */
  readonly shapes: readonly Float64Array[];
  readonly stand: readonly Float64Array[];
  readonly air: readonly Float64Array[];
}

interface Seen {
  readonly key: string;
  readonly view: Omit<View, "stamp">;
}

function viewsOf(
  stamps: readonly KnifeStamp[],
  isTurned: boolean,
  nodes: KnifeNodes,
): readonly View[] {
  const seen: Seen[] = [];
  return stamps.map((stamp) => {
    const key = `${stamp.toward} ${stamp.mark}`, known = seen.find((one) => one.key === key);
    if (known !== undefined) return { stamp, ...known.view };
    const c = Math.cos(stamp.toward), s = Math.sin(stamp.toward), count = nodes.across.length;
    const x = new Float64Array(count), y = new Float64Array(count), rho = new Float64Array(count);
    for (let k = 0; k < count; k++) {
      const u = nodes.across[k] as number, v = nodes.along[k] as number;
      x[k] = c * u - s * v;
      y[k] = s * u + c * v;
      rho[k] = Math.hypot(u, v);
    }
    const markC = Math.cos(stamp.mark), markS = Math.sin(stamp.mark);
    const valuesOf = (of: (x: number, y: number) => number): Float64Array =>
      x.map((_, k) => of(x[k] as number, y[k] as number));
    const view = {
      nodes,
      x,
      y,
      rho,
      counted: Array.from(rho.keys()).filter((k) => (rho[k] as number) < COUNTED),
      shapes: KNIFE_SHAPES.map((shape) =>
        valuesOf((a, b) => knifeShape(shape, markC * a + markS * b, markC * b - markS * a))
      ),
      stand: isTurned
        ? STAND.map((term) => valuesOf((a, b) => knifeShape({ term, usual: 1 }, a, b)))
        : [],
      air: AIR.map((term) => valuesOf((a, b) => knifeShape({ term, usual: 1 }, a, b))),
    };
    seen.push({ key, view });
    return { stamp, ...view };
  });
}

/** Path of a perfect paraboloid's wave at shares 0, 1/160 ... 1 of the radius, mm, for a knife so far from the centre of curvature. */
export function idealPath({ half, radius, source }: KnifeBench, knife: number): Float64Array {
  const count = 160, path = new Float64Array(count + 1), step = half / count;
  const setting = { surface: { radius, conic: -1 }, half, source, knife };
  for (let k = 1; k <= count; k++) {
    const r = (k - 0.5) * step;
    path[k] = (path[k - 1] as number) + (rayAtKnife(r, r, setting) / (radius + knife)) * step;
  }
  return path;
}

function pathAt(path: Float64Array, rho: number): number {
  const at = rho * (path.length - 1), k = Math.min(path.length - 2, Math.floor(at)), t = at - k;
  return (path[k] as number) * (1 - t) + (path[k + 1] as number) * t;
}

function bilinear({ width, height, values }: GreyImage, x: number, y: number): number {
  const fx = Math.min(width - 1.001, Math.max(0, x - 0.5)),
    fy = Math.min(height - 1.001, Math.max(0, y - 0.5));
  const i = Math.floor(fx), j = Math.floor(fy), k = j * width + i, a = fx - i, b = fy - j;
  const top = (values[k] as number) * (1 - a) + (values[k + 1] as number) * a;
  const low = (values[k + width] as number) * (1 - a) + (values[k + width + 1] as number) * a;
  return top * (1 - b) + low * b;
}

/** What is begun with: focus, and each photograph's place of the knife and light. */
export interface KnifeStart {
  readonly focus: number;
  readonly across: readonly number[];
  readonly light: readonly number[];
  /** spherical, nm RMS */
  readonly spherical: number;
}

function priorOf(
  stamps: readonly KnifeStamp[],
  bench: KnifeBench,
  start: KnifeStart,
  isTurned: boolean,
): Prior {
  const size = COMMON_COUNT + stamps.length * OWN_COUNT;
  const at = new Float64Array(size), spread = new Float64Array(size);
  const set = (k: number, value: number, u: number): void => {
    at[k] = value;
    spread[k] = u;
  };
  KNIFE_SHAPES.forEach(({ usual }, k) => set(k, 0, usual));
  set(COMMON.focus, start.focus, 20);
  set(COMMON.slit, 0, bench.slitU);
  set(COMMON.power, 1 / 2.2, POWER_U);
  for (let k = 0; k < 2; k++) set(COMMON.bend + k, 0, BEND_U);
  set(COMMON.sky, 0.003, SKY_U);
  for (let k = 0; k < SHADES; k++) set(COMMON.shade + k, 0, SHADE_U);
  set(COMMON.scale, 0, SCALE_U);
  for (let k = 0; k < 2; k++) set(COMMON.stretch + k, 0, STRETCH_U);
  for (let k = 0; k < STAND.length; k++) set(COMMON.stand + k, 0, isTurned ? STAND_U : 1e-6);
  stamps.forEach((_, n) => {
    set(ownAt(n, OWN.across), start.across[n] ?? 0, bench.slit * 3);
    set(ownAt(n, OWN.at), 0, AT_U);
    set(ownAt(n, OWN.light), start.light[n] ?? 0, LIGHT_U);
    set(ownAt(n, OWN.x), 0, PLACE_U);
    set(ownAt(n, OWN.y), 0, PLACE_U);
    for (let k = 0; k < AIR.length; k++) set(ownAt(n, OWN.air + k), 0, AIR_U);
  });
  return { start: at, spread };
}

/** Light that falls on a place over that in the middle, its ln: slopes along the unknowns of the shading. */
export function shadeOf(x: number, y: number, into: Float64Array): void {
  into[0] = x;
  into[1] = y;
  into[2] = x * x + y * y;
  into[3] = x * x - y * y;
  into[4] = 2 * x * y;
}

interface Whole {
  readonly views: readonly View[];
  readonly bench: KnifeBench;
  readonly prior: Prior;
  readonly points: SlitPoints;
  readonly noise: number;
  /** unknowns that each photograph depends on, rising */
  readonly used: readonly (readonly number[])[];
}

/** What the model leaves of one photograph: `each` gets what is left and, where wanted, slopes along all unknowns. */
function placesOf(
  { views, bench, points }: Whole,
  at: Float64Array,
  n: number,
  wantsSlopes: boolean,
  each: (left: number, slopes: Float64Array, place: number) => void,
): void {
  const view = views[n] as View, { nodes, stamp, x, y, rho } = view, count = x.length;
  const own = (key: number): number => at[ownAt(n, key)] as number;
  const knife = stamp.at + (at[COMMON.focus] as number) + own(OWN.at);
  const path = idealPath(bench, knife), turn = (2 * Math.PI) / (bench.wavelength * 1e-6);
  const perNm = -2e-6 * turn, distance = bench.radius + knife;
  const phase = new Float64Array(count);
  for (let k = 0; k < count; k++) phase[k] = turn * pathAt(path, rho[k] as number);
  const add = (values: Float64Array, amount: number): void => {
    if (amount === 0) return;
    const by = perNm * amount;
    for (let k = 0; k < count; k++) phase[k] = (phase[k] as number) + by * (values[k] as number);
  };
  view.shapes.forEach((values, k) => add(values, at[k] as number));
  view.stand.forEach((values, k) => add(values, at[COMMON.stand + k] as number));
  view.air.forEach((values, k) => add(values, own(OWN.air + k)));
  const perMm = (turn * bench.half) / distance, edge = own(OWN.across);
  const slit = bench.slit * Math.exp(at[COMMON.slit] as number);
  const wave = { nodes, phase, perMm, edge, slit, points };
  const { light, slopes } = knifeLight(wave, wantsSlopes);
  const wider = wantsSlopes ? knifeLight({ ...wave, slit: 1.03 * slit }, false).light : light;
  const power = at[COMMON.power] as number,
    bend = at[COMMON.bend] as number,
    bend2 = at[COMMON.bend + 1] as number;
  const sky = at[COMMON.sky] as number, gain = Math.exp(own(OWN.light));
  const scale = stamp.radius * Math.exp(at[COMMON.scale] as number);
  const sx = at[COMMON.stretch] as number, sy = at[COMMON.stretch + 1] as number;
  const tone = new Float64Array(5),
    shade = new Float64Array(SHADES),
    row = new Float64Array(at.length);
  // columns of phase: shapes, stand, air, knife along the axis, knife across
  const columns: readonly (readonly [Float64Array, number])[] = !wantsSlopes ? [] : [
    ...view.shapes.map((values, k) => [values, k] as const),
    ...view.stand.map((values, k) => [values, COMMON.stand + k] as const),
    ...view.air.map((values, k) => [values, ownAt(n, OWN.air + k)] as const),
  ];
  const perRow = nodes.perRow, square = perRow * perRow;
  const axial = (bench.source === "moves" ? -1 : -0.5) * (bench.half / bench.radius) ** 2 * turn;
  const ray = (place: number, of: (j: number) => number): number => {
    const first = place - (place % perRow),
      from = (first / perRow) * square + (place % perRow) * perRow;
    let sum = 0;
    for (let j = 0; j < perRow; j++) {
      sum += ((slopes as Float64Array)[from + j] as number) * of(first + j);
    }
    return sum;
  };
  for (const k of view.counted) {
    const u = x[k] as number, v = y[k] as number;
    const px = stamp.x + scale * ((u * (1 + sx) + sy * v) + own(OWN.x));
    const py = stamp.y - scale * ((v * (1 - sx) + sy * u) + own(OWN.y));
    shadeOf(u, v, shade);
    let ln = 0;
    for (let i = 0; i < SHADES; i++) ln += (at[COMMON.shade + i] as number) * (shade[i] as number);
    const given = gain * Math.exp(ln), shone = given * (light[k] as number);
    toned(sky + shone, power, bend, bend2, tone);
    const left = bilinear(stamp.image, px, py) - (tone[0] as number);
    if (wantsSlopes) {
      const along = tone[1] as number, by = along * given;
      const first = k - (k % perRow), from = (first / perRow) * square + (k % perRow) * perRow;
      for (const [values, unknown] of columns) {
        let sum = 0;
        for (let j = 0; j < perRow; j++) {
          sum += ((slopes as Float64Array)[from + j] as number) * (values[first + j] as number);
        }
        row[unknown] = by * perNm * sum;
      }
      const toAxis = by * axial * ray(k, (j) => (rho[j] as number) ** 2);
      row[COMMON.focus] = toAxis;
      row[ownAt(n, OWN.at)] = toAxis;
      row[ownAt(n, OWN.across)] = -by * perMm * ray(k, (j) => nodes.across[j] as number);
      row[COMMON.slit] = by * ((wider[k] as number) - (light[k] as number)) / Math.log(1.03);
      row[COMMON.power] = tone[2] as number;
      row[COMMON.bend] = tone[3] as number;
      row[COMMON.bend + 1] = tone[4] as number;
      row[COMMON.sky] = along;
      for (let i = 0; i < SHADES; i++) row[COMMON.shade + i] = along * shone * (shade[i] as number);
      row[ownAt(n, OWN.light)] = along * shone;
      const dx = (bilinear(stamp.image, px + 1, py) - bilinear(stamp.image, px - 1, py)) / 2;
      const dy = (bilinear(stamp.image, px, py + 1) - bilinear(stamp.image, px, py - 1)) / 2;
      row[ownAt(n, OWN.x)] = -dx * scale;
      row[ownAt(n, OWN.y)] = dy * scale;
      row[COMMON.scale] = -dx * (px - stamp.x) - dy * (py - stamp.y);
      row[COMMON.stretch] = -scale * (dx * u + dy * v);
      row[COMMON.stretch + 1] = -scale * (dx * v - dy * u);
    }
    each(left, row, k);
  }
}

function evaluator(whole: Whole): (at: Float64Array, slopes: boolean) => Normal {
  const { prior, views, noise, used } = whole, size = prior.start.length;
  return (at, wantsSlopes) => {
    const { right, square, ...begun } = fromPrior(prior, at, wantsSlopes);
    let { cost } = begun;
    const tied = acrossTies(views);
    for (const [a, b, apart] of tied) {
      // how far the knife was moved across between two photographs of one direction
      const i = ownAt(a, OWN.across), j = ownAt(b, OWN.across), u = ACROSS_U * Math.SQRT2;
      const off = (apart - ((at[j] as number) - (at[i] as number))) / u;
      cost += off * off;
      if (!wantsSlopes) continue;
      right[j] = (right[j] as number) + off / u;
      right[i] = (right[i] as number) - off / u;
      const w = 1 / (u * u);
      square[i * size + i] = (square[i * size + i] as number) + w;
      square[j * size + j] = (square[j * size + j] as number) + w;
      square[i * size + j] = (square[i * size + j] as number) - w;
      square[j * size + i] = (square[j * size + i] as number) - w;
    }
    const slit = Math.abs(at[COMMON.slit] as number), power = at[COMMON.power] as number;
    if (!(slit < 1 && power > 0.2 && power < 0.9)) return { cost: Infinity, right, square };
    for (let n = 0; n < views.length; n++) {
      const own = used[n] as readonly number[],
        count = own.length,
        packed = new Float64Array(count);
      const block = new Float64Array(count * count), rightOwn = new Float64Array(count);
      placesOf(whole, at, n, wantsSlopes, (left, row) => {
        const off = left / noise;
        cost += off * off;
        if (!wantsSlopes) return;
        for (let a = 0; a < count; a++) packed[a] = row[own[a] as number] as number;
        for (let a = 0; a < count; a++) {
          const slope = packed[a] as number;
          if (slope === 0) continue;
          rightOwn[a] = (rightOwn[a] as number) + slope * left;
          const to = a * count;
          for (let b = 0; b <= a; b++) {
            block[to + b] = (block[to + b] as number) + slope * (packed[b] as number);
          }
        }
      });
      if (!wantsSlopes) continue;
      const w = 1 / (noise * noise);
      for (let a = 0; a < count; a++) {
        const i = own[a] as number;
        right[i] = (right[i] as number) + w * (rightOwn[a] as number);
        for (let b = 0; b <= a; b++) {
          const j = own[b] as number, v = w * (block[a * count + b] as number);
          square[i * size + j] = (square[i * size + j] as number) + v;
          if (a !== b) square[j * size + i] = (square[j * size + i] as number) + v;
        }
      }
    }
    return { cost, right, square };
  };
}

/** Photographs of one direction whose knife was moved across by so much, mm. */
function acrossTies(
  views: readonly View[],
): readonly (readonly [a: number, b: number, apart: number])[] {
  return views.flatMap(({ stamp }, b) => {
    if (stamp.across === undefined) return [];
    const a = views.findIndex(({ stamp: other }) =>
      other.across !== undefined && other.toward === stamp.toward && other.mark === stamp.mark
    );
    return a < 0 || a === b ? [] : [[a, b, stamp.across - (views[a]?.stamp.across ?? 0)] as const];
  });
}

/** Noise in the file's values before it is known; a step of eight bits, and what no camera is better than. */
const FIRST_NOISE = 0.03, LEAST_NOISE = 3e-3;

/** What is left by a model that is nearly right leans more to one side than its neighbours tell (from the trial). */
const MODEL = 1.4;

/** Stretches in a row that hold the wave of an usual mirror, and the most; rows; a phase, rad, that one stretch may turn through. */
const STRETCHES = 64, MOST_STRETCHES = 128, ROWS = 36, TURN = 0.5;

/** So many that the phase turns little from place to place, over the rays' usual width at the knife. */
function stretchesFor({ half, radius, wavelength }: KnifeBench): number {
  const reach = half ** 3 / (2 * radius * radius),
    turn = (2 * Math.PI * half * reach) / (wavelength * 1e-6 * radius);
  return Math.min(MOST_STRETCHES, Math.max(STRETCHES, 2 * Math.ceil(turn / TURN)));
}

/** Fits all photographs at once from a start. */
export function fitKnife(
  stamps: readonly KnifeStamp[],
  bench: KnifeBench,
  start: KnifeStart,
): KnifeFit {
  const isTurned = new Set(stamps.map(({ mark }) => mark)).size > 1;
  const prior = priorOf(stamps, bench, start, isTurned), size = prior.start.length;
  const used = stamps.map((_, n) => [
    ...Array.from({ length: COMMON.stand + (isTurned ? STAND.length : 0) }, (_, k) => k),
    ...Array.from({ length: OWN_COUNT }, (_, k) => ownAt(n, k)),
  ]);
  const finest = (bench.wavelength * 1e-6 * bench.radius) / (2 * bench.half);
  const points = slitPoints(bench.slit / finest, bench.isRound);
  const every = Array.from({ length: size }, (_, k) => k);
  const wholeOf = (nodes: KnifeNodes, noise: number): Whole => ({
    views: viewsOf(stamps, isTurned, nodes),
    bench,
    prior,
    points,
    noise,
    used,
  });
  const stretches = stretchesFor(bench);
  let at: Float64Array = prior.start.slice();
  at[SPHERICAL] = start.spherical;
  // most of the way on few places, by the noise that is then left
  let whole = wholeOf(knifeNodes(ROWS / 2, Math.round(0.62 * stretches)), FIRST_NOISE), cluster = 1;
  ({ at } = descend(at, evaluator(whole), every, 8, 1));
  const withNoise = (one: Whole): Whole => {
    const left = residuals(one, at);
    cluster = clusterOf(one, left);
    return { ...one, noise: Math.max(LEAST_NOISE, scatterOf(left)) * Math.sqrt(cluster) * MODEL };
  };
  ({ at } = descend(at, evaluator(withNoise(whole)), every, 5, 0.3));
  whole = withNoise(wholeOf(knifeNodes(ROWS, stretches), FIRST_NOISE));
  const last = descend(at, evaluator(whole), every, 2, 0.3);
  at = last.at;
  const { noise } = whole, { cost } = last, covariance = inversePositive(last.square, size);
  if (covariance === undefined) {
    throw new CannotTell(
      "the photographs do not hold the mirror fast: their fit has no lowest place",
    );
  }
  const left = residuals(whole, at), scatter = scatterOf(left);
  const strain = at.map((v, k) => (v - (prior.start[k] as number)) / (prior.spread[k] as number));
  const contrasts = stamps.map((stamp) => contrastOf(stamp));
  const contrast = contrasts.reduce((sum, v) => sum + v, 0) / contrasts.length;
  const only = new Float64Array(SHAPES * SHAPES);
  for (let a = 0; a < SHAPES; a++) {
    for (let b = 0; b < SHAPES; b++) only[a * SHAPES + b] = covariance[a * size + b] as number;
  }
  return {
    amounts: at.slice(0, SHAPES),
    covariance: only,
    at,
    misfit: scatter / contrast,
    misfits: left.map((one, n) => scatterOf([one]) / Math.max(0.05, contrasts[n] ?? 0)),
    cost,
    unlikely: cost -
      left.reduce((sum, one) => one.reduce((all, v) => all + v * v, sum), 0) / noise ** 2,
    cluster,
    scatter,
    strain,
  };
}

/** Number of the term that spherical aberration is. */
const SPHERICAL = KNIFE_SHAPES.findIndex(({ term }) => term?.n === 4 && term.m === 0);

function contrastOf({ image, x, y, radius }: KnifeStamp): number {
  let low = Infinity, high = -Infinity;
  for (let k = 0; k < 400; k++) {
    const r = 0.9 * radius * Math.sqrt((k + 0.5) / 400), t = k * 2.399963;
    const v = bilinear(image, x + r * Math.cos(t), y + r * Math.sin(t));
    low = Math.min(low, v);
    high = Math.max(high, v);
  }
  return high - low;
}

/** What is left of each photograph, at its counted places. */
function residuals(whole: Whole, at: Float64Array): readonly Float64Array[] {
  return whole.views.map(({ counted }, n) => {
    const out = new Float64Array(counted.length);
    let filled = 0;
    placesOf(whole, at, n, false, (left) => out[filled++] = left);
    return out;
  });
}

function scatterOf(left: readonly Float64Array[]): number {
  const count = left.reduce((sum, { length }) => sum + length, 0);
  return Math.sqrt(left.reduce((all, one) => one.reduce((sum, v) => sum + v * v, all), 0) / count);
}

/** How many neighbouring places err together, from their correlation along rows; across rows as far as along them. */
function clusterOf({ views }: Whole, left: readonly Float64Array[]): number {
  let square = 0;
  const products = new Float64Array(24);
  views.forEach(({ counted, nodes: { perRow } }, n) => {
    const off = left[n] as Float64Array;
    for (let i = 0; i < off.length; i++) {
      square += (off[i] as number) ** 2;
      const k = counted[i] as number;
      for (let lag = 1; lag <= products.length && i + lag < off.length; lag++) {
        const other = counted[i + lag] as number;
        if (Math.floor(other / perRow) !== Math.floor(k / perRow)) break;
        products[lag - 1] = (products[lag - 1] as number) +
          (off[i] as number) * (off[i + lag] as number);
      }
    }
  });
  let total = 1;
  for (const product of products) {
    const share = product / Math.max(square, 1e-30);
    if (share < 0.05) break;
    total += 2 * share;
  }
  const { rows, perRow } = (views[0] as View).nodes;
  return total * Math.max(1, (total * rows) / perRow);
}

/** Both pictures of a star fitted at once: the mirror's wave is one, focus, air, tracking and light are each picture's own. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { inversePositive } from "../../numeric/positive.ts";
import { descend, fromPrior, type Normal, type Prior } from "../photo/photoSteps.ts";
import { toned } from "../photo/photoTone.ts";
import type { StarStamp } from "./starPicture.ts";
import {
  cubicPlaces,
  IMAGE_SLOPES,
  SHARED,
  STAR_TERMS,
  type StarGrid,
  starGrid,
  type StarImage,
  starLight,
  type StarState,
} from "./starWave.ts";

/** Unknowns that both pictures share, after the wave's own: where each stands. */
export const COMMON: Readonly<Record<"obstruction" | "scale" | "power" | "bend", number>> = {
  /** width of the flat's shadow over the aperture */
  obstruction: SHARED,
  /** ln of the camera's pixels in a slope unit */
  scale: SHARED + 1,
  /** exponent of the camera's curve, and two bends of it */
  power: SHARED + 2,
  bend: SHARED + 3,
};
const COMMON_COUNT = SHARED + 5;

const SPHERICAL = STAR_TERMS.findIndex(({ n, m }) => n === 4 && m === 0);

/** Unknowns of one picture. */
export const OWN = {
  /** waves of defocus at the rim, + outside */
  defocus: 0,
  /** middle of the star, pixels of its stamp */
  x: 1,
  y: 2,
  /** ln of the light */
  light: 3,
  /** of the sky */
  sky: 4,
  /** ln of the air's blur */
  air: 5,
  shake: 6,
} as const;
const OWN_COUNT = 9;

/** Where an unknown of one picture stands. */
export function ownAt(picture: number, own: number): number {
  return COMMON_COUNT + picture * OWN_COUNT + own;
}

/** What is known before the pictures are looked at. */
export interface StarGuess {
  /** waves, + outside, and its standard uncertainty, for each picture */
  readonly defocus: readonly (readonly [value: number, u: number])[];
  /** ln of the camera's pixels in a slope unit; absent: from the discs' widths */
  readonly scale?: readonly [value: number, u: number];
  readonly obstruction: readonly [value: number, u: number];
  /** the air's blur, FWHM in slope units */
  readonly seeing: number;
  /** waves of spherical aberration that the fit begins with; default 0 */
  readonly spherical?: number;
}

/** A fit of two pictures, or more, of one star. */
export interface StarFit {
  readonly at: Float64Array;
  readonly covariance: Float64Array;
  /** scatter of what is left, and the pictures' contrast, in the file's values */
  readonly scatter: number;
  readonly contrast: number;
  /** neighbouring pixels that err together */
  readonly cluster: number;
  /** sum of squares of what is left, and of what was likely beforehand, to compare fits of the same pictures */
  readonly squares: number;
  readonly unlikely: number;
}

/** Blur of still air at half its height over the exponent's root: 0.98 a / r0 = 0.98 (air / 3.44)^(3/5). */
export function airOf(seeing: number): number {
  return 3.44 * (seeing / 0.98) ** (5 / 3);
}

/** The other way round: width at half height, slope units. */
export function seeingOf(air: number): number {
  return 0.98 * (air / 3.44) ** (3 / 5);
}

/**
 * What mirrors, phones and stands do (COMMON PRACTICE): terms of a quarter wave, a zone of a twentieth, an edge of a third;
 * a curve bent by a tenth of white; tracking that smears by a third of the air's blur.
 */
const TERM = 0.25, ZONE = 0.04, EDGE = 0.3, POWER = 0.08, BEND = 0.08, SMEAR = 0.35;

/** How much the air's blur, its ln, changes from one photograph to the next. */
const AIR_CHANGES = 0.4;

/** What is left of a picture by a model that is nearly right leans more to one side than its neighbours tell (from the trial). */
const MODEL = 1.4;

/** Noise in the file's values before it is known. */
const FIRST_NOISE = 0.02;

/** Waves of defocus up to which the small grid holds the picture: air leaves little of what it folds over. */
const SMALL_GRID = 6.5, SMALL = [88, 128] as const;

function priorOf(stamps: readonly StarStamp[], guess: StarGuess): Prior {
  const size = COMMON_COUNT + stamps.length * OWN_COUNT;
  const start = new Float64Array(size), spread = new Float64Array(size).fill(1);
  const set = (at: number, value: number, u: number): void => {
    start[at] = value;
    spread[at] = u;
  };
  for (let j = 0; j < SHARED; j++) {
    set(j, 0, j === SHARED - 2 ? ZONE : j === SHARED - 1 ? EDGE : TERM);
  }
  set(COMMON.obstruction, ...guess.obstruction);
  const scales = stamps.map(({ radius, factor }, n) =>
    Math.log((radius * factor) / (2 * Math.abs(guess.defocus[n]?.[0] ?? 1)))
  );
  const fromDiscs = scales.reduce((sum, s) => sum + s, 0) / scales.length;
  set(COMMON.scale, ...(guess.scale ?? [fromDiscs, 2] as const));
  set(COMMON.power, 1 / 2.2, POWER);
  set(COMMON.bend, 0, BEND);
  set(COMMON.bend + 1, 0, BEND);
  stamps.forEach((stamp, n) => {
    const own = (key: number, value: number, u: number): void => set(ownAt(n, key), value, u);
    const [defocus, u] = guess.defocus[n] ?? [5, 1];
    own(OWN.defocus, defocus, u);
    own(OWN.x, stamp.x, 3 + 0.2 * stamp.radius);
    own(OWN.y, stamp.y, 3 + 0.2 * stamp.radius);
    own(OWN.light, 2.2 * Math.log(Math.max(0.02, stamp.bright)), 1);
    own(OWN.sky, Math.max(1e-4, stamp.dark) ** 2.2, 0.05);
    own(OWN.air, Math.log(airOf(guess.seeing)), 0.9);
    for (let k = 0; k < 3; k++) own(OWN.shake + k, 0, (SMEAR * guess.seeing) ** 2);
  });
  return { start, spread };
}

const stateOf = (at: Float64Array, n: number, disc: number, factor: number): StarState => {
  const own = (key: number): number => at[ownAt(n, key)] as number;
  const waves = Float64Array.from(at.subarray(0, SHARED + 1));
  waves[SHARED] = own(OWN.defocus);
  return {
    waves,
    obstruction: Math.max(0, at[COMMON.obstruction] as number),
    air: Math.exp(own(OWN.air)),
    shake: [own(OWN.shake), own(OWN.shake + 1), own(OWN.shake + 2)],
    pixel: factor / Math.exp(at[COMMON.scale] as number),
    disc,
  };
};

/** What a model of one picture leaves of it, and its slopes: `each` is called for every pixel. */
function pixelsOf(
  at: Float64Array,
  n: number,
  stamp: StarStamp,
  { grid, image, wantsSlopes }: {
    readonly grid: StarGrid;
    readonly image: StarImage;
    readonly wantsSlopes: boolean;
  },
  each: (left: number, slopes: Float64Array, pixel: number) => void,
): void {
  const own = (key: number): number => at[ownAt(n, key)] as number;
  const perStep = (Math.exp(at[COMMON.scale] as number) * grid.step) / stamp.factor;
  const { width, height, values } = stamp.image, light = Math.exp(own(OWN.light));
  const reach = grid.fft.size / 2 - 3,
    row = new Float64Array(at.length),
    tone = new Float64Array(5);
  const places = {
    at: new Int32Array(16),
    value: new Float64Array(16),
    dx: new Float64Array(16),
    dy: new Float64Array(16),
  };
  const power = at[COMMON.power] as number, bend = at[COMMON.bend] as number;
  const turn = at[COMMON.bend + 1] as number, sky = own(OWN.sky);
  for (let j = 0; j < height; j++) {
    const y = -(j + 0.5 - own(OWN.y)) / perStep;
    for (let i = 0; i < width; i++) {
      const x = (i + 0.5 - own(OWN.x)) / perStep, pixel = j * width + i;
      const isFar = Math.abs(x) > reach || Math.abs(y) > reach;
      let shone = 0, dx = 0, dy = 0;
      if (!isFar) {
        cubicPlaces(grid.fft.size, x, y, places);
        for (let k = 0; k < 16; k++) {
          const v = image.light[places.at[k] as number] as number;
          shone += v * (places.value[k] as number);
          dx += v * (places.dx[k] as number);
          dy += v * (places.dy[k] as number);
        }
      }
      toned(sky + light * shone, power, bend, turn, tone);
      const left = (values[pixel] as number) - (tone[0] as number);
      if (wantsSlopes) {
        const along = (tone[1] as number) * light;
        row.fill(0);
        row[COMMON.power] = tone[2] as number;
        row[COMMON.bend] = tone[3] as number;
        row[COMMON.bend + 1] = tone[4] as number;
        row[ownAt(n, OWN.sky)] = tone[1] as number;
        if (!isFar) {
          for (let s = 0; s < IMAGE_SLOPES; s++) {
            const slope = image.slopes[s] as Float64Array;
            let sum = 0;
            for (let k = 0; k < 16; k++) {
              sum += (slope[places.at[k] as number] as number) * (places.value[k] as number);
            }
            row[slopeAt(s, n)] = along * sum;
          }
          row[ownAt(n, OWN.x)] = (-along * dx) / perStep;
          row[ownAt(n, OWN.y)] = (along * dy) / perStep;
          row[COMMON.scale] = -along * (x * dx + y * dy);
          row[ownAt(n, OWN.light)] = along * shone;
        }
      }
      each(left, row, pixel);
    }
  }
}

/** The unknown that slope number s of a picture belongs to. */
function slopeAt(s: number, n: number): number {
  if (s < SHARED) return s;
  if (s === SHARED) return ownAt(n, OWN.defocus);
  if (s === SHARED + 1) return COMMON.obstruction;
  return ownAt(n, OWN.air + (s - SHARED - 2));
}

/** Bounds of ln of the air's blur: far less than a mirror's own, far more than any disc. */
const LEAST_AIR = -3, MOST_AIR = 6;

function evaluator(
  stamps: readonly StarStamp[],
  prior: Prior,
  guess: StarGuess,
  noise: number,
  grid: StarGrid,
): (at: Float64Array, slopes: boolean) => Normal {
  const size = prior.start.length;
  return (at, wantsSlopes) => {
    const { right, square, ...begun } = fromPrior(prior, at, wantsSlopes);
    let { cost } = begun;
    for (let n = 1; n < stamps.length; n++) {
      const a = ownAt(0, OWN.air), b = ownAt(n, OWN.air);
      const off = ((at[b] as number) - (at[a] as number)) / AIR_CHANGES;
      cost += off * off;
      if (!wantsSlopes) continue;
      for (const [one, sign] of [[a, 1], [b, -1]] as const) {
        right[one] = (right[one] as number) + (sign * off) / AIR_CHANGES;
        square[one * size + one] = (square[one * size + one] as number) + 1 / AIR_CHANGES ** 2;
      }
      square[b * size + a] = (square[b * size + a] as number) - 1 / AIR_CHANGES ** 2;
    }
    for (let n = 0; n < stamps.length; n++) {
      const air = at[ownAt(n, OWN.air)] as number, scale = at[COMMON.scale] as number;
      const side = (at[ownAt(n, OWN.defocus)] as number) * (guess.defocus[n]?.[0] ?? 1);
      const isPossible = air > LEAST_AIR && air < MOST_AIR && Math.abs(scale) < 12 && side > 0;
      if (!isPossible) {
        return { cost: Infinity, right, square };
      }
      const stamp = stamps[n] as StarStamp, disc = Math.abs(guess.defocus[n]?.[0] ?? 1);
      const image = starLight(grid, stateOf(at, n, disc, stamp.factor), wantsSlopes);
      const used = usedBy(n);
      pixelsOf(at, n, stamp, { grid, image, wantsSlopes }, (left, row) => {
        cost += (left / noise) ** 2;
        if (!wantsSlopes) return;
        for (const a of used) {
          const slope = (row[a] as number) / (noise * noise);
          if (slope === 0) continue;
          right[a] = (right[a] as number) + slope * left;
          for (const b of used) {
            if (b > a) break;
            square[a * size + b] = (square[a * size + b] as number) + slope * (row[b] as number);
          }
        }
      });
    }
    if (wantsSlopes) {
      for (let a = 0; a < size; a++) {
        for (let b = 0; b < a; b++) square[b * size + a] = square[a * size + b] as number;
      }
    }
    return { cost, right, square };
  };
}

/** Unknowns that a picture depends on, rising. */
function usedBy(n: number): readonly number[] {
  return [
    ...Array.from({ length: COMMON_COUNT }, (_, k) => k),
    ...Array.from({ length: OWN_COUNT }, (_, k) => ownAt(n, k)),
  ];
}

/** What is left of all pictures, each in the order of its stamp's pixels. */
export function starResiduals(
  stamps: readonly StarStamp[],
  guess: StarGuess,
  at: Float64Array,
  grid: StarGrid,
): readonly Float64Array[] {
  return stamps.map((stamp, n) => {
    const disc = Math.abs(guess.defocus[n]?.[0] ?? 1),
      out = new Float64Array(stamp.image.values.length);
    const image = starLight(grid, stateOf(at, n, disc, stamp.factor), false);
    pixelsOf(
      at,
      n,
      stamp,
      { grid, image, wantsSlopes: false },
      (left, _, pixel) => out[pixel] = left,
    );
    return out;
  });
}

/** The grid that holds the pictures: small as long as their discs are. */
export function gridFor(defocus: number): StarGrid {
  return defocus <= SMALL_GRID
    ? starGrid(...SMALL)
    : starGrid(Math.min(160, 40 + 14 * Math.ceil(defocus)), 256);
}

/** Steps that lead a usable guess to its valley. */
const ENOUGH_STEPS = 14;

/** A fit as far as one guess leads it. */
export interface StarStart {
  readonly guess: StarGuess;
  readonly at: Float64Array;
  /** scatter of what is left, in the file's values */
  readonly scatter: number;
  /** sum of squares over the first noise, and of what was likely beforehand */
  readonly cost: number;
}

/**
 * Goes downhill from a guess, far enough to tell a good one from a bad one.
 *
 * @param stamps  of one star, one mirror, one camera
 * @param most    steps at most
 */
export function beginStars(
  stamps: readonly StarStamp[],
  guess: StarGuess,
  most: number = ENOUGH_STEPS,
): StarStart {
  const prior = priorOf(stamps, guess), every = prior.start.map((_, k) => k);
  const start = prior.start.slice();
  start[SPHERICAL] = guess.spherical ?? 0;
  const evaluate = evaluator(stamps, prior, guess, FIRST_NOISE, starGrid(...SMALL));
  const { at, cost } = descend(start, evaluate, [...every], most, 1);
  const left = starResiduals(stamps, guess, at, starGrid(...SMALL));
  return { guess, at, cost, scatter: scatterOf(left) };
}

/**
 * Fits the pictures to the end, and says how surely.
 *
 * @throws {CannotTell} where the pictures hold nothing fast
 */
export function fitStars(stamps: readonly StarStamp[], { guess, at: start }: StarStart): StarFit {
  const prior = priorOf(stamps, guess), size = prior.start.length;
  const every = Array.from({ length: size }, (_, k) => k);
  const grid = gridFor(Math.max(...guess.defocus.map(([w]) => Math.abs(w))));
  let at = start, noise = FIRST_NOISE, cluster = 1;
  for (let round = 0; round < 2; round++) {
    const left = starResiduals(stamps, guess, at, grid);
    cluster = clusterOf(stamps, left);
    noise = Math.max(LEAST_NOISE, scatterOf(left)) * Math.sqrt(cluster) * MODEL;
    ({ at } = descend(at, evaluator(stamps, prior, guess, noise, grid), every, 5, 0.05));
  }
  const { square, cost } = evaluator(stamps, prior, guess, noise, grid)(at, true);
  const left = starResiduals(stamps, guess, at, grid), squares = squaresOf(left);
  const covariance = inversePositive(square, size);
  if (covariance === undefined) {
    throw new CannotTell(
      "the two pictures do not hold the mirror fast: their fit has no lowest place",
    );
  }
  const contrast = stamps.reduce((sum, { bright, dark }) => sum + bright - dark, 0) / stamps.length;
  const unlikely = cost - squares / noise ** 2;
  return { at, covariance, scatter: scatterOf(left), contrast, cluster, squares, unlikely };
}

/** Least scatter a camera has: a step of eight bits is four in a thousand. */
const LEAST_NOISE = 2e-3;

function squaresOf(left: readonly Float64Array[]): number {
  return left.reduce((all, one) => one.reduce((sum, v) => sum + v * v, all), 0);
}

function scatterOf(left: readonly Float64Array[]): number {
  return Math.sqrt(squaresOf(left) / left.reduce((sum, { length }) => sum + length, 0));
}

/** How many neighbouring pixels err together, from their correlation along rows and columns. */
function clusterOf(stamps: readonly StarStamp[], left: readonly Float64Array[]): number {
  let most = 1;
  stamps.forEach(({ image: { width } }, n) => {
    const off = left[n] ?? new Float64Array(0);
    const along = (step: number): number => {
      let total = 1, square = 0;
      for (const v of off) square += v * v;
      for (let lag = 1; lag <= 8; lag++) {
        let product = 0;
        for (let i = 0; i + lag * step < off.length; i++) {
          product += (off[i] as number) * (off[i + lag * step] as number);
        }
        const share = product / Math.max(square, 1e-30);
        if (share < 0.05) break;
        total += 2 * share;
      }
      return total;
    };
    most = Math.max(most, along(1) * along(width));
  });
  return Math.min(most, 60);
}

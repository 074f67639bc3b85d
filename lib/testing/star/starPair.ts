/** Two photographs of one star, inside and outside focus: the low faults of the whole wave, with doubts. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { type Measured, measured } from "../../quantity/measured.ts";
import type { GreyImage } from "../photo/photoImage.ts";
import {
  beginStars,
  COMMON,
  fitStars,
  OWN,
  ownAt,
  seeingOf,
  type StarFit,
  type StarGuess,
  type StarStart,
} from "./starFit.ts";
import { type StarStamp, starStamp } from "./starPicture.ts";
import { SHARED, STAR_TERMS } from "./starWave.ts";

/** One photograph of a star out of focus. */
export interface StarPhoto {
  /** the picture, as the camera stored it */
  readonly image: GreyImage;
  /** inside: camera or eyepiece nearer the mirror than its focus */
  readonly side: "inside" | "outside";
  /** how far from focus, mm, above 0; absent where nobody measured it */
  readonly defocus?: number;
}

/** What is known of telescope and star. */
export interface StarPairTest {
  /** two of them, one on each side */
  readonly photos: readonly StarPhoto[];
  /** width of the mirror that the light meets, mm */
  readonly aperture: number;
  /** of curvature, mm */
  readonly radius: number;
  /** nm; default 550 */
  readonly wavelength?: number;
  /** width of the flat over the aperture, where it is known */
  readonly obstruction?: number;
  /** how much of the sky one of the camera's pixels sees, where it is known */
  readonly arcsecPerPixel?: number;
  /** of the star from the mirror, mm, where it is a lamp or a glint; default as far as stars are */
  readonly distance?: number;
}

/** A fault that has a direction. */
export interface Directed {
  /** wavefront, RMS over the whole disc, waves; its u is that of the two components */
  readonly amount: Measured;
  /** 95 %; from 0 where it may be nothing */
  readonly interval95: readonly [low: number, high: number];
  /** of the wave's advance, rad, counter-clockwise from the right of the picture outside focus */
  readonly direction: Measured;
}

/** What the pair says of the wave that a star's light makes; + is an advance, as high glass makes. */
export interface StarPairFigure {
  /** wavefront, RMS over the whole disc, waves; the share of a star at a finite distance is taken out */
  readonly spherical: Measured;
  /** two ends of a line ahead, those across it behind */
  readonly astigmatism: Directed;
  /** one side ahead, the other behind: a mirror or flat that is tilted */
  readonly coma: Directed;
  /** three ends ahead: a mirror pinched or held at three places */
  readonly threefold: Directed;
  /** height of the wave at the rim beside all else, waves; below 0 is turned down */
  readonly edge: Measured;
  /** a star's blur by air and camera at half height, arcseconds, for each photograph */
  readonly seeing: readonly Measured[];
  /** waves at the rim, + outside, for each photograph */
  readonly defocus: readonly Measured[];
  /** width of the flat's shadow over the aperture */
  readonly obstruction: Measured;
  /** spherical that the star's distance alone makes, waves RMS, taken out of `spherical` */
  readonly fromDistance: number;
  /** scatter of what the fit leaves over the pictures' contrast */
  readonly misfit: number;
  /** amounts of `STAR_TERMS`, waves, and their covariance, for what is told together with other tests */
  readonly amounts: readonly number[];
  /** in the order of `amounts` */
  readonly covariance: readonly (readonly number[])[];
}

/** From so much of the contrast on, what is left says that the pictures are of something else. */
const MOST_MISFIT = 0.06;

/** From so much on the fit is begun again elsewhere: the air's blur over the usual one, and waves of spherical aberration. */
const DOUBTED = 0.047, ELSEWHERE = [[1.6, 0], [1, 0.12], [1, -0.12]] as const;

/** How well a hand measures the travel from focus: the place of best focus itself, mm, and a share of the way. */
const TRAVEL_U = 0.1, TRAVEL_SHARE = 0.03;

/** What is left if both are taken on one side, over what is left as they are told, below which the telling is not believed. */
const ONE_SIDE = 0.85;

/** The same, below which the other telling is as good: what the two differ by is then in the doubt. */
const AS_WELL = 1.1;

/** How well a plate's scale is known, its ln. */
const SCALE_U = 0.02;

/** From here on the size of what is seen is not known: u of the scale's ln. */
const MOST_SCALE_U = 0.3;

/** Air in one exposure: looks that are independent of one another. A second or two holds more; so few are not ruled out. */
const LOOKS = 6;

/** A star that dwells at one end of its wander looks like coma: what that may add to each component, waves (from the trial). */
const WANDER_ON_COMA = 0.007;

/** An edge narrower or wider than the one that is fitted: what it may add to spherical, and to its own height, over the height found. */
const EDGE_ON_SPHERICAL = 0.05, EDGE_ON_ITSELF = 0.5;

/** Variance of each term in a look, rad^2 over (D / r0)^(5/3) (READ as Noll 1976, J. Opt. Soc. Am. 66, 207, table IV: tests/references/published/noll-1976-table-4.json). */
const AIR_OF_TERM: Readonly<Record<number, number>> = {
  2: 0.0232,
  3: 0.0062,
  4: 0.0024,
  6: 0.0005,
};

const ARCSEC = (180 * 3600) / Math.PI;

/**
 * Spherical aberration of a paraboloid's wave for a star at a finite distance, waves RMS over the whole disc.
 *
 *     W = a^4 / (4 R^3) [(1 - R/s)^2 - 1] rho^4,    RMS = W / (6 sqrt 5)
 *
 * @param half        half the aperture, mm
 * @param radius      of curvature, mm
 * @param distance    of the star from the mirror, mm; more than the radius of curvature
 * @param wavelength  nm
 * @throws {RangeError} outside those ranges
 * @example a lamp at ten focal lengths makes a good mirror look under-corrected the other way
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sphericalAtDistance(75, 2400, 12_000, 550).toFixed(4), "-0.0279");
 * ```
 */
export function sphericalAtDistance(
  half: number,
  radius: number,
  distance: number,
  wavelength: number,
): number {
  if (!(half > 0 && radius > 0 && distance > radius && wavelength > 0)) {
    throw new RangeError(
      `sphericalAtDistance requires half, radius and wavelength above 0 and distance above radius, ` +
        `got ${half}, ${radius}, ${distance}, ${wavelength}`,
    );
  }
  const c = 1 - radius / distance;
  const edge = ((half ** 4) / (4 * radius ** 3)) * (c * c - 1);
  return (edge * 1e6) / wavelength / (6 * Math.sqrt(5));
}

/**
 * Fits the propagated wave to both pictures at once.
 *
 * Nothing but the mirror's wave, the flat's shadow and the camera are shared by the two: focus, air, tracking, light and sky
 * are each picture's own.
 *
 * @param test  two photographs, one on each side of focus
 * @throws {CannotTell} with the reason where the pictures cannot tell, or are not explained
 * @throws {RangeError} where lengths are not above 0 or the photographs are not one on each side
 */
export function reduceStarPair(test: StarPairTest): StarPairFigure {
  const { photos, aperture, radius, wavelength = 550, distance } = test;
  const sides = photos.map(({ side }) => side).sort().join(" ");
  if (!(sides === "inside outside" && aperture > 0 && radius > 0 && wavelength > 0)) {
    throw new RangeError(
      `reduceStarPair requires a photograph inside and one outside, aperture, radius and wavelength above 0, ` +
        `got ${sides}, ${aperture}, ${radius}, ${wavelength}`,
    );
  }
  const stamps = photos.map((photo) => stampOf(photo));
  const fit = bestOf(stamps, guessesFor(test));
  refuseMoved(test, fit);
  const otherwise = refuseOneSide(test, stamps, fit);
  refuseTravel(test, fit);
  refuseUnexplained(fit);
  refuseAir(test, fit);
  const fromDistance = distance === undefined
    ? 0
    : sphericalAtDistance(aperture / 2, radius, distance, wavelength);
  return told(fit, { aperture, wavelength, fromDistance, count: photos.length, otherwise });
}

function stampOf({ image, side }: StarPhoto): StarStamp {
  try {
    return starStamp(image);
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    throw new CannotTell(`in the photograph ${side} focus ${error.message}`);
  }
}

/** Defocus of a travel of so many mm, waves at the rim. */
function wavesOf(travel: number, { aperture, radius, wavelength = 550 }: StarPairTest): number {
  const ratio = radius / 2 / aperture;
  return (travel * 1e6) / (8 * wavelength * ratio * ratio);
}

/** Waves of defocus that are tried where nobody says how many there are. */
const TRIED = [3, 5, 8];

/** The air's blur that the fit begins with, arcseconds. */
const USUAL_SEEING = 1.9;

function guessesFor(test: StarPairTest): readonly StarGuess[] {
  const { photos, aperture, wavelength = 550, obstruction, arcsecPerPixel } = test;
  const unit = (wavelength * 1e-6 * ARCSEC) / (aperture / 2); // arcseconds in a slope unit
  const common: Pick<StarGuess, "seeing" | "obstruction" | "scale"> = {
    seeing: USUAL_SEEING / unit,
    obstruction: obstruction === undefined ? [0.22, 0.08] : [obstruction, 0.02],
    ...(arcsecPerPixel === undefined
      ? {}
      : { scale: [Math.log(unit / arcsecPerPixel), SCALE_U] as const }),
  };
  const known = photos.map(({ defocus, side }) => {
    if (defocus === undefined) return undefined;
    const sign = side === "outside" ? 1 : -1, u = Math.hypot(TRAVEL_U, TRAVEL_SHARE * defocus);
    return [sign * wavesOf(defocus, test), wavesOf(u, test)] as const;
  });
  const typical = known.find((one) => one !== undefined);
  const tried = typical === undefined ? TRIED : [Math.abs(typical[0])];
  return tried.map((waves) => ({
    ...common,
    defocus: photos.map(({ side }, n) =>
      known[n] ?? [side === "outside" ? waves : -waves, 0.6 * waves] as const
    ),
  }));
}

/** The likelier of two fits of the same pictures, both judged by the lower noise of the two. */
function likelier(a: StarFit, b: StarFit): StarFit {
  const noise = Math.min(a.scatter, b.scatter) ** 2 * a.cluster;
  const score = ({ squares, unlikely }: StarFit): number => squares / noise + unlikely;
  return score(b) < score(a) ? b : a;
}

const misfitOf = ({ scatter, contrast }: StarFit): number => scatter / contrast;

/** Steps that tell one start from another. */
const FIRST_STEPS = 5;

/** The start that leads lowest. */
function lowest(stamps: readonly StarStamp[], guesses: readonly StarGuess[]): StarStart {
  if (guesses.length === 1) return beginStars(stamps, guesses[0] as StarGuess);
  const { guess } = guesses.map((one) => beginStars(stamps, one, FIRST_STEPS))
    .reduce((a, b) => b.cost < a.cost ? b : a);
  return beginStars(stamps, guess);
}

function bestOf(stamps: readonly StarStamp[], guesses: readonly StarGuess[]): StarFit {
  const start = lowest(stamps, guesses), best = fitStars(stamps, start);
  if (misfitOf(best) < DOUBTED) return best;
  // what is left badly explained may be a valley beside the lowest one
  const others = ELSEWHERE.map(([air, spherical]) => ({
    ...start.guess,
    seeing: start.guess.seeing * air,
    spherical,
  }));
  return likelier(best, fitStars(stamps, lowest(stamps, others)));
}

/** So many u from what the pictures show of it a travel that was told is no more believed. */
const MOST_PULL = 3;

/** A travel that is told wrong scales every fault: where rings show how far out of focus a picture is, the two must agree. */
function refuseTravel(test: StarPairTest, { at }: StarFit): void {
  test.photos.forEach(({ defocus, side }, n) => {
    if (defocus === undefined) return;
    const u = Math.hypot(TRAVEL_U, TRAVEL_SHARE * defocus);
    const seen = Math.abs(at[ownAt(n, OWN.defocus)] as number) / wavesOf(1, test);
    if (Math.abs(seen - defocus) <= MOST_PULL * u) return;
    throw new CannotTell(
      `in the photograph ${side} focus defocus_mm says ${
        defocus.toFixed(1)
      } mm from focus, and its rings say about ${
        seen.toFixed(1)
      } mm: measure again how far the eyepiece was moved, or leave defocus_mm empty`,
    );
  });
}

/** More blur than this is seldom the air's, arcseconds: a travel told double makes at least twice of it. */
const MOST_SEEING = 3.5;

/**
 * A travel that is told double makes every fault double, and the air's blur more than that: where rings are washed away, this is all that shows it.
 *
 * Where it is known how much sky a pixel sees, the disc's width itself says how far the picture was from focus, and bad air is believed.
 */
function refuseAir(test: StarPairTest, { at }: StarFit): void {
  const { photos, aperture, wavelength = 550, arcsecPerPixel } = test;
  if (arcsecPerPixel !== undefined || photos.some(({ defocus }) => defocus === undefined)) return;
  const airs = photos.map((_, n) => at[ownAt(n, OWN.air)] as number);
  const unit = (wavelength * 1e-6 * ARCSEC) / (aperture / 2);
  const seeing = unit * seeingOf(Math.exp(airs.reduce((a, b) => a + b, 0) / airs.length));
  if (seeing <= MOST_SEEING) return;
  throw new CannotTell(
    `with the travel from focus that defocus_mm tells, air and camera would have blurred the star by ${
      seeing.toFixed(1)
    } arcseconds, where ${MOST_SEEING} is the most that is believed: a travel told double makes it look so, and every fault double with it. ` +
      "Is it the way from focus, not from one photograph to the other? Measure it again; or write into arcsec_per_px how much sky a pixel sees, for then the disc's width tells the travel",
  );
}

function refuseMoved(test: StarPairTest, fit: StarFit): void {
  const smear = test.photos.map((_, n) => smearOf(fit, n));
  const moved = smear.findIndex((share) => share > MOST_SMEAR);
  if (moved >= 0) {
    throw new CannotTell(
      `in the photograph ${
        test.photos[moved]?.side
      } focus the star moved while it was exposed, by ${
        (100 * (smear[moved] ?? 0)).toFixed(0)
      } % of its disc: let the mount follow the sky, or expose for a shorter time`,
    );
  }
}

function unexplained(misfit: number): CannotTell {
  return new CannotTell(
    `the pictures are not explained by a mirror, its focus and the air; another star, one that moved, a branch, a dirty flat, a squeezed copy? What the fit leaves is ${
      (100 * misfit).toFixed(1)
    } % of the pictures' contrast, where ${100 * MOST_MISFIT} % is the most`,
  );
}

function refuseUnexplained(fit: StarFit): void {
  const misfit = misfitOf(fit);
  if (misfit > MOST_MISFIT) throw unexplained(misfit);
  const scaleU = Math.sqrt(fit.covariance[COMMON.scale * (fit.at.length + 1)] ?? 0);
  if (scaleU > MOST_SCALE_U) {
    throw new CannotTell(
      "the pictures do not show how far out of focus they are, for the air has washed the rings away: " +
        "write into defocus_mm how far the eyepiece was moved from focus, both ways",
    );
  }
}

/** Tracking along its longest line, over the disc's width, that is no more let pass. */
const MOST_SMEAR = 0.4;

function smearOf({ at }: StarFit, n: number): number {
  const own = (key: number): number => at[ownAt(n, key)] as number;
  const xx = own(OWN.shake), xy = own(OWN.shake + 1), yy = own(OWN.shake + 2);
  // a line of even light is sqrt 12 times as long as its standard deviation; what is round is the air's
  const apart = 2 * Math.hypot((xx - yy) / 2, xy);
  return Math.sqrt(12 * apart) / (4 * Math.abs(own(OWN.defocus)));
}

/**
 * Whether both pictures of one side would explain them better. Which side, no picture can say: a wave turned over looks the same.
 *
 * @returns what each term would then differ by, waves, where that explains them as well; else nothing
 */
function refuseOneSide(
  test: StarPairTest,
  stamps: readonly StarStamp[],
  fit: StarFit,
): readonly number[] {
  const photos = test.photos.map((photo) => ({ ...photo, side: "outside" as const }));
  const [guess] = guessesFor({ ...test, photos });
  if (guess === undefined) return [];
  const defocus = photos.map((_, n) => {
    const waves = Math.abs(fit.at[ownAt(n, OWN.defocus)] as number);
    return [waves, 0.15 * waves] as const;
  });
  const tried = beginStars(stamps, { ...guess, defocus });
  if (tried.scatter >= AS_WELL * fit.scatter) return [];
  if (tried.scatter >= ONE_SIDE * fit.scatter) {
    return STAR_TERMS.map((_, i) => (tried.at[i] as number) - (fit.at[i] as number));
  }
  if (tried.scatter / fit.contrast > DOUBTED) throw unexplained(misfitOf(fit));
  throw new CannotTell(
    `both photographs look as if taken on the same side of focus, for so the fit leaves ${
      (100 * tried.scatter / fit.contrast).toFixed(1)
    } % of their contrast and ${
      (100 * misfitOf(fit)).toFixed(1)
    } % as they are told: take one on each side, and look which way the eyepiece was moved`,
  );
}

function told(
  fit: StarFit,
  { aperture, wavelength, fromDistance, count, otherwise }: {
    readonly otherwise: readonly number[];
    readonly aperture: number;
    readonly wavelength: number;
    readonly fromDistance: number;
    readonly count: number;
  },
): StarPairFigure {
  const { at, covariance } = fit,
    size = at.length,
    unit = (wavelength * 1e-6 * ARCSEC) / (aperture / 2);
  const covered = (a: number, b: number): number => covariance[a * size + b] ?? 0;
  const airs = Array.from({ length: count }, (_, n) => Math.exp(at[ownAt(n, OWN.air)] as number));
  // (D / r0)^(5/3) is the exponent at half the width, by 3.44, times 2^(5/3)
  const strength = airs.reduce((sum, air) => sum + (air / 3.44) * 2 ** (5 / 3), 0) / count;
  const ofAir = (n: number): number =>
    ((AIR_OF_TERM[n] ?? 0) * strength) / (LOOKS * count) / (2 * Math.PI) ** 2;
  const edge = at[SHARED - 1] as number;
  const ofEdge = (n: number, m: number): number =>
    n >= 4 && m === 0 ? (EDGE_ON_SPHERICAL * edge) ** 2 : 0;
  const ofWander = (n: number, m: number): number =>
    n === 3 && Math.abs(m) === 1 ? WANDER_ON_COMA ** 2 : 0;
  const all = STAR_TERMS.map(({ n, m }, i) =>
    STAR_TERMS.map((_, j) =>
      covered(i, j) +
      (i === j ? ofAir(n) + ofEdge(n, m) + ofWander(n, m) + (otherwise[i] ?? 0) ** 2 : 0)
    )
  );
  const amounts = STAR_TERMS.map(({ n, m }, i) =>
    (at[i] as number) - (n === 4 && m === 0 ? fromDistance : 0)
  );
  const indexOf = (n: number, m: number): number =>
    STAR_TERMS.findIndex((term) => term.n === n && term.m === m);
  const directed = (n: number, m: number): Directed => {
    const c = indexOf(n, m), s = indexOf(n, -m);
    return directedOf([amounts[c] ?? 0, amounts[s] ?? 0], [
      all[c]?.[c] ?? 0,
      all[c]?.[s] ?? 0,
      all[s]?.[s] ?? 0,
    ], m);
  };
  const one = (k: number): Measured => measured(at[k] as number, Math.sqrt(covered(k, k)), "wave");
  const spherical = indexOf(4, 0);
  return {
    spherical: measured(
      amounts[spherical] ?? 0,
      Math.sqrt(all[spherical]?.[spherical] ?? 0),
      "wave",
    ),
    astigmatism: directed(2, 2),
    coma: directed(3, 1),
    threefold: directed(3, 3),
    edge: measured(
      edge,
      Math.hypot(Math.sqrt(covered(SHARED - 1, SHARED - 1)), EDGE_ON_ITSELF * edge),
      "wave",
    ),
    seeing: airs.map((air, n) => {
      const k = ownAt(n, OWN.air), width = unit * seeingOf(air);
      return measured(width, 0.6 * width * Math.sqrt(covered(k, k)), "arcsec");
    }),
    defocus: airs.map((_, n) => one(ownAt(n, OWN.defocus))),
    obstruction: { ...one(COMMON.obstruction), unit: "" },
    fromDistance,
    misfit: misfitOf(fit),
    amounts,
    covariance: all,
  };
}

/** Amount and direction of a pair of components, c cos(m theta) + s sin(m theta), from their covariance. */
export function directedOf(
  [c, s]: readonly [number, number],
  [cc, cs, ss]: readonly [number, number, number],
  m: number,
): Directed {
  const amount = Math.hypot(c, s), u = Math.sqrt((cc + ss) / 2);
  const [p, q] = amount > 0 ? [c / amount, s / amount] : [1, 0];
  const along = Math.sqrt(Math.max(0, p * p * cc + 2 * p * q * cs + q * q * ss));
  const across = Math.sqrt(Math.max(0, q * q * cc - 2 * p * q * cs + p * p * ss));
  const wide = 1.96 * Math.max(along, 0.5 * across);
  return {
    amount: measured(amount, u, "wave"),
    interval95: [amount < 2.45 * u ? 0 : Math.max(0, amount - wide), amount + wide],
    direction: measured(
      Math.atan2(s, c) / m,
      Math.min(Math.PI / (m * Math.sqrt(3)), across / Math.max(amount, 1e-12) / m),
      "rad",
    ),
  };
}

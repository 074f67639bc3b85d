/** A photograph of bands in, the figure of the mirror out, with how surely it is known. */
import { type Measured, measured } from "../quantity/measured.ts";
import { fitPixels, type PhotoFit } from "./photoFit.ts";
import { lookOver, type PhotoRemark } from "./photoCheck.ts";
import { type GreyImage, requireImage } from "./photoImage.ts";
import { offsetOf } from "./photoFocus.ts";
import { OWN, OWN_COUNT } from "./photoModel.ts";
import { type PhotoNumbers, photoNumbers } from "./photoNumbers.ts";
import { findOutline, type Outline } from "./photoOutline.ts";
import { type PhotoPixels, pixelsOf } from "./photoPixels.ts";
import { rayAtGrating, type RonchiSetUp } from "./ronchi.ts";
import { type Verdict, verdictOf } from "./verdict.ts";

/** One photograph of the mirror through the grating, upright, as seen from the grating. */
export interface RonchiPhoto {
  readonly image: GreyImage;
  readonly linesPerMm: number;
  /** grating from the centre of curvature, mm, + = farther from the mirror; its sign is needed, its size is a start */
  readonly offset: number;
  /** standard uncertainty of it, mm; default 0.5 */
  readonly offsetU?: number;
  /** exponent of the camera's curve where it is known; default: fitted, beginning at 2.2 */
  readonly gamma?: number;
  /** the mirror in the picture, pixels; default: found */
  readonly outline?: Outline;
}

export interface PhotoTest {
  /** of one mirror; those of different sides or turns of the grating show more than one alone */
  readonly photos: readonly RonchiPhoto[];
  /** the disc's width and the bevel's on the face, mm */
  readonly aperture: number;
  readonly bevel: number;
  /** paraxial radius of curvature, mm */
  readonly radius: number;
  readonly setUp: RonchiSetUp;
  /** nm; default 550 */
  readonly wavelength?: number;
  /** P-V on the glass, waves; default 1/8 */
  readonly goalSurfaceWaves?: number;
  /** default paraboloid */
  readonly reference?: "paraboloid" | "sphere";
  /** of the random draws; default 1 */
  readonly seed?: number;
}

/** What one photograph turned out to be. */
export interface PhotoSeen {
  /** the mirror in the picture as given, pixels */
  readonly outline: Outline;
  /** what could be better about it */
  readonly remarks: readonly PhotoRemark[];
  /** mm from the centre of curvature of the conic that fits the whole figure best */
  readonly offset: Measured;
  /** rad, counter-clockwise */
  readonly turn: Measured;
  /** exponent of the camera's curve */
  readonly gamma: number;
  /** the mirror's face as it was looked at and as the fit has it, 0 to 1, `across` pixels in a row; NaN where not looked at */
  readonly face: {
    readonly across: number;
    readonly photo: Float64Array;
    readonly fit: Float64Array;
  };
  /** scatter of a pixel about the fit over the spread of the picture: 0 perfect, 1 nothing explained */
  readonly misfit: number;
}

export interface PhotoFigure extends PhotoNumbers {
  readonly reference: "paraboloid" | "sphere";
  readonly focus: "least rms";
  /** mm */
  readonly judgedAperture: number;
  readonly verdict: Verdict;
  readonly photos: readonly PhotoSeen[];
  /** what the picture shows beside a conic: each term's amount, nm of glass */
  readonly terms: readonly { readonly name: string; readonly amounts: readonly Measured[] }[];
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
  readonly fit: PhotoFit;
}

/** Relative uncertainty of grating pitch and mirror width together (COMMON PRACTICE of good gratings and rulers). */
const SCALE_U = 0.004;

/** What a single photograph leaves open is told; no number here holds it. */
const UNSEEN =
  "no astigmatism: one photograph cannot tell it from focus or from a turned grating; turn the mirror by a quarter and take another";

/**
 * Reduces photographs of Ronchi bands to the figure of the mirror.
 *
 * Outline of the mirror -> pixels of its face -> one model of light for all of them (`brightness`: mirror, offset, turn and
 * place of the grating, uneven light, fog, the camera's curve) -> least squares over the whole picture, never over the
 * edges or middles of bands -> shapes beside the conic only while the evidence is for them -> numbers as the zone test gives.
 *
 * @param test  photographs and bench
 * @throws {RangeError} with the reason, in words for the maker, where a photograph cannot tell
 * @see Malacara, Optical Shop Testing, Ronchi chapter (from memory); the route is this kit's own
 * @example a picture without a mirror is refused
 * ```ts
 * import assert from "node:assert/strict";
 * const image = { width: 64, height: 48, values: new Float32Array(64 * 48).fill(0.4) };
 * const bench = { aperture: 150, bevel: 1, radius: 2400, setUp: "same grating" } as const;
 * assert.throws(
 *   () => reducePhotos({ ...bench, photos: [{ image, linesPerMm: 4, offset: -5 }] }),
 *   /no mirror/,
 * );
 * ```
 */
export function reducePhotos(test: PhotoTest): PhotoFigure {
  const { aperture, bevel, radius, setUp, wavelength = 550, reference = "paraboloid" } = test;
  requireTest(test);
  const half = aperture / 2 - bevel;
  const photos = test.photos.map((photo) => {
    requireImage("reducePhotos", photo.image);
    const outline = photo.outline ?? findOutline(photo.image);
    const bench = { radius, half, setUp, wavelength, linesPerMm: photo.linesPerMm };
    const remarks = lookOver(photo.image, outline, bench, photo.offset);
    const wrong = remarks.find(({ grade }) => grade === "bad");
    if (outline === undefined || wrong !== undefined) throw new RangeError(wrong?.says);
    const stated = {
      offset: photo.offset,
      offsetU: photo.offsetU ?? 0.5,
      ...(photo.gamma === undefined ? {} : { gamma: photo.gamma }),
    };
    return { outline, remarks, pixels: pixelsOf(photo.image, outline, bench, stated) };
  });
  const fit = fitPixels(photos.map(({ pixels }) => pixels));
  const seen = photos.map(({ outline, remarks, pixels }, n) => ({
    ...seenIn(fit, n, outline, pixels),
    remarks,
  }));
  requireTold(fit, seen, photos.map(({ pixels }) => pixels));
  const numbers = photoNumbers(fit, {
    radius,
    half,
    wavelength,
    reference,
    scaleU: SCALE_U,
    goalSurfaceWaves: test.goalSurfaceWaves ?? 1 / 8,
    seed: test.seed ?? 1,
  });
  return {
    ...numbers,
    reference,
    focus: "least rms",
    judgedAperture: 2 * half,
    verdict: verdictOf(numbers.probabilityWithinGoal),
    photos: seen,
    terms: termsOf(fit),
    assumed: [
      `pitch of the grating and width of the mirror known to ${100 * SCALE_U} %`,
      ...(photos.length > 1
        ? ["grating and camera not turned between photographs that look turned alike"]
        : [UNSEEN]),
    ],
    cautions: cautionsOf(test, seen),
    fit,
  };
}

function seenIn(
  fit: PhotoFit,
  n: number,
  outline: Outline,
  pixels: PhotoPixels,
): Omit<PhotoSeen, "remarks"> {
  const own = fit.own[n] as Float64Array, from = fit.size - (fit.own.length - n) * OWN_COUNT;
  const u = (k: number): number =>
    Math.sqrt(Math.max(0, fit.covariance[(from + k) * (fit.size + 1)] ?? 0));
  const offset = offsetOf(fit, n, pixels.bench);
  let left = 0, spread = 0, count = 0, mean = 0;
  pixels.value.forEach((v, i) => {
    if (pixels.weight[i] === 0) return;
    count++;
    mean += v;
    left += (fit.residuals[n]?.[i] ?? 0) ** 2;
  });
  mean /= count;
  pixels.value.forEach((v, i) => spread += pixels.weight[i] === 0 ? 0 : (v - mean) ** 2);
  return {
    outline,
    offset: measured(offset.value, Math.hypot(offset.u, SCALE_U * offset.value), "mm"),
    turn: measured(own[OWN.turn] ?? 0, u(OWN.turn), "rad"),
    gamma: 1 / (own[OWN.power] ?? 1),
    face: faceOf(pixels, fit.residuals[n] ?? new Float64Array(0)),
    misfit: Math.sqrt(left / Math.max(spread, 1e-12)),
  };
}

/** The square around the disc, photograph and fit. */
function faceOf(pixels: PhotoPixels, residuals: Float64Array): PhotoSeen["face"] {
  const { x, y, value, outline } = pixels, across = Math.ceil(2 * outline.radius) + 2;
  const left = Math.floor(outline.x - across / 2), top = Math.floor(outline.y - across / 2);
  const photo = new Float64Array(across * across).fill(NaN), fit = photo.slice();
  value.forEach((v, i) => {
    const k = (Math.floor(y[i] ?? 0) - top) * across + Math.floor(x[i] ?? 0) - left;
    photo[k] = v;
    fit[k] = v - (residuals[i] ?? 0);
  });
  return { across, photo, fit };
}

/** Refuses a fit that does not explain its picture, or a picture that does not hold the mirror. */
function requireTold(
  fit: PhotoFit,
  seen: readonly PhotoSeen[],
  pixels: readonly PhotoPixels[],
): void {
  const bands = Math.min(...fit.own.map((own, n) => pitchesAcross(fit.conic, own, pixels[n])));
  if (bands < 1.5) {
    throw new RangeError(
      `this photograph holds too few bands to tell the figure: ${
        bands.toFixed(1)
      } from rim to rim; move the grating farther from the centre of curvature, until there are three bands or more`,
    );
  }
  const faint = Math.max(...fit.own.map((own) => own[OWN.fog] ?? 0));
  if (faint > 1.2) {
    throw new RangeError(
      "the stripes in this photograph are too faint: it is out of focus on the mirror, or stray light lies over it",
    );
  }
  const conicU = Math.sqrt(fit.covariance[0] ?? 0),
    isPlain = fit.terms.every((t) => !t.name.startsWith("ring"));
  if (conicU > 0.5 && isPlain) {
    throw new RangeError(
      `this photograph holds too few bands to tell the figure: the conic constant is left open by ${
        conicU.toFixed(1)
      }; go farther from the centre of curvature, until there are three bands or more`,
    );
  }
  const lost = pixels.map(({ weight }) => 1 - weight.reduce((a, b) => a + b, 0) / weight.length);
  const worst = Math.max(...seen.map(({ misfit }) => misfit)), gone = Math.max(...lost);
  if (worst > 0.4 || gone > 0.25) {
    throw new RangeError(
      worst > 0.4
        ? `this photograph is not explained by any mirror: ${
          Math.round(100 * worst * worst)
        } % of its light and dark is left over; is it in focus on the mirror, without reflections, and is the grating's pitch right?`
        : `too much of the mirror is covered in this photograph: ${
          Math.round(100 * gone)
        } % of it does not go with the rest`,
    );
  }
}

/** Pitches of the pattern from one rim to the other, for the bare conic. */
function pitchesAcross(conic: number, own: Float64Array, pixels: PhotoPixels | undefined): number {
  if (pixels === undefined) return 0;
  const { bench } = pixels, { half, radius } = bench;
  const setting = { ...bench, surface: { radius, conic }, offset: own[OWN.offset] ?? 0 };
  const orders = Array.from(
    { length: 41 },
    (_, k) => rayAtGrating(half * (k / 20 - 1), 0, setting).across * bench.linesPerMm,
  );
  return Math.max(...orders) - Math.min(...orders);
}

function termsOf(fit: PhotoFit): PhotoFigure["terms"] {
  let at = 1;
  return fit.terms.map(({ name, detail, shapes }) => ({
    name: detail === undefined ? name : `${name}, ${detail}`,
    amounts: shapes.map(() => {
      const u = Math.sqrt(fit.covariance[at * (fit.size + 1)] ?? 0);
      return measured(fit.amounts[at++ - 1] ?? 0, u, "nm");
    }),
  }));
}

function cautionsOf(test: PhotoTest, seen: readonly PhotoSeen[]): string[] {
  const cautions: string[] = [];
  seen.forEach(({ offset }, n) => {
    const photo = test.photos[n], u = Math.hypot(photo?.offsetU ?? 0.5, offset.u);
    const off = offset.value - (photo?.offset ?? 0);
    if (Math.abs(off) > 3 * u) {
      cautions.push(
        `the bands say the grating stood at ${offset.value.toFixed(2)} mm, the record ${
          (photo?.offset ?? 0).toFixed(2)
        } mm: is the pitch right, and the lamp where the record says?`,
      );
    }
  });
  const [first, second] = seen;
  if (first !== undefined && second !== undefined) {
    const stated = (test.photos[1]?.offset ?? 0) - (test.photos[0]?.offset ?? 0);
    const told = second.offset.value - first.offset.value, ratio = told / stated;
    const u = Math.hypot(test.photos[0]?.offsetU ?? 0.5, test.photos[1]?.offsetU ?? 0.5);
    if (Math.abs(told - stated) > 3 * u) {
      cautions.push(
        `between the photographs the grating went ${stated.toFixed(1)} mm by the record and ${
          told.toFixed(1)
        } mm by the bands, ${
          ratio.toFixed(2)
        } times as far: look at the grating's lines for each mm`,
      );
    }
  }
  return cautions;
}

function requireTest({ photos, aperture, bevel, radius, wavelength = 550 }: PhotoTest): void {
  const sound = photos.length > 0 && bevel >= 0 && aperture > 2 * bevel && radius > aperture &&
    wavelength > 0 && Number.isFinite(radius * wavelength) &&
    photos.every(({ linesPerMm, offset, offsetU = 0.5, gamma = 2.2 }) =>
      linesPerMm > 0 && Math.abs(offset) < radius / 4 && offsetU > 0 && gamma > 0.3 && gamma < 5
    );
  if (sound) return;
  throw new RangeError(
    `reducePhotos requires a photograph, 0 <= bevel < aperture / 2, radius > aperture in mm, linesPerMm above 0, an offset ` +
      `under a quarter of the radius and a gamma from 0.3 to 5, got ${photos.length} photographs, aperture=${aperture}, ` +
      `bevel=${bevel}, radius=${radius}`,
  );
}

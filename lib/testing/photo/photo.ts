/** A photograph of bands in, the figure of the mirror out, with how surely it is known. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { type Measured, measured } from "../../quantity/measured.ts";
import type { FigureNumbers } from "../figureNumbers.ts";
import type { SurfaceTerms } from "../surfaceTerms.ts";
import { type Verdict, verdictOf } from "../zones/zoneFigure.ts";
import { shareOf } from "./photoWeights.ts";
import { lookOver } from "./photoCheck.ts";
import { fitPixels, type PhotoFit } from "./photoFit.ts";
import { type PhotoTest, requireTest } from "./photoGiven.ts";
import { requireImage } from "./photoImage.ts";
import { cautionsOf, photoNumbers, requireTold } from "./photoNumbers.ts";
import { findOutline } from "./photoOutline.ts";
import { pixelsOf } from "./photoPixels.ts";
import { type PhotoSeen, SCALE_U, seenIn } from "./photoSeen.ts";
import { bothSidesTwice, type MissingView, missingViews } from "./photoViews.ts";

/** What photographs of the Ronchi bands tell of a mirror. */
export interface PhotoFigure extends FigureNumbers {
  /** shape that the figure is judged against */
  readonly reference: "paraboloid" | "sphere";
  /** how the focus of the numbers is chosen */
  readonly focus: "least rms";
  /** mm */
  readonly judgedAperture: number;
  /** "yes" and "no" only where the probability is sure enough */
  readonly verdict: Verdict;
  /** how well each photograph can be read */
  readonly photos: readonly PhotoSeen[];
  /** views that are still missing for the whole surface; empty where both sides of focus and two turns are there */
  readonly missing: readonly MissingView[];
  /** what the picture surely shows beside a conic: amounts, nm of glass; of a turned edge its height at the rim */
  readonly terms: readonly { readonly name: string; readonly amounts: readonly Measured[] }[];
  /** terms that other tests see too, as if the mark stood at the picture's top; those with a direction only tell where no view is missing */
  readonly seen: SurfaceTerms;
  /** turn of the axes that `terms` are told in, rad counter-clockwise from the picture's right: across the first photograph's lines */
  readonly axes: number;
  /** what was taken for granted, a sentence each */
  readonly assumed: readonly string[];
  /** what looks unlikely or weak, a sentence each */
  readonly cautions: readonly string[];
  /** the fitted mirror, for pictures */
  readonly fit: PhotoFit;
}

/** What a single photograph leaves open is told; no number here holds it. */
const UNSEEN =
  "no astigmatism: one photograph cannot tell it from focus or from a turned grating; take another from the other side of focus, and both again with the grating turned by 45 degrees";

/** What photographs with the lines one way leave open. */
const UPRIGHT_UNSEEN =
  "no astigmatism along or across the lines: it looks like focus; take them again, from both sides of focus, with the grating turned by 45 degrees";

/**
 * One photograph never shows that a goal is met: what it cannot see may be worse than what it sees. Its probability is this at most
 * (INVENTED, below what a yes needs).
 */
export const ALONE_AT_MOST = 0.9;

/**
 * Reduces photographs of Ronchi bands to the figure of the mirror.
 *
 * Outline of the mirror -> pixels of its face -> one model of light for all of them (`brightness`: mirror, offset, turn and
 * place of the grating, uneven light, fog, the camera's curve) -> least squares over the whole picture, never over the
 * edges or middles of bands -> shapes beside the conic, each set of kinds as likely as the picture makes it -> numbers as the zone
 * test gives.
 *
 * @param test  photographs and bench
 * @throws {CannotTell} with the reason, in words for the maker, where a photograph cannot tell
 * @see Malacara, Optical Shop Testing, Ronchi chapter (two other makers of pictures: tests/testing/photoOther.ts, photoLight.ts); the route is this kit's own
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
    const bad = remarks.filter(({ grade }) => grade === "bad");
    // a disc out of focus looks larger than it is, and then cut off or dark in parts
    const wrong = bad.find(({ about }) => about === "focus") ?? bad[0];
    if (outline === undefined || wrong !== undefined) throw new CannotTell(wrong?.says);
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
  const views = seen.map(({ offset, turn }) => ({ offset: offset.value, turn: turn.value }));
  const probability = seen.length > 1
    ? numbers.probabilityWithinGoal
    : Math.min(numbers.probabilityWithinGoal, ALONE_AT_MOST);
  return {
    ...numbers,
    probabilityWithinGoal: probability,
    reference,
    focus: "least rms",
    judgedAperture: 2 * half,
    verdict: verdictOf(probability),
    missing: missingViews(views),
    photos: seen,
    terms: termsOf(fit),
    axes: fit.axes,
    assumed: [
      `pitch of the grating and width of the mirror known to ${100 * SCALE_U} %`,
      ...(photos.length > 1
        ? ["grating and camera not turned between photographs that look turned alike"]
        : [UNSEEN]),
      ...(photos.length > 1 && !bothSidesTwice(views) ? [UPRIGHT_UNSEEN] : []),
    ],
    cautions: cautionsOf(test, seen),
    fit,
  };
}

/** How likely a kind of shape must be to be named. */
const SURELY = 0.9;

function termsOf(fit: PhotoFit): PhotoFigure["terms"] {
  const told: { name: string; amounts: Measured[] }[] = [];
  const amountOf = (places: readonly number[]): Measured => {
    const value = places.reduce((sum, p) => sum + (fit.amounts[p] as number), 0);
    let variance = 0;
    for (const a of places) {
      for (const b of places) variance += fit.covariance[(a + 1) * fit.size + b + 1] as number;
    }
    return measured(value, Math.sqrt(Math.max(0, variance)), "nm");
  };
  let at = 0;
  const edge: number[] = [];
  for (const { name, kind, detail, shapes } of fit.terms) {
    const places = shapes.map((_, k) => at + k);
    at += shapes.length;
    if (shareOf(fit.weightedModels, kind) < SURELY) continue;
    if (kind === "edge") edge.push(...places);
    else {
      const amounts = places.map((p) => amountOf([p]));
      told.push({ name: detail === undefined ? name : `${name}, ${detail}`, amounts });
    }
  }
  // edges of several widths together are one edge: its height at the rim is their sum
  if (edge.length > 0) told.unshift({ name: "turned edge", amounts: [amountOf(edge)] });
  return told;
}

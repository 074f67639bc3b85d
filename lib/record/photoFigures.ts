/** The figure of the mirror from each photograph of bands, as summary.json holds it. */
import type { Measured } from "../quantity/measured.ts";
import { type PhotoFigure, reducePhotos } from "../testing/photo.ts";
import type { GreyImage } from "../testing/photoImage.ts";
import { judgingRadius } from "./figureSummary.ts";
import { exactQ, toQ } from "./q.ts";
import type { CurveSummary, FigureSummary, VerdictSummary } from "./summaryTypes.ts";
import type { MirrorRecord, RonchiRow, Warning } from "./types.ts";

/** Photographs, decoded, by their path inside the record. */
export type DecodedPhotos = ReadonlyMap<string, GreyImage>;

/** What the photographs of a record say. */
export interface PhotosFound {
  /** one for each row of ronchi.csv, in its order */
  readonly figures: readonly FigureSummary[];
  /** of the first photograph that could be reduced, for a mirror without zone readings */
  readonly verdict?: VerdictSummary;
  readonly warnings: readonly Warning[];
}

/**
 * Reduces one row's photograph with the record's own bench.
 *
 * @throws {RangeError} with the reason where the photograph cannot tell
 */
export function reducePhotoRow(
  { settings }: MirrorRecord,
  row: RonchiRow,
  image: GreyImage,
  radius: number,
): PhotoFigure {
  const { aperture, bevel, goal, tester } = settings;
  return reducePhotos({
    photos: [{
      image,
      linesPerMm: row.linesPerMm,
      offset: row.offset,
      ...(row.offsetU === undefined ? {} : { offsetU: row.offsetU }),
      ...(row.gamma === undefined ? {} : { gamma: row.gamma }),
    }],
    aperture,
    bevel,
    radius,
    setUp: tester.ronchi,
    wavelength: goal.wavelength,
    goalSurfaceWaves: goal.surfaceWaves,
    reference: goal.shape === "sphere" ? "sphere" : "paraboloid",
  });
}

/**
 * Figures from all photographs; one that cannot be reduced stands with the reason.
 *
 * @param record  as `readRecord` gives it
 * @param curve   the radius to judge by, where it has been measured
 * @param photos  decoded; a row whose photograph is not among them is passed over
 * @param zones   the figure from the zones, to compare with
 */
export function photoFigures(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
  photos: DecodedPhotos,
  zones?: FigureSummary,
): PhotosFound {
  const radius = judgingRadius(record, curve), figures: FigureSummary[] = [];
  const warnings: Warning[] = [];
  let verdict: VerdictSummary | undefined;
  for (const row of record.ronchi) {
    const image = photos.get(row.photo), place = { file: row.file, line: row.line };
    if (image === undefined) continue;
    try {
      const found = reducePhotoRow(record, row, image, radius);
      figures.push(toSummary(row.photo, found));
      verdict ??= verdictFrom(found);
      warnings.push(...found.cautions.map((message) => ({ ...place, message })));
      const apart = disagreement(row.photo, found, zones);
      if (apart !== undefined) warnings.push({ ...place, message: apart });
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      figures.push({ photo: row.photo, refused: error.message });
      warnings.push({ ...place, message: `not reduced: ${error.message}` });
    }
  }
  return { figures, warnings, ...(verdict === undefined ? {} : { verdict }) };
}

function verdictFrom(
  { verdict, probabilityWithinGoal, wavefrontPv, interval95 }: PhotoFigure,
): VerdictSummary {
  const [low, high] = interval95.wavefrontPv.map((v) => v.toFixed(3));
  return {
    meets_goal: verdict,
    probability: probabilityWithinGoal,
    why: `from a photograph of bands: wavefront P-V ${
      wavefrontPv.value.toFixed(3)
    } waves, 95 % between ${low} and ${high}; what one photograph cannot see is not in it`,
  };
}

/** A sentence where photograph and zones part by more than both allow. */
function disagreement(
  photo: string,
  found: PhotoFigure,
  zones?: FigureSummary,
): string | undefined {
  const { conic } = zones ?? {};
  if (conic === undefined) return undefined;
  const apart = found.conic.value - conic.value;
  if (Math.abs(apart) <= 3 * Math.hypot(found.conic.u, conic.u ?? 0)) return undefined;
  return `${photo} says K ${found.conic.value.toFixed(2)}, the zones ${
    conic.value.toFixed(2)
  }: more apart than both allow; is the lamp where the record says, the grating's pitch right, the zero of both tests the same day?`;
}

function inDegrees({ value, u }: Measured): Measured {
  const turn = 180 / Math.PI;
  return { value: value * turn, u: u * turn, dof: Infinity, unit: "deg" };
}

function toSummary(photo: string, found: PhotoFigure): FigureSummary {
  const from = ["ronchi.csv"], { interval95 } = found, [seen] = found.photos;
  return {
    photo,
    conic: toQ(found.conic, from),
    surface_pv: toQ(found.surfacePv, from),
    surface_rms: toQ(found.surfaceRms, from),
    wavefront_pv: toQ(found.wavefrontPv, from),
    wavefront_rms: toQ(found.wavefrontRms, from),
    strehl: toQ(found.strehl, from),
    reference: found.reference,
    focus: found.focus,
    judged_aperture: exactQ(found.judgedAperture, "mm"),
    ...(seen === undefined ? {} : {
      offset: toQ(seen.offset, from),
      tilt: toQ(inDegrees(seen.turn), from),
    }),
    ...(found.terms.length === 0 ? {} : {
      terms: found.terms.map(({ name, amounts }) => ({
        name,
        amounts: amounts.map((amount) => toQ(amount)),
      })),
    }),
    profile: found.profile.map(({ radius, surfaceError, u }) => ({
      radius,
      surface_error: surfaceError,
      u,
    })),
    interval_95: {
      wavefront_pv: interval95.wavefrontPv,
      wavefront_rms: interval95.wavefrontRms,
      strehl: interval95.strehl,
      conic: interval95.conic,
    },
    probability_within_goal: found.probabilityWithinGoal,
  };
}

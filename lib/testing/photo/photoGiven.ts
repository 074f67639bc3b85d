/** What the reduction of photographs is given: the photographs, and the bench they were taken on. */
import type { GreyImage } from "./photoImage.ts";
import type { Outline } from "./photoOutline.ts";
import type { RonchiSetUp } from "../bands/ronchi.ts";

/** One photograph of the mirror through the grating, upright, as seen from the grating. */
export interface RonchiPhoto {
  /** the photograph */
  readonly image: GreyImage;
  /** of the grating */
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

/** Photographs of a mirror's Ronchi bands, and what is known beside them. */
export interface PhotoTest {
  /** of one mirror; those of different sides or turns of the grating show more than one alone */
  readonly photos: readonly RonchiPhoto[];
  /** the disc's width and the bevel's on the face, mm */
  readonly aperture: number;
  /** of the bevel on the face, mm */
  readonly bevel: number;
  /** paraxial radius of curvature, mm */
  readonly radius: number;
  /** which way light and grating stand */
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

export function requireTest(
  { photos, aperture, bevel, radius, wavelength = 550 }: PhotoTest,
): void {
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

/** The image of a wide thing, a planet say: every frequency of it weakened as the mirror and the air weaken it. */
import { squareFft } from "../numeric/fft.ts";
import { contrastAt } from "./contrast.ts";
import type { Picture } from "./starImage.ts";

/** What stands between the thing and its image. */
export interface SeenThrough {
  /** of the mirror, mm */
  readonly aperture: number;
  /** nm; default 550 */
  readonly wavelength?: number;
  /** width of the flat over the aperture, 0 to below 1; default 0 */
  readonly obstruction?: number;
  /** wavefront at q = (r/a)^2, waves; default a perfect mirror */
  readonly waves?: (q: number) => number;
  /** width of a star's blur by the air at half its height, arcseconds; default 0, still air */
  readonly seeingArcsec?: number;
}

const ARCSEC = (180 * 3600) / Math.PI, STEPS = 64;
/** Full width at half height of a bell, over its standard width. */
const HALF_WIDTH = Math.sqrt(8 * Math.log(2));

/** Contrast kept at a frequency, cycles an arcsecond: mirror times air. */
function transfer(through: SeenThrough): (perArcsec: number) => number {
  const { aperture, wavelength = 550, obstruction = 0, waves, seeingArcsec = 0 } = through;
  const cutoff = aperture / (wavelength * 1e-6) / ARCSEC, sigma = seeingArcsec / HALF_WIDTH;
  const table = Float64Array.from(
    { length: STEPS + 1 },
    (_, i) => contrastAt(i / STEPS, obstruction, waves),
  );
  return (perArcsec) => {
    const share = (STEPS * perArcsec) / cutoff, i = Math.floor(share);
    if (i >= STEPS) return 0;
    const mirror = (table[i] ?? 0) + (share - i) * ((table[i + 1] ?? 0) - (table[i] ?? 0));
    return mirror * Math.exp(-2 * (Math.PI * sigma * perArcsec) ** 2);
  };
}

/**
 * The image of a scene through a mirror and the air, for a wavefront that depends on the radius only.
 *
 * Light that leaves one side of the picture comes in at the other: leave a dark margin of a few blur widths.
 *
 * @param scene           square, its size a power of two; brightness of any unit
 * @param arcsecPerPixel  above 0
 * @param through         aperture above 0 mm; see `SeenThrough`
 * @returns the same picture, as bright on the whole
 * @throws {RangeError} outside those ranges
 * @see the image's spectrum is the thing's times the transfer function: Goodman, Fourier Optics, chapter 6 (beside Hankel's integral in its test)
 * @example bad air makes a point wide and faint
 * ```ts
 * import assert from "node:assert/strict";
 * const values = new Float64Array(64 * 64);
 * values[32 * 64 + 32] = 1;
 * const still = extendedImage({ size: 64, values }, 0.2, { aperture: 150 });
 * const blurred = extendedImage({ size: 64, values }, 0.2, { aperture: 150, seeingArcsec: 3 });
 * assert.ok((blurred.values[2080] ?? 0) < 0.2 * (still.values[2080] ?? 0));
 * ```
 */
export function extendedImage(
  scene: Picture,
  arcsecPerPixel: number,
  through: SeenThrough,
): Picture {
  const { size, values } = scene, { aperture, wavelength = 550, seeingArcsec = 0 } = through;
  const ok = values.length === size * size && arcsecPerPixel > 0 && aperture > 0 &&
    wavelength > 0 && seeingArcsec >= 0 && Number.isFinite(aperture + wavelength + seeingArcsec);
  if (!ok) {
    throw new RangeError(
      `extendedImage requires a square scene, aperture, wavelength and arcsecPerPixel above 0, seeing of 0 or more, got ` +
        `${values.length} values for ${size}, ${aperture}, ${wavelength}, ${arcsecPerPixel}, ${seeingArcsec}`,
    );
  }
  const kept = transfer(through),
    re = Float64Array.from(values),
    im = new Float64Array(size * size);
  const plan = squareFft(size);
  plan.forward(re, im);
  const frequency = (k: number): number => (k < size / 2 ? k : k - size) / (size * arcsecPerPixel);
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      // rows are columns now: the blur is the same both ways
      const share = kept(Math.hypot(frequency(row), frequency(column))), i = row * size + column;
      re[i] = (re[i] as number) * share;
      im[i] = (im[i] as number) * share;
    }
  }
  plan.inverse(re, im);
  return { size, values: re };
}

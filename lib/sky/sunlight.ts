/** Why a mirror and the Sun never meet without a leader: power and glow at the focus. */

/** Sunlight gathered by a mirror. */
export interface Gathered {
  /** W that fall on the glass */
  readonly power: number;
  /** width of the Sun's image, mm */
  readonly image: number;
  /** kW/m^2 in the image, for the reflectance given */
  readonly kwPerM2: number;
}

/**
 * Sunlight in the focus.
 *
 * @param mirror       aperture and focal length, mm; above 0
 * @param reflectance  0.9 coated, 0.042 bare glass; 0 to 1
 * @param wPerM2       sunlight at the ground; default 900, a clear day
 * @param sunArcsec    width of the Sun; default 1919.3, its mean
 * @throws {RangeError} outside those ranges
 * @example bare glass burns too
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sunlightAtFocus({ aperture: 150, focalLength: 1200 }, 0.0421).kwPerM2.toFixed(1), "6.8");
 * ```
 */
export function sunlightAtFocus(
  mirror: { readonly aperture: number; readonly focalLength: number },
  reflectance: number,
  wPerM2 = 900,
  sunArcsec = 1919.3,
): Gathered {
  const { aperture, focalLength } = mirror;
  const ok = aperture > 0 && focalLength > 0 && reflectance >= 0 && reflectance <= 1 &&
    wPerM2 >= 0 && sunArcsec > 0 && Number.isFinite(aperture * focalLength);
  if (!ok) {
    throw new RangeError(
      `sunlightAtFocus requires lengths above 0 mm and reflectance from 0 to 1, got aperture=${aperture}, ` +
        `focalLength=${focalLength}, reflectance=${reflectance}`,
    );
  }
  const power = (wPerM2 * Math.PI * (aperture / 1000) ** 2) / 4;
  const image = focalLength * ((sunArcsec * Math.PI) / (180 * 3600));
  const area = (Math.PI * (image / 1000) ** 2) / 4;
  return { power, image, kwPerM2: (power * reflectance) / area / 1000 };
}

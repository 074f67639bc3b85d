/** What the eye sees behind the knife: the mirror's shadow picture, by rays. */
import {
  type Conic,
  conicHeight,
  conicSlope,
  type Source,
  type SurfaceError,
} from "../../optics/conic.ts";

/** A mirror before a knife-edge. */
export interface KnifeSetting {
  /** the ideal face */
  readonly surface: Conic;
  /** half the aperture, mm */
  readonly half: number;
  /** glass above the conic, nm; default none */
  readonly error?: SurfaceError;
  /** whether the lamp moves with the knife */
  readonly source: Source;
  /** knife from the paraxial centre of curvature along the axis, mm, + = farther from the mirror */
  readonly knife: number;
  /** knife's edge across the axis, mm; light on its + side passes; default 0 */
  readonly across?: number;
  /** width of the slit's image, mm; default 0.01 */
  readonly slit?: number;
}

/** Brightness over the mirror's face, row after row, 1 = unshadowed; NaN outside the aperture. */
export interface ShadowPicture {
  /** pixels on a side */
  readonly size: number;
  /** brightness of each pixel */
  readonly values: Float64Array;
}

/**
 * Where a ray from the point (x, y) of the mirror meets the knife's plane, across the edge.
 *
 *     X = x (c - L) / (c - z),  c where the ray crosses the axis, L = R + knife
 *
 * @param x  across the knife's edge, mm
 * @param r  distance of the point from the axis, mm; above 0
 * @param setting  mirror and knife
 * @returns mm; evenly grey zones have 0
 * @example inside the centre of a sphere light has not crossed over yet
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = { surface: { radius: 2400, conic: 0 }, half: 75, source: "fixed", knife: -5 } as const;
 * assert.equal(rayAtKnife(75, 75, setting).toFixed(6), "0.156326");
 * ```
 */
export function rayAtKnife(x: number, r: number, setting: KnifeSetting): number {
  const { surface, source, error } = setting, at = surface.radius + setting.knife;
  const step = 1e-3 * setting.half;
  const tilt = error === undefined
    ? 0
    : ((error(r + step) - error(Math.abs(r - step))) * 1e-6) / (2 * step);
  const z = conicHeight(r, surface) + (error?.(r) ?? 0) * 1e-6;
  const normal = Math.atan(conicSlope(r, surface) + tilt);
  const lamp = source === "moves" ? at : surface.radius;
  const crossing = z + r / Math.tan(2 * normal - Math.atan2(r, lamp - z));
  return (x * (crossing - at)) / (crossing - z);
}

/**
 * Shadow picture by rays: each point is bright as far as its piece of the slit's image clears the knife.
 *
 * @param setting  mirror and knife
 * @param size     pixels across, 3 or more; default 129
 * @throws {RangeError} where sizes are not above 0
 * @example a knife through the centre of a sphere greys it evenly
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = { surface: { radius: 2400, conic: 0 }, half: 75, source: "fixed", knife: 0 } as const;
 * const picture = shadowByRays(setting, 11);
 * assert.ok(picture.values.every((v) => Number.isNaN(v) || Math.abs(v - 0.5) < 1e-6));
 * ```
 */
export function shadowByRays(setting: KnifeSetting, size = 129): ShadowPicture {
  const { half, across = 0, slit = 0.01 } = setting;
  requireSetting("shadowByRays", setting, size);
  const values = new Float64Array(size * size).fill(NaN);
  each(size, half, (x, y, k) => {
    const r = Math.max(Math.hypot(x, y), 1e-6 * half);
    const clear = 0.5 + (rayAtKnife(x, r, setting) - across) / slit;
    values[k] = Math.min(1, Math.max(0, clear));
  });
  return { size, values };
}

function each(size: number, half: number, f: (x: number, y: number, k: number) => void): void {
  for (let k = 0; k < size * size; k++) {
    const x = half * ((2 * (k % size) + 1) / size - 1),
      y = half * ((2 * Math.floor(k / size) + 1) / size - 1);
    if (x * x + y * y < half * half) f(x, y, k);
  }
}

function requireSetting(name: string, { half, slit = 1, knife }: KnifeSetting, size: number): void {
  if (
    !(half > 0 && slit > 0 && Number.isFinite(half * slit * knife) && Number.isInteger(size) &&
      size >= 3)
  ) {
    throw new RangeError(
      `${name} requires half and slit above 0 mm, a finite knife and a whole size of 3 or more, ` +
        `got half=${half}, slit=${slit}, knife=${knife}, size=${size}`,
    );
  }
}

/** What the eye sees behind the knife: the mirror's shadow picture, by rays or by diffraction. */
import { type Conic, conicHeight, conicSlope } from "../../optics/conic.ts";
import type { Source } from "../../optics/crossing.ts";
import type { SurfaceError } from "../../optics/wavefront.ts";

export interface KnifeSetting {
  readonly surface: Conic;
  /** half the aperture, mm */
  readonly half: number;
  /** glass above the conic, nm; default none */
  readonly error?: SurfaceError;
  readonly source: Source;
  /** knife from the paraxial centre of curvature along the axis, mm, + = farther from the mirror */
  readonly knife: number;
  /** knife's edge across the axis, mm; light on its + side passes; default 0 */
  readonly across?: number;
  /** width of the slit's image, mm; by rays only; default 0.01 */
  readonly slit?: number;
  /** nm; by diffraction only; default 550 */
  readonly wavelength?: number;
}

/** Brightness over the mirror's face, row after row, 1 = unshadowed; NaN outside the aperture. */
export interface ShadowPicture {
  readonly size: number;
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

/**
 * Shadow picture by diffraction, from a point lamp: half of all directions is stopped, row by row.
 *
 *     behind the knife:  (U + i H[U]) / 2,   H the Hilbert transform along the row
 *
 * Each row is a step-wise field whose Hilbert transform is known exactly, ln|(n + 1/2)/(n - 1/2)| / pi between pixels n
 * apart; no transform wraps round, and the bright rim needs no wide frame. Straight edges only, which is what a knife is.
 *
 * @param setting  mirror and knife; the slit's width is not used
 * @param size     pixels across, 3 or more; default 129; far from focus each is cut into finer steps
 * @throws {RangeError} where sizes are not above 0
 * @see Malacara, Optical Shop Testing, Foucault chapter; Linfoot (from memory)
 * @example the middle of a perfect sphere keeps a quarter of its light
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = { surface: { radius: 2400, conic: 0 }, half: 75, source: "fixed", knife: 0 } as const;
 * assert.equal(shadowByDiffraction(setting, 101).values[50 * 101 + 50]?.toFixed(6), "0.250000");
 * ```
 */
export function shadowByDiffraction(setting: KnifeSetting, size = 129): ShadowPicture {
  requireSetting("shadowByDiffraction", setting, size);
  const fine = finePieces(setting, size), count = size * fine;
  const kernel = Float64Array.from(
    { length: count + 1 },
    (_, n) => n === 0 ? 0 : Math.log((n + 0.5) / (n - 0.5)) / Math.PI,
  );
  const values = new Float64Array(size * size).fill(NaN);
  for (let row = 0; row < size; row++) {
    const field = fieldOfRow(setting, count, setting.half * ((2 * row + 1) / size - 1));
    for (let c = 0; c < size; c++) {
      const k = c * fine + (fine - 1) / 2;
      if (field.open[k] === 1) values[row * size + c] = behindKnife(field, k, kernel);
    }
  }
  return { size, values };
}

/** Steps a pixel is cut into, odd: no step may turn the phase by more than a thirtieth of a wave. */
function finePieces(setting: KnifeSetting, size: number): number {
  const { half, across = 0, surface, wavelength = 550, knife } = setting, pitch = (2 * half) / size;
  const tilt = Math.abs(across / (surface.radius + knife));
  let steepest = 0;
  for (let r = pitch; r <= half; r += pitch) {
    steepest = Math.max(
      steepest,
      Math.abs(pathLength(r, setting) - pathLength(r - pitch, setting)) / pitch,
    );
  }
  const waves = ((steepest + tilt) * pitch) / (wavelength * 1e-6);
  return Math.min(2 * Math.ceil(15 * waves) + 1, 41);
}

/** One row of the light at the mirror, step by step; its ends are the chord's, not a step's border. */
interface RowField {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly open: Uint8Array;
  readonly half: number;
  readonly chord: number;
}

function fieldOfRow(setting: KnifeSetting, count: number, y: number): RowField {
  const { half, across = 0, surface, wavelength = 550, knife } = setting;
  const re = new Float64Array(count), im = new Float64Array(count), open = new Uint8Array(count);
  const chord = Math.sqrt(half * half - y * y), wave = wavelength * 1e-6;
  for (let k = 0; k < count; k++) {
    const x = half * ((2 * k + 1) / count - 1);
    if (Math.abs(x) >= chord) continue;
    const path = pathLength(Math.hypot(x, y), setting) - (across * x) / (surface.radius + knife);
    re[k] = Math.cos((2 * Math.PI * path) / wave);
    im[k] = Math.sin((2 * Math.PI * path) / wave);
    open[k] = 1;
  }
  return { re, im, open, half, chord };
}

/** |(U + i H[U]) / 2|^2 at step c. */
function behindKnife(field: RowField, c: number, kernel: Float64Array): number {
  const { re, im, half, chord } = field, count = re.length, x = half * ((2 * c + 1) / count - 1);
  let hr = 0, hi = 0;
  for (let k = 0; k < count; k++) {
    const share = c >= k ? kernel[c - k] as number : -(kernel[k - c] as number);
    hr += share * (re[k] as number);
    hi += share * (im[k] as number);
  }
  const last = Math.floor(((chord / half + 1) * count - 1) / 2 - 1e-9);
  for (const side of [-1, 1]) {
    // what lies between the last step's border and the chord's end, too much or too little
    const k = side > 0 ? last : count - 1 - last;
    if (k === c) continue;
    const border = half * ((2 * k + 1 + side) / count - 1), end = side * chord;
    const share = (side * Math.log(Math.abs((x - border) / (x - end)))) / Math.PI;
    hr += share * (re[k] ?? 0);
    hi += share * (im[k] ?? 0);
  }
  const a = (re[c] as number) - hi, b = (im[c] as number) + hr;
  return (a * a + b * b) / 4;
}

/** Optical path lamp - glass - knife less its value on the axis, as an advance turned about: light at + x leans to + X. */
function pathLength(r: number, { surface, error, source, knife }: KnifeSetting): number {
  const z = conicHeight(r, surface) + (error?.(r) ?? 0) * 1e-6;
  const leg = (distance: number): number => {
    const longer = r * r + z * z - 2 * distance * z;
    return longer / (Math.sqrt(r * r + (distance - z) ** 2) + distance);
  };
  const out = leg(surface.radius + knife);
  return source === "moves" ? 2 * out : out + leg(surface.radius);
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

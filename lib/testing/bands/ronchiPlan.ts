/** Rows of a diffraction picture: how wide, how fine, and what the grating lets through of each direction of light. */
import { type Fft, fftPlan } from "../../numeric/fft.ts";
import { gaussLegendre } from "../../numeric/quadrature.ts";
import { rayAtGrating, requireRonchi, type RonchiSetting } from "./ronchi.ts";

/** Share of a source `wide` pitches across that clear lines let through when its middle lies `u` pitches from one's middle. */
export function clearShare(u: number, clear: number, wide: number): number {
  if (wide === 0) return Math.abs(u) <= clear / 2 ? 1 : 0;
  let light = 0;
  for (let n = -Math.ceil(wide) - 1; n <= Math.ceil(wide) + 1; n++) {
    const overlap = Math.min(u + wide / 2, n + clear / 2) - Math.max(u - wide / 2, n - clear / 2);
    light += Math.max(0, overlap);
  }
  return light / wide;
}

/** Rows ready to be transformed: width and fineness, and the grating as each direction of light meets it. */
export interface RonchiPlan {
  readonly setting: RonchiSetting;
  /** samples in a row, a power of two */
  readonly count: number;
  /** mm from one sample to the next */
  readonly step: number;
  /** largest distance from the axis at the grating that a row can tell, mm */
  readonly reach: number;
  readonly fft: Fft;
  /** the grating's share of each sample of the spectrum, once for every place in the source; none where a closed form does */
  readonly gratings: readonly { readonly weight: number; readonly passes: Float64Array }[];
}

/**
 * Chooses the rows of a diffraction picture and checks them.
 *
 * - fine enough that twice the farthest ray, and two pitches more, lie within the spectrum (or the light would fold over);
 * - wide enough that four apertures fit and the spectrum has sixteen samples to a pitch (or sheared images would come in
 *   from the other side); each sample takes the grating's average over its own width.
 *
 * @param setting  mirror and grating
 * @param pixel    widest step wanted, mm
 * @throws {RangeError} where rows of 65,536 samples do not do
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const plan = ronchiPlan({
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "slit beside", linesPerMm: 4, offset: -5,
 * }, 1);
 * assert.ok(plan.count * plan.step >= 600 && plan.step <= 1 && plan.reach > 1);
 * ```
 */
export function ronchiPlan(setting: RonchiSetting, pixel: number): RonchiPlan {
  requireRonchi("ronchiPlan", setting);
  const { half, linesPerMm, surface, offset, wavelength = 550 } = setting;
  const spread = wavelength * 1e-6 * (surface.radius + offset); // lambda L: turns a direction into a place
  const wanted = 2 * farthestRay(setting) + 2 / linesPerMm;
  const finest = Math.min(pixel, spread / (2 * wanted));
  const width = Math.max(8 * half, 16 * spread * linesPerMm);
  const step = Math.min(finest, width / 16);
  const count = 2 ** Math.ceil(Math.log2(width / step));
  if (count > 65536 || !(pixel > 0)) {
    throw new RangeError(
      `ronchiPlan requires light that rows of 65536 samples can follow and a pixel above 0 mm, got ${count} samples for offset=${offset}, linesPerMm=${linesPerMm}, pixel=${pixel}`,
    );
  }
  const places = isHalfClear(setting) ? [] : sourcePlaces(setting);
  const gratings = places.map(({ place, weight }) => ({
    weight,
    passes: gratingOver(count, spread / (count * step), setting, place),
  }));
  return { setting, count, step, reach: spread / (2 * step), fft: fftPlan(count), gratings };
}

/** The ray that comes to the grating farthest from the axis, on a net over the face. */
function farthestRay(setting: RonchiSetting): number {
  let most = 0;
  for (let ring = 1; ring <= 24; ring++) {
    for (let k = 0; k < 24; k++) {
      const r = (setting.half * ring) / 24, t = (Math.PI * k) / 12;
      const { across } = rayAtGrating(r * Math.cos(t), r * Math.sin(t), setting);
      most = Math.max(most, Math.abs(across));
    }
  }
  return most;
}

export function isHalfClear({ setUp, clear = 0.5 }: RonchiSetting): boolean {
  return setUp === "same grating" && clear === 0.5;
}

/** Places in the source, from the middle of its clear line or slit, mm, and their shares. */
function sourcePlaces(setting: RonchiSetting): { place: number; weight: number }[] {
  const { setUp, clear = 0.5, linesPerMm, slit = 0, shift = 0 } = setting;
  const same = setUp === "same grating", width = same ? clear / linesPerMm : slit;
  if (width === 0) return [{ place: 0, weight: 1 }];
  const { nodes, weights } = gaussLegendre(40);
  return nodes.map((node, i) => ({
    place: (node * width) / 2 + (same ? shift : 0),
    weight: (weights[i] ?? 0) / 2,
  }));
}

/** How much of each sample of the spectrum passes; the image of a source at `place` lies at -place. */
function gratingOver(
  count: number,
  wide: number,
  { clear = 0.5, linesPerMm, shift = 0 }: RonchiSetting,
  place: number,
): Float64Array {
  const passes = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const at = (k < count / 2 ? k : k - count) * wide;
    const order = (at - place - shift) * linesPerMm;
    passes[k] = clearShare(order - Math.round(order), clear, wide * linesPerMm);
  }
  return passes;
}

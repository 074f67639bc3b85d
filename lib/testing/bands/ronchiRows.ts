/** Brightness along one row of the mirror by diffraction: transform, grating, transform back. */
import { pathLength } from "./ronchiPath.ts";
import { isHalfClear, type RonchiPlan } from "./ronchiPlan.ts";

/**
 * A lamp behind lines that are half clear: only the undeviated image and the odd ones next to it keep step, so
 *
 *     |A|^2 mean = sum of c_m^2 |U_m|^2 + 2 Re(U* V),    V = U behind a grating of (triangle - 1/2) / 2
 *
 * U_m the image sheared by m lambda L p, c_m = sinc(m/2)/2.
 */
function rowBehindOwnGrating(plan: RonchiPlan, v: number): Float64Array {
  const { count, step, fft, setting } = plan, light = new Float64Array(count);
  const field = fieldOfRow(plan, v);
  if (field === undefined) return light;
  const { half, linesPerMm, shift = 0 } = setting, chord = Math.sqrt(half * half - v * v);
  const re = field.re.slice(), im = field.im.slice(), spread = plan.reach * 2 * step;
  fft.forward(re, im);
  for (let k = 0; k < count; k++) {
    const at = ((k < count / 2 ? k : k - count) * spread) / (count * step);
    const order = (at - 2 * shift) * linesPerMm,
      triangle = 1 - 2 * Math.abs(order - Math.round(order));
    re[k] = (re[k] as number) * (triangle - 0.5) / 2;
    im[k] = (im[k] as number) * (triangle - 0.5) / 2;
  }
  fft.inverse(re, im);
  const shear = spread * linesPerMm, furthest = Math.ceil((2 * half) / shear);
  for (
    let k = Math.max(0, Math.floor(count / 2 - chord / step));
    k <= count / 2 + chord / step;
    k++
  ) {
    const u = (k - count / 2) * step;
    let sum = 0.25;
    for (let m = 1; m <= furthest; m += 2) {
      const inside = (u + m * shear < chord ? 1 : 0) + (u - m * shear > -chord ? 1 : 0);
      sum += inside / (Math.PI * m) ** 2;
    }
    light[k] = sum +
      2 *
        ((field.re[k] as number) * (re[k] as number) + (field.im[k] as number) * (im[k] as number));
  }
  return light;
}

/** Brightness along one row, `v` mm from the middle along the grating's lines; sample k lies at (k - count/2) steps. */
export function rowAt(plan: RonchiPlan, v: number): Float64Array {
  const { count, fft, gratings, setting } = plan, light = new Float64Array(count);
  if (isHalfClear(setting)) return rowBehindOwnGrating(plan, v);
  const field = fieldOfRow(plan, v);
  if (field === undefined) return light;
  fft.forward(field.re, field.im);
  const re = new Float64Array(count), im = new Float64Array(count);
  for (const { weight, passes } of gratings) {
    for (let k = 0; k < count; k++) {
      const share = passes[k] as number;
      re[k] = (field.re[k] as number) * share;
      im[k] = (field.im[k] as number) * share;
    }
    fft.inverse(re, im);
    for (let k = 0; k < count; k++) {
      const a = re[k] as number, b = im[k] as number;
      light[k] = (light[k] as number) + weight * (a * a + b * b);
    }
  }
  return light;
}

/** The light at the mirror along one row; a sample the edge cuts counts for its share inside. */
function fieldOfRow(
  { setting, count, step }: RonchiPlan,
  v: number,
): { re: Float64Array; im: Float64Array } | undefined {
  const { half, turn = 0, wavelength = 550 } = setting;
  if (Math.abs(v) >= half) return undefined;
  const re = new Float64Array(count), im = new Float64Array(count);
  const c = Math.cos(turn), s = Math.sin(turn), chord = Math.sqrt(half * half - v * v);
  const turns = (2e6 * Math.PI) / wavelength;
  for (let k = Math.floor(count / 2 - chord / step); k <= count / 2 + chord / step + 1; k++) {
    const u = (k - count / 2) * step;
    const inside = Math.min(1, Math.max(0, (chord - Math.abs(u)) / step + 0.5));
    if (inside === 0) continue;
    const phase = turns * pathLength(c * u - s * v, s * u + c * v, setting);
    re[k] = inside * Math.cos(phase);
    im[k] = inside * Math.sin(phase);
  }
  return { re, im };
}

/** A row's brightness between its samples. */
export function between({ count, step }: RonchiPlan, row: Float64Array, u: number): number {
  const at = u / step + count / 2, k = Math.floor(at);
  return cubic([row[k - 1] ?? 0, row[k] ?? 0, row[k + 1] ?? 0, row[k + 2] ?? 0], at - k);
}

/** The cubic through four equally spaced values, between the middle two. */
export function cubic([a = 0, b = 0, c = 0, d = 0]: readonly number[], t: number): number {
  const bend = (t * (t - 1)) / 6;
  return b + t * (c - b) + bend * ((2 - t) * (a - 2 * b + c) + (t + 1) * (b - 2 * c + d));
}

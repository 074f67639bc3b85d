/** The shadow picture by diffraction: a reference implementation for the one by rays. */
import { conicHeight } from "../../../lib/optics/conic.ts";
import type { KnifeSetting, ShadowPicture } from "../../../lib/testing/zones/knife.ts";

const WAVE = 550e-6; // mm

/**
 * Shadow picture by diffraction, from a point lamp: half of all directions is stopped, row by row.
 *
 *     behind the knife:  (U + i H[U]) / 2,   H the Hilbert transform along the row
 *
 * Each row is a step-wise field whose Hilbert transform is known exactly, ln|(n + 1/2)/(n - 1/2)| / pi between pixels n
 * apart; no transform wraps round, and the bright rim needs no wide frame. Straight edges only, which is what a knife is.
 *
 * @param setting  mirror and knife; the slit's width is not used
 * @param size     pixels across; far from focus each is cut into finer steps
 * @see Malacara, Optical Shop Testing, Foucault chapter; Linfoot (from memory)
 */
export function shadowByDiffraction(setting: KnifeSetting, size: number): ShadowPicture {
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
  const { half, across = 0, surface, knife } = setting, pitch = (2 * half) / size;
  const tilt = Math.abs(across / (surface.radius + knife));
  let steepest = 0;
  for (let r = pitch; r <= half; r += pitch) {
    steepest = Math.max(
      steepest,
      Math.abs(pathLength(r, setting) - pathLength(r - pitch, setting)) / pitch,
    );
  }
  const waves = ((steepest + tilt) * pitch) / WAVE;
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
  const { half, across = 0, surface, knife } = setting;
  const re = new Float64Array(count), im = new Float64Array(count), open = new Uint8Array(count);
  const chord = Math.sqrt(half * half - y * y);
  for (let k = 0; k < count; k++) {
    const x = half * ((2 * k + 1) / count - 1);
    if (Math.abs(x) >= chord) continue;
    const path = pathLength(Math.hypot(x, y), setting) - (across * x) / (surface.radius + knife);
    re[k] = Math.cos((2 * Math.PI * path) / WAVE);
    im[k] = Math.sin((2 * Math.PI * path) / WAVE);
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

/** Brightness of a mirror's face behind a grating, and how it changes with everything unknown. */
import { cosineOfTurns } from "../numeric/phasors.ts";
import { type Bench, type Mirror, OWN } from "./photoModel.ts";
import { phaseOf } from "./photoPhase.ts";

/** Orders of the grating followed in step; weaker ones add light but no bands. */
const ORDERS_BEHIND = [1, -1, 3, -3, 5, -5];
const ORDERS_BESIDE = [1, -1, 3, -3, 5, -5, 7, -7, 9, -9, 11, -11];

/** Works out brightness at points of the face; keeps its work space, so one serves a whole photograph. */
export interface Brightness {
  /** brightness, 1 = no grating; its slopes afterwards in the fields below */
  at(x: number, y: number): number;
  /** by offset, phase, sharpness and turn */
  readonly byOwn: Float64Array;
  /** by conic, then by each shape's amount */
  readonly byMirror: Float64Array;
}

/**
 * The brightness of a mirror's face for one state of the unknowns.
 *
 * A sum of the mirror's sheared images. Behind the same grating, lines half clear, light adds up to
 *
 *     I = sum of c_m^2 + sum over odd m of 2/(pi m)^2 cos(phi(x + m s) - phi(x) - m g)
 *
 * over images that overlap, s = wavelength x distance x lines; beside it or fixed, the square of the sum of c_m U(x + m s).
 * Slopes leave out what is small: that s grows with the offset (4 parts in 10,000), and that a turn moves the images over
 * the shapes beside the conic.
 *
 * @param bench   what is known
 * @param own     unknowns of the photograph
 * @param mirror  unknowns of the mirror
 * @param slopes  whether slopes are wanted
 */
export function brightness(
  bench: Bench,
  own: ArrayLike<number>,
  mirror: Mirror,
  slopes: boolean,
): Brightness {
  return bench.setUp === "same grating"
    ? behindGrating(bench, own, mirror, slopes)
    : besideGrating(bench, own, mirror, slopes);
}

/** What both kinds of lamp have in common: the images' shear, and how much of each falls on a place. */
function images(bench: Bench, own: ArrayLike<number>): {
  readonly cos: number;
  readonly sin: number;
  readonly plane: number;
  readonly shear: number;
  readonly soft: number;
  readonly turns: number;
  within(x: number, y: number): number;
} {
  const { half, linesPerMm, wavelength } = bench, turn = own[OWN.turn] ?? 0;
  const plane = bench.radius + (own[OWN.offset] ?? 0);
  const soft = half / Math.max(5, own[OWN.radius] ?? 50); // a pixel is as wide as the rim is soft
  const full = (half - soft / 2) ** 2, none = (half + soft / 2) ** 2;
  return {
    cos: Math.cos(turn),
    sin: Math.sin(turn),
    plane,
    shear: wavelength * 1e-6 * plane * linesPerMm,
    soft,
    turns: (own[OWN.phase] ?? 0) / (2 * Math.PI),
    within(x, y): number {
      const r2 = x * x + y * y;
      if (r2 <= full) return 1;
      return r2 >= none ? 0 : (half - Math.sqrt(r2)) / soft + 0.5;
    },
  };
}

function behindGrating(
  bench: Bench,
  own: ArrayLike<number>,
  mirror: Mirror,
  slopes: boolean,
): Brightness {
  const { half } = bench, { cos, sin, plane, shear, soft, turns, within } = images(bench, own);
  const sharp = own[OWN.sharpness] ?? 1, count = 1 + mirror.shapes.length;
  const byOwn = new Float64Array(4), byMirror = new Float64Array(count);
  const middle = phaseOf(bench, plane, mirror, slopes),
    side = phaseOf(bench, plane, mirror, slopes);
  const evenLight = evenLightOf(half, shear, soft);
  const at = (x: number, y: number): number => {
    const here = middle.at(x, y), u = x * cos + y * sin, v = y * cos - x * sin;
    const chord = Math.sqrt(Math.max(0, half * half - v * v));
    let light = 0.25 + evenLight((chord - u) / shear) + evenLight((chord + u) / shear);
    if (slopes) {
      byOwn.fill(0);
      byMirror.fill(0);
    }
    for (let i = 0; i < ORDERS_BEHIND.length; i++) {
      const m = ORDERS_BEHIND[i] as number, mx = x + m * shear * cos, my = y + m * shear * sin;
      const inside = within(mx, my);
      if (inside === 0) continue;
      const bare = (2 * inside) / (Math.PI * Math.PI * m * m);
      const strength = m * m === 1 ? bare : bare * sharp;
      const gap = side.at(mx, my) - here - m * turns, c = cosineOfTurns(gap);
      light += strength * c;
      if (!slopes) continue;
      const w = -2 * Math.PI * strength * cosineOfTurns(gap - 0.25);
      byOwn[0] = (byOwn[0] as number) +
        w * ((side.slopes[0] as number) - (middle.slopes[0] as number));
      byOwn[1] = (byOwn[1] as number) - (w * m) / (2 * Math.PI);
      if (m * m > 1) byOwn[2] = (byOwn[2] as number) + bare * c;
      byOwn[3] = (byOwn[3] as number) + 2 * w * side.bySquare() * m * shear * (my * cos - mx * sin);
      for (let j = 0; j < count; j++) {
        byMirror[j] = (byMirror[j] as number) +
          w * ((side.slopes[j + 1] as number) - (middle.slopes[j + 1] as number));
      }
    }
    return light;
  };
  return { at, byOwn, byMirror };
}

/** Light of the images from one side: c_m^2 of every odd order up to `reach` shears, the last one in part. */
function evenLightOf(half: number, shear: number, soft: number): (reach: number) => number {
  const sums = [0];
  for (let m = 1; m * shear <= 2 * half + shear; m += 2) {
    sums.push((sums.at(-1) as number) + 1 / (Math.PI * Math.PI * m * m));
  }
  return (reach) => {
    const k = Math.max(0, Math.floor((reach - soft / (2 * shear) + 1) / 2)), m = 2 * k + 1;
    const part = Math.min(1, Math.max(0, ((reach - m) * shear) / soft + 0.5));
    return (sums[Math.min(k, sums.length - 1)] as number) + part / (Math.PI * Math.PI * m * m);
  };
}

function besideGrating(
  bench: Bench,
  own: ArrayLike<number>,
  mirror: Mirror,
  slopes: boolean,
): Brightness {
  const { cos, sin, plane, shear, turns, within } = images(bench, own);
  const sharp = own[OWN.sharpness] ?? 1, count = 1 + mirror.shapes.length;
  const byOwn = new Float64Array(4), byMirror = new Float64Array(count);
  const wave = phaseOf(bench, plane, mirror, slopes);
  // how the sum of the images changes: by phase, sharpness, turn, then offset, conic and shapes
  const byRe = new Float64Array(count + 4), byIm = new Float64Array(count + 4);
  let re = 0, im = 0;
  const add = (m: number, bare: number, angle: number, mx: number, my: number): void => {
    const a = bare * cosineOfTurns(angle), b = bare * cosineOfTurns(angle - 0.25);
    const share = m * m > 1 ? sharp : 1;
    re += share * a;
    im += share * b;
    if (!slopes) return;
    const turning = (k: number, by: number): void => {
      byRe[k] = (byRe[k] as number) - 2 * Math.PI * share * b * by;
      byIm[k] = (byIm[k] as number) + 2 * Math.PI * share * a * by;
    };
    turning(0, -m / (2 * Math.PI));
    if (m * m > 1) {
      byRe[1] = (byRe[1] as number) + a;
      byIm[1] = (byIm[1] as number) + b;
    }
    turning(2, 2 * wave.bySquare() * m * shear * (my * cos - mx * sin));
    for (let j = 0; j <= count; j++) turning(j + 3, wave.slopes[j] as number);
  };
  const at = (x: number, y: number): number => {
    re = im = 0;
    byRe.fill(0);
    byIm.fill(0);
    add(0, 0.5, wave.at(x, y), x, y);
    for (let i = 0; i < ORDERS_BESIDE.length; i++) {
      const m = ORDERS_BESIDE[i] as number, mx = x + m * shear * cos, my = y + m * shear * sin;
      const inside = within(mx, my);
      if (inside === 0) continue;
      const bare = (inside * Math.sin((Math.PI * m) / 2)) / (Math.PI * m);
      add(m, bare, wave.at(mx, my) - m * turns, mx, my);
    }
    if (slopes) {
      const by = (k: number): number => 2 * (re * (byRe[k] as number) + im * (byIm[k] as number));
      byOwn[0] = by(3);
      for (let k = 0; k < 3; k++) byOwn[k + 1] = by(k);
      for (let j = 0; j < count; j++) byMirror[j] = by(j + 4);
    }
    return re * re + im * im;
  };
  return { at, byOwn, byMirror };
}

/** What one pixel of a Ronchi photograph should be, and how that changes with everything unknown. */
import type { RonchiSetUp } from "./ronchi.ts";
import type { Shape } from "./photoTerms.ts";

/** What is known of mirror and bench beforehand. */
export interface Bench {
  /** vertex radius of curvature, mm */
  readonly radius: number;
  /** half the clear aperture, mm */
  readonly half: number;
  readonly setUp: RonchiSetUp;
  readonly linesPerMm: number;
  /** nm */
  readonly wavelength: number;
}

/** Unknowns of one photograph, by their place. */
export const OWN = {
  /** grating from the centre of curvature, mm */
  offset: 0,
  /** place of the grating's lines: 2 pi a pitch of the pattern, rad */
  phase: 1,
  /** turn, rad */
  turn: 2,
  /** the disc, pixels */
  x: 3,
  y: 4,
  radius: 5,
  /** logarithm of the light over the disc: 1 x y xx xy yy xxx xxy xyy yyy */
  light: 6,
  /** light from the mirror that has no stripes, over that of a mirror without grating */
  fog: 16,
  /** the camera's curve: value = light to this power */
  power: 17,
  /** strength of the finer harmonics over that of a clean grating */
  sharpness: 18,
  /** light from elsewhere that lies evenly over the picture, in the picture's scale */
  veil: 19,
} as const;

/** Terms of the light over the disc. */
export const LIGHT_TERMS = 10;

/** Unknowns of one photograph. */
export const OWN_COUNT = 20;

/** The mirror's unknowns: conic constant, then the amounts of the shapes, nm. */
export interface Mirror {
  readonly conic: number;
  readonly shapes: readonly Shape[];
  readonly amounts: ArrayLike<number>;
  /** turn of the axes the shapes are given in, rad */
  readonly axes: number;
}

/** Finest orders of the grating followed in step; weaker ones add light but no bands. */
const ORDERS_BEHIND = [1, -1, 3, -3, 5, -5];
const ORDERS_BESIDE = [1, -1, 3, -3, 5, -5, 7, -7, 9, -9, 11, -11];

/** Works out brightness at points of the face; keeps its work space, so one serves a whole fit. */
export interface Brightness {
  /** brightness, 1 = no grating; derivatives afterwards in the fields below */
  at(x: number, y: number): number;
  /** by offset, phase and sharpness */
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
 *
 * @param bench   what is known
 * @param own     unknowns of the photograph
 * @param mirror  unknowns of the mirror
 * @param slopes  whether derivatives are wanted
 */
export function brightness(
  bench: Bench,
  own: ArrayLike<number>,
  mirror: Mirror,
  slopes: boolean,
): Brightness {
  const { half, linesPerMm, setUp, wavelength } = bench;
  const behind = setUp === "same grating", orders = behind ? ORDERS_BEHIND : ORDERS_BESIDE;
  const turn = own[OWN.turn] ?? 0, cos = Math.cos(turn), sin = Math.sin(turn);
  const phase = own[OWN.phase] ?? 0, sharp = own[OWN.sharpness] ?? 1;
  const shear = wavelength * 1e-6 * (bench.radius + (own[OWN.offset] ?? 0)) * linesPerMm;
  const count = 1 + mirror.shapes.length;
  const byOwn = new Float64Array(3), byMirror = new Float64Array(count);
  const middle = lightAt(bench, own, mirror, slopes), side = lightAt(bench, own, mirror, slopes);
  const step = orders.map((m) => m * shear);
  const field = orders.map(() => new Float64Array(count + 1));
  const inside = new Float64Array(orders.length), phases = new Float64Array(orders.length);
  // a pixel is as wide as the rim is soft
  const soft = half / Math.max(5, own[OWN.radius] ?? 50);
  const full = (half - soft / 2) ** 2, none = (half + soft / 2) ** 2;
  const within = (x: number, y: number): number => {
    const r2 = x * x + y * y;
    if (r2 <= full) return 1;
    return r2 >= none ? 0 : (half - Math.sqrt(r2)) / soft + 0.5;
  };

  // light of the sheared images themselves: c_m^2 of every odd order up to `reach` shears, the last one in part
  const sums = [0];
  for (let m = 1; m * shear <= 2 * half + shear; m += 2) {
    sums.push((sums.at(-1) as number) + 1 / (Math.PI * Math.PI * m * m));
  }
  const evenLight = (reach: number): number => {
    const k = Math.max(0, Math.floor((reach - soft / (2 * shear) + 1) / 2)), m = 2 * k + 1;
    const part = Math.min(1, Math.max(0, ((reach - m) * shear) / soft + 0.5));
    return (sums[Math.min(k, sums.length - 1)] as number) + part / (Math.PI * Math.PI * m * m);
  };

  const gather = (x: number, y: number): void => {
    for (let i = 0; i < orders.length; i++) {
      const mx = x + (step[i] as number) * cos, my = y + (step[i] as number) * sin;
      inside[i] = within(mx, my);
      if (inside[i] === 0) continue;
      phases[i] = side.phase(mx, my);
      if (slopes) (field[i] as Float64Array).set(side.slopes);
    }
  };
  const add = (weights: Float64Array, own: number): void => {
    // weights: change of brightness with the phase of each image, the middle one last
    let offset = own * (middle.slopes[0] as number);
    for (let j = 0; j < count; j++) byMirror[j] = own * (middle.slopes[j + 1] as number);
    for (let i = 0; i < orders.length; i++) {
      const w = weights[i] as number;
      if (inside[i] === 0 || w === 0) continue;
      const slope = field[i] as Float64Array;
      offset += w * (slope[0] as number);
      for (let j = 0; j < count; j++) {
        byMirror[j] = (byMirror[j] as number) + w * (slope[j + 1] as number);
      }
    }
    byOwn[0] = offset;
  };
  const weights = new Float64Array(orders.length);

  const behindGrating = (x: number, y: number): number => {
    const here = middle.phase(x, y);
    gather(x, y);
    const u = x * cos + y * sin, v = y * cos - x * sin;
    const chord = Math.sqrt(Math.max(0, half * half - v * v));
    let light = 0.25 + evenLight((chord - u) / shear) + evenLight((chord + u) / shear);
    let finer = 0, byPhase = 0, ownSum = 0;
    for (let i = 0; i < orders.length; i++) {
      weights[i] = 0;
      if (inside[i] === 0) continue;
      const m = orders[i] as number,
        bare = (2 * (inside[i] as number)) / (Math.PI * Math.PI * m * m);
      const strength = m * m === 1 ? bare : bare * sharp;
      const gap = (phases[i] as number) - here - m * phase, c = Math.cos(gap);
      light += strength * c;
      if (m * m > 1) finer += bare * c;
      if (!slopes) continue;
      const w = -strength * Math.sin(gap);
      weights[i] = w;
      ownSum -= w;
      byPhase -= w * m;
    }
    if (slopes) {
      add(weights, ownSum);
      byOwn[1] = byPhase;
      byOwn[2] = finer;
    }
    return light;
  };

  const beside = (x: number, y: number): number => {
    const here = middle.phase(x, y);
    gather(x, y);
    let re = 0.5 * Math.cos(here), im = 0.5 * Math.sin(here), fineRe = 0, fineIm = 0;
    for (let i = 0; i < orders.length; i++) {
      if (inside[i] === 0) continue;
      const m = orders[i] as number;
      const bare = ((inside[i] as number) * Math.sin((Math.PI * m) / 2)) / (Math.PI * m);
      const angle = (phases[i] as number) - m * phase;
      const a = bare * Math.cos(angle), b = bare * Math.sin(angle);
      const strength = m * m === 1 ? 1 : sharp;
      re += strength * a;
      im += strength * b;
      if (m * m > 1) {
        fineRe += a;
        fineIm += b;
      }
    }
    if (slopes) {
      let byPhase = 0;
      for (let i = 0; i < orders.length; i++) {
        weights[i] = 0;
        if (inside[i] === 0) continue;
        const m = orders[i] as number, angle = (phases[i] as number) - m * phase;
        const share = (inside[i] as number) * (m * m === 1 ? 1 : sharp);
        const strength = (share * Math.sin((Math.PI * m) / 2)) / (Math.PI * m);
        const w = 2 * strength * (im * Math.cos(angle) - re * Math.sin(angle));
        weights[i] = w;
        byPhase -= w * m;
      }
      add(weights, im * Math.cos(here) - re * Math.sin(here));
      byOwn[1] = byPhase;
      byOwn[2] = 2 * (re * fineRe + im * fineIm);
    }
    return re * re + im * im;
  };
  return { at: behind ? behindGrating : beside, byOwn, byMirror };
}

/** Phase of the light at a point, and how it changes with offset, conic and the shapes' amounts. */
function lightAt(
  { radius, half, setUp, wavelength }: Bench,
  own: ArrayLike<number>,
  { conic, shapes, amounts, axes }: Mirror,
  wanted: boolean,
): { phase(x: number, y: number): number; readonly slopes: Float64Array } {
  const slopes = new Float64Array(shapes.length + 2);
  const plane = radius + (own[OWN.offset] ?? 0), turns = (2e6 * Math.PI) / wavelength;
  const cos = Math.cos(axes) / half, sin = Math.sin(axes) / half, still = setUp === "fixed";
  const phase = (x: number, y: number): number => {
    const r2 = x * x + y * y, u = r2 / (radius * radius), w = Math.sqrt(1 - (1 + conic) * u);
    const bare = r2 / (radius * (1 + w));
    let bump = 0;
    for (let j = 0; j < shapes.length; j++) {
      const height = (shapes[j] as Shape)(cos * x + sin * y, cos * y - sin * x);
      bump += (amounts[j] as number) * height;
      if (wanted) slopes[j + 2] = height;
    }
    const z = bare + bump * 1e-6;
    const toPlane = Math.sqrt(r2 + (plane - z) * (plane - z));
    let path = (r2 + z * z - 2 * plane * z) / (toPlane + plane);
    let byHeight = -(plane - z) / toPlane;
    const byPlane = -r2 / (toPlane * (toPlane + plane - z));
    if (still) {
      const toLamp = Math.sqrt(r2 + (radius - z) * (radius - z));
      path += (r2 + z * z - 2 * radius * z) / (toLamp + radius);
      byHeight -= (radius - z) / toLamp;
    } else {
      path *= 2;
      byHeight *= 2;
    }
    if (wanted) {
      slopes[0] = turns * byPlane * (still ? 1 : 2);
      slopes[1] = (turns * byHeight * bare * u) / (2 * w * (1 + w));
      for (let j = 0; j < shapes.length; j++) {
        slopes[j + 2] = (slopes[j + 2] as number) * turns * byHeight * 1e-6;
      }
    }
    return turns * path;
  };
  return { phase, slopes };
}

/** Brightness of a mirror's face behind a grating, and how it changes with everything unknown. */
import { cosineOfTurns } from "../../numeric/phasors.ts";
import { type Bench, type Mirror, OWN } from "./photoModel.ts";
import { type Phase, phaseOf } from "./photoPhase.ts";

/** Orders of the grating followed in step; weaker ones add light but no bands. */
const ORDERS_BEHIND = [1, -1, 3, -3, 5, -5];
const ORDERS_BESIDE = [1, -1, 3, -3, 5, -5, 7, -7, 9, -9, 11, -11];

/** Works out brightness at points of the face; keeps its work space, so one serves a whole photograph. */
export interface Brightness {
  /** brightness, 1 = no grating; its slopes afterwards in the fields below */
  at(x: number, y: number): number;
  /** by offset, phase, sharpness, turn, the three of softness, the lines' clear share, and colours */
  readonly byOwn: Float64Array;
  /** by a mm to the right, and upward: of the bare conic's bands */
  readonly byPlace: Float64Array;
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
 * Lines that are clear in 1/2 + e of a pitch add - 4 e / pi^2 cos(phi_m - phi_n - (m - n) g) for the pairs 1 and -1, 2 and 1, -1 and -2.
 * Softness takes from each pair's stripes exp(-2 pi^2 g.B.g), g the turns of their phase in half a width of the face: most where bands are finest.
 * Slopes leave out what is small: that s grows with the offset (4 parts in 10,000), and that a turn or a step to the side
 * moves the images over the shapes beside the conic.
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
interface Images {
  readonly cos: number;
  readonly sin: number;
  readonly plane: number;
  readonly shear: number;
  readonly soft: number;
  readonly turns: number;
  within(x: number, y: number): number;
  /** what softness leaves of stripes that turn by gx, gy in a mm */
  kept(gx: number, gy: number): number;
}

function images(bench: Bench, own: ArrayLike<number>): Images {
  const { half, linesPerMm, wavelength } = bench, turn = own[OWN.turn] ?? 0;
  const plane = bench.radius + (own[OWN.offset] ?? 0);
  const pixel = half / Math.max(5, own[OWN.radius] ?? 50);
  // a rim is as soft as a pixel is wide, or as the picture is blurred
  const blur = 6 * ((own[OWN.blur] ?? 0) + (own[OWN.blur + 2] ?? 0)) * half * half;
  const soft = Math.sqrt(Math.min(9 * pixel * pixel, Math.max(pixel * pixel, blur)));
  const full = (half - soft / 2) ** 2, none = (half + soft / 2) ** 2;
  const washed = -2 * Math.PI * Math.PI * half * half;
  const xx = washed * (own[OWN.blur] ?? 0), xy = 2 * washed * (own[OWN.blur + 1] ?? 0);
  const yy = washed * (own[OWN.blur + 2] ?? 0), isSharp = xx === 0 && xy === 0 && yy === 0;
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
    kept: (gx, gy): number =>
      isSharp ? 1 : Math.exp(Math.min(0.5, xx * gx * gx + xy * gx * gy + yy * gy * gy)),
  };
}

function behindGrating(
  bench: Bench,
  own: ArrayLike<number>,
  mirror: Mirror,
  slopes: boolean,
): Brightness {
  const { half } = bench, look = images(bench, own);
  const { cos, sin, plane, shear, soft, turns, within } = look;
  const sharp = own[OWN.sharpness] ?? 1, count = 1 + mirror.shapes.length;
  const byOwn = new Float64Array(9), byMirror = new Float64Array(count);
  const byPlace = new Float64Array(2), fade = -2 * Math.PI * Math.PI * half * half;
  const middle = phaseOf(bench, plane, mirror, slopes),
    side = phaseOf(bench, plane, mirror, slopes);
  const evenLight = evenLightOf(half, shear), duty = own[OWN.duty] ?? 0;
  const colours = own[OWN.colours] ?? 0;
  const bare = { conic: mirror.conic, shapes: NO_SHAPES, amounts: [], axes: 0 };
  const pairs = unevenLines(look, phaseOf(bench, plane, bare, false));
  const inward = (inside: number): number => ((1 - inside) * soft) / (2 * half);
  const at = (x: number, y: number): number => {
    const here = middle.at(x, y), u = x * cos + y * sin, v = y * cos - x * sin;
    const chord = Math.sqrt(Math.max(0, half * half - v * v)), bend = 2 * middle.bySquare();
    const wide = (soft * half) / (shear * Math.max(chord, 0.1 * half)); // a rim that is crossed aslant
    let light = 0.25 + evenLight((chord - u) / shear, wide) + evenLight((chord + u) / shear, wide);
    if (slopes) {
      byOwn.fill(0);
      byMirror.fill(0);
      byPlace.fill(0);
    }
    for (let i = 0; i < ORDERS_BEHIND.length; i++) {
      const m = ORDERS_BEHIND[i] as number, mx = x + m * shear * cos, my = y + m * shear * sin;
      const inside = within(mx, my);
      if (inside === 0) continue;
      let gap = side.at(mx, my) - here - m * turns;
      const other = 2 * side.bySquare(), gx = other * mx - bend * x, gy = other * my - bend * y;
      // where an image's rim crosses the pixel, the part that it lights lies inward of the pixel's middle
      if (inside < 1) gap -= inward(inside) * (gx * mx + gy * my);
      const c = cosineOfTurns(gap);
      // colours part the images: the second difference of the phase grows with the wavelength
      const parted = 0.5 * m * shear * (gx * cos + gy * sin), faded = FADES * parted * parted;
      const grey = colours === 0 ? 1 : Math.exp(Math.min(0.5, colours * faded));
      const bare = (2 * inside * grey * look.kept(gx, gy)) / (Math.PI * Math.PI * m * m);
      const strength = m * m === 1 ? bare : bare * sharp;
      light += strength * c;
      if (!slopes) continue;
      const w = -2 * Math.PI * strength * cosineOfTurns(gap - 0.25);
      byOwn[0] = (byOwn[0] as number) +
        w * ((side.slopes[0] as number) - (middle.slopes[0] as number));
      byOwn[1] = (byOwn[1] as number) - (w * m) / (2 * Math.PI);
      if (m * m > 1) byOwn[2] = (byOwn[2] as number) + bare * c;
      byOwn[3] = (byOwn[3] as number) + w * other * m * shear * (my * cos - mx * sin);
      const lost = fade * strength * c;
      byOwn[4] = (byOwn[4] as number) + lost * gx * gx;
      byOwn[5] = (byOwn[5] as number) + 2 * lost * gx * gy;
      byOwn[6] = (byOwn[6] as number) + lost * gy * gy;
      byOwn[8] = (byOwn[8] as number) + faded * strength * c;
      byPlace[0] = (byPlace[0] as number) + w * gx;
      byPlace[1] = (byPlace[1] as number) + w * gy;
      for (let j = 0; j < count; j++) {
        byMirror[j] = (byMirror[j] as number) +
          w * ((side.slopes[j + 1] as number) - (middle.slopes[j + 1] as number));
      }
    }
    const uneven = duty === 0 ? 0 : pairs(x, y); // held at nothing: see `firstGuesses`
    byOwn[7] = uneven;
    return light + duty * uneven;
  };
  return { at, byOwn, byMirror, byPlace };
}

/** What so little light has of the shapes beside the conic is left out. */
const NO_SHAPES: Mirror["shapes"] = [];

/** Orders that meet where lines are not half clear, and the pairs of them. */
const MEETING = [-2, -1, 1, 2], PAIRS = [[2, 1], [3, 2], [1, 0]] as const;

/** What lines that are not half clear add to the light, for each share of a pitch more. */
function unevenLines(look: Images, wave: Phase): (x: number, y: number) => number {
  const { cos, sin, shear, turns } = look, count = MEETING.length;
  const phase = new Float64Array(count),
    lit = phase.slice(),
    gx = phase.slice(),
    gy = phase.slice();
  return (x, y) => {
    for (let k = 0; k < count; k++) {
      const m = MEETING[k] as number, mx = x + m * shear * cos, my = y + m * shear * sin;
      lit[k] = look.within(mx, my);
      if (lit[k] === 0) continue;
      phase[k] = wave.at(mx, my) - m * turns;
      const bend = 2 * wave.bySquare();
      gx[k] = bend * mx;
      gy[k] = bend * my;
    }
    let sum = 0;
    for (const [a, b] of PAIRS) {
      const both = (lit[a] as number) * (lit[b] as number);
      if (both === 0) continue;
      const kept = look.kept(
        (gx[a] as number) - (gx[b] as number),
        (gy[a] as number) - (gy[b] as number),
      );
      sum += both * kept * cosineOfTurns((phase[a] as number) - (phase[b] as number));
    }
    return (-4 / (Math.PI * Math.PI)) * sum;
  };
}

/** A spread of turns washes stripes out by the exponential of this times its square. */
const FADES = -2 * Math.PI * Math.PI;

/** Light of the images from one side: c_m^2 of every odd order up to `reach` shears, the last one in part, over `wide` shears. */
function evenLightOf(half: number, shear: number): (reach: number, wide: number) => number {
  const sums = [0];
  for (let m = 1; m * shear <= 2 * half + shear; m += 2) {
    sums.push((sums.at(-1) as number) + 1 / (Math.PI * Math.PI * m * m));
  }
  return (reach, wide) => {
    const k = Math.max(0, Math.floor((reach - wide / 2 + 1) / 2)), m = 2 * k + 1;
    const part = Math.min(1, Math.max(0, (reach - m) / wide + 0.5));
    return (sums[Math.min(k, sums.length - 1)] as number) + part / (Math.PI * Math.PI * m * m);
  };
}

function besideGrating(
  bench: Bench,
  own: ArrayLike<number>,
  mirror: Mirror,
  slopes: boolean,
): Brightness {
  const look = images(bench, own), { cos, sin, plane, shear, turns, within } = look;
  const sharp = own[OWN.sharpness] ?? 1, count = 1 + mirror.shapes.length;
  const byOwn = new Float64Array(9), byMirror = new Float64Array(count);
  const byPlace = new Float64Array(2), fade = -2 * Math.PI * Math.PI * bench.half * bench.half;
  const wave = phaseOf(bench, plane, mirror, slopes);
  // how the sum of the images changes: by phase, sharpness, turn, softness, place, then offset, conic and shapes
  const byRe = new Float64Array(count + 9), byIm = new Float64Array(count + 9);
  let re = 0, im = 0, middleX = 0, middleY = 0;
  const add = (m: number, clear: number, angle: number, mx: number, my: number): void => {
    const bend = 2 * wave.bySquare();
    if (m === 0) [middleX, middleY] = [bend * mx, bend * my];
    const gx = bend * mx - middleX, gy = bend * my - middleY, bare = clear * look.kept(gx, gy);
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
    turning(2, bend * m * shear * (my * cos - mx * sin));
    const fading = (k: number, by: number): void => {
      byRe[k] = (byRe[k] as number) + share * a * by;
      byIm[k] = (byIm[k] as number) + share * b * by;
    };
    fading(3, fade * gx * gx);
    fading(4, 2 * fade * gx * gy);
    fading(5, fade * gy * gy);
    turning(6, bend * mx);
    turning(7, bend * my);
    for (let j = 0; j <= count; j++) turning(j + 8, wave.slopes[j] as number);
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
      byOwn[0] = by(8);
      for (let k = 0; k < 6; k++) byOwn[k + 1] = by(k);
      byPlace[0] = by(6);
      byPlace[1] = by(7);
      for (let j = 0; j < count; j++) byMirror[j] = by(j + 9);
    }
    return re * re + im * im;
  };
  return { at, byOwn, byMirror, byPlace };
}

/** Brightness of a mirror's face behind a grating, and how it changes with everything unknown. */
import { cosineOfTurns } from "../../numeric/phasors.ts";
import { type Bench, type Mirror, OWN, TONE_KNOTS } from "./photoModel.ts";
import { BLOCK, type Phase, phaseOf, type Readings, readings } from "./photoPhase.ts";

/** Orders of the grating followed in step; weaker ones add light but no bands. */
const ORDERS_BEHIND = [1, -1, 3, -3, 5, -5];
const ORDERS_BESIDE = [1, -1, 3, -3, 5, -5, 7, -7, 9, -9, 11, -11];

/** Unknowns of a photograph that change its stripes, of the disc's place apart. */
export const STRIPES = 9;

/** Works out brightness at places of the face; keeps its work space, so one serves a whole photograph. */
export interface Brightness {
  /** looks at `count` places, mm; the fields below hold what it found, a row for each place */
  look(x: Float64Array, y: Float64Array, count: number): void;
  /** looks at one place; its brightness */
  at(x: number, y: number): number;
  /** 1 = no grating */
  readonly light: Float64Array;
  /** by offset, phase, sharpness, turn, the three of softness, the lines' clear share, and colours */
  readonly byOwn: Float64Array;
  /** by a mm to the right, and upward: of the bare conic's bands */
  readonly byPlace: Float64Array;
  /** by conic, then by each shape's amount; one more number ends each row of `mirrorRow` */
  readonly byMirror: Float64Array;
  readonly mirrorRow: number;
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

/** The fields of a brightness, and a look at a single place. */
function fieldsFor(phase: Phase, look: Brightness["look"]): Brightness {
  const x = new Float64Array(1), y = new Float64Array(1), light = new Float64Array(BLOCK);
  return {
    look,
    at(px, py): number {
      x[0] = px;
      y[0] = py;
      look(x, y, 1);
      return light[0] as number;
    },
    light,
    byOwn: new Float64Array(BLOCK * STRIPES),
    byPlace: new Float64Array(BLOCK * 2),
    byMirror: new Float64Array(BLOCK * phase.width),
    mirrorRow: phase.width,
  };
}

/** What both kinds of lamp have in common: the images' shear, and how much of each falls on a place. */
interface Images {
  readonly cos: number;
  readonly sin: number;
  readonly plane: number;
  readonly shear: number;
  /** width of a rim, mm */
  readonly soft: number;
  /** by blur along x, or along y */
  readonly softens: number;
  readonly turns: number;
  /** half width of the face, mm */
  readonly half: number;
  /** squares of the distances up to which a place is lit wholly, and from which on not at all, mm^2 */
  readonly full: number;
  readonly none: number;
  /** what softness takes from the logarithm of stripes that turn by gx, gy in a mm: by gx gx, gx gy, gy gy */
  readonly washed: readonly [number, number, number];
}

function images(bench: Bench, own: ArrayLike<number>): Images {
  const { half, linesPerMm, wavelength } = bench, turn = own[OWN.turn] ?? 0;
  const plane = bench.radius + (own[OWN.offset] ?? 0);
  const pixel = half / Math.max(5, own[OWN.radius] ?? 50);
  // a rim is as soft as a pixel is wide, or as the picture is blurred
  const blur = 6 * ((own[OWN.blur] ?? 0) + (own[OWN.blur + 2] ?? 0)) * half * half;
  const soft = Math.sqrt(Math.min(9 * pixel * pixel, Math.max(pixel * pixel, blur)));
  const softens = blur > pixel * pixel && blur < 9 * pixel * pixel ? (3 * half * half) / soft : 0;
  const full = (half - soft / 2) ** 2, none = (half + soft / 2) ** 2;
  const washed = -2 * Math.PI * Math.PI * half * half;
  return {
    cos: Math.cos(turn),
    sin: Math.sin(turn),
    plane,
    shear: wavelength * 1e-6 * plane * linesPerMm,
    soft,
    softens,
    turns: (own[OWN.phase] ?? 0) / (2 * Math.PI),
    ...{ half, full, none },
    washed: [
      washed * (own[OWN.blur] ?? 0),
      2 * washed * (own[OWN.blur + 1] ?? 0),
      washed * (own[OWN.blur + 2] ?? 0),
    ],
  };
}

/** How much of an image falls on a place; no part of `Images`, since a function made anew for each state is never made fast. */
function within({ half, soft, full, none }: Images, x: number, y: number): number {
  const r2 = x * x + y * y;
  if (r2 <= full) return 1;
  return r2 >= none ? 0 : (half - Math.sqrt(r2)) / soft + 0.5;
}

/** Work space of one look, overwritten by the next, whichever face it is at. */
const work = {
  here: readings(),
  side: readings(),
  sideX: new Float64Array(BLOCK),
  sideY: new Float64Array(BLOCK),
  lit: new Float64Array(BLOCK),
  places: new Int32Array(BLOCK),
  pull: new Float64Array(BLOCK),
  pulls: new Float64Array(BLOCK),
  bend: new Float64Array(BLOCK),
  bends: new Float64Array(BLOCK),
};

function behindGrating(
  bench: Bench,
  own: ArrayLike<number>,
  mirror: Mirror,
  slopes: boolean,
): Brightness {
  const { half } = bench, seen = images(bench, own);
  const { cos, sin, plane, shear, soft, softens, turns, washed } = seen, [xx, xy, yy] = washed;
  const sharp = own[OWN.sharpness] ?? 1, duty = own[OWN.duty] ?? 0;
  const colours = own[OWN.colours] ?? 0, fade = -2 * Math.PI * Math.PI * half * half;
  const phase = phaseOf(bench, plane, mirror), evenSums = evenSumsOf(half, shear);
  const pairs = duty === 0 ? undefined : unevenLines(seen, bench, mirror.conic); // held at nothing: see `firstGuesses`
  const { here, side, sideX, sideY, lit, places, pull, pulls, bend, bends } = work;
  const face = fieldsFor(phase, look), { light, byOwn, byPlace, byMirror, mirrorRow } = face;

  /** What is the same for all orders. */
  function begin(x: Float64Array, y: Float64Array, count: number): void {
    phase.read(x, y, count, here);
    if (slopes) byOwn.fill(0, 0, count * STRIPES);
    for (let i = 0; i < count; i++) {
      const px = x[i] as number, py = y[i] as number, u = px * cos + py * sin;
      const v = py * cos - px * sin, chord = Math.sqrt(Math.max(0, half * half - v * v));
      const wide = (soft * half) / (shear * Math.max(chord, 0.1 * half)); // a rim that is crossed aslant
      const right = (chord - u) / shear, left = (chord + u) / shear;
      light[i] = 0.25 + evenLight(evenSums, right, wide) + evenLight(evenSums, left, wide);
      if (!slopes) continue;
      // the even light moves with the rim of the image farthest to the side
      const one = evenSteep(right, wide) / shear, other = evenSteep(left, wide) / shear;
      const byU = other - one, byV = -((one + other) * v) / Math.max(chord, 0.1 * half);
      byPlace[2 * i] = byU * cos - byV * sin;
      byPlace[2 * i + 1] = byU * sin + byV * cos;
      byOwn[i * STRIPES + 3] = byU * v - byV * u;
      const bySoft = evenWidened(right, wide) + evenWidened(left, wide);
      byOwn[i * STRIPES + 4] = byOwn[i * STRIPES + 6] = (softens * bySoft) / soft;
    }
    if (!slopes) return;
    byMirror.fill(0, 0, count * mirrorRow);
    pulls.fill(0, 0, count);
    bends.fill(0, 0, count);
  }

  /** Adds one of the grating's orders. */
  function addOrder(m: number, x: Float64Array, y: Float64Array, count: number): void {
    const stepX = m * shear * cos, stepY = m * shear * sin, squared = Math.PI * Math.PI * m * m;
    let reached = 0;
    for (let i = 0; i < count; i++) {
      const mx = (x[i] as number) + stepX, my = (y[i] as number) + stepY;
      const inside = within(seen, mx, my);
      if (inside === 0) continue;
      sideX[reached] = mx;
      sideY[reached] = my;
      lit[reached] = inside;
      places[reached++] = i;
    }
    phase.read(sideX, sideY, reached, side);
    for (let n = 0; n < reached; n++) {
      const i = places[n] as number, inside = lit[n] as number;
      const mx = sideX[n] as number, my = sideY[n] as number;
      const px = x[i] as number, py = y[i] as number;
      const other = 2 * (side.bySquare[n] as number), mine = 2 * (here.bySquare[i] as number);
      const gx = other * mx - mine * px, gy = other * my - mine * py;
      let gap = (side.turns[n] as number) - (here.turns[i] as number) - m * turns;
      // where an image's rim crosses the pixel, the part that it lights lies inward of the pixel's middle
      if (inside < 1) gap -= (((1 - inside) * soft) / (2 * half)) * (gx * mx + gy * my);
      const c = cosineOfTurns(gap);
      // colours part the images: the second difference of the phase grows with the wavelength
      const parted = 0.5 * m * shear * (gx * cos + gy * sin), faded = FADES * parted * parted;
      const smear = xx * gx * gx + xy * gx * gy + yy * gy * gy;
      const lost = Math.min(0.5, colours * faded) + Math.min(0.5, smear);
      const bare = (2 * inside * Math.exp(lost)) / squared;
      const strength = m * m === 1 ? bare : bare * sharp;
      light[i] = (light[i] as number) + strength * c;
      if (!slopes) continue;
      const w = -2 * Math.PI * strength * cosineOfTurns(gap - 0.25), k = i * STRIPES, p = 2 * i;
      pull[n] = w;
      pulls[i] = (pulls[i] as number) - w;
      byOwn[k + 1] = (byOwn[k + 1] as number) - (w * m) / (2 * Math.PI);
      if (m * m > 1) byOwn[k + 2] = (byOwn[k + 2] as number) + bare * c;
      byOwn[k + 3] = (byOwn[k + 3] as number) + w * other * m * shear * (my * cos - mx * sin);
      const less = fade * strength * c;
      byOwn[k + 4] = (byOwn[k + 4] as number) + less * gx * gx;
      byOwn[k + 5] = (byOwn[k + 5] as number) + 2 * less * gx * gy;
      byOwn[k + 6] = (byOwn[k + 6] as number) + less * gy * gy;
      byOwn[k + 8] = (byOwn[k + 8] as number) + faded * strength * c;
      byPlace[p] = (byPlace[p] as number) + w * gx;
      byPlace[p + 1] = (byPlace[p + 1] as number) + w * gy;
      // what blur and colours take, and where a rim crosses the pixel, change with how the phase bends
      const shown = strength * c, colour = colours * faded < 0.5 ? FADES * colours : 0;
      const bowed = colour * parted * m * shear * shown, blurs = smear < 0.5 ? shown : 0;
      const edge = inside < 1 ? -(w * (1 - inside) * soft) / (2 * half) : 0;
      const byGx = bowed * cos + blurs * (2 * xx * gx + xy * gy) + edge * mx;
      const byGy = bowed * sin + blurs * (xy * gx + 2 * yy * gy) + edge * my;
      bend[n] = 2 * (byGx * mx + byGy * my);
      bends[i] = (bends[i] as number) - 2 * (byGx * px + byGy * py);
      if (inside === 1) continue;
      // the image's rim moves over the pixel: its light, and where that lies
      const outward = (w * (gx * mx + gy * my)) / (2 * half);
      const byInside = (strength * c) / inside + soft * outward;
      const byRim = -byInside / (soft * Math.sqrt(mx * mx + my * my));
      const bySoft = (byInside * (0.5 - inside)) / soft - (1 - inside) * outward;
      byOwn[k + 4] = (byOwn[k + 4] as number) + softens * bySoft;
      byOwn[k + 6] = (byOwn[k + 6] as number) + softens * bySoft;
      byPlace[p] = (byPlace[p] as number) + byRim * mx;
      byPlace[p + 1] = (byPlace[p + 1] as number) + byRim * my;
      byOwn[k + 3] = (byOwn[k + 3] as number) + byRim * m * shear * (my * cos - mx * sin);
    }
    if (slopes) phase.addSlopes(side, pull, reached, byMirror, places, bend);
  }

  function look(x: Float64Array, y: Float64Array, count: number): void {
    begin(x, y, count);
    for (const m of ORDERS_BEHIND) addOrder(m, x, y, count);
    if (slopes) {
      phase.addSlopes(here, pulls, count, byMirror, undefined, bends);
      for (let i = 0; i < count; i++) {
        byOwn[i * STRIPES] = byMirror[(i + 1) * mirrorRow - 1] as number;
      }
    }
    if (pairs === undefined) return;
    const uneven = pairs(x, y, count);
    for (let i = 0; i < count; i++) {
      light[i] = (light[i] as number) + duty * (uneven[i] as number);
      byOwn[i * STRIPES + 7] = uneven[i] as number;
    }
  }
  return face;
}

/** Orders that meet where lines are not half clear, with work space as above, and the pairs of them. */
const meeting = [-2, -1, 1, 2].map((m) => ({
  ...{ m, at: readings(), x: new Float64Array(BLOCK), y: new Float64Array(BLOCK) },
  lit: new Float64Array(BLOCK),
}));
const PAIRS = [[2, 1], [3, 2], [1, 0]] as const, sums = new Float64Array(BLOCK);

/** What lines that are not half clear add to the light, for each share of a pitch more: so little that the shapes are left out of it. */
function unevenLines(
  seen: Images,
  bench: Bench,
  conic: number,
): (x: Float64Array, y: Float64Array, count: number) => Float64Array {
  const { cos, sin, plane, shear, turns, washed: [xx, xy, yy] } = seen;
  const wave = phaseOf(bench, plane, { conic, shapes: [], amounts: [], axes: 0 });
  return (x, y, count) => {
    sums.fill(0, 0, count);
    for (const { m, at, x: mx, y: my, lit } of meeting) {
      for (let i = 0; i < count; i++) {
        mx[i] = (x[i] as number) + m * shear * cos;
        my[i] = (y[i] as number) + m * shear * sin;
        lit[i] = within(seen, mx[i] as number, my[i] as number);
      }
      wave.read(mx, my, count, at);
    }
    for (const [k, l] of PAIRS) {
      const a = meeting[k] as (typeof meeting)[number], b = meeting[l] as (typeof meeting)[number];
      const apart = (b.m - a.m) * turns;
      for (let i = 0; i < count; i++) {
        const both = (a.lit[i] as number) * (b.lit[i] as number);
        if (both === 0) continue;
        const bendA = 2 * (a.at.bySquare[i] as number), bendB = 2 * (b.at.bySquare[i] as number);
        const gx = bendA * (a.x[i] as number) - bendB * (b.x[i] as number);
        const gy = bendA * (a.y[i] as number) - bendB * (b.y[i] as number);
        const kept = Math.exp(Math.min(0.5, xx * gx * gx + xy * gx * gy + yy * gy * gy));
        const gap = (a.at.turns[i] as number) - (b.at.turns[i] as number) + apart;
        sums[i] = (sums[i] as number) -
          (4 / (Math.PI * Math.PI)) * both * kept * cosineOfTurns(gap);
      }
    }
    return sums;
  };
}

/** A spread of turns washes stripes out by the exponential of this times its square. */
const FADES = -2 * Math.PI * Math.PI;

// Light of the images from one side: c_m^2 of every odd order up to `reach` shears, the last one in part, over `wide` shears.

/** Sums of c_m^2 over so many odd orders from the first on. */
function evenSumsOf(half: number, shear: number): Float64Array {
  const sums = [0];
  for (let m = 1; m * shear <= 2 * half + shear; m += 2) {
    sums.push((sums.at(-1) as number) + 1 / (Math.PI * Math.PI * m * m));
  }
  return Float64Array.from(sums);
}

/** How many odd orders lie wholly within. */
function wholeOrders(reach: number, wide: number): number {
  return Math.max(0, Math.floor((reach - wide / 2 + 1) / 2));
}

function evenLight(sums: Float64Array, reach: number, wide: number): number {
  const k = wholeOrders(reach, wide), m = 2 * k + 1;
  const part = Math.min(1, Math.max(0, (reach - m) / wide + 0.5));
  return (sums[Math.min(k, sums.length - 1)] as number) + part / (Math.PI * Math.PI * m * m);
}

/** By a shear more of reach. */
function evenSteep(reach: number, wide: number): number {
  const m = 2 * wholeOrders(reach, wide) + 1;
  return Math.abs(reach - m) < wide / 2 ? 1 / (wide * Math.PI * Math.PI * m * m) : 0;
}

/** By the logarithm of a wider part. */
function evenWidened(reach: number, wide: number): number {
  return (2 * wholeOrders(reach, wide) + 1 - reach) * evenSteep(reach, wide);
}

/** An order of the grating beside the lamp, with its part of the sum at each place. */
interface Order {
  readonly m: number;
  readonly at: Readings;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

function besideGrating(
  bench: Bench,
  own: ArrayLike<number>,
  mirror: Mirror,
  slopes: boolean,
): Brightness {
  const seen = images(bench, own), { cos, sin, plane, shear, turns, washed } = seen;
  const [xx, xy, yy] = washed, fade = -2 * Math.PI * Math.PI * bench.half * bench.half;
  const sharp = own[OWN.sharpness] ?? 1, wave = phaseOf(bench, plane, mirror);
  const face = fieldsFor(wave, look), { light, byOwn, byPlace, byMirror, mirrorRow } = face;
  const orders = [0, ...ORDERS_BESIDE].map((m): Order => ({
    ...{ m, at: readings(), x: new Float64Array(BLOCK), y: new Float64Array(BLOCK) },
    ...{ re: new Float64Array(BLOCK), im: new Float64Array(BLOCK) },
  }));
  const middle = orders[0] as Order, pull = new Float64Array(BLOCK);
  const re = new Float64Array(BLOCK), im = new Float64Array(BLOCK);

  /** Turns of the phase by a mm to the right and upward, of an image beside those of the middle one. */
  const turning = (at: Readings, i: number, along: number, middling: number): number =>
    2 * ((at.bySquare[i] as number) * along - (middle.at.bySquare[i] as number) * middling);

  function addOrder(
    { m, at, x: mx, y: my, re: a, im: b }: Order,
    x: Float64Array,
    y: Float64Array,
    count: number,
  ): void {
    for (let i = 0; i < count; i++) {
      mx[i] = (x[i] as number) + m * shear * cos;
      my[i] = (y[i] as number) + m * shear * sin;
    }
    wave.read(mx, my, count, at);
    const clear = m === 0 ? 0.5 : Math.sin((Math.PI * m) / 2) / (Math.PI * m);
    for (let i = 0; i < count; i++) {
      const px = mx[i] as number, py = my[i] as number, inside = m === 0 ? 1 : within(seen, px, py);
      a[i] = b[i] = 0;
      if (inside === 0) continue;
      const gx = turning(at, i, px, x[i] as number), gy = turning(at, i, py, y[i] as number);
      const kept = Math.exp(Math.min(0.5, xx * gx * gx + xy * gx * gy + yy * gy * gy));
      const angle = (at.turns[i] as number) - m * turns, bare = clear * inside * kept;
      a[i] = bare * cosineOfTurns(angle);
      b[i] = bare * cosineOfTurns(angle - 0.25);
      const share = m * m > 1 ? sharp : 1;
      re[i] = (re[i] as number) + share * (a[i] as number);
      im[i] = (im[i] as number) + share * (b[i] as number);
    }
  }

  /** Adds what one order moves, once the whole sum is known. */
  function addSlopes(
    { m, at, x: mx, y: my, re: a, im: b }: Order,
    x: Float64Array,
    y: Float64Array,
    count: number,
  ): void {
    const share = m * m > 1 ? sharp : 1;
    for (let i = 0; i < count; i++) {
      const px = mx[i] as number, py = my[i] as number, k = i * STRIPES, p = 2 * i;
      const ai = a[i] as number, bi = b[i] as number, r = re[i] as number, s = im[i] as number;
      // the square of the sum, by a turn of this order, and by its strength
      const w = 4 * Math.PI * share * (s * ai - r * bi), bare = 2 * (r * ai + s * bi);
      const bend = 2 * (at.bySquare[i] as number), less = fade * share * bare;
      const gx = turning(at, i, px, x[i] as number), gy = turning(at, i, py, y[i] as number);
      pull[i] = w;
      byOwn[k + 1] = (byOwn[k + 1] as number) - (w * m) / (2 * Math.PI);
      if (m * m > 1) byOwn[k + 2] = (byOwn[k + 2] as number) + bare;
      byOwn[k + 3] = (byOwn[k + 3] as number) + w * bend * m * shear * (py * cos - px * sin);
      byOwn[k + 4] = (byOwn[k + 4] as number) + less * gx * gx;
      byOwn[k + 5] = (byOwn[k + 5] as number) + 2 * less * gx * gy;
      byOwn[k + 6] = (byOwn[k + 6] as number) + less * gy * gy;
      byPlace[p] = (byPlace[p] as number) + w * bend * px;
      byPlace[p + 1] = (byPlace[p + 1] as number) + w * bend * py;
    }
    wave.addSlopes(at, pull, count, byMirror);
  }

  function look(x: Float64Array, y: Float64Array, count: number): void {
    re.fill(0, 0, count);
    im.fill(0, 0, count);
    for (const order of orders) addOrder(order, x, y, count);
    for (let i = 0; i < count; i++) {
      light[i] = (re[i] as number) ** 2 + (im[i] as number) ** 2;
    }
    if (!slopes) return;
    byOwn.fill(0, 0, count * STRIPES);
    byPlace.fill(0, 0, count * 2);
    byMirror.fill(0, 0, count * mirrorRow);
    for (const order of orders) addSlopes(order, x, y, count);
    for (let i = 0; i < count; i++) {
      byOwn[i * STRIPES] = byMirror[(i + 1) * mirrorRow - 1] as number;
    }
  }
  return face;
}

// The camera's curve: a power of the light, and what its maker bent it by, at a few knots.

const SPACING = 1 / (TONE_KNOTS - 1);

/** Least steepness: brighter light never gives a darker value. */
const FLATTEST = 0.04;

/**
 * The curve beside a power: smooth bumps at the knots, black to white.
 *
 * @param amounts  height of the bump at each knot
 */
export function toneCurve(amounts: Float64Array): {
  /** value in the file for a power's value; `steep` and `bumps` hold its slopes afterwards */
  at(value: number): number;
  readonly steep: () => number;
  readonly bumps: Float64Array;
} {
  const bumps = new Float64Array(TONE_KNOTS), steep = Float64Array.of(1);
  const at = (value: number): number => {
    const place = value / SPACING, knot = Math.floor(place);
    let bent = value, slope = 0;
    bumps.fill(0);
    // a knot's bump reaches to the second knot from it on either side
    for (let k = Math.max(0, knot - 1); k <= Math.min(TONE_KNOTS - 1, knot + 2); k++) {
      const t = place - k, far = Math.abs(t), rest = 2 - far, amount = amounts[k] as number;
      const height = far < 1
        ? 1 - 1.5 * far * far + 0.75 * far * far * far
        : 0.25 * rest * rest * rest;
      const fall = far < 1 ? far * (2.25 * far - 3) : -0.75 * rest * rest;
      bumps[k] = height;
      bent += amount * height;
      slope += amount * (t < 0 ? -fall : fall);
    }
    steep[0] = 1 + slope / SPACING;
    return bent;
  };
  return { at, steep: () => steep[0] as number, bumps };
}

/** Whether brighter light gives a brighter value everywhere from black to `most`. */
export function isMonotone(amounts: Float64Array, most: number): boolean {
  const curve = toneCurve(amounts);
  for (let k = 0; k <= 24; k++) {
    curve.at((most * k) / 24);
    if (curve.steep() < FLATTEST) return false;
  }
  return true;
}

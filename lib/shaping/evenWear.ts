/**
 * Grinding with perfect turning: both discs stay figures of revolution, so one radius of each is enough.
 *
 * Fast enough to follow a slider. It knows no astigmatism and no trefoil; what remains of the shape reads too smooth, the
 * sagitta is right to a percent.
 */
import { gaussLegendre } from "../numeric/quadrature.ts";
import type { Overhang } from "./wearLaws.ts";
import type { WearSettings } from "./wearSettings.ts";

export interface EvenDetail {
  /** default 20 */
  readonly rings?: number;
  /** directions in each half ring, at Gauss's nodes; default 8 */
  readonly directions?: number;
  /** places on half of the stroke; default 3 */
  readonly places?: number;
  /** longest step, as the share of a misfit that it wears away; below 2; default 0.9 */
  readonly step?: number;
}

/** Shapes after some strokes, of discs that began flat. */
export interface EvenWorn {
  /** mm, + is hollow, of the best sphere */
  readonly upperSagitta: number;
  readonly lowerSagitta: number;
  /** strokes and sagittas on the way, mm */
  readonly course: readonly {
    readonly strokes: number;
    readonly upperSagitta: number;
    readonly lowerSagitta: number;
  }[];
  /** heights above the best sphere, um, ring after ring from the centre */
  readonly upperZones: readonly { readonly radius: number; readonly heightUm: number }[];
  readonly lowerZones: readonly { readonly radius: number; readonly heightUm: number }[];
}

/**
 * Wears two flat discs with perfectly even turning.
 *
 * @param settings  discs, force, grain
 * @param overhang  offset and travel of the strokes, mm; travel above 0
 * @param strokes   forward and back, 0 or more
 * @throws {RangeError} for strokes longer than the disc, an overhang at which the upper disc tips, strokes below 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { wearSettings } from "./wearSettings.ts";
 * const worn = wearEvenly(wearSettings(150), { offset: 37.5, travel: 50 }, 2400);
 * assert.ok(worn.upperSagitta > 0.55 && worn.lowerSagitta < -0.53);
 * ```
 */
export function wearEvenly(
  settings: WearSettings,
  overhang: Overhang,
  strokes: number,
  detail: EvenDetail = {},
): EvenWorn {
  const { rings = 20, directions = 8, places = 3, step = 0.9 } = detail;
  requireWork(settings, overhang, strokes);
  const { upperWear, lowerWear, stiffness } = settings;
  const mating = (upperWear + lowerWear) * stiffness * 2 * overhang.travel * strokes;
  const steps = Math.max(strokes > 0 ? 1 : 0, Math.ceil(mating / step));
  const upper = new Profile(settings.upperRadius, rings);
  const lower = new Profile(settings.lowerRadius, rings);
  const contacts = contactsOf(settings, overhang, upper, lower, directions, places);
  const scale = steps > 0 ? 2 * overhang.travel * strokes / steps : 0;
  const course: { strokes: number; upperSagitta: number; lowerSagitta: number }[] = [];
  let curve = 0;
  for (let i = 1; i <= steps; i++) {
    for (const contact of contacts) wearAt(contact, settings, upper, lower, scale);
    upper.apply();
    lower.apply();
    const common = (upper.curvature() - lower.curvature()) / 2;
    upper.add(-common);
    lower.add(common);
    curve += common;
    course.push({
      strokes: strokes * i / steps,
      upperSagitta: (curve + upper.curvature()) * upper.radius ** 2,
      lowerSagitta: (lower.curvature() - curve) * lower.radius ** 2,
    });
  }
  const last = course[course.length - 1] ?? { upperSagitta: 0, lowerSagitta: 0 };
  return {
    upperSagitta: last.upperSagitta,
    lowerSagitta: last.lowerSagitta,
    course,
    upperZones: upper.zones(),
    lowerZones: lower.zones(),
  };
}

/** One disc's heights along a radius, less the common curve, mm. */
class Profile {
  readonly radius: number;
  readonly rings: number;
  readonly rest: Float64Array;
  readonly loss: Float64Array;
  readonly squares: Float64Array;
  readonly #spread: number;
  readonly #mean: number;

  constructor(radius: number, rings: number) {
    this.radius = radius;
    this.rings = rings;
    this.rest = new Float64Array(rings);
    this.loss = new Float64Array(rings);
    this.squares = Float64Array.from(
      { length: rings },
      (_, i) => ((i + 0.5) * radius / rings) ** 2,
    );
    this.#mean = this.squares.reduce((sum, q, i) => sum + (2 * i + 1) * q, 0) / rings ** 2;
    this.#spread = this.squares.reduce(
      (sum, q, i) => sum + (2 * i + 1) * (q - this.#mean) ** 2,
      0,
    );
  }

  apply(): void {
    for (let i = 0; i < this.rings; i++) {
      this.rest[i] = (this.rest[i] as number) - (this.loss[i] as number);
    }
    this.loss.fill(0);
  }

  curvature(): number {
    let sum = 0;
    for (let i = 0; i < this.rings; i++) {
      sum += (2 * i + 1) * ((this.squares[i] as number) - this.#mean) * (this.rest[i] as number);
    }
    return sum / this.#spread;
  }

  add(curve: number): void {
    for (let i = 0; i < this.rings; i++) {
      this.rest[i] = (this.rest[i] as number) + curve * (this.squares[i] as number);
    }
  }

  zones(): { radius: number; heightUm: number }[] {
    const curve = this.curvature();
    const mean = this.rest.reduce((sum, h, i) => sum + (2 * i + 1) * h, 0) / this.rings ** 2;
    return Array.from(this.rest, (height, i) => {
      const square = this.squares[i] as number;
      const off = height - mean - curve * (square - this.#mean);
      return { radius: Math.sqrt(square), heightUm: off * 1000 };
    });
  }
}

/** Half of the overlap for one distance of the centres, looked at from one disc. */
interface HalfOverlap {
  readonly count: number;
  readonly ring: Int32Array;
  /** the other disc's ring within, and the share of the next */
  readonly inner: Int32Array;
  readonly share: Float64Array;
  /** from the upper disc's centre along the overhang, mm */
  readonly along: Float64Array;
  /** area, mm2, both halves together */
  readonly area: Float64Array;
}

interface Contact {
  readonly upper: HalfOverlap;
  readonly lower: HalfOverlap;
  /** share of the path */
  readonly share: number;
  /** where the force presses, along the overhang, mm */
  readonly lean: number;
  /** plane: height in mm, slope along the overhang */
  readonly plane: Float64Array;
  readonly gap: Float64Array;
}

function contactsOf(
  settings: WearSettings,
  { offset, travel }: Overhang,
  upper: Profile,
  lower: Profile,
  directions: number,
  places: number,
): Contact[] {
  const { nodes, weights } = gaussLegendre(places);
  return nodes.map((node, i) => {
    const x = (node + 1) / 2 * travel / 2, distance = Math.hypot(x, offset);
    return {
      lower: half(lower, upper, distance, -distance, directions),
      upper: half(upper, lower, distance, 0, directions),
      share: (weights[i] ?? 0) / 2,
      lean: distance > 0 ? settings.lean[1] * offset / distance : 0,
      plane: new Float64Array(2),
      gap: new Float64Array(Math.max(upper.rings, lower.rings) * directions),
    };
  });
}

/** Directions are measured from the line to the other centre; a ring's last one is where it leaves the other disc. */
function half(
  own: Profile,
  other: Profile,
  distance: number,
  start: number,
  directions: number,
): HalfOverlap {
  const { nodes, weights } = gaussLegendre(directions);
  const size = own.rings * directions, width = own.radius / own.rings;
  const places: HalfOverlap = {
    count: size,
    ring: new Int32Array(size),
    inner: new Int32Array(size),
    share: new Float64Array(size),
    along: new Float64Array(size),
    area: new Float64Array(size),
  };
  // toward the other disc: outward along the overhang for the lower disc, inward for the upper
  const side = start < 0 ? 1 : -1;
  for (let ring = 0, at = 0; ring < own.rings; ring++) {
    const r = (ring + 0.5) * width;
    const cosine = (r * r + distance * distance - other.radius ** 2) / (2 * r * distance);
    const widest = distance === 0 ? (r < other.radius ? Math.PI : 0) : Math.acos(clamp(cosine));
    for (let j = 0; j < directions; j++, at++) {
      const angle = widest * ((nodes[j] ?? 0) + 1) / 2;
      const x = r * Math.cos(angle), away = Math.hypot(x - distance, r * Math.sin(angle));
      const across = Math.max(0, away / other.radius * other.rings - 0.5);
      const inner = Math.min(Math.floor(across), other.rings - 2);
      places.ring[at] = ring;
      places.inner[at] = inner;
      places.share[at] = across - inner;
      places.along[at] = side * x + start;
      places.area[at] = 2 * r * width * widest * (weights[j] ?? 0) / 2;
    }
  }
  return places;
}

function wearAt(
  { upper, lower, share, lean, plane, gap }: Contact,
  { force, stiffness, upperWear, lowerWear }: WearSettings,
  upperDisc: Profile,
  lowerDisc: Profile,
  path: number,
): void {
  fillGap(lower, lowerDisc, upperDisc, gap);
  settleAlong(gap, lower, force / stiffness, lean, plane);
  lose(lower, lowerDisc, gap, plane, lowerWear * stiffness * share * path);
  fillGap(upper, upperDisc, lowerDisc, gap);
  settleAlong(gap, upper, force / stiffness, lean, plane);
  lose(upper, upperDisc, gap, plane, upperWear * stiffness * share * path);
}

function fillGap(
  { count, ring, inner, share }: HalfOverlap,
  own: Profile,
  other: Profile,
  gap: Float64Array,
): void {
  for (let i = 0; i < count; i++) {
    const at = inner[i] as number, t = share[i] as number;
    gap[i] = (own.rest[ring[i] as number] as number) + (1 - t) * (other.rest[at] as number) +
      t * (other.rest[at + 1] as number);
  }
}

/** Newton on height and slope, as in `settle`; the overhang is a line of symmetry. */
function settleAlong(
  gap: Float64Array,
  { count, along, area }: HalfOverlap,
  f: number,
  lean: number,
  plane: Float64Array,
): void {
  let c = plane[0] as number, a = plane[1] as number;
  for (let turn = 0; turn < 100; turn++) {
    let s = 0, sx = 0, sxx = 0, g = 0, gx = 0;
    for (let i = 0; i < count; i++) {
      const x = along[i] as number, e = (gap[i] as number) - c - a * x;
      if (e <= 0) continue;
      const w = area[i] as number, wx = w * x;
      s += w, sx += wx, sxx += wx * x, g += w * e, gx += wx * e;
    }
    const r = g - f, rx = gx - f * lean, det = s * sxx - sx * sx;
    if (!(det > 1e-12 * s * sxx) || s === 0) {
      a /= 2;
      c = highest(gap, along, count, a) - f / area.reduce((sum, w) => sum + w, 0);
      continue;
    }
    const isClose = Math.abs(r) < 1e-3 * f && Math.abs(rx) < 0.1 * f;
    const damp = turn < 20 ? 1 : 0.5;
    c += damp * (sxx * r - sx * rx) / det;
    a += damp * (s * rx - sx * r) / det;
    if (isClose) {
      plane[0] = c, plane[1] = a;
      return;
    }
  }
  throw new RangeError("wearEvenly requires an overhang at which the upper disc does not tip");
}

function highest(gap: Float64Array, along: Float64Array, count: number, a: number): number {
  let most = -Infinity;
  for (let i = 0; i < count; i++) {
    most = Math.max(most, (gap[i] as number) - a * (along[i] as number));
  }
  return most;
}

function lose(
  { count, ring, along, area }: HalfOverlap,
  disc: Profile,
  gap: Float64Array,
  plane: Float64Array,
  wear: number,
): void {
  const c = plane[0] as number, a = plane[1] as number;
  const width = disc.radius / disc.rings;
  for (let i = 0; i < count; i++) {
    const e = (gap[i] as number) - c - a * (along[i] as number);
    if (e <= 0) continue;
    const at = ring[i] as number;
    const whole = Math.PI * width * width * (2 * at + 1);
    disc.loss[at] = (disc.loss[at] as number) + wear * e * (area[i] as number) / whole;
  }
}

function clamp(cosine: number): number {
  return Math.max(-1, Math.min(1, cosine));
}

function requireWork(
  { lowerRadius, lean }: WearSettings,
  { offset, travel }: Overhang,
  strokes: number,
): void {
  if (!(strokes >= 0 && strokes < Infinity && travel > 0 && offset >= 0)) {
    throw new RangeError(
      `wearEvenly requires strokes and offset of 0 or more and travel above 0, got strokes=${strokes}, offset=${offset}, travel=${travel}`,
    );
  }
  if (travel > 2 * lowerRadius) {
    throw new RangeError(
      `wearEvenly requires a travel no longer than the lower disc in mm, got ${travel} on ${
        2 * lowerRadius
      }`,
    );
  }
  if (!(Math.hypot(travel / 2, offset + lean[1]) < lowerRadius)) {
    throw new RangeError(
      `wearEvenly requires the upper disc's centre to stay over the lower disc, got offset=${offset}, travel=${travel} at which it tips`,
    );
  }
}

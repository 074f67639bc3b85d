/** The overlap of two figures of revolution for one distance of their centres, settled and worn. */
import { gaussLegendre } from "../../numeric/quadrature.ts";
import type { DiscProfile } from "./discProfile.ts";
import type { Overhang } from "./wearLaws.ts";
import type { WearSettings } from "./wearSettings.ts";

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

/** One distance of the centres. */
export interface Contact {
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

/** Half of the stroke at Gauss's places; the other half is its mirror image. */
export function contactsOf(
  settings: WearSettings,
  { offset, travel }: Overhang,
  upper: DiscProfile,
  lower: DiscProfile,
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
  own: DiscProfile,
  other: DiscProfile,
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

/** Settles the upper disc by the places of each disc in turn, and notes what both lose. */
export function wearAt(
  { upper, lower, share, lean, plane, gap }: Contact,
  { force, stiffness, upperWear, lowerWear }: WearSettings,
  upperDisc: DiscProfile,
  lowerDisc: DiscProfile,
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
  own: DiscProfile,
  other: DiscProfile,
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
  disc: DiscProfile,
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

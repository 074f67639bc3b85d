/** Which places bear more of the load: a lap fits the glass where it was pressed, and what stands above a sphere is carried onto lower ground. */
import type { ProfileHeight } from "./figuringModes.ts";
import type { FiguringStroke } from "./figuringStrokes.ts";

/** How the load shifts over one surface. */
export interface Bearing {
  /**
   * nm by which each place stands higher than the places whose shape the lap has when a stroke carries it there, the lap's own
   * tipping taken off
   *
   * @param radii  mm from the centre
   */
  readonly standsOut: (stroke: FiguringStroke, radii: readonly number[]) => readonly number[];
}

/**
 * A micron that stands out takes so much more than its share, and how well that is known: the layer between lap and glass gives
 * by a micron or so, and pitch follows within minutes. COMMON PRACTICE; it is why ordinary polishing makes spheres
 */
export const BEARS_MORE = 1.5;
/** Standard uncertainty of that. */
export const BEARS_DOUBT = 0.6;

const rings = 48;
/** Distances from centre to centre that are reckoned, shares of the diameter. */
const APART = 0.05;
const farthest = 10;
const angles = 12;
const COSINES = Array.from({ length: angles }, (_, i) => Math.cos(Math.PI * (i + 0.5) / angles));
/** Places along half a stroke. */
const places = 6;

/**
 * Reckons the load's shift over a surface.
 *
 * A lap of full size that was pressed on the turning mirror has its shape. Carried aside by d it meets, at each place, the lap's
 * shape of the ring that lies d away; averaged over the turns the place stands out by its own height less the mean of those. The
 * overlap grows smaller as the lap is carried out, and the upper disc lies down on what it meets: (1 - 2 d / D)^2 of it is left.
 * A sphere fits itself everywhere: nothing stands out. Small laps are pressed where they work and are taken to fit.
 *
 * @param glass     height over the sphere, nm, rising radii from the centre on
 * @param aperture  of the disc, mm
 * @see first order in the height over the give; derived for this kit
 * @example a hill in the middle stands out, and more so the farther the lap is carried
 * ```ts
 * import assert from "node:assert/strict";
 * import { figuringStroke } from "./figuringStrokes.ts";
 * const glass = Array.from({ length: 75 }, (_, radius) => ({ radius, surfaceError: 300 * Math.exp(-((radius / 30) ** 2)) }));
 * const { standsOut } = bearingOn(glass, 150);
 * const at = (side: number) => standsOut(figuringStroke("down", 1, 1 / 3, side), [0])[0] ?? NaN;
 * assert.ok(at(0) > 20 && at(1 / 4) > at(0));
 * ```
 */
export function bearingOn(glass: readonly ProfileHeight[], aperture: number): Bearing {
  const half = aperture / 2, own = levelled(ringHeights(glass, half));
  const elsewhere = Array.from(
    { length: farthest + 1 },
    (_, step) => around(own, 2 * step * APART),
  );
  const known = new WeakMap<readonly number[], WeakMap<FiguringStroke, readonly number[]>>();
  const worked = ({ travel, offset }: FiguringStroke, radii: readonly number[]): number[] => {
    const sum = radii.map(() => 0);
    for (let place = 0; place < places; place++) {
      const apart = Math.hypot(travel * (place + 0.5) / (2 * places), offset);
      const across = Math.min(farthest - 1e-9, apart / APART), step = Math.floor(across);
      const one = elsewhere[step] ?? [], next = elsewhere[step + 1] ?? [];
      // what is left of the overlap rights itself: the farther out, the less is out of level
      const left = Math.max(0, 1 - 2 * apart) ** 2;
      radii.forEach((radius, i) => {
        const share = radius / half, near = heightAt(one, share), far = heightAt(next, share);
        const there = near + (across - step) * (far - near);
        sum[i] = (sum[i] as number) + left * (heightAt(own, share) - there);
      });
    }
    return sum.map((v) => v / places);
  };
  return {
    standsOut(stroke, radii): readonly number[] {
      const by = known.get(radii) ?? new WeakMap<FiguringStroke, readonly number[]>();
      known.set(radii, by);
      let found = by.get(stroke);
      if (found === undefined) {
        by.set(stroke, found = stroke.lap < 1 ? radii.map(() => 0) : worked(stroke, radii));
      }
      return found;
    },
  };
}

/** Heights by ring, straight between the radii, the last one's beyond. */
function ringHeights(glass: readonly ProfileHeight[], half: number): number[] {
  return Array.from({ length: rings }, (_, i) => {
    const radius = (i + 0.5) / rings * half;
    const next = glass.findIndex((one) => one.radius >= radius);
    const above = glass[next], below = glass[next - 1];
    if (above === undefined) return glass.at(-1)?.surfaceError ?? 0;
    if (below === undefined) return above.surfaceError;
    const t = (radius - below.radius) / (above.radius - below.radius);
    return below.surfaceError + t * (above.surfaceError - below.surfaceError);
  });
}

/** Without mean and focus: a lap that lies on another sphere fits it too. */
function levelled(heights: readonly number[]): number[] {
  const at = heights.map((_, i) => ((i + 0.5) / rings) ** 2 - 0.5);
  const area = heights.map((_, i) => (2 * i + 1) / rings ** 2);
  const over = (of: (i: number) => number): number =>
    area.reduce((sum, share, i) => sum + share * of(i), 0);
  const mean = over((i) => heights[i] ?? 0);
  const bowl = over((i) => (heights[i] ?? 0) * (at[i] ?? 0)) / over((i) => (at[i] ?? 0) ** 2);
  return heights.map((h, i) => h - mean - bowl * (at[i] ?? 0));
}

/** Mean height over the circle of places so far away, on the disc alone, by ring; radii as shares of the disc's. */
function around(own: readonly number[], apart: number): number[] {
  return own.map((here, i) => {
    const share = (i + 0.5) / rings;
    let sum = 0, count = 0;
    for (const cosine of COSINES) {
      const there = Math.sqrt(share * share + apart * apart - 2 * share * apart * cosine);
      if (there > 1) continue;
      sum += heightAt(own, there);
      count++;
    }
    return count === 0 ? here : sum / count;
  });
}

/** Straight between the rings. */
function heightAt(heights: readonly number[], share: number): number {
  const across = Math.max(0, Math.min(rings - 1, share * rings - 0.5));
  const inner = Math.min(rings - 2, Math.floor(across)), t = across - inner;
  return (heights[inner] ?? 0) * (1 - t) + (heights[inner + 1] ?? 0) * t;
}

/** Height of a profile over its sphere: the wanted paraboloid lies below it by r^4 / 8 R^3. */
export function overSphere(
  profile: readonly ProfileHeight[],
  radius: number | undefined,
): ProfileHeight[] {
  return profile.map(({ radius: r, surfaceError }) => ({
    radius: r,
    surfaceError: surfaceError - (radius === undefined ? 0 : r ** 4 / (8 * radius ** 3) * 1e6),
  }));
}

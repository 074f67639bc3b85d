/** The camera's curve: a power of the light, and what its maker bent it by, at a few knots. */
import { TONE_KNOTS } from "./photoModel.ts";

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
  const bumps = new Float64Array(TONE_KNOTS);
  let steep = 1;
  const at = (value: number): number => {
    let bent = value;
    steep = 1;
    for (let k = 0; k < TONE_KNOTS; k++) {
      const t = value / SPACING - k, far = Math.abs(t);
      if (far >= 2) {
        bumps[k] = 0;
        continue;
      }
      const rest = 2 - far, amount = amounts[k] as number;
      const height = far < 1
        ? 1 - 1.5 * far * far + 0.75 * far * far * far
        : 0.25 * rest * rest * rest;
      const slope = far < 1 ? far * (2.25 * far - 3) : -0.75 * rest * rest;
      bumps[k] = height;
      bent += amount * height;
      steep += (amount * (t < 0 ? -slope : slope)) / SPACING;
    }
    return bent;
  };
  return { at, steep: () => steep, bumps };
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

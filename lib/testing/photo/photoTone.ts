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

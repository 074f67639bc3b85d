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
    const place = value / SPACING, knot = Math.floor(place), f = place - knot, rest = 1 - f;
    let bent = value, slope = 0;
    bumps.fill(0);
    const add = (k: number, height: number, rise: number): void => {
      if (k < 0 || k >= TONE_KNOTS) return;
      const amount = amounts[k] as number;
      bumps[k] = height;
      bent += amount * height;
      slope += amount * rise;
    };
    // a knot's bump reaches to the second knot from it on either side
    add(knot - 1, 0.25 * rest * rest * rest, -0.75 * rest * rest);
    add(knot, 1 - 1.5 * f * f + 0.75 * f * f * f, f * (2.25 * f - 3));
    add(knot + 1, 1 - 1.5 * rest * rest + 0.75 * rest * rest * rest, rest * (3 - 2.25 * rest));
    add(knot + 2, 0.25 * f * f * f, 0.75 * f * f);
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

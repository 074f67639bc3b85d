/** Pressure on the overlap of two discs in closed form: a reference implementation for the strips of the stroke plan. */

/**
 * The overlap of two equal discs: its area, and how unevenly a balanced load lies on it.
 *
 * @param aperture  mm, above 0
 * @param distance  of the centres, mm, 0 to aperture
 * @returns area in mm2; second moment about its own middle along the line of centres in mm4; pressure against the mean,
 *   for a load at the upper disc's centre, `outer` at the lower disc's rim, `inner` at the upper disc's: below 0 it lifts off
 */
export function lens(
  aperture: number,
  distance: number,
): {
  readonly area: number;
  readonly moment: number;
  readonly outer: number;
  readonly inner: number;
} {
  const a = aperture / 2;
  const h = distance / 2, angle = Math.acos(h / a), root = Math.sqrt(a * a - h * h);
  const area = 2 * (a * a * angle - h * root);
  // both halves are segments x from h to a of a disc, seen from the chord: moment = 2 integral of (x - h)^2 2 sqrt(a^2 - x^2)
  const zeroth = area / 2, first = 2 / 3 * root ** 3;
  const second = a ** 4 / 4 * angle - h * root * (2 * h * h - a * a) / 4;
  const moment = 2 * (second - 2 * h * first + h * h * zeroth);
  const steep = area * h * (a - h) / moment;
  return { area, moment, outer: 1 + steep, inner: 1 - steep };
}

/** Distance of the centres at which the inner end of the overlap begins to lift off, mm; found by halving. */
export function liftOff(aperture: number): number {
  let low = 0, high = aperture / 2;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (lens(aperture, middle).inner > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

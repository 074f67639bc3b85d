/**
 * The place between two ends where a function crosses zero (Ridders's method: a bent secant that stays inside).
 *
 * @param f     continuous between low and high, of different sign (or zero) at the two
 * @param low   one end
 * @param high  the other, above low
 * @param tolerance  widest bracket accepted, default two units in the last place
 * @throws {RangeError} where f has the same sign at both ends or is not a number
 * @see Ridders 1979, IEEE Trans. Circuits Syst. 26, 979 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(findRoot((x) => x * x - 2, 0, 2) - Math.SQRT2) < 1e-15);
 * ```
 */
export function findRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  tolerance = 0,
): number {
  let a = low, b = high, fa = f(a), fb = f(b);
  if (!(low < high && fa * fb <= 0)) {
    throw new RangeError(
      `findRoot requires low < high and a change of sign between them, got f(${low})=${fa}, f(${high})=${fb}`,
    );
  }
  for (let step = 0; step < 200; step++) {
    if (fa === 0) return a;
    if (fb === 0) return b;
    const middle = a + (b - a) / 2, fm = f(middle);
    if (b - a <= Math.max(tolerance, 2 ** -52 * Math.max(Math.abs(a), Math.abs(b)))) return middle;
    if (fm === 0) return middle;
    const bent = middle + (middle - a) * Math.sign(fa - fb) * fm / Math.sqrt(fm * fm - fa * fb);
    const x = bent > a && bent < b ? bent : middle, fx = f(x);
    const points = [[a, fa], [middle, fm], [x, fx], [b, fb]] as const;
    const sorted = [...points].sort((p, q) => p[0] - q[0]);
    for (let i = 1; i < sorted.length; i++) {
      const [left, fLeft] = sorted[i - 1] ?? [a, fa], [right, fRight] = sorted[i] ?? [b, fb];
      if (fLeft * fRight <= 0) {
        [a, fa, b, fb] = [left, fLeft, right, fRight];
        break;
      }
    }
  }
  return a + (b - a) / 2;
}

/** How a phone turns light into its file's values. */

/** Toe of the curve, of white: below it values rise in proportion. */
const TOE = 0.002;

/**
 * The camera's value for light: a power with a toe, bent twice.
 *
 * @param light  1 = white
 * @param power  about 1 / 2.2
 * @param a      bend in the middle
 * @param b      turn of both halves
 * @param into   value, and its slopes along light, power and both bends
 */
export function toned(
  light: number,
  power: number,
  a: number,
  b: number,
  into: Float64Array,
): void {
  const soft = Math.max(0, light) + TOE, root = soft ** power, toe = TOE ** power;
  const v = root - toe, bend = v * (1 - v), turn = bend * (1 - 2 * v);
  const along = 1 + a * (1 - 2 * v) + b * (1 - 6 * v + 6 * v * v);
  into[0] = v + a * bend + b * turn;
  into[1] = light > 0 ? (along * power * root) / soft : 0;
  into[2] = along * (root * Math.log(soft) - toe * Math.log(TOE));
  into[3] = bend;
  into[4] = turn;
}

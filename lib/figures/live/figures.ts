/** All live figures by name: a new one is one file, and one line here. */
import type { LiveFigure } from "./figure.ts";
import { bendTheGlass } from "./bendTheGlass.ts";
import { goodEnough } from "./goodEnough.ts";
import { knifeShadow } from "./knifeShadow.ts";
import { lensOrMirror } from "./lensOrMirror.ts";
import { sagittaAndFocalLength } from "./sagittaAndFocalLength.ts";
import { sagittaForecast } from "./sagittaForecast.ts";
import { sphereOrParaboloid } from "./sphereOrParaboloid.ts";
import { strokesAndTurns } from "./strokesAndTurns.ts";

export const liveFigures: readonly LiveFigure[] = [
  sagittaAndFocalLength,
  sphereOrParaboloid,
  goodEnough,
  lensOrMirror,
  strokesAndTurns,
  sagittaForecast,
  knifeShadow,
  bendTheGlass,
];

/**
 * A live figure by its name.
 *
 * @throws {RangeError} where there is none of that name
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(liveFigure("sphere-or-paraboloid").controls.length, 3);
 * ```
 */
export function liveFigure(name: string): LiveFigure {
  const found = liveFigures.find((figure) => figure.name === name);
  if (found === undefined) {
    const known = liveFigures.map((figure) => figure.name).join(", ");
    throw new RangeError(`liveFigure requires one of ${known}, got "${name}"`);
  }
  return found;
}

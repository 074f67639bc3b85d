/** All live figures by name: a new one is one file, and one line here. */
import type { LiveFigure } from "./figure.ts";
import { bendTheGlass } from "./bendTheGlass.ts";
import { centreFirst } from "./centreFirst.ts";
import { collimationScrews } from "./collimationScrews.ts";
import { drawsAndMean } from "./drawsAndMean.ts";
import { faultsOfStar } from "./faultsOfStar.ts";
import { filmThickness } from "./filmThickness.ts";
import { flatAndTube } from "./flatAndTube.ts";
import { goodEnough } from "./goodEnough.ts";
import { knifeShadow } from "./knifeShadow.ts";
import { lensOrMirror } from "./lensOrMirror.ts";
import { pitchPress } from "./pitchPress.ts";
import { pitsAndMinutes } from "./pitsAndMinutes.ts";
import { planetSeen } from "./planetSeen.ts";
import { ronchiBands } from "./ronchiBands.ts";
import { sagittaAndFocalLength } from "./sagittaAndFocalLength.ts";
import { sagittaForecast } from "./sagittaForecast.ts";
import { sectionByFinger } from "./sectionByFinger.ts";
import { sphereOrParaboloid } from "./sphereOrParaboloid.ts";
import { strokeAndSurface } from "./strokeAndSurface.ts";
import { strokesAndTurns } from "./strokesAndTurns.ts";
import { threePoints } from "./threePoints.ts";
import { warmPlume } from "./warmPlume.ts";
import { whoIsFirst } from "./whoIsFirst.ts";

export const liveFigures: readonly LiveFigure[] = [
  sagittaAndFocalLength,
  sphereOrParaboloid,
  goodEnough,
  lensOrMirror,
  strokesAndTurns,
  sagittaForecast,
  knifeShadow,
  bendTheGlass,
  ronchiBands,
  warmPlume,
  filmThickness,
  collimationScrews,
  flatAndTube,
  planetSeen,
  drawsAndMean,
  pitsAndMinutes,
  pitchPress,
  centreFirst,
  strokeAndSurface,
  threePoints,
  whoIsFirst,
  faultsOfStar,
  sectionByFinger,
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

/** Misconceptions known by the ratio they make of a radius: 4, 2 or 25.4 times what it should be tells what happened. */
import {
  isBelievable,
  type Misconception,
  nearestMisconception,
} from "../quantity/misconceptions.ts";
import { byLeaves } from "./methods/leaves.ts";
import { methodNamed } from "./methods/methods.ts";

/** What is known beside the ratio. */
export interface RatioContext {
  /** whose radius it is, by its name in the registry; default one from a depth */
  readonly method?: string;
  /** mm; with `bevel`, a forgotten bevel can be named too */
  readonly aperture?: number;
  /** width of the bevel on the face, mm */
  readonly bevel?: number;
}

/**
 * The misconception that explains a ratio of measured to expected radius, if there is one.
 *
 * Between 0.6 and 1.7 only a forgotten bevel is named, where aperture and bevel are given; beyond, the one whose ratio
 * lies nearest, if it lies within a sixth.
 *
 * @param ratio    measured over expected radius; above 0
 * @param context  method; aperture and bevel
 * @returns the misconception, or `undefined` when none fits
 * @throws {RangeError} when the ratio is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(misconceptionFromRatio(60945.1 / 2400)?.name, "inch for mm");
 * assert.equal(misconceptionFromRatio(1.027, { aperture: 150, bevel: 1 })?.name, "bevel forgotten");
 * assert.equal(misconceptionFromRatio(1.3), undefined);
 * ```
 */
export function misconceptionFromRatio(
  ratio: number,
  context: RatioContext = {},
): Misconception | undefined {
  if (!(ratio > 0 && Number.isFinite(ratio))) {
    throw new RangeError(`misconceptionFromRatio requires a ratio above 0, got ratio=${ratio}`);
  }
  const method = methodNamed(context.method) ?? byLeaves;
  return isBelievable(ratio)
    ? forgottenBevel(ratio, method.restsOnRim === true, context)
    : nearestMisconception(ratio, method.misconceptions);
}

/**
 * What a forgotten bevel makes of the radius: (D / (D - 2b))^2, always too long.
 *
 * @param aperture  D, mm
 * @param bevel     b, width on the face, mm; 0 <= b < D / 2
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(ratioOfForgottenBevel(150, 1).toFixed(3), "1.027");
 * ```
 */
export function ratioOfForgottenBevel(aperture: number, bevel: number): number {
  if (!(bevel >= 0 && 2 * bevel < aperture && Number.isFinite(aperture))) {
    throw new RangeError(
      `ratioOfForgottenBevel requires 0 <= bevel < aperture / 2 in mm, got bevel=${bevel}, aperture=${aperture}`,
    );
  }
  return (aperture / (aperture - 2 * bevel)) ** 2;
}

function forgottenBevel(
  ratio: number,
  restsOnRim: boolean,
  { aperture, bevel }: RatioContext,
): Misconception | undefined {
  if (!restsOnRim || aperture === undefined || bevel === undefined || bevel === 0) return undefined;
  const expected = ratioOfForgottenBevel(aperture, bevel);
  if (Math.abs(Math.log(ratio / expected)) > Math.log(expected) / 4) return undefined;
  return {
    name: "bevel forgotten",
    ratio: expected,
    explains: "the full width was used, as if there were no bevel",
    findOut: "The straight-edge rests on the inner edge of the bevel: measure the chord there.",
  };
}

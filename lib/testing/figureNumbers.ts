/** The numbers of a figure, from whatever test it comes. */
import type { Measured } from "../quantity/measured.ts";

/** Low and high end. */
export type Pair = readonly [number, number];

/** A figure in numbers, each with its uncertainty. */
export interface FigureNumbers {
  /** conic constant K of the best conic */
  readonly conic: Measured;
  /** waves of wavefront; this u and those beside it: half the 95 % interval over 1.96 */
  readonly wavefrontPv: Measured;
  /** waves of wavefront */
  readonly wavefrontRms: Measured;
  /** Strehl ratio, 0 to 1, exact, on the axis */
  readonly strehl: Measured;
  /** nm of glass */
  readonly surfacePv: Measured;
  /** nm of glass */
  readonly surfaceRms: Measured;
  /** glass, nm: + is high, mean zero by area, focus removed; `u` standard uncertainty with what no reading sees */
  readonly profile: readonly {
    readonly radius: number;
    readonly surfaceError: number;
    readonly u: number;
  }[];
  /** shortest or middle 95 % of the draws; units as above */
  readonly interval95: {
    readonly wavefrontPv: Pair;
    readonly wavefrontRms: Pair;
    readonly strehl: Pair;
    readonly conic: Pair;
  };
  /** that the surface is within the goal, 0 to 1 */
  readonly probabilityWithinGoal: number;
}

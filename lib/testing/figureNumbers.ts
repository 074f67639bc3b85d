/** The numbers of a figure, from whatever test it comes. */
import type { Measured } from "../quantity/measured.ts";

/** Low and high end. */
export type Pair = readonly [number, number];

export interface FigureNumbers {
  readonly conic: Measured;
  /** waves of wavefront; this u and those beside it: half the 95 % interval over 1.96 */
  readonly wavefrontPv: Measured;
  readonly wavefrontRms: Measured;
  readonly strehl: Measured;
  /** nm of glass */
  readonly surfacePv: Measured;
  readonly surfaceRms: Measured;
  /** glass, nm: + is high, mean zero by area, focus removed; `u` standard uncertainty with what no reading sees */
  readonly profile: readonly {
    readonly radius: number;
    readonly surfaceError: number;
    readonly u: number;
  }[];
  readonly interval95: {
    readonly wavefrontPv: Pair;
    readonly wavefrontRms: Pair;
    readonly strehl: Pair;
    readonly conic: Pair;
  };
  readonly probabilityWithinGoal: number;
}

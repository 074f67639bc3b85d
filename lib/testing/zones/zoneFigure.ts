/** What goes into the zone test and what comes out of it. */
import type { Source } from "../../optics/conic.ts";
import type { Measured } from "../../quantity/measured.ts";
import type { FigureNumbers, Pair } from "../figureNumbers.ts";
import type { SurfaceTerms } from "../surfaceTerms.ts";
import type { OpeningShape } from "./openings.ts";
import type { MethodResult } from "./zoneMethods.ts";
import type { ZoneGroup, ZoneReading } from "./zoneRuns.ts";
import type { Seats, ToldAstigmatism } from "./zoneSeats.ts";

export type { Pair } from "../figureNumbers.ts";

/** Readings of a zone test, and what is known beside them. */
export interface ZoneTest {
  /** one row for each knife setting */
  readonly readings: readonly ZoneReading[];
  /** the disc's width and the bevel's width on the face, mm; judged is aperture - 2 bevel */
  readonly aperture: number;
  /** width of the bevel on the face, mm */
  readonly bevel: number;
  /** paraxial radius of curvature, mm */
  readonly radius: number;
  /** whether the lamp moves with the knife */
  readonly source: Source;
  /** bands of one height, or sectors of one angle */
  readonly openings: OpeningShape;
  /** how far the mask stands before the rim, mm; edges are then taken as cut in the card; default 0 */
  readonly maskStandOff?: number;
  /** half the distance between lamp and knife where they stand side by side, mm; default 0 */
  readonly sideBySide?: number;
  /** nm; default 550 */
  readonly wavelength?: number;
  /** P-V on the glass, waves; default 1/8, which is 1/4 on the wavefront */
  readonly goalSurfaceWaves?: number;
  /** what the mirror should be: "sphere" only for a mirror that is used at its centre of curvature; default paraboloid */
  readonly reference?: "paraboloid" | "sphere";
  /** how far the mirror may stand otherwise along the axis after it was put back, half-width, mm; default as `readSeats` has it */
  readonly seating?: number;
  /** of the flat's shadow on the mirror, mm: beside the whole disc the part outside it is judged; default none */
  readonly shadowRadius?: number;
  /** whether further readings are reckoned where the verdict is open, which takes longest; default true */
  readonly advise?: boolean;
  /** of the random draws; default 1 */
  readonly seed?: number;
  /** default 10 000 */
  readonly draws?: number;
}

/** One zone as it was read. */
export interface ZoneResult {
  /** edge of the opening toward the middle, mm */
  readonly inner: number;
  /** edge of the opening toward the rim, mm */
  readonly outer: number;
  /** where a reading through the opening belongs, mm from the middle */
  readonly effectiveRadius: number;
  /** mm, in the order of the runs */
  readonly readings: readonly number[];
  /** mm */
  readonly mean: number;
  /** scatter of this zone's readings alone, mm; absent for one reading */
  readonly s?: number;
  /** standard uncertainty of the mean, from the pooled scatter, mm */
  readonly u: number;
  /** reading the reference would give, from the paraxial centre of curvature, mm */
  readonly ideal: number;
  /** mean less ideal at the focus of least rms, mm */
  readonly departure: number;
  /** miss of this zone's light at that focus over the Airy radius, signed; + crosses the axis too near */
  readonly transverseOverAiry: number;
}

/** What zone readings tell of a mirror. */
export interface ZoneFigure extends FigureNumbers {
  /** shape that the figure is judged against */
  readonly reference: "paraboloid" | "sphere";
  /** how the focus of the numbers is chosen */
  readonly focus: "least rms";
  /** nm */
  readonly wavelength: number;
  /** "whole surface" with three seats and both knives in each: astigmatism is then in all numbers */
  readonly scope: "one diameter" | "whole surface";
  /** directions of the mirror's own frame that were read */
  readonly diameters: number;
  /** where more than one diameter was read; it is in the numbers above */
  readonly astigmatism?: ToldAstigmatism;
  /** seats and knives that the whole surface still wants */
  readonly wanted: Seats["wanted"];
  /** shares of the wavefront's mean square doubt */
  readonly budget: readonly { readonly source: string; readonly share: number }[];
  /** the part of the mirror that the flat does not shade */
  readonly outsideShadow?: {
    readonly wavefrontPv: Measured;
    readonly interval95: Pair;
    readonly probability: number;
    readonly verdict: Verdict;
  };
  /** what could stand in these openings unseen, in sentences; no yes is given that it could break */
  readonly unseen: readonly string[];
  /** what is missing for a yes */
  readonly lacks: readonly string[];
  /** mm: the clear width the figure is for */
  readonly judgedAperture: number;
  /** from the middle outward */
  readonly zones: readonly ZoneResult[];
  /** number of runs */
  readonly runs: number;
  /** runs by day, seat and knife */
  readonly groups: readonly ZoneGroup[];
  /** of one reading, over all zones, mm */
  readonly pooledS: number;
  /** degrees of freedom of `pooledS` */
  readonly pooledDof: number;
  /** RMS of wavefront that the scatter alone would feign on a perfect mirror, waves */
  readonly noiseFloorRms: Measured;
  /** largest over the zones */
  readonly transverseOverAiry: Measured;
  /** of the profile, nm^2, from the scatter of the readings alone */
  readonly profileCovariance: readonly Float64Array[];
  /** of the surface that is the same all round, from the reference */
  readonly round: SurfaceTerms;
  /** "yes" and "no" only where the probability is sure enough */
  readonly verdict: Verdict;
  /** what the verdict rests on, in a sentence */
  readonly why: string;
  /** which further readings would help; absent where the verdict stands */
  readonly advice?: string;
  /** whether more runs are what `advice` asks for; absent with it */
  readonly moreRuns?: boolean;
  /** whether narrower openings are; absent with it */
  readonly narrower?: boolean;
  /** what was taken for granted */
  readonly assumed: readonly string[];
  /** what looks unlikely or weak, a sentence each */
  readonly cautions: readonly string[];
  /** plainer methods on the same means; only where their zones suffice and the reference is the paraboloid */
  readonly beside: readonly MethodResult[];
  /** each draw: P-V in waves, for pictures */
  readonly drawsPv: Float64Array;
  /** of the random draws */
  readonly seed: number;
}

// Whether a goal is met, and how surely: the same rule wherever the kit judges.

/** Whether a mirror meets its goal: "not shown" where neither is sure enough. */
export type Verdict = "yes" | "no" | "not shown";

/** From this probability on the answer is yes; from one less this downward it is no (COMMON PRACTICE of the course). */
export const SURE_ENOUGH = 0.95;

/**
 * Turns a probability of meeting the goal into an answer.
 *
 * @param probability  0 to 1
 * @param sure  from which probability on it is yes; above 0.5, default 0.95
 * @returns yes, no, or not shown: the readings cannot tell
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([0.97, 0.6, 0.03].map((p) => verdictOf(p)), ["yes", "not shown", "no"]);
 * ```
 */
export function verdictOf(probability: number, sure: number = SURE_ENOUGH): Verdict {
  if (!(probability >= 0 && probability <= 1 && sure > 0.5 && sure <= 1)) {
    throw new RangeError(
      `verdictOf requires 0 <= probability <= 1 and 0.5 < sure <= 1, got ${probability}, ${sure}`,
    );
  }
  if (probability >= sure) return "yes";
  return probability <= 1 - sure + 1e-12 ? "no" : "not shown";
}

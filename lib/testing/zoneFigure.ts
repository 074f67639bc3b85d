/** What goes into the zone test and what comes out of it. */
import type { Measured } from "../quantity/measured.ts";
import type { Source } from "../optics/crossing.ts";
import type { FigureNumbers } from "./figureNumbers.ts";
import type { OpeningShape } from "./openings.ts";
import type { Verdict } from "./verdict.ts";
import type { MethodResult } from "./zoneMethods.ts";
import type { ZoneReading } from "./zoneRuns.ts";

export type { Pair } from "./figureNumbers.ts";

export interface ZoneTest {
  readonly readings: readonly ZoneReading[];
  /** the disc's width and the bevel's width on the face, mm; judged is aperture - 2 bevel */
  readonly aperture: number;
  readonly bevel: number;
  /** paraxial radius of curvature, mm */
  readonly radius: number;
  readonly source: Source;
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
  /** of the random draws; default 1 */
  readonly seed?: number;
  /** default 10 000 */
  readonly draws?: number;
}

/** One zone as it was read. */
export interface ZoneResult {
  readonly inner: number;
  readonly outer: number;
  readonly effectiveRadius: number;
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

export interface ZoneFigure extends FigureNumbers {
  readonly reference: "paraboloid" | "sphere";
  readonly focus: "least rms";
  /** nm */
  readonly wavelength: number;
  /** mm: the clear width the figure is for */
  readonly judgedAperture: number;
  readonly zones: readonly ZoneResult[];
  readonly runs: number;
  /** of one reading, over all zones, mm */
  readonly pooledS: number;
  readonly pooledDof: number;
  /** RMS of wavefront that the scatter alone would feign on a perfect mirror, waves */
  readonly noiseFloorRms: Measured;
  /** largest over the zones */
  readonly transverseOverAiry: Measured;
  /** of the profile, nm^2, from the scatter of the readings alone */
  readonly profileCovariance: readonly Float64Array[];
  readonly verdict: Verdict;
  readonly why: string;
  /** which further readings would help; absent where the verdict stands */
  readonly advice?: string;
  /** whether more runs are what `advice` asks for; absent with it */
  readonly moreRuns?: boolean;
  /** what was taken for granted */
  readonly assumed: readonly string[];
  readonly cautions: readonly string[];
  /** plainer methods on the same means; only where their zones suffice and the reference is the paraboloid */
  readonly beside: readonly MethodResult[];
  /** each throw of the readings: P-V in waves, for pictures */
  readonly drawsPv: Float64Array;
  readonly seed: number;
}

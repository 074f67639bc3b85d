/** summary.json, key by key: the contract for machines. Keys may be added, never renamed; unknown means absent. */
import type { Method } from "../measuring/methods/methods.ts";
import type { Position, Warning } from "../record/types.ts";

/** A quantity in JSON; `u` is a standard uncertainty, `from` names the tables it rests on. */
export interface Q {
  readonly value: number;
  readonly unit: string;
  readonly u?: number;
  readonly dof?: number;
  readonly from?: readonly string[];
}

export interface DesignSummary {
  readonly aperture: Q;
  readonly focalLength: Q;
  readonly focalRatio: number;
  readonly radius: Q;
  readonly sagitta: Q;
  readonly shape: "sphere" | "paraboloid";
  readonly sphereIsEnough: boolean;
  readonly sphereDeparture: Q;
  readonly airyRadius: Q;
}

export interface EstimateSummary {
  readonly method: Method;
  readonly radius: Q;
  readonly readings: number;
  readonly setAside: number;
  readonly used: boolean;
}

export interface SetAside {
  readonly file: string;
  readonly line: number;
  readonly value: number;
  readonly why: string;
}

export interface CurveSummary {
  /** these three are absent where every table holds a slip, so that nothing is left to rest on */
  readonly radius?: Q;
  readonly focalLength?: Q;
  readonly sagitta?: Q;
  readonly estimates: readonly EstimateSummary[];
  readonly birgeRatio?: number;
  readonly consistent: boolean;
  readonly oddOne?: Method;
  readonly setAside: readonly SetAside[];
  readonly budget: readonly { readonly source: string; readonly share: number }[];
  readonly mistake?: { readonly file: string; readonly what: string };
}

export interface GrindingSummary {
  readonly rates: { readonly mirrorOnTop?: Q; readonly toolOnTop?: Q };
  readonly sagittaNow: Q;
  readonly targetSagitta: Q;
  readonly overshoot?: Q;
  readonly nextPosition: Position;
  readonly canForecast: boolean;
  readonly minutesToTarget?: Q;
  readonly interval95?: readonly [number, number];
  readonly stopAt?: Q;
}

export interface FigureSummary {
  readonly photo?: string;
  readonly refused?: string;
  readonly conic?: Q;
  readonly surfacePv?: Q;
  readonly surfaceRms?: Q;
  readonly wavefrontPv?: Q;
  readonly wavefrontRms?: Q;
  readonly strehl?: Q;
  readonly reference?: "paraboloid" | "sphere";
  readonly focus?: "least rms";
  readonly noiseFloorRms?: Q;
  readonly transverseOverAiry?: Q;
  /** scatter of one knife reading, pooled over the zones */
  readonly pooledReadingS?: Q;
  readonly runs?: number;
  /** the clear width the figure is for: the aperture less both bevels */
  readonly judgedAperture?: Q;
  readonly offset?: Q;
  /** what `offset` is measured from */
  readonly offsetFrom?: string;
  readonly tilt?: Q;
  /** what a photograph shows beside the conic: amounts of glass */
  readonly terms?: readonly { readonly name: string; readonly amounts: readonly Q[] }[];
  readonly profile?: readonly {
    readonly radius: number;
    readonly surfaceError: number;
    readonly u: number;
  }[];
  readonly interval95?: {
    readonly wavefrontPv: readonly [number, number];
    readonly wavefrontRms: readonly [number, number];
    readonly strehl: readonly [number, number];
    readonly conic: readonly [number, number];
  };
  readonly probabilityWithinGoal?: number;
  /** directions of the mirror's own frame that were read */
  readonly diameters?: number;
  /** glass higher by amplitude x (r / rho)^2 x cos 2(phi - axis), phi counter-clockwise from the mark seen from the front */
  readonly astigmatism?: {
    readonly amplitude: Q;
    readonly axis: Q;
    /** of the stand, as far as the knives see it */
    readonly stand?: Q;
    readonly interval95: readonly [number, number];
  };
  /** of the wavefront's variance, largest first */
  readonly budget?: readonly { readonly source: string; readonly share: number }[];
  /** what readings through these openings cannot see, in sentences */
  readonly unseen?: readonly string[];
}

export interface VerdictSummary {
  readonly meetsGoal: "yes" | "no" | "not shown";
  readonly probability: number;
  readonly why: string;
  /** what the verdict is of */
  readonly scope: "one diameter" | "whole surface";
  /** what is still missing for a yes that may be sent to be coated; absent where nothing is */
  readonly lacks?: readonly string[];
  /** the same verdict on what lies outside the flat's shadow, where a flat is known */
  readonly outsideShadow?: {
    readonly wavefrontPv: Q;
    readonly interval95: readonly [number, number];
    readonly probability: number;
    readonly meetsGoal: "yes" | "no" | "not shown";
  };
}

/** Zone readings that are wanted next: a seat of the mirror, a direction of the knife, how many runs. */
export interface WantedReading {
  readonly angleDeg: number;
  readonly knifeDeg: number;
  readonly runs: number;
}

/** The telescope of the record's `telescope:` part; a group of keys is absent where its part is not written. */
export interface TelescopeSummary {
  /** what it is laid out for: the measured focal length once it is near the plan, else the plan's */
  readonly focalLength: Q;
  readonly flatMinorAxisNeeded?: Q;
  readonly flatMinorAxis?: Q;
  /** away from the focuser, and as much toward the mirror */
  readonly flatOffset?: Q;
  readonly flatOffsetAlongFace?: Q;
  readonly flatToFocus?: Q;
  readonly flatFromVertex?: Q;
  /** below 0: no point of the field gets all the light */
  readonly fullyLitField?: Q;
  readonly obstructionByDiameter?: number;
  readonly obstructionByArea?: number;
  readonly magnitudeLoss?: number;
  readonly contrast?: readonly { readonly ofCutoff: number; readonly value: number }[];
  readonly illuminationAtFieldStop?: number;
  readonly comaFreeRadius?: Q;
  readonly comaRmsAtFieldStop?: Q;
  readonly tubeBoreNeeded?: Q;
  readonly tubeIsWideEnough?: boolean;
  readonly supportRadius?: Q;
  readonly supportSurfaceRms?: Q;
  readonly supportSurfaceRmsThick?: Q;
  readonly mirrorMass?: Q;
  /** time constant, still air on both faces */
  readonly coolDown?: Q;
  readonly coolDownWithFan?: Q;
  readonly starShiftPerTurn?: Q;
  readonly screwTurns?: readonly number[];
  readonly tiltTolerance?: Q;
  readonly balancePoint?: Q;
  readonly totalMass?: Q;
  readonly swapMoment?: Q;
  readonly frictionMoment?: Q;
  readonly holdsBalance?: boolean;
  readonly eyepieces?: readonly {
    readonly magnification: number;
    readonly exitPupil: Q;
    readonly trueField: Q;
    readonly drawtubePerDioptre: Q;
  }[];
}

/** The silver of a film of 100 nm on the mirror's face, as physics; never without its cautions. */
export interface CoatingSummary {
  readonly silverMass: Q;
  readonly cautions: readonly [string, ...string[]];
}

/** What the aperture can show at best. */
export interface SkySummary {
  readonly dawesLimit: Q;
  readonly rayleighLimit: Q;
  readonly limitingMagnitude: readonly [low: number, high: number];
}

export interface NextStep {
  readonly stage: string;
  readonly do: string;
  readonly until: string;
  readonly why: string;
  readonly caution: string;
  /** where zones are to be read */
  readonly readings?: readonly WantedReading[];
}

export interface Summary {
  readonly record: string;
  readonly title: string;
  readonly kitVersion: string;
  readonly warnings: readonly Warning[];
  readonly design: DesignSummary;
  readonly curve?: CurveSummary;
  readonly grinding?: GrindingSummary;
  readonly figure?: { readonly zones?: FigureSummary; readonly photos?: readonly FigureSummary[] };
  readonly verdict?: VerdictSummary;
  readonly telescope?: TelescopeSummary;
  readonly coating?: CoatingSummary;
  readonly sky?: SkySummary;
  readonly nextStep: NextStep;
}

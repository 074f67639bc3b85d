/** summary.json, key by key: the contract for machines. Keys may be added, never renamed; unknown means absent. */
import type { Method } from "../measuring/methods/methods.ts";
import type { Position, Warning } from "../record/types.ts";

/** A quantity in JSON; `u` is a standard uncertainty, `from` names the tables it rests on. */
export interface Q {
  /** the estimate, in `unit` */
  readonly value: number;
  /** symbol: "mm", "nm", "wave"; "" for a pure number */
  readonly unit: string;
  /** in the same unit; absent where it is not known */
  readonly u?: number;
  /** degrees of freedom of `u`; absent where `u` is taken as known */
  readonly dof?: number;
  /** names of files */
  readonly from?: readonly string[];
}

/** The mirror as it is planned. */
export interface DesignSummary {
  /** diameter of the disc, mm */
  readonly aperture: Q;
  /** mm */
  readonly focalLength: Q;
  /** focal length over aperture */
  readonly focalRatio: number;
  /** radius of curvature R, twice the focal length, mm */
  readonly radius: Q;
  /** depth of the hollow over the whole disc, spherical, mm */
  readonly sagitta: Q;
  /** that the glass is to have: as the goal says, or what is enough */
  readonly shape: "sphere" | "paraboloid";
  /** whether a sphere at best focus keeps the surface within the goal */
  readonly sphereIsEnough: boolean;
  /** sphere against paraboloid at the edge, nm of glass */
  readonly sphereDeparture: Q;
  /** of a star's disc in the focal plane, um */
  readonly airyRadius: Q;
}

/** The radius of curvature by one method. */
export interface EstimateSummary {
  /** name of the method */
  readonly method: Method;
  /** mm */
  readonly radius: Q;
  /** how many it rests on, those set aside not counted */
  readonly readings: number;
  /** how many readings are shown and not used */
  readonly setAside: number;
  /** whether the common radius rests on it */
  readonly used: boolean;
}

/** A reading that is shown and not used. */
export interface SetAside {
  /** the table it stands in */
  readonly file: string;
  /** from 1 */
  readonly line: number;
  /** as read, mm */
  readonly value: number;
  /** in a sentence */
  readonly why: string;
}

/** The curve by all methods together. */
export interface CurveSummary {
  /** these three are absent where every table holds a slip, so that nothing is left to rest on */
  readonly radius?: Q;
  /** mm */
  readonly focalLength?: Q;
  /** depth of the hollow over the whole disc, spherical, mm */
  readonly sagitta?: Q;
  /** each method alone */
  readonly estimates: readonly EstimateSummary[];
  /** scatter of the methods over what their uncertainties allow; absent under two methods */
  readonly birgeRatio?: number;
  /** whether the methods agree within their uncertainties */
  readonly consistent: boolean;
  /** the method that disagrees with the others */
  readonly oddOne?: Method;
  /** readings that are shown and not used */
  readonly setAside: readonly SetAside[];
  /** shares of the radius's variance by source, largest first */
  readonly budget: readonly { readonly source: string; readonly share: number }[];
  /** the first table, or the plan, that a known misconception would explain */
  readonly mistake?: { readonly file: string; readonly what: string };
  /** of sagitta between the deepest and the flattest diameter, um; absent where one diameter was read, or none told */
  readonly astigmatism?: Q;
}

/** Where the hollow stands, and how long it still takes. */
export interface GrindingSummary {
  /** of the sagitta today in each position, um/min, both positive */
  readonly rates: { readonly mirrorOnTop?: Q; readonly toolOnTop?: Q };
  /** at the last row of the log, mm */
  readonly sagittaNow: Q;
  /** by the plan, mm */
  readonly targetSagitta: Q;
  /** how far the hollow is too deep, um; absent where it is not */
  readonly overshoot?: Q;
  /** which disc goes on top now */
  readonly nextPosition: Position;
  /** whether the readings suffice for a rate */
  readonly canForecast: boolean;
  /** from the last reading, in `nextPosition`, min */
  readonly minutesToTarget?: Q;
  /** of the minutes, 95 % */
  readonly interval95?: readonly [number, number];
  /** target less what the finer grades will add, mm */
  readonly stopAt?: Q;
  /** which readings gave the forecast: the method with the largest say */
  readonly from?: Method;
  /** minutes ground since the last reading, counted in `sagittaNow.u`; absent where there are none */
  readonly minutesUnread?: Q;
  /** what the last stretch brought, where it is far less than the minutes should have: a spent charge */
  readonly spent?: { readonly gained: Q; readonly expected: Q; readonly minutes: Q };
  /** after the last grade, where the depth missed: live with it, or go back */
  readonly choice?: DepthChoice;
}

/** Two ways to go on with a depth that missed. */
export interface DepthChoice {
  /** the telescope of this glass as it is */
  readonly accept: {
    readonly focalLength: Q;
    readonly focalRatio: number;
    readonly sphereDeparture: Q;
  };
  /** which disc on top, with which grade, how long; then all finer grades again */
  readonly goBack: { readonly position: Position; readonly grade: string; readonly minutes: Q };
}

/** The figure of the polished glass, by zone readings or by one photograph. */
export interface FigureSummary {
  /** file of the photograph; absent for zones */
  readonly photo?: string;
  /** why no figure came of it; then the numbers are absent */
  readonly refused?: string;
  /** conic constant K: 0 sphere, -1 paraboloid */
  readonly conic?: Q;
  /** peak to valley, nm of glass */
  readonly surfacePv?: Q;
  /** root mean square by area, nm of glass */
  readonly surfaceRms?: Q;
  /** peak to valley, waves of wavefront */
  readonly wavefrontPv?: Q;
  /** root mean square by area, waves of wavefront */
  readonly wavefrontRms?: Q;
  /** Strehl ratio, 0 to 1 */
  readonly strehl?: Q;
  /** shape that the figure is judged against */
  readonly reference?: "paraboloid" | "sphere";
  /** how the focus of the numbers is chosen */
  readonly focus?: "least rms";
  /** what the scatter of the readings alone would feign on a perfect mirror, waves RMS */
  readonly noiseFloorRms?: Q;
  /** largest miss of a zone's light at the focus, over the Airy radius */
  readonly transverseOverAiry?: Q;
  /** scatter of one knife reading, pooled over the zones */
  readonly pooledReadingS?: Q;
  /** number of runs through the zones */
  readonly runs?: number;
  /** the clear width the figure is for: the aperture less both bevels */
  readonly judgedAperture?: Q;
  /** of the grating along the axis, mm, + = farther from the mirror */
  readonly offset?: Q;
  /** what `offset` is measured from */
  readonly offsetFrom?: string;
  /** turn of the grating, degrees counter-clockwise as seen in the photograph */
  readonly tilt?: Q;
  /** what a photograph shows beside the conic: amounts of glass */
  readonly terms?: readonly { readonly name: string; readonly amounts: readonly Q[] }[];
  /** height of glass from middle to rim, nm, + is high; radius mm, `u` standard uncertainty */
  readonly profile?: readonly {
    readonly radius: number;
    readonly surfaceError: number;
    readonly u: number;
  }[];
  /** ends of 95 %, in the units of the numbers above */
  readonly interval95?: {
    readonly wavefrontPv: readonly [number, number];
    readonly wavefrontRms: readonly [number, number];
    readonly strehl: readonly [number, number];
    readonly conic: readonly [number, number];
  };
  /** that the surface is within the goal, 0 to 1 */
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

/** Whether the mirror meets its goal. */
export interface VerdictSummary {
  /** "not shown" where neither yes nor no is sure enough */
  readonly meetsGoal: "yes" | "no" | "not shown";
  /** of meeting the goal, 0 to 1 */
  readonly probability: number;
  /** in a sentence */
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
  /** where the mirror's mark stands, degrees counter-clockwise from the top */
  readonly angleDeg: number;
  /** edge of the knife, degrees counter-clockwise from the vertical */
  readonly knifeDeg: number;
  /** how many */
  readonly runs: number;
}

/** The telescope of the record's `telescope:` part; a group of keys is absent where its part is not written. */
export interface TelescopeSummary {
  /** the measured focal length wherever one is known; the plan's while the disc is still being hollowed, or nothing is measured */
  readonly builtFor: Q;
  /** what it is laid out for: the measured focal length once it is near the plan, else the plan's */
  readonly focalLength: Q;
  /** least minor axis that gives the field wanted, mm */
  readonly flatMinorAxisNeeded?: Q;
  /** of the flat taken, mm */
  readonly flatMinorAxis?: Q;
  /** away from the focuser, and as much toward the mirror */
  readonly flatOffset?: Q;
  /** the same shift along the flat's face, mm */
  readonly flatOffsetAlongFace?: Q;
  /** from the flat's centre to the focal plane, mm */
  readonly flatToFocus?: Q;
  /** from the mirror's vertex to the flat's centre along the axis, mm */
  readonly flatFromVertex?: Q;
  /** below 0: no point of the field gets all the light */
  readonly fullyLitField?: Q;
  /** flat's minor axis over the aperture */
  readonly obstructionByDiameter?: number;
  /** share of the aperture's area that the flat hides */
  readonly obstructionByArea?: number;
  /** light lost to the flat, magnitudes */
  readonly magnitudeLoss?: number;
  /** of fine detail, 0 to 1, at shares of the cutoff frequency */
  readonly contrast?: readonly { readonly ofCutoff: number; readonly value: number }[];
  /** share of the axis's light at the edge of the field stop, 0 to 1 */
  readonly illuminationAtFieldStop?: number;
  /** distance from the axis within which coma stays under 1/14 wave RMS, mm */
  readonly comaFreeRadius?: Q;
  /** coma at the edge of the field stop, waves RMS */
  readonly comaRmsAtFieldStop?: Q;
  /** least inner diameter of the tube that cuts no light of the field, mm */
  readonly tubeBoreNeeded?: Q;
  /** whether the tube written is as wide */
  readonly tubeIsWideEnough?: boolean;
  /** circle of the cell's points, mm */
  readonly supportRadius?: Q;
  /** sag of the mirror on its points as a thin plate, nm of glass */
  readonly supportSurfaceRms?: Q;
  /** the same with shear, as a thick plate, nm of glass */
  readonly supportSurfaceRmsThick?: Q;
  /** kg */
  readonly mirrorMass?: Q;
  /** time constant, still air on both faces */
  readonly coolDown?: Q;
  /** the same with a fan, min */
  readonly coolDownWithFan?: Q;
  /** how far a star moves in the focal plane for one turn of a screw, mm */
  readonly starShiftPerTurn?: Q;
  /** of each screw, for bringing the image to the middle; their mean is 0 */
  readonly screwTurns?: readonly number[];
  /** how far the mirror may tilt, arcminutes */
  readonly tiltTolerance?: Q;
  /** centre of mass from the tube's rear end, mm */
  readonly balancePoint?: Q;
  /** of the tube's parts, kg */
  readonly totalMass?: Q;
  /** of the mass added at the focuser, N m */
  readonly swapMoment?: Q;
  /** that the altitude bearings hold, N m */
  readonly frictionMoment?: Q;
  /** whether friction holds the mass added */
  readonly holdsBalance?: boolean;
  /** what each eyepiece gives: mm, degrees, mm for one dioptre */
  readonly eyepieces?: readonly {
    readonly magnification: number;
    readonly exitPupil: Q;
    readonly trueField: Q;
    readonly drawtubePerDioptre: Q;
  }[];
}

/** The silver of a film of 100 nm on the mirror's face, as physics; never without its cautions. */
export interface CoatingSummary {
  /** mg */
  readonly silverMass: Q;
  /** sentences, each to be read before */
  readonly cautions: readonly [string, ...string[]];
}

/** What the aperture can show at best. */
export interface SkySummary {
  /** least separation of two equal stars seen as two, arcseconds */
  readonly dawesLimit: Q;
  /** separation at which one star stands on the other's first dark ring, arcseconds */
  readonly rayleighLimit: Q;
  /** faintest star, from the cautious rule to the best sky and eye */
  readonly limitingMagnitude: readonly [low: number, high: number];
}

/** One stroke of a session, in the words that grinding.csv has for it. */
export interface PlannedStroke {
  /** which disc is above, as in the log */
  readonly position: Position;
  /** how far the stroke's line lies beside the centre, mm */
  readonly sideMm: number;
  /** of the stroke from end to end, mm */
  readonly lengthMm: number;
  /** at the plan's strokes a minute */
  readonly minutes: number;
  /** against the bench, counter-clockwise from above, degrees, after every so many strokes */
  readonly upperTurnDeg: number;
  /** the same of the lower disc */
  readonly lowerTurnDeg: number;
  /** strokes between two turns, also after the last incomplete set */
  readonly everyStrokes: number;
  /** width of the lap where it is smaller than the mirror, mm */
  readonly lapMm?: number;
}

/** What a coming session should do to the RMS of the glass, nm, of the verdict's scope; low and high are of 95 %. */
export interface ForeseenSession {
  /** before it */
  readonly from: number;
  /** lower end after it */
  readonly low: number;
  /** the middle of what may come */
  readonly middle: number;
  /** upper end after it */
  readonly high: number;
}

/** What the pairs of tests say of these hands, and what each session was foreseen to do beside what it did. */
export interface FiguringSummary {
  /** taken at 0.7 of the radius by an hour of centre strokes a third of the width long */
  readonly rate: Q;
  /** sessions with a test before and after */
  readonly learnedFrom: number;
  /** nm of glass, in the order of time; foreseen from the sessions before it: low, middle, high, 95 % */
  readonly beforeAfter: readonly {
    readonly date?: string;
    readonly rmsBefore: number;
    readonly foreseen: readonly [low: number, middle: number, high: number];
    readonly rmsAfter: number;
  }[];
}

/** what to do now, until when and why */
export interface NextStep {
  /** what the step belongs to: "fine grinding" */
  readonly stage: string;
  /** the step, in the imperative */
  readonly do: string;
  /** when it is done */
  readonly until: string;
  /** in a sentence */
  readonly why: string;
  /** what to mind before it */
  readonly caution: string;
  /** the grade to work with */
  readonly grade?: string;
  /** how long, where a step is a time of work */
  readonly minutes?: number;
  /** where zones are to be read */
  readonly readings?: readonly WantedReading[];
  /** strokes in the order of work; `do` says the same */
  readonly plan?: readonly PlannedStroke[];
  /** RMS of the glass before and after a session */
  readonly foreseen?: ForeseenSession;
}

/** A fault of a star's wave that has a direction. */
export interface DirectedSummary {
  /** wavefront, RMS over the whole disc, wave; its u is that of the two components */
  readonly amount: Q;
  /** 95 %; from 0 where it may be nothing */
  readonly interval95: readonly [low: number, high: number];
  /** of the wave's advance, deg, from the mirror's mark, counter-clockwise in the picture outside focus */
  readonly axis: Q;
}

/** What two photographs of a star, inside and outside focus, say of the whole telescope's wave. */
export interface StarPairSummary {
  /** inside, outside */
  readonly photos: readonly [inside: string, outside: string];
  /** where the mirror's mark stood, deg */
  readonly angle: Q;
  /** why nothing is told */
  readonly refused?: string;
  /** wavefront, RMS over the whole disc, wave; + is an advance at the rim, as of a sphere in a paraboloid's place */
  readonly spherical?: Q;
  /** two ends of a line ahead, those across it behind */
  readonly astigmatism?: DirectedSummary;
  /** one side ahead, the other behind */
  readonly coma?: DirectedSummary;
  /** three ends ahead */
  readonly threefold?: DirectedSummary;
  /** of the wave at the rim beside all else, wave; below 0 is turned down */
  readonly edge?: Q;
  /** a star's width at half height by air and camera, arcsec, in each photograph */
  readonly seeing?: readonly Q[];
  /** at the rim, wave, + outside, in each photograph */
  readonly defocus?: readonly Q[];
  /** width of the flat's shadow over the aperture */
  readonly obstruction?: Q;
  /** what a lamp at a finite distance makes by itself, wave RMS, taken out of `spherical` */
  readonly fromDistance?: Q;
  /** which faults the pair proves, which it rules out at 95 %; causes and the act that parts them where it proves one */
  readonly faults?: readonly {
    readonly fault: string;
    readonly says: "there" | "not there" | "cannot tell";
    readonly causes?: readonly string[];
    readonly act?: string;
  }[];
  /** scatter of what the fit leaves over the pictures' contrast */
  readonly misfit?: number;
}

/** Faults seen with the mirror at several turns, parted: by star pairs with the mirror turned in its cell, by bands with it turned in its stand. */
export interface PartedSummary {
  /** turned with the mirror: axes in deg from its mark, counter-clockwise in the picture outside focus */
  readonly mirror: {
    readonly astigmatism?: DirectedSummary;
    readonly threefold?: DirectedSummary;
    /** by bands alone */
    readonly fourfold?: DirectedSummary;
  };
  /** stayed: flat, cell, eyepiece, or a bent camera; axes in deg from the picture's top */
  readonly rest: {
    readonly astigmatism?: DirectedSummary;
    readonly threefold?: DirectedSummary;
    /** by bands alone */
    readonly fourfold?: DirectedSummary;
  };
}

/** What a series of photographs behind the knife says of the surface; the reference is the paraboloid, focus and tilt taken out. */
export interface KnifeSummary {
  /** in the order of knife.csv */
  readonly photos: readonly string[];
  /** why nothing is told */
  readonly refused?: string;
  /** directions of the knife across the mirror that stand 30 degrees or more apart; with one the surface is told along it alone */
  readonly directions?: number;
  /** seats of the mirror; with one the astigmatism is mirror's and stand's together */
  readonly seats?: number;
  /** peak to valley, nm of glass */
  readonly surfacePv?: Q;
  /** root mean square by area, nm of glass */
  readonly surfaceRms?: Q;
  /** peak to valley, waves of wavefront */
  readonly wavefrontPv?: Q;
  /** root mean square by area, waves of wavefront */
  readonly wavefrontRms?: Q;
  /** best single conic of the whole surface */
  readonly conic?: Q;
  /** as in a figure by zones */
  readonly astigmatism?: {
    readonly amplitude: Q;
    readonly axis: Q;
    readonly interval95: readonly [number, number];
  };
  /** ends of 95 % */
  readonly interval95?: {
    readonly surfacePv: readonly [number, number];
    readonly surfaceRms: readonly [number, number];
    readonly wavefrontPv: readonly [number, number];
    readonly wavefrontRms: readonly [number, number];
    readonly conic: readonly [number, number];
  };
  /** the surface in shapes whose sum it is, nm of glass, angles counter-clockwise from the right with the mark on top: Zernike's of mean
   * square 1, and edges, exp((r / a - 1) / width), by their height at the rim */
  readonly shapes?: readonly {
    readonly n?: number;
    readonly m?: number;
    readonly width?: number;
    readonly amount: Q;
  }[];
  /** standard uncertainty of the surface by its distance from the middle, nm */
  readonly doubt?: readonly { readonly radius: number; readonly u: number }[];
  /** along the diameter that each direction of the knife cuts across: mm from the middle, nm of glass */
  readonly sections?: readonly {
    /** counter-clockwise from the mark, deg */
    readonly angle: Q;
    readonly places: readonly {
      readonly at: number;
      readonly surfaceError: number;
      readonly u: number;
    }[];
  }[];
  /** zone readings taken from the pictures: where the two halves of a window are equally bright, on the scale of at_mm */
  readonly zones?: readonly {
    /** edges, mm from the middle */
    readonly inner: number;
    readonly outer: number;
    /** of the knife, deg */
    readonly knife: number;
    readonly reading: Q;
  }[];
  /** scatter of what the fit leaves over the pictures' contrast */
  readonly misfit?: number;
}

/** Zones, bands, knife and star reconciled in the terms that more than one of them sees. */
export interface OneSurfaceSummary {
  /** spherical aberration of a star's light, wavefront RMS over the disc, wave */
  readonly spherical: Q;
  /** the same as a conic constant */
  readonly conic: Q;
  /** Zernike's terms that are the same all round, by their degree n: nm of glass, RMS over the disc, from the paraboloid */
  readonly round: readonly { readonly n: number; readonly amount: Q }[];
  /** the map behind the knife joined with what the others say: where there is one, and the tests agree */
  readonly surface?: {
    readonly surfacePv: Q;
    readonly surfaceRms: Q;
    readonly wavefrontPv: Q;
    readonly wavefrontRms: Q;
    readonly strehl: Q;
    readonly interval95: {
      readonly wavefrontPv: readonly [number, number];
      readonly wavefrontRms: readonly [number, number];
      readonly strehl: readonly [number, number];
    };
    readonly probabilityWithinGoal: number;
  };
  /** of the mirror, axes from its mark seen from the front, counter-clockwise; where two tests see both its parts */
  readonly astigmatism?: DirectedSummary;
  /** three ends ahead; as the astigmatism */
  readonly threefold?: DirectedSummary;
  /** each test alone, its own nuisance in its u, and how much it has its say */
  readonly tests: readonly {
    readonly test: "zones" | "bands" | "star" | "knife";
    readonly spherical: Q;
    readonly weight: number;
    /** its say in the astigmatism, where that is told */
    readonly astigmatismWeight?: number;
  }[];
  /** scatter of the tests over what their uncertainties allow */
  readonly birgeRatio: number;
  /** whether the tests agree within their uncertainties */
  readonly consistent: boolean;
  /** of three that disagree: the one that is most likely wrong */
  readonly oddOne?: "zones" | "bands" | "star" | "knife";
  /** once more of which test brings most for its minutes, and the doubt that is left then over all terms told here, wave RMS */
  readonly next: {
    readonly test: "zones" | "bands" | "star" | "knife";
    readonly minutes: Q;
    readonly u: Q;
  };
}

/** Everything that is known of a mirror. */
export interface Summary {
  /** name of the record's folder */
  readonly record: string;
  /** of the record */
  readonly title: string;
  /** version of the kit that reckoned it */
  readonly kitVersion: string;
  /** what looks unlikely, with its place */
  readonly warnings: readonly Warning[];
  /** the plan */
  readonly design: DesignSummary;
  /** absent before the first reading of the curve */
  readonly curve?: CurveSummary;
  /** absent without a log of the grinding */
  readonly grinding?: GrindingSummary;
  /** absent before the first zone reading or photograph */
  readonly figure?: {
    readonly zones?: FigureSummary;
    readonly photos?: readonly FigureSummary[];
    /** each sitting's photographs behind the knife */
    readonly knife?: readonly KnifeSummary[];
    /** bands with the mirror turned in its stand: axes of the mirror from its mark, of the stand from the top; absent without turns */
    readonly parted?: PartedSummary;
    /** absent where fewer than two kinds of test tell */
    readonly together?: OneSurfaceSummary;
  };
  /** pairs of photographs of a star out of focus; absent without star.csv */
  readonly star?: { readonly pairs: readonly StarPairSummary[]; readonly parted?: PartedSummary };
  /** absent before the first figure */
  readonly verdict?: VerdictSummary;
  /** absent before two tests with work between them */
  readonly figuring?: FiguringSummary;
  /** what is worked out of the telescope, as far as the record plans one */
  readonly telescope?: TelescopeSummary;
  /** the silver that a film takes */
  readonly coating?: CoatingSummary;
  /** what the aperture can show */
  readonly sky?: SkySummary;
  /** what to do next */
  readonly nextStep: NextStep;
}

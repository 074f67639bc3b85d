/** What the next step is decided from, and by: what is known of a mirror, and the course's numbers from data/tables. */
import type { RangeUm } from "../shaping/grinding/grade.ts";
import { fineLadder } from "../shaping/grinding/ladder.ts";
import type { Fault } from "../shaping/figuring/figuringFaults.ts";
import type { Hands } from "../shaping/figuring/figuringHands.ts";
import type { FiguringPlan } from "../shaping/figuring/figuringPlan.ts";
import { type Hours, polishTime } from "../shaping/lap/polish.ts";
import { abrasives, decision, fact } from "../record/tables.ts";
import type { MirrorRecord } from "../record/types.ts";
import type { Slip } from "./slips.ts";
import type {
  CurveSummary,
  DesignSummary,
  FigureSummary,
  GrindingSummary,
  TelescopeSummary,
  VerdictSummary,
  WantedReading,
} from "./summaryTypes.ts";

/** What the step is decided from; a part that is not known is absent. */
export interface Known {
  readonly record: MirrorRecord;
  readonly design: DesignSummary;
  readonly curve?: CurveSummary;
  readonly grinding?: GrindingSummary;
  readonly verdict?: VerdictSummary;
  readonly telescope?: TelescopeSummary;
  /** what is to be looked at before anything is done, the most urgent first */
  readonly slips?: readonly Slip[];
  /** a word on the lamp stands beside the verdict */
  readonly doubtsLamp?: boolean;
  /** the session for the surface that the verdict is on; asked for only where figuring comes next */
  readonly plan?: () => FiguringPlan;
  /** the maker's hands, as far as sessions have shown them */
  readonly hands?: Hands;
  /** of that surface by name, the largest first; asked for only where figuring comes next */
  readonly faults?: () => readonly Fault[];
  /** RMS of each surface that was read, in the order of time; asked for only where figuring comes next */
  readonly lastRms?: () => readonly number[];
  /** seats and knife directions that the whole surface still wants */
  readonly wanted?: readonly WantedReading[];
  /** most of the doubt is of seats that were not read yet */
  readonly awaitsSeats?: boolean;
  readonly astigmatism?: NonNullable<FigureSummary["astigmatism"]>;
  /** what that advice asks for; "nothing" where no readings would settle it */
  readonly settledBy?: "more runs" | "narrower openings" | "nothing";
  /** which further zone readings would settle an open verdict, a sentence without its full stop */
  readonly advice?: string;
}

/** What the decision needs from data/tables. */
export interface Rules {
  /** middle grain size of an abrasive, um; undefined for polishing oxides */
  readonly grainUm: (abrasive: string) => number | undefined;
  /** grades from coarse to fine after rough grinding */
  readonly ladder: readonly string[];
  /** a departure from the target sagitta that need not be mended, mm */
  readonly sagittaTolerance: number;
  /** farther from the planned radius than this share of it, no finer grade is begun, for none can move it */
  readonly radiusOff: number;
  /** a bevel whose leg on the face is narrower chips, mm */
  readonly bevelLeast: number;
  /** runs of zone readings wanted before a verdict */
  readonly runsWanted: number;
  /** share of an overshoot's minutes to do before measuring again */
  readonly shareFirst: number;
  /** share of a forecast to grind before measuring again */
  readonly forecastShare: number;
  /** minutes of one figuring session, at the most */
  readonly sessionMin: number;
  /** and of one that no measured profile guides */
  readonly blindMin: number;
  /** minutes in a lidded bath of room water after work on the glass, before it is dried and cools */
  readonly bathMin: number;
  /** minutes of cooling on the stand before a test */
  readonly coolMin: number;
  /** sessions that may bring nothing before polishing is taken up again */
  readonly sessionsWithoutGain: number;
  /** minutes that a grade should take after the one before it; undefined where nobody can say */
  readonly gradeMinutes: (
    grade: string,
    before: string | undefined,
    aperture: number,
  ) => RangeUm | undefined;
  /** deepest pits that are polished out rather than ground out, um */
  readonly pitUm: number;
  /** hours of polishing until they are gone from the edge */
  readonly edgeHours: Hours;
  /** a longer scratch is ground out, mm */
  readonly scratchLongest: number;
  /** a focal length no better known than this is measured again before a hole is cut, mm */
  readonly drillU: number;
}

/** The course's grades after rough grinding. COMMON PRACTICE: each about half the one before. */
export const ladder: readonly string[] = ["F120", "F220", "F320", "F500", "F800", "F1200"];

/**
 * Middle grain of a grade, um; undefined for a polishing oxide or a name that is no grade.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([grainUm("F80"), grainUm("rouge")], [185, undefined]);
 * ```
 */
export function grainUm(name: string): number | undefined {
  const row = abrasives().find((one) => one.name === name);
  return row === undefined || row.scale === "polish" ? undefined : row.ds50Um;
}

/** Grains from this size on are kept from fine grades, laps and oxide, um: F80 to F220. COMMON PRACTICE */
export const COARSE_UM = 50;

/** What a verdict calls for, the same at the bench, on the pages and on the card. */
export const AFTER_VERDICT = {
  yes: "Yes, for the whole surface: coat.",
  no: "No: one session by the plan, then read again.",
  notShown:
    "Not shown: read on to three runs; then, where something stands above its doubt and the glass is more likely out than good, or no further readings would settle it, one session and read again; else read on.",
} as const;

/** Usual rate of polishing at the centre, um/h, until a maker has measured it. */
const usualRate = 1.3;

/** The numbers `nextStep` decides by. */
export function rules(): Rules {
  const pitUm = decision("pit_depth_most");
  return {
    grainUm,
    ladder,
    sagittaTolerance: decision("depth_tolerance"),
    radiusOff: decision("radius_off_most"),
    bevelLeast: fact("bevel_never_under"),
    runsWanted: decision("runs_least"),
    shareFirst: decision("swap_share"),
    forecastShare: decision("forecast_share"),
    sessionMin: decision("session_longest"),
    blindMin: decision("session_blind"),
    bathMin: fact("bath"),
    coolMin: fact("bath_stand"),
    sessionsWithoutGain: decision("sessions_without_gain"),
    gradeMinutes,
    pitUm,
    scratchLongest: decision("scratch_longest"),
    drillU: decision("drill_focal_length_u_most"),
    edgeHours: polishTime({ pits: { least: pitUm, most: pitUm }, rate: usualRate }).edge,
  };
}

/** From the ladder of two grades; nothing for coated papers, oxides and names that are no grades. */
function gradeMinutes(
  grade: string,
  before: string | undefined,
  aperture: number,
): RangeUm | undefined {
  const rows = [before, grade].flatMap((name) =>
    abrasives().find((one) => one.name === name) ?? []
  );
  const [coarse, fine] = rows;
  if (coarse === undefined || fine === undefined) return undefined;
  const isLoose = rows.every(({ scale }) => scale !== "polish" && scale !== "P");
  return isLoose && fine.ds50Um < coarse.ds50Um
    ? fineLadder(rows, aperture)[0]?.minutes
    : undefined;
}

/** How polished glass comes to rest before a test: bath, drying, stand. Begins in the middle of a sentence. */
export function restSaid({ bathMin, coolMin }: Pick<Rules, "bathMin" | "coolMin">): string {
  return `lay the mirror ${bathMin} minutes into the lidded bath of room water, dry it, let it cool ${coolMin} minutes`;
}

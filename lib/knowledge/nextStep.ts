/** From all that is known of a mirror to one thing to do next, with the reason and the caution that goes with it. */
import type { FiguringPlan } from "../shaping/figuring/figuringPlan.ts";
import type { RangeUm } from "../shaping/grinding/grade.ts";
import type { Hours } from "../shaping/lap/polish.ts";
import { backwardsAt } from "./grindingSummary.ts";
import { askForBevel, checkRecord, lampFirst } from "./nextStepCheck.ts";
import type { Slip } from "./slips.ts";
import { cautionOf, type Step } from "./nextStepCautions.ts";
import { fine, polish } from "./nextStepFine.ts";
import { judged } from "./nextStepJudged.ts";
import { afterCoating } from "./nextStepLater.ts";
import type {
  CurveSummary,
  DesignSummary,
  FigureSummary,
  GrindingSummary,
  NextStep,
  VerdictSummary,
  WantedReading,
} from "./summaryTypes.ts";
import type { MirrorRecord } from "../record/types.ts";

/** What the step is decided from; a part that is not known is absent. */
export interface Known {
  readonly record: MirrorRecord;
  readonly design: DesignSummary;
  readonly curve?: CurveSummary;
  readonly grinding?: GrindingSummary;
  readonly verdict?: VerdictSummary;
  /** what is to be looked at before anything is done, the most urgent first */
  readonly slips?: readonly Slip[];
  /** a word on the lamp stands beside the verdict */
  readonly doubtsLamp?: boolean;
  /** the spell for the surface that the verdict is on; asked for only where figuring comes next */
  readonly plan?: () => FiguringPlan;
  /** RMS of each surface that was read, in the order of time; asked for only where figuring comes next */
  readonly lastRms?: () => readonly number[];
  /** seats and knife directions that the whole surface still wants */
  readonly wanted?: readonly WantedReading[];
  readonly astigmatism?: NonNullable<FigureSummary["astigmatism"]>;
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
  /** runs of zone readings wanted before a verdict */
  readonly runsWanted: number;
  /** share of an overshoot's minutes to do before measuring again */
  readonly shareFirst: number;
  /** share of a forecast to grind before measuring again */
  readonly forecastShare: number;
  /** minutes of one figuring spell */
  readonly spellMin: number;
  /** minutes of cooling before a test */
  readonly coolMin: number;
  /** spells that may bring nothing before polishing is taken up again */
  readonly spellsWithoutGain: number;
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
}

const round = (value: number, digits: number): string => value.toFixed(digits);

/** Minutes worth doing before the next look, in words: a share of what is left, at least one. */
function firstShare(minutes: number, share: number): string {
  const whole = Math.max(1, Math.round(minutes * share));
  return `${whole} minute${whole === 1 ? "" : "s"}`;
}

/** Minutes of rough grinding in the log, polishing left out. */
function loggedMin({ record }: Known, rules: Rules): number {
  return record.grinding.reduce(
    (sum, { abrasive, minutes }) => rules.grainUm(abrasive) === undefined ? sum : sum + minutes,
    0,
  );
}

function start(known: Known, rules: Rules): Step {
  const { design } = known, minutes = loggedMin(known, rules);
  if (minutes > 0) {
    return {
      stage: "measuring",
      do:
        "Read the sagitta now, on three diameters, and write it into sagitta.csv with its minute.",
      until: "every 20 minutes of the log have a depth; the forecast needs them.",
      why: `${Number(minutes.toFixed(1))} minutes are logged, and no depth is measured yet.`,
    };
  }
  return {
    stage: "blanks",
    do: "Bevel both discs, then grind 20 minutes with F80, mirror on top, and read the sagitta.",
    until: "there is a depth every 20 minutes; the forecast needs them.",
    why: `Nothing is measured yet. The hollow has to become ${
      round(design.sagitta.value, 3)
    } mm deep.`,
  };
}

function rough(known: Known, grinding: GrindingSummary, rules: Rules): Step {
  const { sagitta_now: now, target_sagitta: target } = grinding;
  const gapMm = target.value - now.value;
  const close = Math.max(2 * (now.u ?? 0), 0);
  const mended = Math.abs(gapMm) <= Math.min(close, rules.sagittaTolerance);
  const stopGap = (grinding.stop_at?.value ?? target.value) - now.value;
  if (mended || (gapMm > 0 && stopGap <= 0)) return leaveRough(known, grinding, rules);
  if (grinding.overshoot !== undefined && Math.abs(gapMm) <= close) {
    return {
      stage: "measuring",
      do: "Read the sagitta again, five stacks on three diameters, before you swap the discs.",
      until: "the overshoot is more than twice its uncertainty, or gone.",
      why: `The hollow seems ${
        round(-gapMm * 1000, 0)
      } µm too deep, which is within twice the reading's uncertainty.`,
    };
  }
  const minutes = grinding.minutes_to_target;
  if (!grinding.can_forecast || minutes === undefined) {
    return {
      stage: "rough grinding",
      do: `Grind 20 minutes more, ${grinding.next_position}, and read the sagitta again.`,
      until: "the readings rise by more than their own scatter.",
      why: "The readings so far cannot tell how fast the hollow grows.",
    };
  }
  const spread = grinding.interval_95;
  const sure = spread === undefined
    ? ""
    : ` (95 %: ${round(spread[0], 1)} to ${round(spread[1], 1)} min)`;
  const over = grinding.overshoot !== undefined;
  return {
    stage: over ? "correcting" : "rough grinding",
    do: `Grind ${
      firstShare(minutes.value, over ? rules.shareFirst : rules.forecastShare)
    }, ${grinding.next_position}, then measure.`,
    until: `the sagitta is ${round(target.value, 3)} mm, give or take ${
      round(rules.sagittaTolerance * 1000, 0)
    } µm.`,
    why: `${round(Math.abs(gapMm) * 1000, 0)} µm ${over ? "too deep" : "to go"}: ${
      round(minutes.value, 1)
    } minutes at today's rate${sure}. Do a part, look, and do the rest.`,
  };
}

function leaveRough(known: Known, grinding: GrindingSummary, rules: Rules): Step {
  const next = rules.ladder[0] ?? "F120";
  return {
    stage: "fine grinding",
    do:
      `Stop. Wash everything, and begin ${next}, the discs swapped half-way so that the curve stays.`,
    until: "no pit of the former grade is left in five fields under a loupe.",
    why: `The sagitta is ${round(grinding.sagitta_now.value, 3)} mm where ${
      round(grinding.target_sagitta.value, 3)
    } mm is wanted for ${known.record.settings.focalLength} mm of focal length.`,
  };
}

/** Every table of the curve holds a slip: nothing else can be said before it is mended. */
function mendSlip({ mistake }: CurveSummary): Step {
  return {
    stage: "measuring",
    do: `Read ${
      mistake?.file ?? "the tables of the curve"
    } again, beside the gauge and your paper notes.`,
    until: "no table is off by a factor any more.",
    why: mistake?.what ?? "No reading of the curve can be used.",
  };
}

/** A curve and a log that cannot be laid on one another: what keeps them apart, or nothing. */
function tieLog(known: Known, rules: Rules): Step | undefined {
  const { record } = known, minutes = Number(loggedMin(known, rules).toFixed(1));
  if (minutes === 0) return undefined;
  const common = {
    stage: "measuring",
    until: "log and readings together can forecast the stop.",
  };
  const back = backwardsAt(record.grinding);
  if (back !== undefined) {
    return {
      ...common,
      do:
        `Mend grinding.csv, line ${back.line}: its after_min is less than the ${back.before} min above it.`,
      why: `The log of ${minutes} minutes is not used while it runs backwards.`,
    };
  }
  if (record.sagitta.some(({ afterMin }) => afterMin !== undefined)) return undefined;
  return {
    ...common,
    do: "Write into sagitta.csv, as after_min, at which minute of grinding each depth was read.",
    why: `The log has ${minutes} minutes, but no depth tells its minute.`,
  };
}

/** A curve without a grinding log: only how far the radius is from the plan can be said. */
function curveOnly(known: Known, curve: CurveSummary): Step {
  if (curve.sagitta === undefined) return mendSlip(curve);
  const gap = known.design.sagitta.value - curve.sagitta.value;
  const position = gap > 0 ? "mirror on top" : "tool on top";
  return {
    stage: "measuring",
    do: `Grind 10 minutes, ${position}, write them into grinding.csv, and measure again.`,
    until: "log and readings together can forecast the stop.",
    why: `The sagitta is ${round(Math.abs(gap) * 1000, 0)} µm ${
      gap > 0 ? "short of" : "past"
    } the plan, and without a log nobody can say how many minutes that is.`,
  };
}

/**
 * One next step for a mirror, decided from the latest stage its record has readings of.
 *
 * @param known  the record with what was worked out from it
 * @param rules  sizes of grain and the course's decision numbers, from data/tables
 * @returns what to do, until when, why, and the caution that belongs to it
 */
export function nextStep(known: Known, rules: Rules): NextStep {
  const step = decided(known, rules);
  return { ...step, caution: cautionOf(step.stage) };
}

/** What to do: a slip in the record first, a word on the lamp before the work, else the step itself. */
function decided(known: Known, rules: Rules): Step {
  const { slips = [], doubtsLamp = false } = known;
  if (slips.length > 0) return checkRecord(slips);
  const step = askForBevel(soundStep(known, rules), known.record);
  return doubtsLamp ? lampFirst(step) : step;
}

/** The step by the stage reached, where nothing in the record looks like a slip. */
function soundStep(known: Known, rules: Rules): Step {
  const { record, curve, grinding, verdict } = known;
  const later = afterCoating(record);
  if (later !== undefined) return later;
  if (verdict !== undefined) return judged(known, verdict, rules);
  const last = record.grinding.at(-1)?.abrasive;
  const grain = last === undefined ? undefined : rules.grainUm(last);
  if (last !== undefined && grain === undefined) return polish(known, rules);
  const firstFine = rules.ladder[0] === undefined ? 0 : rules.grainUm(rules.ladder[0]) ?? 0;
  if (last !== undefined && grain !== undefined && grain < firstFine * 0.95) {
    return fine(known, last, rules);
  }
  if (grinding !== undefined) return rough(known, grinding, rules);
  if (curve !== undefined) return tieLog(known, rules) ?? curveOnly(known, curve);
  return start(known, rules);
}

/** From all that is known of a mirror to one thing to do next, with the reason and the caution that goes with it. */
import type { GrindingRow, MirrorRecord } from "../record/types.ts";
import { pitchNeeded, usualLap } from "../shaping/lap/lap.ts";
import { backwardsAt } from "./grindingSummary.ts";
import { cautionOf, type Step } from "./nextStepCautions.ts";
import { judged } from "./nextStepJudged.ts";
import { afterCoating } from "./nextStepLater.ts";
import type { Known, Rules } from "./rules.ts";
import type { Slip } from "./slips.ts";
import type { CurveSummary, GrindingSummary, NextStep } from "./summaryTypes.ts";

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
  const { sagittaNow: now, targetSagitta: target } = grinding;
  const gapMm = target.value - now.value;
  const close = Math.max(2 * (now.u ?? 0), 0);
  const mended = Math.abs(gapMm) <= Math.min(close, rules.sagittaTolerance);
  const stopGap = (grinding.stopAt?.value ?? target.value) - now.value;
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
  const minutes = grinding.minutesToTarget;
  if (!grinding.canForecast || minutes === undefined) {
    return {
      stage: "rough grinding",
      do: `Grind 20 minutes more, ${grinding.nextPosition}, and read the sagitta again.`,
      until: "the readings rise by more than their own scatter.",
      why: "The readings so far cannot tell how fast the hollow grows.",
    };
  }
  const spread = grinding.interval95;
  const sure = spread === undefined
    ? ""
    : ` (95 %: ${round(spread[0], 1)} to ${round(spread[1], 1)} min)`;
  const over = grinding.overshoot !== undefined;
  return {
    stage: over ? "correcting" : "rough grinding",
    do: `Grind ${
      firstShare(minutes.value, over ? rules.shareFirst : rules.forecastShare)
    }, ${grinding.nextPosition}, then measure.`,
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
    why: `The sagitta is ${round(grinding.sagittaNow.value, 3)} mm where ${
      round(grinding.targetSagitta.value, 3)
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

/** More orders than these at once are none. */
const MOST = 3;

/**
 * Check the record: what to look at, and how it is settled when it stands as it is.
 *
 * @param slips  one or more, the first of them the most urgent
 */
export function checkRecord(slips: readonly Slip[]): Step {
  const orders = [...new Set(slips.map((slip) => slip.do))].slice(0, MOST);
  const words = [...new Set(slips.map(({ of }) => of))].join(", ");
  const reasons = [...new Set(slips.map(({ message }) => message))].slice(0, MOST);
  return {
    stage: "check the record",
    do: orders.join(" "),
    until:
      `it is mended; or, where it was looked at and is right, \`checked: [${words}]\` stands in mirror.yaml.`,
    why: `${reasons.join("; ")}.`.replace(/([.?!])\.$/, "$1"),
  };
}

/** Asks for the bevel's width, once, where depths rest on a rim whose bevel nobody wrote. */
export function askForBevel(step: Step, { settings, sagitta }: MirrorRecord): Step {
  const restsOnRim = sagitta.some(({ chord }) => chord === undefined);
  if (settings.unknownBevel === undefined || !restsOnRim) return step;
  const ask =
    "And measure the bevel: its width on the face goes into mirror.yaml as `bevel: 1 mm` (0 mm where there is none).";
  return { ...step, do: `${step.do} ${ask}` };
}

/** An order that a word on the lamp stands before: the lamp first, the work only then. */
export function lampFirst(step: Step): Step {
  const isTest = ["zone test", "check the record"].includes(step.stage);
  return isTest ? step : {
    ...step,
    do:
      `First look at the tester: does the lamp move when the knife is moved along the axis? If it does, write \`tester: { source: moves with knife }\`. ` +
      `If it stands still, write \`checked: [lamp]\`, and then: ${step.do}`,
  };
}

function minutesOf(rows: readonly GrindingRow[], is: (abrasive: string) => boolean): number {
  return rows.reduce((sum, { abrasive, minutes }) => is(abrasive) ? sum + minutes : sum, 0);
}

/** The coarser grade worked with before the last one; the ladder's where the log has none. */
function gradeBefore(
  { grinding }: Known["record"],
  last: string,
  rules: Rules,
): string | undefined {
  const size = rules.grainUm(last) ?? 0;
  const isCoarser = (name: string): boolean => (rules.grainUm(name) ?? 0) > size;
  return grinding.findLast(({ abrasive }) => isCoarser(abrasive))?.abrasive ??
    rules.ladder.findLast(isCoarser);
}

/** Fine grinding: the minutes that are still missing, else a look; after the last grade the lap. */
export function fine({ record }: Known, last: string, rules: Rules): Step {
  const before = gradeBefore(record, last, rules);
  const wanted = rules.gradeMinutes(last, before, record.settings.aperture);
  const done = minutesOf(record.grinding, (abrasive) => abrasive === last);
  const missing = Math.round((wanted?.least ?? 0) - done);
  const pits = `no pit of ${before ?? "the grade before"} is left in five fields under a loupe`;
  const foreseen = wanted === undefined
    ? ""
    : ` ${Number(done.toFixed(1))} of ${wanted.least.toFixed(0)} to ${
      wanted.most.toFixed(0)
    } minutes are logged.`;
  const why = `${last} has to dig out the pits of ${before ?? "the grade before it"}.${foreseen}`;
  if (missing >= 1) {
    return {
      stage: "fine grinding",
      do: `Grind ${missing} ${
        missing === 1 ? "minute" : "minutes"
      } more with ${last}, half of them with the discs swapped, then look.`,
      until: `${pits}, and a pencil grid wears off everywhere at once.`,
      why,
    };
  }
  const next = rules.ladder.find((grade) =>
    (rules.grainUm(grade) ?? 0) < (rules.grainUm(last) ?? 0) * 0.95
  );
  if (next === undefined) return lap(record.settings.aperture, last, pits);
  return {
    stage: "fine grinding",
    do: `Finish ${last}: look at five fields and draw a pencil grid; then go on to ${next}.`,
    until:
      `${pits}, and the grid wears off everywhere at once; else five minutes more and look again.`,
    why,
  };
}

function lap(aperture: number, last: string, pits: string): Step {
  const usual = usualLap(aperture), { grams, melt } = pitchNeeded(usual);
  return {
    stage: "lap",
    do: `Check five fields under a loupe; when ${
      pits.replace(" under a loupe", "")
    }, let a trained adult pour a lap ${usual.thickness} mm thick: ${
      grams.toFixed(0)
    } g of pitch, ${melt.least.toFixed(0)} to ${
      melt.most.toFixed(0)
    } g melted. Cut channels every ${usual.spacing} mm, the grid off the centre, and press it.`,
    until: "the lap touches everywhere and its channels are open.",
    why: `${last} is the last grade of the ladder.`,
  };
}

/** Polishing: an hour at a time, the hours so far beside those foreseen; the last pit decides. */
export function polish({ record }: Known, rules: Rules): Step {
  const { grinding } = record;
  const hours = minutesOf(grinding, (name) => rules.grainUm(name) === undefined) / 60;
  const last = grinding.findLast(({ abrasive }) => rules.grainUm(abrasive) !== undefined)?.abrasive;
  const { pitUm, edgeHours: edge } = rules;
  const why = `${
    Number(hours.toFixed(1))
  } hours are logged. Pits ${pitUm} µm deep are gone from the edge after about ${
    edge.hours.toFixed(1)
  } hours (${edge.least.toFixed(1)} to ${
    edge.most.toFixed(1)
  }): the last ones live there, and shine says nothing about them.`;
  const common = { stage: "polishing" };
  if (hours > edge.most) {
    return {
      ...common,
      do:
        "Count pits in five fields at the edge, polish an hour on a freshly pressed lap, and count again.",
      until: `none is left there; where the count does not fall, go back to ${
        last ?? "the last grade"
      }.`,
      why,
    };
  }
  return {
    ...common,
    do:
      "Look for pits in five fields at the edge, under a loupe with grazing light; while there are any, press the lap, polish another hour, and count again.",
    until: "none is left there; then look at the mirror through a Ronchi grating.",
    why,
  };
}

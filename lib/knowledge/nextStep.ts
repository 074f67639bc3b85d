/** From all that is known of a mirror to one thing to do next, with the reason and the caution that goes with it. */
import type { DiaryRow, GrindingRow, MirrorRecord, Position } from "../record/types.ts";
import { chordOf } from "../measuring/gauges.ts";
import { LEAF_SETS, stacksAround } from "../measuring/stacks.ts";
import { leafWidthCorrection } from "../measuring/straightEdge.ts";
import { carrySagitta, radiusFromSagitta } from "../optics/sphere.ts";
import { chargeOf } from "../shaping/grinding/ladder.ts";
import { SESSIONS_DIFFER, usualRate } from "../shaping/grinding/usualRate.ts";
import { pitchNeeded, usualLap } from "../shaping/lap/lap.ts";
import { isStale } from "./glassWork.ts";
import { backwardsAt, depthChoice } from "./grindingSummary.ts";
import { tippingSaid } from "./figuringStep.ts";
import { hazards } from "./hazards.ts";
import { cautionOf, type Step } from "./nextStepCautions.ts";
import { judged } from "./nextStepJudged.ts";
import { afterCoating } from "./nextStepLater.ts";
import { afterSights } from "./nextStepSights.ts";
import { type Known, restSaid, type Rules } from "./rules.ts";
import type { Slip } from "./slips.ts";
import { bothWays, halvesSaid, usualStroke, withStrokes } from "./usualStrokes.ts";
import type { CurveSummary, DepthChoice, GrindingSummary, NextStep } from "./summaryTypes.ts";

const round = (value: number, digits: number): string => value.toFixed(digits);

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
  const begin: Step = {
    stage: "blanks",
    do:
      "Try both discs for cracks and strain (page 02), bevel them, then grind 20 minutes with F80, mirror on top, and read the sagitta.",
    until: "there is a depth every 20 minutes; the forecast needs them.",
    why: `Nothing is measured yet. The hollow has to become ${
      round(design.sagitta.value, 3)
    } mm deep.`,
    grade: "F80",
    minutes: 20,
  };
  return hollowing(known, begin, "mirror on top");
}

/** A step of rough work with its stroke. */
function hollowing({ record }: Known, step: Step, position: Position): Step {
  const { minutes = 0 } = step, { aperture } = record.settings;
  return minutes > 0
    ? withStrokes(step, [usualStroke(position, minutes, aperture, "hollowing")])
    : step;
}

/** A step of fine work with its stroke, half of it with the discs swapped. */
function swapping({ record }: Known, step: Step, says?: (minutes: number) => string): Step {
  const { minutes = 0 } = step;
  return minutes > 0
    ? withStrokes(step, bothWays(minutes, record.settings.aperture), says?.(minutes))
    : step;
}

/** How this maker reads the curve, in an order. */
function readIt({ from }: GrindingSummary): string {
  if (from === "spherometer") return "read the spherometer";
  if (from === "lamp") return "read the lamp at the centre of curvature";
  return from === "sun distance"
    ? "read the curve (by a lamp at the centre of curvature; by the Sun only with a trained adult in charge)"
    : "read the sagitta";
}

/** The grade last ground with. */
function gradeNow({ record }: Known, rules: Rules): string {
  return record.grinding.findLast(({ abrasive }) => rules.grainUm(abrasive) !== undefined)
    ?.abrasive ?? "F80";
}

/** So many minutes without a reading in rough grinding, and nobody knows the depth any more. COMMON PRACTICE */
const UNREAD_MOST = 5;
/** A stretch that tells whether a fresh charge cuts, min. COMMON PRACTICE */
const TRY_CHARGE = 5;

/** Fresh powder, a short stretch, a look: in place of grinding on with mud. */
function renewCharge(known: Known, grinding: GrindingSummary, rules: Rules, why: string): Step {
  const grade = gradeNow(known, rules), grain = rules.grainUm(grade) ?? 0;
  const { grams, waterMl } = chargeOf({ ds50Um: grain }, known.record.settings.aperture);
  const renew: Step = {
    stage: "rough grinding",
    do: `Renew the charge: rinse both discs, ${round(grams, 1)} g of fresh ${grade} and ${
      round(waterMl, 0)
    } ml of water, then grind ${TRY_CHARGE} minutes, ${grinding.nextPosition}, and ${
      readIt(grinding)
    } again.`,
    until: "it crackles, and the readings change by what the minutes should bring.",
    why,
    grade,
    minutes: TRY_CHARGE,
  };
  return hollowing(known, renew, grinding.nextPosition);
}

/** How much of half the 95 % interval must lie within the tolerance before all that is left is ground at once. COMMON PRACTICE */
const SURE = 0.7;

/** Further stops until the doubt lets the rest be ground at once: each leaves its share of the way, and of its doubt. */
function stopsAfter(grinding: GrindingSummary, gapUm: number, share: number, rules: Rules): number {
  const { rates, nextPosition } = grinding;
  const rate = nextPosition === "mirror on top" ? rates.mirrorOnTop : rates.toolOnTop;
  const perUm = Math.hypot(
    SESSIONS_DIFFER,
    rate === undefined ? 0 : 1.96 * (rate.u ?? 0) / rate.value,
  );
  let left = gapUm * (1 - share), stops = 1;
  while (perUm * left > 1000 * rules.sagittaTolerance && stops < COUNTS.length - 1) {
    left *= 1 - share;
    stops++;
  }
  return stops;
}

const COUNTS = ["no", "one", "two", "three", "four", "five", "six"];

function rough(known: Known, grinding: GrindingSummary, rules: Rules): Step {
  const { sagittaNow: now, targetSagitta: target, spent } = grinding;
  const gapMm = target.value - now.value, grade = gradeNow(known, rules);
  const unread = grinding.minutesUnread?.value ?? 0;
  if (unread >= UNREAD_MOST) {
    return {
      stage: "measuring",
      do: `${upper(readIt(grinding))} now, and write it down with its minute.`,
      until: "the last line of the log has a depth.",
      why: `${round(unread, 0)} minutes were ground since the last reading: the depth is ${
        round(now.value, 3)
      } mm by the rate alone, ± ${round(1000 * (now.u ?? 0), 0)} µm.`,
    };
  }
  const close = Math.max(2 * (now.u ?? 0), 0);
  const mended = Math.abs(gapMm) <= Math.min(close, rules.sagittaTolerance);
  const stopGap = (grinding.stopAt?.value ?? target.value) - now.value;
  if (mended || (gapMm > 0 && stopGap <= 0)) return leaveRough(known, grinding, rules);
  if (spent !== undefined) {
    return renewCharge(
      known,
      grinding,
      rules,
      `The last ${round(spent.minutes.value, 0)} minutes changed the depth by ${
        round(Math.max(0, spent.gained.value), 0)
      } µm where ${
        round(spent.expected.value, 0)
      } were to be expected: the charge is spent, or the discs float on water.`,
    );
  }
  if (isSeen(known.record, "charge spent")) {
    const why = "The diary says that the charge is spent: mud rubs and does not cut.";
    return renewCharge(known, grinding, rules, why);
  }
  if (grinding.overshoot !== undefined && Math.abs(gapMm) <= close) {
    return {
      stage: "measuring",
      do: `${
        upper(
          readIt(grinding).startsWith("read the sagitta")
            ? "read the sagitta again, five stacks on three diameters"
            : `${readIt(grinding)} again, five times`,
        )
      }, before you swap the discs.`,
      until: "the overshoot is more than twice its uncertainty, or gone.",
      why: `The hollow seems ${
        round(-gapMm * 1000, 0)
      } µm too deep, which is within twice the reading's uncertainty.`,
    };
  }
  const over = grinding.overshoot !== undefined, minutes = grinding.minutesToTarget;
  if (!grinding.canForecast || minutes === undefined) {
    const trial = over ? TRY_CHARGE : 20;
    return hollowing(known, {
      stage: over ? "correcting" : "rough grinding",
      do: `Grind ${trial} minutes more, ${grinding.nextPosition}, and ${readIt(grinding)} again.`,
      until: "the readings rise by more than their own scatter.",
      why: "The readings so far cannot tell how fast the hollow grows.",
      grade,
      minutes: trial,
    }, grinding.nextPosition);
  }
  const spread = grinding.interval95, stage = over ? "correcting" : "rough grinding";
  const sure = spread === undefined
    ? ""
    : ` (95 %: ${round(spread[0], 1)} to ${round(spread[1], 1)} min)`;
  const until = `the sagitta is ${round(target.value, 3)} mm, give or take ${
    round(rules.sagittaTolerance * 1000, 0)
  } µm.${stacksSaid(known, grinding, rules)}`;
  const why = `${round(Math.abs(gapMm) * 1000, 0)} µm ${over ? "too deep" : "to go"}: ${
    round(minutes.value, 1)
  } minutes at today's rate${sure}.`;
  const perMin = 1000 * Math.abs(gapMm) / minutes.value;
  const doubtUm = spread === undefined ? Infinity : SURE * perMin * (spread[1] - spread[0]) / 2;
  const share = over ? rules.shareFirst : rules.forecastShare;
  // a rate back that was never measured is borrowed: the first stretch is a part of it, whatever the doubt says
  const isBorrowed = over && grinding.rates.toolOnTop === undefined;
  const isSure = doubtUm <= 1000 * rules.sagittaTolerance && !isBorrowed;
  if (isSure || minutes.value < 1) {
    const all = Math.max(0.5, Math.round(2 * minutes.value) / 2);
    return hollowing(known, {
      stage,
      do: `Grind ${
        all === 0.5 ? "half a minute more" : `the last ${minutesSaid(all).replace(/^1 /, "")}`
      }, ${grinding.nextPosition}, then measure.`,
      until,
      why: `${why} That is known well enough to go all of it: this is the last stop.`,
      grade,
      minutes: all,
    }, grinding.nextPosition);
  }
  const stops = stopsAfter(grinding, 1000 * Math.abs(gapMm), share, rules);
  const part = Math.max(1, Math.round(minutes.value * share));
  return hollowing(known, {
    stage,
    do: `Grind ${minutesSaid(part)}, ${grinding.nextPosition}, then measure.`,
    until,
    why: `${why} Do a part and look: about ${COUNTS[stops]} more ${
      stops === 1 ? "stop" : "stops"
    } after this one, and at the last of them all that is left.`,
    grade,
    minutes: part,
  }, grinding.nextPosition);
}

/**
 * The two stacks that tell the wanted depth, of a maker's own leaves; nothing where they are of no set that is known, and
 * nothing where they would say "done" of the hollow as it is. Three leaves where two leave more open than the tolerance.
 */
function stacksSaid(
  { record }: Known,
  { sagittaNow: now, targetSagitta: target }: GrindingSummary,
  rules: Rules,
): string {
  const { sagitta: rows, settings } = record;
  const used = rows.flatMap(({ go = [], nogo = [] }) => [...go, ...nogo]);
  const isStacked = rows.some(({ go = [] }) => go.length > 1);
  const set = Object.values(LEAF_SETS).find((leaves) => used.every((one) => leaves.includes(one)));
  if (!isStacked || set === undefined) return "";
  const { aperture, gauges } = settings, chord = chordOf(settings);
  const gapAt = (depth: number): number =>
    carrySagitta(depth, aperture, chord) -
    leafWidthCorrection(gauges.leaves.width, radiusFromSagitta(depth, aperture));
  const gap = gapAt(target.value), wide = gapAt(target.value + rules.sagittaTolerance);
  if (!(gap > 0)) return "";
  const two = stacksAround(set, gap), isCoarse = (two.nogo?.sum ?? Infinity) > wide;
  const { go, nogo } = isCoarse ? stacksAround(set, gap, 3) : two;
  if (go === undefined || nogo === undefined) return "";
  const here = gapAt(now.value), passes = go.leaves.join(" + "), stops = nogo.leaves.join(" + ");
  if (here >= go.sum && here < nogo.sum) return "";
  return now.value > target.value
    ? ` It is past that now: ${stops} mm of leaves pass. Right is when they pass no more and ${passes} mm still do.`
    : ` There ${passes} mm of leaves pass, and ${stops} mm do not.`;
}

function upper(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

function minutesSaid(minutes: number): string {
  return minutes === 0.5 ? "half a minute" : `${minutes} minute${minutes === 1 ? "" : "s"}`;
}

function leaveRough(known: Known, grinding: GrindingSummary, rules: Rules): Step {
  const grade = gradeNow(known, rules);
  if (rules.ladder.includes(grade)) return fine(known, grade, rules);
  const cause = findCause(known, rules);
  if (cause !== undefined) return cause;
  const next = rules.ladder[0] ?? "F120", { aperture } = known.record.settings;
  const minutes = rules.gradeMinutes(next, gradeNow(known, rules), aperture)?.least;
  return swapping(known, {
    ...timed(next, minutes),
    stage: "fine grinding",
    do:
      `Stop. Wash everything, and begin ${next}, the discs swapped half-way so that the curve stays.`,
    until: "no pit of the former grade is left in five fields under a loupe.",
    why: `The sagitta is ${round(grinding.sagittaNow.value, 3)} mm where ${
      round(grinding.targetSagitta.value, 3)
    } mm is wanted for ${known.record.settings.focalLength} mm of focal length.`,
  }, (all) => `${next} takes ${minutesSaid(all)}: ${halvesSaid(all)}.`);
}

/** The grade of a step, and whole minutes where somebody can say them. */
function timed(grade: string, minutes: number | undefined): Pick<Step, "grade" | "minutes"> {
  return { grade, ...(minutes === undefined ? {} : { minutes: Math.round(minutes) }) };
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

/** A first stretch without a log is no longer than this, minutes. COMMON PRACTICE */
const TRIAL_MOST = 10;

/** The first stretch of unknown rate: half of what is left at the usual rate of F80, and never over ten minutes. */
function trialMinutes(gapMm: number, aperture: number, rules: Rules): number {
  const perMin = usualRate(aperture, rules.grainUm("F80") ?? 185).value;
  return Math.min(TRIAL_MOST, Math.max(1, Math.floor(1000 * Math.abs(gapMm) / (2 * perMin))));
}

/** A curve without a grinding log: only how far the radius is from the plan can be said. */
function curveOnly(known: Known, curve: CurveSummary, rules: Rules): Step {
  if (curve.sagitta === undefined) return mendSlip(curve);
  const { value, u = 0 } = curve.sagitta, gap = known.design.sagitta.value - value;
  const position = gap > 0 ? "mirror on top" : "tool on top";
  const off = `${round(Math.abs(gap) * 1000, 0)} µm ${gap > 0 ? "short of" : "past"} the plan`;
  if (Math.abs(gap) <= Math.max(rules.sagittaTolerance, 2 * u)) {
    const isClose = Math.abs(gap) <= rules.sagittaTolerance;
    return {
      stage: "measuring",
      do: isClose
        ? "Grind nothing by this: write into grinding.csv what was ground so far, grade by grade, and the minute of each reading as after_min."
        : "Grind nothing yet: read the curve again, five settings on three diameters, and write into grinding.csv what was ground so far.",
      until: isClose
        ? "the log tells which grade comes next."
        : "the depth is the plan's, or more than twice its doubt away from it.",
      why: `The sagitta is ${off}, ${
        isClose
          ? `within the ${round(rules.sagittaTolerance * 1000, 0)} µm that are asked`
          : `within twice its doubt of ${round(1000 * u, 0)} µm`
      }; without a log nobody can say which grade the glass has seen.`,
    };
  }
  const minutes = trialMinutes(gap, known.record.settings.aperture, rules);
  const trial: Step = {
    stage: "measuring",
    do: `Grind ${
      minutesSaid(minutes)
    }, ${position}, write them into grinding.csv, and measure again.`,
    until: "log and readings together can forecast the stop.",
    why: `The sagitta is ${off}, and without a log nobody can say how many minutes that is.`,
    grade: "F80",
    minutes,
  };
  return hollowing(known, trial, position);
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
  // a step that may lead to the Sun has the Sun's caution before it, whatever its stage
  const bySun = known.grinding?.from === "sun distance" && /measure|read the curve/i.test(step.do);
  const sun = hazards().find(({ hazard, steps }) =>
    bySun && hazard === "the Sun on glass" && !steps.includes(step.stage)
  );
  const tips = tippingSaid(step.plan ?? [], known.record.settings.aperture);
  const caution = [
    ...narrowBevel(known, step, rules),
    ...(tips === undefined ? [] : [tips]),
    cautionOf(step.stage),
    ...(sun === undefined ? [] : [sun.short]),
  ].join(" ");
  return { ...step, caution };
}

/** Stages in which an edge without its bevel chips at the next push. */
const RUBBED: readonly string[] = [
  "rough grinding",
  "measuring",
  "correcting",
  "fine grinding",
  "polishing",
];

/** A written bevel that is none, or too narrow: the edge comes before the next push. One that nobody wrote is asked for. */
function narrowBevel(
  { record: { settings: { bevel, unknownBevel } } }: Known,
  { stage }: Step,
  { bevelLeast }: Rules,
): readonly string[] {
  if (unknownBevel !== undefined || bevel >= bevelLeast || !RUBBED.includes(stage)) return [];
  return [
    `Look at the rim first: mirror.yaml says that the bevel is ${
      Number(bevel.toFixed(2))
    } mm, and an edge with less than ${bevelLeast} mm chips at the next push. Measure it; where it is so, stone the edge, wet, an adult beside, before anything else.`,
  ];
}

/** What to do: a slip in the record first, a word on the lamp before the work, else the step itself. */
function decided(known: Known, rules: Rules): Step {
  const { slips = [], doubtsLamp = false } = known;
  if (slips.length > 0) return checkRecord(slips);
  const step = askForBevel(afterSights(soundStep(known, rules), known, rules), known.record);
  return doubtsLamp ? lampFirst(step) : step;
}

/** Ground again after its surface was judged, and no depth to go on from. */
function measureGround(grade: string): Step {
  return {
    stage: "measuring",
    do:
      "Measure the curve with leaves or a depth gauge, three diameters, and write it into sagitta.csv with its after_min.",
    until: "the curve of the ground mirror is known.",
    why:
      `The log has ${grade} after the last zone readings: the surface they were of is gone, and ground glass gives the knife nothing to read.`,
  };
}

/** The step by the stage reached, where nothing in the record looks like a slip. */
function soundStep(known: Known, rules: Rules): Step {
  const { record, curve, grinding, verdict } = known;
  const later = afterCoating(known, rules);
  if (later !== undefined) return later;
  const last = record.grinding.at(-1)?.abrasive;
  const grain = last === undefined ? undefined : rules.grainUm(last);
  // what was ground since it was judged has no surface to read
  const isGround = grain !== undefined && isStale({ ...record, diary: [] });
  if (verdict !== undefined && !isGround) return judged(known, verdict, rules);
  if (last !== undefined && grain === undefined) return polish(known, rules);
  const firstFine = rules.ladder[0] === undefined ? 0 : rules.grainUm(rules.ladder[0]) ?? 0;
  if (last !== undefined && grain !== undefined && grain < firstFine * 0.95) {
    return grinding?.choice === undefined || isLapPoured(record)
      ? fine(known, last, rules)
      : depthMissed(known, grinding.choice);
  }
  if (grinding !== undefined) return rough(known, grinding, rules);
  if (curve !== undefined) return tieLog(known, rules) ?? curveOnly(known, curve, rules);
  return isGround ? measureGround(last ?? "") : start(known, rules);
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
    until: slips.every(({ until }) => until !== undefined)
      ? slips[0]?.until ?? ""
      : `it is mended; or, where it was looked at and is right, \`checked: [${words}]\` stands in mirror.yaml.`,
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
export function fine(known: Known, last: string, rules: Rules): Step {
  const { record, grinding } = known;
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
    return swapping(known, {
      stage: "fine grinding",
      do: `Grind ${missing} ${
        missing === 1 ? "minute" : "minutes"
      } more with ${last}, half of them with the discs swapped, then look.`,
      until: `${pits}, and a pencil grid wears off everywhere at once.`,
      why,
      grade: last,
      minutes: missing,
    }, (all) => `${upper(halvesSaid(all))}.`);
  }
  const next = rules.ladder.find((grade) =>
    (rules.grainUm(grade) ?? 0) < (rules.grainUm(last) ?? 0) * 0.95
  );
  const isUnread = grinding === undefined || (grinding.minutesUnread?.value ?? 0) > 0.5;
  if (next === undefined) {
    if (isLapPoured(record)) return polish(known, rules);
    return isUnread ? readFirst(grinding, last) : lap(record.settings.aperture, last, pits);
  }
  const read = isUnread
    ? ` Before that, ${
      grinding === undefined ? "read the sagitta" : readIt(grinding)
    } once more: fine grinding moves the depth.`
    : "";
  const first = isUnread ? undefined : beforeFiner(known, last, rules);
  if (first !== undefined) return first;
  return swapping(known, {
    stage: "fine grinding",
    do: `Finish ${last}: look at five fields and draw a pencil grid; then go on to ${next}.${read}`,
    until:
      `${pits}, and the grid wears off everywhere at once; else five minutes more and look again.`,
    why,
    ...timed(next, rules.gradeMinutes(next, last, record.settings.aperture)?.least),
  }, (all) => `${next} takes ${minutesSaid(all)}: ${halvesSaid(all)}.`);
}

/** What comes before a finer grade, for it cannot be made good after: a cause to find, a depth to mend, a choice to make. */
function beforeFiner(known: Known, last: string, rules: Rules): Step | undefined {
  return findCause(known, rules) ?? mendNow(known, last, rules) ?? radiusMissed(known, last, rules);
}

/** Methods that gainsay one another: no glass is taken off by a depth that the sheet itself does not believe. */
function findCause({ record, curve }: Known, rules: Rules): Step | undefined {
  const { settings: { checked = [], bevel } } = record;
  if (curve === undefined || curve.consistent || checked.includes("curve")) return undefined;
  const used = curve.estimates.filter((one) => one.used);
  const told = used.map(({ method, radius }) => `${round(radius.value, 0)} mm by ${method}`);
  const rim = record.sagitta.some(({ chord }) => chord === undefined)
    ? `Measure the bevel on the face at four places: mirror.yaml says ${
      Number(bevel.toFixed(2))
    } mm, and what is wrong there is wrong in every depth read on the rim.${
      bevel < rules.bevelLeast
        ? ` Under ${rules.bevelLeast} mm, stone the edge, wet, an adult beside.`
        : ""
    } `
    : "";
  return {
    stage: "measuring",
    do:
      `Grind no finer yet. ${rim}Read each method again, five settings, and mend the table that was wrong.`,
    until:
      "the methods agree; or, where all was looked at and each stands, `checked: [curve]` stands in mirror.yaml.",
    why: `The radius is ${
      listed.format(told)
    }: they disagree by more than their doubts allow, and each finer grade moves it less.`,
  };
}

const listed = new Intl.ListFormat("en", { type: "conjunction" });

/** Too fine a grade to move the depth, and the radius farther off than the course allows: back, or another focal length. */
function radiusMissed(known: Known, last: string, rules: Rules): Step | undefined {
  const { record, grinding, curve, design } = known, { aperture } = record.settings;
  if (grinding === undefined || curve?.radius === undefined) return undefined;
  const off = curve.radius.value / design.radius.value - 1;
  if (Math.abs(off) <= rules.radiusOff) return undefined;
  const coarsest = record.grinding.map(({ abrasive }) => abrasive)
    .filter((name) => rules.grainUm(name) !== undefined)
    .toSorted((a, b) => (rules.grainUm(b) ?? 0) - (rules.grainUm(a) ?? 0))[0] ?? last;
  const choice = depthChoice(aperture, coarsest, grinding, curve);
  if (choice === undefined) return undefined;
  const missed = depthMissed(known, choice);
  return {
    ...missed,
    do: missed.do.replace("Pour no lap yet; decide.", "Begin no finer grade yet; decide."),
    why: `The radius is ${round(100 * Math.abs(off), 1)} % too ${
      off < 0 ? "short" : "long"
    }, more than the ${
      round(100 * rules.radiusOff, 0)
    } % within which fine grinding goes on, and ${last} cannot move it any more. ${missed.why}`,
  };
}

/** Grains finer than this hardly move the depth any more, um. COMMON PRACTICE */
const MOVES_DEPTH_UM = 50;

/** A depth that is surely off while the grade can still mend it: how long, which disc on top. */
function mendNow(known: Known, last: string, rules: Rules): Step | undefined {
  const { grinding } = known, grain = rules.grainUm(last) ?? 0;
  if (grinding === undefined || grain < MOVES_DEPTH_UM) return undefined;
  // where the methods gainsay one another nobody knows which way the depth is off, even where each was looked at
  if (known.curve?.consistent === false) return undefined;
  const { sagittaNow: now, targetSagitta: target, rates } = grinding;
  const off = 1000 * (now.value - target.value), rate = rates.mirrorOnTop ?? rates.toolOnTop;
  const least = Math.max(1000 * rules.sagittaTolerance, 2000 * (now.u ?? 0));
  if (Math.abs(off) <= least) return undefined;
  // a log that tells no rate leaves the usual one
  const perMin = rate === undefined
    ? usualRate(known.record.settings.aperture, grain).value
    : rate.value * grain / (rules.grainUm("F80") ?? 185);
  const minutes = Math.max(1, Math.round(Math.abs(off) / perMin));
  const position = off > 0 ? "tool on top" : "mirror on top";
  return hollowing(known, {
    stage: "correcting",
    do: `Mend the depth before a finer grade, for none can: grind ${
      minutesSaid(minutes)
    } with ${last}, ${position}, with the stroke of rough grinding, and ${readIt(grinding)} again.`,
    until: `the sagitta is ${round(target.value, 3)} mm, give or take ${
      round(1000 * rules.sagittaTolerance, 0)
    } µm.`,
    why: `The hollow is ${round(Math.abs(off), 0)} µm too ${
      off > 0 ? "deep" : "shallow"
    }, and ${last} takes some ${
      round(perMin, 1)
    } µm a minute; the pits of ${last} stay as they are.`,
    grade: last,
    minutes,
  }, position);
}

/** After the last grade a reading, before any pitch is warmed. */
function readFirst(grinding: GrindingSummary | undefined, last: string): Step {
  const unread = grinding?.minutesUnread?.value;
  return {
    stage: "measuring",
    do: `${
      upper(grinding === undefined ? "read the sagitta" : readIt(grinding))
    } before a lap is poured, five readings, and write them down with their minute.`,
    until: "the depth after the last grade is known: the lap takes its curve from this glass.",
    why: `${last} is the last grade, and ${
      unread === undefined
        ? "no depth is measured yet"
        : `${round(unread, 0)} minutes were ground since the last reading`
    }. Later the curve can hardly be moved any more.`,
  };
}

/** The depth missed after the last grade: both ways on, with what each costs. */
function depthMissed({ record, design, grinding }: Known, choice: DepthChoice): Step {
  const { accept, goBack } = choice, { focalLength } = record.settings;
  const f = accept.focalLength.value, tube = f - focalLength;
  const off = grinding === undefined
    ? 0
    : 1000 * (grinding.sagittaNow.value - grinding.targetSagitta.value);
  const minutes = Math.max(1, Math.round(goBack.minutes.value));
  const back = usualStroke(goBack.position, minutes, record.settings.aperture, "hollowing");
  const decide: Step = {
    stage: "correcting",
    do: `Pour no lap yet; decide. Either go back: wash everything, ${
      minutesSaid(minutes)
    } with ${goBack.grade}, ${goBack.position}, read the depth, then all finer grades again. Or live with it: write \`focal_length: ${
      round(f, 0)
    } mm\` into mirror.yaml, and all that follows is for f/${round(accept.focalRatio, 2)}.`,
    until: "the depth is right by a reading, or the plan has the glass's focal length.",
    why: `The hollow is ${round(Math.abs(off), 0)} µm too ${
      off > 0 ? "deep" : "shallow"
    }. Living with it: a tube ${round(Math.abs(tube), 0)} mm ${
      tube < 0 ? "shorter" : "longer"
    }, another place and size of the flat, a paraboloid ${
      round(accept.sphereDeparture.value, 0)
    } nm from the sphere at the edge in place of ${
      round(design.sphereDeparture.value, 0)
    }. Going back costs the finer grades once more.`,
    grade: goBack.grade,
    minutes,
  };
  return withStrokes(decide, [back], "Going back:");
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

/** Minutes of polishing between two looks. */
const HOUR = 60;
/** A count of pits that has not fallen in so many hours tells of a lap that does not touch, or of an older grade's pits. */
const FALLS_WITHIN = 2;

/** Polishing: an hour at a time, the hours so far beside those foreseen; the last pit decides. */
export function polish(known: Known, rules: Rules): Step {
  const { record } = known, { grinding } = record;
  const isOxide = (name: string): boolean => rules.grainUm(name) === undefined;
  const hours = minutesOf(grinding, isOxide) / 60;
  const last = grinding.findLast(({ abrasive }) => !isOxide(abrasive))?.abrasive;
  const { pitUm, edgeHours: edge } = rules;
  const told = Number(hours.toFixed(1));
  const logged = told === 0 ? "No hour is" : told === 1 ? "1 hour is" : `${told} hours are`;
  const why = `${logged} logged. Pits ${pitUm} µm deep are gone from the edge after about ${
    edge.hours.toFixed(1)
  } hours (${edge.least.toFixed(1)} to ${
    edge.most.toFixed(1)
  }): the last ones live there, and shine says nothing about them.`;
  const plan = [usualStroke("mirror on top", HOUR, record.settings.aperture, "over the centre")];
  const common = { stage: "polishing", why, minutes: HOUR };
  const stroke = "The hour with the mirror on top.";
  const looks = looksAtPits(known, rules), seen = looks.at(-1);
  if (seen !== undefined && seen.amount === 0 && seen.hours >= hours) {
    const isShort = hours < 0.2 * edge.hours;
    if (!isShort) return testFirst(known, rules, seen.date);
  }
  const former = looks.findLast(({ hours: then }) =>
    seen !== undefined && then <= seen.hours - FALLS_WITHIN
  );
  const isStuck = seen !== undefined && former !== undefined && seen.amount >= former.amount &&
    seen.amount > 0;
  if (hours > edge.most || isStuck) {
    const reason = isStuck
      ? `The count has not fallen in ${
        Number((seen.hours - former.hours).toFixed(1))
      } hours: ${former.amount} pits, then ${seen.amount}. ${why}`
      : why;
    return withStrokes(
      {
        ...common,
        do:
          "Count pits in ten fields at the edge, polish an hour on a freshly pressed lap, and count again.",
        until: `none is left there; where the count does not fall, go back to ${
          last ?? "the last grade"
        }, or to the coarser grade whose tile looks like these pits.`,
        why: reason,
      },
      plan,
      stroke,
    );
  }
  const counted = hours === 0
    ? "Press the lap cold for 15 minutes, polish the first hour, and count pits in ten fields at the edge, under a loupe with grazing light."
    : seen === undefined || seen.amount === 0
    ? "Look for pits in ten fields at the edge, under a loupe with grazing light; while there are any, press the lap, polish another hour, and count again."
    : `Press the lap 15 minutes, polish another hour, and count again: there were ${seen.amount} pits in a field.`;
  return withStrokes(
    {
      ...common,
      do: counted,
      until: "none is left there; then look at the mirror through a Ronchi grating.",
    },
    plan,
    stroke,
  );
}

/** Looks for pits in the diary since polishing began, each with the hours polished by then. */
function looksAtPits(
  { record: { diary, grinding } }: Known,
  rules: Rules,
): readonly { readonly date: string; readonly amount: number; readonly hours: number }[] {
  const polishing = grinding.filter(({ abrasive }) => rules.grainUm(abrasive) === undefined);
  const first = polishing.flatMap(({ date }) => date ?? []).sort()[0];
  return diary.filter(({ what }) => what === "pits" || what === "no pits").flatMap((row) => {
    if (first === undefined || row.date < first) return [];
    const minutes = polishing.filter(({ date = "" }) => date <= row.date)
      .reduce((sum, line) => sum + line.minutes, 0);
    const amount = row.what === "no pits" ? 0 : row.amount ?? 1;
    return [{ date: row.date, amount, hours: minutes / 60 }];
  }).toSorted((a, b) => a.date < b.date ? -1 : a.date > b.date ? 1 : 0);
}

/** Polished out: the first look through the grating; where that was had, the knife. */
function testFirst({ record }: Known, rules: Rules, date: string): Step {
  if (record.ronchi.length > 0) {
    return {
      stage: "zone test",
      do:
        `Let the mirror stand ${rules.coolMin} minutes, then read the zones with the knife behind the mask: ${rules.runsWanted} runs, the mark at the top, knife upright.`,
      until: `there are ${rules.runsWanted} runs through every opening.`,
      why: "The bands have been looked at; only the knife gives their shape in numbers.",
      readings: [{ angleDeg: 0, knifeDeg: 0, runs: rules.runsWanted }],
    };
  }
  return {
    stage: "band test",
    do: `Rest the glass first: ${
      restSaid(rules)
    } on its stand. Then photograph the bands through the grating from inside and from outside of focus; write each into ronchi.csv.`,
    until: "the bands are smooth, without a hook at the edge; then read the zones.",
    why: `No pit was seen on ${date} after the last polishing: the surface is polished out.`,
    minutes: rules.coolMin,
  };
}

/** Whether a sight stands in the diary on the day of the last work on the glass, or after it. */
function isSeen({ diary, grinding }: MirrorRecord, what: DiaryRow["what"]): boolean {
  const worked = grinding.flatMap(({ date }) => date ?? []).sort().at(-1) ?? "";
  return diary.some((row) => row.what === what && row.date >= worked);
}

function isLapPoured({ diary, grinding }: MirrorRecord): boolean {
  const worked = grinding.flatMap(({ date }) => date ?? []).sort().at(-1) ?? "";
  return diary.some(({ what, date }) => what === "lap poured" && date >= worked);
}

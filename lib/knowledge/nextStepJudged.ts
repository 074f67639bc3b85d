/** The next step for a mirror whose surface has been judged: leave it alone, measure more, or one session of figuring. */
import { fact } from "../record/tables.ts";
import type { ZoneRow } from "../record/types.ts";
import {
  changeSaid,
  faultSaid,
  handsSaid,
  minutesOf,
  plannedStroke,
  remedySaid,
  sessionSaid,
  withoutGain,
} from "./figuringStep.ts";
import { isStale, runsOf, zoneMeasurements } from "./glassWork.ts";
import type { Step } from "./nextStepCautions.ts";
import { type Known, restSaid, type Rules } from "./rules.ts";
import { seatsSaid } from "./seatWords.ts";
import type { VerdictSummary, WantedReading } from "./summaryTypes.ts";
import { usualStroke, withStrokes } from "./usualStrokes.ts";
import { NO_LOG } from "./zoneVerdict.ts";

function readAgain(): Step {
  return {
    stage: "zone test",
    do: `Measure the zones again: the glass was worked on since it was last read. ${standSaid()}`,
    until: "there are three runs of the surface as it is now.",
    why:
      "Log or diary have work of a later date than the zone readings, so the verdict is of a former surface.",
  };
}

/** Leave it alone once the goal is shown and nothing is lacking; more readings while they can decide; else a session. */
export function judged(known: Known, verdict: VerdictSummary, rules: Rules): Step {
  if (isStale(known.record)) return readAgain();
  const photographs = (verdict.lacks ?? []).filter((lack) => /photograph/.test(lack));
  if (photographs.length > 0 && verdict.meetsGoal !== "no") {
    return takePhotographs(photographs, verdict);
  }
  const inShadow = verdict.meetsGoal !== "yes" && verdict.outsideShadow?.meetsGoal === "yes";
  if (verdict.meetsGoal === "yes" || inShadow) return good(known, verdict, rules, inShadow);
  // a figure is made on polished glass only: what an hour of polishing moves is more than a session does
  if (verdict.lacks?.includes("pits")) return polishOn(known, true, verdict, rules);
  const open = verdict.meetsGoal === "not shown" ? moreReadings(known, verdict, rules) : undefined;
  if (open !== undefined) return open;
  if (isOutOfRound(known)) return evenPolishing(known, verdict, rules);
  if (withoutGain(known.lastRms?.() ?? [], rules.sessionsWithoutGain)) {
    return evenly(known, 20, {
      stage: "polishing",
      do: `Press the lap anew and polish evenly for 20 minutes, the mirror on top; ${
        restSaid(rules)
      }, and measure the zones.`,
      until: "the bands are smooth again; then plan a session.",
      why: `${rules.sessionsWithoutGain} sessions in a row brought no gain: ${verdict.why}.`,
    });
  }
  return figuring(known, verdict, rules);
}

/** A step of ordinary strokes for so long. */
function evenly({ record }: Pick<Known, "record">, minutes: number, step: Step): Step {
  const { aperture } = record.settings;
  const plan = [usualStroke("mirror on top", minutes, aperture, "over the centre")];
  return withStrokes({ ...step, minutes }, plan);
}

/** The wait for an even temperature, for hands are warm and glass is slow. */
function standSaid(): string {
  return `Before the first run let the mirror stand: ${
    fact("touch_gloved")
  } minutes after gloves, ${fact("touch_bare")} after bare hands, some ${
    fact("wait_1")
  } out of a room one degree warmer; it is over when two runs ${
    fact("agree_apart")
  } minutes apart agree.`;
}

/** What would settle an open verdict: runs until their scatter is known, then what the zone test itself asks for. */
function moreReadings(
  known: Known,
  verdict: VerdictSummary,
  rules: Rules,
): Step | undefined {
  const seatsDecide = mayBeOutOfRound(known) ||
    known.awaitsSeats === true && verdict.probability >= 0.5;
  if (known.wanted !== undefined && seatsDecide) return otherSeats(known, verdict);
  const lacks = verdict.lacks ?? [], { settledBy = "narrower openings" } = known;
  const isNarrow = lacks.includes("narrower openings") && settledBy === "narrower openings";
  const rows = zoneMeasurements(known.record).at(-1)?.rows ?? [], runs = runsOf({ rows }).length;
  if (runs >= rules.runsWanted || isNarrow) {
    // more likely out than good, and something stands above its doubt: work on it, and read again after
    if (verdict.probability < 0.5 && known.plan?.().do === "polish") return undefined;
    const seats = seatsOf(rows, rules.runsWanted);
    if (isNarrow) return narrowerOpenings(known, verdict, seats);
    return lacks.includes("more runs") ? moreRuns(known, verdict, seats) : undefined;
  }
  const { angleDeg = 0, knifeDeg = 0 } = rows[0] ?? {};
  return {
    stage: "zone test",
    do: `Measure the zones again until there are ${rules.runsWanted} runs. ${standSaid()}`,
    until: "the probability of meeting the goal is at least 0.95, or at most 0.05.",
    why: verdict.why,
    readings: [{ angleDeg: angleDeg, knifeDeg: knifeDeg, runs: rules.runsWanted - runs }],
  };
}

/** Seats and knives that have been read, each once. */
function seatsOf(rows: readonly ZoneRow[], runs: number): readonly WantedReading[] {
  const seats = Map.groupBy(rows, ({ angleDeg = 0, knifeDeg = 0 }) => `${angleDeg} ${knifeDeg}`);
  return [...seats.values()].flatMap(([row]) =>
    row === undefined ? [] : [{ angleDeg: row.angleDeg ?? 0, knifeDeg: row.knifeDeg ?? 0, runs }]
  );
}

/** What a verdict lacks while it is of one diameter. */
const OF_SCOPE: readonly string[] = ["another diameter", "seats and knives"];
/** What a verdict on the whole disc lacks, of no matter where the flat's shadow hides the rest. */
const OF_WHOLE_DISC: readonly string[] = ["narrower openings", "more runs"];

/** A good surface: what it lacks for a coating, one thing at a time, and then the coating. */
function good(known: Known, verdict: VerdictSummary, rules: Rules, inShadow: boolean): Step {
  const oneIsEnough = known.record.settings.goal.scope === "one diameter";
  const lacks = (verdict.lacks ?? []).filter((lack) =>
    !(lack === NO_LOG || oneIsEnough && OF_SCOPE.includes(lack) ||
      inShadow && OF_WHOLE_DISC.includes(lack))
  );
  if (lacks.includes("pits") || lacks.includes("polishing")) {
    return polishOn(known, lacks.includes("pits"), verdict, rules);
  }
  if (verdict.scope === "one diameter" && !oneIsEnough) return otherSeats(known, verdict);
  if (lacks.length > 0) return otherSeats(known, verdict);
  const shadow = inShadow
    ? ". What keeps the whole disc from it lies in the shadow of the flat, where no light of a star goes: leave it there"
    : "";
  const unseen = verdict.scope === "one diameter"
    ? ". By goal.scope one diameter is enough here: astigmatism was not looked for"
    : "";
  // whoever observed with it has it in its tube: the diary is behind
  const nights = known.record.observations.length === 0
    ? ""
    : " Nights under the sky stand in observations.csv: where it is coated, mounted and aligned already, write that into diary.csv instead.";
  return {
    stage: "coating",
    do: `Leave the surface alone. Pack the mirror and send it out to be coated.${nights}`,
    until: `it comes back with its coating; ${focalSaid(known, rules)}`,
    why: `${verdict.why}${shadow}${unseen}`,
  };
}

/** Which focal length the tube is made for: a known one is not measured again, and a coated mirror never by the Sun. */
function focalSaid({ curve }: Known, { drillU }: Rules): string {
  const { value, u } = curve?.focalLength ?? {};
  return value !== undefined && u !== undefined && u <= drillU
    ? `the tube is made for the focal length that is known, ${value.toFixed(1)} ± ${
      u.toFixed(1)
    } mm: a coated mirror is never measured by the Sun.`
    : "its focal length for the tube is measured by lamp and card on one box at the centre of curvature, before it is packed or after, and never by the Sun with a coated mirror.";
}

/** Whether astigmatism alone breaks the goal, surely: strokes that work in rings cannot mend that. */
function isOutOfRound({ record: { settings }, astigmatism }: Known): boolean {
  const { surfaceWaves, wavelength } = settings.goal;
  // highest less lowest of the glass is twice the amplitude
  return 2 * (astigmatism?.interval95[0] ?? 0) > surfaceWaves * wavelength;
}

/** Whether diameters differ by more than the goal allows, and the seats alone may have done it: knives turned in them tell. */
function mayBeOutOfRound({ record: { settings }, astigmatism }: Known): boolean {
  const { surfaceWaves, wavelength } = settings.goal;
  return astigmatism?.interval95[0] === 0 &&
    2 * astigmatism.amplitude.value > surfaceWaves * wavelength;
}

function evenPolishing(known: Known, verdict: VerdictSummary, rules: Rules): Step {
  return evenly(known, 20, {
    stage: "polishing",
    do:
      `Press the lap anew and polish evenly for 20 minutes, the mirror on top, and turn both discs without fail; ${
        restSaid(rules)
      }, and read the same seats again.`,
    until: "the astigmatism is smaller than the goal allows; then figure what is left.",
    why: `The mirror is not round: two diameters differ by more than the goal allows (amplitude ${
      known.astigmatism?.amplitude.value.toFixed(0)
    } nm), and no stroke that works in rings mends that. ${remedySaid("astigmatism")} ${
      begun(verdict.why)
    }`,
  });
}

/** A reason that begins a sentence. */
function begun(why: string): string {
  return `${why.slice(0, 1).toUpperCase()}${why.slice(1)}.`;
}

/** Runs of one surface beyond which nobody reads on. COMMON PRACTICE */
const ENOUGH_RUNS = 12;

/** One session by the plan; more readings where the plan sees nothing to work on. */
function figuring(known: Known, verdict: VerdictSummary, rules: Rules): Step {
  const { record, plan: planOf } = known, planned = planOf?.();
  if (
    planned !== undefined && planned.do !== "polish" && (known.astigmatism?.interval95[0] ?? 0) > 0
  ) {
    return evenPolishing(known, verdict, rules);
  }
  const rows = zoneMeasurements(record).at(-1)?.rows ?? [],
    isOneRun = runsOf({ rows }).length === 1;
  // a single run tells nothing of its own scatter: no session on it that may leave the glass worse
  const isUnsure = isOneRun && planned?.do === "polish" &&
    (planned.after.rms95?.[1] ?? Infinity) >= planned.before.rms;
  if (planned?.do === "measure more" || isUnsure) {
    const isWhole = verdict.scope === "whole surface" ||
      record.settings.goal.scope === "one diameter";
    if (!isWhole && known.wanted !== undefined) return otherSeats(known, verdict);
    const more = planned?.moreRuns ?? Math.max(1, rules.runsWanted - 1);
    const places = seatsOf(rows, more), runs = Math.ceil(more / Math.max(1, places.length));
    return {
      stage: "zone test",
      do: `Read more: measure the zones ${runs} ${runs === 1 ? "run" : "runs"} more${
        places.length > 1 ? " in each seat" : ""
      }, in still air, and polish nothing yet.`,
      until:
        `something stands above its uncertainty, or the goal is shown; where ${ENOUGH_RUNS} runs in all say no more than this, leave the glass as it is and let the test on a star decide.`,
      why: `${verdict.why}; ${
        isUnsure ? "by one run a session may as well leave the glass worse" : planned?.why
      }`,
      ...(places.length === 0 ? {} : { readings: places.map((place) => ({ ...place, runs })) }),
    };
  }
  const common = {
    stage: "figuring",
    until: "the probability of meeting the goal is at least 0.95: then leave the surface alone.",
  };
  if (planned === undefined || planned.do === "stop") {
    return {
      ...common,
      do:
        `Measure the zones with the knife-edge for a plan; without one, polish at most ${rules.blindMin} minutes where the surface stands high; then ${
          restSaid(rules)
        }.`,
      why: verdict.why,
    };
  }
  const plan = planned.next.map((one) => plannedStroke(one, record.settings.aperture));
  const { before, after } = planned, fault = faultSaid(known.faults?.() ?? []);
  const hands = known.hands === undefined ? "" : ` ${handsSaid(known.hands)}`;
  // at one half or more it is here because no readings would settle it, as the verdict's own advice says
  const open = verdict.meetsGoal === "not shown" && verdict.probability < 0.5
    ? `. It is more likely out than good, and something stands above its doubt: one session, then read again`
    : "";
  return {
    ...common,
    do: sessionSaid(plan, rules),
    why: `${open === "" ? verdict.why : whyOf(verdict, known.advice)}${open}. ${
      changeSaid(planned)
    }${hands}${fault === undefined ? "" : ` ${fault}`}`,
    plan,
    minutes: minutesOf(plan),
    ...(after.rms95 === undefined ? {} : {
      foreseen: {
        from: before.rms,
        low: after.rms95[0],
        middle: after.rms,
        high: after.rms95[1],
      },
    }),
  };
}

/** Three seats of the mirror with both directions of the knife: what the whole surface takes. */
export const ALL_SEATS: readonly WantedReading[] = [0, 45, 90].flatMap((angleDeg) =>
  [0, 90].map((knifeDeg) => ({ angleDeg, knifeDeg, runs: 3 }))
);

const listed = new Intl.ListFormat("en", { type: "conjunction" });

/** The verdict's reason without the advice, where the step itself gives it. */
function whyOf({ why }: VerdictSummary, advice: string | undefined): string {
  return advice === undefined ? why : why.replace(`; ${advice}`, "");
}

/** Where one knife of a seat is wanted, and the mirror was lifted since the other: that one again. */
function liftedSaid(wanted: readonly WantedReading[]): string {
  const half = [...Map.groupBy(wanted, ({ angleDeg }) => angleDeg).values()].find((ofSeat) =>
    ofSeat.length === 1
  )?.[0];
  return half === undefined
    ? ""
    : ` If the mirror was lifted since it was read with the knife ${
      half.knifeDeg === 0 ? "on its side" : "upright"
    } at ${half.angleDeg} degrees, read that again on the same day.`;
}

/** Seats and knife directions that the whole surface still wants. */
export function otherSeats({ wanted = ALL_SEATS, advice }: Known, verdict: VerdictSummary): Step {
  return {
    stage: "zone test",
    do:
      `Polish nothing. Read the zones in these seats, both knives of a seat on one day and without lifting the mirror between them, and write angle_deg and knife_deg with them. ${
        seatsSaid(wanted)
      }${liftedSaid(wanted)} ${standSaid()}`,
    until:
      "the mirror has been read in three seats, 0, 45 and 90 degrees, with the knife upright and on its side in each: then the verdict is of the whole surface.",
    why: `${
      whyOf(verdict, advice)
    }. It is of ${verdict.scope}: a mirror that is not round can look perfect on one diameter, and the knife's two directions part the mirror from its stand.`,
    readings: wanted,
  };
}

/** A mask that sees more. */
export function narrowerOpenings(
  { advice }: Known,
  verdict: VerdictSummary,
  readings: readonly WantedReading[],
): Step {
  return {
    stage: "zone test",
    do: `Polish nothing. Cut a mask with more and narrower openings, and read through it${
      advice === undefined ? "" : `: ${advice}`
    }.`,
    until: "what no opening saw is smaller than the goal allows.",
    why: `${whyOf(verdict, advice)}. What the glass does inside wide openings is not seen.`,
    readings,
  };
}

/** More runs through the same openings; in seats that are missing, where there are such. */
export function moreRuns(
  known: Known,
  verdict: VerdictSummary,
  readings: readonly WantedReading[],
): Step {
  const { advice, record, wanted } = known;
  const isWhole = verdict.scope === "whole surface" ||
    record.settings.goal.scope === "one diameter";
  if (!isWhole && wanted !== undefined) return otherSeats(known, verdict);
  return {
    stage: "zone test",
    do: `Polish nothing. Measure the zones again${advice === undefined ? "" : `: ${advice}`}. ${
      seatsSaid(readings)
    }`,
    until: "the probability of meeting the goal is at least 0.95, or at most 0.05.",
    why: `${whyOf(verdict, advice)}.`,
    readings,
  };
}

/** Photographs that are missing, where there are no zone readings. */
export function takePhotographs(missing: readonly string[], verdict: VerdictSummary): Step {
  return {
    stage: "band test",
    do: `Polish nothing. Still missing: ${
      listed.format(missing)
    }. Take them on one day and write each into ronchi.csv; or read the zones.`,
    until:
      "there is a photograph from inside and one from outside of focus, in two turns of the grating.",
    why: `${verdict.why}.`,
  };
}

/** The figure is good, the polish is not over. */
export function polishOn(
  known: Pick<Known, "record">,
  pits: boolean,
  verdict: VerdictSummary,
  rules: Rules,
): Step {
  const why = pits
    ? "Pits were seen after the last polishing, and a coating mends none"
    : "The log has less polishing than a fifth of what the grade before it needs";
  return evenly(known, 60, {
    stage: "polishing",
    do: pits
      ? "Press the lap, polish an hour evenly, the mirror on top, and count pits in ten fields at the edge again; write pits or no pits into diary.csv."
      : "Write the polishing that is not in grinding.csv yet into it. Else press the lap, polish an hour evenly, the mirror on top, and look for pits in ten fields at the edge; write pits or no pits into diary.csv.",
    until: `no pit is left; then ${restSaid(rules)}, and measure the zones again.`,
    why: `${why}. The figure itself: ${verdict.why}`,
  });
}

/** The next step for a mirror whose surface has been judged: leave it alone, measure more, or one spell of figuring. */
import { changeSaid, spellSaid, withoutGain } from "./figuringStep.ts";
import type { Known, Rules } from "./nextStep.ts";
import { CAUTION } from "./nextStepCautions.ts";
import type { NextStep, VerdictSummary } from "./summaryTypes.ts";
import type { MirrorRecord } from "./types.ts";

/** The latest date of a table; empty where no row has one. */
function lastDate(rows: readonly { readonly date?: string }[]): string {
  return rows.reduce((latest, { date = "" }) => date > latest ? date : latest, "");
}

/** Was the glass polished after the readings that the verdict rests on? */
function isStale({ grinding, zones }: MirrorRecord): boolean {
  const read = lastDate(zones);
  return read !== "" && lastDate(grinding) > read;
}

/** Runs of the day that the verdict rests on: earlier days are of a former surface. */
function runsOfLatestDay({ zones }: MirrorRecord): number {
  const day = lastDate(zones);
  return new Set(zones.filter(({ date = "" }) => date === day).map(({ run }) => run)).size;
}

function readAgain(): NextStep {
  return {
    stage: "zone test",
    do: "Measure the zones again: the mirror has been polished since it was last read.",
    until: "there are three runs of the surface as it is now.",
    why:
      "The log has work of a later date than the zone readings, so the verdict is of a former surface.",
    caution: CAUTION.knife,
  };
}

/** Leave it alone once the goal is shown; more runs while they can decide; else a spell. */
export function judged(known: Known, verdict: VerdictSummary, rules: Rules): NextStep {
  if (isStale(known.record)) return readAgain();
  const runs = runsOfLatestDay(known.record);
  if (verdict.meets_goal === "yes") {
    return {
      stage: "coating",
      do: "Leave the surface alone. Pack the mirror and send it out to be coated.",
      until: "it comes back with its coating; then measure the focal length for the tube.",
      why: verdict.why,
      caution: CAUTION.coating,
    };
  }
  if (verdict.meets_goal === "not shown" && runs < rules.runsWanted) {
    return {
      stage: "zone test",
      do: `Measure the zones again until there are ${rules.runsWanted} runs.`,
      until: "the probability of meeting the goal is at least 0.95, or at most 0.05.",
      why: verdict.why,
      caution: CAUTION.knife,
    };
  }
  if (withoutGain(known.dailyRms?.() ?? [], rules.spellsWithoutGain)) {
    return {
      stage: "polishing",
      do:
        `Press the lap anew and polish evenly, over the centre, strokes a third of the diameter long, for 20 minutes; cool ${rules.coolMin} minutes, and measure the zones.`,
      until: "the bands are smooth again; then plan a spell.",
      why: `${rules.spellsWithoutGain} spells in a row brought no gain: ${verdict.why}`,
      caution: CAUTION.polish,
    };
  }
  return figuring(known, verdict, rules);
}

/** One spell by the plan; more readings where the plan sees nothing to work on. */
function figuring({ record, plan }: Known, verdict: VerdictSummary, rules: Rules): NextStep {
  const planned = plan?.();
  if (planned?.do === "measure more") {
    return {
      stage: "zone test",
      do: "Measure the zones three runs more, in still air, and polish nothing yet.",
      until: "something stands above its uncertainty, or the goal is shown.",
      why: `${verdict.why}; ${planned.why}`,
      caution: CAUTION.knife,
    };
  }
  const common = {
    stage: "figuring",
    until: "the probability of meeting the goal is at least 0.95: then leave the surface alone.",
    caution: CAUTION.polish,
  };
  if (planned === undefined || planned.do === "stop") {
    return {
      ...common,
      do:
        `Measure five zones with the knife-edge for a plan; without one, polish at most ${rules.spellMin} minutes where the surface stands high, and let it cool ${rules.coolMin} minutes.`,
      why: verdict.why,
    };
  }
  return {
    ...common,
    do: spellSaid(planned, record.settings.aperture, rules.coolMin),
    why: `${verdict.why}. ${changeSaid(planned)}`,
  };
}

/** The next step where a good surface still lacks something before it may be sent to be coated. */
import type { Known, Rules } from "./nextStep.ts";
import type { Step } from "./nextStepCautions.ts";
import { seatsSaid } from "./seatWords.ts";
import type { VerdictSummary, WantedReading } from "./summaryTypes.ts";

/** Three seats of the mirror with both directions of the knife: what the whole surface takes. */
export const ALL_SEATS: readonly WantedReading[] = [0, 45, 90].flatMap((angle_deg) =>
  [0, 90].map((knife_deg) => ({ angle_deg, knife_deg, runs: 3 }))
);

const listed = new Intl.ListFormat("en", { type: "conjunction" });

/** The verdict's reason without the advice, where the step itself gives it. */
function whyOf({ why }: VerdictSummary, advice: string | undefined): string {
  return advice === undefined ? why : why.replace(`; ${advice}`, "");
}

/** Seats and knife directions that the whole surface still wants. */
export function otherSeats({ wanted = ALL_SEATS, advice }: Known, verdict: VerdictSummary): Step {
  return {
    stage: "zone test",
    do:
      `Polish nothing. Read the zones where no reading is yet, and write angle_deg and knife_deg with them. ${
        seatsSaid(wanted)
      }`,
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
export function polishOn(pits: boolean, verdict: VerdictSummary, rules: Rules): Step {
  const why = pits
    ? "Pits were seen after the last polishing, and a coating mends none"
    : "The log has less polishing than a fifth of what the grade before it needs";
  return {
    stage: "polishing",
    do: pits
      ? "Press the lap, polish an hour evenly, and count pits in five fields at the edge again; write pits or no pits into diary.csv."
      : "Write the polishing that is not in grinding.csv yet into it. Else press the lap, polish an hour evenly, and look for pits in five fields at the edge; write pits or no pits into diary.csv.",
    until:
      `no pit is left; then let the mirror cool ${rules.coolMin} minutes and measure the zones again.`,
    why: `${why}. The figure itself: ${verdict.why}`,
  };
}

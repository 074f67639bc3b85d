/** The next step on the ladder of grades, at the lap, and in polishing: from the minutes of the log. */
import { pitchNeeded, usualLap } from "../shaping/lap/lap.ts";
import type { Known, Rules } from "./nextStep.ts";
import type { Step } from "./nextStepCautions.ts";
import type { GrindingRow } from "../record/types.ts";

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

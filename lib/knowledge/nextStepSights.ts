/** Sights in the diary that come before the step: scratch, chip, bevel, edge. What was worked on since is settled. */
import type { DiaryRow } from "../record/types.ts";
import type { Step } from "./nextStepCautions.ts";
import type { Known, Rules } from "./rules.ts";
import { bothWays, withStrokes } from "./usualStrokes.ts";

/** Narrower than this on the face, and the rim chips, mm. COMMON PRACTICE */
const BEVEL_LEAST = 0.7;
/** How wide a scratch is taken to be that nobody measured, mm. COMMON PRACTICE */
const SCRATCH_WIDE = 0.05;
/** Stages in which glass is ground. */
const GRINDING: readonly string[] = ["blanks", "rough grinding", "correcting", "fine grinding"];

/** The latest row of a sight on the day of the last work or after it; none where an act that settles it came after. */
function lastOf(
  { diary, grinding }: Known["record"],
  what: DiaryRow["what"],
  settledBy: readonly DiaryRow["what"][],
): DiaryRow | undefined {
  const worked = grinding.flatMap(({ date }) => date ?? []).sort().at(-1) ?? "";
  const at = diary.findLastIndex((row) => row.what === what && row.date >= worked);
  const seen = diary[at];
  if (seen === undefined) return undefined;
  const isSettled = diary.some((row, i) =>
    settledBy.includes(row.what) && (row.date > seen.date || (row.date === seen.date && i > at))
  );
  return isSettled ? undefined : seen;
}

function placed({ where }: DiaryRow): string {
  return where === undefined ? "" : ` ${where} mm from the centre`;
}

/** The step with what the eye saw since the last work put before it. */
export function afterSights(step: Step, known: Known, rules: Rules): Step {
  const { record } = known;
  const chip = lastOf(record, "chip", ["bevel renewed"]);
  if (chip !== undefined) return afterChip(step, chip);
  const { bevel, unknownBevel } = record.settings;
  if (
    unknownBevel === undefined && bevel > 0 && bevel < BEVEL_LEAST && GRINDING.includes(step.stage)
  ) {
    const order =
      "First stone the bevel, wet, until it is 1.0 to 1.4 mm wide on the face all round, and write its width into mirror.yaml.";
    return {
      ...step,
      do: `${order} Then: ${step.do}`,
      why: `The bevel is worn to ${bevel} mm. ${step.why}`,
    };
  }
  const scratch = lastOf(record, "scratch", ["no pits"]);
  if (scratch !== undefined) return afterScratch(step, scratch, known, rules);
  const edge = lastOf(record, "edge turned", ["lap pressed"]);
  if (edge === undefined) return step;
  const read = [...record.zones, ...record.ronchi].flatMap(({ date }) => date ?? []).sort().at(-1);
  if (step.stage === "coating" && read !== undefined && edge.date > read) return edgeFirst();
  return afterEdge(step, record.settings.aperture);
}

function afterChip(step: Step, chip: DiaryRow): Step {
  const wide = chip.amount === undefined ? "" : ` of ${chip.amount} mm`;
  return {
    ...step,
    do: `First wipe with a wet cloth, never a hand, and look at the chip${
      placed(chip)
    } under a loupe. Inside the bevel: stone it smooth. Where it reaches the face: go on with the bevel until it is gone. Search both discs and the bench for the splinter, wash all, and write bevel renewed into diary.csv. Then: ${step.do}`,
    why:
      `The diary has a chip${wide}: a loose splinter scratches, a sharp one breaks on. ${step.why}`,
  };
}

/** The coarser of two grades that a scratch sends back to: the one before the last. */
function gradeBack({ record }: Known, last: string, rules: Rules): string {
  const size = rules.grainUm(last) ?? 0;
  return record.grinding.findLast(({ abrasive }) => (rules.grainUm(abrasive) ?? 0) > size)
    ?.abrasive ??
    last;
}

/** By its length and by what is left to take: gone with the grade, back one grade, or left where it is. */
function afterScratch(step: Step, scratch: DiaryRow, known: Known, rules: Rules): Step {
  const { record } = known, length = scratch.amount ?? 0, { aperture } = record.settings;
  const last = record.grinding.at(-1)?.abrasive ?? "";
  const isGrinding = rules.grainUm(last) !== undefined;
  const long = length > rules.scratchLongest;
  const told = `A scratch${length > 0 ? ` of ${length} mm` : ""}${
    placed(scratch)
  } stands in the diary`;
  const finest = rules.grainUm(rules.ladder[0] ?? "") ?? 0;
  const isFine = step.stage === "fine grinding" ||
    step.stage === "correcting" && (rules.grainUm(last) ?? Infinity) <= finest;
  if (isGrinding && long && isFine) {
    const grade = gradeBack(known, last, rules);
    const minutes = rules.gradeMinutes(grade, undefined, aperture)?.least ??
      rules.gradeMinutes(last, grade, aperture)?.least;
    const back = minutes === undefined ? 10 : Math.max(5, Math.round(minutes / 2));
    return withStrokes({
      stage: "fine grinding",
      do:
        `Wash everything and find the stray grain; then go back to ${grade}: ${back} minutes, half of them with the discs swapped, and look for the scratch.`,
      until: `the scratch is gone; then ${last} anew.`,
      why:
        `${told}, longer than ${rules.scratchLongest} mm: what is left to take with ${last} is less than its depth.`,
      grade,
      minutes: back,
    }, bothWays(back, aperture));
  }
  if (isGrinding) {
    return {
      ...step,
      do: `First wash everything and find the stray grain. Mark the scratch, and go on: ${step.do}`,
      until: `${
        step.until.replace(/[.]$/, "")
      }, and the scratch is gone; else go back to the grade whose pits are as wide.`,
      why: `${told}: what is left to take may take it away. ${step.why}`,
    };
  }
  const covers = 100 * length * SCRATCH_WIDE / (Math.PI * aperture ** 2 / 4);
  const share = length > 0
    ? ` It covers some ${
      covers.toPrecision(1)
    } % of the mirror and throws as much of the light aside.`
    : "";
  return {
    ...step,
    do:
      `First wash the lap and the mirror, and look at the scratch through 20 times: smooth sides are a sleek, which polishing takes away. A scratch with rough sides is left where it is. Then: ${step.do}`,
    why:
      `${told}.${share} Polishing takes some micrometres, grinding it out costs all of the polish. ${step.why}`,
  };
}

/** An edge that was seen turned after the last readings: nothing is packed before it is looked at. */
function edgeFirst(): Step {
  return {
    stage: "zone test",
    do:
      "Send nothing away yet. Look at the outermost 3 mm by the bands, inside and outside of focus: hooked bands there, opposite on the two sides, are the turned edge. Then read the zones again, with the outermost opening as narrow as the knife can be read in.",
    until: "readings newer than that sight stand in zones.csv or ronchi.csv.",
    why:
      "The diary says that the edge is turned, and it says so after the last readings: a wide opening at the rim averages such an edge away.",
  };
}

/** An edge that turned down: what causes it goes first, and the rim is left alone. */
function afterEdge(step: Step, aperture: number): Step {
  if (step.stage === "band test" || step.stage === "zone test") {
    return {
      ...step,
      do:
        `${step.do} Look at the outermost 3 mm apart from the rest: hooked bands there, opposite inside and outside of focus, are the turned edge.`,
      why: `The diary says that the edge is turned. ${step.why}`,
    };
  }
  if (step.stage !== "polishing" && step.stage !== "figuring") return step;
  const shorter = step.stage === "polishing" ? withShorter(step, aperture / 4) : step;
  return {
    ...shorter,
    do: `First trim the lap to 1 mm inside the rim and press it 30 minutes. Then: ${shorter.do}`,
    why:
      `The diary says that the edge is turned: soft pitch, a lap beyond the rim or long strokes do that. ${step.why}`,
  };
}

/** Strokes over the centre made shorter, in the plan and in its sentence. */
function withShorter(step: Step, lengthMm: number): Step {
  const length = Math.round(lengthMm), { plan = [] } = step;
  if (plan.length === 0 || plan.some(({ sideMm }) => sideMm > 0)) return step;
  return {
    ...step,
    do: step.do.replace(/strokes \d+ mm long/i, (said) => said.replace(/\d+/, String(length))),
    plan: plan.map((stroke) => ({ ...stroke, lengthMm: length })),
  };
}

/** The strokes of grinding and polishing as a plan: what next_step.plan has in numbers, and the sentence that says the same. */
import { fact } from "../record/tables.ts";
import type { Position } from "../record/types.ts";
import { turning } from "../shaping/grinding/routine.ts";
import { turnsSaid } from "./figuringStep.ts";
import type { Step } from "./nextStepCautions.ts";
import type { PlannedStroke } from "./summaryTypes.ts";

/** Where the upper disc goes: beside the centre for hollowing, over it for everything finer. */
export type Way = "hollowing" | "over the centre";

/**
 * The usual stroke for so many minutes: a third of the disc long, a quarter of it to the side for hollowing, turned by the one rule.
 *
 * @param minutes   above 0
 * @param aperture  mm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { sideMm, lengthMm, everyStrokes } = usualStroke("mirror on top", 20, 150, "hollowing");
 * assert.deepEqual([sideMm, lengthMm, everyStrokes], [38, 50, 8]);
 * ```
 */
export function usualStroke(
  position: Position,
  minutes: number,
  aperture: number,
  way: Way,
): PlannedStroke {
  const degrees = (turn: number): number => Math.round((turn * 180) / Math.PI);
  return {
    position,
    sideMm: way === "hollowing" ? Math.round(fact("stroke_side") * aperture) : 0,
    lengthMm: Math.round(fact("stroke_length") * aperture),
    minutes,
    upperTurnDeg: degrees(turning.upper),
    lowerTurnDeg: degrees(turning.lower),
    everyStrokes: turning.strokes,
  };
}

/** Half of the minutes with the mirror on top, half with the tool: the curve stays. */
export function bothWays(minutes: number, aperture: number): readonly PlannedStroke[] {
  return (["mirror on top", "tool on top"] as const).map((position) =>
    usualStroke(position, minutes / 2, aperture, "over the centre")
  );
}

/** The stroke of a plan whose parts share it: "Strokes 50 mm long, 38 mm beside the centre; after every 8 ...". */
function shapeSaid({ sideMm, lengthMm }: PlannedStroke): string {
  const aside = sideMm === 0 ? "over the centre" : `${sideMm} mm beside the centre`;
  return `Strokes ${lengthMm} mm long, ${aside}; ${turnsSaid()}.`;
}

/**
 * A step with its strokes: the plan in numbers, and the sentence that says the same behind what is to be done.
 *
 * @param step  whose minutes are those of the plan; its sentence says how long and which disc on top, unless `says` does
 * @param says  before the stroke, a sentence with its full stop, or words with a colon
 */
export function withStrokes(step: Step, plan: readonly PlannedStroke[], says = ""): Step {
  const [first] = plan;
  if (first === undefined) return step;
  const before = says === "" ? "" : ` ${says}`, shape = shapeSaid(first);
  const said = says.endsWith(":") ? `${shape.slice(0, 1).toLowerCase()}${shape.slice(1)}` : shape;
  return { ...step, do: `${step.do}${before} ${said}`, plan };
}

/**
 * What is to be done without how the strokes go: for a leader, who looks at a dozen benches.
 *
 * @param what  as a step has it
 */
export function withoutStrokes(what: string): string {
  return what.replace(/ Strokes \d+ mm long, [^.]*°\./, "");
}

/** "19 minutes with the mirror on top and 19 with the tool on top". */
export function halvesSaid(minutes: number): string {
  const half = Number((minutes / 2).toFixed(1));
  return `${half} ${
    half === 1 ? "minute" : "minutes"
  } with the mirror on top and ${half} with the tool on top`;
}

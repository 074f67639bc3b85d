/** The next step while a slip is in the record: look at it first, and take no glass off meanwhile. */
import type { Step } from "./nextStepCautions.ts";
import type { Slip } from "./slips.ts";
import type { MirrorRecord } from "../record/types.ts";

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

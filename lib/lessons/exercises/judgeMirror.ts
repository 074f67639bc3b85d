/** Exercises of judge-mirror: good enough, and how sure. */
import type { Exercise } from "../exercise.ts";

export const judgeMirror: readonly Exercise[] = [
  {
    id: "judge-mirror-1",
    ask:
      "The glass is 32 nm from its highest to its lowest. What is the peak to valley of the wavefront, in waves of 550 nm?",
    unit: "wave",
    answer: 0.1164,
    traps: [{ value: 0.058182, hint: "W" }],
    hints: [
      "How often does the light pass the error?",
      "Look at 32 nm of glass and 550 nm of light.",
      "2 × 32 ÷ 550 = 0.1164 wave.",
    ],
  },
  {
    id: "judge-mirror-2",
    ask:
      "A wavefront of 0.229 wave, 95 % interval 0.185 to 0.322, and a goal of 0.25. Is the goal met?",
    choices: ["yes", "no", "not shown"],
    answer: "not shown",
    traps: [
      { value: "yes", hint: "Read the whole bar: where does its far end stand?" },
      { value: "no", hint: "Read the whole bar: where does its far end stand?" },
    ],
    hints: [
      "Does the whole bar stand on one side of the goal?",
      "Look at 0.322.",
      "The bar holds 0.25, and the probability is 0.67: neither 0.95 nor 0.05. Not shown.",
    ],
  },
  {
    id: "judge-mirror-3",
    ask: "A wavefront has an RMS of 0.026 wave. What is its Strehl ratio?",
    unit: "",
    answer: 0.974,
    tolerance: 0.01,
    traps: [{ value: 0.59327, hint: "You fed P-V; it wants RMS." }, {
      value: 1.027,
      hint: "A Strehl ratio is never above 1.",
    }, { value: 0.026334, hint: "That is what is lost. What stays?" }],
    hints: [
      "Which number of the wavefront goes in: P-V or RMS?",
      "Look at 2π × 0.026 = 0.163.",
      "exp(−0.163²) = 0.974.",
    ],
  },
];

/** Exercises of notebook 12: good enough, and how sure. */
import type { Exercise } from "../exercise.ts";

export const judgeMirror: readonly Exercise[] = [
  {
    id: "12-1",
    ask:
      "The glass is 26 nm from its highest to its lowest. What is the peak to valley of the wavefront, in waves of 550 nm?",
    unit: "wave",
    answer: 0.0945,
    tolerance: 0.001,
    traps: [{ value: 0.0473, hint: "W", within: 0.0006 }],
    hints: [
      "How often does the light pass the error?",
      "Look at 26 nm of glass and 550 nm of light.",
      "2 × 26 ÷ 550 = 0.0945 wave.",
    ],
  },
  {
    id: "12-2",
    ask:
      "A wavefront of 0.237 wave, 95 % interval 0.208 to 0.268, and a goal of 0.25. Is the goal met?",
    choices: ["yes", "no", "not shown"],
    answer: "not shown",
    traps: [
      { value: "yes", hint: "Read the whole bar: where does its far end stand?" },
      { value: "no", hint: "Read the whole bar: where does its far end stand?" },
    ],
    hints: [
      "Does the whole bar stand on one side of the goal?",
      "Look at 0.268.",
      "The bar holds 0.25, and the probability is 0.78: neither 0.95 nor 0.05. Not shown.",
    ],
  },
  {
    id: "12-3",
    ask: "A wavefront has an RMS of 0.0252 wave. What is its Strehl ratio?",
    unit: "",
    answer: 0.975,
    tolerance: 0.002,
    traps: [{ value: 0.706, hint: "You fed P-V; it wants RMS.", within: 0.01 }],
    hints: [
      "Which number of the wavefront goes in: P-V or RMS?",
      "Look at 2π × 0.0252 = 0.158.",
      "exp(−0.158²) = 0.975.",
    ],
  },
];

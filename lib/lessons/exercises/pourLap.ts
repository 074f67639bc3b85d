/** Exercises of pour-lap: the pitch lap. */
import type { Exercise } from "../exercise.ts";

export const pourLap: readonly Exercise[] = [
  {
    id: "pour-lap-1",
    ask: "A lap 150 mm wide and 7 mm thick, of pitch of 1.1 g/cm³. How many grams?",
    unit: "g",
    answer: 136,
    traps: [{ value: 544.28, hint: "D" }],
    hints: [
      "Which length does the area of a circle begin with?",
      "Look at 7.5 cm, half of the width, and at 0.7 cm.",
      "π × 7.5² × 0.7 × 1.1 = 136 g.",
    ],
  },
  {
    id: "pour-lap-2",
    ask:
      "Channels 5 mm wide stand 25 mm apart, both ways. Which share of an endless lap touches the glass?",
    unit: "",
    answer: 0.64,
    traps: [{ value: 0.8, hint: "Q" }, {
      value: 0.36,
      hint: "That is what the channels take. How much touches?",
    }, { value: 0.04, hint: "That is where two channels cross." }],
    hints: [
      "Channels run both ways. What is left of one facet?",
      "Look at 20 mm of 25, in both directions.",
      "(20 ÷ 25)² = 0.64.",
    ],
  },
  {
    id: "pour-lap-3",
    ask: "The 150 mm lap holds 136 g. A 200 mm lap of the same thickness?",
    unit: "g",
    answer: 242,
    traps: [{ value: 181.43, hint: "Q" }, {
      value: 322.54,
      hint: "The thickness stays: only the area grows.",
    }],
    hints: [
      "Does pitch grow with the width or with the area?",
      "Look at 200 ÷ 150 = 1.33, and square it.",
      "136 × 1.33² = 242 g.",
    ],
  },
];

/** Exercises of pour-lap: the pitch lap. */
import type { Exercise } from "../exercise.ts";

export const pourLap: readonly Exercise[] = [
  {
    id: "pour-lap-1",
    ask: "A lap 150 mm wide and 7 mm thick, of pitch of 1.1 g/cm³. How many grams?",
    unit: "g",
    answer: 136,
    tolerance: 1,
    traps: [{ value: 544.3, hint: "D", within: 4 }],
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
    tolerance: 0.005,
    traps: [{ value: 0.8, hint: "Q", within: 0.005 }],
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
    tolerance: 2,
    traps: [{ value: 181.3, hint: "Q", within: 2 }],
    hints: [
      "Does pitch grow with the width or with the area?",
      "Look at 200 ÷ 150 = 1.33, and square it.",
      "136 × 1.33² = 242 g.",
    ],
  },
];

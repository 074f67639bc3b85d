/** Exercises of weigh-readings: how sure. */
import type { Exercise } from "../exercise.ts";

export const weighReadings: readonly Exercise[] = [
  {
    id: "weigh-readings-1",
    ask:
      "Five readings of one zone: 12.31, 12.36, 12.27, 12.33, 12.38 mm. Between which limits is the mean, at 95 %? Give the half width.",
    unit: "mm",
    answer: 0.0534,
    traps: [
      { value: 0.043012, hint: "That is one reading’s spread." },
      { value: 0.038471, hint: "Five readings: t = 2.78, not 2." },
      { value: 0.019235, hint: "That is u of the mean; a 95 % interval is wider." },
      { value: 0.11942, hint: "That is for one reading. Between which limits is the mean?" },
    ],
    hints: [
      "Of one reading, or of the mean of five?",
      "Look at √5, and at Student’s 2.78 for four degrees of freedom.",
      "s = 0.043; 0.043 ÷ √5 = 0.0192; 2.78 × 0.0192 = 0.053 mm.",
    ],
  },
  {
    id: "weigh-readings-2",
    ask:
      "The Sun gives f = 1198.33 mm with a standard uncertainty of 1.36 mm. What is the standard uncertainty of R?",
    unit: "mm",
    answer: 2.72,
    traps: [{ value: 1.36, hint: "A factor counts for the uncertainty too: R is twice f." }, {
      value: 0.68,
      hint: "R is twice f, not half of it.",
    }],
    hints: [
      "What is R, written with f?",
      "Look at the 2 in R = 2f.",
      "u(R) = 2 × u(f) = 2 × 1.36 = 2.72 mm.",
    ],
  },
  {
    id: "weigh-readings-3",
    ask:
      "Three methods give 2350 ± 12, 2402 ± 6 and 2440 ± 10 mm, standard uncertainties. What is the uncertainty of their weighted mean, widened by what they disagree?",
    unit: "mm",
    answer: 19.3,
    traps: [{
      value: 4.7287,
      hint: "That holds if they agree. Do they? Go looking before you average.",
    }, { value: 1.1604, hint: "Methods that disagree make the mean less sure, not surer." }],
    hints: [
      "Do they agree within what they claim?",
      "Look at the Birge ratio, 4.1.",
      "1 ÷ √(1/12² + 1/6² + 1/10²) = 4.73 mm, times a Birge ratio of 4.07 is 19.3 mm. And go looking.",
    ],
  },
];

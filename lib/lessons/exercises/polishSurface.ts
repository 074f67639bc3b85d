/** Exercises of polish-surface: polishing. */
import type { Exercise } from "../exercise.ts";

export const polishSurface: readonly Exercise[] = [
  {
    id: "polish-surface-1",
    ask: "Pits 5 µm deep, polishing takes 1.3 µm an hour. How many hours?",
    unit: "h",
    answer: 3.85,
    traps: [{ value: 0.26, hint: "Is it upside down?" }, {
      value: 6.5,
      hint: "How far, divided by how fast.",
    }],
    hints: [
      "How far, and how fast?",
      "Look at 5 µm, and at 1.3 µm each hour.",
      "5 ÷ 1.3 = 3.8 h.",
    ],
  },
  {
    id: "polish-surface-2",
    ask:
      "After 2 hours the pits at the edge are still 3.2 µm deep; they were 5. How many hours in all?",
    unit: "h",
    answer: 5.56,
    traps: [{ value: 3.8462, hint: "That is the centre’s rate." }, {
      value: 3.5556,
      hint: "In all, or from now on?",
    }, { value: 2.7778, hint: "The 1.8 µm took two hours." }],
    hints: [
      "How much has gone at the edge in those two hours?",
      "Look at 5 − 3.2 = 1.8 µm in 2 h: 0.9 µm an hour.",
      "5 ÷ 0.9 = 5.6 h.",
    ],
  },
  {
    id: "polish-surface-3",
    ask: "Pits 1 µm deeper, left by a grade that was hurried: what do they cost at the edge?",
    unit: "h",
    answer: 1.11,
    traps: [{ value: 0.76923, hint: "That is the centre’s rate." }, {
      value: 0.9,
      hint: "Is it upside down?",
    }],
    hints: [
      "Which place decides?",
      "Look at the edge’s 0.9 µm an hour.",
      "1 ÷ 0.9 = 1.1 h.",
    ],
  },
];

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
      "Ten fields at the edge hold 32 pits after 2 hours of polish, 8 after 4 hours. After how many hours in all is one left?",
    unit: "h",
    answer: 7,
    traps: [{ value: 3, hint: "In all, or from now on?" }, {
      value: 4.6667,
      hint: "Each hour takes the same share, not the same number.",
    }, { value: 10, hint: "It halved twice in those two hours." }],
    hints: [
      "In how many hours does the count halve?",
      "Look at 32, 16, 8: once an hour. And from 8 to 1?",
      "8, 4, 2, 1: three more hours, 4 + 3 = 7 h.",
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

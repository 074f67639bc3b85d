/** Exercises of carry-weight: three points, nanometres, and a bearing. */
import type { Exercise } from "../exercise.ts";

export const carryWeight: readonly Exercise[] = [
  {
    id: "carry-weight-1",
    ask:
      "Three points are to carry a mirror of 150 mm, at 0.645 of its radius. How far from the middle do they stand?",
    unit: "mm",
    answer: 48.4,
    traps: [{ value: 96.75, hint: "D" }],
    hints: [
      "0.645 of what: of the width, or of half of it?",
      "Look at a = 75 mm.",
      "0.645 × 75 = 48.4 mm.",
    ],
  },
  {
    id: "carry-weight-2",
    ask:
      "On its points the glass sags by 1.64 nm RMS. What is that on the wavefront, in waves of 550 nm?",
    unit: "wave",
    answer: 0.00596,
    traps: [{ value: 0.0029756, hint: "W" }],
    hints: [
      "Is that of the glass, or of the light?",
      "Look at 1.64 nm twice.",
      "2 × 1.64 ÷ 550 = 0.0060 wave.",
    ],
  },
  {
    id: "carry-weight-3",
    ask:
      "A tube of 6.65 kg rests on bearings 180 mm across; friction is 0.15, and the pads sit 35° from straight below. With what moment do the bearings hold, in newton metres?",
    unit: "N m",
    answer: 1.075,
    traps: [{ value: 2.1495, hint: "D" }, {
      value: 0.88039,
      hint: "The pads press at a slant: divide by cos 35°.",
    }, { value: 0.1096, hint: "Kilograms are no force: times 9.81 m/s²." }],
    hints: [
      "Is 180 mm the radius?",
      "Look at 0.09 m, and at 6.65 kg × 9.81 = 65.2 N.",
      "0.15 × 65.2 × 0.09 ÷ cos 35° = 1.075 N m: less than the 1.58 of the swapped eyepiece.",
    ],
  },
];

/** Exercises of notebook 14: how little silver it is. */
import type { Exercise } from "../exercise.ts";

export const coatMirror: readonly Exercise[] = [
  {
    id: "14-1",
    ask:
      "A film of 100 nm needs 0.1652 mg of silver nitrate for each cm². How much is that on the face of a mirror 150 mm wide?",
    unit: "mg",
    answer: 29.2,
    tolerance: 0.3,
    traps: [{ value: 116.8, hint: "D", within: 1 }],
    hints: [
      "What is the area of a disc: by its width, or by half of it?",
      "Look at π × 7.5² = 177 cm².",
      "177 × 0.1652 = 29.2 mg.",
    ],
  },
  {
    id: "14-2",
    ask:
      "A mirror of 150 mm lies in a dish of 170 mm. How many times more would a bath hold than for the face alone?",
    unit: "",
    answer: 1.284,
    tolerance: 0.01,
    traps: [{ value: 1.133, hint: "Q", within: 0.01 }],
    hints: [
      "Does silver settle along a line, or on an area?",
      "Look at 170 ÷ 150 = 1.133, and at its square.",
      "(170 ÷ 150)² = 1.284.",
    ],
  },
  {
    id: "14-3",
    ask:
      "A bath holds 3534 mg of nitrate, of which 63.5 % is silver. On the mirror 18.5 mg of silver stay. What share of the silver is that, in per cent?",
    unit: "%",
    answer: 0.824,
    tolerance: 0.01,
    traps: [{ value: 0.523, hint: "Nitrate is only 63.5 % silver.", within: 0.006 }],
    hints: [
      "How much silver is in 3534 mg of nitrate?",
      "Look at 3534 × 0.635 = 2244 mg.",
      "18.5 ÷ 2244 = 0.0082, that is 0.82 %: the rest is waste.",
    ],
  },
];

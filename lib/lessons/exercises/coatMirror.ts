/** Exercises of coat-mirror: how little silver it is. */
import type { Exercise } from "../exercise.ts";

export const coatMirror: readonly Exercise[] = [
  {
    id: "coat-mirror-1",
    ask:
      "A film of silver 100 nm thick weighs 0.1049 mg on each cm². How much silver is on the face of a mirror 150 mm wide?",
    unit: "mg",
    answer: 18.54,
    traps: [{ value: 74.149, hint: "D" }, {
      value: 176.71,
      hint: "That is the area in cm². How much does a cm² weigh?",
    }],
    hints: [
      "What is the area of a disc: by its width, or by half of it?",
      "Look at π × 7.5² = 177 cm².",
      "177 × 0.1049 = 18.5 mg.",
    ],
  },
  {
    id: "coat-mirror-2",
    ask: "The same film on a mirror of 200 mm. How many times more silver than on 150 mm?",
    unit: "",
    answer: 1.778,
    traps: [{ value: 1.3333, hint: "Q" }, { value: 0.5625, hint: "More or less than before?" }],
    hints: [
      "Does a film grow with the width, or with the area?",
      "Look at 200 ÷ 150 = 1.333, and at its square.",
      "(200 ÷ 150)² = 1.778.",
    ],
  },
  {
    id: "coat-mirror-3",
    ask:
      "Say a gram of silver costs 120 cents. What does the silver on the mirror of 150 mm cost, in cents?",
    unit: "cents",
    answer: 2.22,
    traps: [{ value: 2224.5, hint: "18.5 is in milligrams, the price is for a gram.", within: 25 }],
    hints: [
      "How many grams are 18.5 mg?",
      "Look at 0.0185 g × 120.",
      "0.0185 × 120 = 2.2 cents. The metal is not what a coating costs.",
    ],
  },
];

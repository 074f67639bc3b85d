/** Exercises of prepare-discs: a disc's mass, a jar's letter, a bevel forgotten. */
import type { Exercise } from "../exercise.ts";

export const prepareDiscs: readonly Exercise[] = [
  {
    id: "prepare-discs-1",
    ask:
      "A disc is 150 mm across and 25 mm thick, of glass with 2500 kg in a cubic metre. What should it weigh?",
    unit: "kg",
    answer: 1.104,
    traps: [{ value: 4.4179, hint: "D" }],
    hints: [
      "Which length is squared: all the way across, or half of it?",
      "Look at r = 0.075 m and the thickness 0.025 m.",
      "π × 0.075² × 0.025 × 2500 = 1.10 kg.",
    ],
  },
  {
    id: "prepare-discs-2",
    ask: "Two jars stand side by side: F400 and #400. Which powder is coarser?",
    choices: ["F400", "#400", "the same"],
    answer: "#400",
    traps: [
      { value: "the same", hint: "Read the letter: it is half of the name." },
      { value: "F400", hint: "Coarser means larger grains. Which of the two has them?" },
    ],
    hints: [
      "Do the two names belong to one scale?",
      "Look at 17.3 µm and 30 µm.",
      "#400 has grains of 30 µm, F400 of 17.3 µm: #400 is the coarser.",
    ],
  },
  {
    id: "prepare-discs-3",
    ask:
      "The bevel is 2 mm wide all round a 150 mm disc, but you reckon with half a chord of 75 mm. By how many percent is R too long?",
    unit: "%",
    answer: 5.55,
    traps: [{ value: 2.7397, hint: "Q" }, { value: 2.6667, hint: "Q" }],
    hints: [
      "With which power of the half chord does R grow?",
      "Look at 75 and at 73.",
      "(75 ÷ 73)² = 1.0555: 5.6 % too long.",
    ],
  },
];

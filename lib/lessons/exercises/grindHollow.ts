/** Exercises of grind-hollow: which way, how long, how far. */
import type { Exercise } from "../exercise.ts";

export const grindHollow: readonly Exercise[] = [
  {
    id: "grind-hollow-1",
    ask:
      "An hour of chord strokes makes the upper disc 561 µm more hollow. By how much does your mirror’s sagitta change in an hour when it lies below?",
    unit: "µm",
    answer: -561,
    traps: [{ value: 561.36, hint: "S" }, {
      value: 0,
      hint: "Does only one of the discs wear?",
      within: 0,
    }],
    hints: [
      "Which disc grows hollow: the upper one or the lower one?",
      "Look at 561, and at which disc is yours.",
      "Both discs change alike, one each way: −561 µm.",
    ],
  },
  {
    id: "grind-hollow-2",
    ask:
      "Strokes over the centre, a third of the disc long, deepen it by 72.4 µm an hour. How many hours for 1.172 mm?",
    unit: "h",
    answer: 16.2,
    traps: [{ value: 2.0881, hint: "That is with the chord stroke’s rate, 561 µm an hour." }, {
      value: 0.016183,
      hint: "The depth is in mm, the rate in µm.",
    }, { value: 0.061795, hint: "Is it upside down?" }],
    hints: [
      "How many micrometres are 1.172 mm?",
      "Look at 1172 µm and 72.4 µm an hour.",
      "1172 ÷ 72.4 = 16.2 h, with 5.3 mm gone from each disc: hollow by chord strokes.",
    ],
  },
  {
    id: "grind-hollow-3",
    ask:
      "A stroke is a third of a 150 mm disc long, from end to end. How far does it reach to either side of its middle?",
    unit: "mm",
    answer: 25,
    traps: [{ value: 50, hint: "From end to end it is 50 mm. How far to either side?" }],
    hints: [
      "Is a third of the disc the whole travel, or half of it?",
      "Look at 150 ÷ 3 = 50 mm, the whole travel there.",
      "150 ÷ 3 ÷ 2 = 25 mm.",
    ],
  },
];

/** Exercises of place-flat: where the flat goes, and what it takes. */
import type { Exercise } from "../exercise.ts";

export const placeFlat: readonly Exercise[] = [
  {
    id: "place-flat-1",
    ask:
      "A tube is 180 mm wide inside and its wall 3 mm thick; the focuser is 70 mm high, racked in, and 15 mm are to be spare. How far is it from the flat’s centre to the focus?",
    unit: "mm",
    answer: 178,
    tolerance: 3,
    traps: [{ value: 268, hint: "D" }],
    hints: [
      "Where does the light start on its way out: at the wall, or at the middle of the tube?",
      "Look at half of 180 mm.",
      "90 + 3 + 70 + 15 = 178 mm.",
    ],
  },
  {
    id: "place-flat-2",
    ask:
      "A flat of 31 mm stands before a mirror of 150 mm. What share of the light does it take, in per cent?",
    unit: "%",
    answer: 4.27,
    traps: [{ value: 20.667, hint: "Q" }, {
      value: 0.042711,
      hint: "That is the share. How much is it in per cent?",
    }, { value: 95.729, hint: "That is what is left." }],
    hints: [
      "Does light come by the width, or by the area?",
      "Look at 31 ÷ 150 = 0.207, and at its square.",
      "(31 ÷ 150)² = 0.0427, that is 4.3 %.",
    ],
  },
  {
    id: "place-flat-3",
    ask: "The flat’s centre is to be shifted by 0.91 mm. Which way?",
    choices: [
      "away from the focuser and towards the mirror",
      "away from the focuser only",
      "towards the focuser and away from the mirror",
    ],
    answer: "away from the focuser and towards the mirror",
    traps: [
      { value: "away from the focuser only", hint: "It slides along its own slope: both at once." },
      { value: "towards the focuser and away from the mirror", hint: "S" },
    ],
    hints: [
      "On which side of the slanted flat is the cone of light wider?",
      "Look at the end of the flat that lies nearer the mirror.",
      "The cone is wider at that end, so the flat slides along its face towards it: 0.91 mm from the focuser and 0.91 mm to the mirror.",
    ],
  },
];

/** Exercises of observe-sky: what is seen, and what is not. */
import type { Exercise } from "../exercise.ts";

export const observeSky: readonly Exercise[] = [
  {
    id: "observe-sky-1",
    ask: "How many times does an eyepiece of 25 mm magnify on a mirror of f = 1200 mm?",
    unit: "",
    answer: 48,
    traps: [{ value: 96, hint: "F" }],
    hints: [
      "Is it f or R that makes the image?",
      "Look at 1200 and 25.",
      "1200 ÷ 25 = 48 times.",
    ],
  },
  {
    id: "observe-sky-2",
    ask:
      "Saturn’s rings are 44.7 arcseconds wide. How wide is their image at the focus of 1200 mm? An arcsecond is 1/206265 of a radian.",
    unit: "mm",
    answer: 0.26,
    traps: [{ value: 0.52011, hint: "F" }],
    hints: [
      "Is it f or R that makes the image?",
      "Look at 44.7 ÷ 206265 and at 1200 mm.",
      "1200 × 44.7 ÷ 206265 = 0.26 mm.",
    ],
  },
  {
    id: "observe-sky-3",
    ask: "With a mirror of 150 mm you go from 200 times to 400 times. What happens to the picture?",
    choices: ["bigger, not finer", "bigger and finer", "finer, not bigger"],
    answer: "bigger, not finer",
    traps: [
      { value: "bigger and finer", hint: "The limits are those of the diameter." },
      { value: "finer, not bigger", hint: "The limits are those of the diameter." },
    ],
    hints: [
      "What sets the finest detail: the eyepiece, or the mirror?",
      "Look at 138 ÷ 150 = 0.92 arcsecond.",
      "0.92 arcsecond stays 0.92 arcsecond: the blur grows with the picture.",
    ],
  },
];

/** Exercises of read-star: how far out of focus, how sure, and which cause. */
import type { Exercise } from "../exercise.ts";

export const readStar: readonly Exercise[] = [
  {
    id: "read-star-1",
    ask:
      "One wave out of focus takes 8 × wavelength × N² of travel, N being focal length over width. How far do you draw the eyepiece of a 150 mm mirror with f = 1200 mm for 5 waves of 0.00055 mm?",
    unit: "mm",
    answer: 1.408,
    traps: [
      { value: 5.632, hint: "F" },
      { value: 0.2816, hint: "That is for one wave. How many were asked for?" },
    ],
    hints: [
      "What is N, focal length over width?",
      "Look at 8 × 0.00055 × 8 × 8, for one wave.",
      "5 × 0.2816 = 1.4 mm.",
    ],
  },
  {
    id: "read-star-2",
    ask:
      "Three causes are equally likely. An act shows “turns” in 95 of 100 nights with the first, and in 5 of 100 with each of the others. You see “turns”. How likely is the first?",
    unit: "%",
    answer: 90.476,
    traps: [
      {
        value: 95,
        hint: "So often the first cause shows it. How often do the others show it too?",
      },
      { value: 31.67, hint: "Of all nights. You know already that you saw “turns”." },
    ],
    hints: [
      "Think of 100 nights with each cause. In how many of the 300 do you see “turns”?",
      "Look at 95 of 95 + 5 + 5.",
      "95 ÷ 105 = 90 %.",
    ],
  },
  {
    id: "read-star-3",
    ask:
      "An oval lies across on the other side of focus. You turn your head: it stays. You turn the mirror in its cell: it turns too. What is wrong?",
    choices: ["the glass", "the flat", "your eye", "the air"],
    answer: "the glass",
    traps: [
      {
        value: "the flat",
        hint: "What would the flat’s oval have done when the mirror was turned?",
      },
      {
        value: "your eye",
        hint: "What would your eye’s oval have done when you turned your head?",
      },
      { value: "the air", hint: "Does air keep still for so long?" },
    ],
    hints: [
      "What turned, and what did not?",
      "Look at what the oval went with: the mirror, not your head, nor the tube.",
      "What turns with the glass is in the glass.",
    ],
  },
];

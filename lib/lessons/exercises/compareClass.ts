/** Exercises of compare-class: a spread, a far one, and whose it is. */
import type { Exercise } from "../exercise.ts";

export const compareClass: readonly Exercise[] = [
  {
    id: "compare-class-1",
    ask:
      "Twelve makers’ focal lengths spread by 12.4 mm, one standard deviation. What is the standard uncertainty of their mean?",
    unit: "mm",
    answer: 3.58,
    traps: [
      {
        value: 12.4,
        hint: "That is how far one maker is from another. How well is the mean known?",
      },
      { value: 1.0333, hint: "Divide by the root of twelve, not by twelve." },
      { value: 42.955, hint: "More makers make the mean surer, not less sure." },
    ],
    hints: [
      "Of one maker, or of the mean of twelve?",
      "Look at the root of twelve, 3.46.",
      "12.4 ÷ √12 = 12.4 ÷ 3.46 = 3.6 mm.",
    ],
  },
  {
    id: "compare-class-2",
    ask:
      "On discs of 150 mm one bench has 1229 mm by leaves and 1197 mm by the Sun. What is the likeliest cause?",
    choices: [
      "an outlier: drop it",
      "the bevel was forgotten",
      "a careless maker",
      "inches for millimetres",
    ],
    answer: "the bevel was forgotten",
    traps: [
      {
        value: "an outlier: drop it",
        hint:
          "A test keeps it: 2.33 deviations, limit 2.41. And a cause was not looked for. What is the ratio?",
      },
      { value: "a careless maker", hint: "A ratio knows no names. What is 1229 ÷ 1197?" },
      { value: "inches for millimetres", hint: "That slip is 25.4 times. What is 1229 ÷ 1197?" },
    ],
    hints: [
      "What ratio have the two?",
      "Look at 1229 ÷ 1197 = 1.027, and at 150 beside 148.",
      "(150 ÷ 148)² = 1.027: the full width was used, and the straight-edge rests inside the bevel.",
    ],
  },
  {
    id: "compare-class-3",
    ask:
      "Once the bench is mended the spread is 8.5 mm, and each maker’s own u is 3 mm. How much of the spread is left for the makers?",
    unit: "mm",
    answer: 7.953,
    traps: [
      { value: 5.5, hint: "Take squares away, not lengths: spreads add by their squares." },
      { value: 9.0139, hint: "What is left is less than the whole: take the square away." },
      { value: 8.5, hint: "A part of it is the gauges’: take their square away." },
      { value: 3, hint: "That is the gauges’ part. What is left for the makers?" },
    ],
    hints: [
      "Do spreads add as lengths, or as squares?",
      "Look at 8.5² = 72.25 and 3² = 9.",
      "√(72.25 − 9) = 8.0 mm: it is the makers who differ, not the gauges.",
    ],
  },
];

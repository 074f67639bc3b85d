/** Exercises of measure-curve: leaves, spherometer, Sun. */
import type { Exercise } from "../exercise.ts";

export const measureCurve: readonly Exercise[] = [
  {
    id: "measure-curve-1",
    ask:
      "Leaves 12.7 mm wide: 1.13 mm passes, 1.15 mm does not. The disc is 150 mm across, its bevel 1 mm wide. What is the radius of curvature?",
    unit: "mm",
    answer: 2385,
    tolerance: 20,
    traps: [
      { value: 2449.6, hint: "That is for a chord of 150 mm. Where does the straight-edge rest?" },
      { value: 9537.3, hint: "D" },
      {
        value: 2402.3,
        hint: "That is without the width of the leaf: a flat leaf sits high in a hollow.",
      },
      { value: 2467.7, hint: "That is for a chord of 150 mm, and without the width of the leaf." },
      { value: 1192.4, hint: "F" },
    ],
    hints: [
      "What does the straight-edge rest on, and how does a flat leaf sit in a hollow?",
      "Look at the chord, 148 mm, and at 12.7² ÷ 8R = 0.008 mm.",
      "s = 1.14 + 0.0084 = 1.1484 mm; (74² + 1.1484²) ÷ (2 × 1.1484) = 2385 mm.",
    ],
  },
  {
    id: "measure-curve-2",
    ask:
      "A spherometer stands on balls of 3 mm radius, 50 mm from its middle. From flat glass to the mirror its dial moves by 0.5224 mm. What is the radius of curvature?",
    unit: "mm",
    answer: 2396,
    tolerance: 20,
    traps: [{ value: 2390.1, hint: "S" }, { value: 9574.5, hint: "D" }, {
      value: 2393.1,
      hint: "The balls touch the glass below their middles. Which way does that count?",
    }, { value: 1198, hint: "F" }],
    hints: [
      "Where does a ball touch a hollow: nearer to the centre of curvature than its own middle, or farther?",
      "Look at the ball’s 3 mm.",
      "(50² + 0.5224²) ÷ (2 × 0.5224) + 3 = 2396 mm.",
    ],
  },
  {
    id: "measure-curve-3",
    ask:
      "On 18 April the Sun’s image is 11.1 mm wide, and its distance is 107.9 times its width that day. What is the focal length?",
    unit: "mm",
    answer: 1198,
    tolerance: 20,
    traps: [{ value: 1209.9, hint: "109 is for July." }, { value: 2395.4, hint: "F" }],
    hints: [
      "What does the Sun’s image stand away from the mirror: f or R?",
      "Look at 107.9, the number for that date.",
      "11.1 × 107.9 = 1198 mm.",
    ],
  },
];

/** Exercises of smooth-surface: fine grinding. */
import type { Exercise } from "../exercise.ts";

export const smoothSurface: readonly Exercise[] = [
  {
    id: "smooth-surface-1",
    ask:
      "After F220 (middle grain 58 µm) comes F320 (29 µm). How much glass should F320 take off at the least?",
    unit: "µm",
    answer: 29,
    traps: [{ value: 14.5, hint: "Whose pits? The former grade dug them." }, {
      value: 58,
      hint: "That is to be cautious. How much at the least?",
    }],
    hints: [
      "Which grade dug the pits that must go?",
      "Look at 58 µm, the former grain.",
      "Half of the former grain: 58 ÷ 2 = 29 µm; all of it, 58, to be cautious.",
    ],
  },
  {
    id: "smooth-surface-2",
    ask:
      "The hollow shall be 1.1722 mm deep at the end. With the mirror always on top, the finer grades will add 44.5 µm. At what sagitta do you leave F80?",
    unit: "mm",
    answer: 1.1277,
    tolerance: 0.005,
    traps: [{ value: 1.2167, hint: "S" }, {
      value: 1.1722,
      hint: "So deep it shall be at the end. The finer grades still add to it.",
    }, { value: -43.328, hint: "The depth is in mm, what is added in µm.", within: 0.01 }],
    hints: [
      "Will the finer grades make it deeper or shallower?",
      "Look at 44.5 µm = 0.0445 mm, and at its sign.",
      "1.1722 − 0.0445 = 1.1277 mm.",
    ],
  },
  {
    id: "smooth-surface-3",
    ask:
      "A 150 mm mirror of f = 1200 mm (sagitta 1.172 mm) comes off the ladder 89 µm too deep. By how much is its focal length off, to first order? Minus means shorter.",
    unit: "mm",
    answer: -91,
    traps: [{ value: -182.23, hint: "F", within: 4 }, { value: 91.114, hint: "S", within: 2 }, {
      value: 182.23,
      hint: "S",
      within: 4,
    }],
    hints: [
      "Does a deeper bowl focus nearer or farther?",
      "Look at 89 ÷ 1172, the part by which it is too deep.",
      "−1200 × 89 ÷ 1172 = −91 mm.",
    ],
  },
];

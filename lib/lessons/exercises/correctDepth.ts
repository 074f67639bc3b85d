/** Exercises of correct-depth: when to stop, and what if it went past. */
import type { Exercise } from "../exercise.ts";

export const correctDepth: readonly Exercise[] = [
  {
    id: "correct-depth-1",
    ask:
      "After 120 minutes the sagitta is 1.107 mm, growing 9.1 µm a minute. The target is 1.168 mm. How many minutes more?",
    unit: "min",
    answer: 6.7,
    traps: [
      { value: 0.0067033, hint: "Millimetres are left, and the rate is in micrometres." },
      { value: 126.7, hint: "From now, or from the start?" },
      { value: 128.35, hint: "From now, or from the start?" },
      { value: 0.14918, hint: "Is it upside down?" },
    ],
    hints: [
      "How many micrometres are left?",
      "Look at 1.168 − 1.107 = 0.061 mm, and at its unit.",
      "61 µm ÷ 9.1 µm/min = 6.7 min.",
    ],
  },
  {
    id: "correct-depth-2",
    ask:
      "A 150 mm mirror meant to be f = 1200 mm (sagitta 1.172 mm) has come out 35 µm too deep. By how much is its focal length off? Minus means shorter.",
    unit: "mm",
    answer: -35.5,
    traps: [{ value: -71, hint: "F", within: 3 }, { value: 35.5, hint: "S", within: 1.5 }, {
      value: 71,
      hint: "S",
      within: 3,
    }],
    hints: [
      "Does a deeper bowl focus nearer or farther?",
      "Look at 35 ÷ 1172, the part by which it is too deep.",
      "−1200 × 35 ÷ 1172 = −36 mm (−35 by the whole formula): short.",
    ],
  },
  {
    id: "correct-depth-3",
    ask: "A mirror is 60 ± 4 µm too deep. One position takes away 8.7 ± 0.3 µm a minute. What now?",
    choices: [
      "tool on top for 6.9 ± 0.5 min",
      "mirror on top for 6.9 ± 0.5 min",
      "tool on top for 6.9 ± 4.3 min",
    ],
    answer: "tool on top for 6.9 ± 0.5 min",
    traps: [
      { value: "mirror on top for 6.9 ± 0.5 min", hint: "S" },
      {
        value: "tool on top for 6.9 ± 4.3 min",
        hint: "Add the parts, not the amounts: 4 in 60 and 0.3 in 8.7, each squared.",
      },
    ],
    hints: [
      "Which disc gets hollower: the upper one or the lower one?",
      "Look at 4 ÷ 60 = 6.7 % and 0.3 ÷ 8.7 = 3.4 %.",
      "60 ÷ 8.7 = 6.9 min; √(6.7² + 3.4²) = 7.5 % of it is 0.5 min; the tool goes on top.",
    ],
  },
];

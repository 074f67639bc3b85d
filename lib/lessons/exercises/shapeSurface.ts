/** Exercises of shape-surface: figuring. */
import type { Exercise } from "../exercise.ts";

export const shapeSurface: readonly Exercise[] = [
  {
    id: "shape-surface-1",
    ask:
      "68 nm must come off, and the lap takes 1.3 µm an hour where it always rubs. How many minutes?",
    unit: "min",
    answer: 3.14,
    traps: [{ value: 3138.5, hint: "68 are nanometres, 1.3 are micrometres." }, {
      value: 0.052308,
      hint: "That is in hours.",
    }, { value: 52.308, hint: "68 are nanometres, 1.3 are micrometres." }],
    hints: [
      "Nanometres, micrometres, hours, minutes: which do you want?",
      "Look at 1.3 µm an hour = 1300 nm in 60 min = 21.7 nm a minute.",
      "68 ÷ 21.7 = 3.1 min.",
    ],
  },
  {
    id: "shape-surface-2",
    ask:
      "The zone readings lie too close together for a paraboloid. Where must glass come off most?",
    choices: ["in the middle", "at the edge only", "at seven tenths"],
    answer: "in the middle",
    traps: [
      { value: "at the edge only", hint: "S" },
      { value: "at seven tenths", hint: "That ring is the lowest of a sphere at best focus." },
    ],
    hints: [
      "What must a sphere lose to become a paraboloid?",
      "Look at the profile: which place is too high and easy to reach?",
      "The middle: deepen it, and the outer rings focus farther out by comparison.",
    ],
  },
  {
    id: "shape-surface-3",
    ask:
      "Wavefront P-V 0.229 ± 0.035; the scatter of the readings has a share of 7 % in that doubt, in u². How large would u be, in waves, if nothing scattered any more?",
    unit: "wave",
    answer: 0.0338,
    tolerance: 0.0005,
    traps: [{ value: 0.03255, hint: "A share of u² is not a share of u." }, {
      value: 0.00245,
      hint: "That is the scatter’s part, not what is left.",
    }, { value: 0.035, hint: "So large it is now. What is left without the scatter?" }],
    hints: [
      "What is left of u² without the scatter?",
      "Look at 0.93 × 0.035², and take the root.",
      "0.035 × √0.93 = 0.0338 wave: more runs would hardly help, so polish, or cut narrower openings.",
    ],
  },
];

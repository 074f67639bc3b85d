/** Exercises of notebook 13: figuring. */
import type { Exercise } from "../exercise.ts";

export const shapeSurface: readonly Exercise[] = [
  {
    id: "13-1",
    ask:
      "68 nm must come off, and the lap takes 1.3 µm an hour where it always rubs. How many minutes?",
    unit: "min",
    answer: 3.14,
    tolerance: 0.1,
    traps: [{ value: 3138, hint: "U", within: 30 }, { value: 0.0523, hint: "U", within: 0.002 }],
    hints: [
      "Nanometres, micrometres, hours, minutes: which do you want?",
      "Look at 1.3 µm an hour = 1300 nm in 60 min = 21.7 nm a minute.",
      "68 ÷ 21.7 = 3.1 min.",
    ],
  },
  {
    id: "13-2",
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
      "Look at the profile: which place stands up and is easy to reach?",
      "The middle: deepen it, and the outer rings focus farther out by comparison.",
    ],
  },
  {
    id: "13-3",
    ask:
      "Wavefront P-V 0.237 ± 0.016 from 3 runs; the goal is 0.25. The doubt falls with the root of the number of runs. How many runs in all until 0.25 lies 1.645 u away?",
    unit: "",
    answer: 13,
    tolerance: 0.5,
    traps: [
      { value: 6, hint: "u falls with the root of the number, not with the number.", within: 0.6 },
    ],
    hints: [
      "How small must u become?",
      "Look at (0.25 − 0.237) ÷ 1.645 = 0.0079, half of 0.016.",
      "3 × (0.016 ÷ 0.0079)² = 12.3, so 13 runs: polishing is quicker.",
    ],
  },
];

/** Exercises of choose-mirror: aperture, focal length and depth. */
import type { Exercise } from "../exercise.ts";

export const chooseMirror: readonly Exercise[] = [
  {
    id: "choose-mirror-1",
    ask: "A mirror is 114 mm across, and its focal length is to be 900 mm. How deep is the curve?",
    unit: "mm",
    answer: 0.903,
    traps: [{ value: 3.6109, hint: "D" }, { value: 1.8068, hint: "F" }],
    hints: [
      "Which radius does the compass have?",
      "Look at r = 57 mm and R = 1800 mm.",
      "57² ÷ (2 × 1800) = 0.903 mm.",
    ],
  },
  {
    id: "choose-mirror-2",
    ask:
      "May a mirror of 200 mm and f/6 stay a sphere? Give the peak to valley of its wavefront, in waves of 550 nm.",
    unit: "wave",
    answer: 0.82,
    traps: [
      { value: 0.41101, hint: "W" },
      { value: 0.34679, hint: "The error grows with the fourth power of the width." },
      { value: 0.46239, hint: "The error grows with the fourth power of the width." },
      { value: 0.61652, hint: "The error grows with the fourth power of the width." },
    ],
    hints: [
      "Is that of the glass, or of the light?",
      "Look at D⁴ ÷ f³, and at 0.260 wave for 150 mm f/8.",
      "0.260 × (200 ÷ 150)⁴ × (1200 ÷ 1200)³ = 0.82 wave: no, 0.25 is wanted.",
    ],
  },
  {
    id: "choose-mirror-3",
    ask:
      "The focal length is doubled, the aperture stays. What part of the sphere’s error is left?",
    unit: "",
    answer: 0.125,
    traps: [
      { value: 0.5, hint: "Once for each power: f cubed." },
      { value: 0.25, hint: "Once for each power: f cubed." },
      { value: 0.0625, hint: "The fourth power is that of the aperture. Which is that of f?" },
      { value: 8, hint: "A longer mirror is nearer to its sphere. More or less than before?" },
    ],
    hints: [
      "With which power of f does the error fall?",
      "Look at D⁴ ÷ f³.",
      "1 ÷ 2³ = 1/8.",
    ],
  },
];

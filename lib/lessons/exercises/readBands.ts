/** Exercises of read-bands: bands through a grating. */
import type { Exercise } from "../exercise.ts";

export const readBands: readonly Exercise[] = [
  {
    id: "read-bands-1",
    ask:
      "The lamp stands behind the same grating, 4 lines in each mm, 5 mm inside the centre of curvature of a sphere: R 2396 mm, 148 mm wide, a band in the middle. How many bright bands do you see?",
    unit: "",
    answer: 3,
    tolerance: 0,
    traps: [{
      value: 1,
      hint: "The lamp travels with the grating, so the bands lie half as far apart.",
      within: 0,
    }, { value: 2, hint: "One in the middle, and one on either side.", within: 0 }],
    hints: [
      "Does the lamp travel with the grating?",
      "Look at the distance from band to band, R ÷ (2 × 5 × 4), and at the 74 mm from middle to rim.",
      "2396 ÷ 40 = 59.9 mm: one in the middle and one on either side, 3.",
    ],
  },
  {
    id: "read-bands-2",
    ask:
      "Inside the centre of curvature the bands look like ) (, pinched in at the middle. What is the mirror?",
    choices: ["oblate, K above 0", "a sphere, K = 0", "a paraboloid, K = −1"],
    answer: "oblate, K above 0",
    traps: [
      { value: "a paraboloid, K = −1", hint: "S" },
      { value: "a sphere, K = 0", hint: "A sphere's bands are straight on both sides." },
    ],
    hints: [
      "On which side of the centre does the grating stand?",
      "Look at the paraboloid from inside: its bands bulge outward, like ( ).",
      "Inside, ( ) is on the paraboloid's side; ) ( bends the other way: K above 0.",
    ],
  },
  {
    id: "read-bands-3",
    ask: "A grating is sold as 100 lines to the inch. What do you write under lines_per_mm?",
    unit: "",
    answer: 3.937,
    traps: [{ value: 100, hint: "U" }, { value: 2540, hint: "U" }, {
      value: 0.254,
      hint: "Is it upside down?",
    }],
    hints: [
      "How many lines lie in one millimetre, which is much shorter than an inch?",
      "Look at 1 in = 25.4 mm.",
      "100 ÷ 25.4 = 3.94 lines in each mm.",
    ],
  },
];

/** Exercises of measure-zones: the knife and the mask. */
import type { Exercise } from "../exercise.ts";

export const measureZones: readonly Exercise[] = [
  {
    id: "measure-zones-1",
    ask:
      "A mask has openings 0, 30, 45, 57, 67, 74 mm; R is 2396 mm. The source stands still. By how much should the reading of a paraboloid change from zone 1 to zone 5?",
    unit: "mm",
    answer: 1.892,
    traps: [{ value: 0.94585, hint: "That is for a lamp that travels with the knife." }, {
      value: 2.2855,
      hint:
        "An opening counts neither at its rim nor at its middle: take the mean of its squared edges.",
    }, {
      value: 1.9805,
      hint:
        "An opening counts neither at its rim nor at its middle: take the mean of its squared edges.",
    }],
    hints: [
      "Does the lamp travel with the knife?",
      "Look at the means of the squared radii, 450 and 4982.5 mm², and at R.",
      "(4982.5 − 450) ÷ 2396 = 1.892 mm; half of it if the lamp moves along.",
    ],
  },
  {
    id: "measure-zones-2",
    ask:
      "The outermost zone reads 0.05 mm farther from the mirror than it should. What does the edge do?",
    choices: ["it is turned down", "it is turned up", "it is as it should be"],
    answer: "it is turned down",
    traps: [
      { value: "it is turned up", hint: "S" },
      {
        value: "it is as it should be",
        hint: "Then light from there would cross the axis where it should.",
      },
    ],
    hints: [
      "Light that crosses too far away: does the glass there lean too much or too little towards the axis?",
      "Look at the slope, not the height.",
      "Too far away means too little lean inwards: towards the rim the glass falls away, turned down.",
    ],
  },
  {
    id: "measure-zones-3",
    ask:
      "That reading, 0.05 mm too large with a source that moves along, holds over the outer 7 mm around a radius of 70.6 mm; R is 2396 mm. How low is the glass at the rim, in nanometres?",
    unit: "nm",
    answer: 4.3,
    traps: [{ value: 8.6085, hint: "W" }, {
      value: 2.1521,
      hint: "That is for a lamp that stays put.",
    }],
    hints: [
      "Of the glass, or of the light?",
      "Look at the slope 0.05 × 70.6 ÷ 2396².",
      "0.05 × 70.6 ÷ 2396² × 7 mm = 4.3 nm of glass.",
    ],
  },
];

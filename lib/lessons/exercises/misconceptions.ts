/** What a wrong answer shows: the misconceptions that learners make most, and the ratios that give one away. */
import { FACTORS } from "../../quantity/misconceptions.ts";

/** The seven misconceptions learners make most; each letter stands for a sentence of `misconceptions`. */
export type Letter = "U" | "D" | "F" | "W" | "S" | "2" | "Q";

/** What a hint says about each misconception. */
export const misconceptions: Readonly<Record<Letter, string>> = {
  U: "Which unit did the gauge print? 1 in = 25.4 mm, 1 mm = 1000 µm, 1 µm = 1000 nm.",
  D: "You used the distance all the way across; the formula starts at the middle.",
  F: "The Sun finds f. The compass that draws the curve has R = 2f. Which did you use?",
  W: "The light goes down to the error and comes back up: wavefront = 2 × surface. Which one was asked for?",
  S: "Say in words what went up, then look at your sign.",
  "2": "Count the passes, or the halves, once more.",
  Q: "Areas grow with the square: double the width, four times the area.",
};

/** Ratios of a wrong answer to the right one that give the misconception away, nearest first in the list of the course. */
export const ratios: readonly (readonly [ratio: number, say: string])[] = [
  [-1, `right but for its sign. ${misconceptions.S}`],
  [1 / FACTORS.twice, `half of it. ${misconceptions["2"]}`],
  [FACTORS.twice, `twice it. ${misconceptions["2"]}`],
  [
    1 / FACTORS.twice ** 2,
    "a quarter of it. Was a radius taken where the whole width is meant, and squared?",
  ],
  [
    FACTORS.twice ** 2,
    "four times it. Was a whole width taken where half of it is meant, and squared?",
  ],
  [FACTORS.inch, `25.4 times too large. ${misconceptions.U}`],
  [1 / FACTORS.inch, `25.4 times too small. ${misconceptions.U}`],
  [FACTORS.thousand, "a thousand times too large. Look at the units, one after the other."],
  [1 / FACTORS.thousand, "a thousand times too small. Look at the units, one after the other."],
  [FACTORS.thousand ** 2, "a million times too large. Look at the units, one after the other."],
  [
    1 / FACTORS.thousand ** 2,
    "a million times too small. Look at the units, one after the other.",
  ],
  [FACTORS.point, "ten times too large. Look at the decimal point."],
  [1 / FACTORS.point, "ten times too small. Look at the decimal point."],
  [-FACTORS.twice, `twice it, with the other sign. ${misconceptions.S}`],
  [-1 / FACTORS.twice, `half of it, with the other sign. ${misconceptions.S}`],
  [-FACTORS.thousand, `a thousand times too large, with the other sign. ${misconceptions.S}`],
  [-1 / FACTORS.thousand, `a thousand times too small, with the other sign. ${misconceptions.S}`],
];

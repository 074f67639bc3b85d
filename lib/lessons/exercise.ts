/** Exercises as data: a question, its answer, the wrong answers learners really give, and three hints. */

/** The seven slips learners make most; each letter stands for a sentence of `slips`. */
export type Slip = "U" | "D" | "F" | "W" | "S" | "2" | "Q";

/** What a hint says about each slip. */
export const slips: Readonly<Record<Slip, string>> = {
  U: "Which unit did the gauge print? 1 in = 25.4 mm, 1 mm = 1000 µm, 1 µm = 1000 nm.",
  D: "You used the distance all the way across; the formula starts at the middle.",
  F: "The Sun finds f. The compass that draws the curve has R = 2f. Which did you use?",
  W: "The light goes down to the error and comes back up: wavefront = 2 × surface. Which one was asked for?",
  S: "Say in words what went up, then look at your sign.",
  "2": "Count the passes, or the halves, once more.",
  Q: "Areas grow with the square: double the width, four times the area.",
};

/** A wrong answer that tells what went wrong. */
export interface Trap<Answer> {
  /** the wrong answer */
  readonly value: Answer;
  /** a slip's letter, or a sentence of its own */
  readonly hint: string;
  /** how near an answer must be to be taken for this one; default the exercise's tolerance */
  readonly within?: number;
}

/** What every exercise has. */
export interface Asked<Answer> {
  /** name of its stage, and its place there: "measure-curve-1" */
  readonly id: string;
  /** the question */
  readonly ask: string;
  /** the right answer, computed by the library */
  readonly answer: Answer;
  /** wrong answers that are known */
  readonly traps: readonly Trap<Answer>[];
  /** after the first answer a question, then the number to look at, then the worked line */
  readonly hints: readonly [question: string, lookAt: string, worked: string];
}

/** An exercise whose answer is a number. */
export interface NumberExercise extends Asked<number> {
  /** "" for a pure number */
  readonly unit: string;
  /** how far off an answer may be, in the same unit */
  readonly tolerance: number;
}

/** An exercise whose answer is one of a few. */
export interface ChoiceExercise extends Asked<string> {
  /** what can be chosen, the answer among them */
  readonly choices: readonly string[];
}

/** A question with an answer that can be checked. */
export type Exercise = NumberExercise | ChoiceExercise;

/** How much an exercise asks: do as on the page, change one thing, think it through. */
export type Level = "try" | "change" | "think";

/**
 * The level of an exercise: each notebook has one of each, in this order.
 *
 * @param id  "measure-curve-1"
 * @throws {RangeError} where the number does not end in 1, 2 or 3
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(levelOf("measure-curve-2"), "change");
 * ```
 */
export function levelOf(id: string): Level {
  const level = (["try", "change", "think"] as const)[Number(id.split("-").at(-1)) - 1];
  if (level === undefined) {
    throw new RangeError(`levelOf requires an id as "measure-curve-1", got "${id}"`);
  }
  return level;
}

/** What is said to an answer; an answer that is not right gets a hint, never a mark. */
export interface Judgement {
  readonly is: "right" | "wrong" | "unreadable";
  readonly say: string;
}

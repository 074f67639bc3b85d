/** Exercises as data: a question, its answer, the wrong answers learners really give, and three hints. */

/** A wrong answer that tells what went wrong. */
export interface Trap<Answer> {
  /** the wrong answer */
  readonly value: Answer;
  /** a misconception's letter, or a sentence of its own */
  readonly hint: string;
  /** how near an answer must be to be taken for this one; default a thousandth of it, or its rounding to two figures and more */
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
  /** what a reader may open: a question, then the number to look at, then the worked line */
  readonly hints: readonly [question: string, lookAt: string, worked: string];
}

/** An exercise whose answer is a number. */
export interface NumberExercise extends Asked<number> {
  /** "" for a pure number */
  readonly unit: string;
  /**
   * How far off an answer may be, in the same unit, where that is not 5 %, which is what rounding to two figures may cost.
   * Less than that where the exercise is about a small effect; an answer rounded to two figures is right all the same. Zero: a count.
   */
  readonly tolerance?: number;
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

/** What is said to an answer: never a mark. What is empty or cannot be read is not judged. */
export interface Judgement {
  readonly is: "right" | "close" | "off" | "empty" | "unreadable";
  readonly say: string;
}

/**
 * Lessons: exercises that check themselves, with hints for the mistakes that learners really make.
 *
 * A notebook ends a cell in `show(exercise("04-1"))`. A page of the book puts `pageScript()` once into a classic
 * `script` element; a notebook gets it with `show(opening(pageScript()))`. Both run the same `judge` that the tests run.
 */
export {
  type ChoiceExercise,
  type Exercise,
  type Judgement,
  type NumberExercise,
  type Slip,
  slips,
  type Trap,
} from "./exercise.ts";
export { judge, numbersIn } from "./judge.ts";
export { exerciseBlock } from "./block.ts";
export { exercise, exercises } from "./exercises.ts";
export { pageScript } from "./pageScript.ts";
export { refusalOf } from "./refusalOf.ts";

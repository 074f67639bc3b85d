/** An exercise with a number for its answer, held against answer and misconceptions computed elsewhere. */
import assert from "node:assert/strict";
import type { NumberExercise } from "../../lib/lessons/exercise.ts";
import { misconceptions } from "../../lib/lessons/exercises/misconceptions.ts";
import { exercises } from "../../lib/lessons/exercises.ts";
import { judge } from "../../lib/lessons/grader.ts";

export function numberExercise(id: string): NumberExercise {
  const found = exercises.find((e) => e.id === id);
  assert.ok(found !== undefined && !("choices" in found), id);
  return found;
}

/** The computed answer is judged right, is the written one to a fortieth, and each misconception, also rounded to four figures, meets its trap. */
export function agrees(id: string, answer: number, slipsMade: readonly number[]): void {
  const asked = numberExercise(id);
  assert.equal(judge(asked, answer).is, "right", `${id}: ${answer}`);
  assert.ok(
    Math.abs(answer - asked.answer) <= (asked.tolerance ?? 0.05 * Math.abs(asked.answer)) / 2,
    `${id}: ${answer} beside ${asked.answer}`,
  );
  assert.equal(
    asked.traps.length,
    slipsMade.length,
    `${id}: a computed misconception for every trap`,
  );
  slipsMade.forEach((value, i) => {
    const hint = asked.traps[i]?.hint ?? "";
    const words = (misconceptions as Record<string, string>)[hint] ?? hint;
    for (const typed of [value, Number(value.toPrecision(4))]) {
      const said = judge(asked, typed);
      assert.equal(said.is, "off", `${id}: ${typed}`);
      assert.ok(
        said.say.includes(words),
        `${id}: ${typed} should meet "${words}", got "${said.say}"`,
      );
    }
  });
}

/** The exercise as a block of the page: the question, a form that checks itself, hints and answer folded. */
import { type Html, jsonForScript, safe, trusted } from "../figures/html.ts";
import { scriptElement, type Shown } from "../figures/show.ts";
import type { Exercise } from "./exercise.ts";
import { pageScript } from "./pageScript.ts";

function field(exercise: Exercise): Html {
  if ("choices" in exercise) {
    const options = exercise.choices.map((choice) =>
      safe`<label class="pick"><input type="radio" name="answer" value="${choice}"> ${choice}</label>\n`
    );
    return safe`<fieldset><legend>Your answer</legend>\n${options}</fieldset>`;
  }
  const input = trusted('<input type="text" name="answer" inputmode="decimal" autocomplete="off">');
  return safe`<label>Your answer<span>${input}${
    exercise.unit !== "" && ` ${exercise.unit}`
  }</span></label>`;
}

function onPaper(exercise: Exercise): Html {
  if ("choices" in exercise) {
    return safe`<p class="paper-only">${exercise.choices.map((c) => `☐ ${c}   `)}</p>`;
  }
  return safe`<p class="paper-only">Answer <span class="blank"></span> ${exercise.unit}</p>`;
}

/**
 * Shows an exercise: it brings the script that checks it, and on paper it leaves a line to write on.
 *
 * The script is the same for all and runs once; a page that has `pageScript` may leave out `script[data-first-mirror]`.
 *
 * @param exercise  one of the exercises, or your own
 * @param title     the block's heading
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = exerciseBlock({
 *   id: "x-1",
 *   ask: "Which is deeper?",
 *   choices: ["f/6", "f/8"],
 *   answer: "f/6",
 *   traps: [],
 *   hints: ["Which R is shorter?", "Look at R.", "s = r² ÷ 2R: the shorter R."],
 * });
 * assert.match(shown.html, /<section class="exercise" id="exercise-x-1"/);
 * ```
 */
export function exerciseBlock(exercise: Exercise, title = "Check yourself"): Shown {
  const { id, ask, hints } = exercise, data = jsonForScript(exercise);
  const folds = [["A hint", hints[0]], ["Another", hints[1]], ["The answer, worked", hints[2]]].map(
    (
      [head, text],
    ) => safe`<details class="fold"><summary>${head}</summary><p>${text}</p></details>\n`,
  );
  const markup = safe`<section class="exercise" id="exercise-${id}" aria-label="${title}">
<h3>${title}</h3>
<p>${ask}</p>
<form class="ask js-only" action="#exercise-${id}">${
    field(exercise)
  }<button type="submit">Check</button></form>
<p class="result" role="status"></p>
${onPaper(exercise)}
${folds}<script type="application/json">${data}</script>
</section>
${scriptElement(pageScript())}`;
  const choices = "choices" in exercise ? `\nChoose: ${exercise.choices.join("; ")}.` : "";
  return { html: markup.markup, text: `${title}: ${ask}${choices}` };
}

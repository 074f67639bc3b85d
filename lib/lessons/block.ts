/** The exercise as a block of the page: the question, a form that checks itself, hints and answer folded. */
import { type Html, jsonForScript, safe, trusted } from "../figures/html.ts";
import { scriptElement, type Shown } from "../figures/show.ts";
import { type Exercise, levelOf } from "./exercise.ts";
import { judge, pageScript } from "./grader.ts";

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

function onPaper(exercise: Exercise, where = "paper-only"): Html {
  const kind = where !== "" && safe` class="${where}"`;
  if ("choices" in exercise) {
    return safe`<p${kind}>${exercise.choices.map((c) => safe`☐ ${c}<br>`)}</p>`;
  }
  return safe`<p${kind}>Answer <span class="blank"></span> ${exercise.unit}</p>`;
}

/** What is said to the answer that stands in the cell; nothing where none was given. */
function judged(exercise: Exercise, mine: string | number | undefined): Shown | undefined {
  if (mine === undefined) return undefined;
  const { is, say } = judge(exercise, mine);
  return {
    html: safe`<p class="result judged" data-is="${is}"><span>${say}</span></p>
`.markup,
    text: say,
  };
}

/** The heading, with the level behind it where the exercise is one of the course's. */
function heading({ id }: Exercise, title: string): Html {
  const level = /^[a-z]+-[a-z]+-[123]$/.test(id) ? levelOf(id) : undefined;
  return safe`<h3>${title}${level && safe` <span class="level">· ${level}</span>`}</h3>`;
}

const folded = (head: string, text: string): Html =>
  safe`<details class="fold"><summary>${head}</summary><p>${text}</p></details>\n`;

/** The exercise in words, for a front end without pictures. */
function inWords(exercise: Exercise, title: string, said: string | undefined): string {
  const choices = "choices" in exercise ? `\nChoose: ${exercise.choices.join("; ")}.` : "";
  return `${title}: ${exercise.ask}${choices}${said === undefined ? "" : `\n${said}`}`;
}

/**
 * Shows an exercise: it brings the script that checks it, and on paper it leaves a line to write on.
 *
 * The script is the same for all and runs once; a page that has `pageScript` may leave out `script[data-first-mirror]`.
 *
 * @param exercise  one of the exercises, or your own
 * @param title     the block's heading
 * @param mine      an answer from the cell, which is judged under the question
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
export function exerciseBlock(
  exercise: Exercise,
  title = "Check yourself",
  mine?: string | number,
): Shown {
  const { id, ask, hints } = exercise, said = judged(exercise, mine);
  const markup = safe`<section class="exercise" id="exercise-${id}" aria-label="${title}">
${heading(exercise, title)}
<p>${ask}</p>
${said && trusted(said.html)}<form class="ask js-only" action="#exercise-${id}">${
    field(exercise)
  }<button type="submit">Check</button></form>
<p class="result" role="status"></p>
${onPaper(exercise)}
${folded("A hint", hints[0])}${folded("Another", hints[1])}${
    folded("The answer, worked", hints[2])
  }<script type="application/json">${jsonForScript(exercise)}</script>
</section>
${scriptElement(pageScript())}`;
  return { html: markup.markup, text: inWords(exercise, title, said?.text) };
}

/**
 * Shows an exercise without its answer: the question, two hints, and what is said to the answer in the cell.
 *
 * Nothing of the answer is in what is shown until it has been found; the check runs here, in the library.
 *
 * @param exercise  one of the exercises
 * @param title     the block's heading
 * @param mine      an answer from the cell
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = questionBlock({
 *   id: "x-1",
 *   ask: "Which is deeper?",
 *   choices: ["f/6", "f/8"],
 *   answer: "f/6",
 *   traps: [],
 *   hints: ["Which R is shorter?", "Look at R.", "s = r² ÷ 2R: the shorter R."],
 * });
 * assert.doesNotMatch(shown.html, /the shorter R\./);
 * ```
 */
export function questionBlock(
  exercise: Exercise,
  title = "Check yourself",
  mine?: string | number,
): Shown {
  const { id, ask, hints } = exercise, said = judged(exercise, mine);
  const start = "Put your answer in place of undefined, and run the cell.";
  const markup = safe`<section class="exercise" id="exercise-${id}" aria-label="${title}">
${heading(exercise, title)}
<p>${ask}</p>
${trusted(said?.html ?? safe`<p class="result judged"><span>${start}</span></p>\n`.markup)}${
    onPaper(exercise, "")
  }
${folded("A hint", hints[0])}${folded("Another", hints[1])}</section>`;
  return { html: markup.markup, text: inWords(exercise, title, said?.text ?? start) };
}

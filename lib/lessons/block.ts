/**
 * The exercise as a block of the page: the question, a form that checks itself, hints and answer folded.
 *
 * Fields and buttons are made by the script, `exercises.js`: a notebook that is not trusted keeps neither script nor style, and
 * whatever stood in the markup would stand there dead.
 */
import { type Html, safe, trusted } from "../figures/html.ts";
import { scriptElement, type Shown } from "../figures/show.ts";
import { course } from "./course.ts";
import { type Exercise, levelOf } from "./exercise.ts";
import { judge, pageScript, spelledOut } from "./grader.ts";
import { seal } from "./sealed.ts";

/** The form that checks itself, still empty: what it is made of and judges by goes with it, sealed. */
function form(exercise: Exercise): Html {
  const kept = seal(JSON.stringify(spelledOut(exercise)));
  return safe`<form class="ask" action="#exercise-${exercise.id}" data-exercise="${
    numberOf(exercise.id)
  }" data-sealed="${kept}"></form>`;
}

/** "04-1" for "measure-curve-1"; an exercise that is not the course's bears its own name. */
function numberOf(id: string): string {
  const stage = course.find(({ name }) => id.startsWith(`${name}-`));
  return stage === undefined ? id : stage.stem.slice(0, 2) + id.slice(stage.name.length);
}

function onPaper(exercise: Exercise): Html {
  if ("choices" in exercise) {
    return safe`<p class="paper-only">${exercise.choices.map((c) => safe`☐ ${c}<br>`)}</p>`;
  }
  return safe`<p class="paper-only">Answer <span class="blank"></span> ${exercise.unit}</p>`;
}

/** What is said to the answer that stands in the cell. */
function judged(exercise: Exercise, mine: string | number): Shown {
  const { is, say } = judge(exercise, mine);
  return {
    html: safe`<p class="result judged" data-is="${is}"><span>${say}</span></p>
`.markup,
    text: say,
  };
}

/** The heading: number, title, level, where the exercise is one of the course's. */
function heading({ id }: Exercise, title: string): Html {
  const number = numberOf(id);
  const level = /^\d\d-[123]$/.test(number) ? levelOf(id) : undefined;
  return level === undefined
    ? safe`<h3>${title}</h3>`
    : safe`<h3>${number} ${title} <span class="level">· ${level}</span></h3>`;
}

const folded = (head: string, text: string): Html =>
  safe`<details class="fold"><summary>${head}</summary><p>${text}</p></details>\n`;

/** For a leader: the wrong answers that are known, with what is said to each. */
function misconceptionsFolded(exercise: Exercise): Html {
  const { traps } = spelledOut(exercise), unit = "choices" in exercise ? "" : exercise.unit;
  const rows = traps.map(({ value, hint }) =>
    safe`<li>${String(value).replace("-", "−")}${unit !== "" && ` ${unit}`}: ${hint}</li>
`
  );
  return rows.length === 0
    ? safe``
    : safe`<details class="fold"><summary>Wrong answers, and what they show</summary><ul>
${rows}</ul></details>
`;
}

/** The exercise in words, for a front end without pictures. */
function inWords(exercise: Exercise, title: string, said: string | undefined): string {
  const choices = "choices" in exercise ? `\nChoose: ${exercise.choices.join("; ")}.` : "";
  return `${title}: ${exercise.ask}${choices}${said === undefined ? "" : `\n${said}`}`;
}

/** Where the page's script puts buttons that open the hints, from the sealed data. */
const hintButtons = trusted(`<p class="acts"></p>\n`);

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
  const { hints } = exercise, said = mine === undefined ? undefined : judged(exercise, mine);
  const folds = safe`${folded("A hint", hints[0])}${folded("Another", hints[1])}${
    folded("The answer, worked", hints[2])
  }${misconceptionsFolded(exercise)}`;
  return block(exercise, title, said, folds);
}

/**
 * Shows an exercise with its answer and hints out of plain sight: sealed, and opened only by the page's script, which judges
 * as it does in `exerciseBlock` and gives two of the hints. It is no lock.
 *
 * @param exercise  one of the exercises
 * @param title     the block's heading
 * @param mine      an answer from the cell; where there is none, that is said
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
 * assert.doesNotMatch(shown.html, /shorter/);
 * assert.match(shown.text, /Nothing was answered yet/);
 * ```
 */
export function questionBlock(
  exercise: Exercise,
  title = "Check yourself",
  mine?: string | number,
): Shown {
  const nothing =
    "Nothing was answered yet. Type your answer above, or put it in place of undefined and run the cell.";
  const said = mine === undefined
    ? { html: safe`<p class="result judged"><span>${nothing}</span></p>\n`.markup, text: nothing }
    : judged(exercise, mine);
  return block(exercise, title, said, hintButtons);
}

/** Shows an exercise that a page makes itself, sealed as a question is, with nothing said of a cell. */
export function ownExerciseBlock(exercise: Exercise, title: string): Shown {
  return block(exercise, title, undefined, hintButtons);
}

function block(exercise: Exercise, title: string, said: Shown | undefined, hints: Html): Shown {
  const { id, ask } = exercise;
  const markup = safe`<section class="exercise" id="exercise-${id}" aria-label="${title}">
${heading(exercise, title)}
<p>${ask}</p>
${form(exercise)}
${said && trusted(said.html)}${onPaper(exercise)}
${hints}</section>
${scriptElement(pageScript())}`;
  return { html: markup.markup, text: inWords(exercise, title, said?.text) };
}

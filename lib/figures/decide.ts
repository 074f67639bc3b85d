/** The end of a page: what to do in one sentence, where you stand, all the choices, and the mirror's verdict. */
import { safe, trusted } from "./html.ts";
import { asShown, type Showable, type Shown, wordsOf } from "./show.ts";

/** One of the ways on; exactly one may be chosen. */
export interface Choice {
  readonly name: string;
  /** when it is the right one, continuing the name: "while the depth is below 1.128 mm." */
  readonly when: string;
  readonly chosen?: boolean;
}

/** A decision as the page tells it. */
export interface Decision {
  /** the chosen way in two or three words: "go on" */
  readonly title: string;
  /** what to mind before it is done: where the block prints a whole next step */
  readonly mind?: string;
  /** what to do, in one sentence with its number */
  readonly do: string;
  readonly choices: readonly Choice[];
  /** where you stand: usually `decisionScale(...)` */
  readonly scale?: Showable;
  /** a sentence after the choices: what the number does not promise */
  readonly after?: string;
}

/**
 * The block a page was for.
 *
 * @throws {RangeError} unless there are choices and at most one of them is chosen
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const block = decide({
 *   title: "go on",
 *   do: "Grind 9 minutes more.",
 *   choices: [{ name: "Go on", when: "below 1.128 mm.", chosen: true }, { name: "Stop", when: "at it." }],
 * });
 * assert.match(block.html, /<li class="chosen"><b>Go on<\/b>below 1.128 mm.<\/li>/);
 * ```
 */
export function decide(decision: Decision): Shown {
  const { title, choices, scale, after } = decision;
  const chosen = choices.filter((choice) => choice.chosen === true);
  if (choices.length === 0 || chosen.length > 1) {
    throw new RangeError(
      `decide requires choices, at most one chosen, got ${choices.length} and ${chosen.length} chosen`,
    );
  }
  const list = choices.map(({ name, when, chosen: mine }) =>
    safe`<li${mine === true && trusted(' class="chosen"')}><b>${name}</b>${when}</li>\n`
  );
  const even = choices.length % 3 !== 0 && choices.length % 2 === 0;
  const picture = scale === undefined ? undefined : asShown(scale);
  const markup = safe`<section class="decide" aria-label="${`Decide: ${title}`}">
<h2>Decide: ${title}</h2>
${decision.mind !== undefined && safe`<p class="mind"><b>Mind first:</b> ${decision.mind}</p>`}
<p class="do">${decision.do}</p>
${picture !== undefined && trusted(picture.html)}
<ul class="${even ? "choices four" : "choices"}">
${list}</ul>
${after !== undefined && safe`<p>${after}</p>`}
</section>`;
  const words = [
    `Decide: ${title}. ${
      decision.mind === undefined ? "" : `Mind first: ${decision.mind} `
    }${decision.do}`,
    ...(picture === undefined ? [] : [picture.text]),
    ...choices.map((c) => `${c.chosen === true ? "> " : "  "}${c.name} ${c.when}`),
    ...(after === undefined ? [] : [after]),
  ];
  return { html: markup.markup, text: words.join("\n") };
}

/** A mirror's verdict as the report tells it. */
export interface VerdictParts {
  readonly meetsGoal: "yes" | "no" | "not shown";
  /** what it comes to, in one sentence */
  readonly says: string;
  /** the numbers behind it */
  readonly because: Showable;
}

/**
 * The verdict in one word, what it comes to, and the numbers behind it.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const block = verdict({ meetsGoal: "yes", says: "Coat it.", because: "P-V 26 nm, goal 69 nm." });
 * assert.match(block.html, /<p class="word">Yes<\/p>/);
 * ```
 */
export function verdict({ meetsGoal, says, because }: VerdictParts): Shown {
  const word = meetsGoal.charAt(0).toUpperCase() + meetsGoal.slice(1);
  const numbers = asShown(because);
  const behind = trusted(numbers.html.replace(/^<p class="out">/, "<p>"));
  const markup = safe`<section class="verdict" aria-label="Verdict">
<p class="word">${word}</p>
<div><p>${says}</p>
${behind}</div>
</section>`;
  return { html: markup.markup, text: `${word}. ${says} ${numbers.text || wordsOf(numbers.html)}` };
}

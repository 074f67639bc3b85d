/** Guesses and fields in a page: the form before a result, what folds until then, the field that tries a value, the account at the end. */
import { type Html, safe, trusted } from "../../figures/html.ts";
import { type Guess, guessMark, guessOf, guessSource, type Trial } from "../../lessons/guess.ts";
import { type Cell, cellTags, type CodeCell, isCode, type Output } from "../notebook.ts";
import listener from "./guesses.js" with { type: "text" };

const tagged = (cell: Cell, tag: string): boolean => cellTags(cell).includes(tag);

/** What a code cell said, as a reader without pictures gets it. */
function wordsOf({ outputs }: CodeCell): string {
  const said = (output: Output): string => {
    if (output.output_type === "stream") return output.text;
    const text = output.output_type === "error" ? output.evalue : output.data["text/plain"];
    return typeof text === "string" ? text : "";
  };
  return outputs.map(said).filter((text) => text !== "").join("\n");
}

/**
 * The guess that a code cell asks for, with what came out; nothing where it asks for none.
 *
 * @param cell   tagged `guess`, its mark under `guess` in its metadata
 * @param cells  of its notebook, executed
 * @throws {RangeError} where the mark is none
 */
export function guessAt(cell: Cell, cells: readonly Cell[]): Guess | undefined {
  if (!isCode(cell) || !tagged(cell, "guess")) return undefined;
  const mark = guessMark(cell.metadata["guess"]);
  const told = mark.in === undefined ? cell : cells.find(({ id }) => id === mark.in);
  return guessOf(mark, told !== undefined && isCode(told) ? wordsOf(told) : "");
}

/** The form of a guess, the place where it is kept, and a line to write on. */
export function guessForm(n: number, guess: Guess): Html {
  const { unit = "", choices = [] } = guess, isWords = choices.length > 0;
  const picks = choices.map((choice) =>
    safe`<button type="button" data-pick="${choice}">${choice}</button>
`
  );
  const input = trusted(
    `<input type="text" name="guess" autocomplete="off"${isWords ? "" : ' inputmode="decimal"'}>`,
  );
  const words = isWords
    ? choices.map((choice) => safe`☐ ${choice} `)
    : safe`<span class="blank"></span> ${unit}`;
  return safe`<form class="ask guess js-only" action="#text" data-guess="${n}" data-about="${
    JSON.stringify(guess)
  }">
${isWords && safe`<p class="picks">${picks}</p>`}<label>Your guess<span>${input}${
    unit !== "" && ` ${unit}`
  }</span></label><button type="submit">Guess</button><button type="button" class="act" data-show-me>Show me</button>
</form>
<p class="paper-only">Your guess: ${words}</p>
<p class="kept-guess" data-guess-kept="${n}" tabindex="-1" hidden></p>
`;
}

/** Markup that tells what was to be guessed: folded until then, open without script and on paper. */
export function afterGuess(n: number, html: string): string {
  return `<div data-after-guess="${n}" hidden>\n${html}</div>\n`;
}

/** The field that runs a cell with another value. */
export function trialForm(n: number, { name, value, unit }: Trial, upTo: number): Html {
  const isWord = Number.isNaN(Number(value));
  return safe`<form class="ask try js-only" action="#text" data-try="${n}" data-name="${name}" data-unit="${unit}"${
    upTo > n && safe` data-up-to="${upTo}"`
  }>
<label><b>A value for <code>${name}</code></b><span><input type="text" name="value" autocomplete="off"${
    !isWord && trusted(' inputmode="decimal"')
  } value="${value}"> ${unit}</span></label><button type="submit">Run with it</button>
<p class="result" role="status"></p>
</form>
`;
}

/** How well the reader guesses on this page, at its end. */
export function guessAccount(asked: number): string {
  if (asked === 0) return "";
  return safe`<section class="guesses js-only" aria-labelledby="guesses">
<h2 id="guesses">How well do you guess?</h2>
<p data-guesses="${asked}" role="status"></p>
</section>
`.markup;
}

/** The classic script that makes guesses and fields alive; a second copy does nothing. */
export function guessScript(): string {
  return `(function () {
if (window.firstMirrorGuesses) return;
window.firstMirrorGuesses = true;
${guessSource()}
${listener}
})();`;
}

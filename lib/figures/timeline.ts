/** The mirror from disc to sky: a stage a line, filled as far as the record goes, its number beside it. */
import type { Measured } from "../quantity/measured.ts";
import { type Html, safe, trusted } from "./html.ts";
import { type Shown, wordsOf } from "./show.ts";
import { quantityHtml } from "./words.ts";

/** A stage of the job. */
export interface Stage {
  /** its place, as its page is numbered */
  readonly number: number;
  readonly name: string;
  readonly state: "done" | "here" | "ahead";
  /** what the record knows of it: a quantity or a few words */
  readonly got?: Measured | string;
  /** what the number is, and where it comes from: "radius, from sagitta.csv, lines 2 to 8" */
  readonly from?: string;
  /** the stage's page */
  readonly href?: string;
}

const states = { done: "done", here: "here now", ahead: "still ahead" } as const;

/** Only pages beside this one, so that no text of a record can lead anywhere else. */
function link({ name, href }: Stage): Html {
  const local = href !== undefined && /^[\w./-]+\.html(#[\w-]+)?$/.test(href) &&
    !href.includes("//");
  return local ? safe`<a href="${href}">${name}</a>` : safe`<span class="stage">${name}</span>`;
}

function line(stage: Stage): Html {
  const { number, state, got, from } = stage;
  const value = got === undefined
    ? undefined
    : typeof got === "string"
    ? safe`${got}`
    : quantityHtml(got);
  const current = state === "here" && trusted(' aria-current="step"');
  return safe`<li${
    state !== "done" && trusted(` class="${state}"`)
  }${current}><span class="num">${number}</span><div>${link(stage)}<span class="sr">, ${
    states[state]
  }</span>${value !== undefined && safe`<p class="got">${value}</p>`}${
    from !== undefined && safe`<p>${from}</p>`
  }</div></li>\n`;
}

/**
 * The job as a path.
 *
 * @param stages  in order; at most one is `here`
 * @throws {RangeError} without a stage, or where two are `here`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const path = timeline([
 *   { number: 3, name: "Rough grinding", state: "done", got: "130 min" },
 *   { number: 9, name: "Polishing", state: "here" },
 * ]);
 * assert.match(path.text, /3 Rough grinding, done 130 min/);
 * ```
 */
export function timeline(stages: readonly Stage[]): Shown {
  const here = stages.filter((stage) => stage.state === "here").length;
  if (stages.length === 0 || here > 1) {
    throw new RangeError(
      `timeline requires stages, at most one of them here, got ${stages.length} and ${here}`,
    );
  }
  const lines = stages.map(line);
  const markup = safe`<ol class="path" aria-label="The mirror from disc to sky">
${lines}</ol>`;
  return {
    html: markup.markup,
    text: lines.map((l) => wordsOf(l.markup)).join("\n"),
  };
}

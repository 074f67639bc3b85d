/** What the blocks of a class have in common: whose they are, words in two sizes, how many are too many to draw. */
import { yours as yoursBlock } from "../figures/blocks.ts";
import { type Html, safe } from "../figures/html.ts";
import { asShown, type Showable, type Shown } from "../figures/show.ts";
import type { ClassAtHand } from "../knowledge/classBeside.ts";
import { countOf } from "./whose.ts";

/** More mirrors than this are not drawn one by one. */
export const drawnMost = 60;

/** Blocks of a class: the reader's own barred, the demo's marked. */
export function ofClass({ many, isDemo }: ClassAtHand, ...contents: Showable[]): Shown {
  const whose = `${many.name}, ${countOf(many.rows.length, "mirror")}`;
  if (!isDemo) return yoursBlock(whose, ...contents);
  const all = contents.map((thing) => asShown(thing)), tag = `Demo class, not yours · ${whose}`;
  const inside = all.map(({ html }) => html).join("\n");
  return {
    html: `${
      safe`<section class="demo" aria-label="${tag}">\n<p class="tag"><span>${tag}</span></p>\n`
        .markup
    }${inside}\n</section>`,
    text: [tag, ...all.map(({ text }) => text)].join("\n"),
  };
}

/** Words with a smaller line under them. */
export function over(words: string, under: string): Html | string {
  return under === "" ? words : safe`${words}<br><span class="note">${under}</span>`;
}

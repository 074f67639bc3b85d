/** Cards for the bench: true A5, all of the steps, cautions before theirs, nothing beyond the frame, type for wet hands. */
import assert from "node:assert/strict";
import { A5, procedureCard } from "../../../lib/figures/prints/procedureCard.ts";
import { papers } from "../../../lib/figures/prints/printable.ts";
import { course } from "../../../lib/lessons/course.ts";
import { benchNumbers } from "../../../lib/lessons/procedures/procedure.ts";
import { procedureFor, procedureNames } from "../../../lib/lessons/procedures/procedures.ts";

const numbers = benchNumbers({ aperture: 200, focalLength: 1200, thickness: 33 });
const cards = procedureNames.map((stage) => {
  const procedure = procedureFor(stage, numbers);
  assert.ok(procedure !== undefined);
  return {
    procedure,
    card: procedureCard({
      ...procedure,
      head: course.find(({ name }) => name === stage)?.title ?? "?",
    }),
  };
});

/** The words of a card, its broken lines joined. */
const wordsOf = (sheets: readonly { readonly markup: string }[]): string =>
  sheets.flatMap(({ markup }) =>
    [...markup.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text)
  )
    .join(" ").replaceAll("&quot;", '"').replaceAll("&#39;", "'").replaceAll("\u00a0", " ");

Deno.test("every step of every stage stands on its card, its cautions before it", () => {
  for (const { procedure: { steps, alone }, card } of cards) {
    for (const paper of papers) {
      const said = wordsOf(card.sheets(paper)).replaceAll(/\s+/g, " ");
      let from = 0;
      for (const { do: what, right, cautions } of steps) {
        for (const text of [...cautions, what, right].map((one) => one.replaceAll(/\s+/g, " "))) {
          const at = said.indexOf(text.slice(0, 40), from);
          assert.ok(at >= 0, `${card.name}: ${text}`);
          from = at;
        }
      }
      assert.ok(said.includes(alone.slice(0, 30)), card.name);
    }
  }
});

Deno.test("nothing lies beyond the card's frame, none of the type is smaller than 8.5 points", () => {
  // DERIVED 8.5 pt = 8.5 x 25.4 / 72 = 3.0 mm
  for (const { card } of cards) {
    for (const paper of papers) {
      for (const { markup } of card.sheets(paper)) {
        const frame = /<path d="M([\d.]+),([\d.]+)L[^"]+Z" fill="none" stroke="#777"/.exec(markup);
        assert.ok(frame, card.name);
        const left = Number(frame[1]), top = Number(frame[2]);
        assert.ok(
          left >= 10 && left + A5.width <= paper.width - 10 && top + A5.height <= paper.height - 10,
        );
        const inside = markup.slice(frame.index, markup.lastIndexOf("</text>"));
        for (
          const [, x, y, size, text = ""] of inside.matchAll(
            /<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)"[^>]*>([^<]*)/g,
          )
        ) {
          if (/^150 mm across|^Not right\?/.test(text)) continue;
          assert.ok(Number(size) >= 2.99, text);
          assert.ok(
            Number(x) >= left + 5 && Number(x) <= left + A5.width - 5,
            `${card.name}: ${text} at ${x}`,
          );
          assert.ok(
            Number(y) <= top + A5.height - 4 && Number(y) > top,
            `${card.name}: ${text} at ${y}`,
          );
        }
      }
    }
  }
});

Deno.test("four cards a stage at most", () => {
  for (const { card } of cards) {
    assert.ok((papers[0] === undefined ? 9 : card.sheets(papers[0]).length) <= 4, card.name);
  }
});

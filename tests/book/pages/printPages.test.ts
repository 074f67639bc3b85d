import assert from "node:assert/strict";
import { printablesOf } from "../../../lib/book/pages/printPages.ts";
import { papers } from "../../../lib/figures/printables/mod.ts";
import { hazards } from "../../../lib/record/hazards.ts";
import { states } from "../sampleBook.ts";

/** The words of a sheet, its broken lines joined. */
function wordsOf(markup: string): string {
  return [...markup.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text).join(" ");
}

Deno.test("every sheet of the list of hazards says them on its first sheet, before anything is to be done", () => {
  const all = printablesOf(states.finished, []);
  let looked = 0;
  for (const { hazard, sheets, short } of hazards()) {
    for (const name of sheets) {
      const one = all.find((printable) => printable.name === name);
      assert.ok(one !== undefined, `${hazard}: there is no sheet ${name}`);
      for (const paper of papers) {
        const [first] = one.sheets(paper), said = wordsOf(first?.markup ?? "");
        assert.ok(
          said.includes(short),
          `${hazard} on ${name}, ${paper.name}: ${said.slice(0, 400)}`,
        );
        assert.ok(
          said.indexOf(short) < said.indexOf(one.use.slice(0, 20)),
          `${name}: before its use`,
        );
        looked++;
      }
    }
  }
  assert.ok(looked >= 20, `${looked}`);
});

Deno.test("the caution takes no drawing to more paper", () => {
  const facts = states.finished, { settings } = facts.record;
  const wide = { ...facts, record: { ...facts.record, settings: { ...settings, aperture: 200 } } };
  const grid = printablesOf(wide, []).find(({ name }) => name === "channel-grid");
  // DERIVED 208 mm across do not fit the 182 mm of A4, the 216 mm down do under the caution
  assert.deepEqual(papers.slice(0, 1).map((paper) => grid?.sheets(paper).length), [2]);
});

import assert from "node:assert/strict";
import { openingsToPrint, printablesOf } from "../../../lib/book/pages/printPages.ts";
import { papers } from "../../../lib/figures/prints/mod.ts";
import { hazards } from "../../../lib/knowledge/hazards.ts";
import { states } from "../sampleBook.ts";
import { demo, mirrorOf } from "../../stages/mirrors.ts";

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

Deno.test("the mask to print: of the latest run, narrower where the verdict asks for it, written, or the kit's own", () => {
  const of = (mirror: typeof demo): readonly number[] =>
    openingsToPrint({ ...states.finished, ...mirror }).map(({ outer }) => outer);
  assert.deepEqual(of(demo), [10, 20, 30, 37.5, 45, 51, 57, 67, 74]);
  const until = (day: string): typeof demo =>
    mirrorOf({
      ...demo.record,
      zones: demo.record.zones.filter(({ date }) => (date ?? "") <= day),
    });
  assert.deepEqual(of(until("2026-06-19")), [30, 45, 57, 67, 74]);
  const wide = until("2026-06-26");
  assert.ok(wide.summary.verdict?.lacks?.includes("narrower openings"));
  assert.deepEqual(of(wide), [10, 20, 30, 37.5, 45, 51, 57, 67, 74], "as the advice names them");
  assert.match(
    wide.summary.verdict?.why ?? "",
    /edges at 0, 10, 20, 30, 37\.5, 45, 51, 57, 67, 74 mm/,
  );
  const bare = { ...demo.record, zones: [] };
  // DERIVED: eight openings for 148 mm, as designMask has them
  assert.deepEqual(of(mirrorOf(bare)), [11, 22, 33, 40, 47, 57.5, 66, 74]);
  const mask = [{ inner: 0, outer: 40 }, { inner: 40, outer: 70 }];
  assert.deepEqual(of(mirrorOf({ ...bare, settings: { ...bare.settings, mask } })), [40, 70]);
  const sheet = printablesOf({ ...states.finished, ...demo }, []).find(({ name }) =>
    name === "zone-mask"
  );
  assert.match(sheet?.whole?.markup ?? "", /zone 1 to 9/);
});

/** Drawings to hang up: each drawing of a work once, its cautions before it, on the sheet, in type that is read from a step away. */
import assert from "node:assert/strict";
import { printablesOf } from "../../../lib/book/pages/printPages.ts";
import { areaOf, papers } from "../../../lib/figures/prints/printable.ts";
import { benchNumbers } from "../../../lib/lessons/procedures/procedure.ts";
import { procedureFor, procedureNames } from "../../../lib/lessons/procedures/procedures.ts";
import { states } from "../../book/sampleBook.ts";

const all = printablesOf(states.finished, []);
const numbers = benchNumbers(states.finished.record.settings);
const plain = (text: string): string => text.replaceAll(/[\s\u00a0]+/g, " ");
const wordsOf = (markup: string): string =>
  plain(
    [...markup.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text).join(" ")
      .replaceAll("&quot;", '"').replaceAll("&#39;", "'").replaceAll("&amp;", "&"),
  );

Deno.test("each drawing of a work hangs once, and every caution up to its step stands before it", () => {
  let looked = 0;
  for (const name of procedureNames) {
    const { steps = [] } = procedureFor(name, numbers) ?? {};
    const names = new Set(steps.flatMap(({ drawing }) => drawing ?? []));
    const hung = all.find((one) => one.name === `drawings-${name}`);
    assert.equal(hung !== undefined, names.size > 0, name);
    for (const paper of papers) {
      const sheets = hung?.sheets(paper).map(({ markup }) => markup).join("") ?? "";
      assert.equal(sheets.split('<svg class="hands"').length - 1, names.size, name);
      const seen = new Set<string>();
      steps.forEach(({ drawing }, i) => {
        if (drawing === undefined || seen.has(drawing)) return;
        seen.add(drawing);
        const before = wordsOf(sheets.slice(0, sheets.indexOf(`>Step ${i + 1}<`)));
        for (const caution of steps.slice(0, i + 1).flatMap(({ cautions }) => cautions)) {
          assert.ok(before.includes(plain(caution)), `${name}, step ${i + 1}: ${caution}`);
          looked++;
        }
      });
    }
  }
  assert.ok(looked > 50, `${looked}`);
});

Deno.test("they lie on the sheet, words 3 mm tall or more", () => {
  for (const one of all.filter(({ name }) => name.startsWith("drawings-"))) {
    for (const paper of papers) {
      const { left, top, width, height } = areaOf(paper);
      for (const { markup } of one.sheets(paper)) {
        const places = [...markup.matchAll(
          /<svg class="hands" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)" viewBox="0 0 ([\d.]+)/g,
        )].map(([, ...numbers]) => numbers.map(Number));
        assert.ok(places.length > 0 || /<text/.test(markup), one.name);
        for (const [x = NaN, y = NaN, wide = NaN, high = NaN, px = NaN] of places) {
          assert.ok(x >= left && x + wide <= left + width + 0.01, one.name);
          assert.ok(y >= top && y + high <= top + height + 0.01, one.name);
          assert.ok(13 * wide / px >= 3, `${one.name}: ${13 * wide / px} mm`);
        }
      }
    }
  }
});

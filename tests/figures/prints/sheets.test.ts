/** Sheets to write on: nothing beyond the paper, nothing lost between sheets, what a maker may type is text. */
import assert from "node:assert/strict";
import { areaOf, papers, type Printable } from "../../../lib/figures/prints/printable.ts";
import {
  recordSheet,
  safetySheet,
  strokeTally,
  whoDecides,
} from "../../../lib/figures/prints/sheetsToWriteOn.ts";
import { inWords, TABLES } from "../../../lib/record/schema.ts";

const tables: readonly Printable[] = TABLES.map((table) => recordSheet(table, inWords(table)));
const stages = Array.from({ length: 19 }, (_, i) => ({
  stage: `Stage ${i}`,
  cautions: Array.from(
    { length: 5 },
    (_, k) => `Caution ${i}.${k}: ${"hot pitch sticks and goes on burning ".repeat(3)}`,
  ),
}));
const safety = safetySheet(stages);

/** The words of a sheet in their order. */
const wordsOf = (markup: string): string =>
  [...markup.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text]) => text).join(" ");

Deno.test("a sheet for every table, with every column of the format and its example", () => {
  for (const [i, table] of TABLES.entries()) {
    for (const paper of papers) {
      const sheets = tables[i]?.sheets(paper) ?? [];
      assert.equal(sheets.length, 1, table);
      for (const column of inWords(table)) {
        const words = wordsOf(sheets[0]?.markup ?? "");
        assert.ok(words.includes(column.head), `${table}: ${column.head}`);
        for (const part of column.example.split(" ")) assert.ok(words.includes(part), part);
      }
    }
  }
});

Deno.test("nothing lies beyond the paper's margins", () => {
  for (const one of [...tables, strokeTally(), safety]) {
    for (const paper of papers) {
      for (const { markup } of one.sheets(paper)) {
        for (const [, x, y] of markup.matchAll(/[ML](-?[\d.]+),(-?[\d.]+)/g)) {
          assert.ok(Number(x) >= 9.9 && Number(x) <= paper.width - 9.9, `${one.name}: x ${x}`);
          assert.ok(Number(y) >= 9.9 && Number(y) <= paper.height - 9.9, `${one.name}: y ${y}`);
        }
      }
    }
  }
});

Deno.test("rows are wide enough to write in and stop above the bar", () => {
  for (const paper of papers) {
    const { top, height } = areaOf(paper), markup = strokeTally().sheets(paper)[0]?.markup ?? "";
    const rows = [...markup.matchAll(/M18,([\d.]+)L/g)].map(([, y]) => Number(y));
    assert.ok(Math.max(...rows.filter((y) => y < paper.height - 25)) <= top + height + 0.001);
    assert.ok(rows.length > 20);
  }
});

Deno.test("every caution stands on the safety sheets once, every stage has its line for initials, and who decides stands above", () => {
  for (const paper of papers) {
    const sheets = safety.sheets(paper).map(({ markup }) => markup),
      all = sheets.map(wordsOf).join(" ");
    for (const { stage, cautions } of stages) {
      assert.equal(all.split(`${stage} Caution`).length, 2, stage);
      for (const caution of cautions) assert.ok(all.includes(caution.slice(0, 40)));
    }
    const after = all.slice(all.indexOf("Read and shown: initials"));
    for (const { stage } of stages) assert.equal(after.split(`${stage} `).length, 2, stage);
    assert.match(after, /stage 1 2 3 4 5 6 7 8 9 10 11 12 adult/);
    assert.ok(wordsOf(sheets[0] ?? "").startsWith("Safety, stage by stage"));
    assert.ok(all.includes(whoDecides.slice(0, 50)));
    sheets.forEach((sheet, i) => assert.ok(sheet.includes(`sheet ${i + 1} of ${sheets.length}`)));
  }
});

Deno.test("words that mean harm are shown as words", () => {
  const harm = `<script>alert(1)</script>`;
  const markup = safetySheet([{ stage: harm, cautions: [harm] }]).sheets(
    papers[0] ?? { name: "A4", width: 210, height: 297 },
  )
    .map((one) => one.markup).join("");
  assert.doesNotMatch(markup, /<script/);
  assert.match(markup, /&lt;script&gt;/);
});

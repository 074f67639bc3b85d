/** The notebooks as one course: one order, one card, one vocabulary, reading times that hold. */
import assert from "node:assert/strict";
import { basename } from "node:path";
import { cellTags, isCode, type Notebook, readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "./notebookPaths.ts";
import { titleOf } from "../../lib/book/pages/lessonBody.ts";
import { course } from "../../lib/lessons/course.ts";

const notebooks = new Map<string, Notebook>();
for (const path of await notebookPaths()) {
  notebooks.set(basename(path, ".ipynb"), await readNotebook(path));
}

const proseOf = ({ cells }: Notebook): string =>
  cells.filter((cell) => !isCode(cell)).map(({ source }) => source).join("\n\n");

Deno.test("every stage has its notebook, or their notebook, with the course's own title and question", () => {
  assert.deepEqual([...notebooks.keys()], course.map(({ stem }) => stem));
  for (const { stem, title, question } of course) {
    const notebook = notebooks.get(stem);
    assert.ok(notebook !== undefined);
    assert.equal(titleOf(notebook), title);
    const asked = (notebook.cells[0]?.source ?? "").split("\n\n")[1]?.replaceAll("'", "’");
    assert.equal(asked, question, stem);
  }
});

Deno.test("every card has the same five fields in the same order", () => {
  const fields = ["You will", "Bring", "Minutes", "Before this", "Write on the disc"];
  for (const [stem, { cells }] of notebooks) {
    const card = cells[1]?.source ?? "";
    const found = [...card.matchAll(/^- \*\*(.+?)\*\* \S/gm)].map((match) => match[1]);
    assert.deepEqual(found, fields, stem);
    assert.match(card, /^- \*\*Minutes\*\* \d+ to read, .+\.$/m, stem);
  }
});

Deno.test("the minutes to read on the card are those reckoned from the notebook, to the nearest five and five", () => {
  for (const [stem, notebook] of notebooks) {
    const told = Number(/\*\*Minutes\*\* (\d+)/.exec(notebook.cells[1]?.source ?? "")?.[1]);
    const reckoned = readingMinutes(notebook);
    assert.ok(Math.abs(told - reckoned) <= 5, `${stem}: ${told} told, ${reckoned} reckoned`);
  }
});

Deno.test("what comes before lies before, and what comes next is the next stage or a way back", () => {
  for (const [place, { name, stem }] of course.entries()) {
    const cells = notebooks.get(stem)?.cells ?? [];
    const before = /\*\*Before this\*\* (.*)$/m.exec(cells[1]?.source ?? "")?.[1] ?? "";
    for (const [, target = ""] of before.matchAll(/\]\(([^)]+)\.ipynb\)/g)) {
      assert.ok(
        course.findIndex((one) => one.stem === target) < place,
        `${stem}: before ${target}`,
      );
    }
    const next = course[place + 1];
    const last = cells.at(-1)?.source ?? "";
    const ends = ["open-record", "observe-sky", "compare-class"].includes(name);
    if (next !== undefined && !ends) {
      assert.ok(last.includes(`(${next.stem}.ipynb)`), `${stem}: no way on`);
    }
  }
});

/** Words that mean the same as one of the course's, and are not the course's. */
const strangers: readonly (readonly [RegExp, string])[] = [
  [/\bgrits?\b/i, "abrasive or grade"],
  [/\bknife edges?\b/i, "knife-edge"],
  [/\bstraight ?edges?\b(?<!straight-edge)/i, "straight-edge"],
  [/\b(primary|main) mirror\b(?! comes)/i, "mirror"],
  [/\b(secondary|diagonal)\b/i, "flat"],
  [/\bwave[- ]front/i, "wavefront"],
  [/\bpeak[- ]to[- ]valley\b/i, "P-V"],
  [/\bparabola\b|\bparabolic\b/i, "paraboloid"],
  [/\bradius of the curve\b|\bcurve radius\b/i, "radius of curvature"],
  [/\bocular\b/i, "eyepiece"],
  [/\berror bars?\b/i, "interval"],
  [/\bcolor|\bcenter|\bmeter\b/i, "British spelling"],
  [/—/, "no em dash"],
];

Deno.test("one vocabulary: no word of the trade has a second name in the notebooks", () => {
  for (const [stem, notebook] of notebooks) {
    for (const [pattern, ours] of strangers) {
      const met = pattern.exec(proseOf(notebook));
      assert.equal(met, null, `${stem} says "${met?.[0]}" for ${ours}`);
    }
  }
});

Deno.test("the first cell opens the record, and the first screen after the card is the reader's own", () => {
  for (const [stem, { cells }] of notebooks) {
    const first = cells.find(isCode);
    assert.match(first?.source ?? "", /openRecord\(\)[\s\S]*show\(opening\(\)\);$/, stem);
    const heading = cells.slice(2).find((cell) => /^## /.test(cell.source))?.source ?? "";
    assert.match(heading, /^## (Your |The next step)/, `${stem}: ${heading.slice(0, 40)}`);
    assert.ok(cells.some((cell) => cellTags(cell).includes("decide")), stem);
  }
});

/** Minutes, assumed: technical prose at 130 words a minute, then what one looks at, moves, or works out. */
const pace = { wordsPerMinute: 130, formula: 0.5, result: 0.5, live: 3, exercise: 3 } as const;

/**
 * Minutes to read a notebook, exercises tried, to the nearest five.
 */
function readingMinutes({ cells }: Pick<Notebook, "cells">): number {
  let minutes = 0;
  for (const cell of cells) {
    const source = cell.source;
    if (!isCode(cell)) {
      const prose = source.replace(/\$\$[\s\S]*?\$\$/g, "").replace(/\]\([^)]*\)/g, "");
      minutes += (prose.match(/[\p{L}\p{N}][^\s]*/gu) ?? []).length / pace.wordsPerMinute;
      minutes += (source.match(/\$\$/g) ?? []).length / 2 * pace.formula;
    } else if (cellTags(cell).includes("exercise")) minutes += pace.exercise;
    else if (/\blive\(/.test(source)) minutes += pace.live;
    else if (!source.includes("openRecord")) minutes += pace.result;
  }
  return Math.max(5, 5 * Math.round(minutes / 5));
}

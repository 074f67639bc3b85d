/** The notebooks' guesses: every beat that asks for one is marked, what tells it is folded, and what is said to come out comes out. */
import assert from "node:assert/strict";
import { cellTags, isCode, type Notebook, readNotebook } from "../../lib/book/notebook.ts";
import { guessAt } from "../../lib/book/pages/guesses.ts";
import { lessonBody } from "../../lib/book/pages/lessonBody.ts";
import { guessMark, trialOf } from "../../lib/lessons/guess.ts";
import { executed, paths, textsOf } from "./runs.ts";

const notebooks = await Promise.all(
  paths.map(async (path) => [path, await readNotebook(path)] as const),
);

const asks = /\*\*Guess[^*]*\*\*/g;

Deno.test("every beat that asks for a guess is followed by the cell that is guessed, and no other cell is", () => {
  let beats = 0;
  for (const [path, { cells }] of notebooks) {
    cells.forEach((cell, at) => {
      if (isCode(cell)) {
        if (!cellTags(cell).includes("guess")) return;
        guessMark(cell.metadata["guess"]);
        const before = cells.slice(0, at).findLast((one) => !isCode(one))?.source ?? "";
        assert.equal(before.match(asks)?.length, 1, `${path}, ${cell.id}: asks once before it`);
        beats++;
        return;
      }
      const asked = cell.source.match(asks)?.length ?? 0;
      if (asked === 0) return;
      const next = cells.slice(at).find(isCode);
      assert.ok(next && cellTags(next).includes("guess"), `${path}, ${cell.id}: asks, not marked`);
    });
  }
  // COMMON PRACTICE: a course that lets its reader guess some four times a page
  assert.ok(beats >= 76, `${beats} beats`);
});

Deno.test("what tells a guess stands below one, is no heading, no caution, no question of the next guess", () => {
  for (const [path, { cells }] of notebooks) {
    let guessed = false;
    for (const cell of cells) {
      const tags = cellTags(cell);
      if (tags.includes("guess")) guessed = true;
      if (!tags.includes("after-guess")) continue;
      assert.ok(guessed, `${path}, ${cell.id}`);
      if (isCode(cell)) continue;
      assert.doesNotMatch(cell.source, /^#|\*\*Guess|Caution/m, `${path}, ${cell.id}`);
      assert.ok(!tags.includes("caution"), `${path}, ${cell.id}`);
    }
  }
});

Deno.test("every “Try it” has a field: its cell proposes a value, and every value proposed has its field", () => {
  let fields = 0;
  for (const [path, { cells }] of notebooks) {
    const html = lessonBody({ cells }).html;
    const found = [...html.matchAll(/<form class="ask try[^>]* data-try="(\d+)"/g)].map(([, n]) =>
      Number(n)
    );
    const code = cells.filter(isCode);
    const proposed = code.flatMap(({ source }, n) => trialOf(source) === undefined ? [] : [n]);
    assert.deepEqual([...found].sort((a, b) => a - b), proposed, path);
    for (const cell of cells) {
      if (!isCode(cell) && cell.source.includes("**Try it:**")) {
        assert.ok(cellTags(cell).includes("try"), `${path}, ${cell.id}`);
      }
    }
    fields += found.length;
  }
  assert.ok(fields >= 17, `${fields} fields`);
});

/** What the page itself says of a guess: the cell's words, and what tells it below. */
function toldBelow({ cells }: Pick<Notebook, "cells">, at: number): string {
  const next = cells.findIndex((cell, i) => i > at && cellTags(cell).includes("guess"));
  const told = cells.slice(at + 1, next < 0 ? undefined : next)
    .filter((cell) => cellTags(cell).includes("after-guess"));
  const own = cells[at];
  return [own, ...told].flatMap((cell) =>
    cell === undefined ? [] : isCode(cell) ? textsOf(cell) : [cell.source]
  ).join("\n");
}

Deno.test("what is said to come out of a guess is what the demo's page shows or tells", async () => {
  let told = 0;
  for (const { stem, notebook } of await executed("finished")) {
    const { cells } = notebook;
    cells.forEach((cell, at) => {
      const guess = guessAt(cell, cells);
      if (guess === undefined) return;
      const mark = guessMark(cell.metadata["guess"]), place = `${stem}, ${cell.id}`;
      if (mark.comes === undefined) {
        if (mark.unit !== undefined) {
          assert.equal(typeof guess.truth, "number", `${place}: no number found`);
        }
        return;
      }
      const says = mark.says ?? String(mark.comes);
      assert.ok(
        toldBelow(notebook, at).toLowerCase().includes(says.toLowerCase()),
        `${place}: nothing below says "${says}"`,
      );
      told++;
    });
  }
  assert.ok(told >= 30, `${told} answers told`);
});

import assert from "node:assert/strict";
import {
  DOINGS,
  idleReasons,
  type StageRow,
  stageRow,
  tableLines,
} from "../../lib/book/courseTable.ts";
import { readNotebook } from "../../lib/book/notebook.ts";
import { course } from "../../lib/lessons/course.ts";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { code, prose } from "./sampleBook.ts";

const rows: StageRow[] = [];
for (const [i, path] of (await notebookPaths()).entries()) {
  const stage = course[i];
  assert.ok(stage !== undefined && path.includes(stage.stem));
  rows.push(stageRow(stage, (await readNotebook(path)).cells, await Deno.readTextFile(path)));
}

Deno.test("every stage teaches, computes, takes readings, decides, lives and cautions, or it is said why it cannot", () => {
  for (const { stage, places } of rows) {
    for (const doing of DOINGS) {
      const { line, why } = places[doing];
      assert.ok(
        (line !== undefined && line > 0) || (why ?? "").length > 20,
        `${stage.stem}: ${doing}`,
      );
    }
  }
  assert.deepEqual(idleReasons(rows), []);
  assert.doesNotMatch(tableLines(rows).join("\n"), /EMPTY|undefined/);
});

Deno.test("a line is where the piece begins in its file", async () => {
  for (const [i, path] of (await notebookPaths()).entries()) {
    const lines = (await Deno.readTextFile(path)).split("\n"), { cells } = await readNotebook(path);
    const line = rows[i]?.places["live"].line;
    if (line === undefined) continue;
    const id = /"id": "([^"]+)"/.exec(lines[line - 1] ?? "")?.[1];
    assert.match(cells.find((cell) => cell.id === id)?.source ?? "", /show\(live\(/, path);
  }
});

Deno.test("what a page does not do stands empty in the table, and that is seen", () => {
  const [, stage] = course;
  assert.ok(stage !== undefined);
  const bare = stageRow(stage, [prose("## Your plan today"), code("show(1);", [])], "");
  assert.equal(bare.places["teaches"].line, undefined);
  assert.match(tableLines([bare]).join("\n"), /EMPTY/);
});

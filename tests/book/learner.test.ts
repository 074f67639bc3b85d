import assert from "node:assert/strict";
import { basename } from "node:path";
import { learnersNotebook } from "../../lib/book/learner.ts";
import { cellTags, isCode, notebookProblems, readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { stageNameOf } from "../../lib/lessons/course.ts";
import { code, notebookOf, prose } from "./sampleBook.ts";

const isExercise = (cell: Parameters<typeof cellTags>[0]): boolean =>
  cellTags(cell).includes("exercise");

Deno.test("every exercise of the course has a cell to start from, and its answer in one line that can be taken out", async () => {
  for (const path of await notebookPaths()) {
    const leader = await readNotebook(path), learner = learnersNotebook(leader);
    const stem = basename(path, ".ipynb");
    assert.deepEqual(notebookProblems(learner), [], stem);
    const asked = leader.cells.filter((cell) => isCode(cell) && isExercise(cell));
    assert.ok(asked.length >= 3, `${stem}: three levels`);
    const numbers = asked.map(({ source }) => /exercise\("([a-z-]+-\d)"/.exec(source)?.[1]);
    assert.deepEqual(numbers, [1, 2, 3].map((level) => `${stageNameOf(stem)}-${level}`));
    for (const { source } of asked) {
      assert.match(source, /^\/\/ .{15,}$/m, `${stem}: a start in words`);
      assert.match(source, /^const \w+ = .+; \/\/ answer$/m, `${stem}: the answer in one line`);
      assert.match(source, /show\(exercise\("[a-z-]+-\d", "[^"]+", \w+\)\);$/, stem);
    }
  }
});

Deno.test("the program grows on seven pages, each step in one line that can be taken out", async () => {
  const found: string[] = [];
  for (const path of await notebookPaths()) {
    for (const cell of (await readNotebook(path)).cells) {
      if (!cellTags(cell).includes("program")) continue;
      found.push(stageNameOf(basename(path, ".ipynb")));
      assert.match(cell.source, /^const \w+ = .+; \/\/ answer$/m, path);
      assert.match(cell.source, /show\(ownProgram\(yours, demo, "[a-z-]+", \w+\)\);$/, path);
    }
  }
  assert.deepEqual(found, [
    "measure-curve",
    "weigh-readings",
    "polish-surface",
    "read-bands",
    "measure-zones",
    "judge-mirror",
    "shape-surface",
  ]);
});

Deno.test("the learner's notebook is the leader's, less the answers: nothing else is changed", async () => {
  for (const path of await notebookPaths()) {
    const leader = await readNotebook(path), learner = learnersNotebook(leader);
    assert.deepEqual(learner.metadata, leader.metadata);
    assert.deepEqual(learner.cells.map(({ id }) => id), leader.cells.map(({ id }) => id));
    leader.cells.forEach((cell, at) => {
      const made = learner.cells[at];
      if (!isCode(cell) || !(isExercise(cell) || cellTags(cell).includes("program"))) {
        return assert.deepEqual(made, cell);
      }
      const before = cell.source.split("\n"), after = made?.source.split("\n") ?? [];
      assert.equal(after.length, before.length);
      after.forEach((line, i) => {
        const was = before[i] ?? "";
        if (was.endsWith("// answer")) {
          assert.match(line, /^const \w+ = undefined; \/\/ your (answer|own line)/);
        } else assert.equal(line, was.replaceAll("exercise", "question"));
      });
    });
  }
});

Deno.test("a cell tagged answer is the leader's alone", () => {
  const notebook = notebookOf([
    prose("Why?"),
    prose("Because.", "answer"),
    code("1", [], "answer"),
  ]);
  assert.deepEqual(learnersNotebook(notebook).cells.map(({ source }) => source), ["Why?"]);
});

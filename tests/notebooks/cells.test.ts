/** The notebooks as they are shipped: cells that type-check and keep the house rules, no outputs, a place in the course. */
import assert from "node:assert/strict";
import { basename } from "node:path";
import { checkCells, findingText } from "../../lib/book/cells.ts";
import { isCode, notebookProblems, readNotebook } from "../../lib/book/notebook.ts";
import { course } from "../../lib/lessons/course.ts";
import { paths } from "./runs.ts";

Deno.test("every cell holds by type, lint and house rules, told by notebook, cell and line", async () => {
  assert.deepEqual((await checkCells(paths)).map(findingText), []);
});

Deno.test("every notebook is valid, shipped without outputs, and a stage of the course", async () => {
  const stems = course.map(({ stem }) => stem);
  for (const path of paths) {
    const notebook = await readNotebook(path);
    assert.deepEqual(notebookProblems(notebook), [], path);
    assert.ok(stems.includes(basename(path, ".ipynb")), path);
    for (const cell of notebook.cells.filter(isCode)) {
      assert.deepEqual([cell.outputs, cell.execution_count], [[], null], `${path}, ${cell.id}`);
    }
    const ids = notebook.cells.map(({ id }) => id);
    assert.equal(new Set(ids).size, ids.length, `${path}: a cell's name twice`);
    assert.ok(ids.every((id) => /^(text|code)-\d\d$/.test(id)), `${path}: ${ids}`);
  }
});

Deno.test("every notebook begins with its title and card, and ends with a decision", async () => {
  for (const path of paths) {
    const { cells } = await readNotebook(path);
    const tags = cells.map(({ metadata }) => (metadata["tags"] as string[] | undefined) ?? []);
    assert.match(cells[0]?.source ?? "", /^# [A-Z].+\n\n.+\?$/, `${path}: title and question`);
    assert.ok(tags[1]?.includes("card"), `${path}: the card comes second`);
    const decide = tags.findLastIndex((these) => these.includes("decide"));
    assert.ok(decide >= cells.length - 3, `${path}: the decision comes at the end`);
    assert.equal(
      tags.filter((these) => these.includes("exercise")).length,
      3,
      `${path}: exercises`,
    );
    assert.ok(tags.some((these) => these.includes("caution")), `${path}: a caution`);
  }
});

Deno.test("links between notebooks lead to stages of the course, other links to pages of the book", async () => {
  const targets = new Set([...course.map(({ stem }) => `${stem}.ipynb`), "report.html"]);
  for (const path of paths) {
    for (const { source } of (await readNotebook(path)).cells) {
      for (const [, target = ""] of source.matchAll(/\]\(([^)\s]+)\)/g)) {
        assert.ok(targets.has(target), `${basename(path)}: ${target}`);
      }
    }
  }
});

/** A notebook with a reader's changes: valid, without outputs, guesses as plain text. */
import assert from "node:assert/strict";
import type { KeptPiece } from "../../lib/living/kept.ts";
import { notebookWith } from "../../lib/living/notebookOut.ts";
import { stemOf } from "../stems.ts";

const at = "2026-11-30T10:00:00.000Z", page = "measure-curve";
const piece = (kind: KeptPiece["kind"], key: string, value: string): KeptPiece => ({
  kind,
  page,
  key,
  value,
  at,
});
const text = await Deno.readTextFile(
  new URL(`../../notebooks/${stemOf(page)}.ipynb`, import.meta.url),
);

interface Cell {
  readonly cell_type: string;
  readonly id: string;
  readonly source: readonly string[];
  readonly outputs?: readonly unknown[];
}
const cellsOf = (notebook: string): readonly Cell[] => JSON.parse(notebook).cells;
const codeOf = (notebook: string): readonly string[] =>
  cellsOf(notebook).filter((cell) => cell.cell_type === "code").map(({ source }) =>
    source.join("")
  );

Deno.test("changed cells, answers and guesses stand in a valid notebook of format 4.5", () => {
  const changed = notebookWith(text, [
    piece("cell", "1", "const aperture = 200;\nshow(aperture);"),
    piece("answer", "measure-curve-1", "1,14"),
    piece("guess", "2", "5 <script>alert(1)</script>\n# loud"),
  ], "2026-11-30");
  const { nbformat, nbformat_minor: minor } = JSON.parse(changed);
  assert.deepEqual([nbformat, minor], [4, 5]);
  const cells = cellsOf(changed), code = codeOf(changed), before = codeOf(text);
  assert.equal(code[1], "const aperture = 200;\nshow(aperture);");
  const exercise = before.findIndex((source) => source.includes('"measure-curve-1"'));
  assert.match(code[exercise] ?? "", /^const tried = 1\.14; \/\/ answer/m);
  for (const [n, source] of code.entries()) {
    if (n !== 1 && n !== exercise) assert.equal(source, before[n], `cell ${n}`);
  }
  assert.equal(new Set(cells.map(({ id }) => id)).size, cells.length);
  assert.ok(cells.every(({ id }) => /^[a-zA-Z0-9_-]{1,64}$/.test(id)));
  assert.equal(cells.at(-1)?.source.at(-1), "    cell 3: 5 <script>alert(1)</script> # loud");
  assert.ok(cells.every(({ outputs }) => outputs === undefined || outputs.length === 0));
});

Deno.test("without changes it is the book's own, and words are an answer too", () => {
  assert.deepEqual(codeOf(notebookWith(text, [], "2026-11-30")), codeOf(text));
  const cell = {
    cell_type: "code",
    metadata: {},
    source: 'const tried = ""; // answer\nshow(question("a-1", "T", tried));',
  };
  const made = notebookWith(JSON.stringify({ cells: [cell], metadata: {} }), [
    piece("answer", "a-1", 'the "lap"'),
  ], "2026-11-30");
  assert.match(codeOf(made)[0] ?? "", /^const tried = "the \\"lap\\""; \/\/ answer\n/);
});

/** The learner's edition of a notebook, made from the leader's: the same cells, without the answers. */
import { exercises } from "../lessons/exercises.ts";
import { type Cell, cellTags, isCode, type Notebook } from "./notebook.ts";

/** What stands in place of an answer: which kind is wanted. */
function wanted(id: string): string {
  const exercise = exercises.find((one) => one.id === id);
  if (exercise === undefined) return "your own line";
  if ("choices" in exercise) {
    return `your answer: ${exercise.choices.map((c) => `"${c}"`).join(" or ")}`;
  }
  return `your answer${exercise.unit === "" ? ", a number" : `, in ${exercise.unit}`}`;
}

const answerLine = /^(\s*const \w+) = .*; \/\/ answer$/;

/** The source of an exercise's cell with nothing filled in, calling for the question alone. */
function emptied(source: string): string {
  const id = /exercise\("([a-z-]+-\d)"/.exec(source)?.[1] ?? "";
  return source.split("\n").map((line) =>
    line.replace(answerLine, `$1 = undefined; // ${wanted(id)}`)
  )
    .join("\n").replace(/\bexercise\b/g, "question");
}

/**
 * The learner's notebook: in cells tagged `exercise`, what a line ending in `// answer` holds becomes `undefined`, and
 * the exercise is shown without its answer; so it does in cells tagged `program`, where the reader's own program grows. Cells
 * tagged `answer` are left out. Everything else stays as it is.
 *
 * @param notebook  the leader's, as stored
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const source = 'const tried = 1.19; // answer\nshow(exercise("open-record-1", "Inches", tried));';
 * const cell = { id: "a", metadata: { tags: ["exercise"] }, cell_type: "code", source, outputs: [], execution_count: null } as const;
 * const { cells } = learnersNotebook({ nbformat: 4, nbformat_minor: 5, metadata: {}, cells: [cell] });
 * assert.equal(cells[0]?.source, 'const tried = undefined; // your answer, in mm\nshow(question("open-record-1", "Inches", tried));');
 * ```
 */
export function learnersNotebook(notebook: Notebook): Notebook {
  const cells = notebook.cells.filter((cell) => !cellTags(cell).includes("answer"))
    .map((cell): Cell =>
      isCode(cell) && cellTags(cell).some((tag) => tag === "exercise" || tag === "program")
        ? { ...cell, source: emptied(cell.source) }
        : cell
    );
  return { ...notebook, cells };
}

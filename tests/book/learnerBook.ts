/** The learner's book from a leader's that has run: its exercise cells emptied and shown as questions, then written. */
import { kitScripts } from "../../lib/book/library.ts";
import { basename } from "node:path";
import { learnersNotebook } from "../../lib/book/learner.ts";
import { cellTags, isCode, type Notebook } from "../../lib/book/notebook.ts";
import { BookWriter, type Executed } from "../../lib/book/writeBook.ts";
import type { BookFacts } from "../../lib/book/pages/facts.ts";
import { exercises, question } from "../../lib/lessons/exercises.ts";
import { misconceptions } from "../../lib/lessons/exercises/misconceptions.ts";

/** What the learner's notebook shows: the leader's outputs, but under each exercise what `question` shows. */
function asExecuted(leader: Notebook): Notebook {
  const learner = learnersNotebook(leader);
  const cells = learner.cells.map((cell) => {
    if (isCode(cell) && cellTags(cell).includes("program")) return { ...cell, outputs: [] };
    if (!isCode(cell) || !cellTags(cell).includes("exercise")) return cell;
    const [, id = "", title = ""] = /question\("([a-z-]+-\d)", "([^"]*)"/.exec(cell.source) ?? [];
    const { html, text } = question(id, title);
    const data = { "text/html": `<div class="first-mirror">${html}</div>`, "text/plain": text };
    return { ...cell, outputs: [{ output_type: "display_data" as const, data, metadata: {} }] };
  });
  return { ...learner, cells };
}

/** Writes every file of a book into an empty folder, from notebooks that have all run. */
export async function writeBook(
  folder: string,
  results: readonly Executed[],
  facts: BookFacts,
): Promise<void> {
  const writer = new BookWriter(folder, results, facts);
  for (const result of results) writer.take(result);
  await writer.end(await kitScripts());
}

/** Writes the learner's book into an empty folder. */
export async function writeLearnersBook(
  folder: string,
  leader: readonly Executed[],
  facts: BookFacts,
): Promise<void> {
  const made = leader.map(({ path, notebook }) => ({ path, notebook: asExecuted(notebook) }));
  await writeBook(folder, made, { ...facts, edition: "learner" });
}

/** Every file below a folder, with its text. */
async function* texts(folder: string): AsyncGenerator<readonly [path: string, text: string]> {
  for await (const { name, isDirectory } of Deno.readDir(folder)) {
    const path = `${folder}/${name}`;
    if (isDirectory) yield* texts(path);
    else yield [path, await Deno.readTextFile(path)];
  }
}

/** A sentence in the ways a file may hold it: as it is, escaped for markup, escaped for JSON, both. */
function spellings(sentence: string): string[] {
  const markup = sentence.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;").replaceAll("'", "&#39;");
  const all = [sentence, markup].flatMap((one) => [one, JSON.stringify(one).slice(1, -1)]);
  return [...new Set(all)];
}

/** Everything that tells an answer of an exercise, or what a wrong one shows. */
export function tellingSentences(): readonly (readonly [id: string, sentence: string])[] {
  const own = exercises.flatMap(({ id, hints, traps }) =>
    [...hints, ...traps.map(({ hint }) => hint).filter((hint) => !(hint in misconceptions))]
      .map((sentence) => [id, sentence] as const)
  );
  return [
    ...own,
    ...Object.values(misconceptions).map((sentence) => ["misconceptions", sentence] as const),
  ];
}

/**
 * Where a book gives an exercise away: an answer worked out, a hint, a sentence that belongs to a wrong answer, the answer in
 * data or in the cell. One line for each find.
 */
export async function answersIn(folder: string): Promise<string[]> {
  const found: string[] = [];
  for await (const [path, text] of texts(folder)) {
    const file = basename(path);
    for (const [id, sentence] of tellingSentences()) {
      if (spellings(sentence).some((one) => text.includes(one))) {
        found.push(`${file}: ${id}: ${sentence}`);
      }
    }
    for (
      const sign of [
        /\\?"answer\\?":/,
        /"traps/,
        /\/\/ answer\b/,
        /\bexercise\(\\?"[a-z-]+-\d/,
      ]
    ) {
      if (sign.test(text)) found.push(`${file}: ${sign}`);
    }
  }
  return found;
}

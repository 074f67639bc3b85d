/** No page, and no sentence of the library, says a wait, a charge, a turn or a time of its own: the shared facts have them all. */
import assert from "node:assert/strict";
import ts from "typescript";
import { isCode, readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "./notebookPaths.ts";
import { contradicting } from "./saidNumbers.ts";

const told = (text: string): string[] =>
  contradicting(text).map(({ text: number, sentence }) => `“${number}” in: ${sentence.trim()}`);

/** The sentences of a module: its strings and templates, what is put into them left out. */
function sentencesOf(source: string, file: string): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) found.push(node.text);
    else if (ts.isTemplateExpression(node)) {
      found.push(
        node.head.text + node.templateSpans.map(({ literal }) => `…${literal.text}`).join(""),
      );
    }
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(file, source, ts.ScriptTarget.Latest));
  return found.filter((text) => text.includes(" "));
}

Deno.test("the notebooks' prose quotes the shared facts, and contradicts none", async () => {
  const faults: string[] = [];
  for (const path of await notebookPaths()) {
    for (const cell of (await readNotebook(path)).cells) {
      if (!isCode(cell)) faults.push(...told(cell.source).map((fault) => `${path}: ${fault}`));
    }
  }
  assert.deepEqual(faults, []);
});

Deno.test("the library's sentences do so too", async () => {
  const faults: string[] = [];
  const look = async (at: URL): Promise<void> => {
    for await (const { name, isDirectory } of Deno.readDir(at)) {
      const path = new URL(name + (isDirectory ? "/" : ""), at);
      if (isDirectory) await look(path);
      else if (name.endsWith(".ts")) {
        for (const text of sentencesOf(await Deno.readTextFile(path), name)) {
          faults.push(...told(text).map((fault) => `${path.pathname}: ${fault}`));
        }
      }
    }
  };
  await look(new URL("../../lib/", import.meta.url));
  assert.deepEqual(faults, []);
});

Deno.test("the words of the tables and of the readmes do so too", async () => {
  const faults: string[] = [];
  for (const name of ["hazards", "decisions", "facts"]) {
    const text = await Deno.readTextFile(new URL(`../../data/tables/${name}.csv`, import.meta.url));
    // a fact's own row and a head say what a number is for
    for (const line of text.split("\n").filter((one) => name !== "facts" || one.startsWith("#"))) {
      faults.push(...told(line).map((fault) => `${name}.csv: ${fault}`));
    }
  }
  for (const name of ["README.md", "data/records/README.md"]) {
    const text = await Deno.readTextFile(new URL(`../../${name}`, import.meta.url)).catch(() => "");
    faults.push(...told(text).map((fault) => `${name}: ${fault}`));
  }
  assert.deepEqual(faults, []);
});

Deno.test("what contradicts a fact is found, in digits and in words; what agrees, and what is no fact, is not", () => {
  const found = (text: string): string[] => contradicting(text).map(({ text: number }) => number);
  assert.deepEqual(found("Wait an hour after you last touched the mirror."), ["an hour"]);
  assert.deepEqual(found("Wait half an hour after a bare hand touched it."), []);
  assert.deepEqual(found("Turn the upper disc by a third of a turn."), ["a third of a turn"]);
  assert.deepEqual(found("Turn the upper disc by 140°, the lower one by 50°."), ["140°"]);
  assert.deepEqual(found("Press the lap for 40 minutes."), ["40 minutes"]);
  assert.deepEqual(found("Press the lap for 15 minutes."), []);
  assert.deepEqual(found("A charge is six grams of F80."), ["six grams"]);
  assert.deepEqual(found("Let the bevel be 0.2 mm; a bevel of 3.5 mm."), ["3.5 mm"]);
  assert.deepEqual(found("Count pits in five fields at the edge."), ["five fields"]);
  assert.deepEqual(found("Give 55 strokes a minute."), ["55 strokes a minute"]);
  assert.deepEqual(found("A burn wants 7 minutes of cool water."), ["7 minutes"]);
  assert.deepEqual(found("The slit is 0.4 mm wide."), ["0.4 mm"]);
  assert.deepEqual(found("Press with 9 kg, glass included."), ["9 kg"]);
  assert.deepEqual(found("Jupiter turns in ten hours."), []);
});

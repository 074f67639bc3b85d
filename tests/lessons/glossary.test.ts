import assert from "node:assert/strict";
import { basename } from "node:path";
import { cellTags, isCode, readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { glossary, termId, termOf, termPattern } from "../../lib/lessons/glossary.ts";
import { stageNameOf } from "../../lib/lessons/course.ts";
import { plainWords } from "./plainWords.ts";

Deno.test("each word has one meaning: one sentence, without a formula or a word of another trade", () => {
  for (const { term, says } of glossary) {
    assert.match(says, /^[A-Z].{15,140}\.$/, term);
    assert.ok(!says.slice(0, -1).includes(". "), `${term}: one sentence`);
    assert.doesNotMatch(says, /[$—=]/, term);
  }
});

Deno.test("no word and no form stands twice for the same notebook, no two have the same place", () => {
  assert.equal(new Set(glossary.map(({ term }) => termId(term))).size, glossary.length);
  const forms = glossary.flatMap((term) => term.forms.map((form) => form.toLowerCase()));
  assert.deepEqual(forms.filter((form, i) => forms.indexOf(form) !== i), []);
  for (const { term, forms } of glossary) {
    for (const form of forms) {
      assert.equal(termOf(form)?.term, term);
      assert.equal(form.match(termPattern())?.[0], form, `${form} is found whole`);
    }
  }
});

Deno.test("the words of the course are all there", () => {
  const course =
    "aperture bevel blank chord paraboloid sphere oblate abrasive grade ds50 charge overhang stroke pit pitch lap facet " +
    "channel polishing figuring spherometer Ronchigram zone mask wavefront wave P-V RMS astigmatism coma flat offset " +
    "obstruction vignetting cell collimation seeing straight-edge interval";
  const longer = [
    ...["conic constant K", "radius of curvature R", "focal length f", "focal ratio", "sagitta s"],
    ...["chord stroke", "rough grinding", "fine grinding", "cold pressing", "feeler leaf"],
    ...["centre of curvature", "Ronchi test", "knife-edge", "moving source", "surface error"],
    ...["Strehl ratio", "Airy disc", "spherical aberration", "turned edge", "Birge ratio"],
    ...["standard uncertainty u", "fully lit field", "exit pupil", "first light"],
  ];
  const known = new Set(glossary.map(({ term }) => term));
  assert.deepEqual([...course.split(" "), ...longer].filter((word) => !known.has(word)), []);
});

/** Prose of a lesson card and of headings, without links' targets, code and numbers. */
function shownFirst(source: string, isCard: boolean): string {
  const lines = isCard ? source : (source.match(/^#+ .*$/gm) ?? []).join("\n");
  return lines.replace(/\]\([^)]*\)/g, "]").replace(/`[^`]*`|\$[^$]*\$/g, " ");
}

Deno.test("every word of a lesson card or heading is an everyday one or stands in the glossary", async () => {
  const unknown = new Map<string, string>();
  for (const path of await notebookPaths()) {
    const name = stageNameOf(basename(path, ".ipynb"));
    for (const cell of (await readNotebook(path)).cells) {
      if (isCode(cell)) continue;
      const text = shownFirst(cell.source, cellTags(cell).includes("card"))
        .replace(termPattern(name), " ");
      for (const [word] of text.toLowerCase().replaceAll("’", "'").matchAll(/\p{L}[\p{L}'-]+/gu)) {
        if (!plainWords.has(word)) unknown.set(word, basename(path));
      }
    }
  }
  assert.deepEqual([...unknown], [], "put the word into lib/lessons/words.ts, or say it plainly");
});

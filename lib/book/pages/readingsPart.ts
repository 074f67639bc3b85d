/** The parts of a page that a reader writes in: forms for the stage's readings, and what she keeps on her device. */
import { formHtml } from "../../forms/formHtml.ts";
import { tableForm } from "../../forms/tableForm.ts";
import { type Html, safe, trusted } from "../../figures/html.ts";
import { course } from "../../lessons/course.ts";
import { dayNow } from "../../record/readRecord.ts";
import { SCHEMA, type TableName } from "../../record/schema.ts";
import type { BookFacts } from "./facts.ts";

/** The record's tables as text, by their names in the folder; absent where there is no such file. */
export type TableTexts = ReadonlyMap<string, string>;

/** How a table is called above its form. */
function nameOf(table: TableName): string {
  const { title } = SCHEMA[table];
  return `${title.charAt(0).toUpperCase()}${title.slice(1)}`;
}

/**
 * The forms of a stage: the first open, the others folded; below them what was typed, the numbers and the next step.
 *
 * @param stage  name of the stage
 * @returns nothing where the stage takes no reading
 */
export function readingsPart(
  stage: string,
  { record, summary, today, readingsAt }: BookFacts,
  texts: TableTexts,
): Html | undefined {
  const tables = course.find(({ name }) => name === stage)?.tables ?? [];
  if (tables.length === 0) return undefined;
  if (readingsAt !== undefined) return readElsewhere(readingsAt, summary);
  const day = today ?? dayNow();
  const forms = tables.map((table, at) => {
    const form = tableForm(table, texts.get(`${table}.csv`), record, day);
    // the day is the reader's, not the one on which the book was built
    const fields = form.fields.map(({ usual, ...field }) =>
      usual === undefined || field.name === "date" ? field : { ...field, usual }
    );
    return safe`<details class="fold"${at === 0 && trusted(" open")}><summary>${
      nameOf(table)
    }</summary>
${formHtml({ ...form, fields }, `type-${table}`)}<ul data-typed="${table}" hidden></ul>
</details>
`;
  });
  const { nextStep } = summary;
  return safe`<section class="yours type js-only" aria-labelledby="type-readings">
<h2 id="type-readings">Type a reading</h2>
<p class="note">It stays on this device until you take it along, or write it into your folder.</p>
${forms}<dl class="facts" data-numbers aria-live="polite"></dl>
<p class="kicker">Next step, after what was typed</p>
<p class="caution-line" data-told="caution">${nextStep.caution}</p>
<p data-told="do" data-next-step aria-live="polite">${nextStep.do}</p>
<p class="note">Until <span data-told="until">${nextStep.until}</span></p>
<ul class="doubts" data-doubts></ul>
</section>
`;
}

/** In a room: readings go into the record at the bench's own page, and this one follows when it is opened again. */
function readElsewhere(address: string, { nextStep }: BookFacts["summary"]): Html {
  return safe`<section class="yours type" aria-labelledby="type-readings">
<h2 id="type-readings">Type a reading</h2>
<p>Readings go in at <a href="${address}#reading">the bench’s page</a>, where everybody has them at once. Open this page anew after that.</p>
<p class="caution-line">${nextStep.caution}</p>
<p data-next-step>${nextStep.do}</p>
<p class="note">Until ${nextStep.until}</p>
</section>
`;
}

/**
 * What is kept on this device: counted, taken along, put in.
 *
 * @param isLesson  the page has cells, and so a notebook
 */
export function workPart(isLesson: boolean): Html {
  return safe`<section class="kept js-only" id="kept" aria-labelledby="kept-title">
<h2 id="kept-title">Kept on this device</h2>
<p>What you wrote stays in this browser when you close the page. A new edition of the book does not touch it. Other people who use this browser can read it; a private window forgets it.</p>
<p class="not-kept" data-not-kept role="alert" hidden></p>
<p class="not-kept" data-other-record hidden>These pages show the record that you put in, not the one the book was built on.</p>
<dl class="facts"><dt>guesses</dt><dd data-count="guess">0</dd><dt>answers</dt><dd data-count="answer">0</dd><dt>changed cells</dt><dd data-count="cell">0</dd><dt>readings</dt><dd data-count="reading">0</dd><dt>last kept</dt><dd data-last-kept>nothing yet</dd></dl>
<p class="acts"><button type="button" class="push" data-take-work disabled>Take my work</button>${
    isLesson &&
    safe`<button type="button" class="act" data-take-notebook disabled>Take the notebook</button>`
  }<button type="button" class="act" data-write-folder disabled hidden>Write into my folder</button></p>
<p class="puts"><label>Put work in<input type="file" data-put-work accept=".json,application/json" multiple disabled></label>
${
    !isLesson &&
    safe`<label>Put a folder of work in<input type="file" data-put-work webkitdirectory disabled></label>
`
  }<label>Put a record in<input type="file" data-put-record accept=".zip,.csv,.yaml,.yml" multiple disabled></label>
<label>Put a record’s folder in<input type="file" data-put-record webkitdirectory disabled></label></p>
<div class="said" data-said role="status"></div>
</section>
`;
}

/** The front of a class's book: its benches, each with a way to its own pages, and the lessons that all of them share. */
import { type Html, safe } from "../../figures/html.ts";
import type { ClassLine, ClassNow } from "../../knowledge/classLines.ts";
import { KIT_VERSION } from "../../version.ts";
import type { Chapter } from "./chapters.ts";
import { counted, dayOf } from "./facts.ts";
import { plainBar, shell } from "./shell.ts";

/** What the front is made from. */
export interface ClassFrontParts {
  readonly now: ClassNow;
  readonly chapters: readonly Chapter[];
  readonly builtOn: Date;
  /** for the learner's edition: benches in the order of their folders, and no word on who needs help */
  readonly isLearners: boolean;
}

const { compare } = new Intl.Collator("en", { numeric: true });

function bench({ folder, name, state, why, stage, reason }: ClassLine, isLearners: boolean): Html {
  const isThere = state === "read" || state === "refused";
  const words = isThere
    ? safe`<a class="name" href="benches/${encodeURIComponent(folder)}/index.html">${name}</a>`
    : safe`<span class="name later">${name}</span>`;
  const told = state === "read"
    ? safe`<p>${stage}${!isLearners && `: ${reason}`}</p>`
    : safe`<p>${why ?? reason}</p>`;
  return safe`<li>${words}${told}</li>
`;
}

function lesson({ title, line, file }: Chapter): Html {
  return safe`<li>${
    file === undefined
      ? safe`<span class="name later">${title}</span>`
      : safe`<a class="name" href="${file}">${title}</a>`
  }<p>${line}</p></li>
`;
}

/** The front page of a class's book. */
export function classFront({ now, chapters, builtOn, isLearners }: ClassFrontParts): string {
  const benches = isLearners
    ? now.benches.toSorted((a, b) => compare(a.folder, b.folder))
    : now.benches;
  return shell({
    title: `${now.title} · First Mirror`,
    description: "One book for a class: a page of its own for each bench, lessons for all.",
    header: safe`${plainBar(true)}
<div class="title">
<p class="kicker">${counted(benches.length, "bench", "benches")} · ${now.today}</p>
<h1>${now.title}</h1>
<p class="standfirst">Each bench has pages of its own: its next step, its report, its sheets. The lessons are everybody’s; the choice on top of each says whose readings its numbers are of.</p>
</div>`,
    main: safe`<section aria-labelledby="benches"><h2 id="benches">Benches</h2>
<ol class="bench-list">
${benches.map((line) => bench(line, isLearners))}</ol></section>
<section aria-labelledby="lessons"><h2 id="lessons">Lessons</h2>
<ol class="bench-list">
${chapters.map(lesson)}</ol></section>
${
      !isLearners &&
      safe`<p class="screen-only sheet-link"><a href="class.html">The class at a glance</a></p>`
    }`,
    footer: safe`<p>First Mirror ${KIT_VERSION}, ${isLearners && "learner’s edition, "}built on ${
      dayOf(builtOn)
    }.</p>`,
  });
}

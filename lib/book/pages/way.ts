/** The mirror's way, on top of each page: how many stages are done, where the mirror is, what comes next. */
import { type Html, safe, trusted } from "../../figures/html.ts";
import { course } from "../../lessons/course.ts";
import type { Chapter } from "./chapters.ts";
import { type BookFacts, bound } from "./facts.ts";
import { spokenState, stageOfNextStep, type StageState, stageStates } from "./status.ts";

const placed: Readonly<Record<StageState, string>> = {
  done: "This page lies behind it: come back to look, or to check yourself.",
  here: "This is the page for it.",
  ahead: "This page lies ahead.",
};

function linked(chapter: Chapter, here: Chapter): Html {
  const current = chapter === here && trusted(' aria-current="page"');
  return chapter.file === undefined
    ? safe`<span>${chapter.title}</span>`
    : safe`<a href="${chapter.file}"${current}>${chapter.title}</a>`;
}

/** The leader's page about many mirrors is no stage of one. */
const ofOneMirror = ({ name }: Chapter): boolean => name !== "compare-class";

/** To have a folder and a plan is no work done. */
const ofTheWork = ({ name }: Chapter): boolean =>
  name !== "open-record" && name !== "choose-mirror";

/** "3 of 18 stages done." */
function counted(done: number, all: number): string {
  return done === 0
    ? `Planned, and nothing done yet: ${all} stages lie ahead.`
    : `${done} of ${all} stages done.`;
}

/**
 * Where the mirror is, seen from one page.
 *
 * @param page      the page's stage, one of `chapters`
 * @param chapters  of this book
 */
export function mirrorsWay(facts: BookFacts, page: Chapter, chapters: readonly Chapter[]): Html {
  const { summary } = facts;
  const states = stageStates(facts), stages = chapters.filter(ofOneMirror);
  const stateOf = ({ stem }: Chapter): StageState => states.get(stem) ?? "ahead";
  // a page with forms for readings tells the next step below them
  const takesReadings = course.some(({ stem, tables }) =>
    stem === page.stem && tables !== undefined
  );
  const now = chapters.find(({ stem }) => stem === stageOfNextStep(summary)?.stem);
  const work = stages.filter(ofTheWork);
  const done = work.filter((stage) => stateOf(stage) === "done").length;
  const items = stages.map((stage) =>
    safe`<li class="${stateOf(stage)}"><span>${linked(stage, page)}<span class="sr"> (${
      spokenState[stateOf(stage)]
    })</span></span></li>
`
  );
  return safe`<aside class="way screen-only" aria-label="Your mirror’s way">
<p class="tag dot-mine"><span>Your mirror · ${summary.title}</span></p>
<p>${counted(done, work.length)}${
    now && safe` Now: ${now === page ? now.title : linked(now, page)}.`
  } ${ofOneMirror(page) && placed[stateOf(page)]}</p>
<p class="next mind"><b>Mind first:</b> <span data-told="caution">${
    bound(summary.nextStep.caution)
  }</span></p>
<p class="next"><b>Next step:</b> <span data-told="do"${
    !takesReadings && trusted(" data-next-step")
  }>${takesReadings ? bound(summary.nextStep.do) : summary.nextStep.do}</span></p>
<details><summary>The whole way</summary>
<ol start="0">
${items}</ol></details>
</aside>`;
}

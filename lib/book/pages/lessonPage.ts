/** One stage's page: title, sign, list of what is on it, body, way on. */
import { type Html, safe, trusted } from "../../figures/html.ts";
import type { PageData } from "../../living/pageData.ts";
import type { Chapter } from "./chapters.ts";
import { type BookFacts, dayOf, depthNow, plainNumber } from "./facts.ts";
import { wordsOfPage } from "./glossaryPage.ts";
import type { LessonBody } from "./lessonBody.ts";
import { linkPages } from "./links.ts";
import { line } from "./markdown.ts";
import { benchChoice, bookBar, edge, type NotebookInPage, shell } from "./shell.ts";
import { stageStates } from "./status.ts";
import { stageNameOf } from "../../lessons/course.ts";
import { readingsPart, type TableTexts, workPart } from "./readingsPart.ts";
import { textOf } from "./textOf.ts";
import { mirrorsWay } from "./way.ts";

/** What a stage's page is made from. */
export interface LessonParts {
  /** made from the notebook that was executed on the record the book is about */
  readonly body: LessonBody;
  /** the stage; one of `chapters` */
  readonly chapter: Chapter;
  readonly chapters: readonly Chapter[];
  readonly facts: BookFacts;
  /** what all pages of the book carry for the script beside them; without it no cell runs */
  readonly living?: Omit<PageData, "page">;
  /** the notebook without outputs, to be taken along */
  readonly notebook?: NotebookInPage;
  /** the record's tables, for the forms */
  readonly texts?: TableTexts;
}

/** The stage that lets its reader guess how deep the hollow is. */
const asksDepth = "choose-mirror";

/** The sentence under the sign: whose curve it is, and how deep, where that is not asked below. */
function dims({ summary, record }: BookFacts, stem: string): Html {
  const { depth, measured } = depthNow(summary);
  const across = plainNumber(record.settings.aperture);
  const whose = measured ? "your mirror’s curve" : "the curve you are after";
  const deep = stageNameOf(stem) !== asksDepth && safe` and ${depth.toFixed(3)} mm deep`;
  return safe`<p class="dims">Above: ${whose} under a straight-edge, to scale. It is ${across} mm across${deep}.${
    record.settings.shownIn === "inch" && IN_INCHES
  }</p>`;
}

/** What stays in millimetres on a page told in inches. */
const IN_INCHES =
  " Lengths on this page are in inches, as mirror.yaml wants them; code, formulas, guesses, exercises, live figures and the axes of drawings stay in millimetres.";

function pager(chapters: readonly Chapter[], here: Chapter): Html {
  const written = chapters.filter((chapter) => chapter.file !== undefined);
  const at = written.indexOf(here);
  const back = written[at - 1], on = written[at + 1];
  return safe`<nav class="pager" aria-label="Previous and next stage">
${back && safe`<a href="${back.file}" rel="prev"><span>Back</span>${back.title}</a>`}
${
    on === undefined
      ? safe`<a href="report.html" rel="next"><span>Next</span>The mirror’s report</a>`
      : safe`<a href="${on.file}" rel="next"><span>Next</span>${on.title}</a>`
  }
</nav>`;
}

/** The parts of a stage's page that are one mirror's, as markup: all else of the page is every mirror's. */
export interface MirrorParts {
  /** the curve to scale, and what it is of */
  readonly sign: Html;
  /** where the mirror is, and its next step */
  readonly way: Html;
  /** forms for its readings */
  readonly readings: Html | undefined;
}

/** A stage's page as one mirror has it. */
export function mirrorParts(
  facts: BookFacts,
  chapter: Chapter,
  chapters: readonly Chapter[],
  texts: TableTexts,
): MirrorParts {
  const { summary, record } = facts, states = stageStates(facts);
  const sign = edge({
    aperture: record.settings.aperture,
    depth: depthNow(summary).depth,
    stages: chapters.length,
    here: chapter.number,
    done: new Set(chapters.filter(({ stem }) => states.get(stem) === "done").map((c) => c.number)),
  });
  return {
    sign: safe`${sign}
${dims(facts, chapter.stem)}`,
    way: mirrorsWay(facts, chapter, chapters),
    readings: readingsPart(stageNameOf(chapter.stem), facts, texts),
  };
}

/** A part that the page's script puts another bench's in the place of. */
function ofBench(
  name: keyof MirrorParts,
  part: Html | undefined,
  { benches }: BookFacts,
): Html | undefined {
  return benches === undefined
    ? part
    : safe`<div class="of-bench" data-of-bench="${name}">${part}</div>`;
}

/** A stage's page as one file that needs nothing else. */
export function lessonPage(
  { body, chapter, chapters, facts, living, notebook, texts = new Map() }: LessonParts,
): string {
  const { summary, builtOn, benches } = facts;
  const standfirst = body.standfirst ?? line(chapter.question);
  const { sign, way, readings } = mirrorParts(facts, chapter, chapters, texts);
  const list = body.anchors.length < 2
    ? ""
    : `<nav class="side list" aria-label="On this page"><b>On this page</b><ul>${
      body.anchors.map(({ id, text }) => `<li><a href="#${id}">${text}</a></li>`).join("")
    }</ul></nav>\n`;
  const title = body.title === undefined ? safe`${chapter.title}` : trusted(line(body.title));
  const named = body.title === undefined ? chapter.title : body.title;
  return shell({
    ...(living === undefined ? {} : { living: { ...living, page: stageNameOf(chapter.stem) } }),
    ...(notebook === undefined ? {} : { notebook }),
    title: `${named} · First Mirror`,
    description: textOf(standfirst),
    header: safe`${bookBar(chapters, chapter.file)}
<div class="title">
<p class="kicker">Stage ${chapter.number} · ${chapter.part}</p>
<h1>${title}</h1>
<p class="standfirst">${trusted(standfirst)}</p>
</div>
${benches && benchChoice(benches)}${ofBench("sign", sign, facts)}`,
    main: safe`${ofBench("way", way, facts)}
${trusted(linkPages(list + body.html, chapters))}
${living && ofBench("readings", readings, facts)}${living && workPart(true)}${
      wordsOfPage(body.words)
    }`,
    after: pager(chapters, chapter),
    footer: safe`<p>${
      facts.edition === "learner" &&
      safe`Learner’s edition: answers are found, not given. This page checks them; answers and hints stand in it out of plain sight, which is no lock. ${
        benches === undefined &&
        safe`<code>deno task lab ${summary.record} --learner</code> makes your own copy of its notebook, <code>${chapter.stem}.ipynb</code>, once and opens it. `
      }`
    }Built from the ${benches === undefined ? "record" : "class"} <code>${
      benches?.title ?? summary.record
    }</code> by First Mirror ${summary.kitVersion} on ${dayOf(builtOn)}.</p>`,
  });
}

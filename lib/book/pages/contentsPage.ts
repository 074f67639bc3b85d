/** The front of a book: what the mirror needs next, what is known of it, and the stages as a path. */
import { type Html, safe, trusted } from "../../figures/html.ts";
import { knownQuantities } from "../../knowledge/quantities.ts";
import { wasWritten } from "../../record/readings.ts";
import type { Chapter } from "./chapters.ts";
import { type BookFacts, bound, dayOf, plainNumber, told } from "./facts.ts";
import { standing } from "./reportPage.ts";
import type { PageData } from "../../living/pageData.ts";
import { workPart } from "./readingsPart.ts";
import { edge, plainBar, shell } from "./shell.ts";
import { stageDrawing } from "./stageDrawings.ts";
import {
  knownStages,
  probabilityText,
  spokenState,
  stageOfNextStep,
  type StageState,
  stageStates,
} from "./status.ts";

/** Name and value of what is worth knowing at a glance; what is unknown is left out. */
function facts({ summary, record }: BookFacts): (readonly [string, Html])[] {
  const { curve, grinding, verdict } = summary;
  const rows: (readonly [string, Html | undefined])[] = [
    ...knownQuantities(summary, "front").map(({ title, value }) => [title, told(value)] as const),
    ["Goal met", verdict && safe`${verdict.meetsGoal}, ${probabilityText(verdict.probability)}`],
    [
      "Glass",
      curve === undefined && grinding === undefined
        ? safe`${record.settings.glass}${!wasWritten(record, "glass") && " (assumed)"}`
        : undefined,
    ],
  ];
  return rows.flatMap(([name, value]) => value === undefined ? [] : [[name, value] as const]);
}

function mirror(parts: BookFacts, chapters: readonly Chapter[]): Html {
  const { summary } = parts;
  const step = summary.nextStep;
  const stage = stageOfNextStep(summary);
  const file = chapters.find((chapter) => chapter.stem === stage?.stem)?.file;
  return safe`<section class="mirror" aria-labelledby="mirror-title">
<div class="wide">
<p class="tag dot-mine"><span>Your mirror · ${summary.title}</span></p>
<p class="mind"><b>Mind first:</b> <span data-told="caution">${bound(step.caution)}</span></p>
</div>
<div>
<h2 id="mirror-title"><span data-told="do">${bound(step.do)}</span></h2>
<p class="kicker">Until <span data-told="until">${bound(step.until)}</span></p>
<p class="screen-only"><a href="${file ?? "report.html"}">Why, and how sure</a></p>
</div>
<dl class="facts">
${
    facts(parts).map(([name, value]) =>
      safe`<dt>${name}</dt><dd>${value}</dd>
`
    )
  }</dl>
${standing(summary)}
</section>`;
}

function item(chapter: Chapter, state: StageState, got: Html | undefined): Html {
  const { number, title, line, file } = chapter;
  const current = state === "here" && trusted(' aria-current="step"');
  const name = file === undefined
    ? safe`<span class="name later"${current}>${title}</span><span class="sr"> (${
      spokenState[state]
    })</span><p>${line} Not written yet.</p>`
    : safe`<a class="name" href="${file}"${current}>${title}</a><span class="sr"> (${
      spokenState[state]
    })</span><p>${line}</p>`;
  const here = state === "here" && "You are here";
  const known = got === undefined
    ? here && safe`<p class="got">${here}</p>`
    : safe`<p class="got">${here && `${here}: `}${got}</p>`;
  return safe`<li id="s${number}" class="${state}"><span class="num">${number}</span><div>${name}${known}</div>${
    stageDrawing(chapter.name)
  }</li>
`;
}

function path(
  chapters: readonly Chapter[],
  known: ReadonlyMap<string, Html>,
  states: ReadonlyMap<string, StageState>,
): Html[] {
  const parts = [...new Set(chapters.map((chapter) => chapter.part))];
  return parts.map((part) => {
    const own = chapters.filter((chapter) => chapter.part === part);
    const items = own.map((chapter) =>
      item(chapter, states.get(chapter.stem) ?? "ahead", known.get(chapter.stem))
    );
    return safe`<section class="part" aria-label="${part}"><h2>${part}</h2><ol class="path" start="${
      own[0]?.number ?? 0
    }">
${items}</ol></section>
`;
  });
}

/**
 * The contents page of a book, from its record's state and the notebooks at hand.
 *
 * @param parts     facts of the book
 * @param chapters  all stages; those without a file are named, not linked
 * @param inClass   the record lies among others, and the book has their page
 * @param living    what all pages of the book carry for the script beside them
 */
export function contentsPage(
  parts: BookFacts,
  chapters: readonly Chapter[],
  inClass = false,
  living?: Omit<PageData, "page">,
): string {
  const { summary, builtOn } = parts;
  const { design } = summary;
  const here = stageOfNextStep(summary);
  const known = new Map([...knownStages(parts)].map(([stage, got]) => [stage.stem, got]));
  const states = stageStates(parts);
  const sign = edge({
    aperture: design.aperture.value,
    depth: design.sagitta.value,
    stages: chapters.length,
    ...(here === undefined ? {} : { here: here.number }),
    done: new Set(
      chapters.filter(({ stem }) => states.get(stem) === "done").map(({ number }) => number),
    ),
  });
  return shell({
    title: `${summary.title} · First Mirror`,
    description: "Make the mirror of a telescope by hand, and know at every step how good it is.",
    header: safe`${plainBar(true)}
<div class="title">
<h1>First Mirror</h1>
<p class="standfirst">Two flat discs of glass, some grinding powder and your hands become the mirror of a telescope, right to less than a ten-thousandth of a millimetre. This book walks beside you, reads what you measured, and says what comes next.</p>
</div>
${sign}
<p class="dims">Above: the whole of the work, to scale. The curve of a ${
      plainNumber(design.aperture.value)
    } mm mirror of ${plainNumber(design.focalLength.value)} mm focal length is ${
      design.sagitta.value.toFixed(3)
    } mm deep.</p>`,
    main: safe`${mirror(parts, chapters)}
<nav aria-label="Stages of the job">
${path(chapters, known, states)}</nav>
<p class="screen-only sheet-link"><a href="report.html">The mirror’s report, one sheet to keep with the glass</a> · <a href="print.html">Masks, templates and sheets to print</a>${
      inClass && safe` · <a href="class.html">The class at a glance</a>`
    }</p>
${living && workPart(false)}`,
    ...(living === undefined ? {} : { living: { ...living, page: "" } }),
    footer:
      safe`<p>Filled dots are stages that lie behind your mirror, or that your record has readings or choices for; open ones lie ahead. Glass is drawn dotted while it is ground, thin once it is polished, thick when it is coated.</p>
${
        parts.edition !== "learner" &&
        safe`<p class="screen-only">For programmers: <code>deno task package</code> writes the library behind these pages, and a page on each of its names.</p>`
      }
<p>First Mirror ${summary.kitVersion}, ${
        parts.edition === "learner" && "learner’s edition, "
      }built from the record <code>${summary.record}</code> on ${dayOf(builtOn)}.</p>`,
  });
}

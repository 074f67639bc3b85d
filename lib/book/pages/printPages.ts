/** What a book has to print: templates for this mirror at true scale, sheets to write on, the cautions with boxes. */
import { handDrawings } from "../../figures/drawings/hands/drawings.ts";
import type { HandDrawing } from "../../figures/drawings/hands/names.ts";
import { type Html, safe, trusted } from "../../figures/html.ts";
import {
  centreFinderToPrint,
  channelGridToPrint,
  curveGaugeToPrint,
  handDrawingsToPrint,
  type Paper,
  papers,
  type Printable,
  procedureCard,
  recordSheet,
  safetySheet,
  type StageCautions,
  strokeTally,
  zoneMaskToPrint,
} from "../../figures/prints/mod.ts";
import { judgingRadius } from "../../knowledge/figureSummary.ts";
import { zoneMeasurements } from "../../knowledge/glassWork.ts";
import { mindOnSheet } from "../../knowledge/hazards.ts";
import { type ColumnInWords, inWords, type TableName, TABLES } from "../../record/schema.ts";
import type { Settings } from "../../record/settings.ts";
import { course } from "../../lessons/course.ts";
import { benchNumbers } from "../../lessons/procedures/procedure.ts";
import { procedureFor, procedureNames } from "../../lessons/procedures/procedures.ts";
import type { WorkshopWish } from "../../lessons/workshop/plan.ts";
import { workshopSheets } from "../../lessons/workshop/sheets.ts";
import { handNumbers } from "../../stages/doIt.ts";
import { eveningsFor, workshopPlan } from "../../stages/plan.ts";
import { masksOf, openingsOf } from "../../stages/zones.ts";
import { usualLap } from "../../shaping/lap/lap.ts";
import { designMask } from "../../testing/zones/mask.ts";
import { narrower, type Opening } from "../../testing/zones/openings.ts";
import { type BookFacts, counted } from "./facts.ts";
import { plainBar, shell } from "./shell.ts";

/**
 * The openings of the maker's mask: narrower ones where the verdict asks for them, else those of the latest run, else those
 * written in mirror.yaml, else those the kit would cut.
 */
export function openingsToPrint({ record, summary }: BookFacts): readonly Opening[] {
  const { aperture, bevel, tester, mask } = record.settings;
  const rows = zoneMeasurements(record).at(-1)?.rows ?? [], last = masksOf(rows).at(-1);
  if (summary.verdict?.lacks?.includes("narrower openings")) {
    return narrower(openingsOf(rows), aperture / 2 - bevel);
  }
  if (last !== undefined) return openingsOf(last);
  if (mask !== undefined) return mask;
  return designMask({
    aperture: aperture - 2 * bevel,
    radius: judgingRadius(record, summary.curve),
    source: tester.source === "fixed" ? "fixed" : "moves",
    openings: tester.openings,
  }).zones;
}

/** A printable, or nothing where this mirror's sizes allow none. */
function attempt(make: () => Printable): Printable[] {
  try {
    return [make()];
  } catch (error) {
    if (error instanceof RangeError) return [];
    throw error;
  }
}

/** The course's week for twelve, on mirrors like this one; notebook 19 plans any other. */
function usualWorkshop({ record: { settings } }: BookFacts): WorkshopWish {
  const { aperture, focalLength } = settings;
  return { learners: 12, aperture, focalRatio: focalLength / aperture, days: 5, hoursPerDay: 6.5 };
}

/** The same twelve with one evening of two hours a week, as many as it takes. */
function usualEvenings(facts: BookFacts): WorkshopWish {
  const { days: _, ...wish } = { ...usualWorkshop(facts), hoursPerDay: 2 };
  return { ...wish, days: eveningsFor(wish) };
}

/**
 * The columns of a table to write on, lengths in inches for who tells them so; minutes so far and minutes of a row are one
 * or the other.
 */
function columnsToWrite(table: TableName, { shownIn }: Settings): readonly ColumnInWords[] {
  const columns = inWords(table).filter(({ head }) => head !== "minutes" || table === "grinding");
  if (shownIn !== "inch") return columns;
  return columns.map((column) =>
    !/_mm$/.test(column.head) || column.head.startsWith("lines_per") ? column : {
      ...column,
      head: column.head.replace(/_mm$/, "_in"),
      example: column.example.split("+").map((one) =>
        String(Number((Number(one) / 25.4).toFixed(4)))
      )
        .join("+"),
    }
  );
}

/** A card for the bench for each work of the hands, with this mirror's numbers, and its drawings to hang up. */
function cardsOf(settings: Settings): Printable[] {
  const numbers = benchNumbers(settings), drawn = handNumbers(numbers);
  return procedureNames.flatMap((name) => {
    const work = procedureFor(name, numbers);
    const stage = course.find((one) => one.name === work?.stage);
    if (stage === undefined || work === undefined) return [];
    const head = `${stage.stem.slice(0, 2)} ${name === work.stage ? stage.title : work.title}`;
    const seen = new Set<HandDrawing>();
    let cautions: readonly string[] = [];
    const drawings = work.steps.flatMap((step, i) => {
      const { drawing } = step;
      cautions = [...cautions, ...step.cautions];
      if (drawing === undefined || seen.has(drawing)) return [];
      const before = cautions;
      seen.add(drawing);
      cautions = [];
      return [{ ...step, cautions: before, step: i + 1, shown: handDrawings[drawing](drawn) }];
    });
    return [
      procedureCard({ ...work, head }),
      ...(drawings.length > 0 ? [handDrawingsToPrint({ name, head, drawings })] : []),
    ];
  });
}

/** Everything there is to print for a mirror. */
export function printablesOf(facts: BookFacts, stages: readonly StageCautions[]): Printable[] {
  const { record, summary } = facts, { aperture, tester } = record.settings;
  const radius = judgingRadius(record, summary.curve);
  const source = tester.source === "fixed" ? "fixed" : "moves";
  return [
    ...attempt(() =>
      zoneMaskToPrint({
        ...{ aperture, radius, source, shape: tester.openings },
        openings: openingsToPrint(facts),
      })
    ),
    ...attempt(() => channelGridToPrint(usualLap(aperture), mindOnSheet("channel-grid"))),
    ...attempt(() => curveGaugeToPrint(aperture, 2 * record.settings.focalLength)),
    ...attempt(() => centreFinderToPrint(aperture, summary.telescope?.supportRadius?.value)),
    strokeTally(mindOnSheet("stroke-tally")),
    ...TABLES.map((table) =>
      recordSheet(table, columnsToWrite(table, record.settings), mindOnSheet(`record-${table}`))
    ),
    ...cardsOf(record.settings),
    safetySheet(stages.filter(({ cautions }) => cautions.length > 0)),
    ...attempt(() => workshopSheets(workshopPlan(usualWorkshop(facts)), stages)),
    ...attempt(() => workshopSheets(workshopPlan(usualEvenings(facts)), stages)),
  ];
}

const policy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'";

/** A page to print one thing from: a sheet of paper a section, nothing between edge and drawing. */
function sheetPage(
  { title, use }: Printable,
  paper: Paper,
  sheets: readonly Html[],
  home: string,
): string {
  const size = `${paper.width}mm ${paper.height}mm`;
  const style = `@page { size: ${size}; margin: 0; }
body { margin: 0; background: #fff; color: #000; font: 16px/1.5 system-ui, sans-serif; }
nav, p { padding: 0 1rem; max-width: 40rem; } svg { display: block; } a { color: #0b5a78; }
@media screen { section { border-bottom: 1px solid #7b8785; } section > svg { max-width: 100%; height: auto; } }
@media print { nav, p, h1 { display: none; } section { height: ${
    paper.height - 0.5
  }mm; overflow: hidden; break-inside: avoid; } section + section { break-before: page; } }`;
  return safe`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${trusted(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}, ${paper.name}</title>
<style>${trusted(style)}</style>
</head>
<body>
<nav aria-label="Back"><p><a href="../${home}">All there is to print</a></p></nav>
<main>
<h1 style="font-size:1.2rem;padding:0 1rem">${title}</h1>
<p>${paper.name}, ${
    counted(sheets.length, "sheet")
  }. Print at 100 %, then measure the bars. ${use}</p>
${sheets.map((one) => safe`<section>${one}</section>\n`)}</main>
</body>
</html>
`.markup;
}

/** What there is to print, with its sheets on each paper. */
interface Laid {
  readonly one: Printable;
  readonly on: readonly { readonly paper: Paper; readonly sheets: readonly Html[] }[];
}

function listItem({ one, on }: Laid): Html {
  const links = on.map(({ paper, sheets: { length: count } }) => {
    if (count === 0) return safe`<li>${one.said?.(paper) ?? ""}</li>`;
    const file = fileOf(one, paper);
    return safe`<li><a href="print/${file}">${paper.name}, ${counted(count, "sheet")}</a></li>`;
  });
  const whole = one.whole &&
    safe`<li><a href="print/${one.name}.svg">${one.name}.svg</a>, for a plotter</li>`;
  return safe`<h2 id="${one.name}">${one.title}</h2>
<p>${one.use}</p>
<ul>${links}${whole}</ul>
`;
}

const fileOf = ({ name }: Printable, paper: Paper): string =>
  `${name}-${paper.name.toLowerCase()}.html`;

/** The file of the list: the front page where there is no book. */
function homeOf({ isAlone }: BookFacts): string {
  return isAlone === true ? "index.html" : "print.html";
}

/** The page that lists everything to print. */
function listPage(all: readonly Laid[], { summary, isAlone }: BookFacts): string {
  return shell({
    title: `To print · ${summary.title} · First Mirror`,
    description: "Templates at true scale and sheets to write on.",
    header: safe`${plainBar(false, isAlone)}
<div class="title">
<p class="kicker">At true scale, for A4 and Letter</p>
<h1>To print</h1>
</div>
<p class="dims">Print at 100 %, with no “fit to page”. Each sheet has a bar of 150 mm across and one down: measure both with a ruler before you cut anything.</p>`,
    main: safe`${
      isAlone &&
      safe`<h2 id="report">The mirror’s report</h2>
<p>What was measured, how surely, the next step, and the line to sign.</p>
<ul><li><a href="report.html">One sheet</a></li></ul>
`
    }${all.map(listItem)}`,
    footer:
      safe`<p>Drawn for the record <code>${summary.record}</code>. First Mirror ${summary.kitVersion}.</p>`,
  });
}

/**
 * The files of a book's printables: the list, a page for each thing and paper, an svg for each drawing.
 *
 * @param all  what there is to print
 * @returns paths inside the book, and what they hold
 */
export function printFiles(
  all: readonly Printable[],
  facts: BookFacts,
): ReadonlyMap<string, string> {
  const laid = all.map((one) => ({
    one,
    on: papers.map((paper) => ({ paper, sheets: one.sheets(paper) })),
  }));
  const home = homeOf(facts), files = new Map([[home, listPage(laid, facts)]]);
  for (const { one, on } of laid) {
    if (one.whole !== undefined) files.set(`print/${one.name}.svg`, `${one.whole.markup}\n`);
    for (const { paper, sheets } of on) {
      if (sheets.length > 0) {
        files.set(`print/${fileOf(one, paper)}`, sheetPage(one, paper, sheets, home));
      }
    }
  }
  return files;
}

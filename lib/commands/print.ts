// deno-lint-ignore-file no-console
/** `deno task print`: the mask, the sheets and the report of a record in seconds, without the book. */
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { printSheets } from "../book/build.ts";
import { checkPlace, putWhole } from "../book/outputFolder.ts";
import { printablesOf } from "../book/pages/printPages.ts";
import { type Html, safe } from "../figures/html.ts";
import { papers, type Printable } from "../figures/prints/mod.ts";
import { classNow } from "../knowledge/classLines.ts";
import { type ClassOfRecords, isClass, openClass } from "../knowledge/classOfRecords.ts";
import { demoName } from "../knowledge/open.ts";
import { summarize } from "../knowledge/summary.ts";
import { workshopSheets } from "../lessons/workshop/sheets.ts";
import { type ClassSettings, readClassSettings } from "../record/classSettings.ts";
import { Findings, RecordRefused } from "../record/errors.ts";
import { dayNow, readRecord } from "../record/readRecord.ts";
import { readKeys } from "../room/keys.ts";
import { byFolder, cardsOf } from "../room/pages/cards.ts";
import { pageOf } from "../room/pages/pages.ts";
import { workshopPlan } from "../stages/plan.ts";
import { dayTyped, isFault, runTask } from "./command.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";

const help = `deno task print [RECORD | CLASS] [--out DIR] [--today DAY]

Writes what there is to print for a mirror into a folder, in seconds and without running the
lessons: the zone mask and the other templates at true scale, sheets for every table, the
cautions with boxes for initials, and the report with the line to sign. The last ones stay until
the new ones are whole. Begin with index.html in it. For a folder of records one document: a card for
each bench with its caution and next step, the sheets its stage needs with the bench filled in, and the
plan of the class's own people, days and stock.

  RECORD      a folder of data/records, or the path of any folder with a mirror.yaml
              (default: ${demoName})
  CLASS       a folder that holds records and no mirror.yaml of its own
  --out DIR   where they go (default: book/NAME-print, NAME being the record's); never into a book
  --today DAY the day on the report, such as 2026-04-18 (default: the clock's); a record that
              tells of a later day is refused
  --help      this text

Exit status: 0 written, 1 not written (each reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

async function print(
  record: string,
  out: string | undefined,
  today: string | undefined,
): Promise<number> {
  const folder = recordFromCaller(record);
  try {
    const index = await isClass(folder)
      ? await printClass(folder, out === undefined ? undefined : fromCaller(out), today)
      : await printSheets({
        record: folder,
        ...(out === undefined ? {} : { out: fromCaller(out) }),
        ...(today === undefined ? {} : { today }),
      });
    const near = relative(Deno.cwd(), index);
    console.log(`To print: ${near.startsWith("..") ? index : near}`);
    return 0;
  } catch (error) {
    if (!(error instanceof Error) || isFault(error)) throw error;
    console.error(error.message);
    return 1;
  }
}

// A class as one document: cards first, then each bench's sheets, then the plan.

/** Which sheets a bench takes with it, by the stage of its next step; names of printables. */
const SHEETS: readonly (readonly [stages: readonly string[], sheets: readonly string[]])[] = [
  [["rough grinding", "measuring", "correcting"], [
    ...["stroke-tally", "record-grinding", "record-sagitta"],
  ]],
  [["fine grinding"], ["stroke-tally", "record-grinding", "record-diary"]],
  [["lap"], ["channel-grid", "record-diary"]],
  [["polishing"], ["record-grinding", "record-diary"]],
  [["band test"], ["record-ronchi"]],
  [["zone test", "star test"], ["zone-mask", "record-zones"]],
  [["figuring"], ["zone-mask", "record-zones", "record-grinding"]],
];

/** A bench's sheets on A4, its name on each. */
async function benchSheets(
  folder: string,
  name: string,
  stage: string,
  today: string,
): Promise<readonly Html[]> {
  const wanted = SHEETS.find(([stages]) => stages.includes(stage))?.[1] ?? ["record-diary"];
  const [paper] = papers;
  const read = async (): Promise<readonly Printable[]> => {
    try {
      const record = await readRecord(folder, today, undefined, { photos: true });
      return printablesOf({ record, summary: summarize(record), builtOn: new Date() }, []);
    } catch (error) {
      // what cannot be read has its card, which says what to mend
      if (error instanceof RecordRefused) return [];
      throw error;
    }
  };
  if (paper === undefined) return [];
  const all = await read();
  return wanted.flatMap((sheet) => all.find((one) => one.name === sheet)?.sheets(paper) ?? [])
    .map((svg) => safe`<section class="sheet"><p class="of">${name}</p>${svg}</section>\n`);
}

/** The plan and what it takes, for the class's own numbers; nothing where class.yaml does not say them. */
function planSheets(many: ClassOfRecords, settings: ClassSettings): readonly Html[] {
  const learners = (settings.benches ?? []).reduce((sum, one) => sum + (one.learners ?? 1), 0) ||
    many.rows.length;
  const [first] = many.rows, [paper] = papers;
  if (first === undefined || paper === undefined || learners > 60) return [];
  const { aperture, focalLength } = first;
  try {
    const plan = workshopPlan({
      ...{ learners, aperture, focalRatio: focalLength / aperture },
      ...{ days: settings.dates?.length ?? 5, hoursPerDay: Math.min(8, settings.hours ?? 6.5) },
    });
    return workshopSheets(plan, []).sheets(paper)
      .map((svg) => safe`<section class="sheet">${svg}</section>\n`);
  } catch (error) {
    // a mirror of a size that the plan does not know
    if (error instanceof RangeError) return [];
    throw error;
  }
}

async function printClass(folder: string, out?: string, today?: string): Promise<string> {
  const many = await openClass(folder, { today: today ?? dayNow() });
  const text = await Deno.readTextFile(join(folder, "class.yaml")).catch(() => "");
  const settings = readClassSettings(text, new Findings());
  const now = classNow(many, settings, []);
  const keys = await Deno.readTextFile(join(folder, ".room", "keys.json")).then(
    readKeys,
    () => undefined,
  );
  const addressOf = (bench: string): string | undefined => {
    const key = keys?.benches.get(bench);
    return key === undefined || keys?.origin === undefined
      ? undefined
      : `${keys.origin}/enter#${key}`;
  };
  const { style, body } = cardsOf(now, many, addressOf), sheets: Html[] = [];
  for (const { folder: bench, name, stage } of now.benches.toSorted(byFolder)) {
    sheets.push(...await benchSheets(join(folder, bench), name, stage ?? "", now.today));
  }
  sheets.push(...planSheets(many, settings));
  const { html } = pageOf({
    title: `To print: ${now.title}`,
    style: `${style}
.sheet { position: relative; width: 210mm; height: 297mm; margin: 0 auto 8mm; overflow: hidden; background: #fff; color: #000; outline: 1px solid var(--hair); }
.sheet svg { display: block; } .sheet .of { position: absolute; top: 3mm; right: 10mm; margin: 0; font: 600 11pt/1 var(--sans); }
@media print { .sheet { margin: 0; outline: 0; height: 296.8mm; break-before: page; break-inside: avoid; } }`,
    body:
      safe`<header class="paper"><div><h1>To print: ${now.title}</h1><p>${now.today}. First the cards, four on a sheet of A4 to cut; then each bench’s sheets; then the plan. Print at 100 %.</p></div></header>
<main>${body}${sheets}</main>`,
  });
  const place = out ?? fileURLToPath(new URL(`../../book/${many.name}-print`, import.meta.url));
  await checkPlace(place);
  await Deno.mkdir(dirname(place), { recursive: true });
  await putWhole(place, (inside) => Deno.writeTextFile(join(inside, "index.html"), html));
  return join(place, "index.html");
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "print",
      help,
      options: { out: { type: "string" }, today: { type: "string" } },
      most: 1,
      many: "print takes one folder",
      act: ([record = demoName], { out, today }) => print(record, out, dayTyped(today)),
    }),
  );
}

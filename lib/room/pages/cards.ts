/** What the room has to print: a card for each bench, and the sheet of codes. */
import encodeQR from "qr";
import { type Html, safe, trusted } from "../../figures/html.ts";
import type { ClassLine, ClassNow } from "../../knowledge/classLines.ts";
import type { ClassOfRecords } from "../../knowledge/classOfRecords.ts";
import type { ClassRow } from "../../knowledge/classRow.ts";
import { mindOfStages } from "../../knowledge/nextStepCautions.ts";
import cardStyle from "./cards.css" with { type: "text" };
import { type Page, pageOf } from "./pages.ts";

/**
 * A code that a phone's camera reads, black on white, as wide as its place.
 *
 * @param text  an address
 * @param said  what it leads to, for whoever cannot see it
 */
export function codeOf(text: string, said: string): Html {
  const cells = encodeQR(text, "raw", { ecc: "medium", border: 2 }), size = cells.length;
  const path = cells.flatMap((row, y) =>
    row.flatMap((dark, x) => dark ? [`M${x},${y}h1v1h-1z`] : [])
  )
    .join("");
  return safe`<svg viewBox="0 0 ${size} ${size}" width="100%" role="img" aria-label="${said}" shape-rendering="crispEdges"><rect width="${size}" height="${size}" fill="#fff"></rect><path d="${
    trusted(path)
  }" fill="#000"></path></svg>`;
}

/** What a card leaves lines for, by the stage of its step: name and unit. */
const WANTED:
  readonly (readonly [stages: readonly string[], lines: readonly (readonly [string, string])[]])[] =
    [
      [["rough grinding", "correcting", "measuring"], [
        ["Minutes ground", "min"],
        ["Leaves that pass", "mm"],
        ["Leaves that do not", "mm"],
      ]],
      [["fine grinding"], [["Minutes ground", "min"], ["Pits in a field of 1 cm²", ""], [
        "Where, from the middle",
        "mm",
      ]]],
      [["lap"], [["Pitch poured", "g"], ["Pressed for", "min"]]],
      [["polishing", "figuring"], [["Minutes polished", "min"], ["Beside the centre", "mm"], [
        "Length of a stroke",
        "mm",
      ]]],
      [["band test", "star test"], [["Grating from the centre of curvature", "mm"], [
        "Photograph",
        "",
      ]]],
    ];

function wantedOf(
  stage: string,
  row: ClassRow | undefined,
): readonly (readonly [string, string])[] {
  if (stage === "zone test" && row !== undefined) {
    return Array.from({ length: 5 }, (_, at) => [`Window ${at + 1}, knife`, "mm"] as const);
  }
  return WANTED.find(([stages]) => stages.includes(stage))?.[1] ??
    [["Date", ""], ["What was done", ""], ["What was seen", ""]];
}

/** Grades of the glass as the sign draws it: dotted while it is ground, thin once polished. */
const GROUND: readonly string[] = [
  "blanks",
  "rough grinding",
  "measuring",
  "correcting",
  "fine grinding",
  "lap",
];

function cautionOn(stage: string): Html {
  const [first = "Ask the leader before you begin.", ...more] = mindOfStages([stage])
    .map(({ short }) => short);
  return safe`<div class="caution" role="group" aria-label="Caution"><svg viewBox="0 0 48 43" role="img" aria-label="Warning"><use href="#warn"></use></svg><p><b>${first}</b>${
    more.join(" ")
  }</p></div>`;
}

function card(line: ClassLine, row: ClassRow | undefined, today: string, address?: string): Html {
  const stage = line.stage ?? "", step = line.nextStep ?? "Nothing is written yet: ask the leader.";
  const depth = row?.sagitta;
  return safe`<article class="a6" aria-label="${line.name}"><header><h2>${line.name}</h2><p>${today}<br>${stage}</p></header>
<svg class="edge${
    GROUND.includes(stage) ? " dots" : ""
  }" aria-hidden="true"><use href="#sign"></use></svg>
${cautionOn(stage)}
<h3 class="soft">Next step</h3><p class="step${step.length > 140 ? " long" : ""}">${step}</p>
<h3 class="soft">Write here</h3><table><tbody>${
    wantedOf(stage, row).map(([name, unit]) =>
      safe`<tr><th scope="row">${name}</th><td></td><td>${unit}</td></tr>`
    )
  }</tbody></table>
<footer><div class="qr">${
    address === undefined ? "no code" : codeOf(address, `Code of ${line.name}’s page`)
  }</div><div><p>${
    depth !== undefined && row !== undefined &&
    safe`Stands at ${depth.value.toFixed(3)} ± ${depth.u.toFixed(3)} mm.<br>Wanted ${
      row.targetSagitta.toFixed(3)
    } mm.<br>`
  }Type it in at the bench’s page, or hand in this card.</p><div class="bar50"></div><p>50 mm, if printed at 100 %</p></div></footer></article>
`;
}

const symbols = trusted(
  `<svg width="0" height="0" style="position:absolute" aria-hidden="true"><symbol id="warn" viewBox="0 0 48 43"><path d="M24 3.5 45 40H3Z" fill="none" stroke="var(--rouge)" stroke-width="4" stroke-linejoin="round"></path><path d="M24 15.5V27.5" stroke="var(--rouge)" stroke-width="4.4" stroke-linecap="round"></path><circle cx="24" cy="33.6" r="2.5" fill="var(--rouge)"></circle></symbol><symbol id="sign" viewBox="0 0 150 3.2" preserveAspectRatio="none"><path d="M0,.5H150" fill="none" stroke="var(--line)" stroke-dasharray="none" vector-effect="non-scaling-stroke"></path><path d="M0,.5Q75,2.84 150,.5" fill="none" stroke="var(--glass)" stroke-width="1.75" stroke-linecap="round" vector-effect="non-scaling-stroke"></path></symbol></svg>`,
);

/** Things four by four, a sheet of A4 each. */
function sheetsOf(cards: readonly Html[], said: string): readonly Html[] {
  const count = Math.ceil(cards.length / 4);
  return Array.from(
    { length: count },
    (_, at) =>
      safe`<div class="a4" role="group" aria-label="${said}, sheet ${at + 1} of ${count}">
${cards.slice(4 * at, 4 * at + 4)}</div>
`,
  );
}

/** The cards alone, and the style they need, for a document that holds more. */
export function cardsOf(
  now: ClassNow,
  many: ClassOfRecords,
  addressOf: (folder: string) => string | undefined,
): { readonly style: string; readonly body: Html } {
  const rows = rowsByFolder(many);
  const cards = now.benches.toSorted(byFolder).map((line) =>
    card(line, rows.get(line.folder), now.today, addressOf(line.folder))
  );
  return { style: cardStyle, body: safe`${symbols}${sheetsOf(cards, "Cards of the day")}` };
}

/**
 * The cards of the day as one document: caution, step, blank lines, code; four on a sheet of A4.
 *
 * @param addressOf  the address that opens a bench's page, by its folder
 */
export function cardsPage(
  now: ClassNow,
  many: ClassOfRecords,
  addressOf: (folder: string) => string | undefined,
): Page {
  const { style, body } = cardsOf(now, many, addressOf);
  return pageOf({
    title: "Cards of the day",
    style,
    body:
      safe`<header class="paper"><div><h1>Cards of the day</h1><p>${now.title}, ${now.today}. Four cards on a sheet of A4: print at 100 %, cut along the dashes. A code opens its bench’s page: give each card to its own bench.</p></div></header>
<main>${body}</main>`,
  });
}

/** Rows by their folder, those too that can be read in part. */
export function rowsByFolder(many: ClassOfRecords): ReadonlyMap<string, ClassRow> {
  return new Map([
    ...many.rows.map((row) => [row.record, row] as const),
    ...many.unreadable.flatMap(({ record, rest }) =>
      rest === undefined ? [] : [[record, rest] as const]
    ),
  ]);
}

const { compare } = new Intl.Collator("en", { numeric: true });

/** Benches in the order of their folders' names. */
export function byFolder(a: ClassLine, b: ClassLine): number {
  return compare(a.folder, b.folder);
}

/** The sheet of codes: one for each bench and one for the projector, as a file that stands alone. */
export function codesPage(
  now: ClassNow,
  addressOf: (folder: string) => string | undefined,
  walls: readonly string[],
): string {
  const code = (name: string, address: string): Html =>
    safe`<article class="code"><h2>${name}</h2><div>${
      codeOf(address, `Code of ${name}`)
    }</div></article>
`;
  return pageOf({
    title: "Codes of the benches",
    style:
      `main { max-width: 180mm; margin: 0 auto; display: grid; grid-template-columns: repeat(3, 1fr); gap: 8mm; } h1, p { max-width: 180mm; margin: 6mm auto 3mm; }
.code { break-inside: avoid; border-top: 1px solid var(--ink); } .code h2 { font: 600 14pt/1.2 var(--sans); margin: 2mm 0; } .code div { width: 46mm; }
@page { size: A4; margin: 12mm; }`,
    body: safe`<h1>Codes of the benches</h1>
<p>${now.title}. Each code opens one bench’s page on a phone, and whoever has it can write there: cut them apart, and keep this sheet where keys are kept.</p>
<main>
${
      now.benches.toSorted(byFolder).flatMap(({ folder, name }) => {
        const address = addressOf(folder);
        return address === undefined ? [] : [code(name, address)];
      })
    }${walls.map((address) => code("The wall (reads only)", address))}</main>`,
  }).html;
}

/** The day's end: what each bench did, found and does next, to keep, to print, and to begin with next time. */
import { type Html, safe } from "../../figures/html.ts";
import type { ClassLine, ClassNow } from "../../knowledge/classLines.ts";
import type { ClassOfRecords } from "../../knowledge/classOfRecords.ts";
import type { ClassRow } from "../../knowledge/classRow.ts";
import { classSpread } from "../../knowledge/classSpread.ts";
import { wordsOf } from "../benchFacts.ts";
import { type HistoryEntry, knownIds } from "../history.ts";
import { byFolder, rowsByFolder } from "./cards.ts";
import { type Page, pageOf } from "./pages.ts";

/** Entries of one day that stand, in the order in which they came. */
function ofDay(history: readonly HistoryEntry[], day: string): readonly HistoryEntry[] {
  return [...knownIds(history).values()]
    .filter(({ state, entry }) => state === "stands" && localDay(entry.at) === day)
    .map(({ entry }) => entry);
}

function localDay(at: string): string {
  const time = new Date(at), two = (part: number): string => String(part).padStart(2, "0");
  return `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())}`;
}

function found(row: ClassRow | undefined): string {
  if (row === undefined) return "";
  const { sagitta, focal, wavefrontPv, meetsGoal, tooDeepUm } = row;
  return [
    sagitta === undefined
      ? ""
      : `depth ${sagitta.value.toFixed(3)} ± ${sagitta.u.toFixed(3)} mm, wanted ${
        row.targetSagitta.toFixed(3)
      }`,
    tooDeepUm === undefined ? "" : `${tooDeepUm.toFixed(0)} µm too deep`,
    focal === undefined ? "" : `focal length ${focal.value.toFixed(1)} ± ${focal.u.toFixed(1)} mm`,
    wavefrontPv === undefined
      ? ""
      : `wavefront ${wavefrontPv.value.toFixed(2)} ± ${wavefrontPv.u.toFixed(2)} waves`,
    meetsGoal === undefined ? "" : `goal: ${meetsGoal}`,
  ].filter((one) => one !== "").join("; ");
}

function bench(line: ClassLine, row: ClassRow | undefined, did: readonly HistoryEntry[]): Html {
  return safe`<section><h2>${line.name}</h2>
<dl><dt>Did</dt><dd>${
    did.length === 0
      ? "nothing was entered from a phone on this day"
      : did.map((entry) => safe`${entry.table}: ${wordsOf(entry)}<br>`)
  }</dd>
<dt>Found</dt><dd>${found(row) || (line.why ?? "nothing yet")}</dd>
<dt>Does next</dt><dd><b>${line.stage}</b> ${line.nextStep ?? line.reason}</dd></dl></section>
`;
}

/** Fewer makers than this say nothing about makers. */
const FEW = 6;

/** How far the makers lie apart, and that few of them say little. */
function makers(many: ClassOfRecords): Html {
  const spread = classSpread(many, "leaves");
  if (spread === undefined) {
    return safe`<p>Fewer than three mirrors of one plan have readings of leaves: nothing can be said about makers.</p>`;
  }
  const { count, mean, sd, ownU, farthest, rows, focalLength } = spread;
  const far = farthest === undefined ? undefined : rows[farthest.index];
  const deep = mean < focalLength
    ? "shorter, so the hollows are read deeper,"
    : "longer, so the hollows are read shallower,";
  return safe`<p>By leaves, ${count} makers: focal lengths ${
    Math.abs(mean - focalLength).toFixed(1)
  } mm ${deep} than planned on average; they lie ${
    sd.toFixed(1)
  } mm apart, where their own readings are good to ${ownU.toFixed(1)} mm.${
    far !== undefined && farthest?.tooFar === true
      ? ` ${far.title} lies farther off than chance allows: read it together.`
      : far !== undefined && ` Farthest is ${far.title}, which chance allows.`
  }</p>${
    count < FEW &&
    safe`<p>With ${count} makers this is little to go by: one reading more may turn it round.</p>`
  }`;
}

/** Benches whose entries are oldest: since when. */
function stuck(now: ClassNow, lastAt: ReadonlyMap<string, string | undefined>): Html {
  const waiting = now.benches.filter(({ kind }) => kind !== "done").flatMap((line) => {
    const at = lastAt.get(line.folder);
    if (at !== undefined) return [{ line, at: `${localDay(at)} ${at.slice(11, 16)} UTC` }];
    return line.idleDays === undefined ? [] : [{ line, at: `${line.idleDays} days ago` }];
  });
  if (waiting.length === 0) return safe`<p>No entry has a day yet.</p>`;
  return safe`<ul>${
    waiting.map(({ line, at }) => safe`<li>${line.name}: last entry ${at}, ${line.stage}</li>`)
  }</ul>`;
}

/** The day's page. */
export function dayPage(
  now: ClassNow,
  many: ClassOfRecords,
  history: ReadonlyMap<string, readonly HistoryEntry[]>,
): Page {
  const rows = rowsByFolder(many), lines = now.benches.toSorted(byFolder);
  const lastAt = new Map(lines.map(({ folder }) => [folder, history.get(folder)?.at(-1)?.at]));
  return pageOf({
    title: `The day’s end, ${now.today}`,
    style:
      `main, header { max-width: 48rem; margin: 0 auto; padding: 0 1rem; } h1 { font-size: 2.2rem; margin: 1.6rem 0 .3rem; } h2 { font-size: 1.25rem; margin: 1.2rem 0 .3rem; } header p, dt { color: var(--soft); font: .9375rem/1.45 var(--sans); }
section { break-inside: avoid; border-top: 1px solid var(--hair); } dl { display: grid; grid-template-columns: 6rem 1fr; gap: .2rem 1rem; margin: 0 0 .8rem; } dd { margin: 0; }
@media print { body { font-size: 10pt; } @page { size: A4; margin: 15mm; } }`,
    body:
      safe`<header><h1>The day’s end</h1><p>${now.title}, ${now.today}. Print it or keep it; begin with it next time.</p></header>
<main>
${
        lines.map((line) =>
          bench(line, rows.get(line.folder), ofDay(history.get(line.folder) ?? [], now.today))
        )
      }
<section><h2>Since when</h2>${stuck(now, lastAt)}</section>
<section><h2>Makers beside one another</h2>${makers(many)}</section>
${
        now.stock.length > 0 &&
        safe`<section><h2>Stock left, about</h2><ul>${
          now.stock.map(({ name, left, had, short }) =>
            safe`<li>${name}: ${left} g of ${had} g${short && ", short"}</li>`
          )
        }</ul></section>`
      }</main>`,
  });
}

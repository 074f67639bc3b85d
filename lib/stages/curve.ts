/** The stage of the curve: the reader's readings by each method, what they say together, and what to do. */
import { decide } from "../figures/decide.ts";
import { note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { safe } from "../figures/html.ts";
import { type Showable, type Shown, together } from "../figures/show.ts";
import { threeMethods } from "../figures/plots/threeMethods.ts";
import { say } from "../figures/words.ts";
import type { MethodPage, MethodRow, PageLine } from "../measuring/methods/method.ts";
import {
  type CurveMethodOfKit,
  methodNamed,
  methods,
  methodTitle,
  rowsOf,
} from "../measuring/methods/methods.ts";
import type { Mirror } from "../knowledge/open.ts";
import { fromQ } from "../knowledge/q.ts";
import type { CurveSummary, EstimateSummary, SetAside } from "../knowledge/summaryTypes.ts";
import { decision } from "../record/tables.ts";
import { ownOrDemo, type Part, type Whose } from "./base.ts";

/** The lines of a table that a block was made from, as "lines 2, 5 to 8". */
function linesOf(rows: readonly { readonly line?: number }[]): string {
  const spans: [low: number, high: number][] = [];
  for (const line of rows.map(({ line = 0 }) => line).toSorted((a, b) => a - b)) {
    const last = spans.at(-1);
    if (last !== undefined && line <= last[1] + 1) last[1] = line;
    else spans.push([line, line]);
  }
  const said = spans.map(([low, high]) => low === high ? `${low}` : `${low} to ${high}`).join(", ");
  return rows.length === 1 ? `line ${said}` : `lines ${said}`;
}

function estimateOf(mirror: Mirror, method: string): EstimateSummary | undefined {
  return mirror.summary.curve?.estimates.find((one) => one.method === method);
}

/** The radius by one method, as a sentence; nothing where the method gave none. */
function radiusLine(mirror: Mirror, method: string): Showable[] {
  const found = estimateOf(mirror, method);
  if (found === undefined) return [];
  const unused = found.used ? "" : " It is not used: see the warnings.";
  return [say`Radius of curvature ${fromQ(found.radius)}.${unused}`];
}

/** The rows of a method that a page shows: all of them, or the latest and those set aside. */
function rowsShown(method: CurveMethodOfKit, { record, summary }: Mirror): readonly MethodRow[] {
  const rows = rowsOf(method, record);
  if (method.page?.latestOnly !== true) return rows;
  const last = Math.max(...rows.map(({ afterMin = 0 }) => afterMin));
  return rows.filter((row) => (row.afterMin ?? 0) === last || setAsideOf(row, summary.curve));
}

function setAsideOf(row: MethodRow, curve: CurveSummary | undefined): SetAside | undefined {
  return curve?.setAside.find(({ file, line }) => file === row.file && line === row.line);
}

function tableRow({ cells, row }: PageLine, { summary }: Mirror): TableRow {
  const set = row && setAsideOf(row, summary.curve);
  return {
    cells: cells.map((cell) =>
      typeof cell === "object" ? safe`<span class="q">${cell[0]} <i>± ${cell[1]}</i></span>` : cell
    ),
    ...(set === undefined ? {} : { setAside: set.why }),
  };
}

/** A method's readings as a block of the page. */
function partOf(method: CurveMethodOfKit, page: MethodPage<MethodRow>): Part {
  return {
    name: page.name,
    count: (mirror) => rowsShown(method, mirror).length,
    show: (mirror) => {
      const rows = rowsShown(method, mirror), bench = mirror.record.settings;
      const lines = page.lines(rows, bench).map((line) => tableRow(line, mirror));
      const further = page.note === undefined ? "" : ` ${page.note}`;
      return [
        readingsTable(page.heading, page.columns(bench), lines),
        note(safe`From <code>${method.table}.csv</code>, ${linesOf(rows)}.${further}`),
        ...radiusLine(mirror, method.name),
      ];
    },
    how: page.how,
  };
}

const togetherPart: Part = {
  name: "the curve",
  noun: "method",
  count: ({ summary }) => summary.curve?.estimates.filter(({ used }) => used).length ?? 0,
  show: (mirror, whose) => {
    const { curve } = mirror.summary;
    return curve === undefined ? [] : [methodsFigure(mirror, curve, whose)];
  },
  how: "With readings by two methods the kit weighs them against each other.",
};

function methodsFigure(mirror: Mirror, curve: CurveSummary, whose: Whose): Shown {
  const shown = curve.estimates.filter(({ method, used }) =>
    used || methodNamed(method)?.check === undefined
  );
  return threeMethods({
    bars: shown.map((one) => ({
      name: methodTitle(one.method),
      value: fromQ(one.radius),
      whose,
      odd: curve.oddOne === one.method,
    })),
    ...(curve.radius === undefined ? {} : { together: fromQ(curve.radius) }),
    wanted: mirror.summary.design.radius.value,
    title: "Radius of curvature (mm)",
    ...(curve.birgeRatio === undefined ? {} : { birgeRatio: curve.birgeRatio }),
  });
}

/** One radius from several methods, drawn; the demo's where the reader has none. */
export function radiusByMethods(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(togetherPart, yours, demo);
}

/**
 * The reader's curve today: each method with its readings, or how to take them. A method that is not of the course is
 * shown where the reader has readings of it.
 */
export function yourCurve(yours: Mirror, demo: Mirror): Shown {
  return together(...methods.flatMap((method): Shown[] => {
    if (method.page === undefined) return [];
    const part = partOf(method, method.page);
    return method.page.usual || part.count(yours) > 0 ? [ownOrDemo(part, yours, demo)] : [];
  }));
}

type State = "none" | "mend" | "second" | "again" | "on";

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  none: ["measure", "Take six leaf readings, and write them into sagitta.csv."],
  mend: ["mend", "The methods disagree: find the cause before you average."],
  second: ["a second method", "Measure the same curve by a second method before you rely on it."],
  again: ["read again", "Take four more readings of the method with the largest share."],
  on: ["go on", "The methods agree, and the focal length is known well enough to go on."],
};

/** What the curve's readings call for. */
export function decideCurve({ summary }: Mirror): Shown {
  const { curve } = summary;
  const most = decision("focal_length_u_most");
  const used = curve?.estimates.filter((one) => one.used).length ?? 0;
  const u = curve?.focalLength?.u ?? Infinity;
  const slip = curve?.mistake !== undefined || (curve !== undefined && !curve.consistent);
  const state: State = curve === undefined
    ? "none"
    : slip
    ? "mend"
    : used < 2
    ? "second"
    : u > most
    ? "again"
    : "on";
  const [title, what] = SAYS[state];
  const focal = curve?.focalLength && fromQ(curve.focalLength);
  return decide({
    title,
    do: curve?.mistake?.what ?? what,
    choices: [
      {
        name: "Go on",
        when: `when two methods agree and the focal length is known to ${most} mm.`,
        chosen: state === "on",
      },
      {
        name: "Measure more",
        when: "with one method only, or when the focal length is less sure than that.",
        chosen: state === "none" || state === "second" || state === "again",
      },
      {
        name: "Mend a slip",
        when: "when a radius is 2, 4 or 25.4 times another: read its table again.",
        chosen: state === "mend",
      },
    ],
    ...(focal === undefined ? {} : { after: say`Your focal length now: ${focal}.`.text }),
  });
}

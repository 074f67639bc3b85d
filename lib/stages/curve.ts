/** The stage of the curve: the reader's readings by each method, what they say together, and what to do. */
import { decide } from "../figures/decide.ts";
import { note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { safe } from "../figures/html.ts";
import { type Showable, type Shown, together } from "../figures/show.ts";
import { threeMethods } from "../figures/plots/threeMethods.ts";
import { say } from "../figures/words.ts";
import { chordOf } from "../measuring/gauges.ts";
import { bracket, depthFromLeaves } from "../measuring/leaves.ts";
import { carrySagitta } from "../optics/sphere.ts";
import type { Mirror } from "../knowledge/open.ts";
import { fromQ } from "../knowledge/q.ts";
import type { CurveSummary, EstimateSummary, Method } from "../knowledge/summaryTypes.ts";
import { decision } from "../record/tables.ts";
import type { SagittaRow } from "../record/types.ts";
import { METHOD_NAMES } from "./methodNames.ts";
import { ownOrDemo, type Part, type Whose } from "./base.ts";

/** The lines of a table that a block was made from, as "lines 2, 5 to 8". */
function linesOf(rows: readonly { readonly line: number }[]): string {
  const spans: [low: number, high: number][] = [];
  for (const { line } of rows.toSorted((a, b) => a.line - b.line)) {
    const last = spans.at(-1);
    if (last !== undefined && line <= last[1] + 1) last[1] = line;
    else spans.push([line, line]);
  }
  const said = spans.map(([low, high]) => low === high ? `${low}` : `${low} to ${high}`).join(", ");
  return rows.length === 1 ? `line ${said}` : `lines ${said}`;
}

function estimateOf(mirror: Mirror, method: Method): EstimateSummary | undefined {
  return mirror.summary.curve?.estimates.find((one) => one.method === method);
}

/** The radius by one method, as a sentence; nothing where the method gave none. */
function radiusLine(mirror: Mirror, method: Method): Showable[] {
  const found = estimateOf(mirror, method);
  if (found === undefined) return [];
  const unused = found.used ? "" : " It is not used: see the warnings.";
  return [say`Radius of curvature ${fromQ(found.radius)}.${unused}`];
}

function leafRow(row: SagittaRow, mirror: Mirror): TableRow {
  const { settings } = mirror.record;
  const set = mirror.summary.curve?.set_aside.find((one) =>
    one.file === row.file && one.line === row.line
  );
  const gap = bracket(row.go ?? [], row.nogo ?? []);
  const chord = chordOf(settings, row.chord);
  const depth = depthFromLeaves(gap.middle, chord, settings.gauges.leaves.width);
  const full = carrySagitta(depth, chord, settings.aperture).toFixed(3);
  const u = (gap.width / Math.sqrt(12)).toFixed(3);
  const stack = (leaves: readonly number[] = []): string =>
    leaves.map((leaf) => leaf.toFixed(2)).join("+");
  return {
    cells: [
      row.afterMin,
      stack(row.go),
      stack(row.nogo),
      safe`<span class="q">${full} <i>± ${u}</i></span>`,
    ],
    ...(set === undefined ? {} : { setAside: set.why }),
  };
}

/** The latest leaf rows, and those that were set aside: the earlier ones belong to the log. */
function leafRowsNow({ record, summary }: Mirror): readonly SagittaRow[] {
  const rows = record.sagitta.filter(({ go }) => go !== undefined);
  const last = Math.max(...rows.map(({ afterMin = 0 }) => afterMin));
  const isAside = (row: SagittaRow): boolean =>
    summary.curve?.set_aside.some(({ file, line }) => file === row.file && line === row.line) ??
      false;
  return rows.filter((row) => (row.afterMin ?? 0) === last || isAside(row));
}

const leafPart: Part = {
  name: "leaves",
  count: (mirror) => leafRowsNow(mirror).length,
  show: (mirror) => {
    const rows = leafRowsNow(mirror);
    return [
      readingsTable("Leaves under the straight-edge", [
        { title: "Ground for", unit: "min" },
        { title: "Passes", unit: "mm" },
        { title: "Does not", unit: "mm" },
        { title: `Sagitta at ${mirror.record.settings.aperture} mm`, unit: "mm" },
      ], rows.map((row) => leafRow(row, mirror))),
      note(
        safe`From <code>sagitta.csv</code>, ${
          linesOf(rows)
        }. The leaf’s width and the bevel are taken into account.`,
      ),
      ...radiusLine(mirror, "leaves"),
    ];
  },
  how:
    "Lay the straight-edge across the middle, on its narrow side. Slide leaves in flat until a stack no longer passes; " +
    "write the last that passed and the first that did not into sagitta.csv. Six times, on different diameters.",
};

const spherometerPart: Part = {
  name: "spherometer",
  count: ({ record }) => record.spherometer.length,
  show: (mirror) => {
    const rows = mirror.record.spherometer;
    const dials = (surface: "flat" | "mirror"): string =>
      rows.filter((row) => row.surface === surface).map(({ dial }) => dial.toFixed(4)).join(", ");
    return [
      readingsTable("Spherometer", [{ title: "Surface", text: true }, {
        title: "Dial, mm",
        text: true,
      }], [{ cells: ["flat glass", dials("flat")] }, { cells: ["mirror", dials("mirror")] }]),
      note(safe`From <code>spherometer.csv</code>, ${linesOf(rows)}.`),
      ...radiusLine(mirror, "spherometer"),
    ];
  },
  how:
    "Set it on flat glass and read the dial, set it on the mirror and read again, five times each. " +
    "Write both into spherometer.csv.",
};

const sunPart: Part = {
  name: "Sun",
  count: ({ record }) => record.sun.length,
  show: (mirror) => {
    const rows = mirror.record.sun;
    const distances = rows.flatMap(({ distance }) => distance === undefined ? [] : [distance]);
    const images = rows.flatMap(({ image }) => image === undefined ? [] : [image]);
    const lines = [
      ...(distances.length > 0 ? [{ cells: ["distance of the image", distances.join(", ")] }] : []),
      ...(images.length > 0 ? [{ cells: ["its width", images.join(", ")] }] : []),
    ];
    return [
      readingsTable("The Sun’s image", [{ title: "What", text: true }, {
        title: "As read, mm",
        text: true,
      }], lines),
      note(safe`From <code>sun.csv</code>, ${linesOf(rows)}.`),
      ...radiusLine(mirror, "sun distance"),
    ];
  },
  how:
    "Outdoors, with the leader: wet the mirror, find the Sun’s image on a white card, and measure from the middle of " +
    "the glass to the card, six times, coming from both sides. Write it into sun.csv.",
};

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
  const shown = curve.estimates.filter(({ method, used }) => used || method !== "sun image");
  return threeMethods({
    bars: shown.map((one) => ({
      name: METHOD_NAMES[one.method],
      value: fromQ(one.radius),
      whose,
      odd: curve.odd_one === one.method,
    })),
    ...(curve.radius === undefined ? {} : { together: fromQ(curve.radius) }),
    wanted: mirror.summary.design.radius.value,
    title: "Radius of curvature (mm)",
    ...(curve.birge_ratio === undefined ? {} : { birgeRatio: curve.birge_ratio }),
  });
}

/** One radius from several methods, drawn; the demo's where the reader has none. */
export function radiusByMethods(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(togetherPart, yours, demo);
}

/** The reader's curve today: leaves, spherometer, Sun, each with its readings, or how to take them. */
export function yourCurve(yours: Mirror, demo: Mirror): Shown {
  return together(
    ...[leafPart, spherometerPart, sunPart].map((part) => ownOrDemo(part, yours, demo)),
  );
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
  const u = curve?.focal_length?.u ?? Infinity;
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
  const focal = curve?.focal_length && fromQ(curve.focal_length);
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

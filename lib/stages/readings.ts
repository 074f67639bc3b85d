/** The stage of repeated readings: heaps, slopes, methods weighed, what one more reading would buy, what to do. */
import { budgetBars } from "../figures/budgetBars.ts";
import { demo as demoBlock, note, readingsTable } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { decisionScale } from "../figures/decisionScale.ts";
import { standingFormula } from "../figures/formula.ts";
import { heapOfReadings } from "../figures/heapOfReadings.ts";
import { safe } from "../figures/html.ts";
import { asShown, type Showable, type Shown, together } from "../figures/show.ts";
import { threeMethods } from "../figures/threeMethods.ts";
import { say } from "../figures/words.ts";
import { whatWouldHelp } from "../measuring/advice.ts";
import { combine, type Weighable } from "../measuring/combine.ts";
import { depthGauge } from "../measuring/depthGauge.ts";
import type { Estimate } from "../measuring/estimate.ts";
import { chordOf } from "../measuring/gauges.ts";
import { bracket, depthFromLeaves, leaves } from "../measuring/leaves.ts";
import { type Reading, repeated } from "../measuring/repeated.ts";
import { spherometer } from "../measuring/spherometer.ts";
import { sunDistance, sunImage } from "../measuring/sun.ts";
import { carrySagitta } from "../optics/sphere.ts";
import type { FormulaResult } from "../quantity/derivative.ts";
import { measured } from "../quantity/measured.ts";
import type { Mirror } from "../record/open.ts";
import { fromQ } from "../record/q.ts";
import { ofLatestMinute } from "../record/readings.ts";
import type { Method } from "../record/summaryTypes.ts";
import { decision } from "../record/tables.ts";
import type { MirrorRecord } from "../record/types.ts";
import { METHOD_NAMES } from "./methodNames.ts";
import { countOf, ownOrDemo, type Part, type Whose } from "./whose.ts";

/** Fewer readings than this do not show a heap. COMMON PRACTICE */
const heapLeast = 3;

/** Readings of one kind: what they are called, how they are drawn, how to take them. */
interface Series {
  readonly name: string;
  readonly title: string;
  readonly digits: number;
  readonly readings: (record: MirrorRecord) => readonly Reading[];
  readonly how: string;
}

function leafDepths(record: MirrorRecord): readonly Reading[] {
  const { settings } = record;
  return ofLatestMinute(record.sagitta.filter(({ go }) => go !== undefined)).map((row) => {
    const gap = bracket(row.go ?? [], row.nogo ?? []), chord = chordOf(settings, row.chord);
    const depth = depthFromLeaves(gap.middle, chord, settings.gauges.leaves.width);
    const { file, line } = row;
    return { value: carrySagitta(depth, chord, settings.aperture), step: gap.width, file, line };
  });
}

const series: readonly Series[] = [
  {
    name: "the Sun",
    title: "Sun’s image from the glass (mm)",
    digits: 0,
    readings: ({ sun, settings }) =>
      ofLatestMinute(sun).flatMap(({ distance, file, line }) =>
        distance === undefined
          ? []
          : [{ value: distance, step: settings.gauges.rulerStep, file, line }]
      ),
    how:
      "Set the card anew six times, each time from farther off, without looking at the last number.",
  },
  {
    name: "leaves",
    title: "Sagitta at the full aperture (mm)",
    digits: 3,
    readings: leafDepths,
    how: "Lay the straight-edge on six different diameters, and bracket the gap on each anew.",
  },
  {
    name: "spherometer",
    title: "Dial on the mirror (mm)",
    digits: 3,
    readings: ({ spherometer: rows, settings }) =>
      ofLatestMinute(rows).filter(({ surface }) => surface === "mirror").map((
        { dial, file, line },
      ) => (
        { value: dial, step: settings.gauges.dialStep, file, line }
      )),
    how:
      "Lift it off, turn it, set it down again: five times on the flat, five times on the mirror.",
  },
];

/** A heap of readings with their mean; one that stands too far off is struck through. */
function heapFigure(
  readings: readonly Reading[],
  { title, digits }: Pick<Series, "title" | "digits">,
  whose: Whose,
): Shown {
  const found = repeated(readings), step = Math.max(...readings.map((one) => one.step));
  const aside = [...found.setAside];
  return heapOfReadings({
    readings: readings.map(({ value }) => {
      const at = aside.findIndex((one) => one.value === value);
      const [doubt] = at < 0 ? [] : aside.splice(at, 1);
      return doubt === undefined ? { value } : { value, setAside: doubt.why };
    }),
    ...{ title, digits, unit: "mm", whose },
    ...(found.s === undefined ? {} : { spread: Math.max(found.s, step / Math.sqrt(12)) }),
    ...(readings.length < heapLeast
      ? {}
      : { mean: measured(found.mean, found.u, "mm", found.dof) }),
  });
}

/**
 * Readings of one thing as a heap, with what the kit would set aside struck through.
 *
 * @param values  mm
 * @param as      title of the axis, the gauge's step in mm, digits after the point
 * @throws {RangeError} for none, or where one is not finite
 * @example five readings, one of them odd: none is set aside
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = heap([12.31, 12.36, 12.27, 12.33, 12.58], { title: "Dial (mm)", step: 0.01, digits: 2 });
 * assert.doesNotMatch(shown.text, /struck through/);
 * ```
 */
export function heap(
  values: readonly number[],
  as: { readonly title: string; readonly step: number; readonly digits: number },
): Shown {
  return heapFigure(values.map((value) => ({ value, step: as.step })), as, "demo");
}

function partOf(kind: Series): Part {
  return {
    name: kind.name,
    count: ({ record }) => kind.readings(record).length,
    show: ({ record }, whose) => {
      const readings = kind.readings(record), lines = readings.map(({ line = 0 }) => line);
      const file = readings[0]?.file ?? "";
      return [
        heapFigure(readings, kind, whose),
        note(
          safe`From <code>${file}</code>, lines ${Math.min(...lines)} to ${Math.max(...lines)}.`,
        ),
      ];
    },
    how: kind.how,
  };
}

/** The reader's latest readings of each kind, as heaps; with fewer than three of a kind also how to go on, and the demo's. */
export function yourRepeats(yours: Mirror, demo: Mirror): Shown {
  return together(...series.flatMap((kind): Showable[] => {
    const part = partOf(kind), own = part.count(yours), shown = ownOrDemo(part, yours, demo);
    if (own === 0 || own >= heapLeast) return [shown];
    const more = note(`Only ${countOf(own)}: measure again. ${kind.how}`);
    return [shown, more, demoBlock(demo.summary.title, ...part.show(demo, "demo"))];
  }));
}

/**
 * The slope of a formula by each of its inputs, as it is written on paper, with its value.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { measured } from "../quantity/measured.ts";
 * import { propagateFormula } from "../quantity/derivative.ts";
 * const found = propagateFormula("r^2 / 2", { r: measured(74, 0.15, "mm") });
 * assert.match(slopes("R", found).text, /dR\/dr = r = 74/);
 * ```
 */
export function slopes(name: string, found: FormulaResult): Shown {
  const lines = found.budget.map((line) => {
    const value = Number(line.sensitivity.toPrecision(3));
    const symbol = `\\frac{\\partial ${name}}{\\partial ${line.source}}`;
    return {
      html: standingFormula(`${symbol} = ${asWritten(line.partialTex)} = ${value}`),
      text: `d${name}/d${line.source} = ${line.partial} = ${value}`,
    };
  });
  return together(...lines);
}

/** mathjs takes some letters for units and sets them upright, keeps a factor of -1 at the end, and nests fractions. */
function asWritten(tex: string): string {
  const plain = tex.replace(/\\mathrm\{(\w)\}/g, "$1");
  const [above, below] = fraction(plain) ?? [];
  if (above === undefined || below === undefined) return plain;
  const inner = fraction(above);
  const [top, under] = inner === undefined ? [above, below] : [inner[0], `${inner[1]}\\,${below}`];
  const sign = top.endsWith("\\cdot-1") ? "-" : "";
  return `${sign}\\frac{${top.replace(/\\cdot-1$/, "")}}{${under}}`;
}

/** Numerator and denominator of a text that is one fraction and nothing else. */
function fraction(tex: string): readonly [string, string] | undefined {
  if (!tex.startsWith("\\frac{")) return undefined;
  const parts: string[] = [];
  let depth = 0, start = 0;
  for (let at = 5; at < tex.length; at++) {
    if (tex[at] === "{" && depth++ === 0) start = at + 1;
    if (tex[at] === "}" && --depth === 0) parts.push(tex.slice(start, at));
    if (parts.length === 2) {
      return at === tex.length - 1 ? [parts[0] ?? "", parts[1] ?? ""] : undefined;
    }
  }
  return undefined;
}

/**
 * The methods a mirror's radius rests on, each with its named sources of doubt.
 *
 * @returns in the order of the summary; none where nothing has been measured
 */
export function estimatesNow({ record, summary }: Mirror): readonly Estimate[] {
  const bench = record.settings;
  const made: Readonly<Record<Method, () => Estimate | undefined>> = {
    "leaves": () =>
      leaves(ofLatestMinute(record.sagitta.filter(({ go }) => go !== undefined)), bench),
    "depth gauge": () =>
      depthGauge(ofLatestMinute(record.sagitta.filter(({ depth }) => depth !== undefined)), bench),
    "spherometer": () => spherometer(ofLatestMinute(record.spherometer), bench),
    "sun distance": () => sunDistance(ofLatestMinute(record.sun), bench),
    "sun image": () => sunImage(ofLatestMinute(record.sun), bench),
  };
  const used = summary.curve?.estimates.filter((one) => one.used) ?? [];
  return used.flatMap(({ method }) => made[method]() ?? []);
}

/** An estimate of R by one method, of which only its uncertainty is known; mm. */
export function claim(method: Method, radius: number, u: number): Weighable {
  return {
    method,
    radius: measured(radius, u, "mm"),
    components: [{ source: method, u, dof: Infinity }],
  };
}

/**
 * Several estimates of R weighed against each other: radius, weight, and how far each lies from the mean in its own u.
 *
 * @throws {RangeError} for none, or one without uncertainty
 */
export function weighed(estimates: readonly Weighable[]): Shown {
  const { radius, weights, weightedMean } = combine(estimates);
  const rows = estimates.map((one, i) => ({
    cells: [
      METHOD_NAMES[one.method],
      one.radius,
      `${((weights[i] ?? 0) * 100).toFixed(0)}\u2009%`,
      (Math.abs(one.radius.value - weightedMean.value) / one.radius.u).toFixed(1),
    ],
  }));
  return readingsTable("Methods weighed", [
    { title: "Method", text: true },
    { title: "R", unit: "mm" },
    { title: "Weight" },
    { title: "Distance from the mean, in its own u" },
  ], [...rows, { cells: ["Together", radius, "", ""] }]);
}

/** Several estimates of R as bars above one axis, what they give together beneath; one that stands apart is struck through. */
export function methodsApart(estimates: readonly Weighable[]): Shown {
  const { radius, birgeRatio, oddOne } = combine(estimates);
  return threeMethods({
    bars: estimates.map((one) => ({
      name: METHOD_NAMES[one.method],
      value: one.radius,
      whose: "demo",
      odd: one.method === oddOne,
    })),
    together: radius,
    title: "Radius of curvature (mm)",
    ...(birgeRatio === undefined ? {} : { birgeRatio }),
  });
}

const budgetPart: Part = {
  name: "the budget of R",
  noun: "source",
  count: ({ summary }) => summary.curve?.budget.length ?? 0,
  show: ({ summary }) => [budgetBars((summary.curve?.budget ?? []).slice(0, 6))],
  how: "With readings by one method or more the kit shows where the doubt comes from.",
};

/** Where the doubt about the reader's R comes from, the largest share first. */
export function yourBudget(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(budgetPart, yours, demo);
}

const helpPart: Part = {
  name: "what would help",
  noun: "method",
  count: (mirror) => estimatesNow(mirror).length,
  show: (mirror) => {
    const estimates = estimatesNow(mirror), now = combine(estimates).weightedMean.u;
    const rows = whatWouldHelp(estimates).slice(0, 5).map(({ method, what, u, gain }) => ({
      cells: [METHOD_NAMES[method], what, u.toFixed(1), `${(gain * 100).toFixed(0)}\u2009%`],
    }));
    return [
      say`Standard uncertainty of R now: ${now.toFixed(1)}\u2009mm.`,
      readingsTable("What one change would buy", [
        { title: "Method", text: true },
        { title: "One change", text: true },
        { title: "u of R then", unit: "mm" },
        { title: "Less doubt" },
      ], rows),
    ];
  },
  how: "With readings by one method or more the kit says which change would help most.",
};

/** What one more reading, a surer gauge or a wider one would buy; best first. */
export function whatHelps(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(helpPart, yours, demo);
}

type State = "none" | "cause" | "more" | "on";

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  none: ["measure", "Take readings of the curve first, six of a kind."],
  cause: [
    "find the cause",
    "The methods differ more than they may: find the cause, do not average.",
  ],
  more: ["read again", "Take four more readings of the method with the largest share."],
  on: ["go on", "The methods agree, and your focal length is sure enough to go on."],
};

/** What the weighed readings call for. */
export function decideReadings(mirror: Mirror): Shown {
  const estimates = estimatesNow(mirror), most = decision("focal_length_u_most");
  const least = decision("consistent_p_least");
  const combined = estimates.length === 0 ? undefined : combine(estimates);
  const focal = mirror.summary.curve?.focal_length && fromQ(mirror.summary.curve.focal_length);
  const state: State = combined === undefined || focal === undefined
    ? "none"
    : (combined.p ?? 1) < least
    ? "cause"
    : focal.u > most
    ? "more"
    : "on";
  const [title, what] = SAYS[state], largest = combined?.budget[0]?.source;
  return decide({
    title,
    do: what,
    ...(focal === undefined ? {} : { scale: uScale(focal.u, most) }),
    choices: [
      {
        name: "Go on",
        when: `when the methods agree (chance ${least} or more) and u of f is ${most} mm or less.`,
        chosen: state === "on",
      },
      {
        name: "Read again",
        when: `four times, where the share is largest${
          largest === undefined ? "" : `: now ${largest}`
        }.`,
        chosen: state === "more" || state === "none",
      },
      {
        name: "Find the cause",
        when: `when such a disagreement has a chance below ${least}.`,
        chosen: state === "cause",
      },
    ],
    ...(focal === undefined ? {} : { after: asShown(say`Your focal length: ${focal}.`).text }),
  });
}

function uScale(u: number, most: number): Shown {
  return decisionScale({
    from: 0,
    to: 2 * Math.max(most, u),
    title: "Standard uncertainty of the focal length (mm)",
    digits: 1,
    zones: [{ name: "go on", to: most, tone: "wanted" }, { name: "read again", tone: "past" }],
    value: u,
  });
}

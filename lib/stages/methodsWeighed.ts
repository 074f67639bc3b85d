/** The stage of repeated readings: methods weighed, what one more reading would buy, what to do. */
import { readingsTable } from "../figures/blocks.ts";
import { decide, decisionScale } from "../figures/decide.ts";
import { budgetBars } from "../figures/plots/budgetBars.ts";
import { threeMethods } from "../figures/plots/threeMethods.ts";
import { asShown, type Shown } from "../figures/show.ts";
import { say } from "../figures/words.ts";
import type { Mirror } from "../knowledge/open.ts";
import { fromQ } from "../knowledge/q.ts";
import { whatWouldHelp } from "../measuring/advice.ts";
import { simulateCurve } from "../measuring/curveMonteCarlo.ts";
import { combine, type Weighable } from "../measuring/combine.ts";
import type { Estimate } from "../measuring/estimate.ts";
import { type Method, methodNamed, methodTitle, rowsOf } from "../measuring/methods/methods.ts";
import { measured } from "../quantity/measured.ts";
import { ofLatestMinute } from "../record/readings.ts";
import { decision } from "../record/tables.ts";
import type { Row } from "../record/types.ts";
import { ownOrDemo, type Part } from "./base.ts";

/**
 * The methods a mirror's radius rests on, each with its named sources of doubt.
 *
 * @returns in the order of the summary; none where nothing has been measured
 */
export function estimatesNow({ record, summary }: Mirror): readonly Estimate[] {
  const used = summary.curve?.estimates.filter((one) => one.used) ?? [];
  return used.flatMap(({ method: name }) => {
    const method = methodNamed(name);
    if (method === undefined) return [];
    const rows = ofLatestMinute(rowsOf(method, record) as readonly Row[]);
    return method.reduce(rows, record.settings) ?? [];
  });
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
      methodTitle(one.method),
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
      name: methodTitle(one.method),
      value: one.radius,
      whose: "demo",
      odd: one.method === oddOne,
    })),
    together: radius,
    title: "Radius of curvature (mm)",
    ...(birgeRatio === undefined ? {} : { birgeRatio }),
  });
}

/** Draws for the radius: its u then stands to a percent, in a tenth of a second. */
const DRAWS = 20_000;

/** R by drawing every error at once, beside R by the slopes; nothing where a method with readings is left out. */
function radiusByDraws({ record, summary }: Mirror): Shown | undefined {
  const { curve } = summary;
  const isDrawn = (method: Method): boolean => methodNamed(method)?.draws !== undefined;
  if (curve?.radius === undefined) return undefined;
  if (curve.estimates.some(({ used, method }) => used !== isDrawn(method))) return undefined;
  const tables = curve.estimates.map(({ method }) => methodNamed(method)?.table);
  const latest = Object.fromEntries(
    tables.flatMap((table) =>
      table === undefined ? [] : [[table, ofLatestMinute(record[table] as readonly Row[])]]
    ),
  );
  const { value, u } = simulateCurve({ ...record, ...latest }, record.settings, {
    trials: DRAWS,
    seed: 1,
  });
  return say`Every error drawn at random, ${thousands(DRAWS)} times over: R = ${
    measured(value, u, "mm")
  }. By the slopes: R = ${fromQ(curve.radius)}.`;
}

const thousands = (count: number): string => count.toLocaleString("en").replaceAll(",", "\u202f");

const budgetPart: Part = {
  name: "the budget of R",
  noun: "source",
  count: ({ summary }) => summary.curve?.budget.length ?? 0,
  show: (mirror) => {
    const bars = budgetBars((mirror.summary.curve?.budget ?? []).slice(0, 6));
    const drawn = radiusByDraws(mirror);
    return drawn === undefined ? [bars] : [bars, drawn];
  },
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
      cells: [methodTitle(method), what, u.toFixed(1), `${(gain * 100).toFixed(0)}\u2009%`],
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
  const focal = mirror.summary.curve?.focalLength && fromQ(mirror.summary.curve.focalLength);
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

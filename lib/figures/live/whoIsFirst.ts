/** Live: which of six benches the leader goes to first, and how many mirrors wait for the tester. */
import { type HelpRow, type Reason, reasonOf, sooner } from "../../knowledge/orderOfHelp.ts";
import { type TesterQueue, testerQueue } from "../../knowledge/testerQueue.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, rect, stroke, words } from "../pen.ts";
import { fixed } from "../scale.ts";
import { type Control, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

/** `forecast_soon` of data/tables/decisions.csv, min. */
export const soonMin = 10;

/** One bench in the order, and why it is there. */
export interface Place {
  readonly bench: number;
  readonly reason: Reason;
  readonly why: string;
  /** what is written of it, in short */
  readonly known: string;
}

const nothingOdd = { readings: 9, warnings: [], done: false } as const;
const row = (stage: string, step: string, more: Partial<HelpRow> = {}): HelpRow => ({
  ...nothingOdd,
  stage,
  do: step,
  ...more,
});

interface Bench {
  readonly row: HelpRow;
  readonly known: string;
  readonly idleDays?: number;
  readonly adult?: string;
}

/** Six invented benches; the sliders move three of them. */
function benches(values: Values): readonly Bench[] {
  const deep = valueOf(values, "deep"), minutes = valueOf(values, "minutes");
  const idleDays = Math.round(valueOf(values, "idle"));
  return [
    {
      row: row("rough grinding", "Grind on.", { minutesToTarget: minutes }),
      known: `${fixed(minutes)} min to depth`,
    },
    {
      row: row("correcting", "Tool on top.", deep > 0 ? { tooDeepUm: deep } : {}),
      known: deep > 0 ? `${fixed(deep)} µm past it` : "at its depth",
    },
    {
      row: row("lap", "Pour the lap."),
      known: "pours its lap",
      adult: "Hot pitch: not before the adult is there.",
    },
    {
      row: row("measuring", "Look again.", { slip: "Its tape says R where f was asked." }),
      known: "R where f stands",
    },
    { row: row("zone test", "Read the zones."), known: "polished out" },
    {
      row: row("fine grinding", "Go on."),
      known: `${fixed(idleDays)} ${idleDays === 1 ? "day" : "days"} idle`,
      idleDays,
    },
  ];
}

/**
 * The six benches in the course's order of help.
 *
 * @param values  minutes of the first bench to its depth; deep um, by which the second is past it, 0 for not; idle days of the sixth
 * @example ten minutes and more to the depth: the adult's bench is first
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(inOrder({ minutes: 30, deep: 0, idle: 3 })[0]?.bench, 3);
 * assert.equal(inOrder({ minutes: 9, deep: 0, idle: 3 })[0]?.bench, 1);
 * ```
 */
export function inOrder(values: Values): Place[] {
  return benches(values).map(({ row, known, idleDays = 0, adult }, i) => {
    const [reason, why, among] = reasonOf(row, soonMin, adult);
    return { record: `bench-${i + 1}`, bench: i + 1, reason, why, known, among, idleDays };
  }).sort(sooner).map(({ bench, reason, why, known }) => ({ bench, reason, why, known }));
}

const order = once(({ minutes = 0, deep = 0, idle = 0 }) => inOrder({ minutes, deep, idle }));
const queue = once((values): TesterQueue =>
  testerQueue({
    mirrors: Math.round(valueOf(values, "mirrors")),
    testers: Math.round(valueOf(values, "testers")),
    testMin: valueOf(values, "test"),
    awayMin: valueOf(values, "away"),
  })
);

/** As it is said at the bench: "idle" is a bench that goes on by itself. */
const said = (reason: Reason): string => reason === "idle" ? "goes on by itself" : reason;

function list(places: readonly Place[]): Html {
  return group(
    words([0, 13], "Go to"),
    places.map(({ bench, reason, known }, i) => {
      const y = 36 + 24 * i;
      return group(
        stroke("lead", [0, y + 8], [344, y + 8], "stroke:var(--hair)"),
        words([4, y], String(i + 1), { kind: "soft" }),
        words([30, y], `bench ${bench}`, i === 0 ? { kind: "b" } : {}),
        words([104, y], said(reason), i === 0 ? { kind: "b" } : {}),
        words([344, y], known, { kind: "soft", anchor: "end" }),
      );
    }),
  );
}

/** The mirrors of the tester on the mean: being tested, waiting, away at the bench. */
function room(values: Values, { waiting, inUse }: TesterQueue): Html {
  const mirrors = Math.round(valueOf(values, "mirrors")),
    testers = Math.round(valueOf(values, "testers"));
  const wide = 344 / Math.max(1, mirrors), tested = inUse * testers, top = 214;
  const parts = [
    ["mine", tested, "tested"],
    ["zone-c", waiting, "waiting"],
    ["zone-b", mirrors - tested - waiting, "at the bench"],
  ] as const;
  let from = 0;
  return group(
    words(
      [0, 200],
      `Of ${mirrors} ${mirrors === 1 ? "mirror" : "mirrors"} at the zone test, on the mean`,
    ),
    parts.map(([kind, count]) => {
      const left = from;
      from += count * wide;
      return rect(kind, [left, top], count * wide, 26, "stroke:var(--paper)");
    }),
    parts.map(([kind, count, name], i) =>
      group(
        dot(kind, [8, 260 + 20 * i], 6, "stroke:var(--line)"),
        words([22, 264.5 + 20 * i], `${fixed(count, 1)} ${name}`),
      )
    ),
  );
}

function picture(values: Values): Html {
  const places = order(values), now = queue(values);
  return drawing({
    width: 352,
    height: 312,
    finding: `Six benches in the order of help, first bench ${places[0]?.bench}: ${
      places[0]?.reason
    }. Below, mirrors at the tester: ${fixed(now.waiting, 1)} wait on the mean.`,
    contents: group(list(places), room(values, now)),
  });
}

function reading(values: Values): Html {
  const [first] = order(values), { waiting, waitMin, inUse, testsAnHour } = queue(values);
  const state = waiting < 0.5
    ? "hardly anybody waits"
    : inUse > 0.95
    ? "the tester never stands still, and the queue does not end"
    : "a queue";
  return safe`Waiting <big><output>${fixed(waiting, 1)}</output></big> each for <output>${
    fixed(waitMin)
  } min</output> before a test: <output>${state}</output>. Testers are in use ${
    fixed(100 * inUse)
  } % of the time, ${fixed(testsAnHour, 1)} tests an hour. Go first to <output>bench ${
    first?.bench ?? ""
  }</output>: ${first?.why ?? ""}`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "minutes", label: "Bench 1, minutes to its depth", min: 0, max: 60, step: 1 },
    ...{ digits: 0, unit: "min", spoken: "minutes" },
  },
  {
    ...{ key: "deep", label: "Bench 2, too deep by", min: 0, max: 60, step: 5, digits: 0 },
    ...{ unit: "µm", spoken: "micrometres" },
  },
  {
    ...{ key: "idle", label: "Bench 6, days without a reading", min: 0, max: 21, step: 1 },
    ...{ digits: 0, unit: "days", spoken: "days" },
  },
  {
    ...{ key: "mirrors", label: "Mirrors at the zone test", min: 1, max: 12, step: 1, digits: 0 },
    ...{ unit: "mirrors", spoken: "mirrors" },
  },
  {
    ...{ key: "testers", label: "Testers in the room", min: 1, max: 4, step: 1, digits: 0 },
    ...{ unit: "", spoken: "testers" },
  },
  {
    ...{ key: "test", label: "One test takes", min: 10, max: 90, step: 5, digits: 0 },
    ...{ unit: "min", spoken: "minutes" },
  },
  {
    ...{ key: "away", label: "Session and cooling between", min: 30, max: 240, step: 10 },
    ...{ digits: 0, unit: "min", spoken: "minutes" },
  },
];

/** The figure: six benches and one queue. */
export const whoIsFirst: LiveFigure = {
  name: "who-is-first",
  controls,
  start: { minutes: 30, deep: 20, idle: 5, mirrors: 6, testers: 1, test: 30, away: 90 },
  picture,
  reading,
  value: (values) => queue(values).waiting,
  caption:
    safe`<b>The order</b> is the class page’s own, of benches and never of people. The queue is a mean over many days, tests and sessions being sometimes short and sometimes long; times that keep to the clock wait less. Bench 3 is at the lap: an adult pours.`,
};

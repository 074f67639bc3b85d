/** The stage of the verdict: result against goal, three numbers of one wavefront, throws, what to do. */
import { readingsTable } from "../figures/blocks.ts";
import { decide, verdict } from "../figures/decide.ts";
import { decisionScale } from "../figures/decisionScale.ts";
import type { Shown } from "../figures/show.ts";
import { verdictBar } from "../figures/verdictBar.ts";
import { probabilityText, say } from "../figures/words.ts";
import type { Mirror } from "../record/open.ts";
import { decision } from "../record/tables.ts";
import { throwsHeap } from "./throws.ts";
import { ownOrDemo, type Part, type Whose } from "./whose.ts";
import { type ReducedDay, reducedDays } from "./zones.ts";

/** The goal on the wavefront, waves: twice what is allowed on the glass. */
export function goalOf({ record }: Mirror): number {
  return 2 * record.settings.goal.surfaceWaves;
}

function bars(days: readonly ReducedDay[], mirror: Mirror, whose: Whose): Shown {
  return verdictBar({
    results: days.map(({ date, found }) => ({
      name: date ?? "undated",
      value: found.wavefrontPv,
      interval: found.interval95.wavefrontPv,
      verdict: found.verdict,
      probability: found.probabilityWithinGoal,
      whose,
    })),
    goal: goalOf(mirror),
    title: "Wavefront, peak to valley (wave)",
    digits: 3,
  });
}

const SAID = {
  "yes": "The surface meets its goal.",
  "no": "The surface does not meet its goal yet.",
  "not shown": "These readings cannot show that the surface meets its goal.",
} as const;

const verdictPart: Part = {
  name: "the verdict",
  noun: "run",
  count: (mirror) => reducedDays(mirror).at(-1)?.found.runs ?? 0,
  show: (mirror, whose) => {
    const day = reducedDays(mirror).at(-1);
    if (day === undefined) return [];
    const { found } = day;
    const because = say`Glass, P-V: ${found.surfacePv}. Probability of meeting the goal: ${
      probabilityText(found.probabilityWithinGoal)
    }, from ${found.runs} runs${day.date === undefined ? "" : ` on ${day.date}`}.`;
    return [
      bars([day], mirror, whose),
      verdict({ meetsGoal: found.verdict, says: SAID[found.verdict], because }),
    ];
  },
  how: "A verdict needs zone readings: five openings, three runs at least, in zones.csv.",
};

/** The latest day's verdict against the goal; the demo's where the reader has no zone readings. */
export function yourVerdict(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(verdictPart, yours, demo);
}

export function dayOf(name: string, mirror: Mirror, which: number): ReducedDay {
  const days = reducedDays(mirror), day = days.at(which);
  if (day !== undefined) return day;
  throw new RangeError(
    `${name} requires a day of zone readings among ${days.length}, got ${which}`,
  );
}

/**
 * One day's result against the goal.
 *
 * @param which  0 for the first day of readings, -1 for the last
 * @throws {RangeError} where there is no such day
 */
export function verdictOn(mirror: Mirror, which: number): Shown {
  return bars([dayOf("verdictOn", mirror, which)], mirror, "demo");
}

/** P-V, RMS and Strehl of each day beside one another. */
export function threeNumbers(mirror: Mirror): Shown {
  return readingsTable(
    "Three numbers of one wavefront",
    [
      { title: "Date", text: true },
      { title: "P-V", unit: "wave" },
      { title: "RMS", unit: "wave" },
      { title: "Strehl" },
    ],
    reducedDays(mirror).map(({ date, found }) => ({
      cells: [date ?? "undated", found.wavefrontPv, found.wavefrontRms, found.strehl],
    })),
  );
}

/**
 * The P-V of many mirrors that could have given one day's readings, against the goal.
 *
 * @param which  0 for the first day of readings, -1 for the last
 * @param times  how many of the seeded throws are shown, at most as many as there are
 * @throws {RangeError} where there is no such day
 */
export function throwReadings(mirror: Mirror, which: number, times = 5000): Shown {
  const { found } = dayOf("throwReadings", mirror, which);
  return throwsHeap({
    draws: found.drawsPv.subarray(0, times),
    title: "Wavefront, peak to valley (wave)",
    digits: 3,
    seed: found.seed,
    goal: goalOf(mirror),
  });
}

type State = "none" | "coat" | "runs" | "polish";

/** Would twice the knowledge, that is four times the runs, settle it? */
function stateOf(last: ReducedDay | undefined): State {
  if (last === undefined) return "none";
  const { probabilityWithinGoal: p, verdict: said, moreRuns = false } = last.found;
  if (said === "yes") return "coat";
  if (p <= decision("probability_no")) return "polish";
  return moreRuns ? "runs" : "polish";
}

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  none: ["measure", "There is no verdict without readings: take three runs over all zones."],
  coat: [
    "stop, and coat",
    "The goal is shown to be met: leave the glass alone, and have it coated.",
  ],
  runs: ["more runs", "Not shown yet: more runs should settle it."],
  polish: ["polish", "Go on to figuring: one short spell, then test again."],
};

/** What the verdict calls for: coat it, take more runs, or polish. */
export function decideVerdict(mirror: Mirror): Shown {
  const last = reducedDays(mirror).at(-1), state = stateOf(last), [title, what] = SAYS[state];
  const yes = decision("probability_yes"), no = decision("probability_no");
  const advice = last?.found.advice;
  return decide({
    title,
    do: what,
    ...(last === undefined ? {} : { scale: chanceScale(last, yes, no) }),
    choices: [
      {
        name: "Coat it",
        when: `when the probability is ${yes} or more.`,
        chosen: state === "coat",
      },
      {
        name: "More runs",
        when: "between the two, where some more runs would settle it.",
        chosen: state === "runs" || state === "none",
      },
      {
        name: "Polish",
        when: `at ${no} or less, and where more runs would not help.`,
        chosen: state === "polish",
      },
    ],
    ...(advice === undefined
      ? {}
      : { after: `${advice.charAt(0).toUpperCase()}${advice.slice(1)}.` }),
  });
}

function chanceScale({ found }: ReducedDay, yes: number, no: number): Shown {
  return decisionScale({
    from: 0,
    to: 1,
    title: "Probability of meeting the goal",
    digits: 2,
    zones: [
      { name: "no", to: no, tone: "past" },
      { name: "not shown", to: yes, tone: "before" },
      { name: "yes", tone: "wanted" },
    ],
    value: found.probabilityWithinGoal,
  });
}

/** The stage of the verdict: result against goal, three numbers of one wavefront, throws, what to do. */
import { note, readingsTable } from "../figures/blocks.ts";
import { decide, verdict } from "../figures/decide.ts";
import { decisionScale } from "../figures/drawings/decisionScale.ts";
import { type Shown, together } from "../figures/show.ts";
import { verdictBar } from "../figures/plots/verdictBar.ts";
import { probabilityText, say } from "../figures/words.ts";
import { isStale, readingsSaid } from "../knowledge/glassWork.ts";
import type { Mirror } from "../knowledge/open.ts";
import { seatsSaid } from "../knowledge/seatWords.ts";
import { decision } from "../record/tables.ts";
import { verdictNotes } from "../knowledge/tellVerdict.ts";
import { shareWithin, throwsHeap } from "./throws.ts";
import { ownOrDemo, type Part, type Whose } from "./whose.ts";
import { daysAlone, daysOf, isInShadow, type ReducedDay, reducedDays } from "./zoneDays.ts";
import { judgedDay } from "./zones.ts";

/** The goal on the wavefront, waves: twice what is allowed on the glass. */
export function goalOf({ record }: Mirror): number {
  return 2 * record.settings.goal.surfaceWaves;
}

function bars(days: readonly ReducedDay[], mirror: Mirror, whose: Whose): Shown {
  return verdictBar({
    results: days.map((day) => ({ ...judgedDay(day), whose })),
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
const REACH = "This is of one diameter; the others have not been read.";
const SHADOW =
  "The fault lies in the flat’s shadow, where no light of a star goes: outside it the surface meets its goal.";

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
    }, from ${readingsSaid(day)}.`;
    return [
      bars([day], mirror, whose),
      verdict({ meetsGoal: found.verdict, says: saidOf(found), because }),
      ...notesOf(mirror),
    ];
  },
  how:
    "A verdict needs zone readings: three runs at least through all openings of the mask, in zones.csv; for the whole surface in three seats, with the knife upright and on its side.",
};

/** The verdict in one sentence, and how far it reaches. */
function saidOf(found: ReducedDay["found"]): string {
  if (isInShadow(found)) return SHADOW;
  const reach = found.scope === "whole surface" ? "" : ` ${REACH}`;
  return found.verdict === "yes" ? `${SAID.yes}${reach}` : SAID[found.verdict];
}

/** Scope, what is lacking, what was not seen and what lies outside the flat's shadow, in the words of `check`. */
function notesOf({ summary }: Mirror): Shown[] {
  const notes = verdictNotes(summary).map((
    [label, text],
  ) => [sentence(label), `${sentence(text)}.`]);
  return notes.length === 0 ? [] : [
    readingsTable(
      "Beside the verdict",
      [{ title: "Beside it", text: true }, { title: "What is said", text: true }],
      notes.map((cells) => ({ cells })),
    ),
  ];
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

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
    reducedDays(mirror).map((day) => ({
      cells: [daysOf(day), day.found.wavefrontPv, day.found.wavefrontRms, day.found.strehl],
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
  const { found } = dayOf("throwReadings", mirror, which), { probabilityWithinGoal: told } = found;
  const draws = found.drawsPv.subarray(0, times), share = shareWithin(draws, goalOf(mirror));
  const heap = throwsHeap({
    draws,
    title: "Wavefront, peak to valley (wave)",
    digits: 3,
    seed: found.seed,
    goal: goalOf(mirror),
  });
  // three standard deviations of a share: beyond them it is what could hide in the openings
  const chance = 3 * Math.sqrt(share * (1 - share) / draws.length);
  if (share - told <= Math.max(chance, 0.005)) return heap;
  return together(
    heap,
    note(
      `Told is ${
        probabilityText(told)
      }, less than this share: it is reckoned for the worst ring, edge or step that could hide in these openings.`,
    ),
  );
}

/** Each day of the latest surface by itself, and all of them as the one measurement they are. */
export function daysPooled(mirror: Mirror): Shown {
  const last = dayOf("daysPooled", mirror, -1), alone = daysAlone(mirror);
  return bars([...alone, last], mirror, "demo");
}

type State = "none" | "again" | "coat" | "others" | "runs" | "polish" | "polish on";

/** What the next step of the record comes to here; by the verdict alone where another matter comes first. */
function stateOf(last: ReducedDay | undefined, { record, summary }: Mirror): State {
  if (last === undefined) return "none";
  if (isStale(record)) return "again";
  const { stage } = summary.next_step, { found } = last;
  if (found.verdict === "yes" || isInShadow(found)) {
    if (stage === "zone test") return "others";
    if (stage === "polishing") return "polish on";
    const isEnough = found.scope === "whole surface" ||
      record.settings.goal.scope === "one diameter";
    return isEnough ? "coat" : "others";
  }
  if (stage === "zone test") return "runs";
  if (stage === "figuring" || stage === "polishing" || found.verdict === "no") return "polish";
  return found.moreRuns === true || found.lacks.includes("narrower openings") ? "runs" : "polish";
}

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  none: ["measure", "There is no verdict without readings: take three runs over all zones."],
  coat: [
    "stop, and coat",
    "The goal is shown to be met: leave the glass alone, and have it coated.",
  ],
  others: [
    "the other diameters",
    "Good along the diameter that was read: polish nothing, and read the others before it is coated.",
  ],
  again: ["read again", "The glass has been worked since it was read: read it again."],
  runs: ["read on", "Not shown yet: further readings should settle it."],
  polish: ["polish", "Go on to figuring: one short spell, then test again."],
  "polish on": [
    "polish on",
    "The figure is good and the polish is not over: an hour more, evenly, until no pit is left.",
  ],
};

/** What is still to be read, else which readings would settle it, with what else the mirror lacks for its coating. */
function afterOf(state: State, last: ReducedDay | undefined): string | undefined {
  if (last === undefined || state === "again") return undefined;
  if (state === "others") {
    return seatsSaid(
      last.found.wanted.map(({ angleDeg, knifeDeg, runs }) => (
        { angle_deg: angleDeg, knife_deg: knifeDeg, runs }
      )),
    );
  }
  if (state === "coat" && last.found.scope === "one diameter") {
    return "By goal.scope one diameter is enough here: astigmatism was not looked for.";
  }
  if (state === "coat" && isInShadow(last.found)) return SHADOW;
  return last.found.advice === undefined ? undefined : `${sentence(last.found.advice)}.`;
}

/** What the verdict calls for: coat it, read the other diameters, read on, or polish. */
export function decideVerdict(mirror: Mirror): Shown {
  const last = reducedDays(mirror).at(-1), state = stateOf(last, mirror);
  const [title, what] = SAYS[state], after = afterOf(state, last);
  const yes = decision("probability_yes"), no = decision("probability_no");
  const isShadow = last !== undefined && isInShadow(last.found);
  return decide({
    title,
    do: state === "coat" && isShadow
      ? "Outside the flat’s shadow the goal is shown to be met: leave the glass alone, and have it coated."
      : what,
    ...(last === undefined ? {} : { scale: chanceScale(last, yes, no) }),
    choices: [
      {
        name: "Coat it",
        when:
          `when the probability is ${yes} or more, or is so outside the flat’s shadow, and the whole surface was read.`,
        chosen: state === "coat",
      },
      {
        name: "Other diameters",
        when: `when it is ${yes} or more along one diameter.`,
        chosen: state === "others",
      },
      {
        name: "Read on",
        when: "between the two, where more runs or narrower openings would settle it.",
        chosen: state === "runs" || state === "again" || state === "none",
      },
      {
        name: "Polish",
        when: `at ${no} or less, where reading on would not help, and while pits are left.`,
        chosen: state === "polish" || state === "polish on",
      },
    ],
    ...(after === undefined ? {} : { after }),
  });
}

function chanceScale({ found }: ReducedDay, yes: number, no: number): Shown {
  return decisionScale({
    from: 0,
    to: 1,
    title: isInShadow(found)
      ? "Probability of meeting the goal outside the flat’s shadow"
      : "Probability of meeting the goal",
    digits: 2,
    zones: [
      { name: "no", to: no, tone: "past" },
      { name: "not shown", to: yes, tone: "before" },
      { name: "yes", tone: "wanted" },
    ],
    value: isInShadow(found)
      ? found.outsideShadow?.probability ?? found.probabilityWithinGoal
      : found.probabilityWithinGoal,
  });
}

/** The stage of figuring: what is too high, the next session and what it should come to, what the last one did, when to stop. */
import { facts, note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { foreseenFound } from "../figures/plots/foreseenFound.ts";
import { removalPlan } from "../figures/plots/removalPlan.ts";
import { type Shown, together } from "../figures/show.ts";
import {
  faultSaid,
  handsSaid,
  learnt,
  planFor,
  turnsSaid,
  withoutGain,
} from "../knowledge/figuringStep.ts";
import type { GrindingRow } from "../record/types.ts";
import type { Mirror } from "../knowledge/open.ts";
import type { FiguringSummary } from "../knowledge/summaryTypes.ts";
import { grainUm } from "../knowledge/rules.ts";
import { decision, fact } from "../record/tables.ts";
import { type FaultName, faultsOf, remedies } from "../shaping/figuring/figuringFaults.ts";
import { footprintAt, strokeFootprint } from "../shaping/figuring/figuringFootprint.ts";
import type { Hands } from "../shaping/figuring/figuringHands.ts";
import { modeShape } from "../shaping/figuring/figuringModes.ts";
import { type FiguringPlan, figuringPlan, takenBy } from "../shaping/figuring/figuringPlan.ts";
import {
  type FiguringStroke,
  fullLapStrokes,
  ordinaryStroke,
} from "../shaping/figuring/figuringStrokes.ts";
import { placesOf, withoutFocus } from "../shaping/figuring/figuringChoice.ts";
import { ownOrDemo, type Part, type Whose } from "./base.ts";
import { daysOf, isInShadow, type ReducedDay, reducedDays } from "./zones.ts";

/** What the sessions up to a day teach of the hands; by the log, or by one that differs from it. */
function learntUpTo(
  day: ReducedDay | undefined,
  mirror: Mirror,
  grinding: readonly GrindingRow[] = mirror.record.grinding,
): ReturnType<typeof learnt> {
  const days = reducedDays(mirror), last = day === undefined ? -1 : days.indexOf(day);
  const surfaces = days.slice(0, last < 0 ? days.length : last + 1)
    .map((one) => ({ measurement: one, found: () => one.found }));
  return learnt(
    { ...mirror.record, grinding },
    surfaces,
    (name) => grainUm(name) === undefined,
  );
}

/** The plan for one day's surface, by hands as they were known that day. */
function planOf(day: ReducedDay, mirror: Mirror, hands: Hands): FiguringPlan {
  const { profile, profileCovariance: covariance, verdict, surfaceRms, runs } = day.found;
  const probability = day.found.probabilityWithinGoal;
  return planFor(
    { profile, covariance, verdict, probability, rms: surfaceRms.value, runs },
    mirror.record.settings,
    decision("session_longest"),
    hands,
  );
}

/** Minutes by stroke: the next session, and all of it as it looks today. */
function sessionTable({ whole, next }: FiguringPlan): Shown {
  const rows = whole.map(({ stroke, minutes }): TableRow => {
    const now = next.find((session) => session.stroke.name === stroke.name)?.minutes;
    return { cells: [stroke.name, now?.toFixed(2), minutes.toFixed(1)] };
  });
  return readingsTable("Strokes and minutes", [
    { title: "Stroke", text: true },
    { title: "Next session", unit: "min" },
    { title: "In all", unit: "min" },
  ], rows);
}

const IN_SHADOW =
  "none: the fault lies in the flat’s shadow, where no light of a star goes; it is harmless there";

function stopSaid({ found }: ReducedDay): string {
  return found.scope === "whole surface"
    ? "none: the goal is shown"
    : "none: the goal is shown along the one diameter that was read; read the others";
}

function planned(day: ReducedDay, mirror: Mirror, whose: Whose): Shown[] {
  const { hands } = learntUpTo(day, mirror);
  const plan = planOf(day, mirror, hands), { before, after, removal } = plan;
  const found = faultsOf(day.found.profile), remedy = faultSaid(found);
  const faults = found.map(({ name, radius }) => `${name} at ${radius.toFixed(0)} mm`);
  const named = faults.length === 0 ? "none above twice its uncertainty" : faults.join(", ");
  const read = day.dates.length === 0 ? "Read on a day without date." : `Read on ${daysOf(day)}.`;
  const shadow = isInShadow(day.found);
  if (plan.do !== "polish" || shadow) {
    return [
      facts([
        ["Read on", day.dates.length === 0 ? "no date written" : daysOf(day)],
        ["Stands up, at the most", `${most(removal.map(({ nm }) => nm)).toFixed(0)}\u2009nm`],
        ["Faults by name", named],
        ["Plan", shadow ? IN_SHADOW : plan.do === "stop" ? stopSaid(day) : plan.why],
      ]),
      ...(remedy === undefined || shadow || plan.do === "stop" ? [] : [note(remedy)]),
    ];
  }
  const radii = plan.planned.map(({ radius }) => radius), low = Math.min(...after.heights);
  const range = (pair: readonly [number, number] | undefined): string =>
    pair === undefined ? "" : `, 95 % ${pair[0].toFixed(0)} to ${pair[1].toFixed(0)}`;
  return [
    removalPlan({
      stands: removal,
      taken: plan.planned,
      left: after.heights.map((nm, i) => ({ radius: radii[i] ?? 0, nm: nm - low })),
      says: `${read} One session, then test again.`,
      whose,
    }),
    sessionTable(plan),
    facts([
      ["How to turn", turnsSaid()],
      ["Faults by name, sphere aside", named],
      ["Glass P-V now", `${before.pv.toFixed(0)}\u2009nm${range(before.pv95)}`],
      ["Glass P-V after the session", `${after.pv.toFixed(0)}\u2009nm${range(after.pv95)}`],
      ["Chance of the goal then", after.probability?.toFixed(2)],
      ["Why", plan.why],
    ]),
    ...(remedy === undefined ? [] : [note(remedy)]),
    note(`${handsSaid(hands)} Only a test tells.`),
  ];
}

function most(values: readonly number[]): number {
  return Math.max(0, ...values);
}

const planPart: Part = {
  name: "the plan",
  noun: "surface",
  count: (mirror) => reducedDays(mirror).length,
  show: (mirror, whose) => {
    const last = reducedDays(mirror).at(-1);
    return last === undefined ? [] : planned(last, mirror, whose);
  },
  how:
    "A plan needs a measured profile: three runs at least through all openings of the mask, in zones.csv. Until then the demo’s is shown.",
};

/** What is too high on the latest day and the next session for it; the demo's where the reader has no zones. */
export function yourSession(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(planPart, yours, demo);
}

/**
 * The plan for one of a mirror's days.
 *
 * @param which  0 for the first day of readings, -1 for the last
 * @throws {RangeError} where there is no such day
 */
export function planOn(mirror: Mirror, which: number): Shown {
  const day = reducedDays(mirror).at(which);
  if (day === undefined) throw new RangeError(`planOn requires a day of readings, got ${which}`);
  return together(...planned(day, mirror, "demo"));
}

/** What each session really did: conic and P-V from one date to the next. */
export function whatSessionsDid(mirror: Mirror): Shown {
  const days = reducedDays(mirror);
  const rows = days.map((day, i): TableRow => {
    const before = days[i - 1], { date, found } = day;
    const work = mirror.record.grinding.filter((row) =>
      before !== undefined && (row.date ?? "") > (before.date ?? "") &&
      (row.date ?? "") <= (date ?? "")
    );
    const minutes = work.reduce((sum, row) => sum + row.minutes, 0);
    return {
      cells: [
        daysOf(day),
        before === undefined ? "" : `${minutes} min`,
        found.conic,
        found.surfacePv,
        found.verdict,
      ],
    };
  });
  return readingsTable("From session to session", [
    { title: "Read on", text: true },
    { title: "Worked before", text: true },
    { title: "K" },
    { title: "Glass, P-V", unit: "nm" },
    { title: "Goal", text: true },
  ], rows);
}

/**
 * Sessions between two tests, each with what the ones before it foretold: by the log, or where that keeps side and length of no
 * session, as if all had been ordinary strokes.
 */
function foretold(mirror: Mirror): Foretold {
  const found = foretoldOf.get(mirror) ?? foretoldAnew(mirror);
  foretoldOf.set(mirror, found);
  return found;
}

interface Foretold {
  readonly sessions: FiguringSummary["beforeAfter"];
  readonly isWritten: boolean;
}

const foretoldOf = new WeakMap<Mirror, Foretold>();

function foretoldAnew(mirror: Mirror): Foretold {
  const { grinding, settings: { aperture } } = mirror.record;
  const written = learntUpTo(undefined, mirror).summary?.beforeAfter ?? [];
  if (written.length > 0) return { sessions: written, isWritten: true };
  const { offset, travel } = ordinaryStroke;
  const asOrdinary = grinding.map((row) => ({
    ...row,
    side: row.side ?? offset * aperture,
    length: row.length ?? travel * aperture,
  }));
  const sessions = learntUpTo(undefined, mirror, asOrdinary).summary?.beforeAfter ?? [];
  return { sessions, isWritten: false };
}

const foretoldPart: Part = {
  name: "foreseen and found",
  noun: "session",
  count: (mirror) => foretold(mirror).sessions.length,
  show: (mirror, whose) => {
    const { sessions, isWritten } = foretold(mirror);
    return [
      foreseenFound({
        sessions: sessions.map(({ date, rmsBefore, foreseen, rmsAfter }) => ({
          ...(date === undefined ? {} : { date }),
          before: rmsBefore,
          foreseen,
          after: rmsAfter,
        })),
        says: `${sessions.length} ${
          sessions.length === 1 ? "session" : "sessions"
        } with a test before and after.`,
        whose,
      }),
      ...(isWritten ? [] : [
        note(
          "Side and length of the strokes are not in the log. The bars take it that they were ordinary ones, over the centre and a third of the diameter long; no plan learns of the hands from them.",
        ),
      ]),
    ];
  },
  how:
    "Write side_mm and length_mm of each stroke in grinding.csv, and test before and after each session: then the kit learns how fast your hands take glass. Until then the demo’s sessions are shown.",
};

/** What each session was foreseen to leave and what the next test found; the demo's where the reader has none. */
export function foreseenAndFound(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(foretoldPart, yours, demo);
}

/** Where strokes take glass: middle, half-way, seven tenths, rim, and what that does to the shape. */
export function whereStrokesTake(strokes: readonly FiguringStroke[], rate = 1.3): Shown {
  const rows = strokes.map((stroke): TableRow => {
    const print = strokeFootprint(stroke, rate);
    const at = (share: number): string => footprintAt(print, share).toFixed(1);
    return { cells: [stroke.name, at(0), at(0.5), at(0.7), at(0.98)] };
  });
  return readingsTable("Glass taken in a minute, nm", [
    { title: "Stroke", text: true },
    { title: "Middle" },
    { title: "Half-way" },
    { title: "0.7" },
    { title: "Rim" },
  ], rows);
}

/** Faults of the surface by name, with cause and remedy: those found on a day, or all of them. */
export function faultsAndRemedies(mirror?: Mirror, which = -1): Shown {
  const columns = [
    { title: "Fault", text: true },
    { title: "Cause", text: true },
    { title: "Remedy", text: true },
  ];
  const day = mirror === undefined ? undefined : reducedDays(mirror).at(which);
  const names = day === undefined
    ? Object.keys(remedies) as FaultName[]
    : faultsOf(day.found.profile).map(({ name }) => name);
  if (names.length === 0) return note("No place stands more than twice its uncertainty off.");
  return readingsTable(
    "Faults and remedies",
    columns,
    names.map((name) => ({ cells: [name, remedies[name].cause, remedies[name].remedy] })),
  );
}

/** A ring and a hurry: the whole plan at once, with hands faster than thought. Foreseen by the footprints alone. */
export function caseThatFails(aperture: number, faster: number): Shown {
  const rim = aperture / 2 - 1, grid = placesOf(rim), { radii, q, weights } = grid;
  const error = q.map((place) => 20 * modeShape(2, place) + 20 * modeShape(5, place));
  const profile = radii.map((radius, i) => ({ radius, surfaceError: error[i] ?? 0, u: 3 }));
  const plan = figuringPlan({ profile, aperture, strokes: fullLapStrokes });
  const after = (share: number, gain: number): number => {
    const taken = takenBy(
      plan.whole.map(({ stroke, minutes }) => ({ stroke, minutes: minutes * share * gain })),
      radii,
      { aperture },
    );
    const left = withoutFocus(error.map((h, i) => h - (taken[i]?.nm ?? 0)), grid);
    return Math.sqrt(left.reduce((sum, h, i) => sum + (weights[i] ?? 0) * h * h, 0));
  };
  const row = (name: string, rms: number): TableRow => ({ cells: [name, rms.toFixed(0)] });
  return readingsTable("A surface with a raised ring, RMS of the glass", [
    { title: "What is done", text: true },
    { title: "Left", unit: "nm" },
  ], [
    row("nothing", after(0, 1)),
    row("the whole plan, hands as thought", after(1, 1)),
    row(`the whole plan at once, hands ${faster} times as fast`, after(1, faster)),
    row(`half of it, hands ${faster} times as fast`, after(0.5, faster)),
  ]);
}

type State = "none" | "stop" | "others" | "shadow" | "polish" | "measure" | "round" | "back";

function stateOf(mirror: Mirror): State {
  const days = reducedDays(mirror), last = days.at(-1);
  if (last === undefined) return "none";
  const isShadow = isInShadow(last.found);
  if (last.found.verdict === "yes" || isShadow) {
    const isEnough = last.found.scope === "whole surface" ||
      mirror.record.settings.goal.scope === "one diameter";
    return !isEnough ? "others" : isShadow ? "shadow" : "stop";
  }
  if (isOutOfRound(last, mirror)) return "round";
  const rms = days.map(({ found }) => found.surfaceRms.value);
  if (withoutGain(rms, decision("sessions_without_gain"))) return "back";
  return planOf(last, mirror, learntUpTo(last, mirror).hands).do === "measure more"
    ? "measure"
    : "polish";
}

/** Whether astigmatism alone breaks the goal, surely: twice its amplitude is the glass's highest less its lowest. */
function isOutOfRound({ found }: ReducedDay, { record: { settings: { goal } } }: Mirror): boolean {
  return 2 * (found.astigmatism?.interval95[0] ?? 0) > goal.surfaceWaves * goal.wavelength;
}

/** What the surface calls for: a session, more runs, back to polishing, or leaving it alone. */
export function decideFigure(mirror: Mirror): Shown {
  const state = stateOf(mirror), yes = decision("probability_yes");
  const session = decision("session_longest");
  const bath = fact("bath"), rest = fact("bath_stand");
  const edge = decision("edge_worse"), without = decision("sessions_without_gain");
  const says: Readonly<Record<State, readonly [string, string]>> = {
    none: ["measure first", "Without a measured profile nobody can plan a session."],
    stop: ["stop", "The goal is shown: leave the surface alone, whatever K is."],
    others: [
      "stop, and read on",
      "The goal is shown along one diameter: leave the surface alone, and read the others.",
    ],
    shadow: [
      "stop",
      "The fault lies in the flat’s shadow, where no light of a star goes: leave it there.",
    ],
    round: [
      "back to polishing",
      "The mirror is not round, and no stroke that works in rings mends that: polish evenly, and turn both discs without fail.",
    ],
    polish: [
      "one session",
      `One session, at most ${session} min, then ${bath} min in the bath, ${rest} min dry on the stand, then the zones.`,
    ],
    measure: ["measure again", "Nothing stands above its uncertainty: more runs, no polishing."],
    back: [
      "back to polishing",
      `${without} sessions without gain: press the lap anew and polish evenly.`,
    ],
  };
  return decide({
    title: says[state][0],
    do: says[state][1],
    choices: [
      {
        name: "Stop",
        when:
          `when the probability of the goal is ${yes} or more, of the whole disc or outside the flat’s shadow.`,
        chosen: state === "stop" || state === "others" || state === "shadow",
      },
      {
        name: "One session",
        when:
          `of ${session} min at most, while the plan says so; shorter strokes when the edge reads ${edge} mm worse.`,
        chosen: state === "polish",
      },
      {
        name: "Measure",
        when: "while nothing stands above its uncertainty, or nothing was measured.",
        chosen: state === "measure" || state === "none",
      },
      {
        name: "Back to polishing",
        when: `after ${without} sessions without gain, and where the mirror is not round.`,
        chosen: state === "back" || state === "round",
      },
    ],
  });
}

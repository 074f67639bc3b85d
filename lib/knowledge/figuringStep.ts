/** Figuring from a record: what its sessions taught of the hands, the coming session in numbers and in words. */
import { EDGE_WORSE, type Expected } from "../shaping/figuring/figuringExpected.ts";
import { type Fault, type FaultName, remedies } from "../shaping/figuring/figuringFaults.ts";
import {
  type Hands,
  learnHands,
  rateOf,
  type TestedSession,
  type TimedStroke,
  usualHands,
} from "../shaping/figuring/figuringHands.ts";
import { type ProfileHeight, profileModes } from "../shaping/figuring/figuringModes.ts";
import {
  type FiguringPlan,
  figuringPlan,
  foresee,
  glassOf,
} from "../shaping/figuring/figuringPlan.ts";
import {
  type FiguringStroke,
  figuringStroke,
  fullLapStrokes,
} from "../shaping/figuring/figuringStrokes.ts";
import { remembered } from "../numeric/remembered.ts";
import { turning } from "../shaping/grinding/routine.ts";
import type { GrindingRow, MirrorRecord, Settings } from "../record/types.ts";
import type { ReadSurface } from "./figureSummary.ts";
import { sessionsBetween } from "./glassWork.ts";
import { restSaid, type Rules } from "./rules.ts";
import type { FiguringSummary, PlannedStroke } from "./summaryTypes.ts";

/** What a plan is made from: a measured profile and what was said of it. */
export interface Judged {
  readonly profile: readonly ProfileHeight[];
  /** of its heights, nm^2 */
  readonly covariance?: readonly ArrayLike<number>[];
  readonly verdict: "yes" | "no" | "not shown";
  /** of meeting the goal, by the test */
  readonly probability?: number;
  /** of the glass, of the verdict's scope, nm */
  readonly rms?: number;
  readonly runs?: number;
}

/**
 * The plan for a measured surface, by hands that are known as far as the record tells.
 *
 * @param longest  longest session, min
 * @throws {RangeError} as `figuringPlan`
 */
export function planFor(
  judged: Judged,
  settings: Settings,
  longest: number,
  hands: Hands = usualHands,
): FiguringPlan {
  const { aperture, focalLength, goal } = settings;
  const task = {
    ...judged,
    aperture,
    radius: 2 * focalLength,
    hands,
    goalNm: goal.surfaceWaves * goal.wavelength,
    longest,
  };
  return remembered("figuringPlan", () => JSON.stringify(task), () => figuringPlan(task));
}

// What was done between two tests, and what that teaches.

/** Strokes a minute, there and back counting one, where neither the log nor the record says. COMMON PRACTICE */
const USUAL_PACE = 40;

/** The pace that a plan's minutes are meant at: the record's, else the log's, else the usual one. */
function paceOf({ settings, grinding }: Pick<MirrorRecord, "settings" | "grinding">): number {
  const counted = grinding.filter(({ strokes = 0, minutes }) => strokes > 0 && minutes > 0);
  const sum = (of: (row: GrindingRow) => number): number =>
    counted.reduce((all, row) => all + of(row), 0);
  return settings.strokeRate ??
    (counted.length === 0
      ? USUAL_PACE
      : sum((row) => row.strokes ?? 0) / sum((row) => row.minutes));
}

/** A stroke by shares of the diameter, or nothing where the upper disc would tip. */
function strokeOf(face: "down" | "up", length: number, side: number): FiguringStroke | undefined {
  return length > 0 && Math.hypot(length / 2, side) < 0.49
    ? figuringStroke(face, 1, length, side)
    : undefined;
}

/** Strokes that a row may have been: one where side and length were written, else all that the row does not exclude. */
function strokesOf({ position, side, length }: GrindingRow, aperture: number): FiguringStroke[] {
  const face = position === "mirror on top" ? "down" : "up";
  const may = fullLapStrokes.filter((stroke) => stroke.face === face);
  const distinct = (values: readonly number[]): readonly number[] => [...new Set(values)];
  const sides = side === undefined ? distinct(may.map(({ offset }) => offset)) : [side / aperture];
  const lengths = length === undefined
    ? distinct(may.map(({ travel }) => travel))
    : [length / aperture];
  return lengths.flatMap((l) => sides.flatMap((s) => strokeOf(face, l, s) ?? []));
}

/** Where more was left unwritten than this many strokes could have been, nothing is learnt: a row without side and length teaches too little for its second of reckoning. */
const MOST_GUESSES = 12;

/** Everything that may have been done by rows of the log; nothing where one of them is no stroke of a full lap. */
function doneBy(
  rows: readonly GrindingRow[],
  aperture: number,
  pace: number,
): (readonly TimedStroke[])[] {
  const known = rows.map((row) => ({
    minutes: row.strokes === undefined ? row.minutes : row.strokes / pace,
    // rows that say as little of themselves were the same stroke
    kind: `${row.position} ${row.side} ${row.length}`,
    may: strokesOf(row, aperture),
  }));
  const kinds = new Map(known.map(({ kind, may }) => [kind, may]));
  const guesses = [...kinds].reduce<ReadonlyMap<string, FiguringStroke>[]>(
    (all, [kind, may]) =>
      all.length * may.length > MOST_GUESSES
        ? []
        : all.flatMap((guess) => may.map((stroke) => new Map([...guess, [kind, stroke]]))),
    [new Map()],
  );
  return guesses.map((guess) =>
    known.flatMap(({ kind, minutes }) => {
      const stroke = guess.get(kind);
      return stroke === undefined ? [] : [{ stroke, minutes }];
    })
  );
}

/** What a record's sessions teach, and how each was foreseen from those before it. */
export interface Learnt {
  readonly hands: Hands;
  /** absent without a session between two tests */
  readonly summary?: FiguringSummary;
}

/**
 * Learns the hands from every pair of tests with polishing between them, and foretells each session from those before it.
 *
 * @param surfaces   as `readSurfaces` gives them
 * @param isPolish   whether a row's abrasive polishes: nothing is learnt of figuring from grinding
 */
export function learnt(
  record: MirrorRecord,
  surfaces: readonly ReadSurface[],
  isPolish: (abrasive: string) => boolean,
): Learnt {
  const { aperture, focalLength } = record.settings, pace = paceOf(record);
  const found = (measurement: ReadSurface["measurement"]): ReturnType<ReadSurface["found"]> =>
    surfaces.find(({ measurement: { dates, rows } }) =>
      rows[0]?.line === measurement.rows[0]?.line && dates.at(-1) === measurement.dates.at(-1)
    )?.found();
  const sessions = sessionsBetween(record).flatMap(({ before, after, rows }): Session[] => {
    if (rows.length === 0 || !rows.every(({ abrasive }) => isPolish(abrasive))) return [];
    const done = doneBy(rows, aperture, pace);
    if (done.length === 0) return [];
    const first = found(before), second = found(after);
    if (first === undefined || second === undefined) return [];
    const dated = after.date === undefined ? {} : { date: after.date };
    return [{ ...dated, done, first: testOf(first), second: testOf(second) }];
  });
  return remembered(
    "learnt",
    () => JSON.stringify([aperture, focalLength, sessions]),
    () => learntFrom(sessions, record.settings),
  );
}

/** As much of a test as teaches something of the hands. */
type Test = Pick<
  NonNullable<ReturnType<ReadSurface["found"]>>,
  "profile" | "profileCovariance" | "surfaceRms"
>;

/** What was done between two tests. */
interface Session {
  /** of the test after it */
  readonly date?: string;
  readonly done: readonly (readonly TimedStroke[])[];
  readonly first: Test;
  readonly second: Test;
}

function testOf({ profile, profileCovariance, surfaceRms }: Test): Test {
  return { profile, profileCovariance, surfaceRms };
}

function learntFrom(
  sessions: readonly Session[],
  settings: Pick<Settings, "aperture" | "focalLength">,
): Learnt {
  const { aperture, focalLength } = settings;
  const tested: TestedSession[] = [], beforeAfter: FiguringSummary["beforeAfter"][number][] = [];
  for (const { date, done, first, second } of sessions) {
    beforeAfter.push({
      ...(date === undefined ? {} : { date }),
      rmsBefore: first.surfaceRms.value,
      foreseen: foreseenOf(first, done, learnHands(tested), settings),
      rmsAfter: second.surfaceRms.value,
    });
    tested.push({
      done,
      before: profileModes(first.profile, first.profileCovariance),
      after: profileModes(second.profile, second.profileCovariance),
      glass: glassOf({
        ...{ profile: first.profile, covariance: first.profileCovariance },
        ...{ aperture, radius: 2 * focalLength },
      }),
      rim: first.profile.at(-1)?.radius ?? aperture / 2,
    });
  }
  const hands = learnHands(tested), rate = rateOf(hands, aperture);
  if (beforeAfter.length === 0) return { hands };
  return {
    hands,
    summary: {
      rate: { ...rate, unit: "um/h", from: ["zones.csv", "grinding.csv"] },
      learnedFrom: hands.sessions,
      beforeAfter,
    },
  };
}

/** Low, middle and high of what a session should have left; over all that may have been done. */
function foreseenOf(
  { profile, profileCovariance: covariance, surfaceRms }: Test,
  done: readonly (readonly TimedStroke[])[],
  hands: Hands,
  { aperture, focalLength }: Pick<Settings, "aperture" | "focalLength">,
): readonly [number, number, number] {
  const task = {
    ...{ profile, covariance, aperture, radius: 2 * focalLength },
    rms: surfaceRms.value,
  };
  const all = done.map((strokes) => foresee(task, strokes, hands));
  const middles = all.map(({ rms }) => rms).sort((a, b) => a - b);
  return [
    Math.min(...all.map(({ rms, rms95 }) => rms95?.[0] ?? rms)),
    middles[Math.floor(middles.length / 2)] ?? 0,
    Math.max(...all.map(({ rms, rms95 }) => rms95?.[1] ?? rms)),
  ];
}

/**
 * Whether the last so many sessions brought nothing: none came below the rms that stood before them.
 *
 * @param rms       of each day, in the order of time
 * @param sessions  1 or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(withoutGain([20, 21, 20, 22], 3), true);
 * assert.equal(withoutGain([20, 21, 19, 22], 3), false);
 * assert.equal(withoutGain([20, 21], 3), false);
 * ```
 */
export function withoutGain(rms: readonly number[], sessions: number): boolean {
  const [first = 0, ...after] = rms.slice(-sessions - 1);
  return after.length === sessions && after.every((one) => one >= first);
}

// The plan as rows, and the rows as a sentence: one says what the other does.

const degrees = (rad: number): number => Math.round(rad * 180 / Math.PI);

/** A stroke as a row of the plan, in whole millimetres of this very disc. */
export function plannedStroke(
  { stroke: { face, lap, offset, travel }, minutes }: TimedStroke,
  aperture: number,
): PlannedStroke {
  const { strokes, upper, lower } = turning;
  return {
    position: face === "down" ? "mirror on top" : "tool on top",
    sideMm: Math.round(offset * aperture),
    lengthMm: Math.round(travel * aperture),
    minutes,
    upperTurnDeg: degrees(upper),
    lowerTurnDeg: degrees(lower),
    everyStrokes: strokes,
    ...(lap === 1 ? {} : { lapMm: Math.round(lap * aperture) }),
  };
}

/** All minutes of a plan. */
export function minutesOf(plan: readonly Pick<PlannedStroke, "minutes">[]): number {
  return plan.reduce((sum, { minutes }) => sum + minutes, 0);
}

/** Minutes as they are said: "1 minute", "2.5 minutes". */
export function minutesSaid(minutes: number): string {
  return `${Number(minutes.toFixed(2))} ${minutes === 1 ? "minute" : "minutes"}`;
}

/** One stroke at the bench: "1.5 minutes with the mirror on top, 38 mm to the side, strokes 75 mm long". */
export function strokeSaid({ position, sideMm, lengthMm, lapMm, minutes }: PlannedStroke): string {
  const top = position === "mirror on top"
    ? "the mirror"
    : lapMm === undefined
    ? "the lap"
    : `a lap of ${lapMm} mm`;
  const aside = sideMm === 0 ? "over the centre" : `${sideMm} mm to the side`;
  return `${minutesSaid(minutes)} with ${top} on top, ${aside}, strokes ${lengthMm} mm long`;
}

/** How to turn both discs: "after every 8 strokes turn the upper disc by about 150° and the lower one by about 50°". */
export function turnsSaid(): string {
  const { strokes, upper, lower } = turning;
  return `after every ${strokes} strokes turn the upper disc by about ${
    degrees(upper)
  }° and the lower one by about ${degrees(lower)}°`;
}

/** Longer than this the lap is pressed anew in between, min. COMMON PRACTICE */
const ON_ONE_PRESSING = 10;

/** What to do: press, the strokes in turn, how to turn the discs, bath, cool, measure. */
export function sessionSaid(
  plan: readonly PlannedStroke[],
  rest: Pick<Rules, "bathMin" | "coolMin">,
): string {
  const strokes = plan.map(strokeSaid).join("; then ");
  const turns = turnsSaid();
  const again = minutesOf(plan) > ON_ONE_PRESSING
    ? ` Press it again after every ${ON_ONE_PRESSING} minutes.`
    : "";
  const small = plan.some(({ lapMm }) => lapMm !== undefined)
    ? "A full lap is too wide for what is wrong here: session after session with it would gain little. A small one makes rings faster than it mends them, so a trained adult decides and works with it; where there is none, leave the glass as it is and let the test on a star decide. "
    : "";
  return `${small}Press the lap, then polish ${strokes}.${again} ${turns[0]?.toUpperCase()}${
    turns.slice(1)
  }.${besideSaid(plan)} Then ${restSaid(rest)}, and measure the zones again.`;
}

/** A stroke to the side that is shorter has too few turns to go all round, min; the same glass goes by half the pressure in twice the time. COMMON PRACTICE */
const ROUND_LEAST = 2;
/** From so far out, as a share of the width, the upper disc tips under a hand. COMMON PRACTICE */
const TIPS_FROM = 0.38;

/** What short strokes beside the centre want of the hands: time to go all round. Behind an order, with its space. */
export function besideSaid(plan: readonly Pick<PlannedStroke, "sideMm" | "minutes">[]): string {
  return plan.some(({ sideMm, minutes }) => sideMm > 0 && minutes < ROUND_LEAST)
    ? ` To the side under ${ROUND_LEAST} minutes the turns do not go all round: give it twice the time at half the pressure, the mirror’s own weight and little more, and write the plan’s minutes into the log.`
    : "";
}

/** What to mind of strokes that reach far out: nothing where the upper disc lies safe. */
export function tippingSaid(
  plan: readonly Pick<PlannedStroke, "sideMm" | "lengthMm">[],
  aperture: number,
): string | undefined {
  const reach = Math.max(
    0,
    ...plan.map(({ sideMm, lengthMm }) => Math.hypot(sideMm, lengthMm / 2)),
  );
  return reach > TIPS_FROM * aperture
    ? `At the ends of these strokes the middle of the upper disc stands ${
      reach.toFixed(0)
    } mm out, and it tips under a hand: fingertips only there, a block of wood at both ends.`
    : undefined;
}

/** What the session should come to, with its range where the profile's own uncertainty is known. */
export function changeSaid({ before, after, found, edgeRisk }: FiguringPlan): string {
  const rms = (one: Expected): string => one.rms.toFixed(0);
  const unsure = found.covariance === undefined
    ? "; nobody can say how surely, for the profile came without its uncertainty"
    : "";
  const range = after.rms95 === undefined
    ? unsure
    : ` (95 %: ${after.rms95.map((end) => end.toFixed(0)).join(" to ")})`;
  const chance = after.probability === undefined
    ? ""
    : `, and the chance of the goal to ${after.probability.toFixed(2)}`;
  return `This session should bring the RMS of the glass from ${rms(before)} to ${
    rms(after)
  } nm${range}${chance}.${
    edgeRisk > EDGE_TOLD
      ? ` The edge may suffer: it turns by more than ${EDGE_WORSE} nm with a chance of ${
        edgeRisk.toFixed(2)
      }, so look at it first when you test.`
      : ""
  }`;
}

/** From such a chance of a worse edge on it is told. */
const EDGE_TOLD = 0.05;

/** How the hands are known: from which sessions, and how much faster or slower than the usual ones. */
export function handsSaid({ gain, sessions }: Pick<Hands, "gain" | "sessions">): string {
  if (sessions === 0) {
    return "No session has shown your own rate yet: it is taken as the usual one, to a factor of two.";
  }
  return `By ${
    sessions === 1 ? "the session" : `the ${sessions} sessions`
  } with a test before and after, your hands take ${gain.toFixed(2)} times the usual.`;
}

/** The largest fault with its cause and what mends it; nothing where none stands out. */
export function faultSaid(faults: readonly Fault[]): string | undefined {
  const [fault] = faults;
  if (fault === undefined) return undefined;
  const { name, radius, nm } = fault;
  return `The largest fault by name: ${name} at ${radius.toFixed(0)} mm, ${
    Math.abs(nm).toFixed(0)
  } nm ${nm > 0 ? "high" : "low"}. ${remedySaid(name)}`;
}

/** Where a fault comes from, and what to do: "Cause: turns forgotten... Remedy: ...". */
export function remedySaid(name: FaultName): string {
  const { cause, remedy } = remedies[name];
  return `Cause: ${lowered(cause)} Remedy: ${lowered(remedy)}`;
}

function lowered(sentence: string): string {
  return `${sentence[0]?.toLowerCase()}${sentence.slice(1)}`;
}

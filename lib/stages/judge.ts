/** The stage of the verdict: result against goal, glass and wavefront apart, throws, what readings cannot prove. */
import { probabilityText } from "../figures/words.ts";
import { decide, verdict } from "../figures/decide.ts";
import { decisionScale } from "../figures/decisionScale.ts";
import { readingsTable } from "../figures/blocks.ts";
import type { Shown } from "../figures/show.ts";
import { verdictBar } from "../figures/verdictBar.ts";
import { say } from "../figures/words.ts";
import { random } from "../numeric/random.ts";
import { tCdf } from "../numeric/quantiles.ts";
import { knifePosition } from "../optics/crossing.ts";
import { judgingRadius } from "../record/figureSummary.ts";
import type { Mirror } from "../record/open.ts";
import { decision } from "../record/tables.ts";
import { effectiveRadius } from "../testing/openings.ts";
import { verdictOf } from "../testing/verdict.ts";
import { reduceBy } from "../testing/zoneMethods.ts";
import { reduceZones, type ZoneFigure } from "../testing/zones.ts";
import { throwsHeap } from "./throws.ts";
import { ownOrDemo, type Part, type Whose } from "./whose.ts";
import { type ReducedDay, reducedDays } from "./zones.ts";

/** The goal on the wavefront, waves: twice what is allowed on the glass. */
function goalOf({ record }: Mirror): number {
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

function dayOf(name: string, mirror: Mirror, which: number): ReducedDay {
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

/** What a test of a perfect surface came to. */
export interface PerfectTest {
  readonly runs: number;
  readonly found: ZoneFigure;
}

/** Scatter of a careful knife reading in still air, mm. COMMON PRACTICE: about that of the demo's days */
const carefulScatter = 0.06;

/**
 * A perfect surface under a demo's tester: readings whose means are exact and whose scatter is honest.
 *
 * @param mirror   whose openings, radius and tester
 * @param surface  what the glass is, exactly
 * @param runs     2 or more
 * @throws {RangeError} where the mirror has no zone readings or there are fewer runs
 */
export function perfectTest(
  mirror: Mirror,
  surface: "sphere" | "paraboloid",
  runs: number,
): PerfectTest {
  if (!(Number.isInteger(runs) && runs >= 2)) {
    throw new RangeError(`perfectTest requires 2 runs or more, got runs=${runs}`);
  }
  const { found: day } = dayOf("perfectTest", mirror, -1), { record, summary } = mirror;
  const { aperture, bevel, goal, tester } = record.settings;
  const radius = judgingRadius(record, summary.curve);
  const source = tester.source === "fixed" ? "fixed" : "moves";
  const conic = surface === "sphere" ? 0 : -1;
  const noise = evenScatter(day.zones.length, runs);
  const readings = day.zones.flatMap(({ inner, outer }, zone) => {
    const r = effectiveRadius({ inner, outer }, tester.openings);
    const exact = 12 + knifePosition(r, { radius, conic }, source);
    return (noise[zone] ?? []).map((off, run) => (
      { run: `${run + 1}`, inner, outer, reading: exact + off }
    ));
  });
  const bench = { aperture, bevel, radius, source, openings: tester.openings } as const;
  const wanted = { goalSurfaceWaves: goal.surfaceWaves, wavelength: goal.wavelength };
  return { runs, found: reduceZones({ readings, ...bench, ...wanted }) };
}

/** So many readings of each zone, thrown about a mean of exactly zero, whose pooled scatter is that of a careful one. */
function evenScatter(zones: number, runs: number): readonly (readonly number[])[] {
  const source = random(1);
  const thrown = Array.from({ length: zones }, () => {
    const ofZone = Array.from({ length: runs }, () => source.normal());
    const mean = ofZone.reduce((sum, off) => sum + off, 0) / runs;
    return ofZone.map((off) => off - mean);
  });
  const squares = thrown.flat().reduce((sum, off) => sum + off * off, 0);
  const s = Math.sqrt(squares / (zones * (runs - 1)));
  return thrown.map((ofZone) => ofZone.map((off) => (off / s) * carefulScatter));
}

/**
 * A perfect surface, tested with more and more runs: what the readings could show of it.
 *
 * @throws {RangeError} as `perfectTest`
 */
export function perfectBut(
  mirror: Mirror,
  surface: "sphere" | "paraboloid",
  runs: readonly number[],
): Shown {
  const rows = runs.map((count) => {
    const { found } = perfectTest(mirror, surface, count),
      [low, high] = found.interval95.wavefrontPv;
    return {
      cells: [
        count,
        found.wavefrontPv.value.toFixed(3),
        `${low.toFixed(3)} to ${high.toFixed(3)}`,
        found.probabilityWithinGoal.toFixed(2),
        found.verdict,
      ],
    };
  });
  return readingsTable(`A perfect ${surface}, tested`, [
    { title: "Runs" },
    { title: "P-V", unit: "wave" },
    { title: "At 95 %", unit: "wave" },
    { title: "P" },
    { title: "Verdict", text: true },
  ], rows);
}

/** Verdict by the fit of one conic alone, which knows no rings and no turned edge. */
export interface ConicAlone {
  readonly pv: number;
  /** of pv, from the scatter of the readings alone, waves */
  readonly u: number;
  readonly probability: number;
}

/** What a conic alone would say of a day's readings. */
export function conicAlone(mirror: Mirror, which: number): ConicAlone {
  const { found } = dayOf("conicAlone", mirror, which), { record, summary } = mirror;
  const { tester, goal } = record.settings;
  const bench = {
    half: found.judgedAperture / 2,
    radius: judgingRadius(record, summary.curve),
    source: tester.source === "fixed" ? "fixed" : "moves",
    openings: tester.openings,
  } as const;
  const departures = found.zones.map(({ mean, ideal }) => mean - ideal);
  const pvOf = (at: readonly number[]): number =>
    reduceBy(found.zones, at, bench, "conic only", goal.wavelength).wavefrontPvWaves;
  const pv = pvOf(departures), step = 1e-4;
  const moved = found.zones.map(({ u }, j) =>
    u * (pvOf(departures.map((d, i) => i === j ? d + step : d)) - pv) / step
  );
  const u = Math.hypot(...moved);
  const probability = tCdf((goalOf(mirror) - pv) / u, found.pooledDof);
  return { pv, u, probability };
}

/** Each day judged by the whole profile and by its conic alone. */
export function conicBeside(mirror: Mirror): Shown {
  const rows = reducedDays(mirror).map(({ date, found }, i) => {
    const alone = conicAlone(mirror, i);
    return {
      cells: [
        date ?? "undated",
        found.wavefrontPv.value.toFixed(3),
        found.verdict,
        alone.pv.toFixed(3),
        alone.probability.toFixed(2),
        verdictOf(alone.probability),
      ],
    };
  });
  return readingsTable("Whole profile, and conic alone", [
    { title: "Date", text: true },
    { title: "Profile, P-V", unit: "wave" },
    { title: "Verdict", text: true },
    { title: "Conic, P-V", unit: "wave" },
    { title: "P" },
    { title: "It would say", text: true },
  ], rows);
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

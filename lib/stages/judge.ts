/** The stage of the verdict: result against goal, three numbers of one wavefront, draws, what to do. */
import { note, readingsTable } from "../figures/blocks.ts";
import { decide, decisionScale, verdict } from "../figures/decide.ts";
import { axisLine } from "../figures/drawings/axisLine.ts";
import { figure } from "../figures/figure.ts";
import { type Html, safe } from "../figures/html.ts";
import { across, drawing, group, rect, stroke, words } from "../figures/pen.ts";
import { verdictBar } from "../figures/plots/verdictBar.ts";
import { fixed, scale } from "../figures/scale.ts";
import { type Shown, together } from "../figures/show.ts";
import { probabilityText, say } from "../figures/words.ts";
import { judgingRadius } from "../knowledge/figureSummary.ts";
import { isStale, readingsSaid } from "../knowledge/glassWork.ts";
import type { Mirror } from "../knowledge/open.ts";
import { seatsSaid } from "../knowledge/seatWords.ts";
import { verdictNotes } from "../knowledge/tellVerdict.ts";
import { tCdf } from "../numeric/quantiles.ts";
import { random } from "../numeric/random.ts";
import { knifePosition } from "../optics/conic.ts";
import { decision } from "../record/tables.ts";
import { effectiveRadius } from "../testing/zones/openings.ts";
import { verdictOf } from "../testing/zones/zoneFigure.ts";
import { reduceBy } from "../testing/zones/zoneMethods.ts";
import { reduceZones, type ZoneFigure } from "../testing/zones/zones.ts";
import { ownOrDemo, type Part, type Whose, withOwn } from "./base.ts";
import {
  daysAlone,
  daysOf,
  isInShadow,
  judgedDay,
  masksOf,
  openingsOf,
  type ReducedDay,
  reducedDays,
} from "./zones.ts";

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

/** The demo's days, and below them the reader's own: each surface that was read, with the verdict it had then. */
export function withOwnVerdicts(example: Shown, yours: Mirror): Shown {
  const days = reducedDays(yours);
  const table = days.length === 0 ? [] : [readingsTable(
    "Verdict by verdict",
    [
      { title: "Read", text: true },
      { title: "Runs" },
      { title: "P-V", unit: "wave" },
      { title: "At 95 %", unit: "wave" },
      { title: "Probability" },
      { title: "Verdict", text: true },
    ],
    days.map((day) => {
      const { runs, wavefrontPv, interval95, probabilityWithinGoal, verdict } = day.found;
      const ends = interval95.wavefrontPv.map((end) => end.toFixed(3)).join(" to ");
      const probability = probabilityText(probabilityWithinGoal);
      return { cells: [daysOf(day), runs, wavefrontPv, ends, probability, verdict] };
    }),
  )];
  return withOwn(example, yours, `verdicts against ${fixed(goalOf(yours), 3)} wave`, table);
}

/** The demo's readings drawn again and again, and below them the reader's latest. */
export function withOwnDraws(example: Shown, yours: Mirror): Shown {
  const shown = reducedDays(yours).length === 0 ? [] : [drawReadings(yours, -1)];
  return withOwn(example, yours, "the latest readings, drawn again and again", shown);
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
 * @param times  how many of the seeded draws are shown, at most as many as there are
 * @throws {RangeError} where there is no such day
 */
export function drawReadings(mirror: Mirror, which: number, times = 5000): Shown {
  const { found } = dayOf("drawReadings", mirror, which), { probabilityWithinGoal: told } = found;
  const draws = found.drawsPv.subarray(0, times), share = shareWithin(draws, goalOf(mirror));
  const histogram = drawsHistogram({
    draws,
    title: "Wavefront, peak to valley (wave)",
    digits: 3,
    seed: found.seed,
    goal: goalOf(mirror),
  });
  // three standard deviations of a share: beyond them it is what could hide in the openings
  const chance = 3 * Math.sqrt(share * (1 - share) / draws.length);
  if (share - told <= Math.max(chance, 0.005)) return histogram;
  return together(
    histogram,
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
  const { stage } = summary.nextStep, { found } = last;
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
  polish: ["polish", "Go on to figuring: one short session, then test again."],
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
        { angleDeg: angleDeg, knifeDeg: knifeDeg, runs }
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

// The stage of the verdict: what the fit of one conic would say, beside the whole profile.

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
  const moved = found.zones.map(({ readings }, j) => {
    const u = found.pooledS / Math.sqrt(readings.length);
    return u * (pvOf(departures.map((d, i) => i === j ? d + step : d)) - pv) / step;
  });
  const u = Math.hypot(...moved);
  const probability = tCdf((goalOf(mirror) - pv) / u, found.pooledDof);
  return { pv, u, probability };
}

/** Each day judged by the whole profile and by its conic alone. */
export function conicBeside(mirror: Mirror): Shown {
  const rows = reducedDays(mirror).map((day, i) => {
    const alone = conicAlone(mirror, i), { found } = day;
    return {
      cells: [
        daysOf(day),
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

// The stage of the verdict: what readings can show of a perfect surface, and what they cannot.

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
 * @param mirror   whose mask (the latest), radius and tester
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
  const day = dayOf("perfectTest", mirror, -1), { record, summary } = mirror;
  const openings = openingsOf(masksOf(day.rows).at(-1) ?? []);
  const { aperture, bevel, goal, tester } = record.settings;
  const radius = judgingRadius(record, summary.curve);
  const source = tester.source === "fixed" ? "fixed" : "moves";
  const conic = surface === "sphere" ? 0 : -1;
  const noise = evenScatter(openings.length, runs);
  const readings = openings.flatMap(({ inner, outer }, zone) => {
    const r = effectiveRadius({ inner, outer }, tester.openings);
    const exact = 12 + knifePosition(r, { radius, conic }, source);
    return (noise[zone] ?? []).map((off, run) => (
      { run: `${run + 1}`, inner, outer, reading: exact + off }
    ));
  });
  const bench = { aperture, bevel, radius, source, openings: tester.openings } as const;
  const wanted = { goalSurfaceWaves: goal.surfaceWaves, wavelength: goal.wavelength };
  return { runs, found: reduceZones({ readings, ...bench, ...wanted, advise: false }) };
}

/** So many readings of each zone, about means of exactly zero in each zone and each run, whose scatter is that of a careful one. */
function evenScatter(zones: number, runs: number): readonly (readonly number[])[] {
  const source = random(1);
  const drawn = Array.from(
    { length: zones },
    () => Array.from({ length: runs }, () => source.normal()),
  );
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const ofZone = drawn.map(mean), all = mean(ofZone);
  const ofRun = Array.from({ length: runs }, (_, run) => mean(drawn.map((row) => row[run] ?? 0)));
  const centred = drawn.map((row, zone) =>
    row.map((off, run) => off - (ofZone[zone] ?? 0) - (ofRun[run] ?? 0) + all)
  );
  const squares = centred.flat().reduce((sum, off) => sum + off * off, 0);
  const s = Math.sqrt(squares / ((zones - 1) * (runs - 1)));
  return centred.map((row) => row.map((off) => (off / s) * carefulScatter));
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

// Many draws of one number, as a histogram of bars: where they fall, and how many of them meet a goal.

/** Draws of one number and how they are told. */
export interface Draws {
  /** in the unit of the title */
  readonly draws: ArrayLike<number>;
  /** of the axis, with the unit: "Radius of curvature (mm)" */
  readonly title: string;
  /** after the decimal point, on the axis and in words */
  readonly digits: number;
  /** what the draws began with: the same seed gives the same draws */
  readonly seed: number;
  /** where 95 of a hundred fall, drawn as a bar */
  readonly interval?: readonly [low: number, high: number];
  /** a limit that must not be passed */
  readonly goal?: number;
}

interface Histogram {
  readonly low: number;
  readonly high: number;
  readonly counts: readonly number[];
  /** draws that lie beyond the drawing, so that a few far ones do not press the histogram flat */
  readonly beyond: number;
}

const binsWanted = 40;
/** Share of the draws at either end that may lie beyond the drawing, where they lie far out. */
const endShare = 0.01;

/** The draws without those few at either end that lie farther out than the histogram is wide. */
function drawn(sorted: Float64Array): Float64Array {
  const few = Math.floor(endShare * sorted.length), last = sorted.length - 1;
  const low = sorted[few] ?? 0, high = sorted[last - few] ?? 0, room = 0.5 * (high - low);
  return sorted.filter((value) => value >= low - room && value <= high + room);
}

/** Counts of the draws in bins of one width; an edge lies on the goal, so that no bar is on both sides. */
function histogramOf({ draws, goal }: Draws): Histogram {
  const all = Float64Array.from(draws).sort(), sorted = drawn(all), last = sorted.length - 1;
  const first = sorted[0] ?? 0, end = sorted[last] ?? 0;
  const width = (end - first) / binsWanted || 1;
  const zero = goal ?? first;
  const low = zero + Math.floor((first - zero) / width + 1e-9) * width;
  const counts = new Array<number>(Math.floor((end - low) / width + 1e-9) + 1).fill(0);
  for (const value of sorted) {
    const bin = Math.min(counts.length - 1, Math.max(0, Math.floor((value - low) / width)));
    counts[bin] = (counts[bin] ?? 0) + 1;
  }
  return { low, high: low + width * counts.length, counts, beyond: all.length - sorted.length };
}

function draw(sample: Draws, histogram: Histogram, width: number, finding: string): Html {
  const { goal, interval, title, digits } = sample, { low, high, counts } = histogram;
  const domain = [Math.min(low, goal ?? low), Math.max(high, goal ?? high)] as const;
  const room = (domain[1] - domain[0]) * 0.04;
  const at = scale(domain[0] - room, domain[1] + room, 1, width - 1);
  const ground = 176, tallest = Math.max(...counts), bin = (high - low) / counts.length;
  const bars = counts.map((count, i) => {
    const left = low + i * bin, top = (count / tallest) * 120;
    const kind = goal !== undefined && left > goal - bin / 2 ? "zone-c" : "zone-b";
    return rect(kind, [at(left), ground - top], at(left + bin) - at(left) - 0.5, top);
  });
  const flip = goal !== undefined && at(goal) > width * 0.6;
  return drawing({
    width,
    height: ground + 46,
    finding,
    contents: group(
      bars,
      interval !== undefined && across(at(interval[0]), at(interval[1]), 34, "mine"),
      goal !== undefined && group(
        stroke("limit", [at(goal), 20], [at(goal), ground]),
        words([at(goal) + (flip ? -6 : 6), 16], `goal ${fixed(goal, digits)}`, {
          kind: "t-rouge",
          anchor: flip ? "end" : "start",
        }),
      ),
      axisLine({
        domain: [domain[0] - room, domain[1] + room],
        from: 1,
        to: width - 1,
        y: ground,
        title,
      }, at),
    ),
  });
}

/**
 * How many of the draws are at the goal or under it, 0 to 1.
 *
 * @throws {RangeError} without a throw
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(shareWithin([0.2, 0.3, 0.1, 0.25], 0.25), 0.75);
 * ```
 */
export function shareWithin(draws: ArrayLike<number>, goal: number): number {
  if (draws.length === 0) throw new RangeError("shareWithin requires a draw or more, got none");
  let within = 0;
  for (let i = 0; i < draws.length; i++) if ((draws[i] ?? NaN) <= goal) within++;
  return within / draws.length;
}

/** A count with a thin space before its thousands, from five digits on. */
function thousands(count: number): string {
  return String(count).replace(
    /^(\d+)(\d{3})$/,
    (all, a, b) => all.length > 4 ? `${a}\u202f${b}` : all,
  );
}

/**
 * The histogram that Many draws make.
 *
 * @param sample  the draws, in the unit of the title
 * @throws {RangeError} without a throw, or where one is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = drawsHistogram({ draws: [1, 2, 3, 4], title: "Depth (mm)", digits: 1, seed: 1, goal: 3 });
 * assert.match(shown.text, /4 draws, seed 1: from 1\.0 to 4\.0\. 3 of them meet the goal of 3\.0/);
 * ```
 */
export function drawsHistogram(sample: Draws): Shown {
  const { draws, title, digits, seed, goal, interval } = sample;
  if (draws.length === 0 || !Array.prototype.every.call(draws, Number.isFinite)) {
    throw new RangeError(`drawsHistogram requires finite draws, got ${draws.length} draws`);
  }
  const n = (v: number): string => fixed(v, digits);
  const ends = [Infinity, -Infinity] as [number, number];
  for (let i = 0; i < draws.length; i++) {
    ends[0] = Math.min(ends[0], draws[i] ?? NaN);
    ends[1] = Math.max(ends[1], draws[i] ?? NaN);
  }
  const meet = goal === undefined ? undefined : Math.round(shareWithin(draws, goal) * draws.length);
  const says = meet === undefined
    ? `${thousands(draws.length)} draws make a histogram.`
    : `${thousands(meet)} of ${thousands(draws.length)} draws meet the goal.`;
  const finding =
    `${title}: ${draws.length} draws, seed ${seed}: from ${n(ends[0])} to ${n(ends[1])}.` +
    (meet === undefined ? "" : ` ${meet} of them meet the goal of ${n(goal ?? 0)}.`) +
    (interval === undefined
      ? ""
      : ` 95 in a hundred lie from ${n(interval[0])} to ${n(interval[1])}.`);
  const histogram = histogramOf(sample), { beyond } = histogram;
  return figure({
    finding,
    caption: safe`<b>${says}</b> Seed ${seed}: the same seed gives the same draws.${
      interval !== undefined &&
      ` The bar holds 95 in a hundred: ${n(interval[0])} to ${n(interval[1])}.`
    }${beyond > 0 && ` ${beyond} lie beyond the drawing, up to ${n(ends[1])}.`}`,
    draw: (width) => draw(sample, histogram, width, finding),
  });
}

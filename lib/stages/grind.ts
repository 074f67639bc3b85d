/** The stage of rough grinding: the reader's log line by line, and the first hour's verdict. */
import { facts, note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { decide, decisionScale } from "../figures/decide.ts";
import { safe } from "../figures/html.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { grainUm } from "../knowledge/rules.ts";
import { decision } from "../record/tables.ts";
import type { GrindingRow } from "../record/types.ts";
import { grindTogether, type Ground } from "../shaping/grinding/grindTogether.ts";
import type { DepthReading } from "../shaping/grinding/grindingLog.ts";
import { checkRoutine, type Routine } from "../shaping/grinding/routine.ts";
import { wearSettings } from "../shaping/grinding/wearLaws.ts";
import { ownOrDemo, type Part } from "./base.ts";
import { type LogUpTo, logUpTo } from "./depth.ts";

/** Rough lines of the log: up to the last of the grade that made the hollow. */
function roughRows({ record }: Mirror, log: LogUpTo | undefined): readonly GrindingRow[] {
  const end = (log?.grinding.roughMinutes ?? Infinity) + 1e-6;
  let minutes = 0;
  return record.grinding.filter((row) => {
    if (grainUm(row.abrasive) === undefined) return false;
    minutes += row.minutes;
    return minutes <= end;
  });
}

/** Depths that count: those set aside left out. */
function kept({ input, setAside }: LogUpTo): readonly DepthReading[] {
  return input.readings.filter(({ file, line }) =>
    !setAside.some((one) => one.file === file && one.line === line)
  );
}

function logRows(rows: readonly GrindingRow[], log: LogUpTo | undefined): readonly TableRow[] {
  const depths = log === undefined ? [] : kept(log);
  let minutes = 0;
  return rows.map((row) => {
    minutes += row.minutes;
    const read = depths.filter(({ afterMin }) => Math.abs(afterMin - minutes) < 0.5);
    const each = row.strokes === undefined ? undefined : (row.strokes / row.minutes).toFixed(0);
    const depth = read.map(({ sagitta }) => sagitta.toFixed(3)).join(", ");
    return {
      cells: [
        Number(minutes.toFixed(1)),
        row.abrasive,
        row.position,
        each,
        depth === "" ? undefined : depth,
      ],
    };
  });
}

const logPart: Part = {
  name: "the log",
  noun: "line",
  count: (mirror) => roughRows(mirror, logUpTo(mirror)).length,
  show: (mirror) => {
    const log = logUpTo(mirror), rows = roughRows(mirror, log), rate = log?.rates.mirrorOnTop;
    const strokes = rows.flatMap(({ strokes, minutes }) =>
      strokes === undefined ? [] : [strokes / minutes]
    );
    const range = `${Math.min(...strokes).toFixed(0)} to ${Math.max(...strokes).toFixed(0)}`;
    return [
      readingsTable("The log of rough grinding", [
        { title: "Up to", unit: "min" },
        { title: "Grade", text: true },
        { title: "Position", text: true },
        { title: "Strokes a minute" },
        { title: "Sagitta then", unit: "mm" },
      ], logRows(rows, log)),
      facts([
        ["Deepens, mirror on top", rate ?? "not known yet: it takes readings at several minutes"],
        ...(strokes.length > 0 ? [["Strokes a minute", range] as const] : []),
      ]),
      note(
        safe`From <code>grinding.csv</code> and <code>sagitta.csv</code>; depths at the full ${mirror.record.settings.aperture} mm.`,
      ),
    ];
  },
  how:
    "Write each charge, or every twenty minutes, into grinding.csv: date, grade with its letter, which disc lay on top, " +
    "minutes, strokes if you counted. After every twenty minutes read the depth and write it into sagitta.csv.",
};

/** The reader's log of rough grinding, with the depths read on the way; the demo's where there is none. */
export function yourLog(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(logPart, yours, demo);
}

/** Depth after an hour, by the straight line between the depths before and after; undefined before there is one. */
function atHour(depths: readonly DepthReading[]): number | undefined {
  const after = depths.find(({ afterMin }) => afterMin >= hour - 5);
  if (after === undefined) return undefined;
  const before = depths.findLast(({ afterMin }) => afterMin < after.afterMin);
  const from = before ?? { afterMin: 0, sagitta: 0 };
  const slope = (after.sagitta - from.sagitta) / (after.afterMin - from.afterMin);
  return after.sagitta + slope * (hour - after.afterMin);
}

const hour = 60;

/** The widest spread of depths read at one minute, mm; 0 where none was read twice. */
function spreadOf(depths: readonly DepthReading[]): number {
  return depths.reduce((most, one) => {
    const same = depths.filter(({ afterMin }) => Math.abs(afterMin - one.afterMin) < 0.5)
      .map(({ sagitta }) => sagitta);
    return Math.max(most, Math.max(...same) - Math.min(...same));
  }, 0);
}

type State = "none" | "turning" | "shallow" | "on";

interface Hour {
  readonly state: State;
  /** sagitta after an hour, mm */
  readonly depth?: number;
  readonly spread: number;
}

function hourOf(mirror: Mirror): Hour {
  const log = logUpTo(mirror), depths = log === undefined ? [] : kept(log);
  const depth = atHour(depths), spread = spreadOf(depths);
  if (spread > decision("diameters_spread_most") + 1e-9) {
    return { state: "turning", spread, ...(depth === undefined ? {} : { depth }) };
  }
  if (depth === undefined) return { state: "none", spread };
  return { state: depth < decision("hour_sagitta_shallow") ? "shallow" : "on", depth, spread };
}

function sayWhat({ state, depth = 0, spread }: Hour): readonly [title: string, what: string] {
  const least = decision("hour_sagitta_least"), most = decision("hour_sagitta_most");
  const s = `${depth.toFixed(2)}\u2009mm`;
  const pace = depth < least
    ? `${s} after an hour is a little slow: fresh charges more often. Go on to measure it well.`
    : depth > most
    ? `${s} after an hour is fast: measure before every charge from now on.`
    : `${s} after an hour is as it should be: go on to measure it well.`;
  const told: Readonly<Record<State, readonly [string, string]>> = {
    none: ["grind the hour", "Grind to minute 60, mirror on top, log it, and read the depth."],
    turning: [
      "check the turning",
      `Diameters differ by ${
        spread.toFixed(3)
      }\u2009mm: turn both discs at every set, and read again.`,
    ],
    shallow: [
      "longer overhang",
      `Only ${s} after an hour: hang over a quarter of the width, press, and take fresh charges.`,
    ],
    on: ["measure the curve", pace],
  };
  return told[state];
}

/** What the first hour calls for: measure the curve, hang over farther, or mind the turning. */
export function decideHollow(mirror: Mirror): Shown {
  const found = hourOf(mirror), [title, what] = sayWhat(found), { state, depth } = found;
  const [least, most, shallow, apart] = [
    "hour_sagitta_least",
    "hour_sagitta_most",
    "hour_sagitta_shallow",
    "diameters_spread_most",
  ].map(decision) as [number, number, number, number];
  return decide({
    title,
    do: what,
    ...(depth === undefined ? {} : { scale: hourScale(depth, [shallow, least, most]) }),
    choices: [
      {
        name: "Measure the curve",
        when: `when an hour gave about ${least.toFixed(2)} to ${
          most.toFixed(2)
        } mm (150 mm f/8); from ${shallow.toFixed(2)} on with fresher charges, over ${
          most.toFixed(2)
        } with a reading before every charge.`,
        chosen: state === "on",
      },
      {
        name: "Longer overhang",
        when: `and fresh charges, when it gave less than ${shallow.toFixed(2)} mm.`,
        chosen: state === "shallow",
      },
      {
        name: "Check the turning",
        when: `when diameters differ by more than ${apart} mm.`,
        chosen: state === "turning",
      },
      {
        name: "Grind the hour",
        when: "while there is no depth near minute 60.",
        chosen: state === "none",
      },
    ],
    ...(depth === undefined ? {} : {
      after:
        `Your whole folder’s next step. Mind first: ${mirror.summary.nextStep.caution} Then: ${mirror.summary.nextStep.do}`,
    }),
  });
}

function hourScale(
  depth: number,
  [shallow, least, most]: readonly [number, number, number],
): Shown {
  return decisionScale({
    from: 0,
    to: Math.max(1.4 * most, 1.1 * depth),
    title: "Sagitta after 60 min (mm)",
    digits: 2,
    zones: [
      { name: "hang over farther", short: "too little", to: shallow, limit: true },
      { name: "slow", tone: "before", to: least },
      { name: "as usual", tone: "wanted", to: most },
      { name: "fast", tone: "past" },
    ],
    value: depth,
  });
}

// The stage of rough grinding: what routines, and slips in the turning, make of the mirror on top.

/** A routine with what sets it apart: "never turn the upper disc". */
export interface NamedRoutine {
  /** what sets it apart */
  readonly name: string;
  /** strokes and turns */
  readonly routine: Routine;
}

/** Coarse enough for a page: sagitta to a percent, astigmatism to a tenth. */
const detail = { rings: 12, angles: 48 } as const;

/** Two discs of F80 ground by a routine, the mirror on top; a coarse grid, one seed. */
export function grindBy(routine: Routine, aperture: number, minutes: number): Ground {
  return grindTogether({
    settings: wearSettings(aperture),
    routine,
    sessions: [{ position: "mirror on top", minutes }],
    detail,
  });
}

/**
 * What routines make of the mirror on top, in the same time: sagitta, astigmatism, all that is no sphere, overhang.
 *
 * @param aperture  of both discs, mm
 * @param minutes   of grinding with F80, above 0
 * @throws {RangeError} for a routine that cannot be done
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { chordRoutine } from "../shaping/grinding/routine.ts";
 * const usual = { name: "as usual", routine: chordRoutine(150) };
 * assert.match(routinesCompared([usual], 150, 12).text, /as usual \| 0\.1\d\d \| \d\.\d \| \d+ \| 86 %/);
 * ```
 */
export function routinesCompared(
  routines: readonly NamedRoutine[],
  aperture: number,
  minutes: number,
): Shown {
  return readingsTable(
    `The mirror after ${minutes} min on top`,
    [
      { title: "Routine", text: true },
      { title: "Sagitta", unit: "mm" },
      { title: "Astigmatism", unit: "µm" },
      { title: "Off the sphere, RMS", unit: "µm" },
      { title: "Overhang, of the limit" },
    ],
    routines.map(({ name, routine }) => {
      const { sagitta, departures } = grindBy(routine, aperture, minutes).mirror;
      const { astigmatismUm, rmsUm } = departures;
      return {
        cells: [
          name,
          sagitta.toFixed(3),
          astigmatismUm.toFixed(astigmatismUm < 10 ? 1 : 0),
          rmsUm.toFixed(0),
          `${(100 * checkRoutine(routine, aperture).limitShare).toFixed(0)} %`,
        ],
      };
    }),
  );
}

/**
 * The mirror's sagitta at some minutes of a session, and how fast it grew up to each from the one before.
 *
 * @param minutes  rising, above 0, the last within the session
 * @throws {RangeError} for minutes that do not rise or were not ground
 */
export function depthsAlong({ course }: Ground, minutes: readonly number[]): Shown {
  const end = course.at(-1)?.minutes ?? 0;
  if (!minutes.every((at, i) => at > (minutes[i - 1] ?? 0) && at <= end + 1e-6)) {
    throw new RangeError(
      `depthsAlong requires minutes that rise from above 0 to ${end}, got ${minutes.join(", ")}`,
    );
  }
  const at = (minute: number): number =>
    1000 * (course.findLast((one) => one.minutes <= minute + 1e-6)?.mirrorSagitta ?? 0);
  return readingsTable(
    "Sagitta minute by minute",
    [
      { title: "Ground for", unit: "min" },
      { title: "Sagitta", unit: "µm" },
      { title: "Rate since the line above", unit: "µm/min" },
    ],
    minutes.map((minute, i) => {
      const before = minutes[i - 1] ?? 0;
      return {
        cells: [
          minute,
          at(minute).toFixed(0),
          ((at(minute) - at(before)) / (minute - before)).toFixed(1),
        ],
      };
    }),
  );
}

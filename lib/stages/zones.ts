/** The stage of the zones: the readings, the profile they give, how the last dates compare, and what to do. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { decide } from "../figures/decide.ts";
import { facts, note, readingsTable } from "../figures/blocks.ts";
import { safe } from "../figures/html.ts";
import type { Shown } from "../figures/show.ts";
import { type Profile, surfaceProfile } from "../figures/surfaceProfile.ts";
import { type Judged, verdictBar } from "../figures/verdictBar.ts";
import { zoneReadings, type ZoneRun, type ZoneTable } from "../figures/zoneReadings.ts";
import type { Measured } from "../quantity/measured.ts";
import { judgingOf, judgingRadius, reduceMeasurement } from "../record/figureSummary.ts";
import { passOf, type ZoneMeasurement, zoneMeasurements } from "../record/glassWork.ts";
import type { Mirror } from "../record/open.ts";
import { decision } from "../record/tables.ts";
import type { ZoneRow } from "../record/types.ts";
import type { ZoneFigure } from "../testing/zones.ts";
import { ownOrDemo, type Part, type Whose } from "./whose.ts";

/** Readings of one surface with what they give; named by their last day. */
export interface ReducedDay extends ZoneMeasurement {
  readonly found: ZoneFigure;
}

/** Days already reduced, by mirror and number of runs: each reduction throws thousands of dice. */
const known = new WeakMap<Mirror, Map<number, readonly ReducedDay[]>>();

/**
 * Every day of a mirror's zone readings, reduced; a day that cannot be reduced is left out.
 *
 * @param only  take the first so many runs of each day, to see what fewer would have said
 */
export function reducedDays(mirror: Mirror, only = Infinity): readonly ReducedDay[] {
  const ofMirror = known.get(mirror) ?? new Map<number, readonly ReducedDay[]>();
  known.set(mirror, ofMirror);
  const days = ofMirror.get(only) ?? reduceDays(mirror, only);
  ofMirror.set(only, days);
  return days;
}

function reduceDays({ record, summary }: Mirror, only: number): readonly ReducedDay[] {
  const judging = judgingOf(record, summary);
  return zoneMeasurements(record).flatMap((day) => {
    const runs = [...new Set(day.rows.map(passOf))].slice(0, only);
    const kept = { ...day, rows: day.rows.filter((row) => runs.includes(passOf(row))) };
    try {
      return [{ ...kept, found: reduceMeasurement(record, kept, judging) }];
    } catch (error) {
      if (!(error instanceof CannotTell)) throw error;
      return [];
    }
  });
}

function openingsOf(rows: readonly ZoneRow[]): readonly { inner: number; outer: number }[] {
  const seen = new Map(rows.map(({ inner, outer }) => [`${inner} ${outer}`, { inner, outer }]));
  return [...seen.values()].sort((a, b) => a.inner - b.inner);
}

function tableOf(
  { record, summary }: Mirror,
  rows: readonly ZoneRow[],
  whose: Whose,
): ZoneTable {
  const openings = openingsOf(rows);
  const runs = [...Map.groupBy(rows, passOf).values()].map((ofRun): ZoneRun => ({
    run: ofRun[0]?.run ?? "",
    readings: openings.map(({ inner, outer }) =>
      ofRun.find((row) => row.inner === inner && row.outer === outer)?.reading
    ),
  }));
  return {
    openings,
    runs,
    whose,
    radius: judgingRadius(record, summary.curve),
    source: record.settings.tester.source === "fixed" ? "fixed" : "moves",
    wanted: record.settings.goal.shape === "sphere" ? "sphere" : "paraboloid",
  };
}

function profileParts({ found, rows }: ReducedDay, mirror: Mirror): Profile {
  const { goal } = mirror.record.settings;
  return {
    points: found.profile.map(({ radius, surfaceError, u }) => ({
      radius,
      height: surfaceError,
      u,
    })),
    openings: openingsOf(rows),
    pv: found.surfacePv,
    goal: goal.surfaceWaves * goal.wavelength,
    wanted: found.reference,
  };
}

function judgedDay({ date, found }: ReducedDay): Judged {
  return {
    name: date ?? "undated",
    value: found.wavefrontPv,
    interval: found.interval95.wavefrontPv,
    verdict: found.verdict,
    probability: found.probabilityWithinGoal,
  };
}

/** The numbers of one day. */
function numbersOf({ found, date }: ReducedDay): Shown {
  const rows: [string, Measured | string][] = [
    ["Read on", date ?? "no date written"],
    ["Runs", String(found.runs)],
    ["Scatter of one reading", `${found.pooledS.toFixed(3)}\u2009mm`],
    ["Conic constant", found.conic],
    ["Glass, peak to valley", found.surfacePv],
    ["Wavefront, peak to valley", found.wavefrontPv],
    ["Wavefront, RMS", found.wavefrontRms],
    ["Strehl ratio", found.strehl],
    ["RMS that noise alone would feign", found.noiseFloorRms],
  ];
  return facts(rows);
}

const how =
  "Mask on the mirror, an hour after you last touched it. Zone by zone, move the knife until both openings are equally " +
  "grey, and write the dial into zones.csv with the edges of the opening. Three runs at least, without looking back.";

const readingsPart: Part = {
  name: "zone readings",
  count: ({ record }) => zoneMeasurements(record).at(-1)?.rows.length ?? 0,
  show: (mirror, whose) => {
    const day = zoneMeasurements(mirror.record).at(-1);
    if (day === undefined) return [];
    const lines = day.rows.map(({ line }) => line);
    return [
      zoneReadings(tableOf(mirror, day.rows, whose)),
      note(
        safe`From <code>zones.csv</code>, lines ${Math.min(...lines)} to ${Math.max(...lines)}${
          day.date === undefined ? "" : `, read on ${day.date}`
        }.`,
      ),
    ];
  },
  how,
};

const profilePart: Part = {
  name: "the surface",
  noun: "run",
  count: (mirror) => reducedDays(mirror).at(-1)?.found.runs ?? 0,
  show: (mirror, whose) => {
    const days = reducedDays(mirror), last = days.at(-1), before = days.at(-2);
    if (last === undefined) return [];
    return [
      surfaceProfile({
        ...profileParts(last, mirror),
        whose,
        ...(before === undefined ? {} : {
          before: {
            name: before.date ?? "before",
            points: profileParts(before, mirror).points,
          },
        }),
      }),
      numbersOf(last),
    ];
  },
  how,
};

const datesPart: Part = {
  name: "the verdict, date by date",
  noun: "date",
  count: (mirror) => reducedDays(mirror).length,
  show: (mirror, whose) => [verdictByDate(reducedDays(mirror), mirror, whose)],
  how,
};

function verdictByDate(
  days: readonly ReducedDay[],
  { record }: Mirror,
  whose: Whose,
): Shown {
  return verdictBar({
    results: days.map((day) => ({ ...judgedDay(day), whose })),
    goal: 2 * record.settings.goal.surfaceWaves,
    title: "Wavefront, peak to valley (wave)",
    digits: 3,
  });
}

/** The latest day's readings, run by run, beside the wanted curve. */
export function yourReadings(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(readingsPart, yours, demo);
}

/** The profile of the glass from the latest day, with the day before drawn thin, and its numbers. */
export function yourSurface(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(profilePart, yours, demo);
}

/** The wavefront's peak to valley against the goal, one bar a date: what did the last spell do? */
export function verdictOverTime(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(datesPart, yours, demo);
}

/** The first run of each day alone, beside all its runs: how much one run can say. */
export function firstRunAlone(mirror: Mirror): Shown {
  const all = reducedDays(mirror), first = reducedDays(mirror, 1);
  return readingsTable(
    "First run alone, and all runs",
    [
      { title: "Date", text: true },
      { title: "First run, P-V", unit: "wave" },
      { title: "All runs, P-V", unit: "wave" },
      { title: "Runs" },
      { title: "Meets the goal", text: true },
    ],
    all.map(({ date, found }, i) => ({
      cells: [
        date ?? "undated",
        first[i]?.found.wavefrontPv.value.toFixed(3),
        found.wavefrontPv,
        found.runs,
        found.verdict,
      ],
    })),
  );
}

type State = "none" | "noisy" | "few" | "on";

function stateOf(last: ReducedDay | undefined): State {
  if (last === undefined) return "none";
  if (last.found.runs < decision("runs_least")) return "few";
  return last.found.pooledS > decision("pooled_s_most") ? "noisy" : "on";
}

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  none: ["measure", "Make the mask, let the mirror rest an hour, and take three runs."],
  few: ["more runs", "Take runs until there are three at least: one run is not a measurement."],
  noisy: [
    "wait for still air",
    "The scatter is too large: wait, breathe away from the beam, read again.",
  ],
  on: ["go on", "The readings are steady. Go on to the verdict."],
};

/** What the zone readings call for. */
export function decideZones(mirror: Mirror): Shown {
  const last = reducedDays(mirror).at(-1), state = stateOf(last);
  const [title, what] = SAYS[state];
  const most = decision("pooled_s_most");
  return decide({
    title,
    do: what,
    choices: [
      {
        name: "Go on",
        when: `with three runs and a scatter of ${most} mm or less.`,
        chosen: state === "on",
      },
      {
        name: "More runs",
        when: "with fewer than three: one run cannot tell its noise from the glass.",
        chosen: state === "few" || state === "none",
      },
      {
        name: "Wait for still air",
        when: `when the scatter of a reading is over ${most} mm.`,
        chosen: state === "noisy",
      },
    ],
    ...(last === undefined ? {} : {
      after: `Your scatter: ${last.found.pooledS.toFixed(3)} mm over ${last.found.runs} run${
        last.found.runs === 1 ? "" : "s"
      }.`,
    }),
  });
}

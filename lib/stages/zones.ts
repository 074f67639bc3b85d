/** The stage of the zones: the readings, the profile they give, how the last dates compare, and what to do. */
import { decide } from "../figures/decide.ts";
import { facts, note, readingsTable } from "../figures/blocks.ts";
import { safe } from "../figures/html.ts";
import type { Shown } from "../figures/show.ts";
import { type Profile, surfaceProfile } from "../figures/plots/surfaceProfile.ts";
import { type Judged, verdictBar } from "../figures/plots/verdictBar.ts";
import { zoneReadings, type ZoneRun, type ZoneTable } from "../figures/plots/zoneReadings.ts";
import type { Measured } from "../quantity/measured.ts";
import { judgingRadius } from "../knowledge/figureSummary.ts";
import { passOf, readingsSaid, zoneMeasurements } from "../knowledge/glassWork.ts";
import type { Mirror } from "../knowledge/open.ts";
import { decision } from "../record/tables.ts";
import type { ZoneRow } from "../record/types.ts";
import type { ZoneFigure } from "../testing/zones/zones.ts";
import { ownOrDemo, type Part, type Whose } from "./whose.ts";
import { daysOf, masksOf, openingsOf, type ReducedDay, reducedDays } from "./zoneDays.ts";

/** Where a run's seat and knife set the zero of its readings, mm, beside the first of `rows`: that is focus, not figure. */
function zeroOf(rows: readonly ZoneRow[], found: ZoneFigure | undefined): (row: ZoneRow) => number {
  const at = ({ date = "", angleDeg = 0, knifeDeg = 0 }: ZoneRow): number =>
    found?.groups.find((group) =>
      group.date === date && group.angleDeg === angleDeg && group.knifeDeg === knifeDeg
    )?.offset ?? 0;
  const first = rows[0] === undefined ? 0 : at(rows[0]);
  return (row) => at(row) - first;
}

function tableOf(
  { record, summary }: Mirror,
  rows: readonly ZoneRow[],
  whose: Whose,
  found?: ZoneFigure,
): ZoneTable {
  const openings = openingsOf(rows), zero = zeroOf(rows, found);
  const runs = [...Map.groupBy(rows, passOf).values()].map((ofRun): ZoneRun => ({
    run: ofRun[0]?.run ?? "",
    readings: openings.map(({ inner, outer }) => {
      const row = ofRun.find((one) => one.inner === inner && one.outer === outer);
      return row === undefined ? undefined : row.reading - zero(row);
    }),
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

function knifeName(knifeDeg: number): string {
  return knifeDeg === 0 ? "upright" : knifeDeg === 90 ? "on its side" : `${knifeDeg}\u00b0`;
}

/** Seats of the mirror and directions of the knife, and where each puts the centre of curvature; nothing where all are one. */
function seatsTable({ found }: ReducedDay): readonly Shown[] {
  if (found.groups.length < 2) return [];
  const rows = found.groups.map(({ date, angleDeg, knifeDeg, runs, offset }) => ({
    cells: [
      // a day is never broken over two lines
      safe`<span class="q">${date || "undated"}</span>`,
      `${angleDeg}\u00b0`,
      knifeName(knifeDeg),
      runs,
      offset.toFixed(2),
    ],
  }));
  return [
    readingsTable("Seats and knives", [
      { title: "Read on", text: true },
      { title: "Mark at" },
      { title: "Knife", text: true },
      { title: "Runs" },
      { title: "Centre at", unit: "mm" },
    ], rows),
    note(
      "Centre at: where the dial stands for the centre of curvature, by the runs of this seat and knife. Between days and seats only focus moves; between knives of one seat it is astigmatism, the mirror’s and the stand’s together.",
    ),
  ];
}

function profileParts({ found, rows }: ReducedDay, mirror: Mirror): Profile {
  const { goal } = mirror.record.settings, isRound = found.astigmatism === undefined;
  return {
    points: found.profile.map(({ radius, surfaceError, u }) => ({
      radius,
      height: surfaceError,
      u,
    })),
    openings: openingsOf(rows),
    ...(isRound ? { pv: found.surfacePv } : { meanOf: found.diameters }),
    goal: goal.surfaceWaves * goal.wavelength,
    wanted: found.reference,
  };
}

/** A measurement as the bars of the verdict draw it. */
export function judgedDay(day: ReducedDay): Judged {
  const { found } = day;
  return {
    name: daysOf(day),
    value: found.wavefrontPv,
    interval: found.interval95.wavefrontPv,
    verdict: found.verdict,
    probability: found.probabilityWithinGoal,
  };
}

/** The numbers of one measurement. */
function numbersOf(day: ReducedDay): Shown {
  const { found } = day, { astigmatism } = found;
  const rows: [string, Measured | string][] = [
    ["Read on", day.dates.length === 0 ? "no date written" : daysOf(day)],
    ["Runs", String(found.runs)],
    ["What was read", found.scope === "whole surface" ? "the whole surface" : found.scope],
    ["Scatter of one reading", `${found.pooledS.toFixed(3)}\u2009mm`],
    ["Conic constant", found.conic],
    ["Glass, peak to valley", found.surfacePv],
    ["Wavefront, peak to valley", found.wavefrontPv],
    ["Wavefront, RMS", found.wavefrontRms],
    ["Strehl ratio", found.strehl],
    ...(astigmatism === undefined ? [] : [
      ["Astigmatism of the glass, amplitude", astigmatism.amplitude] as [string, Measured],
      ...(astigmatism.stand === undefined
        ? []
        : [["The stand’s, as the knives see it", astigmatism.stand] as [string, Measured]]),
    ]),
    ["RMS that noise alone would feign", found.noiseFloorRms],
  ];
  return facts(rows);
}

const how =
  "Mask on the mirror, an hour after you last touched it. Zone by zone, move the knife until both openings are equally " +
  "grey, and write the dial into zones.csv with the edges of the opening. Three runs at least, without looking back, every " +
  "second one from the rim inward.";

const readingsPart: Part = {
  name: "zone readings",
  count: ({ record }) => zoneMeasurements(record).at(-1)?.rows.length ?? 0,
  show: (mirror, whose) => {
    const day = zoneMeasurements(mirror.record).at(-1);
    if (day === undefined) return [];
    const lines = day.rows.map(({ line }) => line), reduced = reducedDays(mirror).at(-1);
    const own = reduced !== undefined && daysOf(reduced) === daysOf(day) ? reduced : undefined;
    return [
      ...masksOf(day.rows).map((rows) => zoneReadings(tableOf(mirror, rows, whose, own?.found))),
      note(
        safe`From <code>zones.csv</code>, lines ${Math.min(...lines)} to ${Math.max(...lines)}: ${
          readingsSaid(day)
        }.`,
      ),
      ...(own === undefined ? [] : seatsTable(own)),
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
            name: before.dates.length === 0 ? "before" : daysOf(before),
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
  noun: "surface",
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
    all.map((day, i) => ({
      cells: [
        daysOf(day),
        first[i]?.found.wavefrontPv.value.toFixed(3),
        day.found.wavefrontPv,
        day.found.runs,
        day.found.verdict,
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

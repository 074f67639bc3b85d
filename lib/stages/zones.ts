/** The stage of the zones: the readings, the profile they give, how the last dates compare, and what to do. */
import { facts, note, readingsTable } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { surfaceFromAbove } from "../figures/drawings/surfaceFromAbove.ts";
import { safe } from "../figures/html.ts";
import { budgetBars } from "../figures/plots/budgetBars.ts";
import { type Profile, surfaceProfile } from "../figures/plots/surfaceProfile.ts";
import { type Judged, verdictBar } from "../figures/plots/verdictBar.ts";
import { zoneReadings, type ZoneRun, type ZoneTable } from "../figures/plots/zoneReadings.ts";
import type { Shown } from "../figures/show.ts";
import { judgingOf, judgingRadius, reduceMeasurement } from "../knowledge/figureSummary.ts";
import {
  passOf,
  readingsSaid,
  type ZoneMeasurement,
  zoneMeasurements,
} from "../knowledge/glassWork.ts";
import type { Mirror } from "../knowledge/open.ts";
import { CannotTell } from "../numeric/cannotTell.ts";
import type { Measured } from "../quantity/measured.ts";
import { decision, fact } from "../record/tables.ts";
import type { ZoneRow } from "../record/types.ts";
import type { ZoneFigure } from "../testing/zones/zones.ts";
import { ownOrDemo, type Part, type Whose } from "./base.ts";

// The zone test surface by surface: readings with no work on the glass between them are one measurement, whatever their days.

/** Readings of one surface with what they give. */
export interface ReducedDay extends ZoneMeasurement {
  /** what these readings alone give */
  readonly found: ZoneFigure;
}

/** What was already reduced, by mirror and wish: each reduction draws thousands of mirrors. */
const known = new WeakMap<Mirror, Map<string, readonly ReducedDay[]>>();

function remembered(
  mirror: Mirror,
  wish: string,
  reduce: () => readonly ReducedDay[],
): readonly ReducedDay[] {
  const ofMirror = known.get(mirror) ?? new Map<string, readonly ReducedDay[]>();
  known.set(mirror, ofMirror);
  const days = ofMirror.get(wish) ?? reduce();
  ofMirror.set(wish, days);
  return days;
}

/** Only the last of them is asked which further readings would tell; that takes as long as all the rest. */
function reduced(
  { record, summary }: Mirror,
  days: readonly ZoneMeasurement[],
  advised?: ZoneMeasurement,
): readonly ReducedDay[] {
  const judging = judgingOf(record, summary);
  return days.flatMap((day) => {
    try {
      return [{ ...day, found: reduceMeasurement(record, day, judging, day === advised) }];
    } catch (error) {
      if (!(error instanceof CannotTell)) throw error;
      return [];
    }
  });
}

/**
 * Every surface whose zones were read, reduced; one that cannot be reduced is left out.
 *
 * @param only  take the first so many runs of each, to see what fewer would have said
 */
export function reducedDays(mirror: Mirror, only = Infinity): readonly ReducedDay[] {
  return remembered(mirror, `first ${only}`, () => {
    const days = zoneMeasurements(mirror.record).map((day) => {
      const runs = [...new Set(day.rows.map(passOf))].slice(0, only);
      return { ...day, rows: day.rows.filter((row) => runs.includes(passOf(row))) };
    });
    return reduced(mirror, days, only === Infinity ? days.at(-1) : undefined);
  });
}

/** The days of the latest surface, each reduced as if the others had not been read; none where there is one day only. */
export function daysAlone(mirror: Mirror): readonly ReducedDay[] {
  const last = zoneMeasurements(mirror.record).at(-1);
  if (last === undefined || last.dates.length < 2) return [];
  return remembered(mirror, "alone", () =>
    reduced(
      mirror,
      last.dates.map((date) => ({
        ...last,
        date,
        dates: [date],
        rows: last.rows.filter((row) => row.date === date),
      })),
    ));
}

/**
 * The days of a measurement in short: "2026-06-26 and 27".
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(daysOf({ dates: ["2026-06-26", "2026-06-27"] }), "2026-06-26 and 27");
 * assert.equal(daysOf({ dates: ["2026-06-26", "2026-06-28", "2026-07-01"] }), "2026-06-26 to 07-01");
 * assert.equal(daysOf({ dates: [] }), "undated");
 * ```
 */
export function daysOf({ dates }: Pick<ZoneMeasurement, "dates">): string {
  const first = dates[0], last = dates.at(-1);
  if (first === undefined || last === undefined) return "undated";
  if (dates.length === 1) return first;
  const alike = first.slice(0, 7) === last.slice(0, 7)
    ? 8
    : first.slice(0, 4) === last.slice(0, 4)
    ? 5
    : 0;
  return `${first} ${dates.length === 2 ? "and" : "to"} ${last.slice(alike)}`;
}

/** Whether the fault that keeps the whole disc from its goal lies in the shadow of the flat alone, where no star's light goes. */
export function isInShadow(
  { verdict, outsideShadow }: Pick<ZoneFigure, "verdict" | "outsideShadow">,
): boolean {
  return verdict !== "yes" && outsideShadow?.verdict === "yes";
}

/** The different openings of some rows, from the middle outwards. */
export function openingsOf(
  rows: readonly ZoneRow[],
): readonly { readonly inner: number; readonly outer: number }[] {
  const seen = new Map(rows.map(({ inner, outer }) => [`${inner} ${outer}`, { inner, outer }]));
  return [...seen.values()].sort((a, b) => a.inner - b.inner || a.outer - b.outer);
}

/** Runs through the same openings, that is one mask, in the order of their first row. */
export function masksOf(rows: readonly ZoneRow[]): readonly (readonly ZoneRow[])[] {
  const runs = [...Map.groupBy(rows, passOf).values()];
  const masks = Map.groupBy(runs, (run) => JSON.stringify(openingsOf(run)));
  return [...masks.values()].map((own) => own.flat());
}

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

const how = (): string =>
  `Mask on the mirror, ${
    fact("touch_bare")
  } minutes after a bare hand touched it, and in still air. ` +
  "Zone by zone, move the knife until both openings are equally " +
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
  get how() {
    return how();
  },
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
  get how() {
    return how();
  },
};

const datesPart: Part = {
  name: "the verdict, date by date",
  noun: "surface",
  count: (mirror) => reducedDays(mirror).length,
  show: (mirror, whose) => [verdictByDate(reducedDays(mirror), mirror, whose)],
  get how() {
    return how();
  },
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

/** The wavefront's peak to valley against the goal, one bar a date: what did the last session do? */
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

// What more than one diameter shows of the surface, and what the doubt of the zone test is made of.

/** Half the flat's width on the mirror, mm; absent where no flat is known. */
export function shadowOf({ summary }: Mirror): number | undefined {
  const flat = summary.telescope?.flatMinorAxis?.value;
  return flat === undefined ? undefined : flat / 2;
}

/** The surface from above; nothing where one diameter was read. */
export function fromAbove({ found }: ReducedDay, mirror: Mirror, whose: Whose): readonly Shown[] {
  const { astigmatism, profile, surfacePv, reference } = found, shadow = shadowOf(mirror);
  if (astigmatism === undefined) return [];
  return [
    surfaceFromAbove({
      profile: profile.map(({ radius, surfaceError }) => ({ radius, height: surfaceError })),
      astigmatism,
      pv: surfacePv,
      wanted: reference,
      whose,
      ...(shadow === undefined ? {} : { shadowRadius: shadow }),
    }),
  ];
}

const abovePart: Part = {
  name: "the surface from above",
  noun: "diameter",
  count: (mirror) => {
    const found = reducedDays(mirror).at(-1)?.found;
    return found?.astigmatism === undefined ? 0 : found.diameters;
  },
  show: (mirror, whose) => {
    const last = reducedDays(mirror).at(-1);
    return last === undefined ? [] : fromAbove(last, mirror, whose);
  },
  how:
    "It needs more than one diameter: turn the mirror in its stand, or the knife with its slit on their side, and write angle_deg and knife_deg beside the readings.",
};

/** The latest surface from above, where more than one diameter was read; else how to get there, and the demo's. */
export function yourSurfaceFromAbove(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(abovePart, yours, demo);
}

/** Shares of the doubt of one measurement; what is below half of one per cent is told in words. */
function budgetShown({ found }: ReducedDay): Shown[] {
  const shown = found.budget.filter(({ share }) => share >= 0.005);
  const small = found.budget.filter(({ share }) => share < 0.005).map(({ source }) => source);
  return shown.length === 0 ? [] : [
    budgetBars(shown),
    ...(small.length === 0 ? [] : [note(`Below half of one per cent: ${small.join(", ")}.`)]),
  ];
}

const doubtPart: Part = {
  name: "what the doubt is made of",
  noun: "run",
  count: (mirror) => reducedDays(mirror).at(-1)?.found.runs ?? 0,
  show: (mirror) => reducedDays(mirror).slice(-1).flatMap(budgetShown),
  how: "It needs zone readings: three runs or more, in zones.csv.",
};

/** What the doubt of the latest measurement is made of; the demo's where the reader has no zone readings. */
export function yourDoubt(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(doubtPart, yours, demo);
}

/**
 * What the doubt of one of a mirror's measurements is made of.
 *
 * @param which  0 for the first measurement, -1 for the last
 * @throws {RangeError} where there is no such measurement
 */
export function doubtOn(mirror: Mirror, which: number): readonly Shown[] {
  const day = reducedDays(mirror).at(which);
  if (day === undefined) throw new RangeError(`doubtOn requires a day of readings, got ${which}`);
  return budgetShown(day);
}

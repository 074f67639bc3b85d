/** What a record's observations come to: for each project a number, its doubt, and the decision that was said beforehand. */
import { type Measured, measured } from "../quantity/measured.ts";
import { decision, moonFeatures, occultedStars } from "../record/tables.ts";
import { gapOf, isGapRecalled, sameName } from "../record/rows.ts";
import type { MirrorRecord, ObservationRow } from "../record/types.ts";
import { closestTold, magnitudeBetween } from "../sky/byEye.ts";
import { jupiterShadows } from "../sky/jupiterShadow.ts";
import { limitsOf } from "../sky/limits.ts";
import { clockAt, dayAt, momentOf } from "../sky/localTime.ts";
import { heightByShare, sunOverMoon } from "../sky/moonShadow.ts";
import { occultations } from "../sky/occultation.ts";
import { isSunUpAt, JUPITER_MOONS, type Place } from "../sky/tonight.ts";

/** What is done with the telescope that ends in a number. */
export type Project = Exclude<ObservationRow["what"], "seen">;

/** One row of a project, worked out. */
export interface ObservedRow {
  /** of observations.csv */
  readonly line: number;
  /** what was looked at, when, and what it came to, each in words */
  readonly cells: readonly string[];
  /** why it is not used; absent where it is */
  readonly setAside?: string;
}

/** A project's outcome. */
export interface Observed {
  /** which */
  readonly project: Project;
  /** as a heading: "Moons of Jupiter" */
  readonly title: string;
  /** heads of the cells */
  readonly heads: readonly string[];
  /** every row of it, used or not */
  readonly rows: readonly ObservedRow[];
  /** the numbers it ends in, each with its doubt */
  readonly numbers: readonly { readonly name: string; readonly value: Measured }[];
  /** the outcome in a sentence; where nothing can be told, what is missing */
  readonly says: string;
  /** the outcome in a few words, as within a list; absent where nothing can be told */
  readonly short?: string;
  /** asked beforehand, and answered by the number; absent where nothing can be told */
  readonly decided?: {
    readonly asked: string;
    readonly answer: "yes" | "no" | "not shown";
    readonly then: string;
  };
}

/** A row of whatever project, with its moment. */
type Timed = ObservationRow & { readonly moment: Date };

/** A place with its clock. */
interface Site {
  readonly place: Place;
  readonly zone: string;
}

const TITLES: Readonly<Record<Project, string>> = {
  "moon of jupiter": "A moon of Jupiter in the planet’s shadow",
  "double star": "The closest pair told",
  "moon shadow": "Heights on the Moon",
  "variable star": "A star that changes",
  "occultation": "A star behind the Moon",
  "star image": "A star before and after cooling",
};

/** So many rows of a project are worked out: a forecast takes a hundredth of a second, and a file may be of any length. */
const MOST_ROWS = 200;

/** In the order in which a telescope is learnt. */
export const PROJECTS: readonly Project[] = [
  "moon of jupiter",
  "double star",
  "moon shadow",
  "variable star",
  "occultation",
  "star image",
];

const fixed = (value: number, digits = 0): string => value.toFixed(digits).replace("-", "−");
const signed = (value: number): string => `${value > 0 ? "+" : ""}${fixed(value)}`;

function mean(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length;
}

/** Mean of estimates by eye: what each is good for at least, or their own scatter where that is wider. */
function byEye(values: readonly number[], each: number, unit: string): Measured {
  const middle = mean(values), n = values.length;
  const scatter = n < 2
    ? 0
    : Math.sqrt(values.reduce((sum, one) => sum + (one - middle) ** 2, 0) / (n - 1));
  return measured(middle, Math.max(each, scatter) / Math.sqrt(n), unit);
}

/** The site with its zone; longitudes typed beyond 180 degrees turned west. */
function siteOf({ settings: { site } }: MirrorRecord): Site | undefined {
  if (site === undefined) return undefined;
  const { latitude, longitude, timeZone } = site;
  const turned = longitude > Math.PI ? longitude - 2 * Math.PI : longitude;
  return { place: { latitude, longitude: turned }, zone: timeZone };
}

const NO_SITE =
  "A clock’s time means nothing without its place: write site with latitude, longitude and time_zone into mirror.yaml.";

type Parted = readonly [rows: readonly Timed[], aside: readonly ObservedRow[]];

/** Rows with their moments; those of an hour that never was, or of daylight, set aside. */
async function timed(rows: readonly ObservationRow[], site: Site): Promise<Parted> {
  const used: Timed[] = [], aside: ObservedRow[] = [];
  for (const row of rows) {
    const cells = [row.object, `${row.date} ${row.time ?? ""}`];
    try {
      const moment = momentOf(row.date, row.time ?? "", site.zone);
      if (await isSunUpAt(site.place, moment)) {
        const setAside =
          "the Sun was up then, when nothing is a target: look at date, time and time_zone";
        aside.push({ line: row.line, cells, setAside });
      } else used.push({ ...row, moment });
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      const setAside =
        `the clock of ${site.zone} leapt over that hour, or the year is beyond 1900 to 2100`;
      aside.push({ line: row.line, cells, setAside });
    }
  }
  return [used, aside];
}

const dateOf = ({ date, time }: ObservationRow): string => `${date} ${time ?? ""}`.trim();

/** Times found less foretold, in seconds, with the doubt of each; one mean by their weights. */
interface Difference {
  readonly seconds: number;
  readonly u: number;
}

/** Their weighted mean; wider where they scatter more than their doubts say. */
function together(all: readonly Difference[]): Measured | undefined {
  if (all.length === 0) return undefined;
  const weights = all.map(({ u }) => 1 / u ** 2);
  const sum = weights.reduce((total, one) => total + one, 0);
  const middle = all.reduce((total, { seconds }, i) => total + seconds * (weights[i] ?? 0), 0) /
    sum;
  const chi = all.reduce((total, { seconds, u }) => total + ((seconds - middle) / u) ** 2, 0);
  const birge = all.length < 2 ? 1 : Math.max(1, Math.sqrt(chi / (all.length - 1)));
  return measured(middle, birge / Math.sqrt(sum), "s");
}

const TIMED_HEADS = ["Seen", "Clock", "Foretold", "Seen less foretold (s)"];

/** The outcome of timings against a forecast. */
function timings(
  project: "moon of jupiter" | "occultation",
  rows: readonly ObservedRow[],
  found: readonly Difference[],
  then: Readonly<Record<"yes" | "no", string>>,
): Observed {
  const all = together(found);
  const base = { project, title: TITLES[project], heads: TIMED_HEADS, rows };
  if (all === undefined) {
    return { ...base, numbers: [], says: "No timing could be used: see beside each row why." };
  }
  const { value, u } = all, inside = Math.abs(value) <= 2 * u;
  const many = found.length === 1 ? "One timing" : `${found.length} timings`;
  return {
    ...base,
    numbers: [{ name: "Clock less forecast", value: all }],
    short: `${
      project === "occultation" ? "a star behind the Moon" : "a moon of Jupiter eclipsed"
    } ${signed(value)} ± ${fixed(u)} s from the forecast`,
    says: `${many}: seen ${fixed(Math.abs(value), u < 2 ? 1 : 0)} s ${
      value < 0 ? "before" : "after"
    } the forecast, and that is known to ${fixed(u, u < 2 ? 1 : 0)} s.`,
    decided: {
      asked: "Is the difference within twice its doubt?",
      answer: inside ? "yes" : "no",
      then: inside ? then.yes : then.no,
    },
  };
}

/** Doubt of a clock by hand where none is written, s; and of the forecast itself. COMMON PRACTICE; the latter from two theories */
const JUPITER_DOUBT_S = 30, JUPITER_THEORY_S = 15, OCCULTATION_DOUBT_S = 1;
/** Farther from the forecast than this it is another event, or a clock an hour off, s. */
const JUPITER_FAR_S = 1500, OCCULTATION_FAR_S = 300;

const HOURS_6 = 6 * 3_600_000;

async function jupiter(rows: readonly ObservationRow[], site: Site): Promise<Observed> {
  const [used, aside] = await timed(rows, site), told = [...aside], found: Difference[] = [];
  for (const row of used) {
    const at = row.moment.getTime();
    const which = JUPITER_MOONS.filter((moon) => sameName(moon, row.object));
    const events = await jupiterShadows(new Date(at - HOURS_6), new Date(at + HOURS_6), which);
    const near = events
      .filter(({ event }) => event === row.event)
      .map((event) => ({ ...event, middle: (event.half.getTime() + event.dark.getTime()) / 2 }))
      .sort((a, b) => Math.abs(a.middle - at) - Math.abs(b.middle - at))[0];
    const seen = `${row.object} ${row.event}`, cells = [seen, dateOf(row)];
    if (near === undefined) {
      const setAside = "no such event within six hours: look at moon, day and time";
      told.push({ line: row.line, cells, setAside });
      continue;
    }
    const seconds = (at - near.middle) / 1000;
    const fade = Math.abs(near.dark.getTime() - near.half.getTime()) / 1000 / Math.sqrt(12);
    const u = Math.hypot(row.doubt ?? JUPITER_DOUBT_S, fade, JUPITER_THEORY_S);
    const all = [
      ...cells,
      clockAt(new Date(near.middle), site.zone),
      `${signed(seconds)} ± ${fixed(u)}`,
    ];
    const why = near.side === "hidden"
      ? "the planet itself stood before the moon then"
      : Math.abs(seconds) > JUPITER_FAR_S
      ? `${fixed(Math.abs(seconds) / 60)} min off: is it another moon, or a clock an hour off?`
      : undefined;
    told.push({ line: row.line, cells: all, ...(why === undefined ? {} : { setAside: why }) });
    if (why === undefined) found.push({ seconds, u });
  }
  return timings("moon of jupiter", told.sort((a, b) => a.line - b.line), found, {
    yes: "Your clock, eye and hand are good enough: try an occultation.",
    no:
      "Check the clock by a time signal, and time the moment when the last light is gone. Then three more.",
  });
}

async function occulted(rows: readonly ObservationRow[], site: Site): Promise<Observed> {
  const [used, aside] = await timed(rows, site), told = [...aside], found: Difference[] = [];
  for (const row of used) {
    const star = occultedStars().find(({ name }) => sameName(name, row.object));
    if (star === undefined) continue; // refused when it was read
    const at = row.moment.getTime();
    const [near] = (await occultations(star, site.place, row.moment, 2))
      .filter(({ event }) => event === row.event)
      .sort((a, b) => Math.abs(a.moment.getTime() - at) - Math.abs(b.moment.getTime() - at));
    const seen = `${star.name} ${row.event}`, cells = [seen, dateOf(row)];
    if (near === undefined || near.altitude < 0) {
      const setAside = near === undefined
        ? "the Moon did not pass before it within two hours: look at star, day, time and place"
        : "the Moon was below the horizon then: look at day, time and place";
      told.push({ line: row.line, cells, setAside });
      continue;
    }
    const seconds = (at - near.moment.getTime()) / 1000;
    const u = Math.hypot(row.doubt ?? OCCULTATION_DOUBT_S, near.u);
    const why = Math.abs(seconds) > OCCULTATION_FAR_S
      ? `${fixed(Math.abs(seconds) / 60)} min off: look at the clock’s minutes and at site`
      : undefined;
    const place = near.darkSide ? "dark side" : "bright side";
    const all = [
      `${seen}, ${place}`,
      dateOf(row),
      clockAt(near.moment, site.zone),
      `${signed(seconds)} ± ${fixed(u)}`,
    ];
    told.push({ line: row.line, cells: all, ...(why === undefined ? {} : { setAside: why }) });
    if (why === undefined) found.push({ seconds, u });
  }
  return timings("occultation", told.sort((a, b) => a.line - b.line), found, {
    yes: "Clock, place and forecast agree: such a timing can be sent to those who collect them.",
    no:
      "Look for your place on a map to a hundred metres, check the clock by a time signal, time another star.",
  });
}

/** What a gap that a row leaves to the table is good to, as a share of it, where the table has it from memory. */
const RECALLED_U = 0.05;

function recalledU({ gap, object }: ObservationRow): number {
  return gap === undefined && isGapRecalled(object) ? RECALLED_U : 0;
}

function doubles(rows: readonly ObservationRow[], aperture: number): Observed {
  const rungs = rows.map((row) => {
    const { line, object, gap = gapOf(object) ?? NaN, right = 0, tries = 1 } = row;
    return { line, object, gap, right, tries, recalled: recalledU(row) };
  }).sort((a, b) => b.gap - a.gap);
  const told = closestTold(rungs, decision("pair_told_luck_most"));
  const base = {
    project: "double star" as const,
    title: TITLES["double star"],
    heads: ["Pair", "Apart (″)", "Right, of looks"],
    rows: rungs.map(({ line, object, gap, right, tries, recalled }) => ({
      line,
      cells: [
        object,
        `${fixed(gap, 2)}${recalled > 0 ? " from memory" : ""}`,
        `${right} of ${tries}`,
      ],
    })),
  };
  if (told === undefined) {
    const says =
      "Not even the widest pair was told more surely than by luck: begin with a wider one.";
    return { ...base, numbers: [], says };
  }
  const limit = limitsOf(aperture).dawesArcsec, most = decision("pair_over_limit_most") * limit;
  const { gap, u } = told, { recalled } = rungs.find((rung) => rung.gap === gap) ?? { recalled: 0 };
  const doubt = Math.hypot(u ?? 0, recalled * gap), low = gap - 2 * doubt;
  const answer = gap <= most ? "yes" : u === undefined || low <= most ? "not shown" : "no";
  return {
    ...base,
    numbers: [{ name: "Closest pair told", value: measured(gap, doubt, "″") }],
    short: `closest pair told ${fixed(gap, 2)}${u === undefined ? "" : ` ± ${fixed(doubt, 2)}`}″`,
    says: u === undefined
      ? `You told every pair, down to ${fixed(gap, 2)}″: the limit is there or closer.`
      : `You told one star from two down to ${fixed(gap, 2)}″; the next pair, ${
        fixed(gap - 2 * u, 2)
      }″, you did not: ${fixed(gap, 2)} ± ${fixed(doubt, 2)}″.`,
    decided: {
      asked: `Is it at or below ${fixed(most, 2)}″, ${
        decision("pair_over_limit_most")
      } times the limit of ${fixed(limit, 2)}″ of a mirror this wide?`,
      answer,
      then: {
        "yes": "Mirror, screws and air are good: nothing is to be mended.",
        "no": `Not by the mirror’s width, then, for that would do ${
          fixed(limit, 2)
        }″: test on a star in still air, first the screws.`,
        "not shown": "Take a closer pair, on a still night.",
      }[answer],
    },
  };
}

/** Of a shadow by eye, in widths of the crater; of a height told elsewhere, as a share. COMMON PRACTICE */
const SHADOW_U = 0.03, TOLD_U = 0.1;

async function shadows(rows: readonly ObservationRow[], site: Site): Promise<Observed> {
  const [used, aside] = await timed(rows, site), told = [...aside];
  const numbers: { name: string; value: Measured; known: number }[] = [];
  for (const [object, some] of Map.groupBy(used, (row) => row.object.toLowerCase())) {
    const feature = moonFeatures().find(({ name }) => sameName(name, object));
    if (feature === undefined) continue; // refused when it was read
    const { name, latitudeDeg, longitudeDeg, widthKm, heightKm, kind } = feature;
    const rad = Math.PI / 180;
    const place = { latitude: latitudeDeg * rad, longitude: longitudeDeg * rad };
    const caster = { place, widthKm, rim: kind === "rim" }, good: (Timed & { km: number })[] = [];
    for (const row of some) {
      const cells = [name, dateOf(row), `${fixed(row.tenths ?? 0, 1)} tenths`];
      try {
        const share = measured((row.tenths ?? NaN) / 10, SHADOW_U, "");
        const { value } = heightByShare(caster, await sunOverMoon(row.moment), share);
        good.push({ ...row, km: value });
        told.push({ line: row.line, cells: [...cells, `${fixed(value, 1)} km`] });
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        const setAside =
          "at that time the Sun had not risen there, or the shadow would end in the dark: look at day, time and name";
        told.push({ line: row.line, cells, setAside });
      }
    }
    const [first] = good;
    if (first === undefined) continue;
    const share = byEye(good.map(({ tenths = 0 }) => tenths / 10), SHADOW_U, "");
    const { u } = heightByShare(caster, await sunOverMoon(first.moment), share);
    numbers.push({
      name,
      value: measured(mean(good.map(({ km }) => km)), u, "km"),
      known: heightKm,
    });
  }
  const base = {
    project: "moon shadow" as const,
    title: TITLES["moon shadow"],
    heads: ["On the Moon", "Clock", "Shadow", "Height"],
    rows: told.sort((a, b) => a.line - b.line),
    numbers: numbers.map(({ name, value }) => ({ name, value })),
  };
  if (numbers.length === 0) {
    return { ...base, says: "No shadow could be used: see beside each row why." };
  }
  const each = numbers.map(({ name, value, known }) =>
    `${name} ${fixed(value.value, 1)} ± ${fixed(value.u, 1)} km (${fixed(known, 1)} ± ${
      fixed(TOLD_U * known, 1)
    } km is told elsewhere)`
  );
  const far = numbers.filter(({ value, known }) =>
    Math.abs(value.value - known) > 2 * Math.hypot(value.u, TOLD_U * known)
  );
  const [one, other] = numbers.toSorted((a, b) => b.value.value - a.value.value);
  const apart = one === undefined || other === undefined
    ? ""
    : one.value.value - other.value.value > 2 * Math.hypot(one.value.u, other.value.u)
    ? ` ${one.name} is the higher by more than twice the doubt.`
    : ` Which of ${one.name} and ${other.name} is higher is not shown.`;
  return {
    ...base,
    says: `From the shadows: ${each.join("; ")}.${apart}`,
    short: numbers.map(({ name, value }) =>
      `${name} on the Moon ${fixed(value.value, 1)} ± ${fixed(value.u, 1)} km high`
    ).join(", "),
    decided: {
      asked: "Is each height within twice the doubt of what is told elsewhere?",
      answer: far.length === 0 ? "yes" : "no",
      then: far.length === 0
        ? "The way of measuring holds: try a mountain that no list has."
        : `Measure ${
          far.map(({ name }) => name).join(", ")
        } again on another night, with the Sun lower or higher there.`,
    },
  };
}

/** Of one estimate between two neighbours, magnitudes. COMMON PRACTICE: 0.1 to 0.15 */
const ESTIMATE_U = 0.12;

/** The evening that a moment belongs to: hours past midnight count to the day before. */
function nightOf(moment: Date, zone: string): string {
  return dayAt(new Date(moment.getTime() - HOURS_6 * 2), zone);
}

async function variable(rows: readonly ObservationRow[], site: Site): Promise<Observed> {
  const [used, aside] = await timed(rows, site), told = [...aside];
  const nights = Map.groupBy(
    used,
    ({ object, moment }) => `${object} on the night of ${nightOf(moment, site.zone)}`,
  );
  const numbers = [...nights].map(([name, some]) => {
    const all = some.map(({ brighter = NaN, fainter = NaN, tenths = NaN }) =>
      magnitudeBetween(brighter, fainter, tenths)
    );
    some.forEach((row, i) =>
      told.push({
        line: row.line,
        cells: [
          row.object,
          dateOf(row),
          `${row.tenths} of 10 from ${row.brighter} to ${row.fainter}`,
          fixed(all[i] ?? NaN, 2),
        ],
      })
    );
    return { name, object: some[0]?.object ?? "", value: byEye(all, ESTIMATE_U, "mag") };
  });
  const base = {
    project: "variable star" as const,
    title: TITLES["variable star"],
    heads: ["Star", "Clock", "Estimate", "Magnitude"],
    rows: told.sort((a, b) => a.line - b.line),
    numbers: numbers.map(({ name, value }) => ({ name, value })),
  };
  if (numbers.length === 0) {
    return { ...base, says: "No estimate could be used: see beside each row why." };
  }
  const least = decision("variable_change_least");
  const [widest] = [...Map.groupBy(numbers, ({ object }) => object)].map(([object, some]) => {
    const order = some.toSorted((a, b) => a.value.value - b.value.value);
    const [top, low] = [order[0]?.value, order.at(-1)?.value];
    const change = (low?.value ?? 0) - (top?.value ?? 0);
    return { object, nights: some.length, change, u: Math.hypot(low?.u ?? 0, top?.u ?? 0) };
  }).sort((a, b) => b.change - a.change);
  const { object = "", nights: count = 0, change = 0, u = 0 } = widest ?? {};
  const asked = `Did it change by more than ${least} magnitude, and by more than twice the doubt?`;
  if (count < 2) {
    return {
      ...base,
      says: `${object}: ${
        numbers.map(({ value }) => `${fixed(value.value, 2)} ± ${fixed(value.u, 2)}`).join(", ")
      } magnitude, in one night.`,
      decided: {
        asked,
        answer: "not shown",
        then: "Estimate it on another clear night, against the same neighbours.",
      },
    };
  }
  const changed = change > least && change > 2 * u;
  return {
    ...base,
    short: `${object} changed by ${fixed(change, 1)} ± ${fixed(u, 1)} magnitude`,
    says: `${object} changed by ${fixed(change, 2)} ± ${
      fixed(u, 2)
    } magnitude between its brightest and its faintest of ${count} nights.`,
    decided: {
      asked,
      answer: changed ? "yes" : "not shown",
      then: changed
        ? "It changes, and you saw it: go on, three estimates each clear night; then send them to those who collect them."
        : "Go on, three estimates each clear night: some stars take weeks.",
    },
  };
}

/** Of one look at a star's width, in gaps of the pair it is laid against. COMMON PRACTICE: half a tenth */
const WIDTH_U = 0.05;

function images(rows: readonly ObservationRow[]): Observed {
  const widths = rows.map((row) => {
    const { line, object, event, tenths = NaN, gap = gapOf(object) ?? NaN, warmer } = row;
    const all = { line, object, event, tenths, gap, warmer, recalled: recalledU(row) };
    return { ...all, width: (gap * tenths) / 10 };
  });
  const base = {
    project: "star image" as const,
    title: TITLES["star image"],
    heads: ["Beside the pair", "When", "Tenths of the gap", "Wide (″)"],
    rows: widths.map(({ line, object, event, tenths, width, warmer, recalled, gap }) => ({
      line,
      cells: [
        recalled > 0 ? `${object}, ${fixed(gap, 1)}″ apart from memory` : object,
        warmer === undefined ? event ?? "" : `${event}, ${fixed(warmer)} °C over the air`,
        fixed(tenths, 1),
        fixed(width, 1),
      ],
    })),
  };
  const at = (event: ObservationRow["event"]): Measured | undefined => {
    const some = widths.filter((one) => one.event === event);
    if (some.length === 0) return undefined;
    const each = WIDTH_U * mean(some.map(({ gap }) => gap));
    return byEye(some.map(({ width }) => width), each, "″");
  };
  const before = at("before cooling"), after = at("after cooling");
  if (before === undefined || after === undefined) {
    const says = `Only ${
      before === undefined ? "after" : "before"
    } cooling: look at the same star once more.`;
    return { ...base, numbers: [], says };
  }
  const less = before.value - after.value, u = Math.hypot(before.u, after.u);
  // a gap from memory stretches all widths alike: it is in their doubt, and not in whether one is less
  const share = Math.max(...widths.map(({ recalled }) => recalled));
  const stretched = ({ value, u }: Measured): Measured =>
    measured(value, Math.hypot(u, share * value), "″");
  const answer = less > 2 * u ? "yes" : less < -2 * u ? "no" : "not shown";
  return {
    ...base,
    numbers: [
      { name: "Star’s width before cooling", value: stretched(before) },
      { name: "after it", value: stretched(after) },
      { name: "less by", value: stretched(measured(less, u, "″")) },
    ],
    short: `a star ${fixed(less, 1)} ± ${fixed(u, 1)}″ narrower once the mirror was cool`,
    says: `Before cooling the star looked ${fixed(before.value, 1)}″ wide, afterwards ${
      fixed(after.value, 1)
    }″: less by ${fixed(less, 1)} ± ${fixed(u, 1)}″.`,
    decided: {
      asked: "Did it shrink by more than twice the doubt?",
      answer,
      then: {
        "yes": "Warm glass was the fault. Carry the tube out that much earlier each time.",
        "no": "It grew: the air, dew or the screws. Look again tomorrow.",
        "not shown":
          "Warm glass was not the largest fault that night: the air was, or the screws. Three looks more, on a still night.",
      }[answer],
    },
  };
}

/**
 * Every project of a record that has a row in observations.csv, in the order in which a telescope is learnt.
 *
 * @param record  as it was read
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "./open.ts";
 * const [first] = await observed((await openRecord()).demo.record);
 * assert.equal(first?.decided?.answer, "yes");
 * ```
 */
export async function observed(record: MirrorRecord): Promise<readonly Observed[]> {
  const site = siteOf(record), found: Observed[] = [];
  const needsSite = async (
    project: Project,
    rows: readonly ObservationRow[],
    reduce: (rows: readonly ObservationRow[], site: Site) => Promise<Observed>,
  ): Promise<Observed> => {
    if (site !== undefined) return await reduce(rows, site);
    const told = rows.map((row) => ({ line: row.line, cells: [row.object, dateOf(row)] }));
    const heads = ["Seen", "Clock"];
    return { project, title: TITLES[project], heads, rows: told, numbers: [], says: NO_SITE };
  };
  for (const project of PROJECTS) {
    const all = record.observations.filter(({ what }) => what === project);
    const rows = all.slice(-MOST_ROWS);
    if (rows.length === 0) continue;
    const keep = (one: Observed): void => {
      const left = `${one.says} Only the latest ${MOST_ROWS} of ${all.length} rows are worked out.`;
      found.push(all.length > MOST_ROWS ? { ...one, says: left } : one);
    };
    if (project === "double star") keep(doubles(rows, record.settings.aperture));
    else if (project === "star image") keep(images(rows));
    else {
      const reduce = {
        "moon of jupiter": jupiter,
        "moon shadow": shadows,
        "variable star": variable,
        "occultation": occulted,
      }[project];
      keep(await needsSite(project, rows, reduce));
    }
  }
  return found;
}

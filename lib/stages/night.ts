/** The stage of the sky, its projects: what is coming, what was seen, the number it came to, and the decision. */
import { note, notYet, readingsTable, type TableRow } from "../figures/blocks.ts";
import { demo as demoBlock, yours as yoursBlock } from "../figures/blocks.ts";
import { safe } from "../figures/html.ts";
import { type Shown, together } from "../figures/show.ts";
import { type Observed, observed, type Project } from "../knowledge/observed.ts";
import type { Mirror } from "../knowledge/open.ts";
import { moonFeatures, occultedStars } from "../record/tables.ts";
import { jupiterShadows } from "../sky/jupiterShadow.ts";
import { clockAt, dayAt } from "../sky/localTime.ts";
import { sunAtFoot, sunOverMoon } from "../sky/moonShadow.ts";
import { occultations } from "../sky/occultation.ts";
import { type Place, tonight } from "../sky/tonight.ts";
import { countOf } from "./base.ts";

const RAD = Math.PI / 180;
/** A day that stays on one line. */
const unbroken = (day: string): string => day.replaceAll("-", "\u2011");
const fixed = (value: number, digits = 0): string => value.toFixed(digits).replace("-", "−");

/** What to write, and where, for whoever has no row yet. */
const HOW: Readonly<Record<Project, string>> = {
  "moon of jupiter":
    "Write date, time, moon of jupiter, the moon’s name, and vanishes or appears. Three timings make a number.",
  "double star": "Write date, double star, the pair’s name, right and tries: a row for each pair.",
  "moon shadow":
    "Write date, time, moon shadow, the crater’s name, and the shadow’s length in tenths of the crater’s width. Three looks.",
  "variable star":
    "Write date, time, variable star, its name, tenths, and brighter and fainter: the magnitudes of its neighbours. Three looks a night.",
  "occultation":
    "Write date, time to the second, occultation, the star’s name, and vanishes or appears.",
  "star image":
    "Write date, star image, the pair’s name, before cooling or after cooling, and tenths: three looks before, three after.",
};

function outcome({ title, heads, rows, says, decided }: Observed): Shown[] {
  const told: TableRow[] = rows.map(({ cells, setAside }) => ({
    cells: heads.map((_, i) => cells[i]?.replace(/^\d{4}-\d\d-\d\d/, unbroken)),
    ...(setAside === undefined ? {} : { setAside }),
  }));
  const answers = { yes: "Yes.", no: "No.", "not shown": "Not shown." };
  return [
    readingsTable(title, heads.map((head) => ({ title: head, text: true })), told),
    note(says),
    ...(decided === undefined ? [] : [
      note(
        safe`<b>Decided beforehand:</b> ${decided.asked} <b>${
          answers[decided.answer]
        }</b> ${decided.then}`,
      ),
    ]),
  ];
}

/**
 * A project of the nights: the reader's rows and what they came to; where there are none, how to take them, and the demo's.
 *
 * @param project  as observations.csv names it
 */
export async function yourProject(yours: Mirror, demo: Mirror, project: Project): Promise<Shown> {
  const of = async ({ record }: Mirror): Promise<Observed | undefined> =>
    (await observed(record)).find((one) => one.project === project);
  const own = await of(yours);
  if (own !== undefined) {
    const whose = `${yours.summary.title} · ${project}, ${countOf(own.rows.length, "row")}`;
    return yoursBlock(whose, ...outcome(own));
  }
  const missing = notYet(project, `${HOW[project]} All in observations.csv.`);
  const example = await of(demo);
  return example === undefined
    ? missing
    : together(missing, demoBlock(demo.summary.title, ...outcome(example)));
}

/** Stages of a telescope that has seen the sky. */
const SEEN: readonly string[] = ["first light", "care"];

/** What was only looked at, in the order of the file; the demo's where the reader has nothing yet. */
export function yourLooks(yours: Mirror, demo: Mirror): Shown {
  const table = ({ record, summary }: Mirror): Shown[] => {
    const rows = record.observations.filter(({ what }) => what === "seen");
    const acts = SEEN.includes(summary.nextStep.stage) ? [] : [
      note(
        "diary.csv does not say that the mirror is coated, mounted and aligned: so the next step on top still asks for it. Write it there.",
      ),
    ];
    return rows.length === 0 ? [] : [
      readingsTable(
        "Seen",
        [
          { title: "Day", text: true },
          { title: "Clock", text: true },
          { title: "What", text: true },
          { title: "Eyepiece", unit: "mm" },
          { title: "Air, 1 to 5" },
          { title: "Note", text: true },
        ],
        rows.map(({ date, time, object, eyepiece, air, note: words }) => ({
          cells: [unbroken(date), time, object, eyepiece, air, words],
        })),
      ),
      ...acts,
    ];
  };
  const own = table(yours);
  if (own.length > 0) return yoursBlock(`${yours.summary.title} · seen`, ...own);
  const how =
    "Write a row for each thing seen into observations.csv: date, time, seen, its name, eyepiece, the air from 1 to 5.";
  return together(notYet("nights", how), demoBlock(demo.summary.title, ...table(demo)));
}

const DAY = 86_400_000;
/** The Sun's middle below the horizon, and Jupiter or the Moon above it, where a timing can be made. COMMON PRACTICE */
const DARK = -6 * RAD, HIGH = 10 * RAD;

/**
 * Moons of Jupiter that go into the planet's shadow or come out, in the coming nights, where it is dark and the planet is up.
 *
 * @param place  of the telescope
 * @param zone   of its clock
 * @param from   the first moment
 * @param days   1 to 40
 */
export async function moonsComing(
  place: Place,
  zone: string,
  from: Date,
  days: number,
): Promise<Shown> {
  const rows: TableRow[] = [];
  for (const event of await jupiterShadows(from, new Date(from.getTime() + days * DAY))) {
    if (event.side === "hidden") continue;
    const { sunAltitude, planets } = await tonight(place, event.half);
    const jupiter = planets.find(({ name }) => name === "Jupiter");
    if (sunAltitude > DARK || (jupiter?.altitude ?? 0) < HIGH) continue;
    const { half, dark, moon, side, radii } = event;
    const [first, last] = half < dark ? [half, dark] : [dark, half];
    rows.push({
      cells: [
        unbroken(dayAt(half, zone)),
        `${clockAt(first, zone)} to ${clockAt(last, zone)}`,
        `${moon} ${event.event}`,
        `${fixed(radii, 1)} radii ${side}`,
        fixed((jupiter?.altitude ?? 0) / RAD),
      ],
    });
  }
  if (rows.length === 0) return note(`None in ${days} days from here while it is dark.`);
  return together(
    readingsTable("In Jupiter’s shadow", [
      { title: "Day", text: true },
      { title: "Clock", text: true },
      { title: "Which", text: true },
      { title: "Beside Jupiter", text: true },
      { title: "Jupiter up", unit: "°" },
    ], rows),
    note("The first time: half of the moon is dark. The second: all of it. Your eye lies between."),
  );
}

/** Stars that the Moon covers or gives back in the coming nights, where it is dark. */
export async function starsCovered(
  place: Place,
  zone: string,
  from: Date,
  days: number,
): Promise<Shown> {
  const rows: { readonly at: number; readonly cells: readonly string[] }[] = [];
  for (const star of occultedStars()) {
    for (let day = 0; day < days; day++) {
      const about = new Date(from.getTime() + (day + 0.5) * DAY);
      for (const one of await occultations(star, place, about, 12)) {
        const { moment, event, darkSide, altitude, sunUp, u } = one;
        if (sunUp || altitude < 5 * RAD) continue;
        rows.push({
          at: moment.getTime(),
          cells: [
            unbroken(dayAt(moment, zone)),
            `${clockAt(moment, zone)} ± ${fixed(u)} s`,
            `${star.name} ${event}`,
            darkSide ? "dark: to be seen" : "bright: hard",
            fixed(altitude / RAD),
          ],
        });
      }
    }
  }
  if (rows.length === 0) {
    return note(
      `None of the bright stars of data/tables/occulted_stars.csv in ${days} days from here. Fainter ones are covered nearly every night that the Moon is up.`,
    );
  }
  return readingsTable("Behind the Moon", [
    { title: "Day", text: true },
    { title: "Clock", text: true },
    { title: "Star", text: true },
    { title: "Moon’s side", text: true },
    { title: "Moon up", unit: "°" },
  ], rows.sort((a, b) => a.at - b.at));
}

/** Sun's height over a crater, degrees, between which its rim's shadow can be measured well. COMMON PRACTICE */
const LOW_SUN = 4, HIGH_SUN = 20;

/** Where on the Moon shadows are long enough, and end in sunlight, at a moment. */
export async function shadowsOnMoon(moment: Date, zone: string): Promise<Shown> {
  const sun = await sunOverMoon(moment);
  const rows = moonFeatures().map((feature) => {
    const { kind, widthKm, latitudeDeg, longitudeDeg } = feature;
    const place = { latitude: latitudeDeg * RAD, longitude: longitudeDeg * RAD };
    return { ...feature, sun: sunAtFoot({ place, widthKm, rim: kind === "rim" }, sun) / RAD };
  }).filter((one) => one.sun > LOW_SUN && one.sun < HIGH_SUN).sort((a, b) => a.sun - b.sun);
  const when = `${dayAt(moment, zone)}, ${clockAt(moment, zone)}`;
  if (rows.length === 0) {
    return note(
      `${when}: over no crater of data/tables/moon_features.csv does the Sun stand 4 to 20° high.`,
    );
  }
  return together(
    readingsTable(
      "Long shadows",
      [
        { title: "Crater or mountain", text: true },
        { title: "Sun there", unit: "°" },
        { title: "Measured by a width of", unit: "km" },
      ],
      rows.map(({ name, sun: height, widthKm }) => ({ cells: [name, fixed(height, 1), widthKm] })),
    ),
    note(`${when}. The lower the Sun there, the longer the shadow.`),
  );
}

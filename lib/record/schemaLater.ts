/** Columns of the tables that come late in a mirror's life: the zone test in both its forms, and the diary. */
import { type Column, column, type Kind, length, LONGEST } from "./column.ts";

/** A direction on the glass or of the knife: a full turn, in rad. */
const TURN: Kind = { kind: "measure", dimension: "angle", least: 0, most: 2 * Math.PI };
const ORDER: Kind = { kind: "choice", choices: ["outward", "inward"] };
const READING = length(-LONGEST);

const RUN = column("run", { kind: "text" }, "a name for one pass over all zones", "1", true);

/** How the mirror stood and how it was read; the same in both forms. */
const SEAT: readonly Column[] = [
  column(
    "angle",
    TURN,
    "where the mirror's mark stood, counter-clockwise from the top, seen from the front; 0 where empty",
    "45",
  ),
  column(
    "knife",
    TURN,
    "the knife's edge and the slit's, counter-clockwise from the vertical; 0 where empty",
    "90",
  ),
  column(
    "order",
    ORDER,
    "which way the zones were read; else as the rows stand",
    "outward",
  ),
];

/** `zones.csv`, one row for each opening. */
export const ZONES: readonly Column[] = [
  RUN,
  column("inner", length(0), "inner edge of the mask's opening, from the centre", "30", true),
  column("outer", length(0), "its outer edge, from the centre", "45", true),
  column(
    "reading",
    READING,
    "knife along the axis, larger is farther from the mirror, zero anywhere",
    "12.34",
    true,
  ),
  ...SEAT,
];

/**
 * `zones.csv`, one row for each run, where mirror.yaml tells the mask: `zone_1_mm` and on, from the centre outward.
 *
 * @param zones  which openings have a column
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const names = wideZones([1, 2]).map(({ name }) => name);
 * assert.deepEqual(names, ["run", "angle", "knife", "order", "zone_1", "zone_2", "first_again"]);
 * ```
 */
export function wideZones(zones: readonly number[]): readonly Column[] {
  return [
    RUN,
    ...SEAT,
    ...zones.map((zone) => column(`zone_${zone}`, READING, "knife in this opening", "12.34")),
    column("first_again", READING, "the zone read first, read again at the run's end", "12.35"),
  ];
}

/** What the diary may tell: acts first, then sights. */
export const DIARY_WORDS = [
  "lap poured",
  "lap pressed",
  "charge spent",
  "bevel renewed",
  "edge turned",
  "washed",
  "sent to be coated",
  "coated",
  "mounted",
  "aligned",
  "star seen",
  "pits",
  "no pits",
  "scratch",
  "chip",
] as const;

/** `diary.csv`: acts and sights that are no readings. */
export const ACTS: readonly Column[] = [
  column("date", { kind: "date" }, "the day, year first", "2026-05-30", true),
  column(
    "what",
    { kind: "choice", choices: DIARY_WORDS },
    "what was done or seen",
    "no pits",
    true,
  ),
  column("where", length(0), "how far from the centre", "70"),
  column(
    "amount",
    { kind: "number", least: 0, most: 1e6 },
    "pits in a marked field of 1 cm2; mm of a scratch; minutes of pressing",
    "0",
  ),
];

/** Every table's columns as data: what the reader accepts, what the guide prints, what a refusal suggests. */
import { type Column, column, type Kind, length } from "./column.ts";
import { ACTS, ZONES } from "./schemaLater.ts";

export type { Column, Kind } from "./column.ts";

export const TABLES = [
  "grinding",
  "sagitta",
  "spherometer",
  "sun",
  "zones",
  "ronchi",
  "diary",
] as const;
export type TableName = typeof TABLES[number];

const DAY = 24 * 60;

/** Columns that any table may have. */
export const COMMON: readonly Column[] = [
  column("date", { kind: "date" }, "the day of the reading, year first", "2026-04-18"),
  column(
    "after",
    { kind: "measure", dimension: "time", least: 0, most: 1000 * DAY },
    "minutes of grinding so far, so that a reading can be laid against the log",
    "120",
  ),
  column("note", { kind: "text" }, "anything worth telling", "wet, read twice"),
];

const POSITION: Kind = { kind: "choice", choices: ["mirror on top", "tool on top"] };
const SURFACE: Kind = { kind: "choice", choices: ["flat", "mirror"] };

/** The columns of each table, besides the common ones. */
export const SCHEMA: Readonly<Record<TableName, readonly Column[]>> = {
  grinding: [
    column("abrasive", { kind: "abrasive" }, "a row of data/tables/abrasives.csv", "F80", true),
    column(
      "position",
      POSITION,
      "which disc lies on top: `mirror on top` or `tool on top`",
      "mirror on top",
      true,
    ),
    column(
      "minutes",
      { kind: "number", least: 0, most: DAY },
      "how long this stretch lasted, minutes",
      "20",
      true,
    ),
    column(
      "strokes",
      { kind: "number", least: 0, most: 1e6 },
      "strokes in it, there and back counting one",
      "800",
    ),
  ],
  sagitta: [
    column(
      "go",
      { kind: "leaves", most: 100 },
      "leaves that pass together under the straight-edge",
      "0.88+0.25",
    ),
    column(
      "nogo",
      { kind: "leaves", most: 100 },
      "the next stack, which does not pass",
      "0.85+0.30",
    ),
    column("depth", length(0, 1000), "a depth gauge's reading, where no leaves are used", "1.135"),
    column(
      "chord",
      length(0.1),
      "where the straight-edge rests, if not just inside both bevels",
      "148",
    ),
    column(
      "angle",
      { kind: "measure", dimension: "angle", least: -7, most: 7 },
      "which diameter was read, from the mark on the disc",
      "120",
    ),
  ],
  spherometer: [
    column(
      "surface",
      SURFACE,
      "`flat` for the zero on flat glass, `mirror` for the mirror",
      "mirror",
      true,
    ),
    column("dial", length(-1000, 1000), "what the dial shows", "5.523", true),
  ],
  sun: [
    column(
      "distance",
      length(0),
      "centre of the mirror's face to the Sun's sharpest image",
      "1199",
    ),
    column("image", length(0, 10_000), "diameter of that image", "11.1"),
  ],
  zones: ZONES,
  ronchi: [
    column("photo", { kind: "text" }, "a file in photos/", "inside-5mm.jpg", true),
    column("lines_per", { kind: "per length", least: 0.1, most: 200 }, "the grating", "4", true),
    column(
      "offset",
      length(-1000, 1000),
      "grating from the centre of curvature, + is farther from the mirror",
      "-5",
      true,
    ),
    column("offset_u", length(0, 1000), "how well that is known, standard uncertainty", "0.5"),
    column(
      "gamma",
      { kind: "number", least: 0.1, most: 10 },
      "the camera's gamma, if known",
      "2.2",
    ),
    column(
      "disc_x_px",
      { kind: "number", least: -1e5, most: 1e5 },
      "middle of the disc, pixels from the left, where it is not found by itself; the three together",
      "2010",
    ),
    column(
      "disc_y_px",
      { kind: "number", least: -1e5, most: 1e5 },
      "middle of the disc, pixels from the top",
      "1490",
    ),
    column(
      "disc_radius_px",
      { kind: "number", least: 10, most: 1e5 },
      "half its width, pixels of the upright picture",
      "1180",
    ),
  ],
  diary: ACTS,
};

/**
 * All columns of a table, its own first, then those that any table may have.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(columnsOf("sun").map(({ name }) => name), ["distance", "image", "date", "after", "note"]);
 * ```
 */
export function columnsOf(table: TableName): readonly Column[] {
  return withCommon(SCHEMA[table]);
}

/** A table's own columns and those that any table may have, each once. */
export function withCommon(own: readonly Column[]): readonly Column[] {
  return [...own, ...COMMON.filter(({ name }) => !own.some((column) => column.name === name))];
}

/**
 * A column's header with its usual unit.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(columnsOf("sun").map(usualHeader), ["distance_mm", "image_mm", "date", "after_min", "note"]);
 * ```
 */
export function usualHeader({ name, kind }: Column): string {
  if (kind.kind === "per length" || kind.kind === "leaves") return `${name}_mm`;
  if (kind.kind !== "measure") return name;
  return `${name}_${{ length: "mm", angle: "deg", time: "min", mass: "g" }[kind.dimension]}`;
}

/** zones.csv in its two forms: one row for each opening, or one row for each run through the mask of mirror.yaml. */
import type { Values } from "./cells.ts";
import type { Column } from "./column.ts";
import type { CsvTable } from "./csv.ts";
import { type Findings, shown } from "./errors.ts";
import { mm } from "./readings.ts";
import { base, type Bench } from "./rows.ts";
import { withCommon } from "./schema.ts";
import { wideZones, ZONES } from "./schemaLater.ts";
import type { Settings, ZoneRow } from "./types.ts";

const WIDE = /^(zone_?\d+|first_again)(_|$)/i;
const LONG = /^(inner|outer|reading)(_|$)/i;

/**
 * The columns that a zones.csv may have, by the form its header is in.
 *
 * @param mask  openings of mirror.yaml; "refused" where it has some that were not understood
 * @returns nothing where no form can be told, with a refusal that says why
 */
export function zoneColumns(
  csv: CsvTable,
  mask: Settings["mask"] | "refused",
  findings: Findings,
): readonly Column[] | undefined {
  const { line, cells } = csv.header;
  const wide = cells.filter((header) => WIDE.test(header)), [first] = wide;
  if (first === undefined) return withCommon(ZONES);
  const place = (column: string): { file: string; line: number; column: string } => ({
    file: csv.file,
    line,
    column,
  });
  const long = cells.find((header) => LONG.test(header));
  if (long !== undefined) {
    const wanted = "one row for each opening, or one row for each run";
    const mend = "keep inner, outer and reading, or the columns zone_1 and on";
    findings.refuse(place(first), `${shown(first)} beside ${shown(long)}`, wanted, mend);
    return undefined;
  }
  if (mask === "refused") return undefined;
  if (mask === undefined) {
    const wanted = "the mask in mirror.yaml, for a table with one row for each run";
    const mend = "write its edges there, such as mask: [0 mm, 30 mm, 45 mm]";
    findings.refuse(place(first), `column ${shown(first)}`, wanted, mend);
    return undefined;
  }
  const zones = wide.flatMap((header) => numberOf(header) ?? []);
  for (const header of wide) {
    const zone = numberOf(header);
    if (zone === undefined || (zone >= 1 && zone <= mask.length)) continue;
    const wanted =
      `zone_1 to zone_${mask.length}, for the mask in mirror.yaml has ${mask.length} openings`;
    findings.refuse(
      place(header),
      `column ${shown(header)}`,
      wanted,
      "take it out, or write its opening into the mask",
    );
  }
  if (zones.length === 0) {
    findings.refuse(
      place("zone_1_mm"),
      "no such column",
      "zone_1_mm and on, the knife in each opening",
      "add them to the header and to each row",
    );
  }
  return withCommon(wideZones([...new Set(zones)]));
}

function numberOf(header: string): number | undefined {
  const digits = /^zone_?(\d+)/i.exec(header)?.[1];
  return digits === undefined ? undefined : Number(digits);
}

/** One row of zones.csv, in either form, as readings; of a whole run from the centre outward, what was read again last. */
export function zoneRows(values: Values, bench: Bench): readonly ZoneRow[] {
  if ([...values.headers.keys()].some((name) => name.startsWith("zone_"))) {
    return wideRow(values, bench);
  }
  const row = longRow(values, bench);
  return row === undefined ? [] : [row];
}

function seatOf(values: Values): Pick<ZoneRow, "angleDeg" | "knifeDeg" | "order"> {
  const angleDeg = degrees(values.numbers.get("angle"));
  const knifeDeg = degrees(values.numbers.get("knife"));
  const order = values.texts.get("order");
  return {
    ...(angleDeg === undefined ? {} : { angleDeg }),
    ...(knifeDeg === undefined ? {} : { knifeDeg }),
    ...(order === "outward" || order === "inward" ? { order } : {}),
  };
}

/** rad to degrees below a full turn, without the last digits that the conversion left. */
function degrees(rad: number | undefined): number | undefined {
  return rad === undefined ? undefined : Number((rad * 180 / Math.PI).toPrecision(12)) % 360;
}

/** One knife reading in one opening of the mask: a row of the long form. */
function longRow(values: Values, { file, settings, findings }: Bench): ZoneRow | undefined {
  const run = values.texts.get("run");
  const inner = values.numbers.get("inner");
  const outer = values.numbers.get("outer");
  const reading = values.numbers.get("reading");
  const column = values.headers.get("outer") ?? "outer_mm";
  const place = { file, line: values.line, column };
  const edge = settings.aperture / 2;
  if (inner !== undefined && outer !== undefined && inner >= outer) {
    const wanted = `more than the inner edge of ${mm(inner)}`;
    findings.refuse(
      place,
      mm(outer),
      wanted,
      "give the edges from the centre outward; are they swapped?",
    );
  } else if (outer !== undefined && outer > edge + 1e-6) {
    const meant = outer <= settings.aperture + 1e-6
      ? "edges are radii, not diameters"
      : "look at the digits and the unit";
    findings.refuse(
      place,
      mm(outer),
      `an opening inside the edge at ${mm(edge)} from the centre`,
      meant,
    );
  }
  if (run === undefined || inner === undefined || outer === undefined || reading === undefined) {
    return undefined;
  }
  return { ...base(values, file), run, inner, outer, reading, ...seatOf(values) };
}

/** A whole run in one row. Empty cells are zones that were not read. */
function wideRow(values: Values, { file, settings, findings }: Bench): readonly ZoneRow[] {
  const run = values.texts.get("run");
  if (run === undefined) return [];
  const read = (settings.mask ?? []).flatMap((opening, index) => {
    const reading = values.numbers.get(`zone_${index + 1}`);
    return reading === undefined ? [] : [{ ...opening, reading }];
  });
  const seat = seatOf(values);
  const first = read.at(seat.order === "inward" ? -1 : 0);
  if (first === undefined) {
    const column = values.headers.get("zone_1") ?? "zone_1_mm";
    const mend = "write the readings, or take the row out";
    findings.refuse(
      { file, line: values.line, column },
      "nothing",
      "a reading in one zone at least",
      mend,
    );
    return [];
  }
  const again = values.numbers.get("first_again");
  const rows = again === undefined ? read : [...read, { ...first, reading: again }];
  return rows.map((row) => ({ ...base(values, file), run, ...row, ...seat }));
}

/**
 * The rows of one run in the order in which they were read: as they stand, or by their `order`.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const row = { file: "zones.csv", line: 2, run: "1", order: "inward" } as const;
 * const rows = [[0, 30], [30, 45], [30, 45]].map(([inner = 0, outer = 0], reading) => ({ ...row, inner, outer, reading }));
 * assert.deepEqual(inOrderRead(rows).map(({ reading }) => reading), [1, 0, 2]); // the last is the first, read again
 * ```
 */
export function inOrderRead(rows: readonly ZoneRow[]): readonly ZoneRow[] {
  const order = rows.find((row) => row.order !== undefined)?.order, last = rows.at(-1);
  if (order === undefined || last === undefined) return rows;
  const before = rows.slice(0, -1);
  const isAgain = before.some(({ inner, outer }) => inner === last.inner && outer === last.outer);
  const sign = order === "inward" ? -1 : 1;
  const once = [...(isAgain ? before : rows)].sort((a, b) =>
    sign * (a.inner + a.outer - b.inner - b.outer)
  );
  return isAgain ? [...once, last] : once;
}

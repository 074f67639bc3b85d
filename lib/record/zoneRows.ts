/** zones.csv in its two forms: one row for each opening, or one row for each run through the mask of mirror.yaml. */
import type { Values } from "./cells.ts";
import type { CsvTable } from "./csv.ts";
import { type Findings, shown } from "./errors.ts";
import { type Bench, placeIn, readRow, rowOf } from "./rows.ts";
import { type Column, columnsOf, wideZones } from "./schema.ts";
import type { Settings } from "./settings.ts";
import type { ZoneRow } from "./types.ts";

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
  if (first === undefined) return columnsOf("zones");
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
  return wideZones([...new Set(zones)]);
}

function numberOf(header: string): number | undefined {
  const digits = /^zone_?(\d+)/i.exec(header)?.[1];
  return digits === undefined ? undefined : Number(digits);
}

/** One row of zones.csv, in either form, as readings; of a whole run from the centre outward, what was read again last. */
export function zoneRows(values: Values, bench: Bench): readonly ZoneRow[] {
  const isWide = [...values.headers.keys()].some((field) => field.startsWith("zone_"));
  return isWide ? wideRow(values, bench) : [readRow("zones", values, bench)];
}

/** A whole run in one row. Empty cells are zones that were not read. */
function wideRow(values: Values, { file, settings, findings }: Bench): readonly ZoneRow[] {
  const run = rowOf("zones", values, file);
  const read = (settings.mask ?? []).flatMap((opening, index) => {
    const reading = values.get(`zone_${index + 1}`);
    return typeof reading === "number" ? [{ ...run, ...opening, reading }] : [];
  });
  const first = read.at(run.order === "inward" ? -1 : 0);
  if (first === undefined) {
    const place = placeIn(values, file)("zone_1");
    const mend = "write the readings, or take the row out";
    findings.refuse(place, "nothing", "a reading in one zone at least", mend);
    return [];
  }
  const again = values.get("first_again");
  return typeof again === "number" ? [...read, { ...first, reading: again }] : read;
}

/** A table's first row: which column is which, and in what unit. */
import { clean } from "./clean.ts";
import type { CsvTable } from "./csv.ts";
import { type Findings, shown } from "./errors.ts";
import { suggestion } from "./nearest.ts";
import { type Column, dimensionOf, usualHeader } from "./schema.ts";
import { unitFactor } from "./written.ts";

/** A column found in a file: cells times `factor` are in the kit's units. */
export interface FoundColumn {
  readonly column: Column;
  /** as the file spells it */
  readonly header: string;
  readonly index: number;
  readonly factor: number;
}

/**
 * Matches a header with the columns a table may have.
 *
 * @param columns   those that the table may have
 * @param csv       the file's cells
 * @param findings  refusals: unknown, doubled or missing columns, a length without its unit
 * @returns the columns that were understood, in the file's order
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { splitTable } from "./csv.ts";
 * import { Findings } from "./errors.ts";
 * import { columnsOf } from "./schema.ts";
 * const findings = new Findings();
 * const csv = splitTable("distance_in\n47.2\n", "sun.csv", findings);
 * assert.equal(csv && matchHeader(columnsOf("sun"), csv, findings)[0]?.factor, 25.4);
 * ```
 */
export function matchHeader(
  columns: readonly Column[],
  csv: CsvTable,
  findings: Findings,
): FoundColumn[] {
  const found: FoundColumn[] = [];
  csv.header.cells.forEach((header, index) => {
    const place = { file: csv.file, line: csv.header.line, column: clean(header) || index + 1 };
    const match = matchColumn(header, columns);
    if (typeof match === "string") {
      findings.refuse(place, `column ${shown(header)}`, match, mendHeader(header, columns));
      return;
    }
    const twin = found.find(({ column }) => column === match.column);
    if (twin !== undefined) {
      const wanted = `each column once (column ${twin.index + 1} is ${shown(twin.header)})`;
      findings.refuse(place, `column ${shown(header)} again`, wanted, "take one of them out");
      return;
    }
    found.push({ ...match, header: clean(header), index });
  });
  for (const column of columns) {
    if (!column.required || found.some((one) => one.column === column)) continue;
    // A misspelt column is told once, as itself.
    if (csv.header.cells.some((header) => mendHeader(header, [column]).startsWith("did"))) continue;
    const name = usualHeader(column);
    const place = { file: csv.file, line: csv.header.line, column: name };
    findings.refuse(
      place,
      "no such column",
      `${name}, ${column.meaning}`,
      "add it to the header and to each row",
    );
  }
  return found;
}

/**
 * One heading among the columns a table may have.
 *
 * @param header   as it is spelt
 * @param columns  those that the table may have
 * @returns the column, and what a cell is multiplied by to be in the kit's unit; in words what was wanted, where it is none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { columnsOf } from "./schema.ts";
 * const found = matchColumn("distance_in", columnsOf("sun"));
 * assert.equal(typeof found === "string" ? found : found.factor, 25.4);
 * ```
 */
export function matchColumn(
  header: string,
  columns: readonly Column[],
): { column: Column; factor: number } | string {
  const typed = header.trim();
  const lower = typed.toLowerCase();
  // Longest name first, so that `offset_u_mm` is not read as an offset in the unit "u_mm".
  for (const column of [...columns].sort((x, y) => y.name.length - x.name.length)) {
    const dimension = dimensionOf(column);
    if (lower === column.name) {
      return dimension === undefined ? { column, factor: 1 } : `a name with its unit`;
    }
    if (dimension === undefined || !lower.startsWith(`${column.name}_`)) continue;
    const unit = typed.slice(column.name.length + 1);
    const factor = unitFactor(unit, dimension) ?? unitFactor(unit.toLowerCase(), dimension);
    if (factor !== undefined) {
      return { column, factor: column.kind === "per length" ? 1 / factor : factor };
    }
    if (!columns.some(({ name }) => name !== column.name && lower.startsWith(`${name}_`))) {
      return `${column.name}_ and a unit of ${dimension}`;
    }
  }
  return "a column of this table";
}

/** How a heading that is no column is mended: the nearest known one, or its unit. */
export function mendHeader(header: string, columns: readonly Column[]): string {
  const bare = columns.find(({ name }) =>
    name === header.toLowerCase() || header.toLowerCase().startsWith(`${name}_`)
  );
  if (bare === undefined || dimensionOf(bare) === undefined) {
    return suggestion(header, columns.map(usualHeader));
  }
  const others = { length: "in", angle: "rad", time: "h", mass: "kg" };
  const other = `${bare.name}_${others[dimensionOf(bare) ?? "length"]}`;
  return `did you mean ${usualHeader(bare)} or ${other}?`;
}

/** A class as a Parquet file: one row for each folder, every quantity a column, for whoever has a thousand classes. */
import { frameMaker } from "../record/polars.ts";
import type { Series } from "nodejs-polars";
import { KIT_VERSION } from "../version.ts";
import type { ClassNow } from "./classLines.ts";
import type { ClassOfRecords } from "./classOfRecords.ts";
import type { ClassRow } from "./classRow.ts";
import { classColumns } from "./classFrame.ts";
import { QUANTITIES } from "./quantities.ts";

/** A quantity's name as a column: its title in small letters, words joined by underscores. */
function columnOf(title: string): string {
  return title.toLowerCase().replace(/[^a-z0-9]+/g, "_").replace(/^_|_$/g, "");
}

/**
 * The file's bytes.
 *
 * Columns of every file: `class, title, today, kit_version, folder, name, state, why, stage, next_step, rank, reason`, the
 * class's own (`sagitta_mm`, `f_mm` ...), and for each quantity that is told `quantity_NAME`, `quantity_NAME_u` and
 * `quantity_NAME_unit`. What is not known is null. The columns are the same in every class, so that many files are read
 * as one table.
 *
 * @param many  the class
 * @param now   the same in the leader's order
 */
export async function classParquet(
  many: ClassOfRecords,
  now: ClassNow,
): Promise<Uint8Array<ArrayBuffer>> {
  const pl = await frameMaker();
  const rows = new Map<string, ClassRow>([
    ...many.rows.map((row) => [row.record, row] as const),
    ...many.unreadable.flatMap(({ record, rest }) =>
      rest === undefined ? [] : [[record, rest] as const]
    ),
  ]);
  const { compare } = new Intl.Collator("en", { numeric: true });
  const lines = now.benches.toSorted((a, b) => compare(a.folder, b.folder));
  const own = lines.map(({ folder }) => rows.get(folder));
  const text = (name: string, of: (at: number) => string | undefined): Series =>
    pl.Series(name, lines.map((_, at) => of(at) ?? null), pl.Utf8);
  const number = (name: string, of: (at: number) => number | undefined): Series =>
    pl.Series(name, lines.map((_, at) => of(at) ?? null), pl.Float64);
  const quantities = QUANTITIES.flatMap(({ title }): Series[] => {
    const name = `quantity_${columnOf(title)}`;
    return [
      number(name, (at) => own[at]?.quantities[title]?.value),
      number(`${name}_u`, (at) => own[at]?.quantities[title]?.u),
      text(`${name}_unit`, (at) => own[at]?.quantities[title]?.unit),
    ];
  });
  const frame = pl.DataFrame([
    text("class", () => many.name),
    text("class_title", () => now.title),
    text("today", () => now.today),
    text("kit_version", () => KIT_VERSION),
    text("folder", (at) => lines[at]?.folder),
    text("name", (at) => lines[at]?.name),
    text("state", (at) => lines[at]?.state),
    text("why", (at) => lines[at]?.why),
    text("stage", (at) => lines[at]?.stage),
    text("next_step", (at) => lines[at]?.nextStep),
    number("rank", (at) => lines[at]?.rank),
    text("reason", (at) => lines[at]?.reason),
    ...await classColumns(own, ["record", "stage", "next"]),
    ...quantities,
  ]);
  return new Uint8Array(frame.writeParquet());
}

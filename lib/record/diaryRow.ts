/** diary.csv: acts and sights, each with its day. */
import type { Values } from "./cells.ts";
import { mm } from "./readings.ts";
import { base, type Bench, optional } from "./rows.ts";
import { DIARY_WORDS } from "./schemaLater.ts";
import type { DiaryRow } from "./types.ts";

/** One act or sight. */
export function diaryRow(
  values: Values,
  { file, settings, findings }: Bench,
): DiaryRow | undefined {
  const date = values.texts.get("date"), said = values.texts.get("what");
  const what = DIARY_WORDS.find((word) => word === said);
  const more = optional(values, { where: "where", amount: "amount" });
  const edge = settings.aperture / 2;
  if (more.where !== undefined && more.where > edge + 1e-6) {
    const column = values.headers.get("where") ?? "where_mm";
    findings.refuse(
      { file, line: values.line, column },
      mm(more.where),
      `a place on the glass, whose edge is ${mm(edge)} from the centre`,
      "measure from the centre; look at the digits and the unit",
    );
  }
  if (date === undefined || what === undefined) return undefined;
  return { ...base(values, file), date, what, ...more };
}

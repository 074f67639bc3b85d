/** Readings far from others of the same thing. They are told, not taken out. */
import type { Findings } from "./errors.ts";
import { depthOf, groups, median, mm, type Readings } from "./readings.ts";
import type { Row, ZoneRow } from "./types.ts";

/** A reading far from others of the same thing: five times their scatter, never less than the floor allows. */
export function farReadings(record: Readings, findings: Findings): void {
  const { gauges } = record.settings;
  const when = ({ date = "", afterMin }: Row): string => `${date} ${afterMin ?? ""}`;
  const far = <T extends Row>(
    rows: readonly T[],
    same: (row: T) => string,
    value: (row: T) => number | undefined,
    floor: number,
    column: string,
  ): void => {
    for (const [, group] of groups(rows, same)) tellFar(group, value, floor, column, findings);
  };
  const dialFloor = 3 * gauges.dialStep;
  far(
    record.spherometer,
    (row) => `${row.surface} ${when(row)}`,
    ({ dial }) => dial,
    dialFloor,
    "dial",
  );
  far(record.sun, when, ({ distance }) => distance, 3 * gauges.rulerStep, "distance");
  far(record.sun, when, ({ image }) => image, 0.2 * gauges.rulerStep, "image");
  const opening = ({ date = "", angleDeg = 0, knifeDeg = 0, inner, outer }: ZoneRow): string =>
    `${date} ${angleDeg} ${knifeDeg} ${inner} ${outer}`;
  far(record.zones, opening, ({ reading }) => reading, 0.06, "reading");
  far(record.sagitta.filter(({ chord }) => chord === undefined), when, depthOf, 0.012, "go");
}

function tellFar<T extends Row>(
  rows: readonly T[],
  value: (row: T) => number | undefined,
  floor: number,
  column: string,
  findings: Findings,
): void {
  const read = rows.flatMap((row) => {
    const number = value(row);
    return number === undefined ? [] : [{ row, number }];
  });
  if (read.length < 4) return;
  const middle = median(read.map(({ number }) => number));
  const scatter = 1.4826 * median(read.map(({ number }) => Math.abs(number - middle)));
  for (const { row, number } of read) {
    if (Math.abs(number - middle) <= 5 * Math.max(scatter, floor)) continue;
    const message = `${mm(number)} is far from the others, which lie about ${
      mm(middle)
    }: read it again`;
    findings.warn({ file: row.file, line: row.line, column }, message);
  }
}

/** What cannot be a table of zone readings at all. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import type { Opening } from "./openings.ts";
import type { ZoneReading } from "./zoneRuns.ts";

/**
 * Refuses rows that no mirror can give.
 *
 * @param readings  rows as typed
 * @param ideal     the reference's reading through an opening, mm
 * @throws {RangeError} where edges are out of order or a number is not finite
 * @throws {CannotTell} where a reading lies far beyond its run's others
 */
export function requireSane(
  readings: readonly ZoneReading[],
  ideal: (opening: Opening) => number,
): void {
  let low = Infinity, high = -Infinity;
  for (const row of readings) {
    if (!(row.inner >= 0 && row.outer > row.inner && Number.isFinite(row.reading + row.outer))) {
      throw new RangeError(
        `reduceZones requires 0 <= inner < outer and a finite reading in mm, ` +
          `got run=${row.run}, inner=${row.inner}, outer=${row.outer}, reading=${row.reading}`,
      );
    }
  }
  const seen = new Set<string>();
  for (const { inner, outer } of readings) {
    if (seen.has(`${inner} ${outer}`)) continue;
    seen.add(`${inner} ${outer}`);
    const here = ideal({ inner, outer });
    low = Math.min(low, here), high = Math.max(high, here);
  }
  const limit = 30 * (Math.max(high - low, 0) + 1);
  const runs = Map.groupBy(
    readings,
    (row) => `${row.date ?? ""}|${row.angleDeg ?? 0}|${row.knifeDeg ?? 0}|${row.run}`,
  );
  for (const rows of runs.values()) {
    const middle = median(rows.map((row) => row.reading));
    const wild = rows.find((row) => Math.abs(row.reading - middle) > limit);
    if (wild === undefined) continue;
    throw new CannotTell(
      `in run ${wild.run} the zone ${wild.inner}-${wild.outer} reads ${wild.reading} mm, where the others are near ` +
        `${Number(middle.toFixed(3))} mm: no mirror has that; look at the digits`,
    );
  }
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b), half = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(half)] ?? NaN) + (sorted[Math.ceil(half)] ?? NaN)) / 2;
}

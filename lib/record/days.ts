/** What the days of a table must be: in every row or in none, and none that has not come yet. */
import { KIT_DAY } from "../version.ts";
import type { Values } from "./cells.ts";
import { type Findings, shown } from "./errors.ts";

/** Years back from today beyond which a day is asked about. */
const LONG_AGO = 30;

/**
 * The day it is where this runs. A clock that stands before the kit's own day is wrong, and is not believed.
 *
 * @param now  the clock's time; default now
 * @returns ISO date
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(dayNow(new Date(2031, 0, 9)), "2031-01-09");
 * ```
 */
export function dayNow(now: Date = new Date()): string {
  const two = (part: number): string => String(part).padStart(2, "0");
  const day = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  return day > KIT_DAY ? day : KIT_DAY;
}

/**
 * Refuses days that some rows have and others have not, and days after today; asks about days long ago.
 *
 * @param rows   the table's rows; a row with a refusal of its own is passed over
 * @param today  ISO date
 */
export function checkDays(
  rows: readonly Values[],
  file: string,
  today: string,
  findings: Findings,
): void {
  const dated = rows.find(({ texts }) => texts.has("date"));
  if (dated === undefined) return;
  const column = dated.headers.get("date") ?? "date";
  const bare = rows.find(({ texts, refused }) => !refused && !texts.has("date"));
  if (bare !== undefined) {
    const wanted = `a day in each row, as in line ${dated.line}`;
    const mend = "write its day; where none is known, leave the column out";
    findings.refuse({ file, line: bare.line, column }, "nothing", wanted, mend);
  }
  const old = `${Number(today.slice(0, 4)) - LONG_AGO}${today.slice(4)}`;
  let asked = false;
  for (const { line, texts } of rows) {
    const day = texts.get("date");
    if (day === undefined) continue;
    if (day > today) {
      const mend = "look at the year and the month; --today sets the day where a clock is wrong";
      findings.refuse({ file, line, column }, shown(day), `a day up to today, ${today}`, mend);
    } else if (day < old && !asked) {
      asked = true;
      const message = `${day} is more than ${LONG_AGO} years ago: is the year right?`;
      findings.warn({ file, line, column }, message);
    }
  }
}

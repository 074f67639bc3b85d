/** The clock of a place and the moment it means: time zones as the machine knows them. */

import type * as Engine from "astronomy-engine";

/** Terrestrial less civil time, s: 32.184 and the 37 leap seconds since 2017; none is set since (READ IERS, Leap_Second.dat of PyPI astropy-iers-data 0.2026.11.2, good to June 2027). */
const AHEAD_S = 69.184, SINCE = Date.UTC(2017, 0, 1), UNTIL = Date.UTC(2035, 0, 1);

/**
 * A moment for planets and moons, whose theories count an even time: by the leap seconds that there were, where these are
 * known. The engine's own forecast of the Earth's turning is 6 s off in 2026, of which an occultation would be off as well.
 * Of no use where the Earth's own turning is asked: for that give the engine the date.
 */
export function terrestrial(engine: typeof Engine, moment: Date): Engine.AstroTime {
  const ms = moment.getTime();
  if (!(ms >= SINCE && ms < UNTIL)) return engine.MakeTime(moment);
  return engine.AstroTime.FromTerrestrialTime(
    (ms - Date.UTC(2000, 0, 1, 12)) / 86_400_000 + AHEAD_S / 86_400,
  );
}

/** Parts of a moment as a place's clock and calendar show them. */
interface Local {
  readonly date: string;
  readonly clock: string;
}

function localOf(moment: Date, zone: string): Local {
  const parts = new Intl.DateTimeFormat("en-CA", {
    timeZone: zone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
    second: "2-digit",
  }).formatToParts(moment);
  const part = (type: string): string => parts.find((one) => one.type === type)?.value ?? "";
  return {
    date: `${part("year")}-${part("month")}-${part("day")}`,
    clock: `${part("hour")}:${part("minute")}:${part("second")}`,
  };
}

/** What the clock of a zone shows, less universal time, ms. */
function ahead(moment: Date, zone: string): number {
  const { date, clock } = localOf(moment, zone);
  return Date.parse(`${date}T${clock}Z`) - 1000 * Math.floor(moment.getTime() / 1000);
}

/**
 * The moment at which the clock of a place shows a time.
 *
 * @param date   the day there, as "2026-10-10"
 * @param clock  "21:43", "21:43:10" or "21:43:10.4"
 * @param zone   as "Europe/Ljubljana"
 * @returns the moment; of an hour that comes twice in autumn the first
 * @throws {RangeError} for what is no day, time or zone, and for an hour that the clock leaps over in spring
 * @example two hours before the clock in summer, one in winter
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(momentOf("2026-10-10", "20:30", "Europe/Ljubljana").toISOString(), "2026-10-10T18:30:00.000Z");
 * assert.equal(momentOf("2026-11-10", "20:30", "Europe/Ljubljana").toISOString(), "2026-11-10T19:30:00.000Z");
 * ```
 */
export function momentOf(date: string, clock: string, zone: string): Date {
  const shown = Date.parse(`${date}T${clock}Z`);
  if (!/^\d\d:\d\d(:\d\d(\.\d{1,3})?)?$/.test(clock) || Number.isNaN(shown)) {
    throw new RangeError(
      `momentOf requires a day and a time such as 2026-10-10 and 21:43:10, got ${date} and ${clock}`,
    );
  }
  const day = 86_400_000;
  for (const near of [shown - day, shown + day]) {
    const moment = new Date(shown - ahead(new Date(near), zone));
    if (moment.getTime() + ahead(moment, zone) === shown) return moment;
  }
  throw new RangeError(
    `momentOf requires a time that the clock shows, got ${clock} on ${date}: in ${zone} it leaps over that hour`,
  );
}

/**
 * What the clock of a place shows at a moment, to the second.
 *
 * @param zone  as "Europe/Ljubljana"
 * @throws {RangeError} for what is no zone
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(clockAt(new Date("2026-10-10T18:30:00Z"), "Europe/Ljubljana"), "20:30:00");
 * ```
 */
export function clockAt(moment: Date, zone: string): string {
  return localOf(moment, zone).clock;
}

/** The day that the calendar of a place shows at a moment, as "2026-10-10". */
export function dayAt(moment: Date, zone: string): string {
  return localOf(moment, zone).date;
}

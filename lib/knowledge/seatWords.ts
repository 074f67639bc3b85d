/** Seats of the mirror and directions of the knife, as they are said at the bench. */
import type { WantedReading } from "./summaryTypes.ts";

const runsSaid = (runs: number): string => `${runs} ${runs === 1 ? "run" : "runs"}`;

function seatSaid(angleDeg: number): string {
  return angleDeg === 0
    ? "With the mirror's mark at the top"
    : `With the mirror turned in its stand until the mark stands at ${angleDeg} degrees, counter-clockwise from the top as you see it`;
}

function knifeSaid(knifeDeg: number): string {
  if (knifeDeg === 0) return "with the knife upright";
  return knifeDeg === 90
    ? "with knife and slit on their side"
    : `with knife and slit turned to ${knifeDeg} degrees`;
}

/**
 * What to read, seat by seat, each seat a sentence.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const said = seatsSaid([{ angleDeg: 0, knifeDeg: 90, runs: 3 }]);
 * assert.equal(said, "With the mirror's mark at the top: 3 runs with knife and slit on their side.");
 * ```
 */
export function seatsSaid(readings: readonly WantedReading[]): string {
  return [...Map.groupBy(readings, ({ angleDeg }) => angleDeg)].map(([angle, ofSeat]) => {
    const runs = ofSeat.map(({ knifeDeg, runs }) => `${runsSaid(runs)} ${knifeSaid(knifeDeg)}`);
    return `${seatSaid(angle)}: ${runs.join(", then ")}.`;
  }).join(" ");
}

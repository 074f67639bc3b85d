// deno-lint-ignore-file no-console
/**
 * Makes the readings in three seats and with both knives of bench 1 of the class: INVENTED, as the demo's are.
 *
 * A conic of K = -0.8 and R = 2396.6 mm, with 6 nm of astigmatism at its rim on a stand that holds it crooked by 15 nm.
 *
 *     deno run -A tests/record/classZones.ts     # prints runs 5 to 16
 */
import { type SeatedMirror, seatReadings } from "./demoZones.ts";

const BENCH_1: SeatedMirror = {
  ...{ radius: 2396.6, conic: -0.8, half: 74 },
  ...{ amplitude: 6, axis: 20, stand: 15 },
};

/** The rows as they stand in the bench's zones.csv, after the four runs through wide openings. */
export function benchRows(): string[] {
  return seatReadings(BENCH_1, 12.02, 926).map(({ run, inner, outer, reading, mark, knife }) =>
    `2026-09-26,${run + 4},${inner},${outer},${reading},${mark},${knife}`
  );
}

if (import.meta.main) console.log(benchRows().join("\n"));

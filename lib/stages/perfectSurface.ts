/** The stage of the verdict: what readings can show of a perfect surface, and what they cannot. */
import { readingsTable } from "../figures/blocks.ts";
import type { Shown } from "../figures/show.ts";
import { random } from "../numeric/random.ts";
import { knifePosition } from "../optics/crossing.ts";
import { judgingRadius } from "../knowledge/figureSummary.ts";
import type { Mirror } from "../knowledge/open.ts";
import { effectiveRadius } from "../testing/zones/openings.ts";
import { reduceZones, type ZoneFigure } from "../testing/zones/zones.ts";
import { dayOf } from "./judge.ts";
import { masksOf, openingsOf } from "./zoneDays.ts";

/** What a test of a perfect surface came to. */
export interface PerfectTest {
  readonly runs: number;
  readonly found: ZoneFigure;
}

/** Scatter of a careful knife reading in still air, mm. COMMON PRACTICE: about that of the demo's days */
const carefulScatter = 0.06;

/**
 * A perfect surface under a demo's tester: readings whose means are exact and whose scatter is honest.
 *
 * @param mirror   whose mask (the latest), radius and tester
 * @param surface  what the glass is, exactly
 * @param runs     2 or more
 * @throws {RangeError} where the mirror has no zone readings or there are fewer runs
 */
export function perfectTest(
  mirror: Mirror,
  surface: "sphere" | "paraboloid",
  runs: number,
): PerfectTest {
  if (!(Number.isInteger(runs) && runs >= 2)) {
    throw new RangeError(`perfectTest requires 2 runs or more, got runs=${runs}`);
  }
  const day = dayOf("perfectTest", mirror, -1), { record, summary } = mirror;
  const openings = openingsOf(masksOf(day.rows).at(-1) ?? []);
  const { aperture, bevel, goal, tester } = record.settings;
  const radius = judgingRadius(record, summary.curve);
  const source = tester.source === "fixed" ? "fixed" : "moves";
  const conic = surface === "sphere" ? 0 : -1;
  const noise = evenScatter(openings.length, runs);
  const readings = openings.flatMap(({ inner, outer }, zone) => {
    const r = effectiveRadius({ inner, outer }, tester.openings);
    const exact = 12 + knifePosition(r, { radius, conic }, source);
    return (noise[zone] ?? []).map((off, run) => (
      { run: `${run + 1}`, inner, outer, reading: exact + off }
    ));
  });
  const bench = { aperture, bevel, radius, source, openings: tester.openings } as const;
  const wanted = { goalSurfaceWaves: goal.surfaceWaves, wavelength: goal.wavelength };
  return { runs, found: reduceZones({ readings, ...bench, ...wanted }) };
}

/** So many readings of each zone, about means of exactly zero in each zone and each run, whose scatter is that of a careful one. */
function evenScatter(zones: number, runs: number): readonly (readonly number[])[] {
  const source = random(1);
  const drawn = Array.from(
    { length: zones },
    () => Array.from({ length: runs }, () => source.normal()),
  );
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const ofZone = drawn.map(mean), all = mean(ofZone);
  const ofRun = Array.from({ length: runs }, (_, run) => mean(drawn.map((row) => row[run] ?? 0)));
  const centred = drawn.map((row, zone) =>
    row.map((off, run) => off - (ofZone[zone] ?? 0) - (ofRun[run] ?? 0) + all)
  );
  const squares = centred.flat().reduce((sum, off) => sum + off * off, 0);
  const s = Math.sqrt(squares / ((zones - 1) * (runs - 1)));
  return centred.map((row) => row.map((off) => (off / s) * carefulScatter));
}

/**
 * A perfect surface, tested with more and more runs: what the readings could show of it.
 *
 * @throws {RangeError} as `perfectTest`
 */
export function perfectBut(
  mirror: Mirror,
  surface: "sphere" | "paraboloid",
  runs: readonly number[],
): Shown {
  const rows = runs.map((count) => {
    const { found } = perfectTest(mirror, surface, count),
      [low, high] = found.interval95.wavefrontPv;
    return {
      cells: [
        count,
        found.wavefrontPv.value.toFixed(3),
        `${low.toFixed(3)} to ${high.toFixed(3)}`,
        found.probabilityWithinGoal.toFixed(2),
        found.verdict,
      ],
    };
  });
  return readingsTable(`A perfect ${surface}, tested`, [
    { title: "Runs" },
    { title: "P-V", unit: "wave" },
    { title: "At 95 %", unit: "wave" },
    { title: "P" },
    { title: "Verdict", text: true },
  ], rows);
}

// deno-lint-ignore-file no-console
/**
 * Makes the demo mirror's readings in three seats and with both knives: INVENTED, by exact rays and dice.
 *
 * The mirror is the one of demoPhoto.ts, a conic of K = -0.66 and R = 2396.6 mm, with 5 nm of astigmatism at its rim; the
 * stand holds it crooked by 22 nm. Nine openings, one reading scatters by 0.05 mm, every second run from the rim inward.
 *
 *     deno run -A tests/record/demoZones.ts     # prints the rows of 27 June
 */
import { random } from "../../lib/numeric/random.ts";
import { conicCurve, mirrorOf, readings } from "../testing/judge.ts";

export const DEMO: SeatedMirror = {
  radius: 2396.6,
  conic: -0.66,
  half: 74,
  amplitude: 5,
  axis: 70,
  stand: 22,
};
const EDGES = [0, 10, 20, 30, 37.5, 45, 51, 57, 67, 74];
const NOISE = 0.05, SEATING = 0.06;

/** A mirror of the workshop on its stand; amplitudes nm, lengths mm. */
export interface SeatedMirror {
  readonly radius: number;
  readonly conic: number;
  readonly half: number;
  readonly amplitude: number;
  readonly axis: number;
  readonly stand: number;
}

/** One reading of a run, from the first of its run to the last. */
interface SeatReading {
  /** from 1; in each seat and with each knife one run outward and one inward */
  readonly run: number;
  readonly inner: number | undefined;
  readonly outer: number | undefined;
  readonly reading: string;
  readonly mark: number;
  readonly knife: number;
  readonly isFirst: boolean;
}

/** Twelve runs of a mirror in three seats with both knives, from a zero of the scale on. */
export function seatReadings(mirror: SeatedMirror, zero: number, seed: number): SeatReading[] {
  const { radius, conic, half, amplitude, axis, stand } = mirror, dice = random(seed);
  const ideal = readings(mirrorOf(half, radius, EDGES, conicCurve(radius, conic)));
  const perNm = (2 * radius * radius * 1e-6) / (half * half);
  const rows: SeatReading[] = [];
  let run = 0;
  for (const mark of [0, 45, 90]) {
    const seat = zero + SEATING * (2 * dice.uniform() - 1);
    for (const knife of [0, 90]) {
      for (const inward of [false, true]) {
        run++;
        // the windows lie 90 degrees from the knife's edge, and both are counted from the top
        const along = ((knife - 90 - mark - axis) * Math.PI) / 90;
        const focus = -perNm *
          (amplitude * Math.cos(along) + stand * Math.cos(((knife - 90) * Math.PI) / 90));
        const own = ideal.map((v, i) => ({
          inner: EDGES[i],
          outer: EDGES[i + 1],
          reading: (seat + focus + v + NOISE * dice.normal()).toFixed(2),
        }));
        if (inward) own.reverse();
        rows.push(...own.map((row, i) => ({ ...row, run, mark, knife, isFirst: i === 0 })));
      }
    }
  }
  return rows;
}

/** The rows as they stand in the demo's zones.csv. */
export function demoRows(): string[] {
  return seatReadings(DEMO, 12.31, 627).map((
    { run, inner, outer, reading, mark, knife, isFirst },
  ) =>
    `2026-06-27,d${run},${inner},${outer},${reading},${mark},${knife},${isFirst ? note(run) : ""}`
  );
}

function note(run: number): string {
  if (run === 1) return "a mask with nine openings; the mark on top";
  if (run === 2) return "from the rim inward";
  if (run === 3) return "knife and slit on their side";
  return run === 5 || run === 9 ? "the mirror turned in its stand" : "";
}

if (import.meta.main) console.log(demoRows().join("\n"));

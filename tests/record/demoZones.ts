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

export const DEMO = { radius: 2396.6, conic: -0.66, half: 74, amplitude: 5, axis: 70, stand: 22 };
const EDGES = [0, 10, 20, 30, 37.5, 45, 51, 57, 67, 74];
const NOISE = 0.05, SEATING = 0.06;

/** The rows as they stand in the demo's zones.csv. */
export function demoRows(): string[] {
  const { radius, conic, half, amplitude, axis, stand } = DEMO, dice = random(627);
  const ideal = readings(mirrorOf(half, radius, EDGES, conicCurve(radius, conic)));
  const perNm = (2 * radius * radius * 1e-6) / (half * half);
  const rows: string[] = [];
  let run = 0;
  for (const mark of [0, 45, 90]) {
    const seat = 12.31 + SEATING * (2 * dice.uniform() - 1);
    for (const knife of [0, 90]) {
      for (const inward of [false, true]) {
        run++;
        // the windows lie 90 degrees from the knife's edge, and both are counted from the top
        const along = ((knife - 90 - mark - axis) * Math.PI) / 90;
        const focus = -perNm *
          (amplitude * Math.cos(along) + stand * Math.cos(((knife - 90) * Math.PI) / 90));
        const own = ideal.map((v, i) => ({
          cells: [EDGES[i], EDGES[i + 1], (seat + focus + v + NOISE * dice.normal()).toFixed(2)],
        }));
        if (inward) own.reverse();
        own.forEach(({ cells: [inner, outer, reading] }, i) =>
          rows.push(
            `2026-06-27,d${run},${inner},${outer},${reading},${mark},${knife},${note(run, i)}`,
          )
        );
      }
    }
  }
  return rows;
}

function note(run: number, row: number): string {
  if (row > 0) return "";
  if (run === 1) return "a mask with nine openings; the mark on top";
  if (run === 2) return "from the rim inward";
  if (run === 3) return "knife and slit on their side";
  return run === 5 || run === 9 ? "the mirror turned in its stand" : "";
}

if (import.meta.main) console.log(demoRows().join("\n"));

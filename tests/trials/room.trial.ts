// deno-lint-ignore-file no-console
/** The room under load and faults: ten minutes of thirty benches, a burst, fifty kills; every acknowledged row there once. */
import { burst, killed, ordinaryRoom, tell, type Told } from "../room/roomTrial.ts";

const minutes = Number(Deno.args[0] ?? 10);
const broken: string[] = [];

/** Says it, and remembers what does not hold. */
function hold(told: Told, bounds: readonly (readonly [what: string, holds: boolean])[]): void {
  console.log(tell(told));
  const whole = told.rows > 0 && told.lost + told.doubled + told.torn === 0;
  for (const [what, holds] of [["every acknowledged row once", whole] as const, ...bounds]) {
    if (!holds) broken.push(`${told.name}: ${what}`);
  }
}

const room = await ordinaryRoom(60 * minutes);
hold(room, [
  ["answer 0.15 s at the median", room.medianMs <= 150],
  ["1 s at the worst", room.worstMs <= 1000],
  ["wall 2 s behind", room.wallWorstS <= 2],
  ["under 600 MB", room.peakMb < 600],
]);
const many = await burst();
hold(many, [["burst: 5 s at the worst", many.worstMs <= 5000]]);
hold(await killed(50), []);
if (broken.length > 0) {
  console.log(`Does not hold: ${broken.join("; ")}`);
  Deno.exit(1);
}

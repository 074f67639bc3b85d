// deno-lint-ignore-file no-console
/**
 * Figuring against the brute judge; prints, and exits 1 where a bound does not hold.
 *
 * Plans from noisy profiles of 40 mirrors with each of two kinds of error, worked whole: the error halved without a worse edge in 8 of 10; 20 spheres of
 * 150 mm f/6 brought to the goal, session by session, in 8 sessions by the median.
 */
import {
  bumpyError,
  halving,
  medianOf,
  someError,
  sphereToGoal,
} from "../shaping/figuringTrial.ts";

const first = Number(Deno.args[0] ?? 601), count = Number(Deno.args[1] ?? 40);
const spheres = Number(Deno.args[2] ?? 20);

/** One kind of error, one plan each; true where 8 of 10 come out well. */
function halve(what: string, error: typeof someError): boolean {
  const ends = Array.from({ length: count }, (_, i) => halving(first + i, error));
  const shares = ends.map(({ share }) => share), minutes = ends.map((end) => end.minutes);
  const both = ends.filter((end) => end.both).length, worst = Math.max(...shares);
  console.log(`${what}: ${shares.map((share) => share.toFixed(2)).join(" ")} of the rms left`);
  console.log(
    `  halved without a worse edge ${both} of ${count}; left ${
      medianOf(shares).toFixed(2)
    } by the median, ${worst.toFixed(2)} at the worst; ${
      medianOf(minutes).toFixed(0)
    } min by the median, ${Math.max(...minutes).toFixed(0)} at the most`,
  );
  return both >= 0.8 * count;
}

const halved = [halve("smooth rings", someError), halve("bumps", bumpyError)].every((one) => one);

const ends = Array.from({ length: spheres }, (_, i) => sphereToGoal(i + 1));
const sessions = ends.map((end) => end.sessions);
const good = ends.filter(({ pv }) => pv <= 68.75).length;
console.log(
  `spheres: sessions ${sessions.join(" ")}, median ${medianOf(sessions)}; ${good} truly good`,
);

const holds = halved && medianOf(sessions) <= 8 && Math.max(...sessions) < 15 &&
  good >= 0.75 * spheres;
console.log(holds ? "holds" : "does not hold");
if (!holds) Deno.exit(1);

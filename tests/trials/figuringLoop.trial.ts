// deno-lint-ignore-file no-console
/**
 * The closed loop of figuring over hidden mirrors; prints, and exits 1 where a bound does not hold.
 *
 *     deno task trial figuringLoop [first] [count]
 */
import type { TimedStroke } from "../../lib/shaping/figuring/figuringHands.ts";
import { loop, type LoopEnd } from "../shaping/figuringLoop.ts";
import { medianOf } from "../shaping/figuringTrial.ts";

const first = Number(Deno.args[0] ?? 1), count = Number(Deno.args[1] ?? 40);

const said = ({ stroke: { face, lap, travel, offset }, minutes }: TimedStroke): string =>
  `${face} ${lap} ${travel.toFixed(2)} ${offset.toFixed(2)} ${minutes}`;

const told = (
  { hidden, sessions, toGoal, verdict, why, start, end, gainRatio, learned }: LoopEnd,
): string =>
  [
    `${hidden.aperture} f/${hidden.ratio} ${hidden.kind.padEnd(12)} hands ${
      hidden.hands.toFixed(2)
    }`,
    `learnt ${learned.gain.toFixed(2)} +- ${learned.doubt.toFixed(2)}`,
    `to goal ${toGoal}, ${sessions.length} sessions, ${verdict}, ${why}`,
    `P-V ${start.pv.toFixed(0)} to ${end.pv.toFixed(0)}, edge ${start.edge.toFixed(0)} to ${
      end.edge.toFixed(0)
    }`,
    `gain ${gainRatio.toFixed(2)}`,
    sessions.map(({ plan, before, after, foreseen: [low, middle, high] }) =>
      `(${plan.map(said).join(", ")}) ${before.rms.toFixed(0)}>${after.rms.toFixed(0)}[${
        low.toFixed(0)
      } ${middle.toFixed(0)} ${high.toFixed(0)}]`
    ).join(" "),
  ].join("; ");

const ends = Array.from({ length: count }, (_, i) => {
  const end = loop(first + i);
  console.log(`${first + i}: ${told(end)}`);
  return end;
});
const toGoal = ends.map((end) => end.toGoal);
const falseYes = ends.filter(({ verdict, end }) => verdict === "yes" && end.pv > 68.75).length;
const worse =
  ends.filter(({ start, end }) => Math.abs(end.edge) > Math.abs(start.edge) + 20).length;
const ratios = ends.filter(({ gainRatio }) => gainRatio >= 0.7 && gainRatio <= 1.4).length;
const all = ends.flatMap(({ sessions }) => sessions);
const held =
  all.filter(({ after, foreseen: [low, , high] }) => after.rms >= low && after.rms <= high).length;
const bounds: readonly (readonly [what: string, holds: boolean])[] = [
  [
    `sessions to a true goal: median ${medianOf(toGoal)}, worst ${Math.max(...toGoal)} (4, 8)`,
    medianOf(toGoal) <= 4 && Math.max(...toGoal) <= 8,
  ],
  [`false yes: ${falseYes} (0)`, falseYes === 0],
  [`edge worse by 20 nm: ${worse} (0)`, worse === 0],
  [`foreseen over true gain 0.7 to 1.4: ${ratios} of ${count} (36 of 40)`, ratios >= 0.9 * count],
  [`intervals hold: ${held} of ${all.length} (90 of 100)`, held >= 0.9 * all.length],
];
for (const [what, holds] of bounds) console.log(`${holds ? "holds" : "DOES NOT HOLD"}  ${what}`);
if (!bounds.every(([, holds]) => holds)) Deno.exit(1);

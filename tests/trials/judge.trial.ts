// deno-lint-ignore-file no-console -- a trial prints its figures
/**
 * Wear of two hours by ten routines, slips included: the polar engine beside the brute-force judge at 128 cells.
 *
 * Bounds: see `holdToJudge`. Then the judge itself on finer and finer grids, for the two routines that leave steep edges, with
 * the value to which the grids lead: what 0.5 % of a grid is worth, and what the engine gives finely and with square cells.
 */
import { detailFor } from "../../lib/shaping/grinding/detailFor.ts";
import {
  besideJudge,
  grind,
  holdToJudge,
  sagittasOff,
  shapesOff,
  um,
} from "../shaping/besideJudge.ts";
import { judge } from "../shaping/judge.ts";
import { tenRoutines } from "../shaping/tenRoutines.ts";

const sets = 240, lump = 5;
const percent = (v: number): string => (100 * v).toFixed(2);
let broken = 0;

console.log(
  "routine | judge, upper and lower, um | by 24 rings and 72 angles, % | at its own detail, % | shapes, both, %",
);
for (const { name, played, judged, worn } of besideJudge(sets, lump)) {
  const sagittas = `${judged.upper.sagitta.toFixed(1)}, ${judged.lower.sagitta.toFixed(1)}`;
  const both = [grind(played), worn];
  const off = both.map((one) => sagittasOff(one, judged).map(percent).join(", "));
  const shapes = both.map((one) => percent(shapesOff(one, judged))).join(", ");
  console.log([name, sagittas, ...off, shapes].join(" | "));
  try {
    holdToJudge(name, worn, judged);
  } catch (error) {
    broken++;
    console.log(`  does not hold: ${(error as Error).message}`);
  }
}

/** Where three grids lead whose errors shrink with a power of the cell: the power is found, then carried on to no cell at all. */
function limit(cells: readonly number[], values: readonly number[]): number {
  const [a = NaN, b = NaN, c = NaN] = values, [n = NaN, m = NaN, k = NaN] = cells;
  const ratio = (a - b) / (b - c);
  let low = 0.2, high = 4;
  const at = (p: number): number => (n ** -p - m ** -p) / (m ** -p - k ** -p);
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (at(middle) < ratio) low = middle;
    else high = middle;
  }
  return c + (c - b) * k ** -low / (m ** -low - k ** -low);
}

console.log(
  "\nroutine | lower disc by the judge at 64, 128, 192 cells, um | limit | usual, own detail, with 288 angles | off the limit, %",
);
for (const [name, played, routine] of tenRoutines(sets)) {
  if (!/half only|upper disc never/.test(name)) continue;
  const cells = [64, 128, 192];
  const values = cells.map((n) => judge(played, { lump: 10, cells: n }).lower.sagitta);
  const end = limit(cells, values);
  const ours = [
    um(grind(played)).lower,
    um(grind(played, {}, detailFor(routine, 150))).lower,
    um(grind(played, {}, { ...detailFor(routine, 150), angles: 288 })).lower,
  ];
  const off = ours.map((v) => percent(v / end - 1)).join(", ");
  console.log(
    [
      name,
      values.map((v) => v.toFixed(1)).join(", "),
      end.toFixed(1),
      ours.map((v) => v.toFixed(1)).join(", "),
      off,
    ].join(" | "),
  );
}
Deno.exit(broken > 0 ? 1 : 0);

// deno-lint-ignore-file no-console -- the figures reached are part of the report
/** The one rule of turning: what an hour of F80 by it leaves at the mirror's rim, order by order, by two ways of reckoning. */
import assert from "node:assert/strict";
import type { DiscShape } from "../../../lib/shaping/grinding/wornDisc.ts";
import { chordRoutine, playRoutine, type Routine } from "../../../lib/shaping/grinding/routine.ts";
import { WearBench, type WearDetail } from "../../../lib/shaping/grinding/wear.ts";
import { wearSettings } from "../../../lib/shaping/grinding/wearLaws.ts";
import { judge } from "../judge.ts";
import { thirds } from "../tenRoutines.ts";

const degree = Math.PI / 180;
const rule = chordRoutine(150);
/** The lower disc turned, or walked round: then the upper one goes round with it. Either way round. */
const ways: readonly (readonly [string, Routine])[] = [
  ["lower disc turned, one way", rule],
  ["lower disc turned, the other way", { ...rule, lowerTurn: -rule.lowerTurn }],
  ["walked round, one way", { ...rule, carried: true }],
  ["walked round, the other way", { ...rule, lowerTurn: -rule.lowerTurn, carried: true }],
];

/** Height of the waves round the rim, um, highest less lowest over two, for 2 to 11 waves. */
function waves({ grid, rest }: DiscShape): readonly number[] {
  const rim = rest.subarray((grid.rings - 1) * grid.angles);
  return Array.from({ length: 10 }, (_, i) => {
    let along = 0, across = 0;
    rim.forEach((height, at) => {
      const angle = 2 * Math.PI * (i + 2) * at / grid.angles;
      along += height * Math.cos(angle);
      across += height * Math.sin(angle);
    });
    return 2000 * Math.hypot(along, across) / grid.angles;
  });
}

/** An hour of F80 at 40 strokes a minute. */
function hourOf(routine: Routine, detail: WearDetail = {}, seed = 1): readonly number[] {
  const bench = new WearBench(wearSettings(150), detail);
  const sets = Math.round(60 * 40 / Number(routine.strokes));
  for (const set of playRoutine(routine, sets, seed)) bench.grind(set);
  return waves(bench.worn.upper);
}

Deno.test("done as told, an hour leaves less than 1 um in every order to 11, turned or walked, either way round", () => {
  for (const [name, routine] of ways) {
    const found = hourOf(routine), worst = Math.max(...found);
    console.log(`${name}: at most ${worst.toFixed(2)} um, ${2 + found.indexOf(worst)} waves`);
    assert.ok(worst < 1, `${name}: ${found.map((um) => um.toFixed(2))}`);
  }
});

Deno.test("thirds leave a threefold figure, 140 and 50 walked the same way an eightfold one, never turning ruins", () => {
  const [, three = 0] = hourOf(thirds);
  assert.ok(three > 15, `threefold ${three}`);
  const walked: Routine = {
    ...rule,
    upperTurn: 140 * degree,
    lowerTurn: -50 * degree,
    carried: true,
  };
  const eight = hourOf(walked)[6] ?? 0;
  assert.ok(eight > 4, `eightfold ${eight}`);
  const [two = 0] = hourOf({ ...rule, upperTurn: 0 });
  assert.ok(two > 80, `twofold ${two}`);
});

Deno.test("sloppy hands: 20 degrees off, one turn in five forgotten, strokes miscounted by a quarter", () => {
  const sloppy = { turnScatter: 20 * degree, missedTurns: 0.2, strokeScatter: 0.25 };
  const worst = Array.from({ length: 20 }, (_, i) => {
    const [, routine] = ways[i % 4] ?? ["", rule];
    return Math.max(...hourOf({ ...routine, ...sloppy }, { rings: 12, places: 4 }, i + 1));
  }).sort((a, b) => a - b);
  const [half = NaN, nine = NaN, last = NaN] = [worst[9], worst[17], worst[19]];
  console.log(
    `half within ${half.toFixed(1)}, nine in ten ${nine.toFixed(1)}, all ${last.toFixed(1)} um`,
  );
  // DERIVED: slips at random walk as the root of the number of sets; 95 um of a disc never turned, 300 sets, and turns that
  // keep a share r = 0.2 + 0.8 x 0.92 exp(300 deg i) of two waves from set to set: 95 x sqrt(0.46 / 300) = 3.7, and less, for
  // the discs wear on one another's high places
  assert.ok(nine < 3.7, `${worst}`);
  assert.ok(last < (hourOf(thirds)[1] ?? 0) / 4, "far less than thirds done without a slip");
});

Deno.test("twenty careful minutes after a sloppy hour leave less than 1 um in nine of ten", () => {
  const sloppy = { turnScatter: 20 * degree, missedTurns: 0.2, strokeScatter: 0.25 };
  const worst = Array.from({ length: 20 }, (_, i) => {
    const [, routine] = ways[i % 4] ?? ["", rule];
    const bench = new WearBench(wearSettings(150), { rings: 12, places: 4 });
    for (const set of playRoutine({ ...routine, ...sloppy }, 300, i + 1)) bench.grind(set);
    const before = Math.max(...waves(bench.worn.upper));
    for (const set of playRoutine(routine, 100)) bench.grind(set);
    return [before, Math.max(...waves(bench.worn.upper))] as const;
  });
  const after = worst.map(([, left]) => left).sort((a, b) => a - b);
  console.log(`half within ${after[9]?.toFixed(2)}, nine in ten ${after[17]?.toFixed(2)} um`);
  assert.ok((after[17] ?? NaN) < 1, `${after}`);
  // DERIVED: discs that turn on one another wear a misfit of two waves off as exp(-t / T); 800 strokes take at least half
  for (const [before, left] of worst) assert.ok(before < 0.5 || left < 0.75 * before, `${worst}`);
});

Deno.test("what sloppy turns leave goes with the grain: F320 a sixth of F80", () => {
  const left = (sizeUm: number): number => {
    const bench = new WearBench(wearSettings(150, { sizeUm }), { rings: 12, places: 4 });
    const routine = { ...rule, turnScatter: 20 * degree, missedTurns: 0.2, strokeScatter: 0.25 };
    for (const set of playRoutine(routine, 60, 3)) bench.grind(set);
    return Math.max(...waves(bench.worn.upper));
  };
  // DERIVED: wear and give of the layer both go with the grain, so all heights do: 29.2 / 185
  assert.ok(Math.abs(left(29.2) / left(185) / (29.2 / 185) - 1) < 1e-6);
});

Deno.test("the brute-force judge says the same: square cells, no polar grid, no shared code", () => {
  const plain = { cells: 48, lump: 8, places: 4 };
  const before = judge(playRoutine(thirds, 120), plain).upper;
  for (const [name, routine] of ways) {
    const after = judge(playRoutine(routine, 300), plain).upper;
    console.log(
      `${name}: trefoil ${after.trefoil.toFixed(2)}, astigmatism ${
        after.astigmatism.toFixed(2)
      } um rms`,
    );
    // a term's rms x sqrt(8) is its height at the rim, x sqrt(6) for astigmatism; below a quarter no grid here resolves
    assert.ok(after.trefoil * Math.sqrt(8) < 1, name);
    assert.ok(after.astigmatism < before.astigmatism + 0.25, name);
  }
  assert.ok(before.trefoil > 4, `thirds: ${before.trefoil}`);
});

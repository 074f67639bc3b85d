// deno-lint-ignore-file no-console -- the figures reached are part of the report
import assert from "node:assert/strict";
import {
  departures,
  fittedSagitta,
  meanRemoval,
  removalMap,
} from "../../../lib/shaping/grinding/discShape.ts";
import { centreRoutine, playRoutine } from "../../../lib/shaping/grinding/routine.ts";
import { WearBench } from "../../../lib/shaping/grinding/wear.ts";
import {
  closedWear,
  type WearSettings,
  wearSettings,
} from "../../../lib/shaping/grinding/wearLaws.ts";
import { besideJudge, grind, holdToJudge, sagittasOff, um, within } from "../besideJudge.ts";
import { judge } from "../judge.ts";
import { thirds } from "../tenRoutines.ts";

const rough = thirds;
const usual = wearSettings(150);

Deno.test("what is kept: equal volume from both, and the moment's balance, whatever the pressure", () => {
  const sets = playRoutine(rough, 240);
  const push = 60 * 4800 * 100, pushed = usual.upperWear * push / (Math.PI * 75 ** 2);
  // DERIVED sagitta of the upper less that of the lower = 12 m <d^2> / a^2 = 2245.4 um, for any balanced pressure
  for (const pressure of ["elastic layer", "flat discs"] as const) {
    const worn = grind(sets, { pressure });
    within(meanRemoval(worn.upper), pushed, 1e-6, `${pressure}, upper volume`);
    within(meanRemoval(worn.lower), pushed, 1e-6, `${pressure}, lower volume`);
    const { upper, lower } = um(worn);
    within(upper - lower, 2245.43, 0.005, pressure);
  }
  const even = grind(sets, { pressure: "even" });
  within(meanRemoval(even.upper), pushed, 1e-9, "even, upper volume");
  const { upper, lower } = um(even);
  assert.ok(Math.abs(upper - lower) < 0.5, `even: ${upper - lower}`);
});

Deno.test("fact: two flat discs, and the upper one grows hollow as the lower one bulges", () => {
  const worn = grind(playRoutine(rough, 240));
  const { upper, lower } = um(worn);
  // CROSS-CHECK tests/bench/peer_wear.py 256 240, stroke by stroke (an hour): 1140.6 and -1098.6 (eight middles; whole stroke + 0.2 %)
  within(upper, 1142.9, 0.005, "upper");
  within(lower, -1100.8, 0.005, "lower");
  const shape = departures(worn.upper);
  within(shape.trefoilUm, 6.73, 0.15, "trefoil");
  assert.ok(shape.astigmatismUm < 1 && shape.rmsUm < 10);
});

Deno.test("fact: an even load without balance hollows both alike and never mates", () => {
  const even = um(grind(playRoutine(rough, 240), { pressure: "even" }));
  // CROSS-CHECK ../secondRoute.py, even load: squares of 48 cells, 673 and 673 um
  within(even.upper, 675, 0.01, "upper");
  within(even.lower, 675, 0.01, "lower");
  const flat = um(grind(playRoutine(rough, 240), { pressure: "flat discs" }));
  // CROSS-CHECK ../secondRoute.py, plane of flat discs: 1755 and -476, a misfit that keeps growing
  within(flat.upper, 1763.4, 0.01, "flat upper");
  within(flat.lower, -484, 0.02, "flat lower");
});

Deno.test("fact: depth grows in proportion to time, but for a fast start", () => {
  const bench = new WearBench(usual);
  const at = new Map<number, number>();
  playRoutine(rough, 240).forEach((set, i) => {
    bench.grind(set);
    at.set((i + 1) / 2, fittedSagitta(bench.worn.upper) * 1000);
  });
  const depth = (minute: number): number => at.get(minute) ?? NaN;
  // DERIVED 6 m <d^2> / a^2 = 9.356 um/min
  within((depth(120) - depth(60)) / 60, 9.356, 0.007, "the second hour");
  within((depth(60) - depth(24)) / 36, 9.356, 0.007, "the time before");
  within(depth(12) / 12 / 9.356, 1.16, 0.03, "the first twelve minutes");
  within(depth(3) / 3 / 9.356, 1.34, 0.03, "the first three");
});

Deno.test("fact: swapped, the same rate the other way, with no dead time", () => {
  const bench = new WearBench(usual);
  const sets = playRoutine(rough, 360);
  for (const set of sets.slice(0, 240)) bench.grind(set);
  const before = fittedSagitta(bench.worn.upper) * 1000;
  bench.swap();
  assert.ok(Math.abs(fittedSagitta(bench.worn.lower) * 1000 - before) < 1e-6);
  const after: number[] = [];
  for (const set of sets.slice(240)) {
    bench.grind(set);
    after.push(fittedSagitta(bench.worn.lower) * 1000 - before);
  }
  // CROSS-CHECK ../secondRoute.py, after a swap: -9.8, -112.9, -565 um after 1, 12 and 60 min
  // the first two sets depend on where both discs happened to lie: no dead time is what counts
  within(after[1] ?? NaN, -10.1, 0.15, "one minute");
  within(after[23] ?? NaN, -112.6, 0.02, "twelve minutes");
  within(after[119] ?? NaN, -560.4, 0.01, "an hour");
});

Deno.test("fact: turning makes a figure of revolution; its constancy matters, the count does not", () => {
  const astigmatism = (changes: Partial<typeof rough>): number =>
    departures(grind(playRoutine({ ...rough, ...changes }, 240, 3)).upper).astigmatismUm;
  // CROSS-CHECK tests/shaping/judge.ts, half a set at a step: 206 at 128 cells, 3.17 and 6.25 at 96
  // CROSS-CHECK tests/shaping/judge.ts: regular 0.73 um
  const regular = astigmatism({});
  assert.ok(regular < 1, `regular ${regular}`);
  within(astigmatism({ upperTurn: 0 }), 206, 0.05, "never turned");
  within(astigmatism({ strokes: [20, 20, 30] }), 3.17, 0.1, "half as much again at one place");
  within(astigmatism({ strokes: [20, 20, 40] }), 6.25, 0.1, "twice at one place");
  const random = astigmatism({ strokeScatter: 0.3 });
  assert.ok(random < 1.5, `random ${random}`);
});

Deno.test("fact: hanging over too far still deepens, but no longer makes a sphere", () => {
  const rms = (offset: number, travel: number): number =>
    departures(grind(playRoutine({ ...rough, offset, travel }, 240)).upper).rmsUm;
  // CROSS-CHECK ../secondRoute.py, beside a sphere: 9.08 inside the limit; 43.8 and 239 um beyond it
  assert.ok(rms(37.5, 50) < 10);
  assert.ok(rms(45, 50) > 35);
  assert.ok(rms(45, 100) > 200);
});

Deno.test("fact: fine grades hardly change the curve, and wear goes with the grain", () => {
  const sets = playRoutine(centreRoutine(150), 300);
  const change = (sizeUm: number): number => {
    const { upper, lower } = um(grind(sets, wearSettings(150, { sizeUm })));
    return (upper - lower) / 2;
  };
  // DERIVED 6 m <d^2> / a^2 x grain / 185 um, an hour over the centre: 72.43, 11.43, 1.17 um
  within(change(185), 72.43, 0.005, "F80");
  within(change(29.2), 11.43, 0.005, "F320");
  within(change(3), 1.175, 0.005, "F1200");
});

Deno.test("closed forms: unequal discs, unequal hardness, a leaning hand", () => {
  const cases: readonly (readonly [string, Partial<WearSettings>, number, number, number])[] = [
    ["a smaller upper disc", { upperRadius: 60 }, 0, 70, 0.02],
    ["a lower disc twice as soft", { lowerWear: 8e-4 }, 37.5, 50, 0.01],
    ["a hand leaning 5 mm toward the middle", { lean: [0, -5] }, 37.5, 50, 0.01],
    ["a hand leaning 5 mm toward the overhang", { lean: [0, 5] }, 37.5, 50, 0.01],
  ];
  for (const [name, changes, offset, travel, share] of cases) {
    const strokes = 240 * 20, settings = { ...usual, ...changes };
    const worn = um(grind(playRoutine({ ...rough, offset, travel }, 240), changes));
    const law = closedWear(settings, { offset, travel }, strokes);
    // the law is of the mean of both discs: what one leads by, the other lags
    const curve = worn.upper / settings.upperRadius ** 2 - worn.lower / settings.lowerRadius ** 2;
    const wanted = law.upperSagitta / settings.upperRadius ** 2 -
      law.lowerSagitta / settings.lowerRadius ** 2;
    within(curve, wanted * 1000, share, name);
  }
});

Deno.test("a removal map is the disc's own, and its mean is the mean removal", () => {
  const { upper } = grind(playRoutine({ ...rough, upperTurn: 0 }, 60));
  const map = removalMap(upper);
  let whole = 0, sum = 0;
  for (const { radius, removal } of map) whole += radius, sum += radius * removal;
  within(sum / whole, meanRemoval(upper), 1e-9, "mean");
  // never turned, the mark stays: most is lost where the disc hangs inward, toward -y
  const near = (angle: number): number =>
    map.filter((one) => Math.abs(one.angle - angle) < 0.1 && one.radius > 50)
      .reduce((most, { removal }) => Math.max(most, removal), 0);
  assert.ok(near(3 * Math.PI / 2) > near(Math.PI / 2));
  const turned = grind(
    playRoutine({ ...rough, upperTurn: 0 }, 60).map((set, i) =>
      i === 59 ? { ...set, upperTurn: Math.PI / 2 } : set
    ),
  );
  const again = new Map(
    removalMap(turned.upper).map(({ radius, angle, removal }) => [
      `${radius.toFixed(3)} ${(angle + 1e-9).toFixed(3)}`,
      removal,
    ]),
  );
  const { radius, angle, removal } = map[72 * 20 + 11] ?? { radius: 0, angle: 0, removal: 0 };
  assert.equal(again.get(`${radius.toFixed(3)} ${(angle + 1e-9).toFixed(3)}`), removal);
});

Deno.test("the judge itself: published figures of the plain grid at 64 cells", () => {
  const six = judge(playRoutine(rough, 6), { cells: 64, lump: 1, places: 8 });
  // CROSS-CHECK ../secondRoute.py, six sets on a plain grid: the same physics stroke by stroke, 64 cells, 8 places (its upper disc kept the lower's plane)
  within(six.upper.sagitta, 37.622, 0.0002, "upper sagitta");
  within(six.lower.sagitta, -18.325, 0.0002, "lower sagitta");
  within(six.upper.removal, 16.2975, 0.0002, "removal");
  within(six.upper.spherical, -2.010, 0.001, "spherical");
  within(six.upper.trefoil, 1.477, 0.001, "trefoil");
  within(six.upper.rms, 3.376, 0.001, "upper rms");
  within(six.lower.rms, 2.660, 0.001, "lower rms");
});

Deno.test("the judge itself, after 24 sets: within a quarter of a percent of the plain grid that kept one plane", () => {
  const sets = judge(playRoutine(rough, 24), { cells: 64, lump: 1, places: 8 });
  // CROSS-CHECK ../secondRoute.py, 24 sets on a plain grid: 64 cells, 8 places, whose upper disc wears by the plane found on the lower's cells; the judge
  // finds it anew on the upper's. RECORDED: with that one line of the judge changed it gives every printed digit; as it
  // stands it is 0.13, 0.06, 0.22 and 0.18 % off.
  within(sets.upper.sagitta, 130.357, 0.0015, "upper sagitta");
  within(sets.lower.sagitta, -93.194, 0.0007, "lower sagitta");
  within(sets.upper.rms, 7.307, 0.0025, "upper rms");
  within(sets.lower.rms, 3.912, 0.0025, "lower rms");
  // DERIVED the plane found anew takes the same volume from both, which the other does not: 65.11 and 65.20 um
  within(sets.upper.removal, sets.lower.removal, 1e-9, "equal volumes");
});

Deno.test("ten routines beside the judge at 128 cells: two rounds of turning, half a set at a step", () => {
  const rows = besideJudge(48, 10);
  for (const { name, worn, judged } of rows) holdToJudge(name, worn, judged);
  const worst = Math.max(
    ...rows.flatMap(({ worn, judged }) => sagittasOff(worn, judged).map(Math.abs)),
  );
  console.log(`  sagittas within ${(100 * worst).toFixed(2)} %`);
});

Deno.test("bad input: a disc that tips, a stroke too long, a grid that cannot turn", () => {
  const [set] = playRoutine(rough, 1);
  assert.ok(set);
  const bench = new WearBench(usual);
  assert.throws(
    () => bench.grind({ ...set, offset: 76 }),
    /over the lower disc, got .* at which it tips/,
  );
  assert.throws(
    () => bench.grind({ ...set, travel: 151 }),
    /no longer than the lower disc in mm, got 151 on 150/,
  );
  assert.throws(() => new WearBench(usual, { angles: 50 }), /divisible by 24/);
  assert.throws(() => wearSettings(150, undefined, { force: 0 }), /force above 0, got force=0/);
  assert.throws(() => wearSettings(150, undefined, { lean: [NaN, 0] }), /finite lean/);
  const unequal = new WearBench({ ...usual, upperRadius: 60 });
  assert.throws(() => unequal.swap(), /one size and hardness/);
});

import assert from "node:assert/strict";
import { ground, strokesAndTurns } from "../../../lib/figures/live/strokesAndTurns.ts";
import { departures, fittedSagitta } from "../../../lib/shaping/grinding/discShape.ts";
import { chordRoutine, playRoutine } from "../../../lib/shaping/grinding/routine.ts";
import { WearBench } from "../../../lib/shaping/grinding/wear.ts";
import { closedWear, wearSettings } from "../../../lib/shaping/grinding/wearLaws.ts";

const usual = { ...strokesAndTurns.start, minutes: 60 };
const after = (changes: Record<string, number>): ReturnType<typeof ground> =>
  ground({ ...usual, ...changes });

Deno.test("the figure's rate is the wear engine's on the same strokes, and near the closed form", () => {
  const bench = new WearBench(wearSettings(150), { rings: 8, angles: 24, places: 3 });
  playRoutine({ ...chordRoutine(150), strokes: 80 }, 30).forEach((set) => bench.grind(set));
  assert.equal(after({}).rate, 1000 * fittedSagitta(bench.worn.upper) / 60);
  // CROSS-CHECK lib/shaping/grinding/wearLaws.ts, the closed form of the same balance, which needs no pressure law; the grid is coarse and the start fast
  const closed = closedWear(wearSettings(150), { offset: 37.5, travel: 50 }, 2400);
  assert.ok(Math.abs(after({}).rate / (1000 * closed.upperSagitta / 60) - 1) < 0.15);
  assert.ok(Math.abs(after({}).removal / (1000 * closed.upperRemoval) - 1) < 0.01);
});

Deno.test("swapping the discs turns the sign over", () => {
  const top = after({}), below = after({ below: 1 });
  assert.ok(top.rate > 0 && below.rate < 0);
  assert.deepEqual([top.side, below.side], ["upper", "lower"]);
  assert.ok(Math.abs(below.rate / top.rate + 1) < 0.2);
});

Deno.test("turns never made leave astigmatism; uneven strokes at random hardly any", () => {
  const none = after({}).astigmatism;
  assert.ok(after({ missed: 100 }).astigmatism > 20 * none);
  assert.ok(after({ missed: 50 }).astigmatism > 2 * none);
  assert.ok(after({ unequal: 30 }).astigmatism < 2 * none);
});

Deno.test("astigmatism is the library's own, by its least-squares fit of all terms", () => {
  for (
    const changes of [{}, { missed: 100 }, { missed: 50, below: 1 }, { offset: 10, unequal: 60 }]
  ) {
    const { worn, side, astigmatism } = after(changes);
    const fitted = departures(worn[side]).astigmatismUm;
    assert.ok(Math.abs(astigmatism - fitted) < 1e-9 * (1 + fitted), `${astigmatism}, ${fitted}`);
  }
});

Deno.test("depth goes with the overhang squared", () => {
  // DERIVED: <d²> = 37.5² + 50²/12 = 1614.6 against 50²/12 = 208.3: 7.75 times
  const ratio = after({}).rate / after({ offset: 0 }).rate;
  assert.ok(Math.abs(ratio / 7.75 - 1) < 0.1, String(ratio));
  assert.equal(after({}).ofLimit.toFixed(2), "0.86");
});

Deno.test("the work does not depend on the way the slider took: forth, back, and past another stroke", () => {
  const first = after({ minutes: 20 }).rate;
  after({ minutes: 60 });
  after({ offset: 10 });
  assert.equal(after({ minutes: 20 }).rate, first);
});

import assert from "node:assert/strict";
import {
  chooseStrokes,
  columnOf,
  emphasised,
  placesOf,
  reweighed,
  SHORTEST,
  timeable,
  withEnds,
  withoutFocus,
} from "../../../lib/shaping/figuring/figuringChoice.ts";
import { fullLapStrokes } from "../../../lib/shaping/figuring/figuringStrokes.ts";
import { near } from "../../references/reference.ts";

const rim = 74, grid = placesOf(rim), { radii, q, weights, worth } = grid;
const edge = (heights: readonly number[]): number => withEnds(heights, grid).at(-2) ?? NaN;

Deno.test("places halve the area as often as they count, from the centre to the rim", () => {
  assert.deepEqual([q[0], q.at(-1)], [0, 1], "the middle and the rim themselves");
  assert.ok(q.every((v, i) => i === 0 || v > (q[i - 1] ?? Infinity)), "rising");
  for (const shares of [weights, worth]) {
    near(shares.reduce((sum, v) => sum + v, 0), 1, 0.02, "they share out the whole");
  }
  const half = weights.reduce((sum, w, i) => (q[i] ?? 0) < 0.5 ? sum + w : sum, 0);
  near(half, 0.5, 1e-12, "half of the area within half of the square", "absolute");
  radii.forEach((radius, i) => near((radius / rim) ** 2, q[i] ?? NaN, 1e-12, "q"));
});

Deno.test("the edge counts by how far it rolls away, up or down, from a tenth inside it", () => {
  assert.equal(edge(q.map(() => 40)), 0, "a level edge");
  const rolled = q.map((v) => v > 0.9 ? -30 : 5);
  assert.ok(edge(rolled) < 0);
  near(edge(rolled.map((v) => -v)), -edge(rolled), 1e-12, "the other way");
  near(edge(rolled.map((v) => v + 100)), edge(rolled), 1e-12, "wherever zero is");
  near(edge(rolled.map((v) => 2 * v)), 2 * edge(rolled), 1e-12, "twice as far");
});

Deno.test("what refocusing mends is taken away, and nothing else", () => {
  const wave = q.map((v) => Math.cos(Math.PI * 3 * v));
  const bare = withoutFocus(wave, grid);
  const again = withoutFocus(wave.map((v, i) => v + 7 - 12 * (q[i] ?? 0)), grid);
  // DERIVED: the middle rule over sixty places is right to 12 / 60^2
  bare.forEach((v, i) => near(v, again[i] ?? NaN, 12 / 60 ** 2, `place ${i}`, "absolute"));
  near(bare.reduce((sum, v, i) => sum + v * (weights[i] ?? 0), 0), 0, 1e-9, "mean", "absolute");
});

const columns = fullLapStrokes.map((stroke) =>
  columnOf(stroke, grid, { aperture: 150 }, { gain: 1300 / 60 / 1.3, width: 0, unsteady: 1 })
);

const sure = columns.map((column) => ({ ...column, amiss: 0 }));

const square = (values: readonly number[]): number => values.reduce((sum, v) => sum + v * v, 0);

Deno.test("a footprint of four minutes, asked for, is taken off, and nothing is asked for nothing", () => {
  // what may be taken amiss is set aside: it shortens every stroke
  const columns = sure;
  for (const [which, { bare }] of columns.entries()) {
    const wanted = bare.map((v) => 4 * v), chosen = chooseStrokes(columns, wanted, 0);
    assert.ok(chosen.length > 0 && chosen.every(({ minutes }) => minutes > 0), `${which}`);
    const left = wanted.map((v, i) =>
      chosen.reduce((rest, { stroke, minutes }) => {
        const column = columns.find((one) => one.stroke.name === stroke.name);
        return rest - minutes * (column?.bare[i] ?? NaN);
      }, v)
    );
    // a stroke that hardly shapes is not worth all its minutes
    assert.ok(square(left) < 0.2 * square(wanted), `${which}: ${square(left) / square(wanted)}`);
  }
  assert.deepEqual(chooseStrokes(columns, withEnds(q.map(() => 0), grid), 0), []);
});

Deno.test("of one stroke that shapes much, alone: its minutes, fewer where the rate is doubtful", () => {
  const shaping = columns.toSorted((a, b) => square(b.bare) / b.amiss - square(a.bare) / a.amiss);
  for (const column of shaping.slice(0, 3)) {
    const minutes = (doubt: number): number =>
      chooseStrokes([{ ...column, amiss: 0 }], column.bare.map((v) => 4 * v), doubt)[0]?.minutes ??
        0;
    // the toll of time shortens it, by little; what may be taken amiss is set aside
    assert.ok(minutes(0) > 3.8 && minutes(0) <= 4, `${column.stroke.name}: ${minutes(0)}`);
    // DERIVED: the least of E[(want - rate t)^2] over t, the rate's share of doubt d: t falls by 1 + d^2
    near(minutes(0) / minutes(0.5), 1.25, 0.02, "by 1 + d^2");
  }
});

Deno.test("what may be taken amiss shortens a stroke, and more of those who keep neither side nor length", () => {
  const [column] = columns.toSorted((a, b) => square(b.bare) - square(a.bare));
  assert.ok(column !== undefined);
  const by = (unsteady: number): number => {
    const own = columnOf(column.stroke, grid, { aperture: 150 }, { gain: 1, width: 0, unsteady });
    return chooseStrokes([own], own.bare.map((v) => 4 * v), 0)[0]?.minutes ?? 0;
  };
  assert.ok(by(1) < 4 && by(3) < by(1), `${by(1)} ${by(3)}`);
});

Deno.test("where a place stands out it counts more, and the rest as before", () => {
  const heights = q.map((v) => v > 0.9 ? 50 : 1), more = emphasised(grid, heights);
  assert.ok((more.worth.at(-1) ?? 0) > 2 * (worth.at(-1) ?? 1));
  near(more.worth[20] ?? NaN, worth[20] ?? NaN, 1e-6, "elsewhere", "absolute");
  const [one] = reweighed(columns, more), [own] = columns;
  assert.ok(one !== undefined && own !== undefined);
  assert.deepEqual(one.bare, withEnds(own.heights, more));
});

Deno.test("what hands can time: a minute or more, by halves of one, or not at all", () => {
  const column = columns.find(({ stroke }) => stroke.travel === 1 / 2 && stroke.offset === 1 / 4);
  assert.ok(column !== undefined);
  const { stroke, bare } = column, times = (n: number): number[] => bare.map((v) => n * v);
  const minutes = (wanted: number): number =>
    timeable([{ stroke, minutes: wanted }], [column], times(wanted)).strokes[0]?.minutes ?? 0;
  assert.deepEqual([0.2, 0.9, 1.2, 7.6].map(minutes), [0, SHORTEST, 1, 7.5]);
});

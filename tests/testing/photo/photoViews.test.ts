/** Views of a mirror: each that is missing is named, none that is there. */
import assert from "node:assert/strict";
import { bothSides, bothSidesTwice, missingViews } from "../../../lib/testing/photo/photoViews.ts";

const inside = { offset: -6, turn: 0.03 }, outside = { offset: 7, turn: -0.02 };
const TURNED = "photographs from both sides of focus with the grating turned by 45 degrees";
const turned = (by: number) => [inside, outside].map((view) => ({ ...view, turn: view.turn + by }));

Deno.test("both sides of focus at two turns are wanted, and a second photograph first", () => {
  assert.deepEqual(missingViews([inside]), [
    "a second photograph",
    "a photograph from outside of focus",
    TURNED,
  ]);
  assert.deepEqual(missingViews([inside, { ...inside, offset: -8 }]), [
    "a photograph from outside of focus",
    TURNED,
  ]);
  assert.deepEqual(missingViews([inside, outside]), [TURNED]);
  assert.deepEqual(missingViews([outside, { ...outside, turn: 0.8 }]), [
    "a photograph from inside of focus",
    TURNED,
  ]);
  assert.deepEqual(missingViews([inside, outside, ...turned(Math.PI / 4)]), []);
});

Deno.test("a quarter of a turn, half a turn, and a pair turned within itself do not do", () => {
  for (const by of [Math.PI / 2, Math.PI, 0.05]) {
    assert.ok(!bothSidesTwice([inside, outside, ...turned(by)]), String(by));
  }
  assert.ok(bothSidesTwice([inside, outside, ...turned((3 * Math.PI) / 4)]));
  assert.ok(!bothSides([inside, { ...outside, turn: 0.8 }]));
  assert.ok(!bothSidesTwice([inside, outside, ...turned(Math.PI / 4).slice(1)]));
});

/** Views of a mirror: each that is missing is named, none that is there. */
import assert from "node:assert/strict";
import { missingViews } from "../../lib/testing/photoViews.ts";

const QUARTER = Math.PI / 2;

Deno.test("both sides of focus and two turns are wanted, and a second photograph first", () => {
  const inside = { offset: -6, turn: 0.03 }, outside = { offset: 7, turn: -0.02 };
  assert.deepEqual(missingViews([inside]), [
    "a second photograph",
    "a photograph from outside of focus",
    "a photograph with the mirror or the grating turned by a quarter",
  ]);
  assert.deepEqual(missingViews([inside, { ...inside, offset: -8 }]), [
    "a photograph from outside of focus",
    "a photograph with the mirror or the grating turned by a quarter",
  ]);
  assert.deepEqual(missingViews([inside, outside]), [
    "a photograph with the mirror or the grating turned by a quarter",
  ]);
  assert.deepEqual(missingViews([outside, { ...outside, turn: QUARTER }]), [
    "a photograph from inside of focus",
  ]);
  assert.deepEqual(missingViews([inside, { ...outside, turn: QUARTER }]), []);
  // a grating turned by half a turn shows the same lines
  assert.equal(missingViews([inside, { ...outside, turn: Math.PI }]).length, 1);
});

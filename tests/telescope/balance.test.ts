import assert from "node:assert/strict";
import fc from "fast-check";
import {
  addedMoment,
  balance,
  bearingRadiusFor,
  counterweight,
  eyeHeight,
  frictionMoment,
  pivotClearance,
} from "../../lib/telescope/balance.ts";
import { near } from "./near.ts";

const parts = [
  { mass: 2100, at: 60 },
  { mass: 3200, at: 600 },
  { mass: 350, at: 1095 },
  { mass: 600, at: 1095 },
  { mass: 400, at: 1000 },
];
const pads = { friction: 0.15, padHalfAngle: (35 * Math.PI) / 180 };
const low = (20 * Math.PI) / 180;

Deno.test("five parts: mass, balance, and a heavy eyepiece at 20 degrees", () => {
  // CROSS-CHECK secondRoute.py, balance: statics: 6.65 kg, 524.248 mm, 1.5779 and 1.0748 N m
  const whole = balance(parts);
  near(whole.mass, 6650, 1e-12);
  near(whole.at, 524.248, 1e-6);
  const moment = addedMoment(300, 1095 - whole.at, low);
  near(moment, 1.5779, 1e-4);
  near(frictionMoment(whole.mass, { radius: 90, ...pads }), 1.0748, 1e-4);
  // DERIVED 1.0748 x 150 / 90 = 1.791 N m: friction goes with the radius
  near(frictionMoment(whole.mass, { radius: 150, ...pads }), 1.79, 3e-3);
});

Deno.test("least bearing for a margin, back and forth", () => {
  // CROSS-CHECK secondRoute.py, pull of an eyepiece: 1.5779 N m
  const radius = bearingRadiusFor(1.5779, 6650, pads, 1.1);
  near(frictionMoment(6650, { radius, ...pads }), 1.1 * 1.5779, 1e-12);
  assert.ok(radius > 90 && radius < 150);
  const whole = { radius: 90, ...pads };
  assert.equal(bearingRadiusFor(1.5779, 6650, whole, 1.1), radius, "the old radius does not count");
});

Deno.test("counterweight brings the balance back", () => {
  const heavy = [...parts, { mass: 300, at: 1095 }];
  const mass = counterweight(heavy, 524.248, 20) ?? 0;
  // DERIVED: 300 x 570.752 / 504.248
  near(mass, 339.6, 1e-3);
  near(balance([...heavy, { mass, at: 20 }]).at, 524.248, 1e-6);
  assert.equal(counterweight(heavy, 524.248, 1000), undefined);
});

Deno.test("laws: masses scale out, moving all parts moves the balance", () => {
  const part = fc.record({
    mass: fc.double({ min: 1, max: 5000, noNaN: true }),
    at: fc.double({ min: -100, max: 2000, noNaN: true }),
  });
  fc.assert(fc.property(fc.array(part, { minLength: 1, maxLength: 8 }), (list) => {
    const { at } = balance(list);
    const twice = balance(list.map((p) => ({ ...p, mass: 2 * p.mass })));
    const moved = balance(list.map((p) => ({ ...p, at: p.at + 100 })));
    assert.ok(Math.abs(twice.at - at) < 1e-6 && Math.abs(moved.at - at - 100) < 1e-6);
    assert.ok(at >= Math.min(...list.map((p) => p.at)) - 1e-6);
  }));
});

Deno.test("straight up nothing turns the tube; level it is worst", () => {
  assert.ok(addedMoment(300, 570, Math.PI / 2) < 1e-12);
  assert.ok(addedMoment(300, 570, 0) > addedMoment(300, 570, low));
});

Deno.test("eye and base", () => {
  // DERIVED: 700 + 571 sin 20 degrees = 895.29
  assert.equal(eyeHeight(700, 571, 0), 700);
  near(eyeHeight(700, 571, low), 895.3, 1e-3);
  assert.equal(pivotClearance(400, 300), 500);
});

Deno.test("refuses what cannot be", () => {
  assert.throws(() => balance([]), /balance requires parts/);
  assert.throws(() => balance([{ mass: -1, at: 0 }, { mass: 2, at: 0 }]), RangeError);
  assert.throws(() => balance([{ mass: 0, at: 5 }]), RangeError);
  assert.throws(() => addedMoment(1, 1, 2), /up to pi\/2/);
  assert.throws(
    () => frictionMoment(1, { radius: 90, friction: 0.1, padHalfAngle: 2 }),
    RangeError,
  );
  assert.throws(() => bearingRadiusFor(1, 1, { ...pads, friction: 0 }, 1), RangeError);
  assert.throws(() => counterweight(parts, 500, 500), /away from the pivot/);
});

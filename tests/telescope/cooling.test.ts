import assert from "node:assert/strict";
import fc from "fast-check";
import { cooling, FAN, minutesToCool, STILL_AIR } from "../../lib/telescope/cooling.ts";
import { near } from "./near.ts";

const soda = { densityKgPerM3: 2500, heatJPerKgK: 840, conductivityWPerMK: 1 };
const boro = { densityKgPerM3: 2230, heatJPerKgK: 830, conductivityWPerMK: 1.1 };

Deno.test("time constants with a fan: lumped and exact slab, min", () => {
  // CROSS-CHECK secondRoute.py, cooling: density x heat x t / 2h and the first root of x tan x = h t / 2k
  const rows = [
    [25, soda, 43.75, 45.588],
    [40, soda, 70, 74.726],
    [25, boro, 38.56, 40.03],
    [40, boro, 61.7, 65.48],
  ] as const;
  for (const [thickness, glass, lumped, slab] of rows) {
    const found = cooling({ thickness, ...glass }, FAN);
    near(found.lumped, lumped);
    near(found.timeConstant, slab);
  }
});

Deno.test("ten kelvins to half a kelvin", () => {
  // DERIVED 45.588 x ln 20
  near(minutesToCool(cooling({ thickness: 25, ...soda }, FAN).timeConstant, 10, 0.5), 136.6);
  assert.equal(minutesToCool(30, 2, 2), 0);
  assert.throws(() => minutesToCool(30, 1, 2), /to <= from/);
});

Deno.test("law: still air is nearly twice as slow, one face nearly twice again, and the slab never faster", () => {
  const fan = cooling({ thickness: 25, ...soda }, FAN);
  const still = cooling({ thickness: 25, ...soda }, STILL_AIR);
  const back = cooling({ thickness: 25, ...soda }, STILL_AIR, 1);
  near(still.lumped, 2 * fan.lumped, 1e-12);
  assert.ok(
    still.timeConstant < 2 * fan.timeConstant && still.timeConstant > 1.9 * fan.timeConstant,
  );
  near(back.lumped, 2 * still.lumped, 1e-12);
  fc.assert(fc.property(
    fc.double({ min: 5, max: 100, noNaN: true }),
    fc.double({ min: 1, max: 50, noNaN: true }),
    (thickness, h) => {
      const found = cooling({ thickness, ...soda }, h);
      assert.ok(found.timeConstant >= found.lumped * (1 - 1e-12));
      if (found.biot < 0.1) assert.ok(found.timeConstant < 1.04 * found.lumped);
    },
  ));
});

Deno.test("refuses what cannot be", () => {
  assert.throws(() => cooling({ thickness: 0, ...soda }, 5), RangeError);
  assert.throws(() => cooling({ thickness: 25, ...soda }, -5), RangeError);
});

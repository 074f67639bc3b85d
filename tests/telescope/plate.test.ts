import assert from "node:assert/strict";
import { plateOnPoints } from "../../lib/telescope/plate.ts";
import { near } from "./near.ts";

const deg = (angle: number): number => (angle * Math.PI) / 180;

Deno.test("RMS on three and six points, Poisson's ratio 0.20", () => {
  // CROSS-CHECK scipy 1.10.1: Ritz with Zernike polynomials to order 60, printed to 4 digits
  const rows = [
    [3, 0.645, 6.1286e-3, 5.685e-3],
    [3, 0.6489, 6.1234e-3, undefined],
    [3, 0.4, 1.583e-2, 2.424e-3],
    [3, 0.7071, 7.234e-3, undefined],
    [6, 0.6816, 7.969e-4, undefined],
  ] as const;
  for (const [points, radius, rms, refocused] of rows) {
    const sag = plateOnPoints([{ points, radius }], 0.2);
    near(sag.rms, rms, 3e-4, `${points} at ${radius}`);
    if (refocused !== undefined) near(sag.rmsRefocused, refocused, 3e-4);
  }
});

Deno.test("points at the edge sag four times as much", () => {
  // CROSS-CHECK scipy 1.10.1: 4.009 (0.20), 3.921 (0.25); READ in a quotation of Nelson, Lubliner, Mast 1982: about 4
  for (const [poisson, best, times] of [[0.2, 0.6489, 4.009], [0.25, 0.6444, 3.921]] as const) {
    const [edge, inside] = [1, best].map((radius) =>
      plateOnPoints([{ points: 3, radius }], poisson).rms
    );
    near((edge ?? 0) / (inside ?? 1), times, 3e-4);
  }
});

Deno.test("published coefficient of three and six points, Poisson's ratio 0.25", () => {
  // MEMORY Nelson, Lubliner, Mast, SPIE 332 (1982): gamma 5.76e-3 and 2.93e-3, with c = gamma pi^2 / points^2
  for (const [points, radius, gamma] of [[3, 0.645, 5.76e-3], [6, 0.681, 2.93e-3]] as const) {
    const { rms } = plateOnPoints([{ points, radius }], 0.25);
    near((rms * points ** 2) / Math.PI ** 2, gamma, 0.012);
  }
});

Deno.test("nine and eighteen points", () => {
  // CROSS-CHECK scipy 1.10.1: Ritz to order 60; places are printed to three digits only, hence 1 %
  const nine = plateOnPoints([
    { points: 3, radius: 0.377 },
    { points: 3, radius: 0.817, turn: deg(31.4) },
    { points: 3, radius: 0.817, turn: deg(-31.4) },
  ], 0.2);
  near(nine.rms, 4.563e-4, 1e-2);
  const eighteen = plateOnPoints([
    { points: 6, radius: 0.361 },
    { points: 6, radius: 0.823, turn: deg(15.1) },
    { points: 6, radius: 0.823, turn: deg(-15.1) },
  ], 0.2);
  near(eighteen.rms, 5.814e-5, 1e-2);
});

Deno.test("many points on the edge are a simply supported plate: the closed form", () => {
  // DERIVED Timoshenko: middle below the edge by q a^4 (5 + nu) / 64 D (1 + nu), Poisson's ratio 0.2
  const sag = plateOnPoints([{ points: 60, radius: 1 }], 0.2, 50);
  near(sag.at(1, 0) - sag.at(0, 0), 5.2 / (64 * 1.2), 2e-4);
});

Deno.test("RMS by the polynomials' own norm is the RMS of the heights", () => {
  const sag = plateOnPoints([{ points: 3, radius: 0.645 }], 0.22);
  let mean = 0, square = 0;
  const rings = 60, round = 48;
  for (let i = 0; i < rings; i++) {
    for (let j = 0; j < round; j++) {
      const height = sag.at(Math.sqrt((i + 0.5) / rings), (2 * Math.PI * (j + 0.5)) / round);
      mean += height / rings / round;
      square += height ** 2 / rings / round;
    }
  }
  assert.ok(Math.abs(mean) < 1e-6, `mean ${mean}`);
  near(Math.sqrt(square), sag.rms, 5e-3);
});

Deno.test("law: turning the ring turns the sag, and no more", () => {
  const straight = plateOnPoints([{ points: 3, radius: 0.5 }], 0.2, 30);
  const turned = plateOnPoints([{ points: 3, radius: 0.5, turn: 0.7 }], 0.2, 30);
  near(turned.rms, straight.rms, 1e-10);
  for (const [r, angle] of [[0.3, 0.2], [0.8, 2.5], [1, -1]] as const) {
    near(turned.at(r, angle + 0.7), straight.at(r, angle), 1e-8);
  }
});

Deno.test("law: two rings of three at 60 degrees are one of six", () => {
  const two = plateOnPoints(
    [{ points: 3, radius: 0.6 }, { points: 3, radius: 0.6, turn: Math.PI / 3 }],
    0.2,
    40,
  );
  near(two.rms, plateOnPoints([{ points: 6, radius: 0.6 }], 0.2, 40).rms, 1e-10);
});

Deno.test("refuses points off the glass, and too few", () => {
  const bad = [[], [{ points: 2, radius: 0.5 }], [{ points: 3, radius: 1.1 }], [{
    points: 2.5,
    radius: 0.5,
  }]];
  for (const rings of bad) assert.throws(() => plateOnPoints(rings, 0.2), /plateOnPoints requires/);
  assert.throws(() => plateOnPoints([{ points: 3, radius: 0.5 }], 0.5), RangeError);
});

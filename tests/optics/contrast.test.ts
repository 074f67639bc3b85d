import assert from "node:assert/strict";
import { contrastAt } from "../../lib/optics/contrast.ts";
import { close } from "./close.ts";

Deno.test("perfect mirror: (2/pi)(acos v - v sqrt(1 - v^2))", () => {
  // DERIVED area of two overlapping circles over one circle's
  for (const v of [0, 0.1, 0.25, 0.5, 0.75, 0.9, 1]) {
    close(contrastAt(v), (2 / Math.PI) * (Math.acos(v) - v * Math.sqrt(1 - v * v)), 1e-6);
  }
});

Deno.test("obstruction: areas of overlap counted on a fine grid", () => {
  for (const obstruction of [0.2, 0.35]) {
    for (const v of [0.1, 0.3, 0.6]) {
      const n = 1500,
        open = (x: number, y: number): boolean => {
          const r = Math.hypot(x, y);
          return r <= 1 && r >= obstruction;
        };
      let both = 0, one = 0;
      for (let i = 0; i < n; i++) {
        for (let k = 0; k < n; k++) {
          const x = (2 * i + 1) / n - 1, y = (2 * k + 1) / n - 1;
          if (open(x, y)) one++;
          if (open(x - v, y) && open(x + v, y)) both++;
        }
      }
      close(contrastAt(v, obstruction), both / one, 1.5e-3);
    }
  }
});

Deno.test("the whole curve holds the Strehl ratio as its volume", () => {
  // DERIVED Strehl = Int MTF v dv / Int perfect MTF v dv for a symmetrical wavefront
  const volume = (waves?: (q: number) => number): number => {
    let sum = 0;
    for (let i = 0; i < 60; i++) sum += ((i + 0.5) / 60) * contrastAt((i + 0.5) / 60, 0, waves);
    return sum;
  };
  // CROSS-CHECK scipy 1.10.1: quarter-wave spherical aberration at best focus, Strehl 0.80030480
  close(volume((q) => q * q - q) / volume(), 0.8003048, 5e-4);
});

Deno.test("no wavefront raises the contrast of a perfect one", () => {
  for (const v of [0.1, 0.3, 0.5, 0.8]) {
    assert.ok(contrastAt(v, 0, (q) => 0.4 * (q * q - q)) <= contrastAt(v) + 1e-9);
    assert.ok(contrastAt(v, 0, (q) => 0.5 * q) < contrastAt(v));
  }
  assert.ok(contrastAt(0.35, 0, (q) => 2 * q) < 0.05, "strong defocus loses or turns it");
});

Deno.test("refusals", () => {
  assert.throws(() => contrastAt(1.2), RangeError);
  assert.throws(() => contrastAt(0.5, 1), RangeError);
});

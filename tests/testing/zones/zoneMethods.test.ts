import assert from "node:assert/strict";
import { reduceBy } from "../../../lib/testing/zones/zoneMethods.ts";
import { close } from "../../optics/close.ts";
import { readings, referenceMirrors, truth } from "../judge.ts";

const EDGES = [0, 30, 45, 57, 67, 75];
const zones = EDGES.slice(1).map((outer, i) => ({ inner: EDGES[i] ?? 0, outer }));
const tester = { half: 75, radius: 2400, source: "moves", openings: "bands" } as const;
const ideal = zones.map(({ inner, outer }) => (inner * inner + outer * outer) / 4 / 2400);

Deno.test("worked example: one set of readings by two, three and four coefficients", () => {
  // CROSS-CHECK ../secondRoute.py, one set by a conic: printed to six digits; D 150, R 2400, moving, readings 0.10 0.35 0.50 0.75 1.08 mm
  const departures = [0.1, 0.35, 0.5, 0.75, 1.08].map((v, i) => v - (ideal[i] ?? 0));
  const conic = reduceBy(zones, departures, tester, "conic only");
  close(conic.conic, -0.975037, 1e-6);
  close(conic.wavefrontRmsWaves, 0.00193574, 6e-9);
  close(conic.wavefrontPvWaves, 0.00649266, 6e-9);
  close(conic.strehl, 0.99985208, 6e-9);
  // CROSS-CHECK ../secondRoute.py, one set by polynomials: RMS of three and four coefficients
  // CROSS-CHECK ../secondRoute.py, their P-V: of the same
  const three = reduceBy(zones, departures, tester, "polynomial");
  close(three.wavefrontPvWaves, 0.0197497, 4e-5); // peaks between the places of the grid, by parabola
  close(three.wavefrontRmsWaves, 0.00401503, 6e-9);
  const four = reduceBy(zones, departures, tester, "polynomial", 550, 3);
  close(four.wavefrontPvWaves, 0.0255018, 4e-5);
  close(four.wavefrontRmsWaves, 0.00861919, 6e-9);
});

Deno.test("worked example: what 0.05 mm of noise makes of nothing", () => {
  // CROSS-CHECK ../secondRoute.py, floor of noise: RMS 0.00506150, 0.00623435, 0.00785412 waves; sd(K) 0.0652720
  const floor = (method: "conic only" | "polynomial", degree?: number): number =>
    0.05 *
    Math.hypot(...zones.map((_, j) =>
      reduceBy(zones, unit(j), tester, method, 550, degree).wavefrontRmsWaves
    ));
  close(floor("conic only"), 0.0050615, 6e-9);
  close(floor("polynomial", 2), 0.00623435, 6e-9);
  close(floor("polynomial", 3), 0.00785412, 6e-9);
  const k = zones.map((_, j) => reduceBy(zones, unit(j), tester, "conic only").conic + 1);
  close(0.05 * Math.hypot(...k), 0.065272, 6e-7);
});

Deno.test("what each method makes of the three reference mirrors, % off in P-V and RMS", () => {
  // CROSS-CHECK ../secondRoute.py, what methods miss: printed to 0.1 %; 0.4 % allowed for places of the peak
  const table: [Parameters<typeof reduceBy>[3], number, number[]][] = [
    ["natural spline", 0, [0, 0, -1.1, -0.5, -4.6, -2.9]],
    ["conic only", 1, [0, 0, -31.2, 4.8, -49.9, -42.3]],
    ["polynomial", 2, [0, 0, 3.9, 19.1, -27.8, -40.8]],
    ["polynomial", 3, [0, 0, 2.4, 0.9, -20.4, -21.5]],
    ["polynomial", 4, [0, 0, 2.7, -1, -6.7, 2.3]],
  ];
  for (const [method, degree, printed] of table) {
    referenceMirrors().forEach((mirror, i) => {
      const windows = mirror.edges.slice(1).map((outer, z) => ({
        inner: mirror.edges[z] ?? 0,
        outer,
      }));
      const departures = readings(mirror).map((v, z) =>
        v - ((windows[z]?.inner ?? 0) ** 2 + (windows[z]?.outer ?? 0) ** 2) / 4 / mirror.radius
      );
      const got = reduceBy(
        windows,
        departures,
        { ...tester, half: mirror.half, radius: mirror.radius },
        method,
        550,
        degree,
      );
      const real = truth(mirror);
      close(
        100 * (got.wavefrontPvWaves / real.pv - 1),
        printed[2 * i] ?? 0,
        0.4,
        `${method} ${degree} mirror ${i + 1} P-V`,
      );
      close(
        100 * (got.wavefrontRmsWaves / real.rms - 1),
        printed[2 * i + 1] ?? 0,
        0.3,
        `${method} ${degree} mirror ${i + 1} RMS`,
      );
    });
  }
});

Deno.test("too few zones are refused", () => {
  assert.throws(() => reduceBy(zones.slice(0, 2), [0, 0], tester, "polynomial"), RangeError);
});

function unit(j: number): number[] {
  return zones.map((_, i) => i === j ? 1 : 0);
}

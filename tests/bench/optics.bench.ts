/** Rays, Zernike fit and a linear reduction's throws beside numpy; the whole zone test, which has no peer, by itself. */
import { traceRays } from "../../lib/optics/rayTrace.ts";
import { zernikeFitter } from "../../lib/optics/zernikeFit.ts";
import { matrix, product, solve, transpose } from "../../lib/numeric/smallMatrix.ts";
import { throwReadings } from "../../lib/testing/zones/throws.ts";
import { reduceZones } from "../../lib/testing/zones/zones.ts";
import { SPELL_2, zoneTest } from "../testing/story.ts";
import { beside, type Race } from "./beside.ts";

function zoneThrows(): () => number {
  const radii = [20, 40, 55, 70, 82, 95].flatMap((r) => [r, r, r, r].map((v) => v / 100));
  const rows = matrix(24, 3, (i, j) => (radii[i] ?? 0) ** (2 * j)), turned = transpose(rows);
  const fit = solve(product(turned, rows), turned);
  const shapes = matrix(32, 3, (i, j) => (i / 31) ** (2 * j + 2) / (2 * j + 2));
  const noise = Float64Array.from(
    { length: 240_000 },
    (_, k) => 0.05 * Math.sin(k * 12.9898 + (0.001 * k * k) % 7),
  );
  return () => throwReadings(fit, shapes, noise).pv[7] ?? NaN;
}

function rays(): () => number {
  const n = 1_000_000,
    x = new Float64Array(n),
    y = new Float64Array(n),
    ox = new Float64Array(n),
    oy = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const r = 100 * Math.sqrt((i + 0.5) / n), t = i * 2.399963229728653;
    x[i] = r * Math.cos(t);
    y[i] = r * Math.sin(t);
  }
  const mirror = { radius: 2400, conic: -1, a4: 1e-13, a6: 1e-19 };
  return () => {
    traceRays(mirror, { x: 0.5, y: 0.2, z: 2400 }, 2401, x, y, ox, oy);
    return ox[12345] ?? NaN;
  };
}

function zernikeFit(): () => number {
  const size = 512, fitter = zernikeFitter(size), mask = new Uint8Array(size * size);
  const map = Float64Array.from({ length: size * size }, (_, k) => {
    const x = (2 * (k % size) + 1) / size - 1,
      y = (2 * Math.floor(k / size) + 1) / size - 1,
      q = x * x + y * y;
    mask[k] = q <= 1 ? 1 : 0;
    return 0.3 * x + 0.2 * q - 0.5 * q * q + 0.1 * x * y * q + 0.01 * Math.sin(40 * x + 13 * y * y);
  });
  return () => fitter.fit(map, mask)[3] ?? NaN;
}

/** A computation that gives one number, the same as its peers' but for rounding. */
function race(name: string, work: () => number, peers: Race["peers"] = []): Race {
  return {
    name,
    ours: () => [work()],
    peers,
    input: null,
    tolerance: [1e-9 * Math.max(1, Math.abs(work()))],
  };
}

await beside("peer_optics.py", [
  race("10,000 throws through a linear reduction", zoneThrows(), [
    { kernel: "throws_operator", goal: 0.6 },
  ]),
  race("1e6 rays", rays(), [{ kernel: "rays_whole", goal: 0.6 }]),
  race("Zernike fit, 36 terms on 512 x 512", zernikeFit(), [
    { kernel: "zernike_moments", goal: 1.3 },
    { kernel: "zernike_lstsq", goal: 0.01 },
  ]),
  race(
    "zone test, 10,000 draws, whole",
    () => reduceZones(zoneTest(SPELL_2)).wavefrontPv.value,
  ),
]);

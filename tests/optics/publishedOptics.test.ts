/** Spheres, aberrations, Zernike tables and limits as they stand in print. READ each in `tests/references/published`. */
import { AIRY_DARK_RINGS, airyRadius, besselJ } from "../../lib/optics/airy.ts";
import { departureFromParaboloid } from "../../lib/optics/conic.ts";
import { atBestFocus, peakToValley, radialGrid } from "../../lib/optics/quality.ts";
import {
  conicPvWaves,
  leastFocalLengthForSphere,
  sphericalAberrationWaves,
} from "../../lib/optics/sphereEnough.ts";
import { filmLight, metalIndex } from "../../lib/optics/film.ts";
import { refractiveIndex } from "../../lib/optics/glass.ts";
import { zernike, zernikeSurface, zernikeTerms } from "../../lib/optics/zernike.ts";
import { type Got, hold, published } from "../references/published.ts";

const INCH = 25.4;

Deno.test("paraboloid and sphere of an 8 inch f/6", () => {
  const radius = 96 * INCH, wave = 2e-5 * INCH * 1e6;
  const depth = (inches: number): number =>
    departureFromParaboloid(inches * INCH, { radius, conic: 0 });
  const places = Array.from({ length: 4001 }, (_, i) => i / 1000);
  const left = places.map((r) => (depth(4) * r * r) / 16 - depth(r));
  const most = Math.max(...left);
  hold("paraboloid-and-sphere-8in-f6", {
    "depth from the vertex sphere at the edge, inch": depth(4) / INCH / 1e6,
    "the same, waves of 2e-5 inch": depth(4) / wave,
    "largest from the sphere through middle and edge, waves": most / wave,
    "where that is, inch from the middle": places[left.indexOf(most)] ?? NaN,
  });
});

Deno.test("how slow a sphere must be", () => {
  const ratio = (inches: number, wavelength = 550): number =>
    leastFocalLengthForSphere(inches * INCH, 0.25, wavelength) / (inches * INCH);
  const six = { aperture: 6 * INCH, focalLength: 6 * INCH * 8.17 };
  const grid = radialGrid(), quarter = atBestFocus(grid, grid.q.map((q) => q * q));
  const w = sphericalAberrationWaves({ aperture: 150, focalLength: 150 * 9.56 });
  const confused = grid.q.map((q) => w * (q * q - 1.5 * q));
  const mean = confused.reduce((sum, v, i) => sum + v * (grid.weights[i] ?? 0), 0);
  const square = confused.reduce((sum, v, i) => sum + (v - mean) ** 2 * (grid.weights[i] ?? 0), 0);
  /** focal ratio at which the glass of a sphere is 140 nm deep, from the paraboloid that touches it at the vertex */
  const deep = (aperture: number): number => {
    let low = 2, high = 40;
    for (let turn = 0; turn < 60; turn++) {
      const middle = (low + high) / 2, radius = 2 * aperture * middle;
      if (departureFromParaboloid(aperture / 2, { radius, conic: 0 }) > 140) low = middle;
      else high = middle;
    }
    return low;
  };
  hold("sphere-is-enough", {
    "least focal ratio over the cube root of the diameter in mm, quarter wave of 550 nm": ratio(
      1 / INCH,
    ),
    "the same by Couder, quarter wave of 560 nm": ratio(1 / INCH, 560),
    "least focal ratio of 16 inches": ratio(16),
    "6 inch f/8.17, P-V at the best focus, waves": conicPvWaves(six),
    "6 inch f/8.17, depth of glass, waves":
      departureFromParaboloid(3 * INCH, { radius: 2 * six.focalLength, conic: 0 }) / 550,
    "6 inch f/8.17, P-V at the paraxial focus, waves": sphericalAberrationWaves(six),
    "RMS of a quarter wave P-V, nm": quarter.rmsWaves * 550,
    "150 mm f/9.56 at the least confusion, RMS, waves": Math.sqrt(square),
    "150 mm f/9.56 at the least confusion, P-V, waves": peakToValley(confused, grid.q),
    "150 mm f/9.56 at the best focus, RMS, waves": atBestFocus(
      grid,
      grid.q.map((q) => w * q * q),
    ).rmsWaves,
    ...Object.fromEntries([100, 150, 200, 250].map((aperture): [string, Got] => [
      `0.14 um of glass from the vertex paraboloid: least focal ratio of ${aperture} mm`,
      deep(aperture),
    ])),
  });
});

Deno.test("Seidel's sums in Zernike's terms", () => {
  interface Sums {
    readonly spherical: readonly { readonly W020: number; readonly W040: number }[];
    readonly astigmatism: readonly { readonly W020: number; readonly W222: number }[];
  }
  const { spherical, astigmatism } = published<Sums>("seidel-and-zernike").inputs;
  // Fringe terms are not of unit mean square: 2 rho^2 - 1, rho^2 cos 2 theta and 6 rho^4 - 6 rho^2 + 1
  const got = spherical.flatMap(({ W020, W040 }, i): [string, Got][] => {
    const { coefficient } = zernikeSurface(({ rho }) => W020 * rho ** 2 + W040 * rho ** 4, 4);
    const name = `W020 ${W020}, W040 ${W040}:`, at = `, case ${i + 1}`;
    return [
      [`${name} Z3${at}`, Math.sqrt(3) * coefficient({ n: 2, m: 0 })],
      [`${name} Z8${at}`, Math.sqrt(5) * coefficient({ n: 4, m: 0 })],
    ];
  });
  const twofold = astigmatism.flatMap(({ W020, W222 }): [string, Got][] => {
    const { coefficient } = zernikeSurface(
      ({ rho, theta }) => W020 * rho ** 2 + W222 * (rho * Math.sin(theta)) ** 2,
      4,
    );
    const name = `W020 ${W020}, W222 ${W222} at 90 degrees:`;
    return [
      [`${name} Z0`, coefficient({ n: 0, m: 0 })],
      [`${name} Z3`, Math.sqrt(3) * coefficient({ n: 2, m: 0 })],
      [`${name} Z4`, Math.sqrt(6) * coefficient({ n: 2, m: 2 })],
    ];
  });
  hold("seidel-and-zernike", Object.fromEntries([...got, ...twofold]));
});

Deno.test("a highly aberrated lens in Fringe terms: its P-V, and the RMS that its coefficients have", () => {
  const { fringe } =
    published<{ fringe: Readonly<Record<string, number>> }>("fringe-zernike-lens").inputs;
  // Fringe's number of the terms without azimuth, and their degree
  const terms = [["4", 2], ["9", 4], ["16", 6], ["25", 8], ["36", 10], ["37", 12]] as const;
  const grid = radialGrid(80);
  const waves = grid.q.map((q) =>
    terms.reduce((sum, [name, n]) =>
      sum +
      (fringe[name] ?? NaN) * zernike({ n, m: 0 }, Math.sqrt(q), 0) / Math.sqrt(n + 1), 0)
  );
  const mean = waves.reduce((sum, v, i) => sum + v * (grid.weights[i] ?? 0), 0);
  const square = waves.reduce((sum, v, i) => sum + (v - mean) ** 2 * (grid.weights[i] ?? 0), 0);
  hold("fringe-zernike-lens", {
    "P-V, waves": peakToValley(waves, grid.q),
    "RMS, waves": Math.sqrt(square),
    "variance, waves^2": square,
  });
});

Deno.test("Noll's table of residuals, by the degrees of the terms, which his order and the standard's share", () => {
  // DERIVED a term of degree n has the variance (n+1) G(n - 5/6) / G(n + 23/6) over a common factor (Noll's eq. 25)
  const variances = [NaN];
  let ratio = 1, all = 0;
  for (let n = 1; n < 200_000; n++) {
    if (n > 1) ratio *= (n - 1 - 5 / 6) / (n - 1 + 23 / 6);
    if (n < 20) variances.push((n + 1) * ratio);
    all += (n + 1) * (n + 1) * ratio;
  }
  const factor = 1.0299 / all;
  let left = 1.0299;
  const rows: [string, Got][] = [], terms = zernikeTerms(5);
  for (let j = 2; j <= 21; j++) {
    left -= factor * (variances[terms[j - 1]?.n ?? NaN] ?? NaN);
    rows.push([`residual after ${j} terms, rad^2 (D/r0)^(5/3)`, left]);
  }
  hold("noll-1976-table-4", Object.fromEntries(rows));
});

Deno.test("light inside the first dark ring", () => {
  // DERIVED Rayleigh's law: beyond a circle lies J0^2 + J1^2, and on a dark ring J1 is 0
  const u = Math.PI * AIRY_DARK_RINGS[0];
  const percent = 100 * (1 - besselJ(0, u) ** 2 - besselJ(1, u) ** 2);
  hold("airy-encircled", {
    "light inside the first dark ring, percent": percent,
    "the same, rounded": percent,
  });
});

Deno.test("what a round aperture parts", () => {
  /** rad; wavelength nm, aperture m */
  const angle = (metres: number, nm: number): number => airyRadius(1 / metres, nm) / 1000;
  const moon = 384e6, hubble = angle(2.4, 550), dish = angle(305, 0.21e9);
  hold("rayleigh-limit", {
    "2.40 m, 550 nm: rad": hubble,
    "2.40 m, 550 nm: ly": hubble * 2e6,
    "same, Moon 384 000 km: m": hubble * moon,
    "2.54 m, 633 nm beam to Moon: rad": angle(2.54, 633),
    "2.54 m, 633 nm beam to Moon: spot diameter m": 2 * angle(2.54, 633) * moon,
    "mirror for 5.00 km on the Moon: D cm": 100 * angle(1, 550) * moon / 5000,
    "8.1 m Moon: m": angle(8.1, 550) * 4e8,
    "eye 3.00 mm: rad": angle(0.003, 550),
    "1.00 mm laser 633 nm 15.0 km: rad": angle(0.001, 633),
    "1.00 mm laser 633 nm 15.0 km: spot diameter m": 2 * angle(0.001, 633) * 15_000,
    "star on retina: radius um": airyRadius(0.028 / 0.0065, 550) * 1000,
    "305 m, 21 cm: rad": dish,
    "305 m, 21 cm: ratio": dish / hubble,
  });
});

Deno.test("glass and silver", () => {
  const { nm } = published<{ nm: readonly number[] }>("glass-index").inputs;
  hold("glass-index", {
    ...Object.fromEntries(nm.flatMap((at): [string, Got][] => [
      [`fused quartz at ${at} nm`, refractiveIndex("fused silica", at)],
      [`crown at ${at} nm`, refractiveIndex("borosilicate crown", at)],
    ])),
    "fused silica at 587.725 nm": refractiveIndex("fused silica", 587.725),
  });
  const rows = published<{ nm: readonly number[] }>("silver").inputs.nm;
  hold(
    "silver",
    Object.fromEntries(rows.flatMap((at): [string, Got][] => {
      const { re, im } = metalIndex("silver", at);
      return [[`n at ${at} nm`, re], [`k at ${at} nm`, im]];
    })),
  );
});

Deno.test("thin films", () => {
  /** places between `low` and `high` where reflectance turns, a hundredth apart */
  const turns = (
    reflected: (at: number) => number,
    low: number,
    high: number,
    sign: 1 | -1,
  ): number[] => {
    const all = Array.from({ length: 100 * (high - low) }, (_, i) => low + i / 100);
    return all.filter((at) =>
      sign * (reflected(at) - reflected(at - 0.01)) > 0 &&
      sign * (reflected(at) - reflected(at + 0.01)) >= 0
    );
  };
  const film = (n: number, nm: number, wavelength: number, behind: number): number =>
    filmLight({ re: n, im: 0 }, nm, wavelength, 1, behind).reflected;
  const quenched = (n: number, wavelength: number, behind = 1.52): number[] =>
    turns((nm) => film(n, nm, wavelength, behind), 10, 400, -1);
  const bright = turns((nm) => film(1.333, nm, 650, 1), 10, 700, 1);
  hold("thin-films", {
    "quarter wave of n 1.38 at 550 nm, nm": quenched(1.38, 550)[0] ?? NaN,
    "quarter wave of n 1.38 at 500 nm, nm": quenched(1.38, 500)[0] ?? NaN,
    "second thinnest of n 1.38 that quenches 700 nm, nm": quenched(1.38, 700)[1] ?? NaN,
    "soap film of n 1.333 bright at 650 nm, nm": bright[0] ?? NaN,
    "the second thickness, nm": bright[1] ?? NaN,
    "the third thickness, nm": bright[2] ?? NaN,
    "soap film of 100 nm, n 1.333, brightest at, nm": turns(
      (wavelength) => film(1.333, 100, wavelength, 1),
      380,
      780,
      1,
    )[0] ?? NaN,
    "n 1.28 on 1.68 that quenches 640 nm, nm": quenched(1.28, 640, 1.68)[0] ?? NaN,
    "150 nm of n 1.3698 on fused silica at 587.725 nm, reflected": film(
      1.3698,
      150,
      587.725,
      refractiveIndex("fused silica", 587.725),
    ),
  });
});

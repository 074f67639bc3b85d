/**
 * An independent judge of the zone test: mirrors given by an exact height and slope, readings by the law of reflection
 * with the windows integrated, truth by the exact length of a star's path. It uses nothing of lib/ but random numbers.
 */
import type { RandomSource } from "../../lib/numeric/random.ts";

export interface JudgedMirror {
  /** half the aperture, mm */
  readonly half: number;
  /** vertex radius of the paraboloid aimed at, mm */
  readonly radius: number;
  readonly edges: readonly number[];
  readonly height: (r: number) => number;
  readonly slope: (r: number) => number;
}

export interface Truth {
  /** waves of 550 nm, at the focus of least rms */
  readonly pv: number;
  readonly rms: number;
  readonly strehl: number;
  readonly conic: number;
}

/** A profile, mm, and its slope, by the distance from the middle, mm. */
export type Curve = { height: (r: number) => number; slope: (r: number) => number };
const WAVE = 550e-6; // mm

/** The exact conic, by its implicit equation r^2 + (1+K) z^2 - 2Rz = 0. */
export function conicCurve(radius: number, k: number): Curve {
  const height = (r: number): number =>
    (r * r) / (radius + Math.sqrt(radius * radius - (1 + k) * r * r));
  return { height, slope: (r) => r / (radius - (1 + k) * height(r)) };
}

/** Parabolic roll of the edge, nm at the rim (+ = down), from `start` outward. */
export function turnedEdge(depth: number, start: number, half: number): Curve {
  const t = (r: number): number => Math.max(r - start, 0) / (half - start);
  return {
    height: (r) => -depth * 1e-6 * t(r) ** 2,
    slope: (r) => (-2e-6 * depth * t(r)) / (half - start),
  };
}

/** A ring of Gaussian section, nm high. */
export function ring(height: number, at: number, sigma: number): Curve {
  const bell = (r: number): number =>
    height * 1e-6 * Math.exp(-((r - at) ** 2) / (2 * sigma * sigma));
  return { height: bell, slope: (r) => (-bell(r) * (r - at)) / (sigma * sigma) };
}

/** Cosines in (r/a)^2, nm each. */
export function ripples(amplitudes: readonly number[], half: number): Curve {
  const phase = (r: number, j: number): number => Math.PI * (j + 2) * (r / half) ** 2;
  return {
    height: (r) => amplitudes.reduce((sum, a, j) => sum + a * 1e-6 * Math.cos(phase(r, j)), 0),
    slope: (r) =>
      amplitudes.reduce(
        (sum, a, j) => sum - (a * 1e-6 * Math.sin(phase(r, j)) * 2 * phase(r, j)) / r,
        0,
      ),
  };
}

export function mirrorOf(
  half: number,
  radius: number,
  edges: readonly number[],
  ...parts: Curve[]
): JudgedMirror {
  return {
    half,
    radius,
    edges,
    height: (r) => parts.reduce((sum, p) => sum + p.height(r), 0),
    slope: (r) => parts.reduce((sum, p) => sum + p.slope(r), 0),
  };
}

/** Knife position from the centre of curvature for the ray at r, by reflecting vectors. */
export function knifeAt(mirror: JudgedMirror, r: number, source: "moves" | "fixed"): number {
  const z = mirror.height(r), p = mirror.slope(r);
  if (source === "moves") return z + r / p - mirror.radius; // along the normal (-p, 1) to the axis
  const n = 1 / Math.hypot(p, 1), nr = -p * n, nz = n;
  const lr = r, lz = z - mirror.radius, l = Math.hypot(lr, lz); // from the lamp to the glass
  const ir = lr / l, iz = lz / l, c = ir * nr + iz * nz;
  const or = ir - 2 * c * nr, oz = iz - 2 * c * nz;
  return z - (r / or) * oz - mirror.radius;
}

/** One reading for each window: both windows balance where Int r (x - L(r)) dA = 0. Simpson's rule, 1200 steps. */
export function readings(
  mirror: JudgedMirror,
  source: "moves" | "fixed" = "moves",
  openings: "bands" | "sectors" = "bands",
): number[] {
  return mirror.edges.slice(1).map((outer, i) => {
    const inner = mirror.edges[i] ?? 0, steps = 1200;
    let top = 0, bottom = 0;
    for (let k = 0; k <= steps; k++) {
      const r = Math.max(inner + ((outer - inner) * k) / steps, 1e-6 * outer);
      const simpson = k === 0 || k === steps ? 1 : k % 2 === 1 ? 4 : 2;
      const weight = simpson * (openings === "bands" ? r : r * r);
      top += weight * knifeAt(mirror, r, source);
      bottom += weight;
    }
    return top / bottom;
  });
}

/** P-V, RMS, Strehl and best single conic from the exact path of a star's light, focus moved until the RMS is least. */
export function truth(mirror: JudgedMirror, count = 1500): Truth {
  const q = Array.from({ length: count }, (_, i) => (i + 0.5) / count);
  let focus = mirror.radius / 2;
  for (let turn = 0; turn < 4; turn++) {
    const here = q.map((v) => advance(mirror, v, focus)),
      there = q.map((v) => advance(mirror, v, focus + 0.01));
    const step = there.map((v, i) => (v - (here[i] ?? 0)) / 0.01);
    const flat = centred(step), level = centred(here);
    focus -= flat.reduce((sum, v, i) => sum + v * (level[i] ?? 0), 0) /
      flat.reduce((sum, v) => sum + v * v, 0);
  }
  const waves = centred(q.map((v) => advance(mirror, v, focus) / WAVE));
  const mean = waves.mean;
  const ends = [0, 1].map((v) => advance(mirror, v, focus) / WAVE - mean);
  let real = 0, imaginary = 0, primary = 0, square = 0;
  waves.forEach((w, i) => {
    const v = q[i] ?? 0;
    real += Math.cos(2 * Math.PI * w) / count;
    imaginary += Math.sin(2 * Math.PI * w) / count;
    primary += (30 * w * (6 * v * v - 6 * v + 1)) / count;
    square += (w * w) / count;
  });
  const all = [...waves, ...ends];
  return {
    pv: Math.max(...all) - Math.min(...all),
    rms: Math.sqrt(square),
    strehl: real * real + imaginary * imaginary,
    conic: -1 + (primary * WAVE * 4 * mirror.radius ** 3) / mirror.half ** 4,
  };
}

/** Minus the path, mm: plane wave at z = 0 to the glass and on to the point at `focus`. */
function advance(mirror: JudgedMirror, q: number, focus: number): number {
  const r = mirror.half * Math.sqrt(q), z = mirror.height(r);
  return z - Math.hypot(r, focus - z) + focus;
}

function centred(values: readonly number[]): number[] & { mean: number } {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Object.assign(values.map((v) => v - mean), { mean });
}

/** The three reference mirrors: a conic, a turned edge, a raised ring. */
export function referenceMirrors(): JudgedMirror[] {
  return [
    mirrorOf(90, 2340, [0, 37, 52, 64, 74, 82, 90], conicCurve(2340, -0.7)),
    mirrorOf(
      80,
      2240,
      [0, 33, 46, 57, 65.5, 73, 80],
      conicCurve(2240, -1),
      turnedEdge(100, 68, 80),
    ),
    mirrorOf(110, 2420, [0, 38, 52, 64, 76, 87, 97, 110], conicCurve(2420, -1), ring(50, 60, 11)),
  ];
}

const SIZES = [[114, 8], [130, 7], [150, 8], [150, 6], [160, 7], [180, 6.5], [200, 6], [220, 5.5], [
  250,
  5,
]];
export const FAMILIES = ["conic", "turned edge", "ring", "smooth random"] as const;

/** One of many mirrors: size, mask of 5 to 7 windows of nearly equal area, and one of four kinds of figure. */
export function randomMirror(family: (typeof FAMILIES)[number], dice: RandomSource): JudgedMirror {
  const between = (a: number, b: number): number => a + (b - a) * dice.uniform();
  const [aperture = 0, ratio = 0] = SIZES[dice.integer(SIZES.length)] ?? [];
  const half = aperture / 2, radius = 2 * aperture * ratio, zones = 5 + dice.integer(3);
  const edges = Array.from(
    { length: zones + 1 },
    (_, i) =>
      half * Math.sqrt(i / zones) + (i === 0 || i === zones ? 0 : half * between(-0.02, 0.02)),
  );
  const make = (...parts: Curve[]): JudgedMirror => mirrorOf(half, radius, edges, ...parts);
  const aberration = half ** 4 / (4 * radius ** 3 * WAVE);
  if (family === "conic") {
    return make(conicCurve(radius, aberration > 0.6 ? between(-1.6, 0) : between(-2, 0.3)));
  }
  const base = conicCurve(radius, between(-1.3, -0.7));
  if (family === "turned edge") {
    const depth = between(20, 150) * (dice.uniform() < 1 / 3 ? -1 : 1);
    return make(base, turnedEdge(depth, half * (1 - between(0.08, 0.25)), half));
  }
  if (family === "ring") {
    const height = between(15, 70) * (dice.uniform() < 0.5 ? -1 : 1);
    return make(base, ring(height, half * between(0.2, 0.9), half * between(0.09, 0.2)));
  }
  return make(
    base,
    ripples(Array.from({ length: 6 }, (_, j) => (dice.normal() * 40) / (j + 1) ** 1.5), half),
  );
}

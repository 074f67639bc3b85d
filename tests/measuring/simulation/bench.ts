/**
 * A workshop in numbers: a mirror whose true radius is known, and makers who measure it with imperfect hands and gauges.
 *
 * Nothing here uses the library's formulas: gaps and heights are distances between points on a circle, and every error
 * is drawn where it arises (each leaf of the set, each place of the dial, each setting).
 */
import { random, type RandomSource } from "../../../lib/numeric/random.ts";

/** The 32-leaf set of the workshop, mm. */
const SET = [
  ...[0.04, 0.05, 0.06, 0.08, 0.1, 0.13, 0.15, 0.18, 0.2, 0.23, 0.25, 0.28, 0.3, 0.33, 0.35, 0.38],
  ...[0.4, 0.43, 0.45, 0.48, 0.5, 0.53, 0.55, 0.58, 0.6, 0.63, 0.65, 0.7, 0.75, 0.8, 0.85, 0.88],
];
const LEAF_WIDTH = 12.7;
const TOLERANCE = 0.005;
const CHORD_U = 0.15;
const DIAL_STEP = 0.001;
const LEG_U = 0.05;
const BALL_U = 0.01;

export interface SimulatedRow {
  readonly file: string;
  readonly line: number;
}

export interface Simulated {
  readonly radius: number;
  readonly settings: {
    readonly aperture: number;
    readonly bevel: number;
    readonly focalLength: number;
    readonly gauges: {
      readonly leaves: { readonly width: number; readonly tolerance: number };
      readonly spherometer: {
        readonly legRadius: number;
        readonly ballRadius: number;
        readonly legRadiusU: number;
        readonly ballRadiusU: number;
      };
      readonly dialStep: number;
      readonly depthGaugeStep: number;
      readonly rulerStep: number;
      readonly chordU: number;
    };
  };
  readonly sagitta: readonly (SimulatedRow & { go: readonly number[]; nogo: readonly number[] })[];
  readonly spherometer: readonly (SimulatedRow & { surface: "flat" | "mirror"; dial: number })[];
  readonly sun: readonly (SimulatedRow & { distance: number })[];
  /** the row that is grossly wrong, if one is */
  readonly outlier?: SimulatedRow;
  /** standard deviations of one reading: the feel of a leaf, the dial, a setting of the image */
  readonly noise: { readonly feel: number; readonly dial: number; readonly setting: number };
}

/** Height of the circle of radius R at x from the axis, measured from its lowest point. */
function rise(x: number, radius: number): number {
  return radius * (1 - Math.cos(Math.asin(x / radius)));
}

/** Every stack of one or two leaves, thinnest first; of equal ones the first found. */
const STACKS = (() => {
  const bySum = new Map<number, readonly number[]>();
  SET.forEach((a, i) => {
    if (!bySum.has(Math.round(a * 1000))) bySum.set(Math.round(a * 1000), [a]);
    for (const b of SET.slice(0, i)) {
      const sum = Math.round((a + b) * 1000);
      bySum.set(sum, [a, b]);
    }
  });
  return [...bySum].sort(([a], [b]) => a - b).map(([, leaves]) => leaves);
})();

function whole(source: RandomSource, low: number, high: number): number {
  return low + Math.floor(source.uniform() * (high - low + 1));
}

function between(source: RandomSource, low: number, high: number): number {
  return low + (high - low) * source.uniform();
}

function sign(source: RandomSource): number {
  return source.uniform() < 0.5 ? -1 : 1;
}

/**
 * One mirror and everything its maker wrote down.
 *
 * @param seed  the same seed gives the same mirror
 */
export function simulate(seed: number): Simulated {
  const source = random(seed);
  const aperture = whole(source, 12, 17) * 10;
  const planned = 2 * aperture * between(source, 6.5, 8.5);
  const radius = planned * (1 + 0.02 * source.normal());
  const noise = {
    feel: between(source, 0.003, 0.012),
    dial: between(source, 0.0004, 0.0015),
    setting: between(source, 2, 6),
  };
  const settings = {
    aperture,
    bevel: 1,
    focalLength: planned / 2,
    gauges: {
      leaves: { width: LEAF_WIDTH, tolerance: TOLERANCE },
      spherometer: { legRadius: 50, ballRadius: 3, legRadiusU: LEG_U, ballRadiusU: BALL_U },
      dialStep: DIAL_STEP,
      depthGaugeStep: 0.01,
      rulerStep: 1,
      chordU: CHORD_U,
    },
  };
  const sagitta = brackets(source, settings, radius, noise.feel);
  const spherometer = dials(source, radius, noise.dial);
  const count = whole(source, 5, 8);
  const sun = Array.from({ length: count }, (_, at) => ({
    file: "sun.csv",
    line: at + 2,
    distance: Math.round(radius / 2 + noise.setting * source.normal()),
  }));
  const clean = { radius, settings, sagitta, spherometer, sun, noise };
  return source.uniform() < 1 / 3 ? spoil(source, clean) : clean;
}

function brackets(
  source: RandomSource,
  settings: Simulated["settings"],
  radius: number,
  feel: number,
): Simulated["sagitta"] {
  const thickness = new Map(
    SET.map((leaf) => [leaf, leaf + between(source, -TOLERANCE, TOLERANCE)]),
  );
  const rest = settings.aperture / 2 - settings.bevel + CHORD_U * source.normal();
  const gap = rise(rest, radius) - rise(LEAF_WIDTH / 2, radius);
  return Array.from({ length: whole(source, 4, 8) }, (_, at) => {
    const felt = gap + feel * source.normal();
    const real = (stack: readonly number[]): number =>
      stack.reduce((sum, leaf) => sum + (thickness.get(leaf) ?? leaf), 0);
    const first = STACKS.findIndex((stack) => real(stack) > felt);
    return {
      file: "sagitta.csv",
      line: at + 2,
      go: STACKS[first - 1] ?? [],
      nogo: STACKS[first] ?? [],
    };
  });
}

function dials(source: RandomSource, radius: number, spread: number): Simulated["spherometer"] {
  const legs = 50 + LEG_U * source.normal();
  const ball = 3 + BALL_U * source.normal();
  const height = rise(legs, radius - ball);
  const places = { flat: 5 + source.uniform() / 100, mirror: 0 };
  places.mirror = places.flat + height;
  const graduation = {
    flat: between(source, -DIAL_STEP / 2, DIAL_STEP / 2),
    mirror: between(source, -DIAL_STEP / 2, DIAL_STEP / 2),
  };
  let line = 1;
  return (["flat", "mirror"] as const).flatMap((surface) =>
    Array.from({ length: whole(source, 5, 7) }, () => {
      const at = places[surface] + graduation[surface] + spread * source.normal();
      line++;
      return {
        file: "spherometer.csv",
        line,
        surface,
        dial: Math.round(at / DIAL_STEP) * DIAL_STEP,
      };
    })
  );
}

/** Makes one reading grossly wrong: a misread leaf, a slip of the screw, an image taken for sharp too early. */
function spoil(source: RandomSource, clean: Simulated): Simulated {
  const pick = <T>(rows: readonly T[]): T => rows[whole(source, 0, rows.length - 1)] as T;
  const table = whole(source, 0, 2);
  if (table === 0) {
    const outlier = pick(clean.sagitta);
    const slip = sign(source) * whole(source, 1, 3) / 10;
    const shifted = (stack: readonly number[]): readonly number[] => [
      Number((stack.reduce((sum, leaf) => sum + leaf, 0) + slip).toFixed(2)),
    ];
    return {
      ...clean,
      outlier,
      sagitta: clean.sagitta.map((row) =>
        row === outlier ? { ...row, go: shifted(row.go), nogo: shifted(row.nogo) } : row
      ),
    };
  }
  if (table === 1) {
    const outlier = pick(clean.spherometer);
    const slip = sign(source) * (source.uniform() < 0.5 ? 0.5 : between(source, 0.02, 0.1));
    return {
      ...clean,
      outlier,
      spherometer: clean.spherometer.map((row) =>
        row === outlier ? { ...row, dial: row.dial + slip } : row
      ),
    };
  }
  const outlier = pick(clean.sun);
  const slip = Math.round(sign(source) * between(source, 40, 150));
  return {
    ...clean,
    outlier,
    sun: clean.sun.map((
      row,
    ) => (row === outlier ? { ...row, distance: row.distance + slip } : row)),
  };
}

/**
 * The best anyone could do who knew the noise and which reading is wrong: that row left out, each method weighted by
 * its true standard deviation, 1.96 of them to either side.
 *
 * @returns middle and half-width of the interval, mm
 */
export function oracle(mirror: Simulated): { readonly value: number; readonly half: number } {
  const good = <T extends SimulatedRow>(rows: readonly T[]): readonly T[] =>
    rows.filter(({ file, line }) =>
      !(file === mirror.outlier?.file && line === mirror.outlier.line)
    );
  const all = [
    byLeaves(mirror, good(mirror.sagitta)),
    byDial(mirror, good(mirror.spherometer)),
    bySun(mirror, good(mirror.sun)),
  ];
  const weight = all.reduce((sum, { u }) => sum + 1 / u ** 2, 0);
  const value = all.reduce((sum, one) => sum + one.value / one.u ** 2, 0) / weight;
  return { value, half: 1.959964 / Math.sqrt(weight) };
}

interface Known {
  readonly value: number;
  readonly u: number;
}

/** Radius at which `f` gives `wanted`, f falling: bisection, so that no inverse formula is needed. */
function radiusWhere(f: (radius: number) => number, wanted: number): number {
  let low = 200;
  let high = 50_000;
  for (let turn = 0; turn < 100; turn++) {
    const middle = (low + high) / 2;
    if (f(middle) > wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function slopeOf(f: (x: number) => number, x: number, step: number): number {
  return (f(x + step) - f(x - step)) / (2 * step);
}

function byLeaves(mirror: Simulated, rows: Simulated["sagitta"]): Known {
  const rest = mirror.settings.aperture / 2 - mirror.settings.bevel;
  const sum = (stack: readonly number[]): number => stack.reduce((a, b) => a + b, 0);
  const middle = mean(rows.map(({ go, nogo }) => (sum(go) + sum(nogo)) / 2));
  const solve = (gap: number, half: number): number =>
    radiusWhere((radius) => rise(half, radius) - rise(LEAF_WIDTH / 2, radius), gap);
  const width = mean(rows.map(({ go, nogo }) => (sum(nogo) - sum(go)) ** 2));
  const share = new Map<number, number>();
  for (const { go, nogo } of rows) {
    for (const leaf of [...go, ...nogo]) {
      share.set(leaf, (share.get(leaf) ?? 0) + 0.5 / rows.length);
    }
  }
  const leaf = Math.hypot(...share.values()) * TOLERANCE / Math.sqrt(3);
  const reading = Math.sqrt((mirror.noise.feel ** 2 + width / 12) / rows.length);
  const perGap = slopeOf((gap) => solve(gap, rest), middle, 1e-4);
  const perRest = slopeOf((half) => solve(middle, half), rest, 1e-2);
  return {
    value: solve(middle, rest),
    u: Math.hypot(perGap * leaf, perGap * reading, perRest * CHORD_U),
  };
}

function byDial(mirror: Simulated, rows: Simulated["spherometer"]): Known {
  const on = (surface: string): readonly number[] =>
    rows.filter((row) => row.surface === surface).map(({ dial }) => dial);
  const height = mean(on("mirror")) - mean(on("flat"));
  const solve = (h: number, legs: number): number =>
    radiusWhere((radius) => rise(legs, radius - 3), h);
  const reading = Math.hypot(mirror.noise.dial, DIAL_STEP / Math.sqrt(12));
  const perHeight = slopeOf((h) => solve(h, 50), height, 1e-4);
  const uHeight = Math.hypot(
    reading / Math.sqrt(on("flat").length),
    reading / Math.sqrt(on("mirror").length),
    DIAL_STEP / Math.sqrt(6),
  );
  const perLegs = slopeOf((legs) => solve(height, legs), 50, 1e-2);
  return { value: solve(height, 50), u: Math.hypot(perHeight * uHeight, perLegs * LEG_U, BALL_U) };
}

function bySun(mirror: Simulated, rows: Simulated["sun"]): Known {
  const reading = Math.hypot(mirror.noise.setting, 1 / Math.sqrt(12));
  return {
    value: 2 * mean(rows.map(({ distance }) => distance)),
    u: 2 * reading / Math.sqrt(rows.length),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}

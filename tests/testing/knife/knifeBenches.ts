/** Knife-edge series invented by numpy (`knifeBench.py`), fitted and judged. */
import { CannotTell } from "../../../lib/numeric/cannotTell.ts";
import { linearFit } from "../../../lib/numeric/leastSquares.ts";
import { KNIFE_SHAPES, knifeShape } from "../../../lib/testing/knife/knifeShapes.ts";
import { type KnifeFigure, reduceKnifeSeries } from "../../../lib/testing/knife/knifeSeries.ts";
import type { GreyImage } from "../../../lib/testing/photo/photoImage.ts";
import { python } from "../../machine.ts";

/** What can be told wrongly, or photographed wrongly. */
export type KnifeFault = "mixed" | "reversed" | "side" | "cut" | "burnt";

export interface KnifeBenchMade {
  readonly seed: number;
  readonly aperture: number;
  readonly radius: number;
  readonly slit: number;
  readonly round: boolean;
  /** places across the square on which the true glass is told, nm, row after row from the bottom */
  readonly grid: number;
  readonly heights: readonly number[];
  readonly photos: readonly {
    readonly at: number;
    readonly across: number;
    readonly knife: number;
    readonly image: GreyImage;
  }[];
}

/** A bench from the generator's line. */
export function benchOfLine(line: string): KnifeBenchMade {
  const { photos, width, height, ...rest } = JSON.parse(line);
  return {
    ...rest,
    photos: photos.map(({ grey, ...photo }: { grey: string }) => ({
      ...photo,
      image: {
        width,
        height,
        values: Float32Array.from(atob(grey), (c) => c.charCodeAt(0) / 255),
      },
    })),
  };
}

/** Benches from numpy. */
export function knifeBenches(
  first: number,
  count: number,
  wrong?: KnifeFault,
): readonly KnifeBenchMade[] {
  const script = new URL("knifeBench.py", import.meta.url).pathname;
  const words = [first, count].map(String);
  const { stdout, success } = new Deno.Command(python, {
    args: [script, ...words, ...(wrong === undefined ? [] : [wrong])],
    env: { OPENBLAS_NUM_THREADS: "1" },
  }).outputSync();
  if (!success) throw new Error("numpy made no knife-edge series");
  return new TextDecoder().decode(stdout).trim().split("\n").map(benchOfLine);
}

/** The surface's heights at places of the disc, mean, tilt and focus taken out. */
function judgedHeights(
  places: readonly (readonly [x: number, y: number])[],
  heights: readonly number[],
): readonly number[] {
  const rows = places.map(([x, y]) => [1, x, y, x * x + y * y]);
  const { coefficients } = linearFit(rows, heights);
  return heights.map((v, k) =>
    v - coefficients.reduce((sum, c, i) => sum + c * (rows[k]?.[i] ?? 0), 0)
  );
}

const rmsOf = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);

/** The true glass at places of its disc, nm, as it is judged. */
export function glassOf(
  { grid, heights }: KnifeBenchMade,
): {
  readonly at: readonly (readonly [x: number, y: number])[];
  readonly wanted: readonly number[];
} {
  const step = 2 / (grid - 1);
  const every = heights.map((height, k) => ({
    x: (k % grid) * step - 1,
    y: Math.floor(k / grid) * step - 1,
    height,
  })).filter(({ x, y }) => x * x + y * y <= 1);
  const at = every.map(({ x, y }) => [x, y] as const);
  return { at, wanted: judgedHeights(at, every.map(({ height }) => height)) };
}

/** RMS by which a map of the knife's shapes misses the true glass, nm. */
export function mapMiss(bench: KnifeBenchMade, amounts: ArrayLike<number>): number {
  const { at, wanted } = glassOf(bench);
  const found = judgedHeights(
    at,
    at.map(([x, y]) =>
      KNIFE_SHAPES.reduce((sum, shape, k) => sum + (amounts[k] ?? 0) * knifeShape(shape, x, y), 0)
    ),
  );
  return rmsOf(wanted.map((v, k) => v - (found[k] ?? 0)));
}

/** One bench beside the truth, nm. */
export interface KnifeJudged {
  readonly bench: KnifeBenchMade;
  readonly figure?: KnifeFigure;
  readonly refused?: string;
  /** RMS of the map less the true glass */
  readonly miss?: number;
  /** P-V and RMS of the true glass, its astigmatism at the rim */
  readonly truth?: { readonly pv: number; readonly rms: number; readonly astigmatism: number };
  /** whether each true number lies in its 95 % interval */
  readonly held?: { readonly pv: boolean; readonly rms: boolean; readonly astigmatism: boolean };
  /** processor's time is not known here; by the clock */
  readonly seconds: number;
}

/** What the fit says of a bench. */
export function reducedKnife(bench: KnifeBenchMade): KnifeFigure {
  return reduceKnifeSeries({
    photos: bench.photos.map(({ image, at, across, knife }) => ({
      image,
      at,
      across,
      knifeDeg: knife,
    })),
    aperture: bench.aperture,
    radius: bench.radius,
    source: "moves",
    slit: bench.slit,
    isRound: bench.round,
  });
}

export function judgedKnife(bench: KnifeBenchMade): KnifeJudged {
  const before = performance.now();
  const seconds = (): number => (performance.now() - before) / 1000;
  try {
    const figure = reducedKnife(bench);
    const taken = seconds(), { at, wanted } = glassOf(bench);
    const along = (of: (x: number, y: number) => number): number =>
      at.reduce((sum, [x, y], k) => sum + (wanted[k] ?? 0) * of(x, y), 0) / at.length;
    const truth = {
      pv: Math.max(...wanted) - Math.min(...wanted),
      rms: rmsOf(wanted),
      // the mean of r^4 over the disc is a third, of cos^2 a half
      astigmatism: 6 * Math.hypot(along((x, y) => x * x - y * y), along((x, y) => 2 * x * y)),
    };
    const within = ([low, high]: readonly [number, number], v: number): boolean =>
      v >= low && v <= high;
    const { surfacePv, surfaceRms } = figure.interval95;
    return {
      bench,
      figure,
      miss: mapMiss(bench, figure.amounts),
      truth,
      held: {
        pv: within(surfacePv, truth.pv),
        rms: within(surfaceRms, truth.rms),
        astigmatism: within(figure.astigmatism.interval95, truth.astigmatism),
      },
      seconds: taken,
    };
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    return { bench, refused: error.message, seconds: seconds() };
  }
}

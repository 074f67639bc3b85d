/** Star pairs invented by numpy (`starBench.py`), fitted and judged. */
import { CannotTell } from "../../../lib/numeric/cannotTell.ts";
import type { GreyImage } from "../../../lib/testing/photo/photoImage.ts";
import { EDGE_MATTERS, MATTERS, starFaults } from "../../../lib/testing/star/starFaults.ts";
import { reduceStarPair, type StarPairFigure } from "../../../lib/testing/star/starPair.ts";
import { python } from "../../machine.ts";

/** Amounts along cos and sin of the fault's own angle, waves RMS. */
type Two = readonly [cos: number, sin: number];

export interface StarBench {
  readonly seed: number;
  readonly aperture: number;
  readonly focalLength: number;
  readonly seeing: number;
  readonly tone: string;
  readonly truth: {
    readonly spherical: number;
    readonly astigmatism: Two;
    readonly coma: Two;
    readonly threefold: Two;
    readonly edge: number;
  };
  readonly obstruction: number;
  readonly defocusTrue: readonly number[];
  readonly photos: readonly {
    readonly side: "inside" | "outside";
    readonly defocus: number;
    readonly image: GreyImage;
  }[];
}

/** Benches from numpy; `seeing` in arcsec fixes the air and a mirror of 150 mm. */
export function starBenches(
  first: number,
  count: number,
  seeing?: number,
  fault?: "wrong" | "moved",
): readonly StarBench[] {
  const script = new URL("starBench.py", import.meta.url).pathname;
  const words = [first, count, ...(seeing === undefined ? [] : [seeing])].map(String);
  const { stdout, success } = new Deno.Command(python, {
    args: [script, ...words, ...(fault === undefined ? [] : [fault])],
    env: { OPENBLAS_NUM_THREADS: "1" },
  }).outputSync();
  if (!success) throw new Error("numpy made no star pairs");
  return new TextDecoder().decode(stdout).trim().split("\n").map((line) => {
    const { photos, ...rest } = JSON.parse(line);
    return {
      ...rest,
      photos: photos.map((
        { side, defocus, width, height, grey }: {
          side: string;
          defocus: number;
          width: number;
          height: number;
          grey: string;
        },
      ) => ({
        side,
        defocus,
        image: {
          width,
          height,
          values: Float32Array.from(atob(grey), (c) => c.charCodeAt(0) / 255),
        },
      })),
    };
  });
}

/** What the fit says of a bench. */
export function reducedBench(bench: StarBench, photos = bench.photos): StarPairFigure {
  return reduceStarPair({
    photos,
    aperture: bench.aperture,
    radius: 2 * bench.focalLength,
    // as a maker knows it: the flat's width to a millimetre
    obstruction: Math.round(bench.obstruction * bench.aperture) / bench.aperture,
  });
}

/** One number of a bench beside the truth, waves RMS. */
export interface StarMiss {
  readonly name: string;
  readonly miss: number;
  readonly u: number;
}

/** Whether no fault is said to be there that is too small to matter, and none ruled out that matters. */
export function namedRightly({ truth }: StarBench, figure: StarPairFigure): boolean {
  const amounts = {
    "spherical": Math.abs(truth.spherical),
    "astigmatism": Math.hypot(...truth.astigmatism),
    "coma": Math.hypot(...truth.coma),
    "threefold": Math.hypot(...truth.threefold),
    "turned edge": Math.abs(truth.edge),
  };
  return starFaults(figure).every(({ fault, says }) => {
    const matters = fault === "turned edge" ? EDGE_MATTERS : MATTERS, amount = amounts[fault];
    return says === "there" ? amount > matters : says === "not there" ? amount < matters : true;
  });
}

export interface StarJudged {
  readonly bench: StarBench;
  readonly figure?: StarPairFigure;
  readonly refused?: string;
  readonly misses: readonly StarMiss[];
  /** by the clock */
  readonly seconds: number;
}

export function judgedBench(bench: StarBench): StarJudged {
  const before = performance.now();
  try {
    const figure = reducedBench(bench), { amounts, covariance } = figure;
    const { spherical, astigmatism, coma, threefold } = bench.truth;
    // in the order of the library's terms: sines before cosines
    const truth = [
      astigmatism[1],
      astigmatism[0],
      threefold[1],
      coma[1],
      coma[0],
      threefold[0],
      spherical,
    ];
    const names = [
      "astigmatism",
      "astigmatism",
      "threefold",
      "coma",
      "coma",
      "threefold",
      "spherical",
    ];
    const misses = truth.map((wanted, k) => ({
      name: names[k] ?? "",
      miss: (amounts[k] ?? NaN) - wanted,
      u: Math.sqrt(covariance[k]?.[k] ?? NaN),
    }));
    return { bench, figure, misses, seconds: (performance.now() - before) / 1000 };
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    return {
      bench,
      refused: error.message,
      misses: [],
      seconds: (performance.now() - before) / 1000,
    };
  }
}

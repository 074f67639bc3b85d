/** Slips known by their ratio: a radius that is 4, 2 or 25.4 times what it should be tells what happened. */
import type { Method } from "./estimate.ts";

export type Slip =
  | "diameter for radius"
  | "radius for diameter"
  | "R for f"
  | "f for R"
  | "inch for mm"
  | "mm for inch"
  | "thou for hundredths of a mm"
  | "hundredths of a mm for thou"
  | "m for mm"
  | "mm for m"
  | "decimal point"
  | "bevel forgotten";

/** A slip that would explain a ratio. */
export interface Mistake {
  readonly slip: Slip;
  /** what the slip makes of the radius: measured over expected */
  readonly ratio: number;
  /** which mistake, as half a sentence: "inches were read as mm" */
  readonly explains: string;
  /** what to look at, as a sentence */
  readonly findOut: string;
}

/** Between these ratios a radius is believable and no slip is named. COMMON PRACTICE */
export const BELIEVABLE = [0.6, 1.7] as const;
/** How far, as a natural logarithm, a ratio may lie from a slip's own and still be put down to it. COMMON PRACTICE */
const NEAR = 0.16;

const RULE_OUT_UNIT = "Read the unit on the gauge and the column's header: 1 in = 25.4 mm.";
const RULE_OUT_METRE = "Read the unit on the tape and the column's header: 1 m = 1000 mm.";
const RULE_OUT_POINT = "Compare one row with the paper note: where does the decimal point stand?";

/** Slips of a depth, which is small where the radius is long. */
const BY_DEPTH: readonly Mistake[] = [
  slip("diameter for radius", 4, "the whole width was used where half of it belongs", [
    "Measure from the middle to where the gauge rests and compare with the number typed",
    "(leg_radius is from the middle to a foot).",
  ]),
  slip("radius for diameter", 1 / 4, "half the width was used where the whole belongs", [
    "Measure the chord, or the disc, straight across and compare with the number typed.",
  ]),
  slip(
    "R for f",
    2,
    "the curve was made with R where f belongs, or the plan holds half the focal length",
    [
      "R is the string of the compass, f is half of it: read focal_length in mirror.yaml aloud.",
    ],
  ),
  slip("f for R", 1 / 2, "the curve was made with f where R belongs, or focal_length holds R", [
    "R is the string of the compass, f is half of it: read focal_length in mirror.yaml aloud.",
  ]),
  slip("inch for mm", 25.4, "inches were read as mm", [RULE_OUT_UNIT]),
  slip("mm for inch", 1 / 25.4, "mm were read as inches", [RULE_OUT_UNIT]),
  slip(
    "thou for hundredths of a mm",
    2.54,
    "thousandths of an inch were read as hundredths of a mm",
    [
      "Many sets print both: 1 thou = 0.0254 mm. Read the blades again.",
    ],
  ),
  slip(
    "hundredths of a mm for thou",
    1 / 2.54,
    "hundredths of a mm were read as thousandths of an inch",
    [
      "Many sets print both: 1 thou = 0.0254 mm. Read the blades again.",
    ],
  ),
  slip("decimal point", 10, "a depth ten times too small was typed, or cm were read as mm", [
    RULE_OUT_POINT,
  ]),
  slip("decimal point", 1 / 10, "a depth ten times too large was typed, or mm were read as cm", [
    RULE_OUT_POINT,
  ]),
];

/** Slips of a distance to the Sun's image, which grows with the radius. */
const BY_DISTANCE: readonly Mistake[] = [
  slip("R for f", 2, "the distance is R, not f", [
    "The Sun's image lies at f. A lamp beside its own image lies at R: which was it?",
  ]),
  slip("f for R", 1 / 2, "the distance was halved, or focal_length holds R", [
    "Measure from the centre of the glass to the image once more, and write it as it is.",
  ]),
  slip("mm for inch", 25.4, "mm were read as inches", [RULE_OUT_UNIT]),
  slip("inch for mm", 1 / 25.4, "inches were read as mm", [RULE_OUT_UNIT]),
  slip("decimal point", 10, "a distance ten times too large was typed, or mm were read as cm", [
    RULE_OUT_POINT,
  ]),
  slip("decimal point", 1 / 10, "a distance ten times too small was typed, or cm were read as mm", [
    RULE_OUT_POINT,
  ]),
  slip("m for mm", 1 / 1000, "metres were read as mm", [RULE_OUT_METRE]),
  slip("mm for m", 1000, "mm were read as metres", [RULE_OUT_METRE]),
];

/** Slips of the width of the Sun's image. */
const BY_IMAGE: readonly Mistake[] = [
  slip("radius for diameter", 1 / 2, "half the image's width was typed", [
    "Measure the image straight across.",
  ]),
  slip("R for f", 2, "the image is twice as wide as it should be", [
    "Was it in focus, and measured straight across only once?",
  ]),
  ...BY_DISTANCE.filter(({ slip: name }) => name !== "R for f" && name !== "f for R"),
];

/** What is known beside the ratio. */
export interface RatioContext {
  /** whose radius it is; default one from a depth */
  readonly method?: Method;
  /** mm; with `bevel`, a forgotten bevel can be named too */
  readonly aperture?: number;
  /** width of the bevel on the face, mm */
  readonly bevel?: number;
}

/**
 * The slip that explains a ratio of measured to expected radius, if there is one.
 *
 * Between 0.6 and 1.7 only a forgotten bevel is named, where aperture and bevel are given; beyond, the slip whose ratio
 * lies nearest, if it lies within a sixth.
 *
 * @param ratio    measured over expected radius; above 0
 * @param context  method; aperture and bevel
 * @returns the slip, or `undefined` when none fits
 * @throws {RangeError} when the ratio is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(mistakeFromRatio(60945.1 / 2400)?.slip, "inch for mm");
 * assert.equal(mistakeFromRatio(1.027, { aperture: 150, bevel: 1 })?.slip, "bevel forgotten");
 * assert.equal(mistakeFromRatio(1.3), undefined);
 * ```
 */
export function mistakeFromRatio(ratio: number, context: RatioContext = {}): Mistake | undefined {
  if (!(ratio > 0 && Number.isFinite(ratio))) {
    throw new RangeError(`mistakeFromRatio requires a ratio above 0, got ratio=${ratio}`);
  }
  const [low, high] = BELIEVABLE;
  if (ratio > low && ratio < high) return forgottenBevel(ratio, context);
  const far = (mistake: Mistake): number => Math.abs(Math.log(ratio / mistake.ratio));
  const nearest = slipsOf(context.method).reduce((a, b) => (far(b) < far(a) ? b : a));
  return far(nearest) <= NEAR ? nearest : undefined;
}

/**
 * What a forgotten bevel makes of the radius: (D / (D - 2b))^2, always too long.
 *
 * @param aperture  D, mm
 * @param bevel     b, width on the face, mm; 0 <= b < D / 2
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(ratioOfForgottenBevel(150, 1).toFixed(3), "1.027");
 * ```
 */
export function ratioOfForgottenBevel(aperture: number, bevel: number): number {
  if (!(bevel >= 0 && 2 * bevel < aperture && Number.isFinite(aperture))) {
    throw new RangeError(
      `ratioOfForgottenBevel requires 0 <= bevel < aperture / 2 in mm, got bevel=${bevel}, aperture=${aperture}`,
    );
  }
  return (aperture / (aperture - 2 * bevel)) ** 2;
}

function forgottenBevel(
  ratio: number,
  { method, aperture, bevel }: RatioContext,
): Mistake | undefined {
  const restsOnRim = method === undefined || method === "leaves" || method === "depth gauge";
  if (!restsOnRim || aperture === undefined || bevel === undefined || bevel === 0) return undefined;
  const expected = ratioOfForgottenBevel(aperture, bevel);
  if (Math.abs(Math.log(ratio / expected)) > Math.log(expected) / 4) return undefined;
  return slip("bevel forgotten", expected, "the full width was used, as if there were no bevel", [
    "The straight-edge rests on the inner edge of the bevel: measure the chord there.",
  ]);
}

function slipsOf(method: Method | undefined): readonly Mistake[] {
  if (method === "sun distance") return BY_DISTANCE;
  return method === "sun image" ? BY_IMAGE : BY_DEPTH;
}

function slip(name: Slip, ratio: number, explains: string, findOut: readonly string[]): Mistake {
  return { slip: name, ratio, explains, findOut: findOut.join(" ") };
}

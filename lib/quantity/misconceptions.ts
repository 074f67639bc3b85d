/**
 * The one table of misconceptions that a ratio gives away: half for whole, R for f, inches for millimetres. The reader,
 * the methods of the curve, the zones and the exercises take factors and words from here.
 */

/** A misconception, by what was taken for what: "inch for mm" is inches that were read as mm. */
export type MisconceptionName =
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

/** The factors, exact by the definition of the units. */
export const FACTORS = {
  /** a diameter and its radius; R and f */
  twice: 2,
  /** mm in an inch */
  inch: 25.4,
  /** hundredths of a mm in a thousandth of an inch */
  thou: 2.54,
  /** one place of the decimal point; mm in a cm */
  point: 10,
  /** mm in a metre, um in a mm, nm in a um */
  thousand: 1000,
} as const;

/** What a misconception does to the number that is written down. */
interface Row {
  readonly factor: number;
  /** which way the written number is off; either way where it may be both */
  readonly written: "too large" | "too small" | "either way";
  /** what a reader asks, as half a question; each pair shares one */
  readonly meant: string;
  /** what to look at, as a sentence */
  readonly findOut: string;
}

const WIDTH = "a diameter where a radius is meant, or the other way round";
const FOCAL = "a radius of curvature where a focal length is meant, or the other way round";
const INCH = {
  factor: FACTORS.inch,
  meant: "inches where mm are meant, or the other way round",
  findOut: "Read the unit on the gauge and the column's header: 1 in = 25.4 mm.",
} as const;
const THOU = {
  factor: FACTORS.thou,
  meant: "thousandths of an inch where hundredths of a mm are meant, or the other way round",
  findOut: "Many sets print both: 1 thou = 0.0254 mm. Read the blades again.",
} as const;
const METRE = {
  factor: FACTORS.thousand,
  meant: "metres where mm are meant, or the other way round",
  findOut: "Read the unit on the tape and the column's header: 1 m = 1000 mm.",
} as const;
const READ_ALOUD =
  "R is the string of the compass, f is half of it: read focal_length in mirror.yaml aloud.";

/** Each misconception once. The bevel's factor depends on the disc, and is not here. */
export const MISCONCEPTIONS: Readonly<Record<Exclude<MisconceptionName, "bevel forgotten">, Row>> =
  {
    "diameter for radius": {
      factor: FACTORS.twice,
      written: "too large",
      meant: WIDTH,
      findOut:
        "Measure from the middle to where the gauge rests and compare with the number typed " +
        "(leg_radius is from the middle to a foot).",
    },
    "radius for diameter": {
      factor: FACTORS.twice,
      written: "too small",
      meant: WIDTH,
      findOut: "Measure the chord, or the disc, straight across and compare with the number typed.",
    },
    "R for f": {
      factor: FACTORS.twice,
      written: "too large",
      meant: FOCAL,
      findOut: READ_ALOUD,
    },
    "f for R": {
      factor: FACTORS.twice,
      written: "too small",
      meant: FOCAL,
      findOut: READ_ALOUD,
    },
    "inch for mm": { ...INCH, written: "too small" },
    "mm for inch": { ...INCH, written: "too large" },
    "thou for hundredths of a mm": { ...THOU, written: "too small" },
    "hundredths of a mm for thou": { ...THOU, written: "too large" },
    "m for mm": { ...METRE, written: "too small" },
    "mm for m": { ...METRE, written: "too large" },
    "decimal point": {
      factor: FACTORS.point,
      written: "either way",
      meant: "a decimal point one place off, or cm where mm are meant",
      findOut: "Compare one row with the paper note: where does the decimal point stand?",
    },
  };

/** A misconception that would explain a ratio of measured to expected. */
export interface Misconception {
  /** its row in the table of misconceptions */
  readonly name: MisconceptionName;
  /** what it makes of the quantity: measured over expected */
  readonly ratio: number;
  /** what happened, as half a sentence: "inches were read as mm" */
  readonly explains: string;
  /** what to look at, as a sentence */
  readonly findOut: string;
}

/** Between these ratios a radius is believable and no misconception is named. COMMON PRACTICE */
export const BELIEVABLE = [0.6, 1.7] as const;
/** How far, as a natural logarithm, a ratio may lie from a misconception's own and still be put down to it. COMMON PRACTICE */
const NEAR = 0.16;

/**
 * A misconception of one number, as it shows in what is reckoned from it.
 *
 * @param name      a row of the table
 * @param power     with which power of the number the result goes: a radius with -1 of a depth, with 2 of a width
 * @param explains  what happened, as half a sentence
 * @param options   `written` where the table leaves it open; `findOut` where another look is wanted than usual
 * @throws {RangeError} where the table leaves the way open and so does the caller
 * @example a whole width in place of half of it makes four times the radius
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(misconception("diameter for radius", 2, "the whole width was used").ratio, 4);
 * assert.equal(misconception("inch for mm", -1, "inches were read as mm").ratio, 25.4);
 * ```
 */
export function misconception(
  name: keyof typeof MISCONCEPTIONS,
  power: number,
  explains: string,
  options: { readonly written?: "too large" | "too small"; readonly findOut?: string } = {},
): Misconception {
  const row = MISCONCEPTIONS[name], written = options.written ?? row.written;
  if (written === "either way") {
    throw new RangeError(`misconception requires "too large" or "too small" for ${name}`);
  }
  const size = row.factor ** Math.abs(power);
  const ratio = (written === "too large") === (power > 0) ? size : 1 / size;
  return { name, ratio, explains, findOut: options.findOut ?? row.findOut };
}

/**
 * The misconception whose ratio lies nearest, if it lies within a sixth.
 *
 * @param ratio   measured over expected, above 0
 * @param known   those that may have happened
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const inches = misconception("inch for mm", -1, "inches were read as mm");
 * assert.equal(nearestMisconception(25, [inches]), inches);
 * assert.equal(nearestMisconception(7, [inches]), undefined);
 * ```
 */
export function nearestMisconception(
  ratio: number,
  known: readonly Misconception[],
): Misconception | undefined {
  const far = (one: Misconception): number => Math.abs(Math.log(ratio / one.ratio));
  const [first, ...rest] = known;
  if (first === undefined) return undefined;
  const nearest = rest.reduce((a, b) => (far(b) < far(a) ? b : a), first);
  return far(nearest) <= NEAR ? nearest : undefined;
}

/** Whether a radius may be what it says, by its ratio to the expected one. */
export function isBelievable(ratio: number): boolean {
  return ratio > BELIEVABLE[0] && ratio < BELIEVABLE[1];
}

/** What the methods need to know of the mirror and of the gauges; a record's settings fit as they are. */
export interface Bench {
  /** the disc's diameter, mm */
  readonly aperture: number;
  /** width of the bevel seen on the face, mm; 0 where nobody wrote it */
  readonly bevel: number;
  /** the widest that an unwritten bevel may be, mm, each width from 0 on as likely; absent where the bevel is known */
  readonly unknownBevel?: number;
  /** planned, mm: for the usual spread of a setting on the Sun's image */
  readonly focalLength: number;
  /** what it is measured with */
  readonly gauges: Gauges;
}

/** What the gauges are, and how finely they can be read; lengths mm. */
export interface Gauges {
  /** width along the straight-edge and half-width of the makers' tolerance, mm */
  readonly leaves: { readonly width: number; readonly tolerance: number };
  /** absent where the maker has none */
  readonly spherometer?: Spherometer;
  /** mm */
  readonly dialStep: number;
  /** mm */
  readonly depthGaugeStep: number;
  /** mm */
  readonly rulerStep: number;
  /**
   * How well the place where the straight-edge rests is known at each of its ends, mm from the centre. It is the
   * inner edge of the bevel, which is misjudged alike all round: half the chord carries it whole.
   */
  readonly chordU: number;
}

/** Three ball feet on a circle, mm. */
export interface Spherometer {
  /** circle through the middles of the balls */
  readonly legRadius: number;
  /** of each ball */
  readonly ballRadius: number;
  /** standard uncertainty */
  readonly legRadiusU: number;
  /** standard uncertainty */
  readonly ballRadiusU: number;
}

/** How far wrong the handling may be, each the largest believable size; but for the film, what is absent was done right. */
export interface Handling {
  /** how far beside the centre the straight-edge may have passed, mm */
  readonly offset?: number;
  /** how much a leaf may have been tilted, rad */
  readonly tilt?: number;
  /** how much the straight-edge may sag, mm */
  readonly sag?: number;
  /** oil or air between two leaves of a stack, mm to either side; default 0.001 (COMMON PRACTICE) */
  readonly film?: number;
}

/** The name under which all straight-edge methods share the chord's error. */
export const STRAIGHT_EDGE_REST = "where the straight-edge rests";
/** The name under which all straight-edge methods share what is not known of an unwritten bevel. */
export const BEVEL_NOT_WRITTEN = "bevel not written";
/** The name under which both ways of reading the Sun share a ruler. */
export const RULER = "ruler";

/**
 * Where a straight-edge rests: on the inner edges of the bevel, unless the row says otherwise. An unwritten bevel is taken
 * as half the widest that it may be.
 *
 * @param bench  aperture and bevel, mm
 * @param chord  as written in the row, mm
 * @returns mm
 * @throws {RangeError} when the chord is not above 0 or wider than the disc, or the bevel leaves no face
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(chordOf({ aperture: 150, bevel: 1 }), 148);
 * assert.equal(chordOf({ aperture: 150, bevel: 0, unknownBevel: 1.5 }), 148.5);
 * ```
 */
export function chordOf(
  bench: Pick<Bench, "aperture" | "bevel" | "unknownBevel">,
  chord?: number,
): number {
  const bevel = bench.unknownBevel === undefined ? bench.bevel : bench.unknownBevel / 2;
  const width = chord ?? bench.aperture - 2 * bevel;
  if (!(width > 0 && width <= bench.aperture)) {
    throw new RangeError(
      `a chord requires 0 < chord <= aperture in mm, got chord=${width}, aperture=${bench.aperture}`,
    );
  }
  return width;
}

/** The strokes of figuring: which disc lies on top, how large the lap, how long the stroke, how far to the side. */

/** One way of working; lengths as shares of the mirror's diameter. */
export interface FiguringStroke {
  /** as it is said at the bench */
  readonly name: string;
  /** "down": the mirror works on the lap; "up": the lap works on the mirror */
  readonly face: "down" | "up";
  /** diameter of the lap */
  readonly lap: number;
  /** length of the stroke from end to end */
  readonly travel: number;
  /** how far beside the centre the upper disc passes: its overhang */
  readonly offset: number;
  /** pressure over that of ordinary polishing: a hand presses a small lap harder */
  readonly press: number;
}

const words: Readonly<Record<string, string>> = {
  "0": "over the centre",
  "0.1": "a tenth to the side",
  "0.1667": "a sixth to the side",
  "0.25": "a quarter to the side",
  "0.3333": "a third to the side",
};
const lengths: Readonly<Record<string, string>> = {
  "0.1667": "a sixth long",
  "0.25": "a quarter long",
  "0.3333": "a third long",
  "0.5": "half long",
  "0.6667": "two thirds long",
  "0.8": "four fifths long",
};

function said(table: Readonly<Record<string, string>>, share: number, after: string): string {
  return table[String(Number(share.toFixed(4)))] ??
    `${Number(share.toFixed(2))} diameters ${after}`;
}

/**
 * A stroke with its name; shares of the mirror's diameter.
 *
 * @throws {RangeError} where the upper disc's centre would leave the disc below
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(figuringStroke("down", 1, 1 / 2, 1 / 4).name, "mirror on top, a quarter to the side, half long");
 * ```
 */
export function figuringStroke(
  face: "down" | "up",
  lap: number,
  travel: number,
  offset: number,
  press = 1,
): FiguringStroke {
  const below = face === "down" ? lap : 1;
  if (!(lap > 0 && lap <= 1 && travel > 0 && offset >= 0 && press > 0)) {
    throw new RangeError(
      `figuringStroke requires a lap above 0 to 1, travel and press above 0, offset of 0 or more, got lap=${lap}, travel=${travel}, offset=${offset}, press=${press}`,
    );
  }
  if (!(Math.hypot(travel / 2, offset) < below / 2)) {
    throw new RangeError(
      `figuringStroke requires the upper disc's centre to stay over the lower one, got travel=${travel}, offset=${offset} over ${below}`,
    );
  }
  const upper = face === "down"
    ? "mirror on top"
    : lap === 1
    ? "lap on top"
    : `lap of ${lap} diameters on top`;
  return {
    name: `${upper}, ${said(words, offset, "to the side")}, ${said(lengths, travel, "long")}`,
    face,
    lap,
    travel,
    offset,
    press,
  };
}

/** The ordinary polishing stroke, to which all rates are tied. */
export const ordinaryStroke: FiguringStroke = figuringStroke("down", 1, 1 / 3, 0);

/** A stroke whose upper disc hangs out farther is hard to hold. */
const farthest = 0.42;
const sides = [0, 0.1, 1 / 6, 1 / 4, 1 / 3];

/** Strokes with a lap of full size: what every maker has; the shortest take so little that a minute of them is a fine dose. COMMON PRACTICE */
export const fullLapStrokes: readonly FiguringStroke[] = (["down", "up"] as const).flatMap((face) =>
  [1 / 6, 1 / 4, 1 / 3, 1 / 2, 2 / 3, 0.8].flatMap((travel) =>
    sides.filter((offset) => Math.hypot(travel / 2, offset) < farthest)
      .map((offset) => figuringStroke(face, 1, travel, offset))
  )
);

/** Diameter of a smaller lap and the pressure of a hand on it. */
const smallLaps = [[0.7, 1], [0.5, 1.5], [0.4, 2], [0.3, 3], [0.25, 3]] as const;

/**
 * Strokes with a smaller lap on the mirror, for a ring at a time; by hand, up to three times the usual pressure.
 *
 * None has a lap that just reaches the centre: it would leave a point there, too small for a zone test to see. None hangs
 * out far: beyond the rim the lap has no glass to take its shape from.
 * COMMON PRACTICE
 */
export const smallLapStrokes: readonly FiguringStroke[] = smallLaps.flatMap(([lap, press]) =>
  [1 / 6, 1 / 4, 1 / 3].flatMap((travel) =>
    [0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4].filter((offset) =>
      Math.hypot(travel / 2, offset) < farthest && offset + lap / 2 < 0.56 &&
      Math.abs(offset - lap / 2) > 0.03
    ).map((offset) => figuringStroke("up", lap, travel, offset, press))
  )
);

/** Every stroke a plan may choose from. */
export const figuringStrokes: readonly FiguringStroke[] = [...fullLapStrokes, ...smallLapStrokes];

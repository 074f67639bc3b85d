/** Discs that lock: why, how hard they hold, and how to part them without a blow. */

/** How two discs came to stick. */
export interface StuckDiscs {
  /** mm */
  readonly aperture: number;
  /** middle grain in use, um; undefined for a polishing lap */
  readonly grainUm?: number;
  /** whether the charge ran dry */
  readonly dry?: boolean;
  /** minutes they stood still on one another */
  readonly stillMinutes?: number;
}

export interface StuckAdvice {
  /** what holds them, the likeliest first */
  readonly causes: readonly string[];
  /** force that the air holds them with where no air gets in between, N: an upper limit */
  readonly airForce: number;
  /** one after another, the gentlest first */
  readonly steps: readonly string[];
  readonly never: readonly string[];
  readonly nextTime: string;
}

/** Pressure of the air at sea level, N/mm2. */
const air = 0.101325;
/** Below this grain no air finds its way in between, um. COMMON PRACTICE */
const closeFitUm = 15;

/**
 * Why discs are stuck and what to do.
 *
 * @throws {RangeError} where a size is not above 0 or minutes are below 0
 * @see COMMON PRACTICE
 * @example the air alone can hold 150 mm discs with the weight of two people
 * ```ts
 * import assert from "node:assert/strict";
 * const { airForce, never } = whyStuck({ aperture: 150, grainUm: 12.8, dry: true });
 * assert.equal(airForce.toFixed(0), "1791");
 * assert.match(never.join(" "), /blow/);
 * ```
 */
export function whyStuck(discs: StuckDiscs): StuckAdvice {
  const { aperture, grainUm, dry = false, stillMinutes = 0 } = discs;
  if (!(aperture > 0 && aperture < 10000 && (grainUm ?? 1) > 0 && stillMinutes >= 0)) {
    throw new RangeError(
      `whyStuck requires aperture and grain above 0 and minutes of 0 or more, got aperture=${aperture}, grainUm=${grainUm}, stillMinutes=${stillMinutes}`,
    );
  }
  const onLap = grainUm === undefined;
  const causes = [
    ...(dry ? ["the charge ran dry: mud and glass are glued by the last water"] : []),
    ...(onLap ? ["the pitch has flowed to the glass while it stood still"] : []),
    ...(stillMinutes > 1 && !onLap ? ["they stood still, and the water crept out"] : []),
    ...(!onLap && grainUm < closeFitUm
      ? [
        "the discs fit so closely that no air gets in between: the air outside presses them together",
      ]
      : []),
    ...(!onLap && grainUm >= closeFitUm && !dry
      ? ["a chord that is too short has made both spherical alike, with too little grain between"]
      : []),
  ];
  return {
    causes,
    airForce: air * Math.PI * (aperture / 2) ** 2,
    steps: [
      "Leave them in lukewarm water for an hour, so that water creeps in; no warmer than the hand likes.",
      "Slide one off sideways, slowly, on a soft cloth, both thumbs on the rim of the upper disc.",
      onLap
        ? "Cool both together in the refrigerator: cold pitch lets go of glass by itself."
        : "Cool both together for some hours: the one that shrinks first lets go.",
      "Wait. A night costs nothing.",
    ],
    never: [
      "no blow, and no wood or metal against the edge: it chips, or cracks across",
      "no blade in the gap",
      "no flame, no hot water on cold glass: it cracks",
    ],
    nextTime: onLap
      ? "Never leave the mirror on the lap: lift it off at every pause."
      : "Add water before it drags, keep the stroke a third of the diameter, and lift the mirror off at every pause.",
  };
}

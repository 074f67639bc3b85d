/** The geometry of a spherometer: feet or a ring on a curve, and a probe in their middle. */

export type Surface = "concave" | "convex";

/** What the instrument stands on, mm. */
export type Feet =
  | { readonly kind: "balls"; readonly legRadius: number; readonly ballRadius: number }
  | { readonly kind: "sharp ring"; readonly outerRadius: number; readonly innerRadius: number }
  | { readonly kind: "rounded ring"; readonly ringRadius: number; readonly edgeRadius: number };

/**
 * Radius of curvature from the height of the probe.
 *
 *     R = (a^2 + h^2) / 2h + b on a hollow,  - b on a bulge
 *
 * The centres of the balls lie on a sphere nearer to the middle of the curve by b; the probe's own ball cancels against
 * the flat. A sharp ring touches a hollow with its outer edge and a bulge with its inner one.
 *
 * @param feet     what it stands on, mm
 * @param height   h, reading on the curve less reading on the flat, taken positive, mm; 0 < h <= a
 * @param surface  default concave
 * @throws {RangeError} outside those ranges
 * @see geometry of ball-foot and ring spherometers; Malacara, Optical Shop Testing (derived: tests/references/spherometer.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(spherometerRadius({ kind: "balls", legRadius: 50, ballRadius: 3 }, 0.5224).toFixed(1), "2396.1");
 * ```
 */
export function spherometerRadius(
  feet: Feet,
  height: number,
  surface: Surface = "concave",
): number {
  const { circle, ball } = contact("spherometerRadius", feet, surface);
  if (!(height > 0 && height <= circle)) {
    throw new RangeError(
      `spherometerRadius requires 0 < height <= leg circle in mm, got height=${height}, leg circle=${circle}`,
    );
  }
  const side = surface === "concave" ? 1 : -1;
  return (circle ** 2 + height ** 2) / (2 * height) + side * ball;
}

/**
 * How the radius answers to each part of the instrument.
 *
 *     dR/da = a / h       dR/dh = (h^2 - a^2) / 2h^2       dR/db = +1 hollow, -1 bulge
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const feet = { kind: "balls", legRadius: 50, ballRadius: 3 } as const;
 * assert.equal(spherometerSensitivity(feet, 0.5212).perHeight.toFixed(0), "-4601");
 * ```
 */
export function spherometerSensitivity(
  feet: Feet,
  height: number,
  surface: Surface = "concave",
): { readonly perLegRadius: number; readonly perHeight: number; readonly perBall: number } {
  spherometerRadius(feet, height, surface);
  const { circle } = contact("spherometerSensitivity", feet, surface);
  return {
    perLegRadius: circle / height,
    perHeight: (height ** 2 - circle ** 2) / (2 * height ** 2),
    perBall: surface === "concave" ? 1 : -1,
  };
}

function contact(
  caller: string,
  feet: Feet,
  surface: Surface,
): { readonly circle: number; readonly ball: number } {
  const found = feet.kind === "balls"
    ? { circle: feet.legRadius, ball: feet.ballRadius }
    : feet.kind === "rounded ring"
    ? { circle: feet.ringRadius, ball: feet.edgeRadius }
    : { circle: surface === "concave" ? feet.outerRadius : feet.innerRadius, ball: 0 };
  const inside = feet.kind !== "sharp ring" || feet.innerRadius <= feet.outerRadius;
  if (
    !(found.circle > 0 && found.ball >= 0 && Number.isFinite(found.circle + found.ball) && inside)
  ) {
    throw new RangeError(
      `${caller} requires feet on a circle above 0 mm, with balls of 0 or more, got ${
        JSON.stringify(feet)
      }`,
    );
  }
  return found;
}

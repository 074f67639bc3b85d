/** A spherometer: three feet or a ring, a probe in the middle, one reading on flat glass and one on the curve. */
import { resolution } from "../quantity/typeB.ts";
import { repeats } from "./depthsUnderChord.ts";
import { type Estimate, estimate, fileOf, type Placed } from "./estimate.ts";
import type { Bench, Spherometer } from "./gauges.ts";
import { type Repeated, repeated } from "./repeated.ts";

export type Surface = "concave" | "convex";

/** What the instrument stands on, mm. */
export type Feet =
  | { readonly kind: "balls"; readonly legRadius: number; readonly ballRadius: number }
  | { readonly kind: "sharp ring"; readonly outerRadius: number; readonly innerRadius: number }
  | { readonly kind: "rounded ring"; readonly ringRadius: number; readonly edgeRadius: number };

/** A dial reading; a record's spherometer row fits. */
export interface DialRow extends Placed {
  readonly surface: "flat" | "mirror";
  /** mm */
  readonly dial: number;
}

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
 * @see geometry of ball-foot and ring spherometers; Malacara, Optical Shop Testing (from memory)
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
 * The height a spherometer will show on a known curve: to calibrate, or to know when to stop.
 *
 * @param radius  of curvature, mm
 * @returns h, mm, positive
 * @throws {RangeError} when the feet do not fit on that curve
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const feet = { kind: "balls", legRadius: 50, ballRadius: 3 } as const;
 * assert.equal(spherometerHeight(feet, 2400).toFixed(4), "0.5215");
 * ```
 */
export function spherometerHeight(
  feet: Feet,
  radius: number,
  surface: Surface = "concave",
): number {
  const { circle, ball } = contact("spherometerHeight", feet, surface);
  const reach = surface === "concave" ? radius - ball : radius + ball;
  if (!(reach >= circle)) {
    throw new RangeError(
      `spherometerHeight requires a curve the feet can stand on, got radius=${radius}, leg circle=${circle} mm`,
    );
  }
  return circle ** 2 / (reach + Math.sqrt(reach ** 2 - circle ** 2));
}

/**
 * Radius of the circle through three feet, from the distances between them: l1 l2 l3 / 4 x area (Heron).
 *
 * @param sides  three distances, mm, that make a triangle
 * @throws {RangeError} when they do not
 * @see Heron, Metrica I.8 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(legCircle([86.55, 86.62, 86.7]).toFixed(4), "50.0120");
 * ```
 */
export function legCircle(sides: readonly [number, number, number]): number {
  const [a, b, c] = sides;
  const half = (a + b + c) / 2;
  const area = Math.sqrt(half * (half - a) * (half - b) * (half - c));
  if (!(area > 0 && Number.isFinite(area))) {
    throw new RangeError(
      `legCircle requires three sides of a triangle in mm, got ${sides.join(", ")}`,
    );
  }
  return (a * b * c) / (4 * area);
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

/**
 * Height lost when the probe stands beside the middle of the feet: -e^2 / 2R; the radius then reads too long by e^2 / a^2.
 *
 * @param offset  e, mm
 * @param radius  of curvature, mm; above 0
 * @returns mm, negative
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(probeOffCentre(1, 2400).toFixed(5), "-0.00021");
 * ```
 */
export function probeOffCentre(offset: number, radius: number): number {
  if (!(Number.isFinite(offset) && radius > 0)) {
    throw new RangeError(
      `probeOffCentre requires a finite offset and a radius above 0 mm, got offset=${offset}, radius=${radius}`,
    );
  }
  return -(offset ** 2) / (2 * radius);
}

/**
 * The radius by a spherometer with ball feet.
 *
 * Scatter on the flat and on the mirror is averaged; the dial's own error at each of its two places is not, since every
 * reading falls on the same part of its scale: it stays, as much as the step leaves open, for each place.
 *
 * @param rows   dial readings on flat glass and on the mirror
 * @param bench  with `gauges.spherometer` and `gauges.dialStep`, mm
 * @returns the estimate, or `undefined` when there are no rows
 * @throws {RangeError} when one of the two surfaces has no reading, both read alike, or the instrument is not described
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const gauges = {
 *   leaves: { width: 12.7, tolerance: 0.005 }, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15,
 *   spherometer: { legRadius: 50, ballRadius: 3, legRadiusU: 0.05, ballRadiusU: 0.01 },
 * };
 * const rows = [{ surface: "flat", dial: 5.001 }, { surface: "mirror", dial: 5.522 }] as const;
 * const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
 * assert.equal(spherometer(rows, bench)?.radius.value.toFixed(1), "2402.5");
 * ```
 */
export function spherometer(rows: readonly DialRow[], bench: Bench): Estimate | undefined {
  if (rows.length === 0) return undefined;
  const tool = bench.gauges.spherometer;
  if (tool === undefined) {
    throw new RangeError("spherometer requires gauges.spherometer with leg_radius, got none");
  }
  const step = bench.gauges.dialStep;
  const flat = seriesOf(rows, "flat", step);
  const mirror = seriesOf(rows, "mirror", step);
  const height = Math.abs(mirror.mean - flat.mean);
  const feet: Feet = { kind: "balls", legRadius: tool.legRadius, ballRadius: tool.ballRadius };
  const { perHeight } = spherometerSensitivity(feet, height);
  return estimate({
    method: "spherometer",
    radius: spherometerRadius(feet, height),
    components: [
      ...instrumentComponents(tool, feet, height, step),
      { source: "readings on the flat", u: -perHeight * flat.u, dof: flat.dof, ...repeats(flat) },
      {
        source: "readings on the mirror",
        u: perHeight * mirror.u,
        dof: mirror.dof,
        ...repeats(mirror),
      },
    ],
    readings: flat.count + mirror.count,
    setAside: [...flat.setAside, ...mirror.setAside],
    doubted: [...flat.doubted, ...mirror.doubted],
    assumed: [flat, mirror].some(({ count }) => count === 1)
      ? ["a surface was read once only: one dial step is assumed as the spread of a reading"]
      : [],
    file: fileOf(rows),
  });
}

function seriesOf(rows: readonly DialRow[], surface: DialRow["surface"], step: number): Repeated {
  const readings = rows.filter((row) => row.surface === surface);
  if (readings.length === 0) {
    const have = `${rows.length} on the ${surface === "flat" ? "mirror" : "flat"}`;
    const where = surface === "flat" ? "flat glass" : "the mirror";
    throw new RangeError(
      `spherometer requires a reading on ${where} beside the others, got only ${have}`,
    );
  }
  // The step is counted with the dial, once for each place: here only the scatter is wanted.
  const placed = readings.map((row) => ({ ...row, value: row.dial, step }));
  return repeated(placed, { single: step, stepApart: true });
}

function instrumentComponents(
  tool: Spherometer,
  feet: Feet,
  height: number,
  step: number,
): Parameters<typeof estimate>[0]["components"] {
  const { perLegRadius, perHeight, perBall } = spherometerSensitivity(feet, height);
  const dial = Math.SQRT2 * resolution(step);
  return [
    { source: "leg circle", u: perLegRadius * tool.legRadiusU, dof: Infinity },
    { source: "ball feet", u: perBall * tool.ballRadiusU, dof: Infinity },
    { source: "spherometer dial", u: perHeight * dial, dof: Infinity },
  ];
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

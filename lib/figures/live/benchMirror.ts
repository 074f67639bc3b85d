/** The bench figures' mirror with the faults that their sliders give it, the bands that a grating leaves on its face, and a curve of its glass. */
import type { SurfaceError } from "../../optics/conic.ts";
import { levels, valueOf, type Values } from "./figure.ts";
import type { RonchiFrame } from "../../testing/bands/ronchiFrame.ts";
import { type Html, safe } from "../html.ts";
import { drawing, group, path, type Point, through, words } from "../pen.ts";
import { fixed, type Scale, scale } from "../scale.ts";
import type { Pixels } from "./pixels.ts";

/** Half the aperture and the radius of curvature, mm. */
export const half = 75, radius = 2400;

/**
 * A ring of glass too high or low 51 mm from the middle, and a rim that falls away over its last 10 mm.
 *
 * @param values  ring, + = high, and edge, + = turned down, in nm
 * @returns nm of glass at a distance from the middle
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const error = errorOf({ ring: 20, edge: 80 });
 * assert.deepEqual([error(51), error(75).toFixed(1)], [20, "-80.0"]);
 * ```
 */
export function errorOf(values: Values): SurfaceError {
  const ring = valueOf(values, "ring"), edge = valueOf(values, "edge");
  return (r) => {
    const along = (r - 51) / 9, out = Math.max(0, r - 65) / 10;
    return ring * Math.exp(-along * along) - edge * out * out;
  };
}

/** Width of a face on the page, px, and as many pixels. */
export const faceWidth = 256;

/**
 * One picture of a mirror made ready, with the screen's own curve of brightness; empty outside the mirror.
 *
 * @param frame   the mirror
 * @param offset  grating from the centre of curvature, mm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { ronchiFrame } from "../../testing/bands/ronchiFrame.ts";
 * const still = { surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4 } as const;
 * const { values } = bandPixels(ronchiFrame(still, { width: 33, height: 33 }), -5);
 * assert.ok(Number.isNaN(values[0]) && (values[16 * 33 + 16] ?? 0) > 0.9);
 * ```
 */
export function bandPixels(frame: RonchiFrame, offset: number): Pixels {
  const { width, height } = frame, seen = frame.rgba(offset);
  const values = new Float64Array(width * height);
  for (let k = 0; k < values.length; k++) {
    values[k] = seen[4 * k + 3] === 0 ? NaN : (seen[4 * k] as number) / 255;
  }
  return { width, height, values };
}

/** A curve along the diameter: [mm from the middle, nm of glass]. */
export interface GlassCurve {
  readonly kind: string;
  readonly points: readonly Point[];
}

const x: Scale = scale(-half, half, 48, 48 + faceWidth), middle = 84, tall = 56;

/** The first of these heights that holds all the curves, nm. */
function endOf(curves: readonly GlassCurve[]): number {
  const most = Math.max(...curves.flatMap(({ points }) => points.map(([, nm]) => Math.abs(nm))));
  return [40, 80, 160, 320, 640].find((nm) => nm >= most) ?? 100 * Math.ceil(most / 100);
}

/**
 * A face with its bands, and under it, to the same scale across, what the glass does there.
 *
 * @param face     the picture, `faceWidth` px wide
 * @param curves   heights of glass, nm
 * @param finding  of the curves
 */
export function overGlass(face: Html, curves: readonly GlassCurve[], finding: string): Html {
  const end = endOf(curves), y = (nm: number): number => middle - (tall * nm) / end;
  const sheet = drawing({
    ...{ width: 352, height: 186, finding },
    contents: group(
      words([0, 14], "Height of the glass (nm)"),
      levels([end, 0, -end], y, (nm) => fixed(nm), [48, 48 + faceWidth]),
      curves.map(({ kind, points }) =>
        path(kind, through(points.map(([mm, nm]): Point => [x(mm), y(nm)])), "stroke-width:1.8")
      ),
      [-half, 0, half].map((mm) =>
        words([x(mm), 164], fixed(mm), { kind: "soft", anchor: "middle" })
      ),
      words([48 + faceWidth, 182], "Across the mirror (mm)", { anchor: "end" }),
    ),
  });
  return safe`<div style="margin:0 0 .4rem 48px">${face}</div>${sheet}`;
}

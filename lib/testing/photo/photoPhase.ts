/** Phase of the light that a mirror sends to the grating, and how it changes with all that is unknown. */
import type { Bench, Mirror } from "./photoModel.ts";
import { tableOf } from "./photoShapeTable.ts";
import type { Shape } from "./photoTerms.ts";

/** Phase at places of the face; the slopes are those of the place asked for last. */
export interface Phase {
  /** turns, that of the vertex taken off */
  at(x: number, y: number): number;
  /** turns by offset, by conic, then by each shape's amount */
  readonly slopes: Float64Array;
  /** turns by the square of the distance from the axis, of all that is the same all round */
  readonly bySquare: () => number;
}

/**
 * The light's phase for one state of the unknowns.
 *
 * @param bench   what is known
 * @param plane   the grating from the vertex, mm
 * @param mirror  unknowns of the mirror
 * @param wanted  whether slopes are
 */
export function phaseOf(
  { radius, half, setUp, wavelength }: Bench,
  plane: number,
  { conic, shapes, amounts, axes }: Mirror,
  wanted: boolean,
): Phase {
  const slopes = new Float64Array(shapes.length + 2), perMm = 1e6 / wavelength;
  const cos = Math.cos(axes) / half, sin = Math.sin(axes) / half, still = setUp === "fixed";
  const table = tableOf(shapes), profile = table.summed(amounts);
  const heights = new Float64Array(shapes.length);
  let bySquare = 0;
  const at = (x: number, y: number): number => {
    const r2 = x * x + y * y, u = r2 / (radius * radius), w = Math.sqrt(1 - (1 + conic) * u);
    const bare = r2 / (radius * (1 + w));
    let bump = 0, steep = 0;
    if (shapes.length > 0) {
      const rho = Math.sqrt(r2) / half;
      bump = profile.at(rho);
      steep = profile.steep();
      if (wanted) table.read(rho, heights);
      const su = cos * x + sin * y, sv = cos * y - sin * x;
      for (let j = table.count; j < shapes.length; j++) {
        const height = (shapes[j] as Shape)(su, sv);
        bump += (amounts[j] as number) * height;
        heights[j] = height;
      }
      steep /= Math.max(rho, 1e-3) * half * half;
    }
    const z = bare + bump * 1e-6, gap = plane - z, toPlane = Math.sqrt(r2 + gap * gap);
    let path = (r2 + z * z - 2 * plane * z) / (toPlane + plane), byHeight = -gap / toPlane;
    let straight = 0.5 / toPlane; // by the square of the distance, the height held
    if (still) {
      const other = radius - z, toLamp = Math.sqrt(r2 + other * other);
      path += (r2 + z * z - 2 * radius * z) / (toLamp + radius);
      byHeight -= other / toLamp;
      straight += 0.5 / toLamp;
    } else {
      path *= 2;
      byHeight *= 2;
      straight *= 2;
    }
    bySquare = perMm * (straight + byHeight * (1 / (2 * radius * w) + 0.5e-6 * steep));
    if (wanted) {
      slopes[0] = (perMm * (still ? -1 : -2) * r2) / (toPlane * (toPlane + gap));
      slopes[1] = (perMm * byHeight * bare * u) / (2 * w * (1 + w));
      for (let j = 0; j < shapes.length; j++) {
        slopes[j + 2] = (heights[j] as number) * perMm * byHeight * 1e-6;
      }
    }
    return perMm * path;
  };
  return { at, slopes, bySquare: () => bySquare };
}

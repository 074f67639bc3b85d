/** Which place of the mirror's face a pixel shows: the disc as a slanted camera and its lens see it. */
import { OWN } from "./photoModel.ts";

/** Unknowns of a photograph that say where a pixel looks. */
export const SIGHT: readonly number[] = [
  OWN.x,
  OWN.y,
  OWN.radius,
  OWN.stretch,
  OWN.stretch + 1,
  OWN.slant,
  OWN.slant + 1,
  OWN.bow,
];

/** Where pixels look, in half widths of the face, y upward; `byU`, `byV` hold the slopes by `SIGHT`. */
export interface Sight {
  look(px: number, py: number): void;
  readonly u: () => number;
  readonly v: () => number;
  slopes(): void;
  readonly byU: Float64Array;
  readonly byV: Float64Array;
}

/**
 * The way from pixels to the face.
 *
 *     pixel -> ellipse -> slant: w (b.w) - b -> lens: w (|w|^2 - 1) - 2 w (w.c) - c |w|^2 + 3 c
 *
 * Slant and lens are written so that to first order they leave the disc's outline where it is; c is the middle of the picture,
 * about which a lens bends.
 *
 * @param own     unknowns of the photograph
 * @param middle  middle of the picture from the disc's, half widths of the disc, y upward
 */
export function sightOf(own: ArrayLike<number>, [cu, cv]: readonly [number, number]): Sight {
  const x = own[OWN.x] as number, y = own[OWN.y] as number, radius = own[OWN.radius] as number;
  const along = own[OWN.stretch] as number, across = own[OWN.stretch + 1] as number;
  const bu = own[OWN.slant] as number, bv = own[OWN.slant + 1] as number;
  const bow = own[OWN.bow] as number;
  const byU = new Float64Array(SIGHT.length), byV = new Float64Array(SIGHT.length);
  const at = new Float64Array(8); // dx dy wu wv lensU lensV u v
  return {
    look(px, py): void {
      const dx = (px - x) / radius, dy = (y - py) / radius;
      const wu = dx + along * dx + across * dy, wv = dy - along * dy + across * dx;
      const square = wu * wu + wv * wv, dot = wu * cu + wv * cv, lean = wu * bu + wv * bv;
      const own = square - 1 - 2 * dot, far = 3 - square;
      const lensU = wu * own + cu * far, lensV = wv * own + cv * far;
      at[0] = dx;
      at[1] = dy;
      at[2] = wu;
      at[3] = wv;
      at[4] = lensU;
      at[5] = lensV;
      at[6] = wu + wu * lean - bu + bow * lensU;
      at[7] = wv + wv * lean - bv + bow * lensV;
    },
    u: () => at[6] as number,
    v: () => at[7] as number,
    slopes(): void {
      const dx = at[0] as number, dy = at[1] as number, wu = at[2] as number, wv = at[3] as number;
      // place and size: slant and lens change them by parts in a thousand
      byU[0] = -1 / radius;
      byV[0] = 0;
      byU[1] = 0;
      byV[1] = 1 / radius;
      byU[2] = -wu / radius;
      byV[2] = -wv / radius;
      byU[3] = dx;
      byV[3] = -dy;
      byU[4] = dy;
      byV[4] = dx;
      byU[5] = wu * wu - 1;
      byV[5] = wu * wv;
      byU[6] = wu * wv;
      byV[6] = wv * wv - 1;
      byU[7] = at[4] as number;
      byV[7] = at[5] as number;
    },
    byU,
    byV,
  };
}

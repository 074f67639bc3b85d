/** The mirror's picture behind a knife-edge, by diffraction: one row across the edge at a time, for each point of the slit. */
import { gaussLegendre } from "../../numeric/quadrature.ts";

/** Places at which the light of a face is worked out: rows across the knife's edge, each from rim to rim. */
export interface KnifeNodes {
  /** rows, and places in each */
  readonly rows: number;
  readonly perRow: number;
  /** across the edge, in radii, row after row: light goes toward + as the knife lets pass */
  readonly across: Float64Array;
  /** along the edge */
  readonly along: Float64Array;
}

/** Stretches between rim and rim of a row; rows over the face. */
const STRETCHES = 64, ROWS = 36;

/** How far from the middle the outermost rows lie, radii. */
const OUTERMOST = 0.96;

/**
 * How much finer places lie by the rim than they would evenly: a turned edge bends the wave within some hundredths of the radius, and where
 * places lie evenly its spherical part is missed by several of its u.
 */
const FINER = 0.6;

/** Place of stretch i's end in a row, -1 to 1: steps of 1 - FINER at both rims over even ones, a third wider in the middle. */
function placeIn(i: number, stretches: number): number {
  const t = (2 * i) / stretches - 1;
  return (1 - FINER) * t + FINER * Math.sin((Math.PI * t) / 2);
}

/**
 * Rows of places over the unit disc, closer together toward the rim.
 *
 * @param rows       over the face; default 36
 * @param stretches  in which a row is cut; default 64
 */
export function knifeNodes(rows: number = ROWS, stretches: number = STRETCHES): KnifeNodes {
  const perRow = stretches + 1, count = rows * perRow;
  const across = new Float64Array(count), along = new Float64Array(count);
  for (let k = 0; k < rows; k++) {
    const y = OUTERMOST * ((2 * k) / (rows - 1) - 1), chord = Math.sqrt(1 - y * y);
    for (let i = 0; i < perRow; i++) {
      across[k * perRow + i] = chord * placeIn(i, stretches);
      along[k * perRow + i] = y;
    }
  }
  return { rows, perRow, across, along };
}

/**
 * What each place of a row gives to each other behind the edge: the integral of 1 / (x - x') over straight stretches between
 * places, principal value; the same for rows of any length.
 */
function rowWeights(perRow: number): Float64Array {
  const weights = new Float64Array(perRow * perRow), last = perRow - 1;
  const at = Float64Array.from({ length: perRow }, (_, i) => placeIn(i, last));
  const step = (j: number): number => (at[j + 1] as number) - (at[j] as number);
  for (let i = 0; i < perRow; i++) {
    for (let j = 0; j < perRow; j++) {
      const away = (at[i] as number) - (at[j] as number);
      let sum = 0;
      if (i === j) {
        // what both stretches lack of infinity beside the place itself
        sum = j === 0 || j === last ? 0 : Math.log(step(j - 1) / step(j));
      } else {
        // stretch to the right of j, (1 - t) / (m - t) from 0 to 1; to the left, (1 + t) / (m - t) from -1 to 0
        if (j < last) {
          const m = away / step(j);
          sum += i === j + 1 ? 1 : 1 + (1 - m) * Math.log(m / (m - 1));
        }
        if (j > 0) {
          const m = away / step(j - 1);
          sum += i === j - 1 ? -1 : -1 + (1 + m) * Math.log((m + 1) / m);
        }
      }
      weights[i * perRow + j] = sum;
    }
  }
  return weights;
}

/** Where the points of a slit or of a round hole lie, in widths from the middle, and how much light each gives. */
export interface SlitPoints {
  readonly at: readonly number[];
  readonly share: readonly number[];
}

/**
 * Points that stand for a slit.
 *
 * @param width    of its image, over the finest line the mirror's light can draw, lambda R / D
 * @param isRound  whether it is a round hole
 */
export function slitPoints(width: number, isRound: boolean): SlitPoints {
  const { nodes, weights } = gaussLegendre(Math.min(24, 4 + Math.ceil(1.6 * width)));
  const light = nodes.map((t, k) => (weights[k] ?? 0) * (isRound ? Math.sqrt(1 - t * t) : 1));
  const all = light.reduce((sum, v) => sum + v, 0);
  return { at: nodes.map((t) => t / 2), share: light.map((v) => v / all) };
}

/** A face before a knife. */
export interface KnifeWave {
  readonly nodes: KnifeNodes;
  /** the wave's phase at each place, rad: it rises toward + where light goes toward + */
  readonly phase: Float64Array;
  /** phase, rad, that a ray over one unit of the knife's place gains in one radius: 2 pi a / (lambda L) mm */
  readonly perMm: number;
  /** the edge's place, mm; what lies farther toward + passes */
  readonly edge: number;
  /** width of the slit's image, mm */
  readonly slit: number;
  readonly points: SlitPoints;
}

/** A picture behind the knife. */
export interface KnifeLight {
  /** brightness at each place, 1 = unshadowed */
  readonly light: Float64Array;
  /** what a rise of each place's phase gives to each place of its row: perRow x perRow for each row; absent where not asked for */
  readonly slopes?: Float64Array;
}

const tables = new Map<number, Float64Array>();

/**
 * Brightness of the face behind the knife.
 *
 * Of a straight edge only the direction across counts, so each row stands for itself (exact). The wave that passes an edge at c is
 *
 *     A(x) = U(x) / 2 + i / (2 pi) PV Int U(x') exp(2 pi i c (x - x') / (lambda L)) / (x - x') dx'
 *
 * and the slit's points shine one by one, their images before the edge by as much as they lie beside the slit's middle.
 *
 * @param wave         phases, edge and slit
 * @param wantsSlopes  whether slopes along phases are worked out too
 * @see Linfoot, Recent Advances in Optics, 1955, chapter II (reckoned anew in tests/testing/secondRoute.py): the half plane's filter
 */
export function knifeLight(
  { nodes, phase, perMm, edge, slit, points }: KnifeWave,
  wantsSlopes: boolean,
): KnifeLight {
  const { rows, perRow, across } = nodes, square = perRow * perRow;
  let weights = tables.get(perRow);
  if (weights === undefined) tables.set(perRow, weights = rowWeights(perRow));
  const light = new Float64Array(rows * perRow);
  const slopes = wantsSlopes ? new Float64Array(rows * square) : undefined;
  const re = new Float64Array(perRow), im = new Float64Array(perRow);
  const outRe = new Float64Array(perRow), outIm = new Float64Array(perRow);
  const turn = 1 / (2 * Math.PI);
  for (let k = 0; k < rows; k++) {
    const from = k * perRow;
    for (let s = 0; s < points.at.length; s++) {
      const share = points.share[s] as number, c = perMm * (edge + slit * (points.at[s] as number));
      for (let j = 0; j < perRow; j++) {
        const turned = (phase[from + j] as number) - c * (across[from + j] as number);
        re[j] = Math.cos(turned);
        im[j] = Math.sin(turned);
      }
      for (let i = 0; i < perRow; i++) {
        let a = 0, b = 0;
        const row = i * perRow;
        for (let j = 0; j < perRow; j++) {
          const w = weights[row + j] as number;
          a += w * (re[j] as number);
          b += w * (im[j] as number);
        }
        const x = (re[i] as number) / 2 - turn * b, y = (im[i] as number) / 2 + turn * a;
        outRe[i] = x;
        outIm[i] = y;
        light[from + i] = (light[from + i] as number) + share * (x * x + y * y);
      }
      if (slopes === undefined) continue;
      for (let i = 0; i < perRow; i++) {
        const x = share * (outRe[i] as number), y = share * (outIm[i] as number);
        const row = k * square + i * perRow, own = i * perRow;
        for (let j = 0; j < perRow; j++) {
          const p = re[j] as number, q = im[j] as number;
          slopes[row + j] = (slopes[row + j] as number) -
            2 * turn * (weights[own + j] as number) * (x * p + y * q);
        }
        const p = re[i] as number, q = im[i] as number;
        slopes[row + i] = (slopes[row + i] as number) + (y * p - x * q);
      }
    }
  }
  return slopes === undefined ? { light } : { light, slopes };
}

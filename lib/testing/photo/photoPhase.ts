/** Phase of the light that a mirror sends to the grating, and how it changes with all that is unknown. */
import type { Bench, Mirror } from "./photoModel.ts";
import { REACH, summed, tableOf, WAVES } from "./photoShape.ts";

/** Places looked at together: what is kept of them stays in the processor's nearest memory. */
export const BLOCK = 64;

/** Rows of `BLOCK` numbers, in one piece of memory. */
export function blocks(count: number): Float64Array[] {
  const all = new ArrayBuffer(8 * BLOCK * count);
  return Array.from({ length: count }, (_, k) => new Float64Array(all, 8 * BLOCK * k, BLOCK));
}

const NOUGHTS = new Float64Array(BLOCK);
const IN_TURN = Int32Array.from({ length: BLOCK }, (_, i) => i);

/** What was read at some places of the face. */
export interface Readings {
  /** turns, that of the vertex taken off */
  readonly turns: Float64Array;
  /** turns by the square of the distance from the axis, of all that is the same all round */
  readonly bySquare: Float64Array;
  /** distance from the axis over the half width */
  readonly rho: Float64Array;
  /** the waves of `photoShapeTable` at each place's angle */
  readonly waves: Float64Array;
}

/** Work space for `BLOCK` places. */
export function readings(): Readings {
  const [turns, bySquare, rho] = blocks(3) as [Float64Array, Float64Array, Float64Array];
  return { turns, bySquare, rho, waves: new Float64Array(BLOCK * WAVES) };
}

/** Phase at places of the face. */
export interface Phase {
  /** reads it at `count` places, mm */
  read(x: Float64Array, y: Float64Array, count: number, into: Readings): void;
  /**
   * Adds to a row of `out` for each place its turns by conic, by each shape's amount, and last by offset, times the place's weight.
   *
   * @param to       each place's row
   * @param squares  weights of the places' `bySquare`, to be added with its own slopes; default noughts
   */
  addSlopes(
    of: Readings,
    weights: Float64Array,
    count: number,
    out: Float64Array,
    to?: Int32Array,
    squares?: Float64Array,
  ): void;
  /** length of a row of slopes */
  readonly width: number;
}

/**
 * The light's phase for one state of the unknowns.
 *
 * That of the bare conic is reckoned once, at some radii, and read between them by a cubic with the right slopes; shapes are so
 * low beside the distances that their heights only add.
 *
 * @param bench   what is known
 * @param plane   the grating from the vertex, mm
 * @param mirror  unknowns of the mirror
 */
export function phaseOf(bench: Bench, plane: number, mirror: Mirror): Phase {
  const { half } = bench, conic = conicTable(bench, plane, mirror.conic);
  const { rows, steps, scale, wave, count: round, waves } = tableOf(mirror.shapes);
  const shapes = wave.length, width = shapes + 2, across = 1 + waves.length;
  const kinds = Int32Array.of(0, ...waves), isUneven = waves.length > 0;
  const heights = summed(mirror.amounts, mirror.shapes);
  const cos = Math.cos(mirror.axes), sin = Math.sin(mirror.axes);
  const perRow = CONIC_STEPS / REACH, toSquare = 0.5 / (half * half);
  const step = (2 * half * half) / (perRow * perRow);

  const read: Phase["read"] = (x, y, count, into) => {
    const { turns, bySquare, rho, waves: all } = into;
    for (let i = 0; i < count; i++) {
      const px = x[i] as number, py = y[i] as number, r = Math.sqrt(px * px + py * py);
      const share = r / half, at = Math.min(CONIC_STEPS, share * perRow), k = Math.floor(at);
      const t = at - k, from = k * FIELDS, next = from + FIELDS;
      const low = conic[from] as number, rise = (conic[next] as number) - low;
      const bend = conic[from + BY_SQUARE] as number, after = conic[next + BY_SQUARE] as number;
      const a = bend * step * k, b = after * step * (k + 1);
      let path = low + t * (a + t * (3 * rise - 2 * a - b + t * (a + b - 2 * rise)));
      let curve = bend + t * (after - bend);
      rho[i] = share;
      if (shapes > 0) {
        const less = conic[from + BY_HEIGHT] as number;
        const height = less + t * ((conic[next + BY_HEIGHT] as number) - less);
        const place = Math.min(steps, share * scale), row = Math.floor(place), part = place - row;
        const here = row * across, there = here + across;
        let sum = heights[here] as number;
        const steep = (heights[there] as number) - sum;
        sum += part * steep;
        curve += (toSquare * height * steep * scale) / Math.max(share, 1e-3);
        if (isUneven) {
          const far = r > 1e-9 ? 1 / r : 0, own = i * WAVES;
          const c = far === 0 ? 1 : (cos * px + sin * py) * far, s = (cos * py - sin * px) * far;
          all[own] = 1;
          all[own + 1] = c;
          all[own + 2] = s;
          all[own + 3] = c * c - s * s;
          all[own + 4] = 2 * c * s;
          all[own + 5] = c * (4 * c * c - 3);
          all[own + 6] = s * (3 - 4 * s * s);
          all[own + 7] = 1 - 8 * c * c * s * s;
          all[own + 8] = 4 * c * s * (c * c - s * s);
          for (let n = 1; n < across; n++) {
            const crest = heights[here + n] as number;
            sum += (all[own + (kinds[n] as number)] as number) *
              (crest + part * ((heights[there + n] as number) - crest));
          }
        }
        path += height * sum;
      }
      turns[i] = path;
      bySquare[i] = curve;
    }
  };

  const addSlopes: Phase["addSlopes"] = (
    { rho, waves: all },
    weights,
    count,
    out,
    rowOf = IN_TURN,
    squares = NOUGHTS,
  ) => {
    for (let i = 0; i < count; i++) {
      const weight = weights[i] as number, bent = toSquare * (squares[i] as number);
      if (weight === 0 && bent === 0) continue;
      const share = rho[i] as number, at = Math.min(CONIC_STEPS, share * perRow);
      const k = Math.floor(at), t = at - k, from = k * FIELDS, next = from + FIELDS;
      const before = 1 - t,
        to = (rowOf[i] as number) * width,
        q = share * share,
        last = to + shapes + 1;
      out[to] = (out[to] as number) + (weight * q + 4 * bent) * q *
          (before * (conic[from + BY_CONIC] as number) + t * (conic[next + BY_CONIC] as number));
      out[last] = (out[last] as number) + (weight * q + 2 * bent) *
          (before * (conic[from + BY_OFFSET] as number) + t * (conic[next + BY_OFFSET] as number));
      const perNm = before * (conic[from + BY_HEIGHT] as number) +
        t * (conic[next + BY_HEIGHT] as number);
      const height = weight * perNm, tilt = (bent * perNm * scale) / Math.max(share, 1e-3);
      const place = Math.min(steps, share * scale), row = Math.floor(place), part = place - row;
      const a = height * (1 - part), b = height * part, low = row * shapes, high = low + shapes;
      const first = to + 1;
      for (let j = 0; j < round; j++) {
        out[first + j] = (out[first + j] as number) + (a - tilt) * (rows[low + j] as number) +
          (b + tilt) * (rows[high + j] as number);
      }
      for (let j = round; j < shapes; j++) {
        out[first + j] = (out[first + j] as number) +
          (all[i * WAVES + (wave[j] as number)] as number) *
            (a * (rows[low + j] as number) + b * (rows[high + j] as number));
      }
    }
  };
  return { read, addSlopes, width };
}

/** What a row of a conic's table holds, in turns; slopes are freed of the powers of the radius, so that they hardly change. */
const BY_SQUARE = 1, BY_OFFSET = 2, BY_CONIC = 3, BY_HEIGHT = 4, FIELDS = 5;

/** Steps enough for a conic, to a hundred millionth of a turn. */
const CONIC_STEPS = 250;

/** Phase of a bare conic over the radius, its slopes, and what a nanometre of glass changes. */
function conicTable(
  { radius, half, setUp, wavelength }: Bench,
  plane: number,
  conic: number,
): Float64Array {
  const table = new Float64Array((CONIC_STEPS + 2) * FIELDS), perMm = 1e6 / wavelength;
  const still = setUp === "fixed";
  for (let k = 0; k <= CONIC_STEPS + 1; k++) {
    const from = k * FIELDS, r2 = ((k * REACH * half) / CONIC_STEPS) ** 2;
    const w = Math.sqrt(1 - ((1 + conic) * r2) / (radius * radius)), share = 1 / (radius * (1 + w));
    const z = r2 * share, gap = plane - z, toPlane = Math.sqrt(r2 + gap * gap);
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
    table[from] = perMm * path;
    table[from + BY_SQUARE] = perMm * (straight + byHeight / (2 * radius * w));
    table[from + BY_OFFSET] = (perMm * (still ? -1 : -2) * half * half) /
      (toPlane * (toPlane + gap));
    table[from + BY_CONIC] = (perMm * byHeight * share * half ** 4) /
      (2 * w * (1 + w) * radius * radius);
    table[from + BY_HEIGHT] = perMm * byHeight * 1e-6;
  }
  return table;
}

/** How the upper disc settles: the plane at which the squeezed grains carry the force, and carry it where it presses. */

/** c + a x + b y, x and y from the upper disc's centre: height in mm, slopes. */
export type Plane = Float64Array;

/** What the grains must carry. */
export interface Load {
  /** N */
  readonly force: number;
  /** where it presses, mm from the upper disc's centre */
  readonly x: number;
  readonly y: number;
}

/** The places at which contact is looked at. */
export interface ContactPlaces {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly area: Float64Array;
}

/**
 * So near, as a share of the force (moments: of the force at 100 mm), one more step is the last: Newton's error goes with
 * the square, and is nothing where the same places stay in contact.
 */
const close = 1e-3;

/**
 * Finds the plane by Newton's method, starting from what `plane` holds, and leaves it there.
 *
 * Grains carry where the shapes would cross: pressure = stiffness x max(0, gap - plane). Force and both moments are
 * three equations for three unknowns, the minimum of a convex function.
 *
 * @param gap        sum of both shapes' heights at each place, mm
 * @param stiffness  N/mm3
 * @throws {RangeError} where there is no balance: the force presses outside the overlap, the disc tips
 * @see K. L. Johnson, Contact Mechanics, 4.3, elastic foundation (from memory)
 */
export function settle(
  gap: Float64Array,
  { count, x, y, area }: ContactPlaces,
  stiffness: number,
  load: Load,
  plane: Plane,
): void {
  const f = load.force / stiffness, fx = f * load.x, fy = f * load.y;
  let c = plane[0] as number, a = plane[1] as number, b = plane[2] as number;
  for (let turn = 0; turn < 100; turn++) {
    let s = 0, sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0, g = 0, gx = 0, gy = 0;
    for (let i = 0; i < count; i++) {
      const xi = x[i] as number, yi = y[i] as number;
      const e = (gap[i] as number) - c - a * xi - b * yi;
      if (e <= 0) continue;
      const w = area[i] as number, wx = w * xi, wy = w * yi, we = w * e;
      s += w, sx += wx, sy += wy, sxx += wx * xi, sxy += wx * yi, syy += wy * yi;
      g += we, gx += we * xi, gy += we * yi;
    }
    const r = g - f, rx = gx - fx, ry = gy - fy;
    const isClose = Math.abs(r) < close * f && Math.hypot(rx, ry) < close * f * 100;
    const A = syy * sxx - sxy * sxy, B = sy * sxy - sx * syy, C = sx * sxy - sy * sxx;
    const det = s * A + sx * B + sy * C;
    if (!(det > 1e-12 * s * sxx * syy) || s === 0) {
      c = touchDown(gap, { count, x, y, area }, a, b, f), a *= 0.5, b *= 0.5;
      continue;
    }
    const damp = turn < 20 ? 1 : 0.5;
    c += damp * (A * r + B * rx + C * ry) / det;
    a += damp * (B * r + (s * syy - sy * sy) * rx + (sx * sy - s * sxy) * ry) / det;
    b += damp * (C * r + (sx * sy - s * sxy) * rx + (s * sxx - sx * sx) * ry) / det;
    if (isClose) {
      plane[0] = c, plane[1] = a, plane[2] = b;
      return;
    }
  }
  throw new RangeError(
    `settle requires a force that presses inside the overlap, got one ${load.x}, ${load.y} mm from the upper disc's centre at which it tips`,
  );
}

/** Without contact, the plane that just presses on the highest place. */
function touchDown(
  gap: Float64Array,
  { count, x, y, area }: ContactPlaces,
  a: number,
  b: number,
  f: number,
): number {
  let highest = -Infinity, whole = 0;
  for (let i = 0; i < count; i++) {
    const e = (gap[i] as number) - a * (x[i] as number) / 2 - b * (y[i] as number) / 2;
    highest = Math.max(highest, e);
    whole += area[i] as number;
  }
  return highest - f / whole;
}

// deno-lint-ignore-file no-non-null-assertion -- plain loops over typed arrays
/**
 * The judge of the wear engines: square grids fixed to each disc, turned bodily, stroke by stroke. Slow and plain.
 *
 * It shares no code with the library: own grid, own interpolation, own balance, own turning, own reading of the shapes.
 * The physics is the same by intention: grains that carry when squeezed, a rigid upper disc, wear by pressure x path on both.
 */

export interface JudgeSet {
  readonly strokes: number;
  /** mm beside the centre */
  readonly offset: number;
  /** end to end, mm */
  readonly travel: number;
  /** after the set, rad */
  readonly upperTurn: number;
  readonly lowerTurn: number;
}

export interface JudgeSettings {
  readonly cells: number;
  /** places along the stroke, all of one weight; without a number eight at Gauss's nodes */
  readonly places?: number;
  /** strokes taken in one step */
  readonly lump: number;
  readonly upperRadius: number;
  readonly lowerRadius: number;
  readonly force: number;
  readonly upperWear: number;
  readonly lowerWear: number;
  readonly stiffness: number;
  readonly lean: number;
}

export const usualJudge: JudgeSettings = {
  cells: 128,
  lump: 4,
  upperRadius: 75,
  lowerRadius: 75,
  force: 60,
  upperWear: 4e-4,
  lowerWear: 4e-4,
  stiffness: 0.34,
  lean: 0,
};

/** What the judge reads off a disc; um. */
export interface Judgement {
  readonly sagitta: number;
  readonly removal: number;
  readonly spherical: number;
  readonly astigmatism: number;
  readonly trefoil: number;
  readonly rms: number;
}

export class Square {
  readonly side: number;
  readonly cell: number;
  readonly start: number;
  readonly height: Float64Array;
  readonly nodes: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly own: Float64Array;
  turned = 0;

  constructor(readonly radius: number, cells: number) {
    this.side = cells + 4;
    this.cell = 2 * radius / cells;
    this.start = -(this.side - 1) / 2 * this.cell;
    this.height = new Float64Array(this.side ** 2);
    const nodes: number[] = [], x: number[] = [], y: number[] = [], own: number[] = [];
    for (let row = 0; row < this.side; row++) {
      for (let column = 0; column < this.side; column++) {
        const px = this.start + column * this.cell, py = this.start + row * this.cell;
        const r = Math.hypot(px, py);
        if (r >= radius + 1.6 * this.cell) continue;
        nodes.push(row * this.side + column);
        x.push(px);
        y.push(py);
        own.push(Math.min(1, Math.max(0, (radius - r) / this.cell + 0.5)));
      }
    }
    this.nodes = Int32Array.from(nodes);
    this.x = Float64Array.from(x);
    this.y = Float64Array.from(y);
    this.own = Float64Array.from(own);
  }
}

export interface Meeting {
  readonly n: number;
  readonly node: Int32Array;
  readonly from: Int32Array;
  readonly tx: Float64Array;
  readonly ty: Float64Array;
  readonly X: Float64Array;
  readonly Y: Float64Array;
  readonly cover: Float64Array;
  readonly area: Float64Array;
}

/** Cells of `a` over `b`; (dx, dy) from a's centre to b's in the room; X, Y from the upper disc's centre. */
export function meeting(a: Square, b: Square, dx: number, dy: number, aIsUpper: boolean): Meeting {
  const size = a.nodes.length;
  const node = new Int32Array(size), from = new Int32Array(size);
  const tx = new Float64Array(size), ty = new Float64Array(size);
  const X = new Float64Array(size), Y = new Float64Array(size);
  const cover = new Float64Array(size), area = new Float64Array(size);
  const ca = Math.cos(a.turned), sa = Math.sin(a.turned);
  const cb = Math.cos(b.turned), sb = Math.sin(b.turned);
  let n = 0;
  for (let k = 0; k < size; k++) {
    const rx = ca * a.x[k]! - sa * a.y[k]!, ry = sa * a.x[k]! + ca * a.y[k]!;
    const qx = rx - dx, qy = ry - dy, r = Math.hypot(qx, qy);
    if (r >= b.radius + 0.5 * a.cell) continue;
    const bx = cb * qx + sb * qy, by = -sb * qx + cb * qy;
    const fx = (bx - b.start) / b.cell, fy = (by - b.start) / b.cell;
    const ix = Math.floor(fx), iy = Math.floor(fy);
    node[n] = a.nodes[k]!;
    from[n] = iy * b.side + ix;
    tx[n] = fx - ix;
    ty[n] = fy - iy;
    X[n] = aIsUpper ? rx : qx;
    Y[n] = aIsUpper ? ry : qy;
    cover[n] = Math.min(1, (b.radius - r) / a.cell + 0.5);
    area[n] = cover[n]! * a.own[k]! * a.cell * a.cell;
    n++;
  }
  return { n, node, from, tx, ty, X, Y, cover, area };
}

export function gaps(m: Meeting, a: Square, b: Square, e: Float64Array): void {
  const h = b.height, s = b.side;
  for (let i = 0; i < m.n; i++) {
    const k = m.from[i]!, t = m.tx[i]!, u = m.ty[i]!;
    e[i] = a.height[m.node[i]!]! + (1 - u) * ((1 - t) * h[k]! + t * h[k + 1]!) +
      u * ((1 - t) * h[k + s]! + t * h[k + s + 1]!);
  }
}

/** Three balance equations solved by Cramer's rule, again and again until nothing is left; q is the plane. */
export function balance(m: Meeting, e: Float64Array, q: number[], f: number, lean: number): void {
  const { n, X: px, Y: py, area } = m;
  let c = q[0]!, a = q[1]!, b = q[2]!;
  for (let turn = 0; turn < 60; turn++) {
    let touching = 0, s = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0, g = -f, gx = 0, gy = -f * lean;
    for (let i = 0; i < n; i++) {
      const X = px[i]!, Y = py[i]!, gap = e[i]! - c - a * X - b * Y;
      if (gap <= 0) continue;
      touching++;
      const w = area[i]!, wx = w * X, wy = w * Y, wg = w * gap;
      s += w, x += wx, y += wy, xx += wx * X, xy += wx * Y, yy += wy * Y;
      g += wg, gx += wg * X, gy += wg * Y;
    }
    if (Math.abs(g) < 1e-9 * f && Math.hypot(gx, gy) < 1e-9 * f * 75) {
      q[0] = c, q[1] = a, q[2] = b;
      return;
    }
    if (touching < 4) {
      let top = -Infinity, whole = 0;
      for (let i = 0; i < n; i++) {
        top = Math.max(top, e[i]! - a * px[i]! - b * py[i]!);
        whole += area[i]!;
      }
      c = top - f / whole * (turn + 1);
      continue;
    }
    const det = (i: number[]): number =>
      i[0]! * (i[4]! * i[8]! - i[5]! * i[7]!) - i[1]! * (i[3]! * i[8]! - i[5]! * i[6]!) +
      i[2]! * (i[3]! * i[7]! - i[4]! * i[6]!);
    const whole = det([s, x, y, x, xx, xy, y, xy, yy]);
    c += det([g, x, y, gx, xx, xy, gy, xy, yy]) / whole;
    a += det([s, g, y, x, gx, xy, y, gy, yy]) / whole;
    b += det([s, x, g, x, xx, gx, y, xy, gy]) / whole;
  }
  throw new Error("the judge found no balance");
}

export function wearDown(
  m: Meeting,
  a: Square,
  e: Float64Array,
  q: readonly number[],
  rate: number,
): void {
  for (let i = 0; i < m.n; i++) {
    const gap = e[i]! - q[0]! - q[1]! * m.X[i]! - q[2]! * m.Y[i]!;
    if (gap > 0) a.height[m.node[i]!]! -= rate * gap * m.cover[i]!;
  }
}

/** Places from -1 to 1 and their shares of the path. */
export function along(places?: number): { at: number; share: number }[] {
  if (places !== undefined) {
    return Array.from({ length: places }, (_, i) => (
      { at: (2 * i + 1) / places - 1, share: 1 / places }
    ));
  }
  // roots of Legendre's polynomial of degree 8 by Newton, from Bonnet's recursion
  const n = 8;
  return Array.from({ length: n }, (_, i) => {
    let x = Math.cos(Math.PI * (i + 0.75) / (n + 0.5)), slope = 0;
    for (let turn = 0; turn < 20; turn++) {
      let last = 1, now = x;
      for (let k = 2; k <= n; k++) {
        [last, now] = [now, ((2 * k - 1) * x * now - (k - 1) * last) / k];
      }
      slope = n * (x * now - last) / (x * x - 1);
      x -= now / slope;
    }
    return { at: x, share: 1 / ((1 - x * x) * slope * slope) };
  });
}

/** Grinds two flat discs through all sets and judges both. */
export function judge(
  sets: readonly JudgeSet[],
  changes: Partial<JudgeSettings> = {},
): { readonly upper: Judgement; readonly lower: Judgement } {
  const s = { ...usualJudge, ...changes };
  const upper = new Square(s.upperRadius, s.cells), lower = new Square(s.lowerRadius, s.cells);
  const e = new Float64Array(Math.max(upper.nodes.length, lower.nodes.length));
  const q = [-s.force / s.stiffness / (Math.PI * s.upperRadius ** 2), 0, 0];
  const f = s.force / s.stiffness;
  for (const set of sets) {
    const places = along(s.places).map(({ at, share }) => {
      const x = set.travel / 2 * at;
      return {
        below: meeting(lower, upper, x, set.offset, false),
        above: meeting(upper, lower, -x, -set.offset, true),
        share,
      };
    });
    for (let left = set.strokes; left > 1e-9; left -= s.lump) {
      const whole = 2 * set.travel * Math.min(left, s.lump) * s.stiffness;
      for (const { below, above, share } of places) {
        const path = whole * share;
        gaps(below, lower, upper, e);
        balance(below, e, q, f, s.lean);
        const plane = [...q];
        const saved = e.slice(0, below.n);
        gaps(above, upper, lower, e);
        wearDown(below, lower, saved, plane, s.lowerWear * path);
        balance(above, e, q, f, s.lean);
        wearDown(above, upper, e, q, s.upperWear * path);
      }
    }
    upper.turned += set.upperTurn;
    lower.turned += set.lowerTurn;
  }
  return { upper: read(upper), lower: read(lower) };
}

/** Least squares by the normal equations on the terms it reports, whole disc cells weighted by their share. */
function read(disc: Square): Judgement {
  const all = (rho: number, t: number): number[] => [
    1,
    2 * rho * Math.cos(t),
    2 * rho * Math.sin(t),
    Math.sqrt(3) * (2 * rho ** 2 - 1),
    Math.sqrt(5) * (6 * rho ** 4 - 6 * rho ** 2 + 1),
    Math.sqrt(6) * rho ** 2 * Math.cos(2 * t),
    Math.sqrt(6) * rho ** 2 * Math.sin(2 * t),
    Math.sqrt(8) * rho ** 3 * Math.cos(3 * t),
    Math.sqrt(8) * rho ** 3 * Math.sin(3 * t),
    Math.sqrt(8) * (3 * rho ** 3 - 2 * rho) * Math.cos(t),
    Math.sqrt(8) * (3 * rho ** 3 - 2 * rho) * Math.sin(t),
    Math.sqrt(7) * (20 * rho ** 6 - 30 * rho ** 4 + 12 * rho ** 2 - 1),
    Math.sqrt(10) * rho ** 4 * Math.cos(4 * t),
    Math.sqrt(10) * rho ** 4 * Math.sin(4 * t),
  ];
  const c = solveFit(disc, all).c;
  const bowl = solveFit(disc, (rho, t) => [1, rho * Math.cos(t), rho * Math.sin(t), rho * rho]);
  let sum = 0, whole = 0;
  disc.nodes.forEach((node, k) => {
    whole += disc.own[k]!;
    sum += disc.own[k]! * disc.height[node]!;
  });
  return {
    sagitta: bowl.c[3]! * 1000,
    removal: -sum / whole * 1000,
    spherical: c[4]! * 1000,
    astigmatism: Math.hypot(c[5]!, c[6]!) * 1000,
    trefoil: Math.hypot(c[7]!, c[8]!) * 1000,
    rms: bowl.rms * 1000,
  };
}

function solveFit(
  disc: Square,
  terms: (rho: number, t: number) => number[],
): { c: number[]; rms: number } {
  const rows: { b: number[]; w: number; h: number }[] = [];
  disc.nodes.forEach((node, k) => {
    const w = disc.own[k]!;
    if (w === 0) return;
    const rho = Math.min(1, Math.hypot(disc.x[k]!, disc.y[k]!) / disc.radius);
    rows.push({ b: terms(rho, Math.atan2(disc.y[k]!, disc.x[k]!)), w, h: disc.height[node]! });
  });
  const n = rows[0]!.b.length;
  const M = Array.from({ length: n }, () => new Array<number>(n + 1).fill(0));
  for (const { b, w, h } of rows) {
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) M[i]![j]! += w * b[i]! * b[j]!;
      M[i]![n]! += w * b[i]! * h;
    }
  }
  for (let p = 0; p < n; p++) {
    for (let r = 0; r < n; r++) {
      if (r === p) continue;
      const share = M[r]![p]! / M[p]![p]!;
      for (let k = p; k <= n; k++) M[r]![k]! -= share * M[p]![k]!;
    }
  }
  const c = M.map((row, i) => row[n]! / row[i]!);
  let square = 0, whole = 0;
  for (const { b, w, h } of rows) {
    square += w * (h - b.reduce((sum, v, i) => sum + v * c[i]!, 0)) ** 2;
    whole += w;
  }
  return { c, rms: Math.sqrt(square / whole) };
}

/**
 * A disc of glass as a solid body on pads: three-dimensional elasticity, harmonic by harmonic round the axis, nine-node
 * elements over radius and height. No plate theory, and nothing of the rooms under test.
 */

/** A pad that presses evenly on the back. */
export interface Pad {
  readonly radius: number;
  readonly angle: number;
}

/** Pads in the middle of which rings of points stand. */
export function padsOf(
  rings: readonly { readonly points: number; readonly radius: number; readonly turn?: number }[],
): Pad[] {
  return rings.flatMap(({ points, radius, turn = 0 }) =>
    Array.from({ length: points }, (_, i) => ({ radius, angle: turn + (2 * Math.PI * i) / points }))
  );
}

/** Lengths in units of the disc's radius. */
export interface ElasticDisc {
  readonly thickness: number;
  readonly poisson: number;
  /** all alike, mirrored about the x axis */
  readonly pads: readonly Pad[];
  /** half the width of a pad, along the radius and along the arc; default 0.05 */
  readonly half?: number;
  /** round the axis, along the radius, over the height; default 24, 20, 3 */
  readonly harmonics?: number;
  readonly radial?: number;
  readonly layers?: number;
}

/** RMS over q a^4 / D about the mean, and with the best r^2 taken away too. */
export interface SagRms {
  readonly rms: number;
  readonly rmsRefocused: number;
}

const GAUSS = [[-Math.sqrt(0.6), 5 / 9], [0, 8 / 9], [Math.sqrt(0.6), 5 / 9]] as const;

/** Values and slopes of the three parabolas through -1, 0 and 1. */
function line(x: number): readonly [readonly number[], readonly number[]] {
  return [[(x * (x - 1)) / 2, 1 - x * x, (x * (x + 1)) / 2], [x - 0.5, -2 * x, x + 0.5]];
}

/** Ends of the elements along the radius, the pads' own edges among them. */
function ends(pads: readonly Pad[], half: number, radial: number): number[] {
  const cuts = [0, 1, ...pads.flatMap(({ radius }) => [radius - half, radius + half])];
  const sorted = [...new Set(cuts.map((r) => Math.round(r * 1e9) / 1e9))].sort((a, b) => a - b);
  return sorted.flatMap((from, i) => {
    const to = sorted[i + 1];
    if (to === undefined) return [from];
    const parts = Math.max(1, Math.round((to - from) * radial));
    return Array.from({ length: parts }, (_, k) => from + ((to - from) * k) / parts);
  });
}

/** Lower band of a symmetric matrix, row by row. */
class Band {
  readonly values: Float64Array;
  constructor(readonly size: number, readonly width: number) {
    this.values = new Float64Array(size * (width + 1));
  }
  row(i: number): number {
    return i * (this.width + 1) + this.width - i;
  }
  add(i: number, j: number, value: number): void {
    if (j <= i) this.values[this.row(i) + j] = (this.values[this.row(i) + j] as number) + value;
  }
  /** Cholesky, in place. */
  solve(x: Float64Array): Float64Array {
    const { values: a, size, width } = this;
    for (let i = 0; i < size; i++) {
      const first = Math.max(0, i - width), ri = this.row(i);
      for (let j = first; j <= i; j++) {
        const rj = this.row(j);
        let rest = a[ri + j] as number;
        for (let k = Math.max(first, j - width); k < j; k++) {
          rest -= (a[ri + k] as number) * (a[rj + k] as number);
        }
        a[ri + j] = i === j ? Math.sqrt(rest) : rest / (a[rj + j] as number);
        if (i !== j) x[i] = (x[i] as number) - (a[ri + j] as number) * (x[j] as number);
      }
      x[i] = (x[i] as number) / (a[ri + i] as number);
    }
    for (let i = size - 1; i >= 0; i--) {
      const ri = this.row(i), value = (x[i] as number) / (a[ri + i] as number);
      x[i] = value;
      for (let k = Math.max(0, i - width); k < i; k++) {
        x[k] = (x[k] as number) - (a[ri + k] as number) * value;
      }
    }
    return x;
  }
}

/** Six strains (r, round, z, rz, r round, round z) of harmonic n, for a node's move along r, round and along z. */
function strains(n: number, f: number, fr: number, fz: number, r: number): number[][] {
  return [
    [fr, f / r, 0, fz, (-n * f) / r, 0],
    [0, (n * f) / r, 0, 0, fr - f / r, fz],
    [0, 0, fz, fr, 0, (-n * f) / r],
  ];
}

/** Stresses of the strains, for a stiffness of 1. */
function stresses(e: readonly number[], poisson: number): number[] {
  const shear = 1 / (2 * (1 + poisson)), lame = poisson / ((1 + poisson) * (1 - 2 * poisson));
  const swell = lame * ((e[0] ?? 0) + (e[1] ?? 0) + (e[2] ?? 0));
  return e.map((strain, k) => k < 3 ? 2 * shear * strain + swell : shear * strain);
}

/** Along z at every node of the section, for harmonic n: columns along the radius, each from back to face. */
function movedUp(disc: Required<ElasticDisc>, n: number, rs: readonly number[]): Float64Array[] {
  const { thickness, layers, pads, half, poisson } = disc;
  const high = 2 * layers + 1, wide = 2 * rs.length - 1, turns = n === 0 ? 2 : 1;
  const dof = (column: number, level: number): number => 3 * (column * high + level);
  const band = new Band(3 * high * wide, 3 * (2 * high + 3)), load = new Float64Array(band.size);
  const press = (at: number, value: number): void => void (load[at] = (load[at] ?? 0) + value);
  rs.slice(0, -1).forEach((from, e) => {
    const hr = (rs[e + 1] ?? 0) - from, hz = thickness / layers;
    for (const [x, wx] of GAUSS) {
      const r = from + (hr * (x + 1)) / 2, [lr, dr] = line(x);
      for (let layer = 0; layer < layers; layer++) {
        for (const [y, wy] of GAUSS) {
          const [lz, dz] = line(y), weight = (wx * wy * hr * hz * r * turns) / 4;
          const nodes = lr.flatMap((fx, i) =>
            lz.map((fz, j) => {
              const slopes = [(2 * (dr[i] ?? 0) * fz) / hr, (2 * fx * (dz[j] ?? 0)) / hz] as const;
              const b = strains(n, fx * fz, ...slopes, r);
              const at = dof(2 * e + i, 2 * layer + j);
              return { at, b, s: b.map((strain) => stresses(strain, poisson)), f: fx * fz };
            })
          );
          for (const { at, b, f } of nodes) {
            if (n === 0) press(at + 2, -weight * f); // its own weight, 1 a volume
            for (const other of nodes) {
              b.forEach((strain, c) =>
                other.s.forEach((stress, d) =>
                  band.add(
                    at + c,
                    other.at + d,
                    weight * strain.reduce((sum, value, k) => sum + value * (stress[k] ?? 0), 0),
                  )
                )
              );
            }
          }
        }
      }
      for (const { radius, angle } of pads) {
        if (Math.abs(r - radius) > half) continue;
        const turn = half / radius,
          pressure = (Math.PI * thickness) / pads.length / (4 * half * half);
        const share = n === 0 ? turn * 2 : (2 * Math.sin(n * turn) * Math.cos(n * angle)) / n;
        lr.forEach((f, i) =>
          press(dof(2 * e + i, 0) + 2, (pressure * share * f * r * wx * hr) / 2 / Math.PI)
        );
      }
    }
  });
  const hold = (i: number): void => band.add(i, i, 1e9);
  for (let level = 0; level < high; level++) {
    for (let c = 0; c < (n === 0 ? 2 : 3); c++) hold(dof(0, level) + c);
    if (n === 0) { for (let column = 1; column < wide; column++) hold(dof(column, level) + 1); }
  }
  if (n === 0) hold(dof(wide - 1, 0) + 2);
  const moved = band.solve(load);
  return Array.from(
    { length: wide },
    (_, column) =>
      Float64Array.from({ length: high }, (_, level) => moved[dof(column, level) + 2] ?? 0),
  );
}

/** Integral of f r dr over the disc, times 2: its mean. */
function mean(rs: readonly number[], f: (e: number, x: number, r: number) => number): number {
  return rs.slice(0, -1).reduce((sum, from, e) => {
    const hr = (rs[e + 1] ?? 0) - from;
    return sum + GAUSS.reduce((part, [x, w]) => {
      const r = from + (hr * (x + 1)) / 2;
      return part + f(e, x, r) * r * w * hr;
    }, 0);
  }, 0);
}

/** Mean over the height that a plate's one height stands for: most in the middle, 3/2 (1 - z^2). */
function plateHeight(column: Float64Array): number {
  const layers = (column.length - 1) / 2;
  let sum = 0;
  for (let layer = 0; layer < layers; layer++) {
    for (const [y, w] of GAUSS) {
      const [f] = line(y), z = (2 * (layer + (y + 1) / 2)) / layers - 1;
      const here = f.reduce((part, v, j) => part + v * (column[2 * layer + j] ?? 0), 0);
      sum += (1.5 * (1 - z * z) * w * here) / 2 / layers;
    }
  }
  return sum;
}

/** How the solid disc sags on its pads: its polished face, and its whole height as a plate has it. */
export function elasticSag(given: ElasticDisc): { readonly face: SagRms; readonly plate: SagRms } {
  const disc = { half: 0.05, harmonics: 24, radial: 20, layers: 3, ...given };
  const rs = ends(disc.pads, disc.half, disc.radial), { thickness, poisson, pads } = disc;
  const square = { face: [0, 0], plate: [0, 0] };
  for (let n = 0; n <= disc.harmonics; n++) {
    // by symmetry only harmonics that some ring of pads feels
    const rings = Map.groupBy(pads, ({ radius }) => radius);
    const felt = [...rings.values()].some((ring) =>
      Math.abs(ring.reduce((sum, { angle }) => sum + Math.cos(n * angle), 0)) > 1e-9
    );
    if (!felt) continue;
    const columns = movedUp(disc, n, rs);
    for (
      const [name, height] of [["face", (c: Float64Array) => c.at(-1) ?? 0], [
        "plate",
        plateHeight,
      ]] as const
    ) {
      const w = columns.map(height);
      const at = (e: number, x: number): number =>
        line(x)[0].reduce((sum, f, i) => sum + f * (w[2 * e + i] ?? 0), 0);
      const level = n === 0 ? mean(rs, at) : 0;
      const focus = n === 0 ? 3 * mean(rs, (e, x, r) => at(e, x) * (2 * r * r - 1)) : 0;
      const all = mean(rs, (e, x) => (at(e, x) - level) ** 2) / (n === 0 ? 1 : 2);
      square[name] = [(square[name][0] ?? 0) + all, (square[name][1] ?? 0) + all - focus ** 2 / 3];
    }
  }
  // q a^4 / D for a stiffness and a weight of 1: 12 (1 - nu^2) / t^2
  const unit = (12 * (1 - poisson ** 2)) / thickness ** 2;
  const told = ([all = 0, rest = 0]: readonly number[]): SagRms => ({
    rms: Math.sqrt(all) / unit,
    rmsRefocused: Math.sqrt(rest) / unit,
  });
  return { face: told(square.face), plate: told(square.plate) };
}

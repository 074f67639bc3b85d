/** Exact rays off a paraboloid, past a tilted elliptical flat: nothing in here comes from the rooms under test. */

export type Vector = readonly [number, number, number];

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const plus = (a: Vector, b: Vector, times = 1): Vector => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
];
const unit = (a: Vector): Vector => {
  const length = Math.sqrt(dot(a, a));
  return [a[0] / length, a[1] / length, a[2] / length];
};
const mirrored = (ray: Vector, normal: Vector): Vector => plus(ray, normal, -2 * dot(ray, normal));

export interface Ray {
  readonly from: Vector;
  readonly along: Vector;
}

/** Light of a star whose image is near (hx, hy), after the mirror, from the mirror's point over (x, y). */
export function reflected(f: number, x: number, y: number, hx: number, hy: number): Ray {
  const from: Vector = [x, y, (x * x + y * y) / (4 * f)];
  return { from, along: mirrored(unit([hx, hy, -f]), unit([-x / (2 * f), -y / (2 * f), 1])) };
}

/** The ray of that star which the mirror's point over (x, y) sends to the point (px, py) of the focal plane. */
export function aimedAt(f: number, x: number, y: number, px: number, py: number): Ray {
  const from: Vector = [x, y, (x * x + y * y) / (4 * f)];
  const normal = unit([-x / (2 * f), -y / (2 * f), 1]);
  const [a, b, c] = mirrored(plus([px, py, f], from, -1), normal);
  return reflected(f, x, y, (-f * a) / c, (-f * b) / c);
}

/** Where a ray meets a level plane. */
export function atHeight({ from, along }: Ray, z: number): Vector {
  return plus(from, along, (z - from[2]) / along[2]);
}

/** Where a ray meets the plane at 45 degrees that sends light toward x, as (x, y): there the ellipse is a circle. */
export function onFlat(
  { from, along }: Ray,
  f: number,
  toFocus: number,
): readonly [number, number] {
  const normal: Vector = [1, 0, -1], place: Vector = [0, 0, f - toFocus];
  const t = dot(normal, plus(place, from, -1)) / dot(normal, along);
  const [x, y] = plus(from, along, t);
  return [x, y];
}

/** Points spread evenly over a disc, rings of equal area. */
export function disc(aperture: number, rings = 120): [number, number][] {
  return Array.from({ length: rings }, (_, i) => {
    const r = (aperture / 2) * Math.sqrt((i + 0.5) / rings);
    return Array.from({ length: 240 }, (_, j): [number, number] => {
      const angle = (2 * Math.PI * (j + i * 0.618)) / 240;
      return [r * Math.cos(angle), r * Math.sin(angle)];
    });
  }).flat();
}

/** Share of a star's rays that land on the flat, its centre shifted by `offset` away from x and down. */
export function landing(
  m: { f: number; aperture: number; toFocus: number; minor: number; offset: number },
  hx: number,
  hy: number,
  rings = 120,
): number {
  let in_ = 0;
  const points = disc(m.aperture, rings);
  for (const [x, y] of points) {
    const [fx, fy] = onFlat(reflected(m.f, x, y, hx, hy), m.f, m.toFocus);
    // the ellipse's centre lies on the plane's own line: moved by (-offset, 0, -offset)
    if (Math.hypot(fx + m.offset, fy) <= m.minor / 2) in_++;
  }
  return in_ / points.length;
}

/** Optical path from the incoming plane wave to the image point, less that of the ray at the vertex, mm. */
export function pathDifference(f: number, x: number, y: number, h: number): number {
  const chief = atHeight(reflected(f, 0, 0, h, 0), f), into = unit([h, 0, -f]);
  const path = (px: number, py: number): number => {
    const point: Vector = [px, py, (px * px + py * py) / (4 * f)];
    const rest = plus(chief, point, -1);
    return dot(into, point) + Math.sqrt(dot(rest, rest));
  };
  return path(x, y) - path(0, 0);
}

/** A ray from straight above off a paraboloid that was tilted about its vertex by slopes (a, b). */
export function offTilted(f: number, x: number, y: number, a: number, b: number): Ray {
  const axis = unit([-a, -b, 1]), right = unit([1, 0, a]);
  const up: Vector = [
    axis[1] * right[2] - axis[2] * right[1],
    axis[2] * right[0] - axis[0] * right[2],
    axis[0] * right[1] - axis[1] * right[0],
  ];
  const world = (v: Vector): Vector =>
    plus(plus([right[0] * v[0], right[1] * v[0], right[2] * v[0]], up, v[1]), axis, v[2]);
  const own: Vector = [x, y, (x * x + y * y) / (4 * f)];
  return {
    from: world(own),
    along: mirrored([0, 0, -1], world(unit([-x / (2 * f), -y / (2 * f), 1]))),
  };
}

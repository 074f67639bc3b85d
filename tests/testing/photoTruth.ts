/** What a made mirror is worth, worked out on a net over its face apart from the library, and by how much a fit misses it. */
import type { PhotoFit } from "../../lib/testing/photo/photoFit.ts";
import { glass, type MadeMirror } from "./photoLight.ts";

const RINGS = 150, AROUND = 24;

/** Places of equal area over the unit disc, ring by ring; then its middle and its rim, which count for P-V alone. */
const NET: readonly (readonly [number, number])[] = [
  ...Array.from({ length: RINGS * AROUND }, (_, k) => {
    const rho = Math.sqrt((Math.floor(k / AROUND) + 0.5) / RINGS),
      t = (2 * Math.PI * (k + 0.5)) / AROUND;
    return [rho * Math.cos(t), rho * Math.sin(t)] as const;
  }),
  [0, 0],
  ...Array.from(
    { length: 96 },
    (_, k) => [Math.cos((Math.PI * k) / 48), Math.sin((Math.PI * k) / 48)] as const,
  ),
];
const AREA = RINGS * AROUND;

/** Sum over the places that stand for area. */
function total(of: (i: number) => number): number {
  let sum = 0;
  for (let i = 0; i < AREA; i++) sum += of(i);
  return sum;
}

const PLAIN = [
  () => 1,
  (u: number) => u,
  (_: number, v: number) => v,
  (u: number, v: number) => u * u + v * v,
];

/** What heights leave when piston, tilt and focus have been taken out by least squares over the area. */
function leftOver(heights: readonly number[]): number[] {
  const basis: number[][] = [];
  const without = (from: readonly number[]): number[] =>
    basis.reduce((left, e) => {
      const share = total((i) => (left[i] ?? 0) * (e[i] ?? 0));
      return left.map((x, i) => x - share * (e[i] ?? 0));
    }, [...from]);
  for (const plain of PLAIN) {
    const v = without(NET.map(([x, y]) => plain(x, y)));
    const size = Math.sqrt(total((i) => (v[i] ?? 0) ** 2));
    basis.push(v.map((x) => x / size));
  }
  return without(heights);
}

/** Glass above the paraboloid of the same radius, nm, at the net's places. */
function aboveParaboloid(made: MadeMirror): number[] {
  const half = made.aperture / 2, ideal = { ...made, conic: -1, error: () => 0 };
  return NET.map(([u, v]) =>
    1e6 * (glass(made, u * half, v * half) - glass(ideal, u * half, v * half))
  );
}

/** What the mirror is worth at the focus of least RMS, and the offset from the centre of curvature of its best conic. */
export function truthOf(
  made: MadeMirror,
  wavelength = 550,
): { conic: number; offset: number; pv: number; rms: number; strehl: number } {
  const left = leftOver(aboveParaboloid(made)), waves = left.map((h) => (2 * h) / wavelength);
  const sphere = { ...made, conic: 0, error: () => 0 }, unit = leftOver(aboveParaboloid(sphere));
  const share = (of: readonly number[]): number =>
    total((i) => (unit[i] ?? 0) * (of[i] ?? 0)) / total((i) => (unit[i] ?? 0) ** 2);
  const mean = (f: (w: number) => number): number => total((i) => f(waves[i] ?? 0)) / AREA;
  // what the error has of r^2 beside that of its conic shifts the centre of curvature
  const half = made.aperture / 2,
    error = NET.map(([u, v]) => made.error?.(u * half, v * half) ?? 0);
  const conic = share(left) - 1, bare = aboveParaboloid(sphere), more = share(leftOver(error));
  const rest = error.map((h, i) => h - more * (bare[i] ?? 0));
  const qs = NET.map(([u, v]) => u * u + v * v - 0.5);
  const focus = total((i) => (rest[i] ?? 0) * (qs[i] ?? 0)) / total((i) => (qs[i] ?? 0) ** 2);
  // across the lines, astigmatism is focus; along them no photograph sees it
  const turn = (2 * Math.PI * (made.turn ?? 0)) / 180;
  const upright = NET.map(([u, v]) =>
    (u * u - v * v) * Math.cos(turn) + 2 * u * v * Math.sin(turn)
  );
  const across = total((i) => (rest[i] ?? 0) * (upright[i] ?? 0)) /
    total((i) => (upright[i] ?? 0) ** 2);
  const factor = made.lamp === "fixed" ? 4 : 2;
  return {
    conic,
    offset: made.offset + (factor * made.radius ** 2 * (focus + across) * 1e-6) / half ** 2,
    pv: Math.max(...waves) - Math.min(...waves),
    rms: Math.sqrt(mean((w) => w * w)),
    strehl: mean((w) => Math.cos(2 * Math.PI * w)) ** 2 +
      mean((w) => Math.sin(2 * Math.PI * w)) ** 2,
  };
}

/** RMS of the glass, nm, by which the fit misses the mirror: piston, tilt and focus free. */
export function missed(made: MadeMirror, fit: PhotoFit): number {
  const shapes = fit.terms.flatMap((t) => t.shapes),
    cos = Math.cos(fit.axes),
    sin = Math.sin(fit.axes);
  const found = aboveParaboloid({ ...made, conic: fit.conic, error: () => 0 });
  const off = aboveParaboloid(made).map((height, i) => {
    const [u, v] = NET[i] ?? [0, 0];
    const bump = shapes.reduce(
      (sum, f, k) => sum + (fit.amounts[k] ?? 0) * f(cos * u + sin * v, cos * v - sin * u),
      0,
    );
    return (found[i] ?? 0) + bump - height;
  });
  const left = leftOver(off);
  return Math.sqrt(total((i) => (left[i] ?? 0) ** 2) / AREA);
}

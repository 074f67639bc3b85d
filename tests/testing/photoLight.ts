/** Light at a mirror seen through a grating, without the kit's own optics: exact rays, or a brute sum of sheared images. */

/** What the light of a mirror depends on. */
export interface MadeMirror {
  readonly aperture: number;
  readonly radius: number;
  readonly conic: number;
  /** glass above the conic, nm, at x, y mm */
  readonly error?: (x: number, y: number) => number;
  readonly offset: number;
  readonly linesPerMm: number;
  readonly shift?: number;
  /** deg, counter-clockwise */
  readonly turn?: number;
  /** default: behind the same grating */
  readonly lamp?: "same grating" | "slit beside" | "fixed";
  /** mm, of a lamp that is a slit; default 0.02 */
  readonly slit?: number;
}

/** Height of the glass above the vertex, mm. */
export function glass(p: MadeMirror, x: number, y: number): number {
  const r2 = x * x + y * y;
  const conic = r2 / (p.radius + Math.sqrt(p.radius * p.radius - (1 + p.conic) * r2));
  return conic + (p.error?.(x, y) ?? 0) * 1e-6;
}

/** Where the ray by (x, y) meets the grating, by mirror reflection of unit vectors. */
function traced(p: MadeMirror, x: number, y: number): [number, number] {
  const h = 0.01, plane = p.radius + p.offset, lamp = p.lamp === "fixed" ? p.radius : plane;
  const z = glass(p, x, y);
  const sx = (glass(p, x + h, y) - glass(p, x - h, y)) / (2 * h);
  const sy = (glass(p, x, y + h) - glass(p, x, y - h)) / (2 * h);
  const n = Math.hypot(sx, sy, 1), normal = [-sx / n, -sy / n, 1 / n];
  const length = Math.hypot(x, y, z - lamp), ray = [x / length, y / length, (z - lamp) / length];
  const along = ray.reduce((s, v, i) => s + v * (normal[i] ?? 0), 0);
  const [a = 0, b = 0, c = 0] = ray.map((v, i) => v - 2 * along * (normal[i] ?? 0));
  const t = (plane - z) / c;
  return [x + t * a, y + t * b];
}

/** Brightness by rays, 1 = no grating, lamp behind the same half-clear lines; nothing beside the glass. */
export function rays(p: MadeMirror): (x: number, y: number) => number {
  const turn = ((p.turn ?? 0) * Math.PI) / 180, half = p.aperture / 2;
  return (x, y) => {
    if (x * x + y * y >= half * half) return 0;
    const [a, b] = traced(p, x, y);
    const u = (a * Math.cos(turn) + b * Math.sin(turn) - 2 * (p.shift ?? 0)) * p.linesPerMm;
    return 1 - 2 * Math.abs(u - Math.round(u));
  };
}

const ORDERS = [0, 1, 3, 5, 7, 9, 11, 13].flatMap((m) => m === 0 ? [0] : [m, -m]);
const PLACES = 12;

/**
 * Brightness by waves of one length: the images of the mirror that the grating's orders shear sideways, added up with
 * their phases for each of many places in the lamp, then the places' brightness averaged.
 *
 * Beside the glass the outer images still shine, as they do on a real bench.
 */
export function shearedImages(p: MadeMirror, wavelength: number): (x: number, y: number) => number {
  const turn = ((p.turn ?? 0) * Math.PI) / 180, c = Math.cos(turn), s = Math.sin(turn);
  const plane = p.radius + p.offset, lamp = p.lamp === "fixed" ? p.radius : plane;
  const shear = wavelength * 1e-6 * plane * p.linesPerMm, half = p.aperture / 2;
  const behind = (p.lamp ?? "same grating") === "same grating", shift = p.shift ?? 0;
  const wide = behind ? 1 / (2 * p.linesPerMm) : p.slit ?? 0.02;
  const turns = ORDERS.map((m) =>
    Array.from({ length: PLACES }, (_, k) => {
      const place = ((k + 0.5) / PLACES - 0.5) * wide + (behind ? 2 * shift : shift);
      return -2 * Math.PI * m * p.linesPerMm * place;
    })
  );
  const ct = turns.map((row) => Float64Array.from(row, Math.cos));
  const st = turns.map((row) => Float64Array.from(row, Math.sin));
  const share = ORDERS.map((m) => m === 0 ? 0.5 : Math.sin((Math.PI * m) / 2) / (Math.PI * m));
  const re = new Float64Array(PLACES), im = new Float64Array(PLACES);
  return (x, y) => {
    re.fill(0);
    im.fill(0);
    for (let o = 0; o < ORDERS.length; o++) {
      const m = ORDERS[o] as number, mx = x + m * shear * c, my = y + m * shear * s;
      const r2 = mx * mx + my * my;
      if (r2 > half * half) continue;
      const z = glass(p, mx, my);
      const path = Math.sqrt(r2 + (plane - z) ** 2) - plane + Math.sqrt(r2 + (lamp - z) ** 2) -
        lamp;
      const phase = (2 * Math.PI * path) / (wavelength * 1e-6), f = share[o] as number;
      const a = f * Math.cos(phase), b = f * Math.sin(phase);
      const tc = ct[o] as Float64Array, ts = st[o] as Float64Array;
      for (let k = 0; k < PLACES; k++) {
        re[k] = (re[k] as number) + a * (tc[k] as number) - b * (ts[k] as number);
        im[k] = (im[k] as number) + a * (ts[k] as number) + b * (tc[k] as number);
      }
    }
    let light = 0;
    for (let k = 0; k < PLACES; k++) light += (re[k] as number) ** 2 + (im[k] as number) ** 2;
    return light / PLACES;
  };
}

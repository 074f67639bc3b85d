/** Photographs made without the kit's own optics: exact rays or brute sums of light, then a camera that does its worst. */
import { random } from "../../lib/numeric/random.ts";

export interface MadePhoto {
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
  readonly fixed?: boolean;
  /** rays, or waves of these lengths (nm) */
  readonly light: "rays" | readonly number[];
  readonly width: number;
  readonly height: number;
  /** disc in the picture, px */
  readonly x: number;
  readonly y: number;
  readonly r: number;
  readonly gamma?: number;
  /** relative fall of light across the disc */
  readonly uneven?: number;
  readonly fog?: number;
  readonly noise?: number;
  readonly hot?: number;
  /** something dark in front, from this many px on at the bottom */
  readonly stand?: boolean;
  readonly exposure?: number;
  /** box blur, px either way */
  readonly blur?: number;
  readonly seed?: number;
}

const sag = (p: MadeMirror, x: number, y: number): number => {
  const r2 = x * x + y * y;
  const conic = r2 / (p.radius + Math.sqrt(p.radius * p.radius - (1 + p.conic) * r2));
  return conic + (p.error?.(x, y) ?? 0) * 1e-6;
};

/** Where the ray by (x, y) meets the grating, by mirror reflection of unit vectors. */
function traced(p: MadePhoto, x: number, y: number): [number, number] {
  const h = 0.01, lamp = p.radius + (p.fixed ? 0 : p.offset), plane = p.radius + p.offset;
  const z = sag(p, x, y);
  const sx = (sag(p, x + h, y) - sag(p, x - h, y)) / (2 * h);
  const sy = (sag(p, x, y + h) - sag(p, x, y - h)) / (2 * h);
  const n = Math.hypot(sx, sy, 1), normal = [-sx / n, -sy / n, 1 / n];
  const length = Math.hypot(x, y, z - lamp), ray = [x / length, y / length, (z - lamp) / length];
  const along = ray.reduce((s, v, i) => s + v * (normal[i] ?? 0), 0);
  const [a = 0, b = 0, c = 0] = ray.map((v, i) => v - 2 * along * (normal[i] ?? 0));
  const t = (plane - z) / c;
  return [x + t * a, y + t * b];
}

/** Light through the grating that also stands before the lamp, by rays. */
function byRays(p: MadePhoto, x: number, y: number): number {
  const turn = ((p.turn ?? 0) * Math.PI) / 180, [a, b] = traced(p, x, y);
  const u = (a * Math.cos(turn) + b * Math.sin(turn) - 2 * (p.shift ?? 0)) * p.linesPerMm;
  return 1 - 2 * Math.abs(u - Math.round(u));
}

const ORDERS = [0, 1, 3, 5, 7, 9, 11, 13].flatMap((m) => m === 0 ? [0] : [m, -m]);
const PLACES = 20;

/** What the light of a mirror depends on. */
export type MadeMirror = Pick<
  MadePhoto,
  "aperture" | "radius" | "conic" | "error" | "offset" | "linesPerMm" | "shift" | "turn" | "fixed"
>;

/** The same by adding up the sheared images for many places in the lamp's clear line. */
export function shearedImages(p: MadeMirror, wavelength: number): (x: number, y: number) => number {
  const turn = ((p.turn ?? 0) * Math.PI) / 180, c = Math.cos(turn), s = Math.sin(turn);
  const plane = p.radius + p.offset, lamp = p.radius + (p.fixed ? 0 : p.offset);
  const shear = wavelength * 1e-6 * plane * p.linesPerMm, half = p.aperture / 2;
  const turns = ORDERS.map((m) =>
    Array.from({ length: PLACES }, (_, k) => {
      const place = ((k + 0.5) / PLACES - 0.5) / (2 * p.linesPerMm) + 2 * (p.shift ?? 0);
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
      const z = sag(p, mx, my);
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

/** The photograph: area sampling, uneven light, fog, the camera's curve, noise, eight bits, hot pixels. */
export function makePhoto(
  p: MadePhoto,
): { width: number; height: number; values: Float32Array } {
  const { width, height, r, uneven = 0, fog = 0.02, noise = 0.01, gamma = 2.2 } = p;
  const { exposure = 0.85, hot = 0, blur = 0 } = p, half = p.aperture / 2;
  const parts = p.light === "rays" ? 3 : 2;
  const waves = p.light === "rays" ? [] : p.light.map((w) => shearedImages(p, w));
  let linear = new Float64Array(width * height);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      let sum = 0;
      for (let k = 0; k < parts * parts; k++) {
        const px = i + ((k % parts) + 0.5) / parts, py = j + (Math.floor(k / parts) + 0.5) / parts;
        const x = ((px - p.x) / r) * half, y = (-(py - p.y) / r) * half;
        const lamp = 1 + (uneven * (x + 0.6 * y)) / half -
          (uneven * (x * x + y * y)) / half ** 2 / 3;
        if (x * x + y * y < half * half) {
          const seen = waves.reduce((total, at) => total + at(x, y) / waves.length, 0);
          sum += lamp * (waves.length === 0 ? byRays(p, x, y) : seen);
        }
      }
      linear[j * width + i] = sum / (parts * parts);
    }
  }
  if (blur > 0) {
    linear = softened(softened(linear, width, height, 1, blur), width, height, width, blur);
  }
  const dice = random(p.seed ?? 1), values = new Float32Array(width * height);
  for (let k = 0; k < values.length; k++) {
    const shaded = p.stand && Math.floor(k / width) > p.y + 0.75 * r &&
      Math.abs((k % width) - p.x) < 0.2 * r;
    const light = (shaded ? 0 : (linear[k] ?? 0)) * exposure + fog;
    const seen = Math.pow(Math.max(0, light), 1 / gamma) + noise * dice.normal();
    values[k] = Math.min(255, Math.max(0, Math.round(255 * seen))) / 255;
  }
  for (let n = 0; n < hot; n++) values[dice.integer(values.length)] = 1;
  return { width, height, values };
}

function softened(
  from: Float64Array,
  width: number,
  height: number,
  step: number,
  reach: number,
): Float64Array<ArrayBuffer> {
  return Float64Array.from(from, (_, k) => {
    let sum = 0;
    for (let n = -reach; n <= reach; n++) {
      const at = k + n * step;
      const sameLine = step > 1 || Math.floor(at / width) === Math.floor(k / width);
      sum += at >= 0 && at < width * height && sameLine ? from[at] ?? 0 : from[k] ?? 0;
    }
    return sum / (2 * reach + 1);
  });
}

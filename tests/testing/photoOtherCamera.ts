/** A hand-held phone before the light of `photoOther`: slant, lens, shake, things around, tone curve, grain, and eight bits. */
import sharp from "sharp";
import { type OtherDice, otherDice } from "./photoOther.ts";

/** How the values in the file follow the light, 0 to 1 each. */
export interface Tone {
  readonly kind: "power" | "screen" | "s-curve" | "filmic";
  readonly strength: number;
}

export interface OtherCamera {
  readonly width: number;
  readonly height: number;
  /** disc's middle and half width in the picture, px */
  readonly x: number;
  readonly y: number;
  readonly r: number;
  /** slant of the camera's plane to the mirror's, rad, and the direction of its axis; distance over the disc's half width */
  readonly slant: number;
  readonly slantAxis: number;
  readonly away: number;
  /** barrel or cushion: radius over half the picture's diagonal goes as r (1 + k1 r^2) */
  readonly k1: number;
  /** px: standard deviation of the lens, length and direction (rad) of the shake */
  readonly soft: number;
  readonly shake: number;
  readonly shakeAlong: number;
  /** place of the lamp's brightest spot over the half width, its fall, stray light, exposure */
  readonly spot: readonly [number, number];
  readonly fall: number;
  readonly veil: number;
  readonly exposure: number;
  readonly tone: Tone;
  readonly grain: number;
  readonly clutter: "none" | "wall" | "window" | "desk";
  readonly quality: number;
  readonly seed: number;
}

/** The camera's curve, monotone each. */
export function toned({ kind, strength }: Tone, light: number): number {
  const x = Math.max(0, light);
  if (kind === "power") return Math.pow(x, 1 / strength);
  const screen = x <= 0.0031308 ? 12.92 * x : 1.055 * Math.pow(x, 1 / 2.4) - 0.055;
  if (kind === "screen") return screen;
  if (kind === "s-curve") {
    const v = Math.min(1, screen);
    return v + strength * v * (1 - v) * (2 * v - 1);
  }
  const p = 0.9; // a toe, and a shoulder that never quite reaches white
  return (Math.pow(x, p) * (1 + Math.pow(strength, p))) / (Math.pow(x, p) + Math.pow(strength, p));
}

/** Where a pixel looks: place on the mirror's plane over half its width, y upward. */
function sightOf(c: OtherCamera): (px: number, py: number) => [number, number] {
  const diagonal = Math.hypot(c.width, c.height) / 2;
  const straight = (px: number, py: number): [number, number] => {
    const u = (px - c.width / 2) / diagonal, v = (py - c.height / 2) / diagonal;
    const far = Math.hypot(u, v);
    let r = far; // the picture's radius is r (1 + k1 r^2)
    for (let k = 0; k < 6; k++) r = far / (1 + c.k1 * r * r);
    const scale = far > 0 ? r / far : 1;
    return [u * scale * diagonal, v * scale * diagonal];
  };
  const [mx, my] = straight(c.x, c.y), tan = Math.tan(c.slant), cos = Math.cos(c.slant);
  const ca = Math.cos(c.slantAxis), sa = Math.sin(c.slantAxis);
  return (px, py) => {
    const [sx, sy] = straight(px, py), dx = (sx - mx) / c.r, dy = -(sy - my) / c.r;
    const along = ca * dx + sa * dy, across = ca * dy - sa * dx;
    // the plane leans back across the axis: farther parts look smaller
    const deep = 1 / (1 - (across * tan) / c.away), a = along * deep, b = (across / cos) * deep;
    return [ca * a - sa * b, sa * a + ca * b];
  };
}

/** Brightness of what stands around, as light, where the mirror's own light is 1. */
function aroundOf(c: OtherCamera, dice: OtherDice): (px: number, py: number) => number {
  if (c.clutter === "none") return () => 0;
  const boxes = Array.from({ length: c.clutter === "desk" ? 14 : 4 }, () => {
    const w = dice.from(0.1, 0.6) * c.r,
      h = dice.from(0.1, 1.6) * c.r,
      angle = dice.from(0, 2 * Math.PI);
    const off = c.r * dice.from(1.25, 3) + Math.hypot(w, h);
    const bright = c.clutter === "window" ? dice.from(0.5, 3) : dice.from(0.03, 0.5);
    return { x: c.x + off * Math.cos(angle), y: c.y + off * Math.sin(angle), w, h, bright };
  });
  const wall = c.clutter === "wall" ? dice.from(0.02, 0.12) : 0.01,
    wave = dice.from(0.2, 0.6) / c.r;
  return (px, py) => {
    const far = Math.hypot(px - c.x, py - c.y);
    if (far < 1.2 * c.r) return 0;
    let light = wall * (1 + 0.5 * Math.sin(6 * wave * px) * Math.cos(9 * wave * py));
    for (const b of boxes) {
      if (Math.abs(px - b.x) < b.w && Math.abs(py - b.y) < b.h) light = Math.max(light, b.bright);
    }
    return light;
  };
}

/** The grey values a phone would write, 0 to 255. */
export function otherPicture(
  c: OtherCamera,
  face: (u: number, v: number) => number,
): Uint8Array {
  const { width, height } = c,
    dice = otherDice(c.seed),
    sight = sightOf(c),
    around = aroundOf(c, dice);
  const light = new Float64Array(width * height), reach = 1.42 * c.r;
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      let sum = around(i + 0.5, j + 0.5);
      if (Math.abs(i - c.x) < reach && Math.abs(j - c.y) < reach) {
        for (let k = 0; k < 4; k++) {
          const [u, v] = sight(i + 0.25 + 0.5 * (k % 2), j + 0.25 + 0.5 * (k >> 1));
          const a = (u - c.spot[0]) * c.fall, b = (v - c.spot[1]) * c.fall;
          sum += (0.25 * face(u, v)) / Math.pow(1 + a * a + b * b, 1.5);
        }
      }
      light[j * width + i] = sum;
    }
  }
  const seen = smeared(smeared(light, width, height, bellOf(c.soft)), width, height, lineOf(c));
  return Uint8Array.from(seen, (v) => {
    const raw = c.exposure * v + c.veil;
    const noisy = raw + c.grain * Math.sqrt(Math.max(0, raw) + 0.02) * dice.bell();
    return Math.min(255, Math.max(0, Math.round(255 * toned(c.tone, noisy))));
  });
}

type Kernel = readonly (readonly [dx: number, dy: number, share: number])[];

function bellOf(sigma: number): Kernel {
  const reach = Math.ceil(2.6 * sigma), cells: [number, number, number][] = [];
  for (let j = -reach; j <= reach; j++) {
    for (let i = -reach; i <= reach; i++) {
      cells.push([i, j, Math.exp(-(i * i + j * j) / (2 * sigma * sigma))]);
    }
  }
  const whole = cells.reduce((sum, cell) => sum + cell[2], 0);
  return cells.map(([i, j, s]) => [i, j, s / whole]);
}

/** A hand that moves along a line while the shutter is open. */
function lineOf({ shake, shakeAlong }: OtherCamera): Kernel {
  const parts = new Map<string, number>(), count = Math.max(1, Math.ceil(4 * shake));
  for (let k = 0; k < count; k++) {
    const at = shake * ((k + 0.5) / count - 0.5);
    const x = at * Math.cos(shakeAlong),
      y = at * Math.sin(shakeAlong),
      i = Math.floor(x),
      j = Math.floor(y);
    for (const [a, b] of [[0, 0], [1, 0], [0, 1], [1, 1]] as const) {
      const share = (a === 1 ? x - i : 1 - x + i) * (b === 1 ? y - j : 1 - y + j);
      const key = `${i + a} ${j + b}`;
      parts.set(key, (parts.get(key) ?? 0) + share / count);
    }
  }
  return [...parts].filter(([, s]) => s > 1e-6).map(([key, s]) => {
    const [i = 0, j = 0] = key.split(" ").map(Number);
    return [i, j, s];
  });
}

function smeared(light: Float64Array, width: number, height: number, kernel: Kernel): Float64Array {
  const out = new Float64Array(light.length);
  for (const [dx, dy, share] of kernel) {
    for (let j = 0; j < height; j++) {
      const y = Math.min(height - 1, Math.max(0, j + dy)) * width;
      const low = Math.max(0, -dx), high = Math.min(width, width - dx), row = j * width;
      for (let i = low; i < high; i++) {
        out[row + i] = (out[row + i] as number) + share * (light[y + i + dx] as number);
      }
    }
  }
  return out;
}

/** As the phone stores it. */
export async function otherFile(c: OtherCamera, grey: Uint8Array): Promise<Uint8Array> {
  const raw = { width: c.width, height: c.height, channels: 1 } as const;
  const image = sharp(grey, { raw }).toColourspace("srgb");
  return new Uint8Array(await image.jpeg({ quality: c.quality }).toBuffer());
}

/** Photographs made without the kit's own optics, camera model or dice: light from `photoLight`, then a camera at its worst. */
import { dice } from "./dice.ts";
import { type MadeMirror, rays, shearedImages } from "./photoLight.ts";

export interface MadePhoto extends MadeMirror {
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
  /** stray light over the whole picture, as light */
  readonly fog?: number;
  /** of a pixel, in the encoded value */
  readonly noise?: number;
  readonly hot?: number;
  /** something dark in front, at the bottom of the disc */
  readonly stand?: boolean;
  /** share of the disc behind a dark hand, from the left */
  readonly covered?: number;
  readonly exposure?: number;
  /** softness of the lens, standard deviation, px */
  readonly blur?: number;
  readonly seed?: number;
}

export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly values: Float32Array;
}

/** How far beside the glass the sheared images are followed, in radii; fainter ones are lost in the noise. */
const AROUND = 1.35;

/** Samples across the disc of a large picture: more than its finest stripes need. */
const MOST_SAMPLES = 320;

/** Finer pixels than samples: one of each is enough. */
const isLarge = ({ r }: MadePhoto): boolean => 4 * r > MOST_SAMPLES;

/** The photograph: area sampling, uneven light, blur, fog, the camera's curve, noise, eight bits, hot pixels. */
export function makePhoto(p: MadePhoto): Grey {
  const { width, height, r, fog = 0.02, noise = 0.01, gamma = 2.2, exposure = 0.85, hot = 0 } = p;
  const { covered = -1 } = p;
  const linear = picture(p);
  if (p.blur !== undefined && p.blur > 0) soften(linear, width, height, p.blur);
  const { normal, uniform } = dice(p.seed ?? 1), values = new Float32Array(width * height);
  const grain = Float64Array.from({ length: 65536 }, normal);
  for (let j = 0; j < height; j++) {
    let at = Math.floor(uniform() * 65536);
    const shaded = p.stand === true && j > p.y + 0.75 * r;
    for (let i = 0; i < width; i++) {
      const k = j * width + i;
      const dark = (shaded && Math.abs(i - p.x) < 0.2 * r) || i < p.x + (2 * covered - 1) * r;
      const light = (dark ? 0 : (linear[k] as number)) * exposure + fog;
      at = (at * 5 + 12345 + i) & 65535;
      const seen = Math.pow(Math.max(0, light), 1 / gamma) + noise * (grain[at] as number);
      values[k] = Math.min(255, Math.max(0, Math.round(255 * seen))) / 255;
    }
  }
  for (let n = 0; n < hot; n++) values[Math.floor(uniform() * values.length)] = 1;
  return { width, height, values };
}

/** Light on the sensor before the lens has softened it. */
function picture(p: MadePhoto): Float64Array {
  const { width, height, r, uneven = 0 } = p, half = p.aperture / 2;
  const map = lightMap(p), out = new Float64Array(width * height);
  const reach = AROUND * r + 1, parts = isLarge(p) ? 1 : 2;
  for (let j = Math.max(0, Math.floor(p.y - reach)); j < Math.min(height, p.y + reach); j++) {
    for (let i = Math.max(0, Math.floor(p.x - reach)); i < Math.min(width, p.x + reach); i++) {
      let sum = 0;
      for (let k = 0; k < parts * parts; k++) {
        const px = i + ((k % parts) + 0.5) / parts, py = j + (Math.floor(k / parts) + 0.5) / parts;
        const x = (px - p.x) / r, y = -(py - p.y) / r;
        const lamp = 1 + uneven * (x + 0.6 * y) - (uneven * (x * x + y * y)) / 3;
        sum += Math.max(0, lamp) * map(x * half, y * half);
      }
      out[j * width + i] = sum / (parts * parts);
    }
  }
  return out;
}

/** The light as a function of the place, mm; of a large picture from samples, with a straight line between them. */
function lightMap(p: MadePhoto): (x: number, y: number) => number {
  const makers = p.light === "rays" ? [rays(p)] : p.light.map((w) => shearedImages(p, w));
  const exact = (x: number, y: number): number =>
    makers.reduce((total, at) => total + at(x, y), 0) / makers.length;
  if (!isLarge(p)) return exact;
  const half = p.aperture / 2, step = (2 * half) / MOST_SAMPLES;
  const size = Math.ceil((2 * AROUND * half) / step) + 2, first = (-(size - 1) / 2) * step;
  const samples = new Float64Array(size * size);
  for (let k = 0; k < samples.length; k++) {
    samples[k] = exact(first + (k % size) * step, first + Math.floor(k / size) * step);
  }
  return (x, y) => {
    const fx = (x - first) / step, fy = (y - first) / step, i = Math.floor(fx), j = Math.floor(fy);
    if (i < 0 || j < 0 || i >= size - 1 || j >= size - 1) return 0;
    const k = j * size + i, a = fx - i, b = fy - j;
    const low = (samples[k] as number) * (1 - a) + (samples[k + 1] as number) * a;
    const high = (samples[k + size] as number) * (1 - a) + (samples[k + size + 1] as number) * a;
    return low * (1 - b) + high * b;
  };
}

/** A bell's blur, along rows, then along columns. */
function soften(linear: Float64Array, width: number, height: number, sigma: number): void {
  const reach = Math.ceil(3 * sigma);
  const bell = Float64Array.from(
    { length: 2 * reach + 1 },
    (_, k) => Math.exp(-(((k - reach) / sigma) ** 2) / 2),
  );
  const whole = bell.reduce((a, b) => a + b, 0);
  for (
    const [lines, along, step, next] of [[height, width, 1, width], [
      width,
      height,
      width,
      1,
    ]] as const
  ) {
    const line = new Float64Array(along);
    for (let l = 0; l < lines; l++) {
      for (let i = 0; i < along; i++) line[i] = linear[l * next + i * step] as number;
      for (let i = 0; i < along; i++) {
        let sum = 0;
        for (let n = -reach; n <= reach; n++) {
          sum += (bell[n + reach] as number) *
            (line[Math.min(along - 1, Math.max(0, i + n))] as number);
        }
        linear[l * next + i * step] = sum / whole;
      }
    }
  }
}

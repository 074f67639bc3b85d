/** The camera's value of each pixel, from the mirror's stripes and all that lies between them and the file. */
import { brightness } from "./photoBrightness.ts";
import { LIGHT_TERMS, type Mirror, OWN } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";

/** Least light left for the logarithm. */
const DARKEST = 1e-5;

/** The camera's value of a pixel: light's level over the disc, the mirror's stripes, fog, and the camera's curve. */
export function pixelModel(
  { bench }: PhotoPixels,
  own: Float64Array,
  mirror: Mirror,
  wanted: boolean,
): { at(px: number, py: number): number; slopes(row: Float64Array): void } {
  const face = brightness(bench, own, mirror, wanted), head = 1 + mirror.shapes.length;
  const cx = own[OWN.x] as number, cy = own[OWN.y] as number, radius = own[OWN.radius] as number;
  const level = own.subarray(OWN.light, OWN.light + LIGHT_TERMS),
    over = new Float64Array(LIGHT_TERMS);
  const fog = own[OWN.fog] as number, power = own[OWN.power] as number;
  const veil = own[OWN.veil] as number;
  let light = 0, lamp = 0, all = 0, log = 0, value = 0;
  return {
    at(px, py): number {
      const u = (px - cx) / radius, v = -(py - cy) / radius;
      light = face.at(u * bench.half, v * bench.half) + fog;
      lightTerms(u, v, over);
      let sum = 0;
      for (let k = 0; k < LIGHT_TERMS; k++) sum += (level[k] as number) * (over[k] as number);
      lamp = Math.exp(sum);
      all = Math.max(DARKEST, lamp * light + veil);
      log = Math.log(all);
      value = Math.exp(power * log);
      return value;
    },
    slopes(row): void {
      const byAll = (value * power) / all, byLight = byAll * lamp;
      for (let j = 0; j < head; j++) row[j] = byLight * (face.byMirror[j] as number);
      row[head + OWN.offset] = byLight * (face.byOwn[0] as number);
      row[head + OWN.phase] = byLight * (face.byOwn[1] as number);
      row[head + OWN.sharpness] = byLight * (face.byOwn[2] as number);
      row[head + OWN.turn] = byLight * (face.byOwn[3] as number);
      for (let k = 0; k < LIGHT_TERMS; k++) {
        row[head + OWN.light + k] = byLight * light * (over[k] as number);
      }
      row[head + OWN.fog] = byLight;
      row[head + OWN.veil] = byAll;
      row[head + OWN.power] = value * log;
    },
  };
}

/** 1 x y xx xy yy xxx xxy xyy yyy */
function lightTerms(u: number, v: number, out: Float64Array): void {
  out[0] = 1;
  out[1] = u;
  out[2] = v;
  out[3] = u * u;
  out[4] = u * v;
  out[5] = v * v;
  out[6] = u * u * u;
  out[7] = u * u * v;
  out[8] = u * v * v;
  out[9] = v * v * v;
}

/** The camera's value of each pixel, from the mirror's stripes and all that lies between them and the file. */
import { brightness } from "./photoBrightness.ts";
import { LIGHT_TERMS, type Mirror, OWN, TONE_KNOTS } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import { SIGHT, sightOf } from "./photoSight.ts";
import { toneCurve } from "./photoTone.ts";

/** Least light left for the logarithm. */
const DARKEST = 1e-5;

/** The camera's value of a pixel: light's level over the disc, the mirror's stripes, fog, and the camera's curve. */
export function pixelModel(
  { bench, middle }: PhotoPixels,
  own: Float64Array,
  mirror: Mirror,
  wanted: boolean,
): { at(px: number, py: number): number; slopes(row: Float64Array): void } {
  const face = brightness(bench, own, mirror, wanted), head = 1 + mirror.shapes.length;
  const sight = sightOf(own, middle), { half } = bench;
  const curve = toneCurve(own.subarray(OWN.tone, OWN.tone + TONE_KNOTS));
  const level = own.subarray(OWN.light, OWN.light + LIGHT_TERMS),
    over = new Float64Array(LIGHT_TERMS);
  const fog = own[OWN.fog] as number, power = own[OWN.power] as number;
  const veil = own[OWN.veil] as number;
  let light = 0, lamp = 0, all = 0, log = 0, value = 0, steep = 1;
  return {
    at(px, py): number {
      sight.look(px, py);
      const u = sight.u(), v = sight.v();
      light = face.at(u * half, v * half) + fog;
      lightTerms(u, v, over);
      let sum = 0;
      for (let k = 0; k < LIGHT_TERMS; k++) sum += (level[k] as number) * (over[k] as number);
      lamp = Math.exp(sum);
      all = Math.max(DARKEST, lamp * light + veil);
      log = Math.log(all);
      value = Math.exp(power * log);
      const bent = curve.at(value);
      steep = curve.steep();
      return bent;
    },
    slopes(row): void {
      const byAll = (steep * value * power) / all,
        byLight = byAll * lamp,
        { byOwn, byPlace } = face;
      for (let j = 0; j < head; j++) row[j] = byLight * (face.byMirror[j] as number);
      row[head + OWN.offset] = byLight * (byOwn[0] as number);
      row[head + OWN.phase] = byLight * (byOwn[1] as number);
      row[head + OWN.sharpness] = byLight * (byOwn[2] as number);
      row[head + OWN.turn] = byLight * (byOwn[3] as number);
      for (let k = 0; k < 3; k++) row[head + OWN.blur + k] = byLight * (byOwn[4 + k] as number);
      row[head + OWN.colours] = byLight * (byOwn[8] as number);
      row[head + OWN.duty] = byLight * (byOwn[7] as number);
      for (let k = 0; k < LIGHT_TERMS; k++) {
        row[head + OWN.light + k] = byLight * light * (over[k] as number);
      }
      row[head + OWN.fog] = byLight;
      row[head + OWN.veil] = byAll;
      row[head + OWN.power] = steep * value * log;
      for (let k = 0; k < TONE_KNOTS; k++) row[head + OWN.tone + k] = curve.bumps[k] as number;
      sight.slopes();
      const byX = byLight * half * (byPlace[0] as number),
        byY = byLight * half * (byPlace[1] as number);
      for (let k = 0; k < SIGHT.length; k++) {
        row[head + (SIGHT[k] as number)] = byX * (sight.byU[k] as number) +
          byY * (sight.byV[k] as number);
      }
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

/** The camera's value of each pixel, from the mirror's stripes and all that lies between them and the file. */
import { brightness, STRIPES, toneCurve } from "./photoBrightness.ts";
import { LIGHT_TERMS, type Mirror, OWN, TONE_KNOTS } from "./photoModel.ts";
import { BLOCK, blocks } from "./photoPhase.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import { SIGHT, sightOf } from "./photoSight.ts";

/** From this light down the camera's power goes on as a straight line: no light at all still pulls the fit back. */
const DARKEST = 5e-4;

/** What a camera makes of some pixels, looked at together. */
export interface PixelModel {
  /** looks at up to `BLOCK` pixels; `value` holds what the file would hold of them */
  look(px: Float64Array, py: Float64Array, count: number): void;
  readonly value: Float64Array;
  /** slopes of the pixels looked at, `BLOCK` numbers for each unknown: the mirror's, then the photograph's by `OWN` */
  slopes(count: number, into: Float64Array): void;
}

/** The camera's value of a pixel: light's level over the disc, the mirror's stripes, fog, and the camera's curve. */
export function pixelModel(
  { bench, middle }: PhotoPixels,
  own: Float64Array,
  mirror: Mirror,
  wanted: boolean,
): PixelModel {
  const face = brightness(bench, own, mirror, wanted), head = 1 + mirror.shapes.length;
  const sight = sightOf(own, middle), { half } = bench;
  const curve = toneCurve(own.subarray(OWN.tone, OWN.tone + TONE_KNOTS));
  const level = own.subarray(OWN.light, OWN.light + LIGHT_TERMS);
  const fog = own[OWN.fog] as number, power = own[OWN.power] as number;
  const veil = own[OWN.veil] as number, over = new Float64Array(LIGHT_TERMS);
  const [x, y, value, seenX, seenY, powered, steep, lamp, byLamp, byPower] = blocks(10) as TenRows;
  const darkest = Math.exp(power * Math.log(DARKEST));
  return {
    value,
    look(px, py, count): void {
      for (let i = 0; i < count; i++) {
        sight.look(px[i] as number, py[i] as number);
        seenX[i] = px[i] as number;
        seenY[i] = py[i] as number;
        x[i] = sight.u() * half;
        y[i] = sight.v() * half;
      }
      face.look(x, y, count);
      for (let i = 0; i < count; i++) {
        lightTerms((x[i] as number) / half, (y[i] as number) / half, over);
        let sum = 0;
        for (let k = 0; k < LIGHT_TERMS; k++) sum += (level[k] as number) * (over[k] as number);
        const shine = Math.exp(sum), reaching = shine * ((face.light[i] as number) + fog) + veil;
        lamp[i] = shine;
        if (reaching > DARKEST) {
          const log = Math.log(reaching), bright = Math.exp(power * log);
          powered[i] = bright;
          byLamp[i] = (power * bright) / reaching;
          byPower[i] = bright * log;
        } else {
          const short = reaching / DARKEST - 1, bright = darkest * (1 + power * short);
          powered[i] = bright;
          byLamp[i] = (power * darkest) / DARKEST;
          byPower[i] = bright * Math.log(DARKEST) + darkest * short;
        }
        value[i] = curve.at(powered[i] as number);
        steep[i] = curve.steep();
      }
    },
    slopes(count, into): void {
      const { byOwn, byPlace, byMirror, mirrorRow, light } = face;
      for (let i = 0; i < count; i++) {
        const from = steep[i] as number;
        const byAll = from * (byLamp[i] as number), byLight = byAll * (lamp[i] as number);
        const row = i * STRIPES, mirrorFrom = i * mirrorRow;
        for (let j = 0; j < head; j++) {
          into[j * BLOCK + i] = byLight * (byMirror[mirrorFrom + j] as number);
        }
        for (let k = 0; k < STRIPES; k++) {
          into[(head + (STRIPE[k] as number)) * BLOCK + i] = byLight * (byOwn[row + k] as number);
        }
        lightTerms((x[i] as number) / half, (y[i] as number) / half, over);
        const byLevel = byLight * ((light[i] as number) + fog);
        for (let k = 0; k < LIGHT_TERMS; k++) {
          into[(head + OWN.light + k) * BLOCK + i] = byLevel * (over[k] as number);
        }
        into[(head + OWN.fog) * BLOCK + i] = byLight;
        into[(head + OWN.veil) * BLOCK + i] = byAll;
        into[(head + OWN.power) * BLOCK + i] = from * (byPower[i] as number);
        curve.at(powered[i] as number);
        for (let k = 0; k < TONE_KNOTS; k++) {
          into[(head + OWN.tone + k) * BLOCK + i] = curve.bumps[k] as number;
        }
        sight.look(seenX[i] as number, seenY[i] as number);
        sight.slopes();
        const byX = byLight * half * (byPlace[2 * i] as number);
        const byY = byLight * half * (byPlace[2 * i + 1] as number);
        for (let k = 0; k < SIGHT.length; k++) {
          const slope = byX * (sight.byU[k] as number) + byY * (sight.byV[k] as number);
          into[(head + (SIGHT[k] as number)) * BLOCK + i] = slope;
        }
      }
    },
  };
}

type Row = Float64Array;
type TenRows = [Row, Row, Row, Row, Row, Row, Row, Row, Row, Row];

/** Unknowns that change the stripes, in the order of `Brightness.byOwn`. */
const STRIPE = [
  OWN.offset,
  OWN.phase,
  OWN.sharpness,
  OWN.turn,
  OWN.blur,
  OWN.blur + 1,
  OWN.blur + 2,
  OWN.duty,
  OWN.colours,
] as const;

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

/** Where the fit of knife-edge photographs begins: by rays, over all places of focus and amounts of spherical aberration. */
import type { GreyImage } from "../photo/photoImage.ts";
import { rayAtKnife } from "../zones/knife.ts";
import type { KnifeBench, KnifeStamp, KnifeStart } from "./knifeFit.ts";

/** Conics tried. */
const CONICS = [-1.6, -1.3, -1, -0.7, -0.4, 0];

/** Places of focus tried, and steps between them over the travel from middle to rim. */
const FOCI = 41, REACH = 2;

/** Shares of the light that the knife may have left. */
const CUTS = [0.02, 0.08, 0.16, 0.24, 0.32, 0.4, 0.5, 0.6, 0.68, 0.76, 0.84, 0.92, 0.98];

function valueAt({ width, height, values }: GreyImage, x: number, y: number): number {
  const i = Math.min(width - 1, Math.max(0, Math.floor(x))),
    j = Math.min(height - 1, Math.max(0, Math.floor(y)));
  return values[j * width + i] as number;
}

/** A start, and how badly it explains the light, over the light's own variance. */
export interface FoundStart extends KnifeStart {
  readonly badness: number;
}

/**
 * The best start by rays, light taken for the file's value to the power 2.2.
 *
 * @param stamps  photographs of one series
 */
export function knifeStart(stamps: readonly KnifeStamp[], bench: KnifeBench): FoundStart {
  const { half, radius, source } = bench,
    travel = (half * half) / (2 * radius) * (source === "moves" ? 1 : 2);
  const middle = stamps.reduce((sum, { at }) => sum + at, 0) / stamps.length;
  const seen = stamps.map((stamp) => {
    const c = Math.cos(stamp.toward),
      s = Math.sin(stamp.toward),
      light: number[] = [],
      u: number[] = [],
      r: number[] = [];
    for (let k = 0; k < 160; k++) {
      const rho = 0.93 * Math.sqrt((k + 0.5) / 160), t = k * 2.399963;
      const x = rho * Math.cos(t), y = rho * Math.sin(t);
      u.push((c * x + s * y) * half);
      r.push(rho * half);
      let sum = 0;
      for (const [a, b] of [[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1]] as const) {
        sum +=
          valueAt(stamp.image, stamp.x + x * stamp.radius + a, stamp.y - y * stamp.radius + b) **
            2.2 / 5;
      }
      light.push(sum);
    }
    const mean = light.reduce((sum, v) => sum + v, 0) / light.length;
    return { light, u, r, mean, variance: light.reduce((sum, v) => sum + (v - mean) ** 2, 0) };
  });
  let best: FoundStart | undefined;
  const shares = Float64Array.from({ length: 33 }, (_, k) => (k / 32) * half);
  for (const conic of CONICS) {
    const error = (share: number): number => (((1 + conic) * share ** 4) / (8 * radius ** 3)) * 1e6;
    for (let f = 0; f < FOCI; f++) {
      const focus = travel / 2 - middle + ((2 * f) / (FOCI - 1) - 1) * REACH * travel;
      let badness = 0;
      const across: number[] = [], lights: number[] = [];
      stamps.forEach(({ at }, n) => {
        const { light, u, r, variance } = seen[n] as (typeof seen)[number];
        const setting = { surface: { radius, conic: -1 }, half, source, knife: at + focus, error };
        const ratio = Array.from(
          shares,
          (share) => share === 0 ? 0 : rayAtKnife(share, share, setting) / share,
        );
        ratio[0] = ratio[1] ?? 0;
        const rays = u.map((v, k) => {
          const place = ((r[k] ?? 0) / half) * 32,
            i = Math.min(31, Math.floor(place)),
            t = place - i;
          return v * ((ratio[i] ?? 0) * (1 - t) + (ratio[i + 1] ?? 0) * t);
        });
        const sorted = Float64Array.from(rays).sort();
        let lowest = Infinity, edge = 0, gain = 1;
        for (const cut of CUTS) {
          const c = sorted[Math.round((1 - cut) * (sorted.length - 1))] as number;
          let mm = 0, ml = 0, ll = 0;
          rays.forEach((x, k) => {
            const m = Math.min(1, Math.max(0, 0.5 + (x - c) / (1.3 * bench.slit))),
              l = light[k] as number;
            mm += m * m;
            ml += m * l;
            ll += l * l;
          });
          const left = ll - (ml * ml) / Math.max(mm, 1e-9);
          if (left < lowest) [lowest, edge, gain] = [left, c, ml / Math.max(mm, 1e-9)];
        }
        badness += lowest / Math.max(variance, 1e-9);
        across.push(edge);
        lights.push(Math.log(Math.max(1e-3, gain)));
      });
      badness /= stamps.length;
      const spherical = error(half) / (6 * Math.sqrt(5));
      if (best === undefined || badness < best.badness) {
        best = { focus, across, light: lights, spherical, badness };
      }
    }
  }
  return best as FoundStart;
}

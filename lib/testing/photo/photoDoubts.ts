/** What speaks against a fit of photographs: refused where it cannot tell, cautioned where the record says otherwise. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import type { PhotoFit } from "./photoFit.ts";
import type { PhotoTest } from "./photoGiven.ts";
import { OWN } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import type { PhotoSeen } from "./photoSeen.ts";
import { rayAtGrating } from "../bands/ronchi.ts";

/** Refuses a fit that does not explain its picture, or a picture that does not hold the mirror. */
export function requireTold(
  fit: PhotoFit,
  seen: readonly PhotoSeen[],
  pixels: readonly PhotoPixels[],
): void {
  const lost = pixels.map(({ weight }) => 1 - weight.reduce((a, b) => a + b, 0) / weight.length);
  const worst = Math.max(...seen.map(({ misfit }) => misfit)), gone = Math.max(...lost);
  if (worst > 0.4 || gone > 0.25) {
    throw new CannotTell(
      worst > 0.4
        ? `this photograph is not explained by any mirror: ${
          Math.round(100 * worst * worst)
        } % of its light and dark is left over; is it in focus on the mirror, without reflections, and is the grating's pitch right?`
        : `too much of the mirror is covered in this photograph: ${
          Math.round(100 * gone)
        } % of it does not go with the rest`,
    );
  }
  const bands = Math.min(...fit.own.map((own, n) => pitchesAcross(fit.conic, own, pixels[n])));
  if (bands < 1.5) {
    throw new CannotTell(
      `this photograph holds too few bands to tell the figure: ${
        bands.toFixed(1)
      } from rim to rim; move the grating farther from the centre of curvature, until there are three bands or more`,
    );
  }
  const faint = Math.max(...fit.own.map((own) => own[OWN.fog] ?? 0));
  if (faint > 1.2) {
    throw new CannotTell(
      "the stripes in this photograph are too faint: it is out of focus on the mirror, or stray light lies over it",
    );
  }
  const conicU = Math.sqrt(fit.covariance[0] ?? 0);
  if (conicU > 1) {
    throw new CannotTell(
      `this photograph holds too few bands to tell the figure: the conic constant is left open by ${
        conicU.toFixed(1)
      }; go farther from the centre of curvature, until there are three bands or more`,
    );
  }
}

/** Pitches of the pattern from one rim to the other, for the bare conic. */
function pitchesAcross(conic: number, own: Float64Array, pixels: PhotoPixels | undefined): number {
  if (pixels === undefined) return 0;
  const { bench } = pixels, { half, radius } = bench;
  const setting = { ...bench, surface: { radius, conic }, offset: own[OWN.offset] ?? 0 };
  const orders = Array.from(
    { length: 41 },
    (_, k) => rayAtGrating(half * (k / 20 - 1), 0, setting).across * bench.linesPerMm,
  );
  return Math.max(...orders) - Math.min(...orders);
}

export function cautionsOf(test: PhotoTest, seen: readonly PhotoSeen[]): string[] {
  const cautions: string[] = [];
  seen.forEach(({ offset }, n) => {
    const photo = test.photos[n], u = Math.hypot(photo?.offsetU ?? 0.5, offset.u);
    const off = offset.value - (photo?.offset ?? 0);
    if (Math.abs(off) > 3 * u) {
      cautions.push(
        `the bands say the grating stood at ${offset.value.toFixed(2)} mm, the record ${
          (photo?.offset ?? 0).toFixed(2)
        } mm: is the pitch right, and the lamp where the record says?`,
      );
    }
  });
  const [first, second] = seen;
  if (first !== undefined && second !== undefined) {
    const stated = (test.photos[1]?.offset ?? 0) - (test.photos[0]?.offset ?? 0);
    const told = second.offset.value - first.offset.value, ratio = told / stated;
    const u = Math.hypot(test.photos[0]?.offsetU ?? 0.5, test.photos[1]?.offsetU ?? 0.5);
    if (Math.abs(told - stated) > 3 * u) {
      cautions.push(
        `between the photographs the grating went ${stated.toFixed(1)} mm by the record and ${
          told.toFixed(1)
        } mm by the bands, ${
          ratio.toFixed(2)
        } times as far: look at the grating's lines for each mm`,
      );
    }
  }
  return cautions;
}

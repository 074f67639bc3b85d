/** What a grating of half-clear lines does to the spectrum of one row of light, for each place it is moved to. */
import type { RonchiStill } from "./ronchiScreen.ts";

/** A row's sampling and the grating's place. */
export interface RowGrating {
  readonly still: RonchiStill;
  readonly count: number;
  /** mm on the mirror from one sample to the next */
  readonly step: number;
  /** mm */
  readonly offset: number;
  readonly shift: number;
}

/** lambda L: what turns a direction of light into a place at the grating. */
function spreadOf({ still, offset }: RowGrating): number {
  return (still.wavelength ?? 550) * 1e-6 * (still.surface.radius + offset);
}

/** Pitches of the grating from one sample of the spectrum to the next. */
function pitchesOf(grating: RowGrating): number {
  return (spreadOf(grating) * grating.still.linesPerMm) / (grating.count * grating.step);
}

/** Each sample's share that clear lines let through, over `count`: two transforms in a row multiply by that. */
export function passesOf(grating: RowGrating, out: Float64Array): void {
  const { count, shift, still } = grating, wide = pitchesOf(grating);
  for (let k = 0; k < count; k++) {
    const order = (k < count / 2 ? k : k - count) * wide - shift * still.linesPerMm;
    const off = Math.abs(order - Math.round(order));
    out[k] = Math.min(1, Math.max(0, (0.25 - off) / wide + 0.5)) / count;
  }
}

/** The same for a lamp behind the same lines: half of what a triangle of light stands above its mean. */
export function triangleOf(grating: RowGrating, out: Float64Array): void {
  const { count, shift, still } = grating, wide = pitchesOf(grating);
  for (let k = 0; k < count; k++) {
    const order = (k < count / 2 ? k : k - count) * wide - 2 * shift * still.linesPerMm;
    out[k] = (0.25 - Math.abs(order - Math.round(order))) / count;
  }
}

/**
 * Light of the sheared images that fall in from one side: sum of (1 / pi m)^2 over the odd orders m whose shear lies within
 * the way to the rim, for ways of 0, 1, 2 ... samples. A step is rounded off over the sample it falls in.
 */
export function evenLightOf(grating: RowGrating, out: Float64Array): void {
  const shear = (spreadOf(grating) * grating.still.linesPerMm) / grating.step; // samples
  out.fill(0);
  for (let m = 1; m * shear < out.length; m += 2) {
    const light = 1 / (Math.PI * Math.PI * m * m);
    for (let k = Math.ceil(m * shear); k < out.length; k++) out[k] = (out[k] as number) + light;
  }
}

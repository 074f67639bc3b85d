/** A ringed planet as mirror, air and eye leave it: its light by Fourier's way, sharp once and blurred many times. */
import { fftPlan } from "../../numeric/fft.ts";
import { ARCSEC } from "../../sky/eyepiece.ts";
import { RINGS, saturnLight } from "../drawings/saturn.ts";
import { once, valueOf, type Values } from "./figure.ts";

/** Places across and up, and arcseconds from one to the next. */
const wide = 256, tall = 128, step = 0.25;
const aperture = 150, wavelength = 550e-6;
/** The demo’s evening, 10 October 2026: the south face of the rings is seen. */
export const evening = { ringsArcsec: 44.7, globeArcsec: 19.7, ringTilt: -0.13 };

/** Real and imaginary parts, row after row. */
interface Plane {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

const alongX = fftPlan(wide), alongY = fftPlan(tall);

/** Both directions in place; `parts` changed over turns it round. */
function transform({ re, im }: Plane): void {
  for (let y = 0; y < tall; y++) {
    alongX.forward(re.subarray(y * wide, (y + 1) * wide), im.subarray(y * wide, (y + 1) * wide));
  }
  const a = new Float64Array(tall), b = new Float64Array(tall);
  for (let x = 0; x < wide; x++) {
    for (let y = 0; y < tall; y++) {
      a[y] = re[y * wide + x] as number;
      b[y] = im[y * wide + x] as number;
    }
    alongY.forward(a, b);
    for (let y = 0; y < tall; y++) {
      re[y * wide + x] = a[y] as number;
      im[y * wide + x] = b[y] as number;
    }
  }
}

const plane = (): Plane => ({
  re: new Float64Array(wide * tall),
  im: new Float64Array(wide * tall),
});

/** Place k of n, with 0 first and the far half below 0. */
const about = (k: number, n: number): number => k < n / 2 ? k : k - n;

/** The planet's spectrum: sharp, each place the mean of 4 by 4. */
const spectrum = once((_): Plane => {
  const scene = plane(), fine = 4;
  for (let k = 0; k < scene.re.length; k++) {
    const x = about(k % wide, wide), y = about(Math.floor(k / wide), tall);
    let sum = 0;
    for (let i = 0; i < fine * fine; i++) {
      sum += saturnLight(
        evening,
        step * (x + ((i % fine) + 0.5) / fine - 0.5),
        step * (y + (Math.floor(i / fine) + 0.5) / fine - 0.5),
      );
    }
    scene.re[k] = sum / (fine * fine);
  }
  transform(scene);
  return scene;
});

/** Cycles an arcsecond at place k of the spectrum. */
const cycles = (k: number): [number, number] => [
  about(k % wide, wide) / (wide * step),
  about(Math.floor(k / wide), tall) / (tall * step),
];

/**
 * Contrast that the mirror keeps at each place of the spectrum: its pupil's light, squared, turned back.
 *
 * @param values  obstruction, share of the diameter; error, waves P-V of spherical aberration at its best focus
 */
export const mirrorKeeps = once((values): Float64Array => {
  const hole = valueOf(values, "obstruction"), error = valueOf(values, "error"), pupil = plane();
  const rim = aperture / wavelength / ARCSEC / 2;
  for (let k = 0; k < pupil.re.length; k++) {
    const [x, y] = cycles(k), rho = Math.sqrt(x * x + y * y) / rim, q = rho * rho;
    // whole places only: shares along the rim would count twice in the square, and cost a hundredth of the contrast
    if (rho > 1 || rho < hole) continue;
    const turn = 8 * Math.PI * error * (q * q - q);
    pupil.re[k] = Math.cos(turn);
    pupil.im[k] = Math.sin(turn);
  }
  transform(pupil);
  for (let k = 0; k < pupil.re.length; k++) {
    pupil.re[k] = (pupil.re[k] as number) ** 2 + (pupil.im[k] as number) ** 2;
    pupil.im[k] = 0;
  }
  transform(pupil);
  const all = pupil.re[0] as number;
  return pupil.re.map((kept) => kept / all);
});

/** Two pictures of the same light. */
export interface PlanetImages {
  /** blurred by mirror, air and one pixel of the page */
  readonly seen: Float64Array;
  /** blurred by mirror, air and the eye's own fineness at this magnification */
  readonly felt: Float64Array;
}

/**
 * The planet through mirror and air, as drawn and as the eye resolves it.
 *
 * @param values  obstruction and error of the mirror; seeing, width of the air's blur, arcseconds
 * @param pixel   arcseconds in a pixel of the page
 * @param eye     arcseconds that the eye can tell apart
 * @example without blur by air and eye the rings' bright part keeps its light
 * ```ts
 * import assert from "node:assert/strict";
 * const { felt } = planetImages({ obstruction: 0, error: 0, seeing: 0 }, 0.25, 0.25);
 * assert.ok(Math.abs(lightAcross(felt, 17) - 0.9) < 0.08);
 * ```
 */
export function planetImages(values: Values, pixel: number, eye: number): PlanetImages {
  const { re, im } = spectrum({}), image = plane(), seeing = valueOf(values, "seeing");
  const keeps = mirrorKeeps({
    obstruction: valueOf(values, "obstruction"),
    error: valueOf(values, "error"),
  });
  // e^(-2 pi^2 s^2 f^2) for a blur of full width 2.3548 s
  const fade = (width: number): number => -2 * (Math.PI / 2.3548) ** 2 * (seeing ** 2 + width ** 2);
  const drawn = fade(pixel), told = fade(eye);
  for (let k = 0; k < re.length; k++) {
    const kept = (keeps[k] as number) / re.length;
    if (Math.abs(kept) * re.length < 1e-9) continue;
    const [x, y] = cycles(k), f2 = x * x + y * y;
    const a = kept * Math.exp(drawn * f2), b = kept * Math.exp(told * f2);
    // both pictures are real: one travels as the real part, one as the imaginary; parts changed over turn back
    image.im[k] = (re[k] as number) * a - (im[k] as number) * b;
    image.re[k] = (re[k] as number) * b + (im[k] as number) * a;
  }
  transform(image);
  return { seen: image.im, felt: image.re };
}

/** Light between places, x arcseconds right and y up of the middle; dark outside. */
export function lightBetween(image: Float64Array, x: number, y: number): number {
  const u = x / step, v = y / step, i = Math.floor(u), j = Math.floor(v), s = u - i, t = v - j;
  if (i < -wide / 2 || i + 1 >= wide / 2 || j < -tall / 2 || j + 1 >= tall / 2) return 0;
  const left = i & (wide - 1), right = (i + 1) & (wide - 1);
  const low = (j & (tall - 1)) * wide, high = ((j + 1) & (tall - 1)) * wide;
  return (1 - t) * ((1 - s) * (image[low + left] as number) + s * (image[low + right] as number)) +
    t * ((1 - s) * (image[high + left] as number) + s * (image[high + right] as number));
}

/** Light on the rings' long axis, arcseconds from the middle. */
export function lightAcross(image: Float64Array, x: number): number {
  return lightBetween(image, x, 0);
}

/** How deep the dark gap in the rings looks at their tips: 0 not at all, 1 black. */
export function gapDepth(image: Float64Array): number {
  const [a, b] = RINGS, half = evening.ringsArcsec / 2, wide = (a.outer - a.inner) / 2;
  const at = (share: number): number => lightAcross(image, share * half);
  const bright = (at(a.inner + wide) + at(b.outer - wide)) / 2;
  return Math.max(0, 1 - at((a.inner + b.outer) / 2) / bright);
}

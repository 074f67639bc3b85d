// deno-lint-ignore-file no-console
/** What each thing the fit knows of a camera is worth: switched off one by one, on the same made photographs. */
import { fitPixels } from "../../lib/testing/photo/photoFit.ts";
import { LIGHT_TERMS, OWN, TONE_KNOTS } from "../../lib/testing/photo/photoModel.ts";
import { findOutline } from "../../lib/testing/photo/photoOutline.ts";
import { type PhotoPixels, pixelsOf } from "../../lib/testing/photo/photoPixels.ts";
import { makePhoto } from "../testing/photoGenerator.ts";
import { caseOf } from "../testing/photoTrial.ts";
import { missed } from "../testing/photoTruth.ts";

/** Small photographs of conics from the trial, all of its camera's faults in each. */
const SEEDS = [0, 1, 5, 7, 13, 14, 20];

/** Holds unknowns of a photograph at a value. */
const held = (
  pixels: PhotoPixels,
  values: readonly (readonly [at: number, value: number])[],
): PhotoPixels => {
  const start = pixels.start.slice(), spread = pixels.spread.slice();
  for (const [at, value] of values) [start[at], spread[at]] = [value, 1e-6];
  return { ...pixels, start, spread };
};

const noughts = (from: number, count: number): (readonly [number, number])[] =>
  Array.from({ length: count }, (_, k) => [from + k, 0] as const);

type Change = (pixels: PhotoPixels) => PhotoPixels;
const WITHOUT: readonly (readonly [name: string, change: Change])[] = [
  ["all effects fitted", (p) => p],
  ["curve: taken as straight", (p) => held(p, [[OWN.power, 1], ...noughts(OWN.tone, TONE_KNOTS)])],
  [
    "curve: taken as a power of 1 / 2.2",
    (p) => held(p, [[OWN.power, 1 / 2.2], ...noughts(OWN.tone, TONE_KNOTS)]),
  ],
  ["slant and lens: none", (p) => held(p, noughts(OWN.stretch, 5))],
  ["colours: one", (p) => held(p, [[OWN.colours, 0]])],
  [
    "uneven light: taken as even",
    (p) =>
      held(p, Array.from({ length: LIGHT_TERMS - 1 }, (_, k) => [OWN.light + 1 + k, 0] as const)),
  ],
  ["turn: taken as none", (p) => held(p, [[OWN.turn, 0]])],
  ["outline: 2 % of the radius beside", (p) => {
    const x = (p.start[OWN.x] ?? 0) + 0.02 * p.outline.radius;
    return held({ ...p, outline: { ...p.outline, x } }, [[OWN.x, x]]);
  }],
  [
    "softness of lens and averaged pixels: none",
    (p) => held(p, [[OWN.sharpness, 1], [OWN.fog, 0], ...noughts(OWN.blur, 3)]),
  ],
  ["stray light: none", (p) => held(p, [[OWN.veil, 0]])],
];

const rows = WITHOUT.map(([name]) => ({
  name,
  glass: [] as number[],
  conic: [] as number[],
  inU: [] as number[],
  out: 0,
}));
for (const seed of SEEDS) {
  const { made: [made], slips } = caseOf(seed, "conic");
  if (made === undefined) continue;
  const image = makePhoto(made), outline = findOutline(image);
  if (outline === undefined) throw new Error(`no outline in ${seed}`);
  const bench = {
    ...{ radius: made.radius, half: made.aperture / 2, linesPerMm: made.linesPerMm },
    ...{ setUp: "same grating", wavelength: 550 } as const,
  };
  let u = NaN;
  for (const [n, [, change]] of WITHOUT.entries()) {
    const stated = { offset: made.offset + (slips[0] ?? 0), offsetU: 0.5 };
    const fit = fitPixels([change(pixelsOf(image, outline, bench, stated))]);
    const row = rows[n], off = Math.abs(fit.conic - made.conic);
    row?.glass.push(missed(made, fit));
    row?.conic.push(off);
    // the first leaves nothing out
    if (n === 0) u = Math.sqrt(fit.covariance[0] ?? 0);
    row?.inU.push(off / u);
    if (row !== undefined && off > 1.96 * Math.sqrt(fit.covariance[0] ?? 0)) row.out++;
  }
}
const rms = (v: readonly number[]): string =>
  Math.sqrt(v.reduce((sum, x) => sum + x * x, 0) / v.length).toFixed(3);
console.log(
  `| the fit without | glass missed, nm RMS | K off, RMS | the same in u | intervals of K missed of ${SEEDS.length} |\n|---|---|---|---|---|`,
);
for (const { name, glass, conic, inU, out } of rows) {
  console.log(`| ${name} | ${rms(glass)} | ${rms(conic)} | ${rms(inU)} | ${out} |`);
}
/**
 * Errors in the u of the whole fit, whose squares' means have as many degrees of freedom as there are photographs: a ratio below
 * this is chance in 1 of 20 (the F distribution's 5 % for 7 and 7: 1 / 3.79).
 */
const BY_CHANCE = 1 / 3.79;
const [full, ...others] = rows;
const better = others.filter(({ inU }) =>
  Number(rms(inU)) ** 2 < BY_CHANCE * Number(rms(full?.inU ?? [])) ** 2
);
if (full === undefined || better.length > 0) {
  console.error(`left out, it makes the fit better: ${better.map(({ name }) => name).join("; ")}`);
  Deno.exit(1);
}

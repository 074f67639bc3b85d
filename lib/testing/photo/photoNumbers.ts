/** From a fitted mirror to what it is worth: wavefront of a star, Strehl, profile of the glass, and how surely. */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { phaseSumSquared } from "../../numeric/phasors.ts";
import { random } from "../../numeric/random.ts";
import { addScaled, dot } from "../../numeric/smallMatrix.ts";
import { departureFromParaboloid } from "../../optics/conic.ts";
import { radialGrid } from "../../optics/quality.ts";
import { type DiscPlace, zernike } from "../../optics/zernike.ts";
import { type Measured, measured } from "../../quantity/measured.ts";
import { rayAtGrating } from "../bands/ronchi.ts";
import type { FigureNumbers, Pair } from "../figureNumbers.ts";
import { DIRECTED, ROUND, ROUND_TERMS, type SurfaceTerms } from "../surfaceTerms.ts";
import { drawMirrors } from "./photoWeights.ts";
import type { PhotoFit } from "./photoFit.ts";
import type { PhotoTest } from "./photoGiven.ts";
import { OWN } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import type { PhotoSeen } from "./photoSeen.ts";
import { tableOf } from "./photoShape.ts";
import { shapesOf } from "./photoSums.ts";
import type { Shape } from "./photoTerms.ts";

/** What the mirror is held against. */
export interface Judged {
  readonly radius: number;
  readonly half: number;
  readonly wavelength: number;
  readonly reference: "paraboloid" | "sphere";
  /** relative uncertainty of the grating's pitch and of all else that scales slopes */
  readonly scaleU: number;
  readonly goalSurfaceWaves: number;
  readonly seed: number;
}

const DRAWS = 2000;

/** Shapes held at nothing keep this much by rounding at most, nm. */
const LEFT_OVER = 1e-3;

/** Places on each ring of the face: enough for shapes that go four times round. */
const AROUND = 16;

/** Heights of glass at places of the face for each unit of the mirror's unknowns; piston, tilt and focus taken out. */
interface Face {
  readonly weights: Float64Array;
  /** work space: waves at each place of one draw */
  readonly waves: Float64Array;
  /** one row a place: conic, then each shape; nm of glass */
  readonly rows: readonly Float64Array[];
  readonly places: readonly DiscPlace[];
  /** radii of the rings of places, mm */
  readonly radii: Float64Array;
  /** height at each ring for each unit of K, nm */
  readonly sphere: Float64Array;
  /** place of the first unknown that is not the same all round */
  readonly firstUneven: number;
}

/** Draws mirrors from what a fit believes and tells their middle and their spread; every value lies inside its own interval. */
export function photoNumbers(
  fit: PhotoFit,
  judged: Judged,
): FigureNumbers & { readonly seen: SurfaceTerms } {
  const base = judged.reference === "sphere" ? 0 : -1;
  const face = faceOf(fit, judged, base, AROUND), roundFace = faceOf(fit, judged, base, 1);
  const byConic = conicShares(roundFace);
  const conicAt = (amounts: Float64Array): number => base + heightOf(byConic, amounts);
  const draws = drawAbove(fit, base, judged);
  const drawn = draws.map((amounts) =>
    valuesOf(isRound(amounts, face) ? roundFace : face, amounts, judged)
  );
  const pv = spreadOf(drawn.map((d) => d.pv), NEAR_PERFECT.pv),
    rms = spreadOf(drawn.map((d) => d.rms), NEAR_PERFECT.rms);
  const strehl = spreadOf(drawn.map((d) => d.strehl), 0.025, NEAR_PERFECT.rms),
    conic = spreadOf(draws.map(conicAt));
  if (maybePerfect(fit, base, conic.ends)) {
    // equal tails would shut out a perfect mirror that nothing speaks against
    for (const spread of [pv, rms]) spread.ends = [0, spread.ends[1]];
    strehl.ends = [strehl.ends[0], 1];
  }
  const of = ({ middle, u }: Spread, unit: string, scale = 1): Measured =>
    measured(middle * scale, u * scale, unit);
  const glass = judged.wavelength / 2, goal = 2 * judged.goalSurfaceWaves;
  return {
    conic: of(conic, ""),
    surfacePv: of(pv, "nm", glass),
    surfaceRms: of(rms, "nm", glass),
    wavefrontPv: of(pv, "wave"),
    wavefrontRms: of(rms, "wave"),
    strehl: of(strehl, ""),
    profile: profileOf(roundFace, draws),
    seen: seenBy(face, draws),
    interval95: {
      wavefrontPv: pv.ends,
      wavefrontRms: rms.ends,
      strehl: strehl.ends,
      conic: conic.ends,
    },
    probabilityWithinGoal: drawn.filter((d) => d.pv <= goal).length / drawn.length,
  };
}

function faceOf(
  fit: PhotoFit,
  { radius, half }: Judged,
  base: number,
  around: number,
): Face {
  const shapes = shapesOf(fit.terms), round = tableOf(shapes).count;
  const grid = radialGrid(28), rows: Float64Array[] = [];
  const weights: number[] = [], places: [number, number][] = [], polar: DiscPlace[] = [];
  const radii = Float64Array.from(grid.q, (q) => half * Math.sqrt(q));
  // height for each unit of K, from the reference as far as the fit: it bends a little with K
  const far = Math.abs(fit.conic - base) < 1e-3 ? base + 1e-3 : fit.conic;
  const above = (r: number, conic: number): number => departureFromParaboloid(r, { radius, conic });
  const sphere = Float64Array.from(radii, (r) => (above(r, far) - above(r, base)) / (far - base));
  grid.q.forEach((q, i) => {
    for (let k = 0; k < around; k++) {
      const t = (2 * Math.PI * k) / around, rho = Math.sqrt(q);
      const u = rho * Math.cos(t), v = rho * Math.sin(t);
      places.push([u, v]);
      polar.push({ rho, theta: t + fit.axes });
      weights.push((grid.weights[i] ?? 0) / around);
      // with one place on a ring it stands for the ring's mean, which uneven shapes do not change
      const height = (f: Shape, j: number): number => around === 1 && j >= round ? 0 : f(u, v);
      rows.push(Float64Array.from([sphere[i] ?? 0, ...shapes.map(height)]));
    }
  });
  const weight = Float64Array.from(weights);
  const plain = (u: number, v: number): number[] =>
    around === 1 ? [1, u * u] : [1, u * u + v * v, u, v];
  takeOut(rows, places.map(([u, v]) => Float64Array.from(plain(u, v))), weight);
  const waves = new Float64Array(weight.length);
  return { weights: weight, waves, rows, places: polar, radii, sphere, firstUneven: 1 + round };
}

/** Takes what piston, focus and tilt can mend out of every column, by area-weighted least squares. */
function takeOut(
  rows: readonly Float64Array[],
  plain: readonly Float64Array[],
  weights: Float64Array,
): void {
  const count = plain[0]?.length ?? 0, columns = rows[0]?.length ?? 0;
  /** Takes column a of the plain shapes out of column j of others. */
  const free = (others: readonly Float64Array[], j: number, a: number): void => {
    let shared = 0, size = 0;
    for (let i = 0; i < others.length; i++) {
      const at = plain[i]?.[a] as number, weight = weights[i] as number;
      shared += weight * at * (others[i]?.[j] as number);
      size += weight * at * at;
    }
    const share = shared / size;
    for (let i = 0; i < others.length; i++) {
      const row = others[i] as Float64Array;
      row[j] = (row[j] as number) - share * (plain[i]?.[a] as number);
    }
  };
  for (let a = 0; a < count; a++) { // make the plain shapes independent of one another, then remove each
    for (let b = 0; b < a; b++) free(plain, a, b);
    for (let j = 0; j < columns; j++) free(rows, j, a);
  }
}

/** Whether a draw has no shape that is not the same all round. */
function isRound(amounts: Float64Array, { firstUneven }: Face): boolean {
  for (let j = firstUneven; j < amounts.length; j++) {
    if (Math.abs(amounts[j] as number) >= LEFT_OVER) return false;
  }
  return true;
}

/** P-V and RMS of the wavefront in waves, and Strehl, at the focus of least RMS. */
function valuesOf(
  { rows, weights, waves }: Face,
  amounts: Float64Array,
  { wavelength }: Judged,
): { pv: number; rms: number; strehl: number } {
  let low = Infinity, high = -Infinity, square = 0;
  for (let i = 0; i < rows.length; i++) {
    const wave = (2 / wavelength) * heightOf(rows[i] as Float64Array, amounts);
    if (wave < low) low = wave;
    if (wave > high) high = wave;
    square += (weights[i] as number) * wave * wave;
    waves[i] = wave;
  }
  const strehl = phaseSumSquared(waves, weights, 1);
  return { pv: high - low, rms: Math.sqrt(square), strehl };
}

/** Height at one place. */
function heightOf(row: Float64Array, amounts: Float64Array): number {
  let sum = 0;
  for (let j = 0; j < row.length; j++) sum += (row[j] as number) * (amounts[j] as number);
  return sum;
}

function addTimes(sums: Float64Array, row: Float64Array, factor: number): void {
  for (let j = 0; j < sums.length; j++) {
    sums[j] = (sums[j] as number) + factor * (row[j] as number);
  }
}

/** Height of each ring. */
function ringHeights({ rows }: Face, amounts: Float64Array): Float64Array {
  return Float64Array.from(rows, (row) => heightOf(row, amounts));
}

/** What a unit of each unknown adds to the best single conic: its share beside piston and focus. */
function conicShares({ rows, radii, weights, sphere }: Face): Float64Array {
  const pure = Array.from(sphere, (v) => Float64Array.of(v)), half = radii.at(-1) ?? 1;
  takeOut(pure, Array.from(radii, (r) => Float64Array.of(1, (r / half) ** 2)), weights);
  const shares = new Float64Array(rows[0]?.length ?? 0);
  let size = 0;
  pure.forEach((row, i) => {
    const [v = 0] = row, weight = weights[i] as number;
    size += weight * v * v;
    addTimes(shares, rows[i] as Float64Array, weight * v);
  });
  return shares.map((share) => share / size);
}

/**
 * A turned edge narrower than a picture shows, or of another shape than those of the fit: nm at the rim in every draw, and share
 * of the edge where one is seen (from the trial).
 */
const HIDDEN = 15, EDGE_UNSURE = 0.1;

/** Mirrors as likely as the fit allows: conic above the reference, and amounts. */
function drawAbove(fit: PhotoFit, base: number, { scaleU, seed }: Judged): Float64Array[] {
  const normals = new Float64Array(3 * DRAWS), edges = edgePlaces(fit), [narrow = 0] = edges;
  random(seed + 1).fillNormal(normals);
  const draws = drawMirrors(fit.weightedModels, 1 + fit.amounts.length, DRAWS, seed);
  draws.forEach((out, n) => {
    scaleBy(out, 1 + scaleU * (normals[3 * n] as number));
    out[0] = (out[0] as number) - base;
    for (const k of edges) {
      out[k] = (out[k] as number) * (1 + EDGE_UNSURE * (normals[3 * n + 1] as number));
    }
    out[narrow] = (out[narrow] as number) + HIDDEN * (normals[3 * n + 2] as number);
  });
  return draws;
}

function scaleBy(row: Float64Array, factor: number): void {
  for (let a = 0; a < row.length; a++) row[a] = factor * (row[a] as number);
}

/** Places of the edges among the mirror's unknowns, the narrowest first. */
function edgePlaces({ terms }: PhotoFit): number[] {
  const places: number[] = [];
  let at = 1;
  for (const { kind, shapes } of terms) {
    for (let k = 0; k < shapes.length; k++, at++) if (kind === "edge") places.push(at);
  }
  return places;
}

function profileOf(face: Face, draws: readonly Float64Array[]): FigureNumbers["profile"] {
  const some = draws.slice(0, 500).map((d) => ringHeights(face, d));
  return Array.from(face.radii, (radius, i) => {
    const heights = some.map((rings) => rings[i] as number);
    const mean = heights.reduce((a, b) => a + b, 0) / heights.length;
    const square = heights.reduce((sum, v) => sum + (v - mean) ** 2, 0);
    return { radius, surfaceError: mean, u: Math.sqrt(square / (heights.length - 1)) };
  });
}

/** The terms that other tests see too, by the draws, as if the mark stood at the picture's top. */
function seenBy(face: Face, draws: readonly Float64Array[]): SurfaceTerms {
  const wanted = [...ROUND_TERMS, ...DIRECTED], size = face.rows[0]?.length ?? 0;
  const rows = wanted.map((term) => {
    const row = new Float64Array(size);
    face.rows.forEach((heights, i) => {
      const { rho, theta } = face.places[i] as DiscPlace;
      addScaled(row, heights, (face.weights[i] as number) * zernike(term, rho, theta));
    });
    return row;
  });
  const sign = [...ROUND_TERMS.map(() => 1), ...DIRECTED.map((one) => one.sign)];
  const drawn = rows.map((row, k) =>
    draws.map((amounts) => (sign[k] as number) * dot(row, amounts))
  );
  const values = drawn.map((sample) => sample.reduce((a, b) => a + b, 0) / sample.length);
  const covariance = drawn.map((a, i) =>
    drawn.map((b, j) =>
      a.reduce(
        (sum, v, n) =>
          sum + (v - (values[i] as number)) * ((b[n] as number) - (values[j] as number)),
        0,
      ) / (draws.length - 1)
    )
  );
  return { terms: [...ROUND, ...DIRECTED.map(({ name }) => name)], values, covariance };
}

/** Middle of a sample, its 95 % interval, and half of that over 1.96. */
interface Spread {
  readonly middle: number;
  readonly u: number;
  ends: Pair;
}

/**
 * Noise and shapes that are not there only add to P-V and RMS, and take from Strehl, to P-V most: on the side of the perfect mirror
 * the interval keeps back less than a 40th (from the trial, where nearly all truths outside lay on that side).
 */
const NEAR_PERFECT = { pv: 0.01, rms: 0.02 };

/** @param low, high  shares of the draws that lie beyond the ends */
function spreadOf(sample: readonly number[], low = 0.025, high = 0.025): Spread {
  const sorted = Float64Array.from(sample).sort();
  const at = (p: number): number => sorted[Math.round(p * (sorted.length - 1))] ?? NaN;
  const ends: Pair = [at(low), at(1 - high)];
  return { middle: at(0.5), u: (ends[1] - ends[0]) / (2 * 1.96), ends };
}

/** Whether a mirror without any error may have made the picture: its conic lies inside its interval, and it needs no other shape. */
function maybePerfect(fit: PhotoFit, base: number, [low, high]: Pair): boolean {
  const plain = fit.weightedModels.reduce(
    (sum, { kinds, share }) => sum + (kinds.size === 0 ? share : 0),
    0,
  );
  return low <= base && base <= high && plain > 0.05;
}

// What speaks against a fit of photographs: refused where it cannot tell, cautioned where the record says otherwise.

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

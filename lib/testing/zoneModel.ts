/**
 * The zone test as one linear map: from the shape of the glass to the readings, and from it to the wavefront.
 *
 * What a knife reading shows is dL(q), the reading less the ideal one, q = (r/a)^2. It is written as a straight line in
 * q (focus and conic, free) plus sine waves over a stretch that reaches half a mirror beyond both ends. A window's
 * reading is the average of dL over the window, not its value at one radius, so heights at the windows' edges follow
 * from the readings without interpolation. The wavefront is the running integral of dL, with the exact factors for the
 * slope of the glass and for a fixed lamp.
 */
import {
  addScaled,
  dot,
  matrix,
  product,
  scaled,
  solve,
  times,
  transpose,
} from "../numeric/smallMatrix.ts";
import { type Opening, type OpeningShape, windowRule } from "./openings.ts";
import { gaussLegendre } from "../numeric/quadrature.ts";
import { type RadialGrid, radialGrid } from "../optics/quality.ts";
import { knifePosition, type Source } from "../optics/crossing.ts";
import { PATCH_TERMS, PATCHES, patchHeights, patchSlopes } from "./zonePatches.ts";

/** The tester and the part of the mirror that is judged. */
export interface Tester {
  /** half the judged aperture, mm */
  readonly half: number;
  /** paraxial radius of curvature, mm */
  readonly radius: number;
  readonly source: Source;
  readonly openings: OpeningShape;
}

/** Rows: zones, grid places or profile places. Columns: constant, slope, the sines, then the patches' terms. */
export interface ZoneModel {
  readonly tester: Tester;
  readonly grid: RadialGrid;
  /** radii of the profile, mm, evenly spaced from 0 to the edge */
  readonly profileRadii: Float64Array;
  /** each column seen through each window; mean readings over `nmPerMm` */
  readonly seen: Float64Array[];
  /** wavefront on the grid, nm, piston and focus removed */
  readonly wavefront: Float64Array[];
  /** the same at the profile's radii */
  readonly profile: Float64Array[];
  /** what each column adds to the conic constant */
  readonly conic: Float64Array;
  /** frequencies of the sines, rad per unit of q */
  readonly frequencies: Float64Array;
  /** wavefront, nm, that 1 mm of dL makes if it held over the whole mirror */
  readonly nmPerMm: number;
}

/** Sine waves in the model; the stretch reaches BEYOND past both ends of 0 <= q <= 1. */
const SINES = 18;
export const BEYOND = 0.5;
const PROFILE_STEPS = 40;

/**
 * Builds the model for a mask and a tester.
 *
 * @param zones   openings on the glass, mm
 * @param tester  half aperture judged, radius of curvature, lamp, shape of openings
 * @returns matrices that do not depend on any reading
 * @throws {RangeError} where an opening reaches beyond 1.2 times the judged aperture
 * @example the constant is only focus: it leaves no wavefront
 * ```ts
 * import assert from "node:assert/strict";
 * const model = zoneModel([{ inner: 0, outer: 40 }, { inner: 40, outer: 75 }], {
 *   half: 75, radius: 2400, source: "moves", openings: "bands",
 * });
 * assert.ok(model.wavefront.every((row) => Math.abs(row[0] ?? 1) < 1e-3)); // 1e-3 of one, in 1 nm of wavefront
 * ```
 */
export function zoneModel(zones: readonly Opening[], tester: Tester): ZoneModel {
  const { half, radius, source } = tester;
  if (zones.some((zone) => zone.outer > 1.2 * half)) {
    throw new RangeError(
      `zoneModel requires openings inside 1.2 x half the judged aperture, ${1.2 * half} mm, ` +
        `got ${Math.max(...zones.map((zone) => zone.outer))}`,
    );
  }
  const frequencies = Float64Array.from(
    { length: SINES },
    (_, j) => (Math.PI * (j + 1)) / (1 + 2 * BEYOND),
  );
  const grid = radialGrid(36);
  const profileRadii = Float64Array.from(
    { length: PROFILE_STEPS + 1 },
    (_, i) => (half * i) / PROFILE_STEPS,
  );
  const seen = zones.map((zone) => seenThrough(zone, tester, frequencies));
  const profilePlaces = profileRadii.map((r) => (r / half) ** 2);
  const onGrid = new Removal(grid, grid.q), onProfile = new Removal(grid, profilePlaces);
  const glass = integrals(grid.q, tester, frequencies);
  const profileGlass = onProfile.remove(integrals(profilePlaces, tester, frequencies), glass);
  const advance = slanted(grid.q, onGrid.remove(glass, glass), tester);
  const profile = onProfile.remove(slanted(profilePlaces, profileGlass, tester), advance);
  const wavefront = onGrid.remove(advance, advance);
  return {
    tester,
    grid,
    profileRadii,
    seen,
    wavefront,
    profile,
    conic: conicRow(grid, wavefront, tester),
    frequencies,
    nmPerMm: (half * half * 1e6) / ((source === "moves" ? 1 : 2) * radius * radius),
  };
}

/** The columns at one place: 1, q - 1/2, and the sines. */
function columnsAt(q: number, frequencies: Float64Array): Float64Array {
  const out = new Float64Array(2 + frequencies.length);
  out[0] = 1;
  out[1] = q - 0.5;
  for (let j = 0; j < frequencies.length; j++) {
    out[j + 2] = Math.sin((frequencies[j] as number) * (q + BEYOND));
  }
  return out;
}

/** The terms of all patches, one patch after the other: heights or slopes by `rule`, times a factor. */
function patchesAt(q: number, rule: typeof patchHeights, factor: number): Float64Array {
  const out = new Float64Array(PATCHES.length * PATCH_TERMS);
  PATCHES.forEach((patch, i) => out.set(scaled(rule(patch, q), factor), i * PATCH_TERMS));
  return out;
}

/** One row from its two parts. */
function joined(lineAndSines: Float64Array, patches: Float64Array): Float64Array {
  const row = new Float64Array(lineAndSines.length + patches.length);
  row.set(lineAndSines);
  row.set(patches, lineAndSines.length);
  return row;
}

function seenThrough(zone: Opening, tester: Tester, frequencies: Float64Array): Float64Array {
  const { radii, weights } = windowRule(zone, tester.openings);
  const line = new Float64Array(2 + frequencies.length);
  const patches = new Float64Array(PATCHES.length * PATCH_TERMS);
  radii.forEach((r, i) => {
    const q = (r / tester.half) ** 2, weight = weights[i] ?? 0;
    addScaled(line, columnsAt(q, frequencies), weight);
    addScaled(patches, patchesAt(q, patchSlopes, -1 / lampFactor(q, tester)), weight);
  });
  return joined(line, patches);
}

/** Minus the running integral over q, at rising places, with the exact factor for the lamp. */
function integrals(
  places: ArrayLike<number>,
  tester: Tester,
  frequencies: Float64Array,
): Float64Array[] {
  const rule = gaussLegendre(5);
  const running = new Float64Array(2 + frequencies.length);
  let from = 0;
  return Array.from(places, (q) => {
    for (let g = 0; g < 5; g++) {
      const at = from + ((q - from) * ((rule.nodes[g] ?? 0) + 1)) / 2;
      const weight = (-(rule.weights[g] ?? 0) * (q - from) * lampFactor(at, tester)) / 2;
      addScaled(running, columnsAt(at, frequencies), weight);
    }
    from = q;
    return joined(running, patchesAt(q, patchHeights, 1));
  });
}

/**
 * How much of d(delta)/dr = -r dL / (k R^2) is left when the law of reflection is not simplified.
 *
 * Moving lamp: all of it. Fixed lamp: (R^2 + r^2) / (r^2 + (L - z)^2), from the derivative of tan(2u_n - u_s).
 */
function lampFactor(q: number, { half, radius, source }: Tester): number {
  if (source === "moves") return 1;
  const r2 = q * half * half;
  const crossing = radius + knifePosition(Math.sqrt(r2), { radius, conic: -1 }, "fixed") -
    r2 / (2 * radius);
  return (radius * radius + r2) / (r2 + crossing * crossing);
}

/**
 * Takes least-squares piston and focus (area weight) out of columns.
 *
 * First out of the glass, where a constant of the readings is exactly another paraboloid, then, after the slope's
 * factor, out of the light; so the arbitrary zero of the knife's scale leaves nothing behind.
 */
class Removal {
  readonly #plane: Float64Array[];
  readonly #weighted: Float64Array[];
  readonly #gram: Float64Array[];

  constructor(grid: RadialGrid, places: Float64Array) {
    const plane = matrix(grid.q.length, 2, (i, j) => j === 0 ? 1 : grid.q[i] ?? 0);
    this.#plane = matrix(places.length, 2, (i, j) => j === 0 ? 1 : places[i] ?? 0);
    this.#weighted = transpose(plane.map((row, i) => scaled(row, grid.weights[i] ?? 0)));
    this.#gram = product(this.#weighted, plane);
  }

  /** @param onGrid  the same columns on the grid, from which the plane is taken */
  remove(columns: Float64Array[], onGrid: Float64Array[]): Float64Array[] {
    const plane = solve(this.#gram, product(this.#weighted, onGrid));
    return subtract(columns, product(this.#plane, plane));
  }
}

/** Light's advance for one unit of twice the glass: 1 / (1 + (r/R)^2). */
function slanted(
  places: Float64Array,
  columns: Float64Array[],
  { half, radius }: Tester,
): Float64Array[] {
  return columns.map((row, i) => scaled(row, 1 / (1 + (places[i] ?? 0) * (half / radius) ** 2)));
}

/** Area-weighted least squares of (r/a)^4 beside piston and focus, over what one unit of K makes, a^4 / 4R^3. */
function conicRow(
  grid: RadialGrid,
  wavefront: Float64Array[],
  { half, radius }: Tester,
): Float64Array {
  const unit = (half ** 4 * 1e6) / (4 * radius ** 3);
  const shape = grid.q.map((q, i) =>
    (30 * (grid.weights[i] ?? 0) * (6 * q * q - 6 * q + 1)) / unit
  );
  return times(transpose(wavefront), shape);
}

function subtract(a: Float64Array[], b: Float64Array[]): Float64Array[] {
  return a.map((row, i) => {
    const out = row.slice();
    addScaled(out, b[i] as Float64Array, -1);
    return out;
  });
}

/** Standard deviations of the sines for a wiggle of unit size that forgets itself over `length` of q. */
export function wiggle(frequencies: Float64Array, length: number): Float64Array {
  const fall = Math.sqrt(5) / length;
  const raw = frequencies.map((f) => (fall * fall + f * f) ** -1.5);
  const size = Math.sqrt(dot(raw, raw) / 2);
  return raw.map((v) => v / size);
}

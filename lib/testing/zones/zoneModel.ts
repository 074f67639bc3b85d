/**
 * The zone test as one linear map: from the shape of the glass to the readings, and from it to the wavefront.
 *
 * A knife reading is the average over its window of dL, the crossing less the ideal one, and dL is the slope of the
 * glass over the radius. So for a band a reading is a difference of heights at the window's two edges, exactly; what
 * the glass does between the edges it does not see. The columns are those of `zoneShapes`.
 */
import { CannotTell } from "../../numeric/cannotTell.ts";
import { gaussLegendre } from "../../numeric/quadrature.ts";
import {
  addScaled,
  type Matrix,
  matrix,
  product,
  scaled,
  solve,
  times,
  transpose,
} from "../../numeric/smallMatrix.ts";
import { knifePosition, type Source } from "../../optics/conic.ts";
import type { RadialGrid } from "../../optics/quality.ts";
import { effectiveRadius, type Opening, type OpeningShape } from "./openings.ts";
import { COLUMNS, heightsAt } from "./zoneShapes.ts";

/** The tester and the part of the mirror that is judged. */
export interface Tester {
  /** half the judged aperture, mm */
  readonly half: number;
  /** paraxial radius of curvature, mm */
  readonly radius: number;
  /** whether the lamp moves with the knife */
  readonly source: Source;
  /** bands of one height, or sectors of one angle */
  readonly openings: OpeningShape;
}

/** A part of the mirror on which a wavefront is judged, piston and focus of that part removed. */
export interface Region {
  readonly grid: RadialGrid;
  /** rows: places of the grid; columns: nm of wavefront for amount 1 of each shape */
  readonly wavefront: Matrix;
  /** what each column adds to the conic constant of this part */
  readonly conic: Float64Array;
  /** focus that was taken out of each column, nm at the judged rim */
  readonly focus: Float64Array;
}

export interface ZoneModel {
  readonly tester: Tester;
  /** each window: mean reading of each column, over `nmPerMm` */
  readonly seen: Matrix;
  readonly whole: Region;
  /** radii of the profile, mm, evenly spaced from 0 to the edge, and the wavefront there */
  readonly profileRadii: Float64Array;
  readonly profile: Matrix;
  /** wavefront, nm, that 1 mm of dL makes if it held over the whole mirror */
  readonly nmPerMm: number;
}

const PROFILE_STEPS = 40;
/** Panels of the grid, shares of the radius, each with so many of Gauss's places: fine where edges turn. */
const PANELS: readonly (readonly [from: number, to: number, count: number])[] = [
  [0, 0.12, 8],
  [0.12, 0.3, 11],
  [0.3, 0.5, 11],
  [0.5, 0.7, 11],
  [0.7, 0.88, 10],
  [0.88, 0.96, 6],
  [0.96, 0.99, 4],
  [0.99, 1, 3],
];

/**
 * Places and area weights in panels of the radius; both edges with weight 0.
 *
 * @param inner  share of the radius where the judged part begins, 0 to below 1
 * @example the weights are the area's
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(panelGrid(0.2).weights.reduce((a, b) => a + b).toFixed(12), "1.000000000000");
 * ```
 */
export function panelGrid(inner = 0): RadialGrid {
  const rho: number[] = [], weights: number[] = [];
  for (const [from, to, count] of PANELS) {
    const start = Math.max(from, inner);
    if (start >= to) continue;
    const rule = gaussLegendre(count);
    rule.nodes.forEach((x, i) => {
      const at = start + ((to - start) * (x + 1)) / 2;
      rho.push(at);
      weights.push((rule.weights[i] ?? 0) * (to - start) * at / (1 - inner * inner));
    });
  }
  return {
    q: Float64Array.from([inner, ...rho, 1], (r) => r * r),
    weights: Float64Array.from([0, ...weights, 0]),
  };
}

/**
 * Builds the model for a mask and a tester.
 *
 * @param zones   openings on the glass, mm
 * @param tester  half aperture judged, radius of curvature, lamp, shape of openings
 * @returns matrices that do not depend on any reading
 * @throws {CannotTell} where an opening reaches beyond 1.2 times the judged aperture
 * @example focus leaves no wavefront, and every window sees it alike
 * ```ts
 * import assert from "node:assert/strict";
 * const model = zoneModel([{ inner: 0, outer: 40 }, { inner: 40, outer: 75 }], {
 *   half: 75, radius: 2400, source: "moves", openings: "bands",
 * });
 * assert.ok(model.whole.wavefront.every((row) => Math.abs(row[0] ?? 1) < 1e-3)); // of 1 nm
 * assert.equal(model.seen[0]?.[0]?.toFixed(9), model.seen[1]?.[0]?.toFixed(9));
 * ```
 */
export function zoneModel(zones: readonly Opening[], tester: Tester): ZoneModel {
  const { half, radius, source } = tester;
  const last = zones.reduce((most, { outer }) => Math.max(most, outer), 0);
  if (last > 1.2 * half) {
    throw new CannotTell(
      `an opening ends ${
        Number(last.toFixed(3))
      } mm from the middle, far beyond the face, which ends at ${
        Number(half.toFixed(3))
      } mm: look at the bevel and at the openings`,
    );
  }
  return {
    tester,
    seen: zones.map((zone) => seenThrough(zone, tester)),
    ...faceOf(tester),
    nmPerMm: (half * half * 1e6) / ((source === "moves" ? 1 : 2) * radius * radius),
  };
}

/** What a model has whatever the openings: the whole face, and the profile. */
type Face = Pick<ZoneModel, "whole" | "profile" | "profileRadii">;

/** Kept as long as the tester is: a mask with other openings is reckoned on the same face. */
const faces = new WeakMap<Tester, Face>();

function faceOf(tester: Tester): Face {
  const { half } = tester, before = faces.get(tester);
  if (before !== undefined) return before;
  const profileRadii = Float64Array.from(
    { length: PROFILE_STEPS + 1 },
    (_, i) => (half * i) / PROFILE_STEPS,
  );
  const profile = places(profileRadii.map((r) => r / half));
  const grid = panelGrid(), raw = places(grid.q.map(Math.sqrt));
  const face = {
    whole: judged(grid, raw, tester),
    profileRadii,
    profile: judgedAt(profileRadii.map((r) => (r / half) ** 2), profile, grid, raw, tester),
  };
  faces.set(tester, face);
  return face;
}

/**
 * The part of the mirror outside a shadow, judged by itself at its own focus.
 *
 * @param inner  shadow's radius over the judged radius, above 0 and below 1
 */
export function outside(inner: number, tester: Tester): Region {
  const grid = panelGrid(inner);
  return judged(grid, places(grid.q.map(Math.sqrt)), tester);
}

const known = new Map<number, Float64Array>();

/** Heights of all columns at places that return with every mirror; kept, since they take most of the time. */
function places(rhos: Float64Array): Float64Array[] {
  return Array.from(rhos, (rho) => {
    let row = known.get(rho);
    if (!row) {
      if (known.size > 2000) known.clear();
      known.set(rho, row = heightsAt(rho));
    }
    return row;
  });
}

function judged(grid: RadialGrid, raw: Matrix, tester: Tester): Region {
  const removal = new Removal(grid, grid.q);
  const glass = removal.remove(raw, raw), light = slanted(grid.q, glass, tester);
  const wavefront = removal.remove(light, light);
  return {
    grid,
    wavefront,
    conic: conicRow(grid, wavefront, tester),
    focus: removal.plane(raw)[1] as Float64Array,
  };
}

function judgedAt(
  q: Float64Array,
  rows: Matrix,
  grid: RadialGrid,
  raw: Matrix,
  tester: Tester,
): Float64Array[] {
  const onGrid = new Removal(grid, grid.q), here = new Removal(grid, q);
  const light = slanted(grid.q, onGrid.remove(raw, raw), tester);
  return here.remove(slanted(q, here.remove(rows, raw), tester), light);
}

/** Readings of all columns through one window, over nmPerMm: minus the mean of dh/dq. */
function seenThrough(zone: Opening, tester: Tester): Float64Array {
  const { half, openings } = tester, a = zone.inner / half, b = zone.outer / half;
  const q = (effectiveRadius(zone, openings) / half) ** 2;
  const low = heightsAt(a), high = heightsAt(b);
  if (openings === "bands") {
    const factor = -1 / ((b * b - a * a) * lampFactor(q, tester));
    return high.map((h, i) => factor * (h - (low[i] as number)));
  }
  const factor = -1.5 / ((b ** 3 - a ** 3) * lampFactor(q, tester));
  const sum = new Float64Array(COLUMNS), rule = gaussLegendre(32);
  addScaled(sum, high, b);
  addScaled(sum, low, -a);
  rule.nodes.forEach((x, i) => {
    addScaled(sum, heightsAt(a + ((b - a) * (x + 1)) / 2), (-(rule.weights[i] ?? 0) * (b - a)) / 2);
  });
  return scaled(sum, factor);
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

  constructor(grid: RadialGrid, q: Float64Array) {
    const plane = matrix(grid.q.length, 2, (i, j) => j === 0 ? 1 : grid.q[i] ?? 0);
    this.#plane = matrix(q.length, 2, (i, j) => j === 0 ? 1 : q[i] ?? 0);
    this.#weighted = transpose(plane.map((row, i) => scaled(row, grid.weights[i] ?? 0)));
    this.#gram = product(this.#weighted, plane);
  }

  /** Piston and focus of columns on the grid: two rows. */
  plane(onGrid: Matrix): Float64Array[] {
    return solve(this.#gram, product(this.#weighted, onGrid));
  }

  /** @param onGrid  the same columns on the grid, from which the plane is taken */
  remove(columns: Matrix, onGrid: Matrix): Float64Array[] {
    const [piston, focus] = this.plane(onGrid) as [Float64Array, Float64Array];
    return columns.map((row, i) => {
      const out = row.slice(), [one = 1, q = 0] = this.#plane[i] ?? [];
      addScaled(out, piston, -one);
      addScaled(out, focus, -q);
      return out;
    });
  }
}

/** Light's advance for one unit of twice the glass: 1 / (1 + (r/R)^2). */
function slanted(q: Float64Array, columns: Matrix, { half, radius }: Tester): Float64Array[] {
  return columns.map((row, i) => scaled(row, 1 / (1 + (q[i] ?? 0) * (half / radius) ** 2)));
}

/** Area-weighted least squares of (r/a)^4 beside piston and focus, over what one unit of K makes, a^4 / 4R^3. */
function conicRow(grid: RadialGrid, wavefront: Matrix, { half, radius }: Tester): Float64Array {
  const unit = (half ** 4 * 1e6) / (4 * radius ** 3);
  const inner = grid.q[0] as number, span = 1 - inner;
  const shape = grid.q.map((q, i) => {
    const x = (q - inner) / span;
    return (30 * (grid.weights[i] ?? 0) * (6 * x * x - 6 * x + 1)) / (unit * span * span);
  });
  return times(transpose(wavefront), shape);
}

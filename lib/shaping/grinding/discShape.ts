/** What a worn disc has become: its sagitta, and every departure from the sphere by its name. */
import { linearFit } from "../../numeric/leastSquares.ts";
import { fitZernike, type ZernikeTerm } from "../../optics/zernike.ts";
import { cellArea, ringRadius } from "./polarGrid.ts";
import type { DiscShape } from "./wornDisc.ts";

/** Departures from the sphere. Heights in um; a name's number is its share of the height, rms over the disc. */
export interface Departures {
  /** highest inside or outside alike: rings about the centre */
  readonly sphericalUm: number;
  /** two curves at right angles differ */
  readonly astigmatismUm: number;
  /** lopsided */
  readonly comaUm: number;
  /** three-cornered */
  readonly trefoilUm: number;
  /** everything but the best sphere and its tilt, rms over the disc */
  readonly rmsUm: number;
  /** the same, highest less lowest */
  readonly peakToValleyUm: number;
  /** mean height of each ring above the best sphere, from the centre out */
  readonly zones: readonly { readonly radius: number; readonly heightUm: number }[];
}

/**
 * Sagitta of the sphere that fits best, mm; + is hollow.
 *
 * In this model of shallow curves the sphere is c r^2, and this is c a^2: not edge less centre, for edges are odd.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const grid = { radius: 75, rings: 4, angles: 24 };
 * const shape = { grid, rest: new Float64Array(96), curve: 2e-4, turned: 0 };
 * assert.equal(fittedSagitta(shape).toFixed(3), "1.125");
 * ```
 */
export function fittedSagitta(shape: DiscShape): number {
  const { grid, curve, rest } = shape;
  let weights = 0, squares = 0, heights = 0;
  const each = (use: (weight: number, square: number, height: number) => void): void => {
    for (let at = 0; at < rest.length; at++) {
      const ring = Math.floor(at / grid.angles);
      use(2 * ring + 1, ringRadius(grid, ring) ** 2, rest[at] ?? 0);
    }
  };
  each((w, q, h) => (weights += w, squares += w * q, heights += w * h));
  const meanSquare = squares / weights, meanHeight = heights / weights;
  let above = 0, below = 0;
  each((w, q, h) => {
    above += w * (q - meanSquare) * (h - meanHeight);
    below += w * (q - meanSquare) ** 2;
  });
  return (curve + above / below) * grid.radius ** 2;
}

/** Glass taken off on average, mm, of a disc that began flat. */
export function meanRemoval({ grid, curve, rest }: DiscShape): number {
  let weights = 0, sum = 0;
  for (let at = 0; at < rest.length; at++) {
    const ring = Math.floor(at / grid.angles), weight = 2 * ring + 1;
    weights += weight;
    const square = ringRadius(grid, ring) ** 2;
    sum += weight * ((rest[at] ?? 0) + curve * square);
  }
  return -sum / weights;
}

/** Glass taken off at each node, mm, of a disc that began flat; angle 0 is the disc's own mark. */
export function removalMap(
  { grid, rest, curve, turned }: DiscShape,
): { readonly radius: number; readonly angle: number; readonly removal: number }[] {
  return Array.from(rest, (height, at) => {
    const radius = ringRadius(grid, Math.floor(at / grid.angles));
    const inRoom = 2 * Math.PI * (at % grid.angles) / grid.angles;
    const full = 2 * Math.PI, angle = (((inRoom - turned) % full) + full) % full;
    return { radius, angle, removal: -(height + curve * radius * radius) };
  });
}

/** Piston, tilts, focus, spherical, astigmatism, coma, trefoil, second spherical, quatrefoil. */
const TERMS: readonly ZernikeTerm[] = [
  ...[{ n: 0, m: 0 }, { n: 1, m: -1 }, { n: 1, m: 1 }, { n: 2, m: 0 }, { n: 4, m: 0 }],
  ...[{ n: 2, m: -2 }, { n: 2, m: 2 }, { n: 3, m: -1 }, { n: 3, m: 1 }],
  ...[{ n: 3, m: -3 }, { n: 3, m: 3 }, { n: 6, m: 0 }, { n: 4, m: -4 }, { n: 4, m: 4 }],
];

/**
 * Names the departures.
 *
 * Least squares, each node by its area, on the terms of Zernike: a coefficient is the term's rms.
 *
 * @example a perfect sphere has none
 * ```ts
 * import assert from "node:assert/strict";
 * const grid = { radius: 75, rings: 8, angles: 24 };
 * const shape = { grid, rest: new Float64Array(192), curve: 2e-4, turned: 0 };
 * assert.ok(departures(shape).rmsUm < 1e-9);
 * ```
 */
export function departures(shape: DiscShape): Departures {
  const { grid, rest } = shape;
  const places = Array.from(rest, (_, at) => {
    const ring = Math.floor(at / grid.angles);
    return {
      rho: ringRadius(grid, ring) / grid.radius,
      theta: 2 * Math.PI * (at % grid.angles) / grid.angles,
      area: cellArea(grid, ring),
    };
  });
  const heights = Array.from(rest, (height) => height * 1000);
  const areas = places.map(({ area }) => area);
  const found = fitZernike(places, heights, areas, TERMS);
  const of = (n: number, turns: number): readonly number[] =>
    found.filter((_, i) => TERMS[i]?.n === n && Math.abs(TERMS[i]?.m ?? 0) === turns);
  const sphere = linearFit(
    places.map(({ rho, theta }) => [1, rho * Math.cos(theta), rho * Math.sin(theta), rho * rho]),
    heights,
    areas,
  );
  const left = sphere.residuals, whole = areas.reduce((sum, area) => sum + area, 0);
  const square = left.reduce((sum, v, i) => sum + (areas[i] ?? 0) * v * v, 0);
  return {
    sphericalUm: of(4, 0)[0] ?? 0,
    astigmatismUm: Math.hypot(...of(2, 2)),
    comaUm: Math.hypot(...of(3, 1)),
    trefoilUm: Math.hypot(...of(3, 3)),
    rmsUm: Math.sqrt(square / whole),
    peakToValleyUm: Math.max(...left) - Math.min(...left),
    zones: zonesOf(shape, left),
  };
}

function zonesOf({ grid }: DiscShape, left: readonly number[]): Departures["zones"] {
  return Array.from({ length: grid.rings }, (_, ring) => {
    const row = left.slice(ring * grid.angles, (ring + 1) * grid.angles);
    const heightUm = row.reduce((sum, v) => sum + v, 0) / grid.angles;
    return { radius: ringRadius(grid, ring), heightUm };
  });
}

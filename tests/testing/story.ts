/** Zone tables of the demonstration mirror: openings 0 30 45 57 67 74 mm, 150 mm f/8, bevel 1 mm. Invented. */
import type { ZoneTest } from "../../lib/testing/zones/zoneFigure.ts";

const EDGES = [0, 30, 45, 57, 67, 74];
export const JUNE = [
  [12.34, 12.34, 12.09, 12.17, 12.29],
  [12.35, 12.29, 12.29, 12.19, 12.27],
  [12.29, 12.2, 12.18, 12.2, 12.22],
];
export const SPELL_1 = [
  [11.96, 12.01, 11.82, 11.96, 12.11],
  [11.98, 11.96, 12.02, 11.98, 12.09],
  [11.92, 11.87, 11.9, 11.98, 12.03],
];
export const SPELL_2 = [
  [12.21, 12.11, 12.41, 12.52, 12.72],
  [12.1, 12.14, 12.38, 12.51, 12.91],
  [12.12, 12.22, 12.38, 12.52, 12.69],
  [12.09, 12.26, 12.38, 12.6, 12.73],
  [12.11, 12.32, 12.42, 12.53, 12.74],
];

/** Rows of runs as the table the maker typed. */
export function zoneTest(
  runs: readonly (readonly number[])[],
  edges = EDGES,
  more: Partial<ZoneTest> = {},
): ZoneTest {
  const readings = runs.flatMap((row, i) =>
    row.map((reading, z) => ({
      run: `${i + 1}`,
      inner: edges[z] ?? 0,
      outer: edges[z + 1] ?? 0,
      reading,
    }))
  );
  return {
    readings,
    aperture: 150,
    bevel: 1,
    radius: 2396.6,
    source: "moves",
    openings: "bands",
    ...more,
  };
}

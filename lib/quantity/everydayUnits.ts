/** The units that a workshop writes every day, with their exact sizes: read without the library of all units. */

/** What a unit measures. */
export type EverydayKind = "length" | "angle" | "time" | "mass";

/** One unit: what it measures, and how many of the kit's own units it is. */
export interface EverydayUnit {
  readonly kind: EverydayKind;
  readonly size: number;
}

/** The kit's own unit of each kind. */
export const OWN: Readonly<Record<EverydayKind, string>> = {
  length: "mm",
  angle: "rad",
  time: "min",
  mass: "g",
};

const SIZES: Readonly<Record<EverydayKind, Readonly<Record<string, number>>>> = {
  length: {
    ...{ mm: 1, cm: 10, m: 1000, km: 1e6, um: 1e-3, micron: 1e-3, microns: 1e-3, nm: 1e-6 },
    ...{ in: 25.4, inch: 25.4, inches: 25.4, ft: 304.8, foot: 304.8, feet: 304.8 },
    ...{ mil: 0.0254, thou: 0.0254 },
  },
  angle: {
    ...{ rad: 1, mrad: 1e-3 },
    ...{ deg: Math.PI / 180, arcmin: Math.PI / 10_800, arcsec: Math.PI / 648_000 },
  },
  time: {
    ...{ min: 1, minute: 1, minutes: 1, h: 60, hour: 60, hours: 60, day: 1440 },
    ...{ s: 1 / 60, sec: 1 / 60, second: 1 / 60, seconds: 1 / 60 },
  },
  // an ounce is a sixteenth of a pound, a pound 453.59237 g
  mass: { g: 1, kg: 1000, mg: 1e-3, lb: 453.59237, oz: 28.349523125 },
};

const ALL: ReadonlyMap<string, EverydayUnit> = new Map(
  Object.entries(SIZES).flatMap(([kind, sizes]) =>
    Object.entries(sizes).map(([name, size]) =>
      [name, { kind: kind as EverydayKind, size }] as const
    )
  ),
);

/**
 * One of the everyday units; nothing where it is none of them.
 *
 * @param name  as mathjs spells it
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(everydayUnit("in"), { kind: "length", size: 25.4 });
 * assert.equal(everydayUnit("furlong"), undefined);
 * ```
 */
export function everydayUnit(name: string): EverydayUnit | undefined {
  return ALL.get(name);
}

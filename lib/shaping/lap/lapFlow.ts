/** Pitch as a slow liquid: how fast it sinks under the mirror, how long to press it, whether it is too hard or too soft. */
import { type Lap, requireLap } from "./lap.ts";

/** Standard gravity, m/s2. */
const gravity = 9.80665;
/** Pitch grows ten times thinner for so many degrees more. Order of magnitude, from memory */
const tenfoldPerDegrees = 8;

/**
 * Viscosity of pitch at another temperature, Pa s: ten times less for every 8 degrees more.
 *
 * @param at20         at 20 degC, Pa s; usable pitch has 1e7 to 1e9, an order of magnitude from memory
 * @param temperature  degC, -20 to 60
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(pitchViscosity(1e8, 28).toExponential(0), "1e+7");
 * ```
 */
export function pitchViscosity(at20: number, temperature: number): number {
  if (!(at20 > 0 && at20 < Infinity && temperature >= -20 && temperature <= 60)) {
    throw new RangeError(
      `pitchViscosity requires a viscosity above 0 Pa s and -20 to 60 degC, got at20=${at20}, temperature=${temperature}`,
    );
  }
  return at20 * 10 ** ((20 - temperature) / tenfoldPerDegrees);
}

/** What presses on the lap. */
export interface Press {
  /** mirror and weights on it, kg */
  readonly loadKg: number;
  /** of the pitch as it is now, Pa s; see `pitchViscosity` */
  readonly viscosityPaS: number;
}

/** How the facets give way. */
export interface Sinking {
  readonly facets: number;
  readonly newtonPerFacet: number;
  readonly umPerMinute: number;
}

/**
 * How fast the facets sink under a still load: each is a drop squeezed between two plates.
 *
 *     dh/dt = 2 F h^3 / (3 pi eta b^4),  b the radius of a round facet of the same area
 *
 * @throws {RangeError} outside `requireLap`, or where load or viscosity is not above 0
 * @see Stefan's squeezed film (from memory)
 * @example a soda-lime disc with two kilograms on it, 20 degC
 * ```ts
 * import assert from "node:assert/strict";
 * import { usualLap } from "./lap.ts";
 * const { umPerMinute } = lapSinking(usualLap(150), { loadKg: 3.25, viscosityPaS: 1e8 });
 * assert.equal(umPerMinute.toFixed(2), "3.04");
 * ```
 */
export function lapSinking(lap: Lap, { loadKg, viscosityPaS }: Press): Sinking {
  const { diameter, thickness, spacing, channel } = requireLap(lap);
  if (!(loadKg > 0 && viscosityPaS > 0 && loadKg < Infinity && viscosityPaS < Infinity)) {
    throw new RangeError(
      `lapSinking requires load and viscosity above 0, got loadKg=${loadKg}, viscosityPaS=${viscosityPaS}`,
    );
  }
  const facets = Math.PI * (diameter / 2) ** 2 / spacing ** 2;
  const newtonPerFacet = loadKg * gravity / facets;
  const b = (spacing - channel) / Math.sqrt(Math.PI) / 1000, h = thickness / 1000;
  const metrePerSecond = 2 * newtonPerFacet * h ** 3 / (3 * Math.PI * viscosityPaS * b ** 4);
  return { facets, newtonPerFacet, umPerMinute: metrePerSecond * 60e6 };
}

/** How long to press cold, min. */
export interface Pressing {
  readonly minutes: number;
  /** with pitch three times thinner or thicker than thought: nobody knows it better without a sink rate */
  readonly least: number;
  readonly most: number;
}

/**
 * How long to press cold until a misfit has flowed away.
 *
 * @param misfitUm     between lap and mirror, um, 0 or more
 * @param umPerMinute  from `lapSinking`, or measured
 * @param measuredRate whether the rate was measured; then the range is a third either way
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { minutes, least, most } = coldPressing(15, 3);
 * assert.deepEqual([minutes, least.toFixed(1), most], [5, "1.7", 15]);
 * ```
 */
export function coldPressing(
  misfitUm: number,
  umPerMinute: number,
  measuredRate = false,
): Pressing {
  if (!(misfitUm >= 0 && misfitUm < Infinity && umPerMinute > 0)) {
    throw new RangeError(
      `coldPressing requires a misfit of 0 or more and a rate above 0, got misfitUm=${misfitUm}, umPerMinute=${umPerMinute}`,
    );
  }
  const minutes = misfitUm / umPerMinute, doubt = measuredRate ? 4 / 3 : 3;
  return { minutes, least: minutes / doubt, most: minutes * doubt };
}

/** What a trial of the pitch says. */
export interface Hardness {
  readonly is: "too soft" | "usable" | "too hard";
  readonly do: string;
}

/** Thumbnail pressed on cold pitch; seconds until it leaves a mark. COMMON PRACTICE */
const thumbnailSeconds = { softest: 2, hardest: 30 } as const;

/**
 * Hardness by the thumbnail at the temperature of the room you will polish in.
 *
 * @param seconds  until a mark shows; Infinity where none does
 * @throws {RangeError} below 0 or not a number
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(byThumbnail(8).is, "usable");
 * assert.equal(byThumbnail(Infinity).is, "too hard");
 * ```
 */
export function byThumbnail(seconds: number): Hardness {
  if (!(seconds >= 0)) {
    throw new RangeError(`byThumbnail requires seconds of 0 or more, got seconds=${seconds}`);
  }
  if (seconds < thumbnailSeconds.softest) return { is: "too soft", do: says["too soft"] };
  return seconds > thumbnailSeconds.hardest
    ? { is: "too hard", do: says["too hard"] }
    : { is: "usable", do: says.usable };
}

const says: Readonly<Record<Hardness["is"], string>> = {
  "too soft":
    "Temper it harder: a trained adult melts in lumps of a harder bought pitch, a tenth at a time, cools a coin of it in water of the room, away from the pan, and you try that cold coin.",
  usable: "Pour with it, and try again on the day you polish: pitch follows the room.",
  "too hard":
    "Temper it softer: a trained adult melts in lumps of a softer bought pitch, a tenth at a time, cools a coin of it in water of the room, away from the pan, and you try that cold coin. Nothing else goes into hot pitch.",
};

/** Live: warm air rising through the test, the glass it pretends, and how long to wait for it. */
import { cooling, STILL_AIR } from "../../telescope/cooling.ts";
import {
  type AirEffect,
  bandShift,
  minutesToCalm,
  readingShift,
  warmAir,
} from "../../testing/star/air.ts";
import { ronchiFrame } from "../../testing/bands/ronchiFrame.ts";
import type { FaceError } from "../../testing/bands/ronchi.ts";
import type { RonchiStill } from "../../testing/bands/ronchiScreen.ts";
import { fixed } from "../scale.ts";
import { type Html, safe } from "../html.ts";
import type { Point } from "../pen.ts";
import { bandPixels, faceWidth, half, overGlass, radius } from "./benchMirror.ts";
import { type Control, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import type { Paint } from "./pixels.ts";

const linesPerMm = 4, offset = -5, zone = 30, pixels = 192;
/** The course's noise of one knife reading, mm. */
const noise = 0.06;
/** 25 mm of soda-lime glass, both faces in still air, min. */
const timeConstant = cooling(
  { thickness: 25, densityKgPerM3: 2500, heatJPerKgK: 840, conductivityWPerMK: 1 },
  STILL_AIR,
).timeConstant;

/** Warm air in the test as it is after the wait. */
export interface Plume {
  /** warmer than the room now, K */
  readonly excess: number;
  readonly effect: AirEffect;
  /** how far a knife reading of the zone at 30 mm is moved, mm */
  readonly reading: number;
  /** share of the distance between two bands */
  readonly bands: number;
  /** until the reading is moved by less than its noise, min */
  readonly wait: number;
}

/**
 * Air over glass that was warm and cools.
 *
 * @param values  excess K at first; minutes waited; length along the light and width (standard deviation) in mm
 * @example the notebook's degree over a finger's width
 * ```ts
 * import assert from "node:assert/strict";
 * const { reading, bands, wait } = plumeNow({ excess: 1, minutes: 0, length: 10, width: 5, place: 0 });
 * assert.deepEqual([reading.toFixed(2), (100 * bands).toFixed(0), wait.toFixed(0)], ["0.22", "2", "115"]);
 * ```
 */
export function plumeNow(values: Values): Plume {
  const excess = valueOf(values, "excess") * Math.exp(-valueOf(values, "minutes") / timeConstant);
  const air = { excess, length: valueOf(values, "length"), sigma: valueOf(values, "width") };
  const effect = warmAir(air, radius), reading = readingShift(effect, zone, radius, "same grating");
  const wait = reading === 0 ? 0 : minutesToCalm(excess, (excess * noise) / reading, timeConstant);
  return { excess, effect, reading, bands: bandShift(effect, linesPerMm), wait };
}

const plume = once(plumeNow);

/** Glass that would do the same, nm, at a place of the face: a column that wavers as it rises. */
function pretended(values: Values): FaceError {
  const { effect } = plume(values), place = valueOf(values, "place");
  const width = valueOf(values, "width");
  return (x, y) => {
    const off = (x - place - 0.6 * width * Math.sin(y / 22)) / width;
    return effect.looksLikeGlass * Math.exp(-off * off / 2);
  };
}

function picture(values: Values, paint: Paint): Html {
  const error = pretended(values), { effect } = plume(values);
  const still: RonchiStill = {
    surface: { radius, conic: 0 },
    half,
    setUp: "same grating",
    linesPerMm,
    error,
  };
  const frame = ronchiFrame(still, { width: pixels, height: pixels }, -offset);
  const face = paint(bandPixels(frame, offset), {
    ...{ shown: faceWidth, rim: true },
    finding: `A perfect sphere through a grating, its straight bands ${
      plume(values).bands > 0.1 ? "bent" : "hardly bent"
    } where warm air rises.`,
  });
  const points = Array.from({ length: 76 }, (_, i): Point => {
    const x = 2 * i - half;
    return [x, error(x, 0)];
  });
  return overGlass(
    face,
    [{ kind: "polished", points }],
    `Glass that the warm air pretends, ${
      fixed(effect.looksLikeGlass)
    } nm high; the mirror itself is a perfect sphere.`,
  );
}

function reading(values: Values): Html {
  const { excess, effect, reading, bands, wait } = plume(values);
  return safe`Wait <big><output>${
    wait === 0 ? "no longer" : `${fixed(wait)} min`
  }</output></big> until the knife at the zone of 30 mm is moved by less than its noise, ${
    fixed(noise, 2)
  } mm. Now: <output>${fixed(reading, 2)} mm</output>. The air is ${
    fixed(excess, 1)
  } °C warmer than the room and pretends <output>${
    fixed(effect.looksLikeGlass)
  } nm</output> of glass; bands move by up to ${fixed(100 * bands)} % of their spacing.`;
}

const mm = { step: 1, digits: 0, unit: "mm", spoken: "millimetres" } as const;
const controls: readonly Control[] = [
  {
    ...{ key: "minutes", label: "Minutes waited", min: 0, max: 240, step: 1, digits: 0 },
    ...{ unit: "min", spoken: "minutes" },
  },
  {
    ...{ key: "excess", label: "Warmer than the room, at first", min: 0, max: 8, step: 0.1 },
    ...{ digits: 1, unit: "°C", spoken: "degrees" },
  },
  { key: "length", label: "Warm air along the light", min: 5, max: 100, ...mm },
  { key: "width", label: "Half-width of the plume", min: 4, max: 30, ...mm },
  { key: "place", label: "Place across the mirror", min: -60, max: 60, ...mm },
];

/** The figure: a plume of warm air to place and to wait for. */
export const warmPlume: LiveFigure = {
  name: "warm-plume",
  controls,
  start: { minutes: 0, excess: 4, length: 50, width: 10, place: 30 },
  picture,
  reading,
  value: (values) => plume(values).wait,
  caption:
    safe`<b>The mirror is a perfect sphere</b>: all that bends is air. 4 lines in a mm, 5 mm inside. Over warm glass the air stays warm as long as the glass, here 25 mm in still air; a draught or a hand makes plumes that come and go, and no formula waits for those.`,
};

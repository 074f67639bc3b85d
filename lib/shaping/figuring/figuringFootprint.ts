/** The footprint of a stroke: how much glass it takes in a minute, ring by ring. */
import { type FiguringStroke, ordinaryStroke } from "./figuringStrokes.ts";

/** Glass taken in a minute, against the distance from the centre. */
export interface Footprint {
  readonly stroke: FiguringStroke;
  /** share of the disc's radius, 0 to 1 */
  readonly at: Float64Array;
  /** nm of glass a minute */
  readonly nmPerMinute: Float64Array;
}

const rings = 48;
/** Places along half a stroke: the rim of the upper disc must not draw steps. */
const places = 16;

const known = new Map<string, Float64Array>();

/** Glass by ring, in units of mean pressure times path. */
function shape(stroke: FiguringStroke): Float64Array {
  const { face, lap, travel, offset } = stroke, key = `${face} ${lap} ${travel} ${offset}`;
  const found = known.get(key) ?? work(stroke);
  known.set(key, found);
  return found;
}

/**
 * Pressure times path over all places of the stroke, the mirror turned evenly under it.
 *
 * A fresh lap fits: the load spreads over the overlap as it must to balance, in a straight line from side to side.
 */
function work({ face, lap, travel, offset }: FiguringStroke): Float64Array {
  const taken = new Float64Array(rings), bench = benchOf(face, lap);
  for (let place = 0; place < places; place++) {
    const along = travel * (place + 0.5) / places;
    const across = Math.hypot(along, 2 * offset) / APART, step = Math.floor(across);
    const near = meanPressure(bench, step), far = meanPressure(bench, step + 1);
    const t = across - step, share = travel / places;
    for (let ring = 0; ring < rings; ring++) {
      const inner = near[ring] ?? 0, outer = far[ring] ?? 0;
      taken[ring] = (taken[ring] ?? 0) + share * (inner + t * (outer - inner));
    }
  }
  return taken;
}

/** Pressure depends on nothing but face, lap and distance: it is reckoned once for each hundredth of the radius. */
const APART = 0.01;

interface Bench {
  readonly face: FiguringStroke["face"];
  readonly lap: number;
  readonly pressures: Map<number, Float64Array>;
}

const benches = new Map<string, Bench>();

function benchOf(face: FiguringStroke["face"], lap: number): Bench {
  const key = `${face} ${lap}`, found = benches.get(key);
  if (found !== undefined) return found;
  const bench: Bench = { face, lap, pressures: new Map() };
  benches.set(key, bench);
  return bench;
}

function meanPressure({ face, lap, pressures }: Bench, step: number): Float64Array {
  const found = pressures.get(step);
  if (found !== undefined) return found;
  const fine = ringPressure({ face, lap, apart: step * APART }, 2 * rings);
  // two rings as one, by their areas
  const mean = Float64Array.from(
    { length: rings },
    (_, i) =>
      ((fine[2 * i] ?? 0) * (4 * i + 1) + (fine[2 * i + 1] ?? 0) * (4 * i + 3)) / (8 * i + 4),
  );
  pressures.set(step, mean);
  return mean;
}

/**
 * Footprint of a stroke on a lap that has just been pressed, turned so that no place comes twice.
 *
 * Tied to what the maker knows: the rate at the centre in ordinary polishing, with the same weight and as many strokes a
 * minute. Both go into every stroke alike.
 *
 * @param stroke         see `figuringStrokes`
 * @param rateUmPerHour  of ordinary polishing at the centre, above 0; 1.3 in this course until it has been measured
 * @throws {RangeError} where the stroke tips the upper disc, or the rate is not above 0
 * @see Preston's law and the balance of `ringPressure`; pitch that flows and wears in is left out, so the lap is pressed before
 *   each session and again within a long one
 * @example long strokes to the side take from the middle, a lap on top spares it
 * ```ts
 * import assert from "node:assert/strict";
 * import { figuringStroke, ordinaryStroke } from "./figuringStrokes.ts";
 * assert.equal(strokeFootprint(ordinaryStroke, 1.3).nmPerMinute[0]?.toFixed(1), "21.7");
 * const side = strokeFootprint(figuringStroke("down", 1, 1 / 2, 1 / 4), 1.3).nmPerMinute;
 * assert.ok((side[0] ?? 0) > 10 * (side[47] ?? Infinity));
 * ```
 */
export function strokeFootprint(stroke: FiguringStroke, rateUmPerHour: number): Footprint {
  if (!(rateUmPerHour > 0 && rateUmPerHour < 1000)) {
    throw new RangeError(
      `strokeFootprint requires a rate above 0 um/h, got rateUmPerHour=${rateUmPerHour}`,
    );
  }
  const unit = rateUmPerHour * 1000 / 60 / (shape(ordinaryStroke)[0] ?? 1);
  return {
    stroke,
    at: Float64Array.from({ length: rings }, (_, i) => (i + 0.5) / rings),
    nmPerMinute: shape(stroke).map((v) => v * unit * stroke.press),
  };
}

/** Glass a minute at one distance from the centre, nm: straight between rings, straight on at both ends. */
export function footprintAt({ at, nmPerMinute }: Footprint, share: number): number {
  const across = Math.max(0, share * rings - 0.5), last = at.length - 2;
  const inner = Math.min(Math.floor(across), last), t = across - inner;
  const from = nmPerMinute[inner] ?? 0, to = nmPerMinute[inner + 1] ?? 0;
  return Math.max(0, from + t * (to - from));
}

// How a lap that fits shares its load over a mirror, ring by ring: straight from side to side, and balanced.

/** A lap lying beside the middle of a mirror; lengths as shares of the mirror's radius. */
export interface Resting {
  /** radius of the lap */
  readonly lap: number;
  /** "down": the mirror lies on the lap; "up": the lap on the mirror */
  readonly face: "down" | "up";
  /** from centre to centre */
  readonly apart: number;
}

/** Load and its moment that must be carried, and the half-angle of each ring that the lap covers. */
interface Task {
  readonly load: number;
  readonly moment: number;
  readonly covered: Float64Array;
}

/** Pressure is level + slope x distance along the line of centres, nothing where that is below 0. */
type Field = readonly [level: number, slope: number];

/**
 * Mean pressure round each ring of the mirror, in units of the load over the area of the smaller disc.
 *
 *     p = max(0, a + b x),   sum of p = load,   sum of p (x - upper disc's centre) = 0
 *
 * a and b by Newton's method, halved where it overshoots; round a ring the sums are closed, so that only the radius is cut
 * into steps.
 *
 * @param resting  the upper disc's centre must lie over the lower one
 * @param count    rings of equal width from the middle to the rim
 * @throws {RangeError} where the upper disc would tip
 * @see balance of a rigid disc on a layer that gives in proportion: derived for this kit
 * @example over the centre a full lap presses alike everywhere
 * ```ts
 * import assert from "node:assert/strict";
 * const pressure = ringPressure({ lap: 1, face: "down", apart: 0 }, 12);
 * assert.ok(pressure.every((v) => Math.abs(v - 1) < 1e-9));
 * ```
 */
export function ringPressure(resting: Resting, count: number): Float64Array {
  const { lap, face, apart } = resting;
  if (!(lap > 0 && lap <= 1 && apart >= 0 && apart < (face === "down" ? lap : 1))) {
    throw new RangeError(
      `ringPressure requires a lap above 0 to 1 and the upper disc's centre over the lower one, got lap=${lap}, apart=${apart}`,
    );
  }
  const load = Math.PI * lap ** 2;
  const task = {
    load,
    moment: face === "down" ? 0 : load * apart,
    covered: Float64Array.from({ length: count }, (_, i) => coveredAt((i + 0.5) / count, resting)),
  };
  const field = balanced(task);
  return task.covered.map((limit, i) => {
    const r = (i + 0.5) / count, [from, to] = pressed(field, r, limit);
    return (field[0] * (to - from) + field[1] * r * (Math.sin(to) - Math.sin(from))) / Math.PI;
  });
}

/** Half of the angle at which a ring lies under the lap. */
function coveredAt(r: number, { lap, apart }: Resting): number {
  if (apart === 0) return r < lap ? Math.PI : 0;
  return Math.acos(within((r * r + apart * apart - lap * lap) / (2 * r * apart)));
}

function within(cosine: number): number {
  return Math.max(-1, Math.min(1, cosine));
}

/** From which to which angle a ring is pressed, on one side. */
function pressed([level, slope]: Field, r: number, limit: number): [number, number] {
  if (slope === 0) return level > 0 ? [0, limit] : [0, 0];
  const turn = Math.acos(within(-level / (slope * r)));
  return slope > 0 ? [0, Math.min(limit, turn)] : [Math.min(limit, turn), limit];
}

/** Area that is pressed, its first and its second moment along the line of centres. */
function sums(field: Field, covered: Float64Array): [number, number, number] {
  let area = 0, first = 0, second = 0;
  covered.forEach((limit, i) => {
    const r = (i + 0.5) / covered.length, [from, to] = pressed(field, r, limit);
    const share = 2 * r / covered.length;
    area += share * (to - from);
    first += share * r * (Math.sin(to) - Math.sin(from));
    second += share * r * r * ((to - from) / 2 + (Math.sin(2 * to) - Math.sin(2 * from)) / 4);
  });
  return [area, first, second];
}

/** What a field leaves unbalanced, and the sums it was found by. */
interface Unbalanced {
  readonly field: Field;
  readonly sums: readonly [number, number, number];
  readonly force: number;
  readonly tilt: number;
}

function unbalanced(field: Field, { load, moment, covered }: Task): Unbalanced {
  const all = sums(field, covered), [area, first, second] = all, [level, slope] = field;
  return {
    field,
    sums: all,
    force: level * area + slope * first - load,
    tilt: level * first + slope * second - moment,
  };
}

function balanced(task: Task): Field {
  const area = sums([1, 0], task.covered)[0];
  let now = unbalanced([task.load / area, 0], task);
  const size = ({ force, tilt }: Unbalanced): number => Math.hypot(force, tilt);
  for (let turn = 0; turn < 60 && size(now) > 1e-9 * task.load; turn++) {
    const { field: [level, slope], sums: [s, x, xx], force, tilt } = now, det = s * xx - x * x;
    const step = [(tilt * x - force * xx) / det, (force * x - tilt * s) / det] as const;
    let share = 1, next = unbalanced([level + step[0], slope + step[1]], task);
    while (share > 1e-6 && size(next) >= size(now)) {
      share /= 2;
      next = unbalanced([level + share * step[0], slope + share * step[1]], task);
    }
    now = next;
  }
  return now.field;
}

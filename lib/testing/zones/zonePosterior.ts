/**
 * What the glass may be, given the readings: thousands of wavefronts that agree with them as well as the doubt allows.
 *
 * Unknown are what noise and the bench did to the readings, and what the glass does inside and between the openings,
 * where no reading looks. Every make of surface (`zoneShapes`) is weighed by how well it explains the readings
 * (`zoneEvidence`); makes are drawn by their weights, and from each make surfaces. The value told is the mean of all, its
 * doubt their spread, so that both come from one place. A fault that fits between the openings costs the readings
 * nothing and keeps its share of belief: a wide opening leaves a wide interval.
 */
import { groupBy } from "../../numeric/groupBy.ts";
import {
  addScaled,
  addSquares,
  backward,
  dot,
  forward,
  forwardAll,
  lowerTriangle,
  type Matrix,
  matrix,
  pivotedCholesky,
  scaled,
} from "../../numeric/smallMatrix.ts";
import type { RandomSource } from "../../numeric/random.ts";
import {
  cut,
  type Evidence,
  type Ground,
  type ModelWeights,
  restOf,
  weigh,
  type WeightedModel,
} from "./zoneEvidence.ts";
import type { Loose } from "./zoneDraws.ts";
import type { Region, ZoneModel } from "./zoneModel.ts";
import {
  type Background,
  COLUMNS,
  CORES,
  type Fault,
  FAULT_SIZE_SHARES,
  FAULT_SIZES,
  FAULTS,
  FIRST_CORE,
  FIRST_FAULT,
  FIRST_RIPPLE,
  FIRST_WAVE,
  LINE,
  RIPPLES,
  waveDeviations,
} from "./zoneShapes.ts";

export type { Evidence } from "./zoneEvidence.ts";

/** Waves with less of the unit RMS than this are left out of surfaces. */
const LEAST_WAVE = 1e-4;
/** So many makes are drawn; with ten thousand draws each has a few dozen surfaces. */
export const MAKES = 480;

/** One drawn make: its surfaces and how many of the makes drawn are this one. */
export interface Make extends Loose {
  readonly count: number;
}

export interface Posterior {
  /** the makes drawn, seen on the whole judged mirror */
  readonly makes: readonly Make[];
  /** the same makes on another part of it */
  readonly on: (region: Region) => readonly Make[];
  /** every fault by itself: what the readings leave open of it */
  readonly faults: () => readonly FaultLeft[];
  /** the mean surface, and how it answers to the readings */
  readonly mean: () => MeanSurface;
  /** what other openings would read on the mean surface; rows as `zoneModel` has them in `seen` */
  readonly expected: (seen: Matrix) => Float64Array;
  /** what sums of columns come to, and how their doubts hang together; rows as above */
  readonly sums: (rows: Matrix) => { readonly middle: Float64Array; readonly covariance: Matrix };
}

/** Mean of all surfaces that agree with the readings. */
export interface MeanSurface {
  /** wavefront at the profile's radii, nm, and its standard uncertainty */
  readonly profile: Float64Array;
  readonly profileU: Float64Array;
  /** nm for 1 nm of each zone: at the grid's places, and at the profile's radii */
  readonly gain: Matrix;
  readonly profileGain: Matrix;
  /** focus taken out, nm at the rim */
  readonly focus: number;
}

/**
 * The posterior over surfaces.
 *
 * @param model     from `zoneModel`
 * @param evidence  departures, nm of wavefront, with their covariance
 * @param source    random numbers
 * @param count     makes that are drawn; fewer are enough where only a probability is asked for
 * @throws {RangeError} where the covariance does not fit the model or is not positive
 * @example a mirror whose readings are the ideal ones is one
 * ```ts
 * import assert from "node:assert/strict";
 * import { random } from "../../numeric/random.ts";
 * import { zoneModel } from "./zoneModel.ts";
 * const zones = [[0, 20], [20, 37], [37, 53], [53, 65], [65, 75]].map(([inner = 0, outer = 0]) => ({ inner, outer }));
 * const model = zoneModel(zones, { half: 75, radius: 2400, source: "moves", openings: "bands" });
 * const covariance = zones.map((_, i) => Float64Array.from(zones, (_, j) => i === j ? 400 : 0));
 * const { profile } = zonePosterior(model, { y: new Float64Array(5), covariance }, random(1)).mean();
 * assert.ok(profile.every((height) => Math.abs(height) < 1e-9));
 * ```
 */
export function zonePosterior(
  model: ZoneModel,
  evidence: Evidence,
  source: RandomSource,
  count: number = MAKES,
): Posterior {
  const n = model.seen.length;
  if (evidence.y.length !== n || evidence.covariance.length !== n) {
    throw new RangeError(
      `zonePosterior requires one departure for each of ${n} zones and their covariance, ` +
        `got ${evidence.y.length} and ${evidence.covariance.length}`,
    );
  }
  const { grounds, weightedModels } = weigh(model, evidence);
  const drawn = resample(weightedModels, source, count);
  weightedModels.done();
  const whole = new Settled(wholeOf(model), grounds);
  let faults: readonly FaultLeft[] | undefined;
  return {
    makes: drawn.map(({ weightedModel, count }) => makeOf(whole, weightedModel, count)),
    on: (region) => {
      const there = new Settled(new Places(model, [...region.wavefront, region.conic]), grounds);
      return drawn.map(({ weightedModel, count }) => makeOf(there, weightedModel, count));
    },
    faults: () => faults ??= faultsLeft(model, grounds),
    mean: () => {
      const profile = new Settled(
        new Places(model, [...model.profile, model.whole.focus]),
        grounds,
      );
      const { middle, u } = profile.mean(drawn), places = model.profile.length;
      return {
        profile: middle.subarray(0, places),
        profileU: u.subarray(0, places),
        gain: whole.gain(drawn).slice(0, model.whole.wavefront.length),
        profileGain: profile.gain(drawn).slice(0, places),
        focus: middle[places] ?? 0,
      };
    },
    expected: (seen) => new Settled(new Places(model, seen), grounds).mean(drawn).middle,
    sums: (rows) => {
      const pairs = rows.flatMap((a, i) =>
        rows.slice(0, i).map((b) => a.map((v, k) => v + (b[k] as number)))
      );
      const { middle, u } = new Settled(new Places(model, [...rows, ...pairs]), grounds)
        .mean(drawn);
      // var (a + b) = var a + var b + 2 cov (a, b)
      const variance = u.map((v) => v * v), count = rows.length;
      const covariance = matrix(count, count, (i, j) => {
        if (i === j) return variance[i] as number;
        const [high, low] = i > j ? [i, j] : [j, i], both = count + (high * (high - 1)) / 2 + low;
        const own = (variance[i] as number) + (variance[j] as number);
        return ((variance[both] as number) - own) / 2;
      });
      return { middle: middle.slice(0, count), covariance };
    },
  };
}

/** One fault that might stand on an ordinary surface. */
export interface FaultLeft {
  /** one of the two */
  readonly fault?: Fault;
  readonly ripple?: { readonly period: number };
  /** of the model's columns */
  readonly column: number;
  /** height of the fault on the whole mirror for amount 1, piston and focus removed */
  readonly height: Float64Array;
  /** its amount, nm: normals with their weights, which add up to 1 */
  readonly amounts: readonly {
    readonly weight: number;
    readonly mean: number;
    readonly s: number;
  }[];
}

/** On the ground that most hands leave: what each fault's amount may be, by the readings. */
function faultsLeft(model: ZoneModel, grounds: readonly Ground[]): FaultLeft[] {
  const ground = grounds.filter(({ faults }) => faults.length > 0)[1];
  if (ground === undefined) return [];
  const others = forwardAll(ground.lower, cut(model.seen, FIRST_RIPPLE, COLUMNS));
  const seen = others.map((row, z) =>
    Float64Array.of(...(ground.faults[z] as Float64Array).subarray(0, FAULTS.length), ...row)
  );
  const { squares, pulls } = restOf(ground, seen);
  const left = (
    i: number,
    column: number,
    family: Pick<FaultLeft, "fault" | "ripple">,
  ): FaultLeft => {
    const square = squares[i] as number, pull = pulls[i] as number;
    const raw = FAULT_SIZES.map((size, k) => {
      const precision = square + 1 / (size * size);
      const gain = (pull * pull / precision - Math.log(precision * size * size)) / 2;
      return {
        weight: Math.log(FAULT_SIZE_SHARES[k] ?? 0) + gain,
        mean: pull / precision,
        s: 1 / Math.sqrt(precision),
      };
    });
    const best = Math.max(...raw.map(({ weight }) => weight));
    const all = raw.reduce((sum, { weight }) => sum + Math.exp(weight - best), 0);
    return {
      ...family,
      column,
      height: columnOf(model.whole.wavefront, column),
      amounts: raw.map((one) => ({ ...one, weight: Math.exp(one.weight - best) / all })),
    };
  };
  return [
    ...FAULTS.map((fault, i) => left(i, FIRST_FAULT + i, { fault })),
    ...RIPPLES.map((ripple, i) => left(FAULTS.length + i, FIRST_RIPPLE + i, { ripple })),
    ...CORES.map((fault, i) => left(FAULTS.length + RIPPLES.length + i, FIRST_CORE + i, { fault })),
  ];
}

interface Drawn {
  readonly weightedModel: WeightedModel;
  readonly count: number;
}

/** Makes by their weights, evenly along the sum of all weights (systematic resampling). */
function resample(weightedModels: ModelWeights, source: RandomSource, most: number): Drawn[] {
  const sums = weightedModels.sums(), step = (sums.at(-1) as number) / most, drawn: Drawn[] = [];
  let next = step * source.uniform();
  for (let i = 0; i < sums.length; i++) {
    const reached = sums[i] as number;
    if (next >= reached) continue;
    const count = Math.ceil((reached - next) / step);
    next += count * step;
    drawn.push({ weightedModel: weightedModels.at(i), count });
  }
  return drawn;
}

function makeOf(settled: Settled, weightedModel: WeightedModel, count: number): Make {
  return { ...settled.surfaces(weightedModel), count };
}

/** A background's surfaces of size 1 at some places, before any reading. */
interface Unread {
  readonly variances: Float64Array;
  /** of the place with all places; kept, since a background's sizes ask for the same */
  readonly covariances: (place: number) => Float64Array;
  /** of each zone's reading with all places */
  readonly told: Matrix;
}

/** A ground's surfaces at some places before its line and faults are settled. */
interface AtPlaces {
  /** what each reading, whitened, moves */
  readonly told: Matrix;
  /** the ground's own mean, before line and faults */
  readonly level: Float64Array;
  readonly variances: Float64Array;
  /** what one unit normal each adds; worked out where surfaces are drawn */
  readonly columns: () => readonly Float64Array[];
  /** the line (0, 1), then faults, moved, widened */
  readonly free: (number: number) => Free;
}

/** What is free on a ground: as the whitened readings see it, and its heights less what the ground makes of these. */
interface Free {
  readonly seen: Float64Array;
  readonly shown: Float64Array;
}

/** One make at the places: its mean, and what one unit normal each of line and faults adds. */
interface Settling {
  readonly middle: Float64Array;
  readonly open: readonly Float64Array[];
  /** how line and faults answer to whitened readings, in the same order */
  readonly answers: () => readonly Float64Array[];
  readonly told: AtPlaces;
}

/** The places of some rows, and what a model's backgrounds are there before any reading. */
class Places {
  readonly model: ZoneModel;
  readonly rows: Matrix;
  readonly #columns: Float64Array[] = [];
  readonly #unread = new Map<Background, Unread>();

  constructor(model: ZoneModel, rows: Matrix) {
    this.model = model;
    this.rows = rows;
  }

  column(number: number): Float64Array {
    return this.#columns[number] ??= columnOf(this.rows, number);
  }

  unreadOf(background: Background): Unread {
    const known = this.#unread.get(background);
    if (known) return known;
    const places = this.rows.length, deviations = waveDeviations(background);
    const variances = new Float64Array(places), columns: Float64Array[] = [];
    const told = matrix(this.model.seen.length, places, () => 0);
    deviations.forEach((deviation, j) => {
      if (!(deviation > LEAST_WAVE)) return;
      const column = scaled(this.column(FIRST_WAVE + j), deviation);
      columns.push(column);
      addSquares(variances, column, 1);
      this.model.seen.forEach((row, z) =>
        addScaled(told[z] as Float64Array, column, deviation * (row[FIRST_WAVE + j] as number))
      );
    });
    const rows: Float64Array[] = [];
    const covariances = (place: number): Float64Array => {
      let row = rows[place];
      if (row) return row;
      row = rows[place] = new Float64Array(places);
      for (const column of columns) addScaled(row, column, column[place] as number);
      return row;
    };
    const made = { variances, covariances, told };
    this.#unread.set(background, made);
    return made;
  }
}

const wholes = new WeakMap<ZoneModel, Places>();

/** The whole judged mirror: once for each model, whatever is read through it. */
function wholeOf(model: ZoneModel): Places {
  let found = wholes.get(model);
  if (found === undefined) {
    wholes.set(model, found = new Places(model, [...model.whole.wavefront, model.whole.conic]));
  }
  return found;
}

/** The surfaces that beliefs come to at the places of some rows. */
class Settled {
  readonly #places: Places;
  readonly #model: ZoneModel;
  readonly #grounds: readonly Ground[];
  readonly #rows: Matrix;
  readonly #known = new Map<number, AtPlaces>();
  readonly #settled = new Map<WeightedModel, Settling>();

  constructor(places: Places, grounds: readonly Ground[]) {
    this.#places = places;
    this.#model = places.model;
    this.#grounds = grounds;
    this.#rows = places.rows;
  }

  surfaces(weightedModel: WeightedModel): Loose {
    const { middle, open, told } = this.#settle(weightedModel);
    return { middle, columns: [...told.columns(), ...open] };
  }

  /** Mean and spread over all makes. */
  mean(drawn: readonly Drawn[]): { middle: Float64Array; u: Float64Array } {
    const places = this.#rows.length;
    const middle = new Float64Array(places), square = new Float64Array(places);
    const variances = new Float64Array(places);
    const all = drawn.reduce((sum, { count }) => sum + count, 0);
    for (const { weightedModel, count } of drawn) {
      const { middle: own, open, told } = this.#settle(weightedModel), share = count / all;
      variances.set(told.variances);
      for (const column of open) addSquares(variances, column, 1);
      addScaled(middle, own, share);
      addSpread(square, own, variances, share);
    }
    return {
      middle,
      u: square.map((v, i) => Math.sqrt(Math.max(v - (middle[i] as number) ** 2, 0))),
    };
  }

  /** The mean's answer to each reading; places x zones. */
  gain(drawn: readonly Drawn[]): Float64Array[] {
    const all = drawn.reduce((sum, { count }) => sum + count, 0), n = this.#model.seen.length;
    const total = matrix(this.#rows.length, n, () => 0);
    for (const [number, own] of groupBy(drawn, ({ weightedModel }) => weightedModel.ground)) {
      const { lower } = this.#grounds[number] as Ground, { told } = this.#at(number);
      const groundShare = own.reduce((sum, { count }) => sum + count, 0) / all;
      const sum = matrix(
        this.#rows.length,
        n,
        (i, z) => groundShare * ((told[z] as Float64Array)[i] as number),
      );
      for (const { weightedModel, count } of own) {
        const { open, answers } = this.#settle(weightedModel), share = count / all;
        answers().forEach((answer, f) => {
          const column = open[f] as Float64Array;
          sum.forEach((row, i) => addScaled(row, answer, share * (column[i] as number)));
        });
      }
      // answers are to whitened readings
      sum.forEach((row, i) => addScaled(total[i] as Float64Array, backward(lower, row), 1));
    }
    return total;
  }

  #settle(weightedModel: WeightedModel): Settling {
    const known = this.#settled.get(weightedModel);
    if (known) return known;
    const { ground: number, first, second, size } = weightedModel;
    const { y } = this.#grounds[number] as Ground, told = this.#at(number);
    const faults = second >= 0 ? [first, second] : first >= 0 ? [first] : [];
    const numbers = [
      0,
      1,
      ...faults.flatMap((i) => [0, 1, 2].map((g) => LINE + g * FAULTS.length + i)),
    ];
    const free = numbers.map(told.free), seen = free.map((one) => one.seen);
    // only the lower half is read; a place and a breadth a little different are as likely as the fault is high
    const precision = seen.map((one, i) => {
      const row = new Float64Array(seen.length);
      for (let j = 0; j <= i; j++) row[j] = dot(one, seen[j] as Float64Array);
      if (i >= LINE) row[i] = (row[i] as number) + 1 / (size * size);
      return row;
    });
    const lower = lowerTriangle(precision);
    const open = forwardAll(lower, free.map(({ shown }) => shown));
    const amounts = forward(lower, seen.map((one) => dot(one, y)));
    const middle = told.level.slice();
    open.forEach((column, i) => addScaled(middle, column, amounts[i] as number));
    const settling = { middle, open, answers: () => forwardAll(lower, seen), told };
    this.#settled.set(weightedModel, settling);
    return settling;
  }

  #at(number: number): AtPlaces {
    const known = this.#known.get(number);
    if (known) return known;
    const ground = this.#grounds[number] as Ground, { lower, size, y } = ground;
    const unread = this.#places.unreadOf(ground.background), square = size * size;
    const told = forwardAll(lower, unread.told, square);
    const variances = scaled(unread.variances, square);
    for (const column of told) addSquares(variances, column, -1);
    const covariances = (place: number): Float64Array => {
      const out = scaled(unread.covariances(place), square);
      for (const column of told) addScaled(out, column, -(column[place] as number));
      return out;
    };
    let roots: readonly Float64Array[] | undefined;
    // the last row is the focus or the conic, made of the places
    const columns = (): readonly Float64Array[] =>
      roots ??= pivotedCholesky(variances, covariances, this.#rows.length - 1);
    const level = new Float64Array(this.#rows.length);
    told.forEach((row, z) => addScaled(level, row, y[z] as number));
    const freed: Free[] = [];
    const free = (at: number): Free => freed[at] ??= this.#free(ground, told, at);
    const made = { told, level, variances, columns, free };
    this.#known.set(number, made);
    return made;
  }

  /** Line (0, 1) and faults by number: their whitened readings, and what of their heights these leave to be shown. */
  #free({ line, faults }: Ground, told: Matrix, number: number): Free {
    const fault = number - LINE;
    const seen = number < LINE ? line[number] as Float64Array : columnOf(faults, fault);
    const shown = this.#places.column(number < LINE ? number : FIRST_FAULT + fault).slice();
    told.forEach((row, z) => addScaled(shown, row, -(seen[z] as number)));
    return { seen, shown };
  }
}

/** Adds a share of what heights and their variances come to in square. */
function addSpread(
  square: Float64Array,
  heights: Float64Array,
  variances: Float64Array,
  share: number,
): void {
  for (let i = 0; i < square.length; i++) {
    const h = heights[i] as number;
    square[i] = (square[i] as number) + share * (h * h + (variances[i] as number));
  }
}

function columnOf(rows: Matrix, number: number): Float64Array {
  const out = new Float64Array(rows.length);
  for (let i = 0; i < out.length; i++) out[i] = (rows[i] as Float64Array)[number] as number;
  return out;
}

/** Evidence: how well each background, bare or with one or two faults on it, explains the readings. */
import {
  addScaled,
  addSquares,
  dot,
  forward,
  forwardAll,
  lowerTriangle,
  type Matrix,
  matrix,
  transpose,
} from "../../numeric/smallMatrix.ts";
import type { ZoneModel } from "./zoneModel.ts";
import {
  type Background,
  BACKGROUNDS,
  FAULT_COUNT_SHARES,
  FAULT_SIZE_SHARES,
  FAULT_SIZES,
  FAULTS,
  FIRST_FAULT,
  FIRST_RIPPLE,
  FIRST_WAVE,
  LINE,
  waveDeviations,
} from "./zoneShapes.ts";

/** Readings as the model wants them: nm of wavefront, with their whole covariance. */
export interface Evidence {
  readonly y: Float64Array;
  readonly covariance: Matrix;
}

/** One background of one size, with readings, line and faults in units of what they then vary by. */
export interface Ground {
  readonly background: Background;
  readonly size: number;
  /** of the readings' covariance */
  readonly lower: Matrix;
  readonly y: Float64Array;
  /** columns */
  readonly line: readonly Float64Array[];
  /** zones by columns: faults, moved, widened; empty where no fault stands on this background */
  readonly faults: Matrix;
}

/** A surface's make: which background, which faults (-1: none), of which size. */
export interface WeightedModel {
  readonly ground: number;
  readonly first: number;
  readonly second: number;
  /** nm; 0 without a fault */
  readonly size: number;
}

/** So far below the highest exponent a make is never drawn: shares go down to e^-25, and all such makes come to e^-30. */
const NEVER_DRAWN = 70;

const STEPS = 1024;
const ROOTS = Float64Array.from({ length: STEPS }, (_, i) => 2 ** (-i / STEPS));
const HALVES = Float64Array.from({ length: 128 }, (_, i) => 2 ** -i);

/**
 * e to the power of -x, x from 0 to 87: a kept power of two and four terms of what is left, 1e-14 off at most.
 *
 * In a loop over all makes it takes a quarter of the time of the built-in.
 */
function fall(x: number): number {
  const steps = x * (STEPS / Math.LN2), nearest = (steps + 0.5) | 0;
  const rest = (nearest - steps) * (Math.LN2 / STEPS);
  const series = 1 + rest * (1 + rest * (1 / 2 + rest * (1 / 6 + rest * (1 / 24))));
  return (ROOTS[nearest & (STEPS - 1)] as number) * (HALVES[nearest >>> 10] as number) * series;
}

/**
 * All makes with their weights, some hundred thousand; which make stands at a place follows from their order.
 *
 * Ground after ground: bare, or fault after fault, in all its sizes first alone, then with each one before it.
 */
export class ModelWeights {
  readonly #starts: number[] = [];
  readonly #underFaults: boolean[] = [];
  /** a weight is its share times e to its exponent: so the logarithm of a share is never needed */
  #room: Room;
  #sums: Float64Array | undefined;
  #count = 0;

  constructor() {
    this.#room = spare ?? { shares: new Float64Array(MOST), exponents: new Float64Array(MOST) };
    spare = undefined;
  }

  /** Gives its room, three million bytes, to the next one: weights and sums are read no more; `at` still tells. */
  done(): void {
    spare = this.#room;
    this.#room = NO_ROOM;
  }

  /** Makes added from here on stand on the next ground. */
  open(underFaults: boolean): void {
    this.#starts.push(this.#count);
    this.#underFaults.push(underFaults);
  }

  add(share: number, exponent: number): void {
    const at = this.#count++, { shares, exponents } = this.#room;
    shares[at] = share;
    exponents[at] = exponent;
  }

  /** Weights summed from the first make to each, over a common factor; none is added afterwards. */
  sums(): Float64Array {
    return this.#sums ??= this.#summed();
  }

  /** In the place of the shares, which are not needed again. */
  #summed(): Float64Array {
    const count = this.#count, { shares, exponents } = this.#room;
    let highest = -Infinity, sum = 0;
    for (let i = 0; i < count; i++) {
      if ((exponents[i] as number) > highest) highest = exponents[i] as number;
    }
    for (let i = 0; i < count; i++) {
      const below = highest - (exponents[i] as number);
      if (below < NEVER_DRAWN) sum += (shares[i] as number) * fall(below);
      shares[i] = sum;
    }
    return shares.subarray(0, count);
  }

  at(index: number): WeightedModel {
    const ground = this.#starts.findLastIndex((start) => start <= index);
    if (!this.#underFaults[ground]) return { ground, first: -1, second: -1, size: 0 };
    const place = index - (this.#starts[ground] as number);
    const row = Math.floor(place / FAULT_SIZES.length);
    // fault i begins at row i (i + 1) / 2
    const first = Math.floor((Math.sqrt(8 * row + 1) - 1) / 2);
    return {
      ground,
      first,
      second: row - (first * (first + 1)) / 2 - 1,
      size: FAULT_SIZES[place % FAULT_SIZES.length] as number,
    };
  }
}

/** Shares and exponents of all makes, as they are added. */
interface Room {
  readonly shares: Float64Array;
  readonly exponents: Float64Array;
}

const NO_ROOM: Room = { shares: new Float64Array(0), exponents: new Float64Array(0) };
/** The room of weights that are done with: one test after another needs the same. */
let spare: Room | undefined;

/** How many makes there are. */
const MOST = BACKGROUNDS.reduce((sum, { sizes, underFaults }) => {
  const pairs = (FAULTS.length * (FAULTS.length + 1)) / 2;
  return sum + sizes.length * (underFaults ? pairs * FAULT_SIZES.length : 1);
}, 0);

/**
 * Every make that is thought of, weighed by the readings; the line (focus and conic) is free and integrated out.
 *
 * @param model     from `zoneModel`
 * @param evidence  departures and their covariance
 */
export function weigh(
  model: ZoneModel,
  evidence: Evidence,
): { grounds: Ground[]; weightedModels: ModelWeights } {
  const grounds: Ground[] = [], weightedModels = new ModelWeights();
  const line = cut(model.seen, 0, LINE), faults = cut(model.seen, FIRST_FAULT, FIRST_RIPPLE);
  const overlaps = overlapsOf(model);
  for (const background of BACKGROUNDS) {
    const overlap = overlaps.get(background) as Matrix;
    for (const size of background.sizes) {
      const spread = evidence.covariance.map((row, i) => {
        const out = row.slice();
        addScaled(out, overlap[i] as Float64Array, size * size);
        return out;
      });
      const lower = lowerTriangle(spread);
      const ground: Ground = {
        background,
        size,
        lower,
        y: forward(lower, evidence.y),
        line: transpose(forwardAll(lower, line)),
        faults: background.underFaults ? forwardAll(lower, faults) : [],
      };
      grounds.push(ground);
      weighOne(ground, weightedModels);
    }
  }
  return { grounds, weightedModels };
}

const overlapsKnown = new WeakMap<ZoneModel, ReadonlyMap<Background, Matrix>>();

/** How each background's waves of size 1 are seen by two zones alike; once for each model, whatever is read through it. */
function overlapsOf(model: ZoneModel): ReadonlyMap<Background, Matrix> {
  let found = overlapsKnown.get(model);
  if (found === undefined) {
    const waves = cut(model.seen, FIRST_WAVE, FIRST_FAULT);
    found = new Map(BACKGROUNDS.map((background) => {
      const deviations = waveDeviations(background);
      const seen = waves.map((row) => row.map((v, j) => v * (deviations[j] as number)));
      const overlap = matrix(seen.length, seen.length, (i, j) => dot(seen[i] ?? [], seen[j] ?? []));
      return [background, overlap] as const;
    }));
    overlapsKnown.set(model, found);
  }
  return found;
}

/** Columns of a matrix, without a copy. */
export function cut(rows: Matrix, from: number, to: number): Float64Array[] {
  return rows.map((row) => row.subarray(from, to));
}

/** A ground less its line: what is left of the readings and of some columns to explain one by the other. */
export interface Rest {
  readonly logEvidence: number;
  /** zones by columns */
  readonly left: Matrix;
  /** of each column: its square, and its product with the readings */
  readonly squares: Float64Array;
  readonly pulls: Float64Array;
}

/**
 * Takes the free line out of a ground.
 *
 * @param columns  zones by columns, in the ground's own units
 */
export function restOf(ground: Ground, columns: Matrix): Rest {
  const basis = orthonormal(ground.line), count = columns[0]?.length ?? 0;
  const y = without(ground.y, basis.columns), left = columns.map((row) => row.slice());
  for (const one of basis.columns) {
    const shares = new Float64Array(count);
    left.forEach((row, z) => addScaled(shares, row, one[z] as number));
    left.forEach((row, z) => addScaled(row, shares, -(one[z] as number)));
  }
  const squares = new Float64Array(count), pulls = new Float64Array(count);
  left.forEach((row, z) => {
    addScaled(pulls, row, y[z] as number);
    addSquares(squares, row, 1);
  });
  let logEvidence = -basis.logSize - dot(y, y) / 2;
  ground.lower.forEach((row, i) => logEvidence -= Math.log(row[i] as number));
  return { logEvidence, left, squares, pulls };
}

const PRECISIONS = Float64Array.from(FAULT_SIZES, (size) => 1 / (size * size));

/** Adds the beliefs of one ground. */
function weighOne(ground: Ground, into: ModelWeights): void {
  const { background } = ground, [bare, one, two] = FAULT_COUNT_SHARES;
  const share = background.share / background.sizes.length;
  const rest = restOf(ground, cut(ground.faults, 0, FAULTS.length));
  const { logEvidence, left, squares, pulls } = rest;
  into.open(background.underFaults);
  if (!background.underFaults) return into.add(share * bare, logEvidence);
  // share of a size, times its normal's own scale, the root of the precision
  const scales = PRECISIONS.map((p, k) => share * (FAULT_SIZE_SHARES[k] ?? 0) * Math.sqrt(p));
  const products = new Float64Array(FAULTS.length);
  for (let i = 0; i < FAULTS.length; i++) {
    const square = squares[i] as number, c = pulls[i] as number;
    const own = FAULTS[i]?.share ?? 0;
    for (let k = 0; k < PRECISIONS.length; k++) {
      const a = square + (PRECISIONS[k] as number);
      into.add(((scales[k] as number) * own * one) / Math.sqrt(a), logEvidence + (c * c) / a / 2);
    }
    products.fill(0);
    for (const row of left) addScaled(products, row, row[i] as number);
    for (let j = 0; j < i; j++) {
      const g = products[j] as number, d = pulls[j] as number, other = squares[j] as number;
      const pair = 2 * two * own * (FAULTS[j]?.share ?? 0), twice = 2 * c * d * g;
      for (let k = 0; k < PRECISIONS.length; k++) {
        const precision = PRECISIONS[k] as number;
        const a = square + precision, b = other + precision;
        const inverse = 1 / (a * b - g * g);
        into.add(
          (scales[k] as number) * pair * Math.sqrt(precision * inverse),
          logEvidence + (c * c * b - twice + d * d * a) * inverse / 2,
        );
      }
    }
  }
}

function orthonormal(line: readonly Float64Array[]): { columns: Float64Array[]; logSize: number } {
  const columns: Float64Array[] = [];
  let logSize = 0;
  for (const one of line) {
    const left = without(one, columns), size = Math.sqrt(dot(left, left));
    logSize += Math.log(size);
    columns.push(left.map((v) => v / size));
  }
  return { columns, logSize };
}

function without(v: Float64Array, columns: readonly Float64Array[]): Float64Array {
  const out = v.slice();
  for (const column of columns) addScaled(out, column, -dot(out, column));
  return out;
}

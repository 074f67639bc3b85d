/** Evidence: how well each background, bare or with one or two faults on it, explains the readings. */
import {
  addScaled,
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
  readonly deviations: Float64Array;
  /** of the readings' covariance */
  readonly lower: Matrix;
  /** waves as the windows see them, for unit size: n rows */
  readonly seen: Matrix;
  readonly y: Float64Array;
  readonly line: readonly Float64Array[];
  /** faults, moved, widened, ripples; empty where no fault stands on this background */
  readonly faults: readonly Float64Array[];
}

/** A surface's make: which background, which faults (-1: none), of which size. */
export interface Belief {
  readonly ground: number;
  readonly first: number;
  readonly second: number;
  /** nm; 0 without a fault */
  readonly size: number;
}

/** All makes with their weights, some hundred thousand: columns in place of objects. */
export class Beliefs {
  readonly #ground: Int16Array;
  readonly #first: Int16Array;
  readonly #second: Int16Array;
  readonly #size: Float32Array;
  readonly logWeights: Float64Array;
  #count = 0;

  constructor(most: number) {
    this.#ground = new Int16Array(most);
    this.#first = new Int16Array(most);
    this.#second = new Int16Array(most);
    this.#size = new Float32Array(most);
    this.logWeights = new Float64Array(most);
  }

  get count(): number {
    return this.#count;
  }

  add(ground: number, first: number, second: number, size: number, logWeight: number): void {
    const at = this.#count++;
    this.#ground[at] = ground;
    this.#first[at] = first;
    this.#second[at] = second;
    this.#size[at] = size;
    this.logWeights[at] = logWeight;
  }

  at(index: number): Belief {
    return {
      ground: this.#ground[index] as number,
      first: this.#first[index] as number,
      second: this.#second[index] as number,
      size: this.#size[index] as number,
    };
  }
}

/** How many makes there are. */
function countOf(): number {
  const pairs = (FAULTS.length * (FAULTS.length + 1)) / 2;
  return BACKGROUNDS.reduce(
    (sum, { sizes, underFaults }) =>
      sum + sizes.length * (underFaults ? pairs * FAULT_SIZES.length : 1),
    0,
  );
}

/**
 * Every make that is thought of, weighed by the readings; the line (focus and conic) is free and integrated out.
 *
 * @param model     from `zoneModel`
 * @param evidence  departures and their covariance
 */
export function weigh(
  model: ZoneModel,
  evidence: Evidence,
): { grounds: Ground[]; beliefs: Beliefs } {
  const grounds: Ground[] = [], beliefs = new Beliefs(countOf());
  const columns = transpose(model.seen);
  const cut = (from: number, to: number): Matrix => transpose(columns.slice(from, to));
  const line = cut(0, LINE), waves = cut(FIRST_WAVE, FIRST_FAULT);
  const faults = cut(FIRST_FAULT, columns.length); // and what is asked after beside them
  for (const background of BACKGROUNDS) {
    const deviations = waveDeviations(background);
    const seen = waves.map((row) => row.map((v, j) => v * (deviations[j] as number)));
    const overlap = matrix(seen.length, seen.length, (i, j) => dot(seen[i] ?? [], seen[j] ?? []));
    for (const size of background.sizes) {
      const spread = evidence.covariance.map((row, i) =>
        row.map((v, j) => v + size * size * (overlap[i]?.[j] ?? 0))
      );
      const lower = lowerTriangle(spread);
      const ground: Ground = {
        background,
        size,
        deviations,
        lower,
        seen,
        y: forward(lower, evidence.y),
        line: transpose(forwardAll(lower, line)),
        faults: background.underFaults ? transpose(forwardAll(lower, faults)) : [],
      };
      grounds.push(ground);
      weighOne(ground, grounds.length - 1, beliefs);
    }
  }
  return { grounds, beliefs };
}

/** A ground less its line: what is left of the readings and of the faults to explain one by the other. */
export interface Rest {
  readonly logEvidence: number;
  /** of each fault: its square, and its product with the readings */
  readonly squares: Float64Array;
  readonly pulls: Float64Array;
  readonly faults: readonly Float64Array[];
}

/** Takes the free line out of a ground. */
export function restOf(ground: Ground): Rest {
  const basis = orthonormal(ground.line);
  const y = without(ground.y, basis.columns);
  let logEvidence = -basis.logSize - dot(y, y) / 2;
  ground.lower.forEach((row, i) => logEvidence -= Math.log(row[i] as number));
  const faults = ground.faults.map((fault, i) =>
    i < FAULTS.length || i >= 3 * FAULTS.length ? without(fault, basis.columns) : fault
  );
  return {
    logEvidence,
    faults,
    squares: Float64Array.from(faults, (fault) => dot(fault, fault)),
    pulls: Float64Array.from(faults, (fault) => dot(fault, y)),
  };
}

const PRECISIONS = FAULT_SIZES.map((size) => 1 / (size * size));

/** Adds the beliefs of one ground. */
function weighOne(ground: Ground, number: number, into: Beliefs): void {
  const { background } = ground, { logEvidence, faults, squares, pulls } = restOf(ground);
  const [bare, one, two] = FAULT_COUNT_SHARES;
  const log = logEvidence + Math.log(background.share / background.sizes.length);
  if (!background.underFaults) {
    into.add(number, -1, -1, 0, log + Math.log(bare));
    return;
  }
  const shares = FAULT_SIZE_SHARES.map((share) => log + Math.log(share));
  faults.slice(0, FAULTS.length).forEach((fault, i) => {
    const square = squares[i] as number, c = pulls[i] as number;
    const own = Math.log(FAULTS[i]?.share ?? 0);
    PRECISIONS.forEach((precision, k) => {
      const a = square + precision;
      const gain = (c * c / a - Math.log(a / precision)) / 2;
      into.add(
        number,
        i,
        -1,
        FAULT_SIZES[k] as number,
        (shares[k] as number) + own + Math.log(one) + gain,
      );
    });
    for (let j = 0; j < i; j++) {
      const g = dot(fault, faults[j] as Float64Array), d = pulls[j] as number;
      const pair = own + Math.log(2 * two * (FAULTS[j]?.share ?? 0)), other = squares[j] as number;
      for (let k = 0; k < PRECISIONS.length; k++) {
        const precision = PRECISIONS[k] as number;
        const a = square + precision, b = other + precision, determinant = a * b - g * g;
        const gain = (c * c * b - 2 * c * d * g + d * d * a) / determinant;
        into.add(
          number,
          i,
          j,
          FAULT_SIZES[k] as number,
          (shares[k] as number) + pair +
            (gain - Math.log(determinant / (precision * precision))) / 2,
        );
      }
    }
  });
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

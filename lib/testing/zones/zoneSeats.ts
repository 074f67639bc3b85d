/**
 * Astigmatism from the scale's zeros: focus on different diameters, seats and knives, parted into mirror and stand.
 *
 *     zero = seat + g [ M cos 2(knife - mark - axis) + S cos 2 knife ],   g = 2 k R^2 / rho^2 mm of knife for 1 mm of glass
 *
 * with k 1 for a moving lamp and 2 for a fixed one. A knife on its side, in one seat, shows the sum of both; a seat turned
 * parts them. Turned seats alone show the mirror only as well as its seat along the axis is known.
 */
import { groupBy } from "../../numeric/groupBy.ts";
import { type Matrix, matrix, solve } from "../../numeric/smallMatrix.ts";
import { type Measured, measured } from "../../quantity/measured.ts";
import type { RandomSource } from "../../numeric/random.ts";
import type { Tester } from "./zoneModel.ts";
import type { ZoneGroup } from "./zoneRuns.ts";

/**
 * Of one component, of mirror or stand, beforehand, nm of glass (COMMON PRACTICE); but at least as much as the widest
 * difference of focus on one day would be, if it all were that component's, and several times what a seat could feign, so
 * that it does not make turned seats surer than their seating.
 */
const BEFOREHAND_S = 40;
const SEATS_BEFOREHAND = 6;
/** How far a mirror may stand otherwise along the axis after it was put back, half-width, mm, where it is not written. */
const USUAL_SEATING = 0.1;
/** A component is told when the readings leave less than this share of what was open beforehand. */
const KNOWN = 0.8;
/** Directions nearer than this are one, degrees. */
const SAME_DEG = 12;
/** Seats to be told apart must differ by this, degrees. */
const APART_DEG = 25;

/** glass = cosine (r/rho)^2 cos 2 phi + sine (r/rho)^2 sin 2 phi, phi from the mark; nm */
export interface Astigmatism {
  /** nm of glass */
  readonly cosine: number;
  /** nm of glass */
  readonly sine: number;
  /** of the two, nm^2 */
  readonly covariance: Matrix;
  /** which of the two the readings tell */
  readonly known: readonly [cosine: boolean, sine: boolean];
  /** the stand's component along upright and lying knife, nm, and its standard uncertainty */
  readonly stand?: Measured;
}

/** What the seats and knives of a test amount to. */
export interface Seats {
  /** absent where one direction alone was read */
  readonly astigmatism?: Astigmatism;
  /** directions of the mirror's own frame that were read */
  readonly diameters: number;
  /** whether seats and knives suffice for the whole surface */
  readonly isWhole: boolean;
  /** what the whole surface still wants */
  readonly wanted: readonly {
    readonly angleDeg: number;
    readonly knifeDeg: number;
    readonly runs: number;
  }[];
}

/**
 * Reads seats and knives.
 *
 * @param groups   runs by date, seat, knife, with their zeros
 * @param tester   lamp, radius, judged aperture
 * @param seating  how far the mirror may stand otherwise along the axis after it was put back, half-width, mm; default 0.1,
 * but where no knife was turned as much as the seats differ: then the scale or the seat may have been touched, and nothing
 * in the readings says that it is the glass
 * @example one diameter tells nothing of astigmatism
 * ```ts
 * import assert from "node:assert/strict";
 * const group = { date: "", angleDeg: 0, knifeDeg: 0, runs: 3, offset: 12, u: 0.02 };
 * const tester = { half: 75, radius: 2400, source: "moves", openings: "bands" } as const;
 * const { astigmatism, diameters, isWhole } = readSeats([group], tester, 0.1);
 * assert.deepEqual([astigmatism, diameters, isWhole], [undefined, 1, false]);
 * ```
 */
export function readSeats(
  groups: readonly ZoneGroup[],
  tester: Tester,
  seating: number = seatingOf(groups, tester),
): Seats {
  const directions: number[] = [];
  for (const { angleDeg, knifeDeg } of groups) {
    const at = knifeDeg - angleDeg;
    if (directions.every((other) => between(at, other) > SAME_DEG)) directions.push(at);
  }
  const complete = completeSeats(groups);
  const isWhole = complete.length >= 3;
  const rest = { diameters: directions.length, isWhole, wanted: isWhole ? [] : wantedOf(groups) };
  if (directions.length < 2) return rest;
  const astigmatism = parted(groups, tester, seating);
  return astigmatism === undefined ? rest : { astigmatism, ...rest };
}

function seatingOf(groups: readonly ZoneGroup[], { source }: Tester): number {
  const seats = groupBy(groups, seatOf);
  if ([...seats.values()].some((own) => own.length > 1)) return USUAL_SEATING;
  const apart = [...groupBy(groups, ({ date }) => date).values()].map((own) => {
    const zeros = own.map(({ offset }) => offset);
    return Math.max(...zeros) - Math.min(...zeros);
  });
  return Math.max(USUAL_SEATING, Math.max(...apart) / (source === "moves" ? 1 : 2));
}

/** Smallest angle between two diameters, degrees, 0 to 90. */
function between(a: number, b: number): number {
  const turn = Math.abs(a - b) % 180;
  return Math.min(turn, 180 - turn);
}

const upright = (group: ZoneGroup): boolean => between(group.knifeDeg, 0) <= SAME_DEG;
const lying = (group: ZoneGroup): boolean => between(group.knifeDeg, 90) <= SAME_DEG;

/** Marks of seats, well apart, that were read with both knives. */
function completeSeats(groups: readonly ZoneGroup[]): number[] {
  const found: number[] = [];
  for (const { angleDeg, date } of groups) {
    const own = groups.filter((g) => g.date === date && between(g.angleDeg, angleDeg) <= 1);
    const both = own.some(upright) && own.some(lying);
    if (both && found.every((other) => between(other, angleDeg) >= APART_DEG)) found.push(angleDeg);
  }
  return found;
}

function wantedOf(groups: readonly ZoneGroup[]): Seats["wanted"] {
  const runs = Math.max(2, ...groups.map((g) => Math.min(g.runs, 5)));
  return [0, 45, 90].flatMap((target) => {
    const seat = groups.filter((g) => between(g.angleDeg, target) <= APART_DEG / 2);
    const angleDeg = seat[0]?.angleDeg ?? target;
    const has = [[0, seat.some(upright)], [90, seat.some(lying)]] as const;
    // both knives, but never on one day: the mirror was lifted between them, and the seat is read anew
    const isApart = has.every(([, is]) => is) && completeSeats(seat).length === 0;
    return has.flatMap(([knifeDeg, is]) => is && !isApart ? [] : [{ angleDeg, knifeDeg, runs }]);
  });
}

/** Least squares of the zeros with priors on seats and amounts. */
function parted(
  groups: readonly ZoneGroup[],
  { half, radius, source }: Tester,
  seating: number,
): Astigmatism | undefined {
  const k = source === "moves" ? 1 : 2;
  const perNm = (2 * k * radius * radius * 1e-6) / (half * half);
  const dates = [...new Set(groups.map(({ date }) => date))];
  const seats = [...new Set(groups.map(seatOf))];
  const feigned = (k * seating) / Math.sqrt(3) / perNm;
  const beforehand = dates.reduce(
    (most, day) => {
      const zeros = groups.filter(({ date }) => date === day).map(({ offset }) => offset);
      const low = zeros.reduce((a, b) => Math.min(a, b)),
        high = zeros.reduce((a, b) => Math.max(a, b));
      return Math.max(most, (high - low) / 2 / perNm);
    },
    seats.length > dates.length ? Math.max(BEFOREHAND_S, SEATS_BEFOREHAND * feigned) : BEFOREHAND_S,
  );
  const middle = groups.reduce((sum, { offset }) => sum + offset, 0) / groups.length;
  const size = 4 + dates.length + seats.length;
  const normal = matrix(size, size, (i, j) => i === j ? prior(i) : 0);
  const right = new Float64Array(size);
  function prior(i: number): number {
    if (i < 4) return 1 / (beforehand * perNm) ** 2;
    return i < 4 + dates.length ? 1e-8 : 3 / Math.max(k * seating, 1e-3) ** 2;
  }
  for (const group of groups) {
    const mirror = 2 * (group.knifeDeg - group.angleDeg) * Math.PI / 180;
    const stand = 2 * group.knifeDeg * Math.PI / 180;
    const row = new Float64Array(size);
    row.set([Math.cos(mirror), Math.sin(mirror), Math.cos(stand), Math.sin(stand)]);
    row[4 + dates.indexOf(group.date)] = 1;
    row[4 + dates.length + seats.indexOf(seatOf(group))] = 1;
    const weight = 1 / group.u ** 2;
    for (let i = 0; i < size; i++) {
      const v = weight * (row[i] as number);
      if (v === 0) continue;
      right[i] = (right[i] as number) + v * (group.offset - middle);
      const line = normal[i] as Float64Array;
      for (let j = 0; j < size; j++) line[j] = (line[j] as number) + v * (row[j] as number);
    }
  }
  const inverse = solve(normal, matrix(size, size, (i, j) => i === j ? 1 : 0));
  const values = inverse.map((row) =>
    row.reduce((sum, v, j) => sum + v * (right[j] ?? 0), 0) / perNm
  );
  const at = (i: number, j: number): number => (inverse[i]?.[j] ?? 0) / (perNm * perNm);
  const isKnown = (i: number): boolean => Math.sqrt(at(i, i)) < KNOWN * beforehand;
  const known = [isKnown(0), isKnown(1)] as const;
  if (!known[0] && !known[1]) return undefined;
  const stand = isKnown(2)
    ? { stand: measured(Math.abs(values[2] ?? 0), Math.sqrt(at(2, 2)), "nm") }
    : {};
  return {
    cosine: known[0] ? values[0] ?? 0 : 0,
    sine: known[1] ? values[1] ?? 0 : 0,
    covariance: matrix(2, 2, (i, j) => known[i] && known[j] ? at(i, j) : 0),
    known,
    ...stand,
  };
}

function seatOf({ date, angleDeg }: ZoneGroup): string {
  return `${date}|${angleDeg}`;
}

/** What is told of it. */
export interface ToldAstigmatism {
  /** nm of glass; `u` of the components */
  readonly amplitude: Measured;
  /** the high diameter, degrees counter-clockwise from the mark, 0 to 180 */
  readonly axis: Measured;
  /** of the amplitude, nm; from 0 where a clean mirror is not excluded */
  readonly interval95: readonly [number, number];
  /** the stand's component, nm, and its standard uncertainty */
  readonly stand?: Measured;
}

/**
 * Amplitude and axis with their doubts.
 *
 * @param found  components
 * @param draws  amplitudes, from `drawAmplitudes`
 */
export function tellAstigmatism(found: Astigmatism, draws: Float64Array): ToldAstigmatism {
  const { cosine, sine, covariance, known } = found;
  const a = covariance[0]?.[0] ?? 0, b = covariance[1]?.[1] ?? 0;
  const amplitude = Math.hypot(cosine, sine), count = Number(known[0]) + Number(known[1]);
  const u = Math.sqrt((a + b) / count);
  const sorted = draws.slice().sort();
  const low = isClean(found) ? 0 : sorted[Math.floor(0.025 * sorted.length)] ?? 0;
  const high = sorted[Math.ceil(0.975 * sorted.length) - 1] ?? 0;
  const axis = (Math.atan2(sine, cosine) * 90) / Math.PI;
  // across the line from no astigmatism to this one; with one component known it may lie anywhere within 45 degrees
  const spread = amplitude === 0 ? 52 : Math.min((u / amplitude) * 90 / Math.PI, 52);
  return {
    amplitude: measured(amplitude, u, "nm"),
    axis: measured((axis + 180) % 180, count === 2 ? spread : Math.hypot(spread, 26), "deg"),
    interval95: [Math.min(low, amplitude), Math.max(high, amplitude)],
    ...(found.stand === undefined ? {} : { stand: found.stand }),
  };
}

/** Whether seats and knives agree with a mirror without astigmatism, chi-square at 95 %. */
export function isClean({ cosine, sine, covariance, known }: Astigmatism): boolean {
  const [a = 0, b = 0, c = 0] = [covariance[0]?.[0], covariance[1]?.[1], covariance[0]?.[1]];
  return chiSquare(cosine, sine, a, b, c) < (known[0] && known[1] ? 5.99 : 3.84);
}

/** Of the components against none, where one is not known it does not count. */
function chiSquare(x: number, y: number, a: number, b: number, c: number): number {
  if (a === 0) return b === 0 ? 0 : (y * y) / b;
  if (b === 0) return (x * x) / a;
  return (x * x * b - 2 * x * y * c + y * y * a) / (a * b - c * c);
}

/** Amplitudes that agree with the readings, nm. */
export function drawAmplitudes(
  { cosine, sine, covariance }: Astigmatism,
  source: RandomSource,
  count: number,
): Float64Array {
  const a = Math.sqrt(covariance[0]?.[0] ?? 0), cross = covariance[0]?.[1] ?? 0;
  const down = a === 0 ? 0 : cross / a;
  const rest = Math.sqrt(Math.max((covariance[1]?.[1] ?? 0) - down * down, 0));
  return Float64Array.from({ length: count }, () => {
    const one = source.normal(), two = source.normal();
    return Math.hypot(cosine + a * one, sine + down * one + rest * two);
  });
}

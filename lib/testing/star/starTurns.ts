/** Star pairs with the mirror turned in its cell: what turns with it is the mirror's, what stays is flat's, cell's or eyepiece's. */
import { type Directed, directedOf } from "./starPair.ts";

/** A fault's two components by one pair, along cos and sin of its own angle counter-clockwise from the picture's right. */
export interface TurnedPair {
  /** where the mirror's mark stood in the picture outside focus, rad counter-clockwise from its top */
  readonly mark: number;
  /** waves RMS */
  readonly components: readonly [cos: number, sin: number];
  /** standard uncertainty of each, waves */
  readonly u: number;
}

/** A fault parted: the mirror's own with its direction from the mark, the rest's from the picture's right. */
export interface PartedFault {
  /** turned with the mirror; direction from its mark */
  readonly mirror: Directed;
  /** stayed; direction from the picture's right */
  readonly rest: Directed;
  /** scatter of the pairs over what their doubts allow; absent with two pairs, which any two parts explain */
  readonly birgeRatio?: number;
}

/** How far marks must stand apart, as a share of what tells best, for the two parts to be told. */
const LEAST_APART = 0.05;

/**
 * Parts a fault of m ends round the mirror into what turned with the mirror and what stayed.
 *
 *     z = M e^(i m (mark + pi/2)) + F,    least squares over the pairs
 *
 * @param pairs  two or more, the mark at different places
 * @param m      1 for coma, 2 for astigmatism, 3 for a threefold figure
 * @returns nothing where the mark stood where this fault looks the same
 * @example the mirror's astigmatism turns with its mark, the flat's stays
 * ```ts
 * import assert from "node:assert/strict";
 * const of = (degrees: number, cos: number, sin: number) =>
 *   ({ mark: (degrees * Math.PI) / 180, components: [cos, sin] as const, u: 0.01 });
 * const parted = partTurns([of(0, -0.1 + 0.04, 0), of(90, 0.1 + 0.04, 0)], 2);
 * assert.equal(parted?.mirror.amount.value.toFixed(3), "0.100");
 * assert.equal(parted?.rest.amount.value.toFixed(3), "0.040");
 * assert.equal(partTurns([of(0, 0.1, 0), of(180, 0.1, 0)], 2), undefined);
 * ```
 */
export function partTurns(pairs: readonly TurnedPair[], m: number): PartedFault | undefined {
  let all = 0, re = 0, im = 0, turnedRe = 0, turnedIm = 0, stillRe = 0, stillIm = 0;
  for (const { mark, components: [c, s], u } of pairs) {
    const weight = 1 / (u * u), turn = m * (mark + Math.PI / 2);
    const cos = Math.cos(turn), sin = Math.sin(turn);
    all += weight;
    re += weight * cos;
    im += weight * sin;
    turnedRe += weight * (c * cos + s * sin);
    turnedIm += weight * (s * cos - c * sin);
    stillRe += weight * c;
    stillIm += weight * s;
  }
  const apart = all * all - re * re - im * im;
  if (!(pairs.length > 1 && apart > LEAST_APART * all * all)) return undefined;
  // M = (all T - conj(e) S) / apart,  F = (all S - e T) / apart
  const mirror = [
    (all * turnedRe - re * stillRe - im * stillIm) / apart,
    (all * turnedIm - re * stillIm + im * stillRe) / apart,
  ] as const;
  const rest = [
    (all * stillRe - re * turnedRe + im * turnedIm) / apart,
    (all * stillIm - re * turnedIm - im * turnedRe) / apart,
  ] as const;
  let squares = 0;
  for (const { mark, components: [c, s], u } of pairs) {
    const turn = m * (mark + Math.PI / 2), cos = Math.cos(turn), sin = Math.sin(turn);
    const a = c - (mirror[0] * cos - mirror[1] * sin) - rest[0];
    const b = s - (mirror[0] * sin + mirror[1] * cos) - rest[1];
    squares += (a * a + b * b) / (u * u);
  }
  const dof = 2 * pairs.length - 4, birgeRatio = dof > 0 ? Math.sqrt(squares / dof) : undefined;
  const variance = (all / apart) * Math.max(1, birgeRatio ?? 1) ** 2;
  return {
    mirror: directedOf(mirror, [variance, 0, variance], m),
    rest: directedOf(rest, [variance, 0, variance], m),
    ...(birgeRatio === undefined ? {} : { birgeRatio }),
  };
}

/** Faults seen with the mirror at several turns: what turned with it, and what stayed, as summary.json holds them. */
import type { Directed } from "../testing/star/starPair.ts";
import { type PartedFault, partTurns, type TurnedPair } from "../testing/star/starTurns.ts";
import { toQ } from "./q.ts";
import type { DirectedSummary, PartedSummary } from "./summaryTypes.ts";

/** What is parted, and how often it repeats round the mirror. */
const FAULTS = { astigmatism: 2, threefold: 3, fourfold: 4 } as const;

/** A fault that is parted. */
export type TurnedFault = keyof typeof FAULTS;

/**
 * What turned with the mirror and what stayed.
 *
 * @param seen  each fault's parts at each turn, waves RMS; a fault that was not seen at every turn is left out by giving none
 * @param from  the table
 * @returns nothing where the mirror was not turned
 */
export function partedSummary(
  seen: Readonly<Record<TurnedFault, readonly TurnedPair[]>>,
  from: string,
): PartedSummary | undefined {
  const of = (fault: TurnedFault): PartedFault | undefined => partTurns(seen[fault], FAULTS[fault]);
  const two = of("astigmatism"), three = of("threefold"), four = of("fourfold");
  if (two === undefined && three === undefined && four === undefined) return undefined;
  const part = (which: "mirror" | "rest", start: number): PartedSummary["mirror"] => ({
    ...(two === undefined ? {} : { astigmatism: directedSummary(two[which], 2, start, from) }),
    ...(three === undefined ? {} : { threefold: directedSummary(three[which], 3, start, from) }),
    ...(four === undefined ? {} : { fourfold: directedSummary(four[which], 4, start, from) }),
  });
  return { mirror: part("mirror", 0), rest: part("rest", 90) };
}

/**
 * A directed fault, its axis in degrees.
 *
 * @param turns  how often it repeats in a turn
 * @param start  where axes are counted from, degrees counter-clockwise from the picture's right
 * @param from   the table
 */
export function directedSummary(
  { amount, interval95, direction }: Directed,
  turns: number,
  start: number,
  from: string,
): DirectedSummary {
  const degree = 180 / Math.PI, whole = 360 / turns;
  const axis = (((direction.value * degree - start) % whole) + whole) % whole;
  return {
    amount: toQ(amount, [from]),
    interval95,
    axis: toQ({ ...direction, value: axis, u: direction.u * degree, unit: "deg" }),
  };
}

/** Which faults a star pair proves, which it rules out, which it cannot tell; and the act that parts their causes. */
import type { Directed, StarPairFigure } from "./starPair.ts";

/** What a pair says of one fault, at 95 %. */
export interface StarFault {
  /** its name */
  readonly fault: "spherical" | "astigmatism" | "coma" | "threefold" | "turned edge";
  /** proved, ruled out, or neither */
  readonly says: "there" | "not there" | "cannot tell";
  /** what may cause it, the likelier first */
  readonly causes: readonly string[];
  /** the act that tells most between them */
  readonly act: string;
}

/** From so many waves RMS on a fault matters: two such make a fourteenth together with a third (COMMON PRACTICE after Marechal). */
export const MATTERS: number = 0.04;

/** From so many waves at the rim on a turned edge does. */
export const EDGE_MATTERS: number = 0.12;

/** What each may come from, and what parts that (COMMON PRACTICE). */
const WORDS: Readonly<Record<StarFault["fault"], Pick<StarFault, "causes" | "act">>> = {
  spherical: {
    causes: ["the mirror is not yet as cool as the air", "its figure", "both sides exchanged"],
    act: "wait until the mirror is cool and take another pair: what goes was warmth",
  },
  astigmatism: {
    causes: ["the cell pinches the mirror", "the flat", "the mirror’s figure"],
    act:
      "turn the mirror in its cell by 90° and take another pair with angle_deg: what turns is the mirror’s",
  },
  coma: {
    causes: ["the mirrors are not aligned", "the star was far from the middle of the field"],
    act: "align the mirrors, bring the star to the middle, and take another pair",
  },
  threefold: {
    causes: ["clips press at three places", "the mirror’s figure over three supports"],
    act: "loosen the clips until a sheet of paper slips under each, and take another pair",
  },
  "turned edge": {
    causes: ["the mirror’s rim is turned", "warm air at the rim"],
    act:
      "take another pair with a ring of card that hides a tenth of the mirror’s half width: what goes was the rim",
  },
};

/** One-sided 95 %. */
const SURE = 1.645;

function saidOf(amount: number, u: number, matters: number): StarFault["says"] {
  if (amount - SURE * u > matters) return "there";
  return amount + SURE * u < matters ? "not there" : "cannot tell";
}

/** Of an amount of two components noise makes some where there is none: its square is lessened by theirs. */
function directedSaid({ amount: { value, u } }: Directed): StarFault["says"] {
  return saidOf(Math.sqrt(Math.max(0, value * value - u * u)), u, MATTERS);
}

/**
 * What a pair says of each fault: proved, ruled out, or neither.
 *
 * @param figure  from `reduceStarPair`
 */
export function starFaults(
  { spherical, astigmatism, coma, threefold, edge }: StarPairFigure,
): readonly StarFault[] {
  const told = (fault: StarFault["fault"], says: StarFault["says"]): StarFault => ({
    fault,
    says,
    ...WORDS[fault],
  });
  return [
    told("spherical", saidOf(Math.abs(spherical.value), spherical.u, MATTERS)),
    told("astigmatism", directedSaid(astigmatism)),
    told("coma", directedSaid(coma)),
    told("threefold", directedSaid(threefold)),
    // half of its height is in doubt, whatever it is: that doubt says nothing of whether there is one
    told(
      "turned edge",
      saidOf(1.5 * Math.abs(edge.value), 1.5 * ownU(edge.value, edge.u), EDGE_MATTERS),
    ),
  ];
}

/** An edge's doubt without the share of its own height in it. */
function ownU(value: number, u: number): number {
  return Math.sqrt(Math.max(1e-4, u * u - (value / 2) ** 2));
}

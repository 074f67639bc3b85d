/** What may be wrong with a star, and the path of acts that parts the causes by the fewest of them. */

/** What may spoil a star. */
export type StarCauseName =
  | "turned edge"
  | "mirror astigmatic"
  | "mirror's curve"
  | "rough glass"
  | "pinched cell"
  | "flat"
  | "mirrors not aligned"
  | "warm mirror"
  | "air in the tube"
  | "air above"
  | "your eye";

/** Something that can be done at the eyepiece, whose outcome tells causes apart. */
export type StarActName =
  | "rack"
  | "head"
  | "high star"
  | "fan"
  | "rim ring"
  | "screws"
  | "clips"
  | "flat"
  | "turn mirror"
  | "wait";

/** A cause in words. */
export interface StarCause {
  readonly name: StarCauseName;
  /** as it is told to the reader */
  readonly said: string;
  /** what mends it */
  readonly mend: string;
}

/** An act with what may come of it. */
export interface StarAct {
  readonly name: StarActName;
  /** what to do, as a sentence */
  readonly does: string;
  /** what it takes, min (COMMON PRACTICE) */
  readonly minutes: number;
  /** what may be seen, each by a short key and in words */
  readonly outcomes: readonly StarOutcome[];
}

/** One thing that an act may show. */
export interface StarOutcome {
  readonly key: string;
  readonly said: string;
  /** how often it is seen with each cause, 0 to 1; a cause that is not named shares what is left over */
  readonly with: Readonly<Partial<Record<StarCauseName, number>>>;
}

/** The causes, those of the glass first. */
export const STAR_CAUSES: readonly StarCause[] = [
  {
    name: "turned edge",
    said: "the mirror’s rim is turned",
    mend: "Read the bands at the rim; a ring of card hides it until the glass is on the lap again.",
  },
  {
    name: "mirror astigmatic",
    said: "the glass is astigmatic",
    mend: "Polish on with both discs turned by the rule. Nothing in the cell mends it.",
  },
  {
    name: "mirror's curve",
    said: "the mirror’s curve is off",
    mend: "Read the zones again, three times, with the glass at rest.",
  },
  {
    name: "rough glass",
    said: "the glass is rough",
    mend: "A well-pressed lap, slow strokes, an hour; then look again.",
  },
  {
    name: "pinched cell",
    said: "the cell presses on the glass",
    mend: "Clips so loose that a sheet of paper slips under each.",
  },
  {
    name: "flat",
    said: "the flat bends the light, or is bent by its holder",
    mend: "Loosen the flat’s holder, let it cool; if it stays, ask for another flat.",
  },
  {
    name: "mirrors not aligned",
    said: "the mirrors are not aligned",
    mend: "Align them: the flat first, then the three screws.",
  },
  {
    name: "warm mirror",
    said: "the mirror is warmer than the air",
    mend: "Wait with the cap off, or let a fan blow on its back.",
  },
  {
    name: "air in the tube",
    said: "warm air creeps along the tube",
    mend:
      "Cap off, tube out of the house earlier, a fan at its lower end; hands and heads below it.",
  },
  {
    name: "air above",
    said: "the air above you is not still",
    mend: "Lower power, a higher star, another night.",
  },
  {
    name: "your eye",
    said: "your eye is astigmatic",
    mend: "Glasses on, or a shorter eyepiece: less of the eye is used.",
  },
];

/** The acts. How often each outcome comes with each cause is COMMON PRACTICE; symmetries of the two sides are derived. */
export const STAR_ACTS: readonly StarAct[] = [
  {
    name: "rack",
    does: "At 200× turn the focuser slowly through the focus, and compare the discs on both sides.",
    minutes: 3,
    outcomes: [
      {
        key: "alike",
        said: "round rings, alike on both sides",
        with: { "rough glass": 0.15, "air above": 0.08, "warm mirror": 0.08 },
      },
      {
        key: "oval",
        said: "an oval that lies across on the other side",
        with: { "mirror astigmatic": 0.92, "flat": 0.88, "your eye": 0.9, "pinched cell": 0.12 },
      },
      {
        key: "three corners",
        said: "three corners, the same way round on both sides",
        with: { "pinched cell": 0.8 },
      },
      {
        key: "to one side",
        said: "rings squeezed to one side, the same on both",
        with: { "mirrors not aligned": 0.92, "air in the tube": 0.15 },
      },
      {
        key: "sharp and woolly",
        said: "sharp rings on one side, woolly ones on the other",
        with: { "mirror's curve": 0.85, "warm mirror": 0.3, "turned edge": 0.25 },
      },
      {
        key: "rim",
        said: "one disc hard and bright, the other dim with a hairy rim",
        with: { "turned edge": 0.7, "warm mirror": 0.1, "mirror's curve": 0.1 },
      },
      {
        key: "mottled",
        said: "mottled, with light far around, and it keeps still",
        with: { "rough glass": 0.8 },
      },
      {
        key: "flat side",
        said: "one side drawn out or flat, changing within seconds",
        with: { "air in the tube": 0.75, "warm mirror": 0.1 },
      },
      {
        key: "boils",
        said: "it boils: ripples run across without a rest",
        with: { "air above": 0.88, "warm mirror": 0.4, "air in the tube": 0.06 },
      },
    ],
  },
  {
    name: "head",
    does: "Turn your head by a quarter, and look at the oval again.",
    minutes: 1,
    outcomes: [
      { key: "turns", said: "it turns with your head", with: { "your eye": 0.95 } },
      { key: "stays", said: "it stays, or there was nothing to turn", with: {} },
    ],
  },
  {
    name: "high star",
    does: "Look at another star, high up, after five minutes.",
    minutes: 8,
    outcomes: [
      {
        key: "better",
        said: "it is much better there",
        with: { "air above": 0.8, "air in the tube": 0.15 },
      },
      { key: "same", said: "it is the same there", with: {} },
    ],
  },
  {
    name: "fan",
    does:
      "Let a fan, or a sheet of card waved slowly, move the air behind the mirror for ten minutes.",
    minutes: 10,
    outcomes: [
      {
        key: "better",
        said: "it is much better",
        with: { "air in the tube": 0.8, "warm mirror": 0.6, "air above": 0.1 },
      },
      { key: "same", said: "it is the same", with: {} },
    ],
  },
  {
    name: "rim ring",
    does: "Lay a ring of card on the tube’s mouth that hides the outer 5 mm of the mirror.",
    minutes: 10,
    outcomes: [
      {
        key: "better",
        said: "it is much better",
        with: { "turned edge": 0.85, "warm mirror": 0.15, "pinched cell": 0.1 },
      },
      { key: "same", said: "it is the same", with: {} },
    ],
  },
  {
    name: "screws",
    does: "Align the mirrors: the flat, then the three screws, an eighth of a turn at a time.",
    minutes: 15,
    outcomes: [
      { key: "better", said: "it is much better", with: { "mirrors not aligned": 0.92 } },
      { key: "same", said: "it is the same", with: {} },
    ],
  },
  {
    name: "clips",
    does:
      "Cap on, tube level, two hands: loosen the clips until paper slips under each. Align again.",
    minutes: 25,
    outcomes: [
      { key: "better", said: "it is much better", with: { "pinched cell": 0.88 } },
      { key: "same", said: "it is the same", with: {} },
    ],
  },
  {
    name: "flat",
    does:
      "Loosen the screws that hold the flat, tighten them by two fingers only, and align again.",
    minutes: 25,
    outcomes: [
      { key: "better", said: "it is much better", with: { "flat": 0.75 } },
      { key: "same", said: "it is the same", with: {} },
    ],
  },
  {
    name: "turn mirror",
    does:
      "Cap on, tube level, two people: turn the mirror in its cell by a quarter. Align again, wait, look.",
    minutes: 40,
    outcomes: [
      {
        key: "turns",
        said: "what was wrong has turned with the mirror",
        with: { "mirror astigmatic": 0.93 },
      },
      { key: "stays", said: "it stays where it was, or there was nothing to turn", with: {} },
    ],
  },
  {
    name: "wait",
    does: "Wait with the cap off until the mirror is as cool as the air, and look again.",
    minutes: 60,
    outcomes: [
      {
        key: "better",
        said: "it is much better",
        with: { "warm mirror": 0.9, "air in the tube": 0.7, "air above": 0.25, "flat": 0.1 },
      },
      { key: "same", said: "it is the same", with: {} },
    ],
  },
];

/** How often something is seen that should not be: a hasty look, two things at once. */
const SLIP = 0.03;

/** What was done and seen, such as `{ act: "rack", outcome: "oval" }`. */
export interface StarLook {
  readonly act: StarActName;
  /** key of the outcome */
  readonly outcome: string;
}

/** A cause with how likely it is. */
export interface WeighedCause {
  readonly cause: StarCause;
  /** 0 to 1; all together 1 */
  readonly probability: number;
}

/** An act that might be next. */
export interface WeighedAct {
  readonly act: StarAct;
  /** what it is expected to tell, bits */
  readonly bits: number;
}

/** Where the path has come to. */
export interface StarPath {
  /** the likeliest first */
  readonly causes: readonly WeighedCause[];
  /** acts not yet done, the one that tells most first */
  readonly acts: readonly WeighedAct[];
  /** the cause, once it is surer than `SURE_CAUSE` */
  readonly found?: StarCause;
}

/** From here on a cause is called found. */
export const SURE_CAUSE = 0.9;

/** Acts that tell less are not offered. */
const LEAST_BITS = 0.02;

/** How often an act shows each of its outcomes with a cause; slips counted in. */
export function outcomesWith(act: StarAct, cause: StarCauseName): readonly number[] {
  const named = act.outcomes.map((outcome) => outcome.with[cause] ?? 0);
  const left = Math.max(0, 1 - named.reduce((sum, share) => sum + share, 0));
  // what is left over goes to an outcome that names nobody, "the same", or is shared by all
  const empty = act.outcomes.findIndex((outcome) => Object.keys(outcome.with).length === 0);
  const full = named.map((share, i) =>
    share + (empty < 0 ? left / named.length : i === empty ? left : 0)
  );
  return full.map((share) => (1 - SLIP) * share + SLIP / named.length);
}

function actOf(name: StarActName): StarAct {
  const found = STAR_ACTS.find((act) => act.name === name);
  if (found === undefined) {
    throw new RangeError(
      `starPath requires one of ${STAR_ACTS.map((act) => act.name).join(", ")}, got "${name}"`,
    );
  }
  return found;
}

function outcomeIndex(act: StarAct, key: string): number {
  const found = act.outcomes.findIndex((outcome) => outcome.key === key);
  if (found < 0) {
    const known = act.outcomes.map((outcome) => `"${outcome.key}"`).join(", ");
    throw new RangeError(`the act "${act.name}" shows one of ${known}, got "${key}"`);
  }
  return found;
}

/**
 * What is likely wrong after what was seen, and which act tells most next.
 *
 * Causes are weighed by Bayes' rule; an act is worth the bits by which it is expected to part them. One cause is taken to
 * be at work: where two are, the path finds the stronger first.
 *
 * @param looks  acts done, each with the key of what it showed; an act may be repeated
 * @param prior  how much more or less likely a record makes a cause, 1 where it says nothing; above 0
 * @throws {RangeError} for an act or an outcome that is not in the list, or a prior not above 0
 * @example an oval: the glass, the flat or the eye; the head is turned first of all
 * ```ts
 * import assert from "node:assert/strict";
 * const { causes } = starPath([{ act: "rack", outcome: "oval" }, { act: "head", outcome: "turns" }]);
 * assert.equal(causes[0]?.cause.name, "your eye");
 * ```
 */
export function starPath(
  looks: readonly StarLook[] = [],
  prior: Readonly<Partial<Record<StarCauseName, number>>> = {},
): StarPath {
  const weights = STAR_CAUSES.map(({ name }) => {
    const weight = prior[name] ?? 1;
    if (!(weight > 0 && Number.isFinite(weight))) {
      throw new RangeError(`starPath requires priors above 0, got ${name}=${weight}`);
    }
    return looks.reduce((product, look) => {
      const act = actOf(look.act), at = outcomeIndex(act, look.outcome);
      return product * (outcomesWith(act, name)[at] ?? 0);
    }, weight);
  });
  const sum = weights.reduce((all, weight) => all + weight, 0);
  const chances = weights.map((weight) => weight / sum);
  const causes = STAR_CAUSES.map((cause, i): WeighedCause => ({
    cause,
    probability: chances[i] ?? 0,
  })).sort((a, b) => b.probability - a.probability);
  const done = new Set(looks.map(({ act }) => act));
  const acts = STAR_ACTS.filter(({ name }) => !done.has(name))
    .map((act): WeighedAct => ({ act, bits: bitsOf(act, chances) }))
    .filter(({ bits }) => bits >= LEAST_BITS)
    .sort((a, b) => b.bits - a.bits);
  const first = causes[0];
  return {
    causes,
    acts,
    ...(first !== undefined && first.probability >= SURE_CAUSE ? { found: first.cause } : {}),
  };
}

/** What an act is expected to tell about the causes: their entropy less what is left of it on average. */
function bitsOf(act: StarAct, chances: readonly number[]): number {
  const shares = STAR_CAUSES.map(({ name }) => outcomesWith(act, name));
  let left = 0;
  for (let i = 0; i < act.outcomes.length; i++) {
    const joint = chances.map((chance, c) => chance * (shares[c]?.[i] ?? 0));
    const all = joint.reduce((sum, share) => sum + share, 0);
    left += all * entropy(joint.map((share) => share / all));
  }
  return entropy(chances) - left;
}

function entropy(chances: readonly number[]): number {
  return chances.reduce((sum, p) => sum - (p > 0 ? p * Math.log2(p) : 0), 0);
}

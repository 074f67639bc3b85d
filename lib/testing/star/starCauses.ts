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
  | "again"
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
  /** what may be seen, one or several at once, each by a short key and in words */
  readonly signs: readonly StarSign[];
  /** what is seen where none of them is */
  readonly none: Pick<StarSign, "key" | "said">;
  /** causes that are gone once this is done, so that nothing later shows them */
  readonly mends?: readonly StarCauseName[];
}

/** One thing that an act may show. */
export interface StarSign {
  readonly key: string;
  readonly said: string;
  /** how often it is seen where this cause alone is at work, 0 to 1 */
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

/** What both sides of focus may show. */
const OF_BOTH_SIDES: readonly StarSign[] = [
  {
    key: "oval",
    said: "an oval that lies across on the other side",
    with: {
      "mirror astigmatic": 0.92,
      "flat": 0.88,
      "your eye": 0.9,
      "pinched cell": 0.12,
      "warm mirror": 0.2,
      "air in the tube": 0.1,
    },
  },
  {
    key: "three corners",
    said: "three corners, the same way round on both sides",
    with: { "pinched cell": 0.8, "warm mirror": 0.1 },
  },
  {
    key: "to one side",
    said: "rings squeezed to one side, the same on both",
    with: { "mirrors not aligned": 0.92, "air in the tube": 0.15 },
  },
  {
    key: "sharp and woolly",
    said: "sharp rings on one side, woolly ones on the other",
    with: { "mirror's curve": 0.85, "warm mirror": 0.6, "turned edge": 0.25 },
  },
  {
    key: "rim",
    said: "one disc hard and bright, the other dim with a hairy rim",
    with: { "turned edge": 0.7, "warm mirror": 0.1, "mirror's curve": 0.1 },
  },
  {
    key: "mottled",
    said: "mottled, with light far around, and it keeps still",
    with: { "rough glass": 0.8, "warm mirror": 0.1, "air in the tube": 0.05 },
  },
  {
    key: "flat side",
    said: "always the same side drawn out or flat, changing within seconds",
    with: { "air in the tube": 0.75, "warm mirror": 0.1 },
  },
  {
    key: "wanders",
    said: "slow ripples wander over it, now here, now there",
    with: { "warm mirror": 0.7, "air in the tube": 0.1, "air above": 0.05 },
  },
  {
    key: "boils",
    said: "it boils: ripples run across without a rest",
    with: { "air above": 0.88, "warm mirror": 0.25, "air in the tube": 0.06 },
  },
];

const ALIKE = { key: "alike", said: "round rings, alike on both sides" } as const;

/** The acts. How often each sign comes with each cause is COMMON PRACTICE; symmetries of the two sides are derived. */
export const STAR_ACTS: readonly StarAct[] = [
  {
    name: "rack",
    does: "At 200× turn the focuser slowly through the focus, and compare the discs on both sides.",
    minutes: 3,
    signs: OF_BOTH_SIDES,
    none: ALIKE,
  },
  {
    name: "again",
    does:
      "Let somebody else look at both sides, or look again yourself, before reading what was seen the first time.",
    minutes: 5,
    signs: OF_BOTH_SIDES,
    none: ALIKE,
  },
  {
    name: "head",
    does: "Turn your head by a quarter and back, three times: does the oval go with it each time?",
    minutes: 1,
    signs: [
      { key: "turns", said: "it turns with your head", with: { "your eye": 0.95 } },
    ],
    none: { key: "stays", said: "it stays, or there was nothing to turn" },
  },
  {
    name: "high star",
    does: "Look at another star, high up, after five minutes: does it boil less there?",
    minutes: 8,
    signs: [
      {
        key: "better",
        said: "it boils clearly less there",
        // from 50 degrees off the zenith to 15 the way through the air is 1.5 times shorter, the wave's RMS 0.82: not all eyes see it
        with: { "air above": 0.6, "air in the tube": 0.15 },
      },
    ],
    none: { key: "same", said: "it is the same there, or nothing boiled" },
  },
  {
    name: "fan",
    does:
      "Let a fan, or a sheet of card waved slowly, move the air behind the mirror for ten minutes: does less change within seconds, are both sides more alike?",
    minutes: 10,
    signs: [
      {
        key: "better",
        said: "what changed, or what differed, is at most half of what it was",
        with: { "air in the tube": 0.8, "warm mirror": 0.6, "air above": 0.1 },
      },
    ],
    none: { key: "same", said: "it is as before, or nothing changed and both were alike" },
  },
  {
    name: "rim ring",
    does:
      "Lay a ring of card on the tube’s mouth that hides a tenth of the mirror’s half width, 8 mm of a 150 mm one: are the rims of both discs alike now?",
    minutes: 10,
    signs: [
      {
        key: "better",
        said: "both rims are alike now, or nearly",
        // what grows by rho^4 keeps 0.66 of its height within nine tenths, and is not gone
        with: { "turned edge": 0.85, "mirror's curve": 0.15, "warm mirror": 0.15 },
      },
    ],
    none: { key: "same", said: "they are as before, or were alike" },
  },
  {
    name: "screws",
    does:
      "Align the mirrors: the flat, then the three screws, an eighth of a turn at a time. Do the rings sit in the middle now?",
    minutes: 15,
    signs: [
      {
        key: "better",
        said: "the rings sit in the middle now, or nearly",
        with: { "mirrors not aligned": 0.92 },
      },
    ],
    none: { key: "same", said: "they are as before, or sat in the middle" },
    mends: ["mirrors not aligned"],
  },
  {
    name: "clips",
    does:
      "Cap on, tube level, two hands: loosen the clips until paper slips under each. Align again. Are the three corners gone?",
    minutes: 25,
    signs: [
      {
        key: "better",
        said: "the corners are gone, or half as strong",
        with: { "pinched cell": 0.88 },
      },
    ],
    none: { key: "same", said: "they are as before, or there were none" },
    mends: ["pinched cell", "mirrors not aligned"],
  },
  {
    name: "flat",
    does:
      "Cap on, tube level: loosen the screws that hold the flat, tighten them by two fingers only, and align again. Is the oval gone?",
    minutes: 25,
    signs: [
      {
        key: "better",
        said: "the oval is gone, or half as long",
        with: { "flat": 0.75 },
      },
    ],
    none: { key: "same", said: "it is as before, or there was none" },
    mends: ["mirrors not aligned"],
  },
  {
    name: "turn mirror",
    does:
      "Cap on, tube level, two people: turn the mirror in its cell by a quarter. Align again, wait until it is cool, and look at the oval.",
    minutes: 40,
    signs: [
      {
        key: "turns",
        said: "the oval has turned with the mirror",
        with: { "mirror astigmatic": 0.93 },
      },
    ],
    none: { key: "stays", said: "it stays where it was, or there was nothing to turn" },
    mends: ["mirrors not aligned"],
  },
  {
    name: "wait",
    does:
      "Wait with the cap off until the mirror is as cool as the air, and look again: does less change, are both sides more alike?",
    minutes: 60,
    signs: [
      {
        key: "better",
        said: "what changed, or what differed, is at most half of what it was",
        with: { "warm mirror": 0.9, "air in the tube": 0.7, "air above": 0.1 },
      },
    ],
    none: { key: "same", said: "it is as before, or nothing changed and both were alike" },
  },
];

/** How often a sign shows that no cause of the list makes. */
const BY_CHANCE = 0.01;

/** How often whoever looks misses a sign that shows, or tells one that does not. */
const SLIP = 0.04;

/** Where several causes are at work each hides something of the others: the share of its signs that is still seen. */
const AMID_OTHERS = 0.85;

/** How often each cause is at work in a telescope whose star is not round and sharp: two of eleven (COMMON PRACTICE). */
const AT_WORK = 0.18;

/** Causes at work at once, at most. */
const MOST_AT_ONCE = 3;

/** What was done and seen, such as `{ act: "rack", saw: ["oval", "boils"] }`. */
export interface StarLook {
  readonly act: StarActName;
  /** keys of the signs, or that of none of them alone */
  readonly saw: readonly string[];
}

/** A cause with how likely it is that it is at work. */
export interface WeighedCause {
  readonly cause: StarCause;
  /** 0 to 1; several may be at work, so all together are not 1 */
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
  /** acts not yet done, the one that tells most first; none once all is settled */
  readonly acts: readonly WeighedAct[];
  /** causes that are surer than `SURE_CAUSE`, the surest first */
  readonly found: readonly StarCause[];
  /** whether each cause is found, or as surely not at work */
  readonly settled: boolean;
}

/** What acts that end with "align again" take away unseen: where it may be at work, the screws come before them. */
const ALIGNED_FIRST: StarCauseName = "mirrors not aligned";

/** From here on a cause is called found; from one less it on, not at work. */
export const SURE_CAUSE = 0.9;

/** Acts that tell less are not offered. */
const LEAST_BITS = 0.05;

/** Every set of causes that may be at work, none of them first. */
const SETS: readonly (readonly StarCauseName[])[] = (() => {
  const sets: StarCauseName[][] = [[]];
  for (const { name } of STAR_CAUSES) {
    sets.push(...sets.filter((set) => set.length < MOST_AT_ONCE).map((set) => [...set, name]));
  }
  return sets.sort((a, b) => a.length - b.length);
})();

/**
 * How often an act shows each of its signs where these causes are at work together: each makes it or not by itself.
 *
 * @param signs   of one of `STAR_ACTS`
 * @param causes  all that are at work and not yet mended
 */
export function signsWith(
  signs: readonly StarSign[],
  causes: readonly StarCauseName[],
): readonly number[] {
  const share = causes.length > 1 ? AMID_OTHERS : 1;
  return signs.map((sign) =>
    1 - causes.reduce((not, cause) => not * (1 - share * (sign.with[cause] ?? 0)), 1 - BY_CHANCE)
  );
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

/** Which of an act's signs were told. */
function toldSigns(act: StarAct, saw: readonly string[]): readonly boolean[] {
  const keys = [...act.signs.map(({ key }) => key), act.none.key];
  const unknown = saw.length === 0 ? "nothing" : saw.find((key) => !keys.includes(key));
  if (unknown !== undefined) {
    const known = keys.map((key) => `"${key}"`).join(", ");
    throw new RangeError(`the act "${act.name}" shows one of ${known}, got "${unknown}"`);
  }
  if (saw.length > 1 && saw.includes(act.none.key)) {
    throw new RangeError(
      `"${act.none.key}" of the act "${act.name}" stands alone, got it beside others`,
    );
  }
  return act.signs.map(({ key }) => saw.includes(key));
}

/** Looks at the same signs of the same telescope: they differ by slips alone, for the star shows what it shows. */
interface Shown {
  readonly signs: readonly StarSign[];
  /** causes that were mended before */
  readonly mended: ReadonlySet<StarCauseName>;
  /** how often each sign would have been told so where it shows, and where it does not */
  readonly ifThere: readonly number[];
  readonly ifNot: readonly number[];
}

/** The looks put together where nothing was mended between, and what is mended after all of them. */
function shownIn(
  looks: readonly StarLook[],
): { readonly shown: readonly Shown[]; readonly mended: ReadonlySet<StarCauseName> } {
  const shown: Shown[] = [];
  let mended: ReadonlySet<StarCauseName> = new Set();
  for (const { act: name, saw } of looks) {
    const act = actOf(name), told = toldSigns(act, saw), now = mended;
    const at = shown.findIndex((one) => one.signs === act.signs && one.mended === now);
    const before = shown[at];
    const times = (shares: readonly number[] | undefined, wanted: boolean): readonly number[] =>
      told.map((yes, i) => (shares?.[i] ?? 1) * (yes === wanted ? 1 - SLIP : SLIP));
    const after: Shown = {
      signs: act.signs,
      mended: now,
      ifThere: times(before?.ifThere, true),
      ifNot: times(before?.ifNot, false),
    };
    if (before === undefined) shown.push(after);
    else shown[at] = after;
    if (act.mends !== undefined) mended = new Set([...mended, ...act.mends]);
  }
  return { shown, mended };
}

/** What is left of a set once these acts are done. */
function leftOf(
  set: readonly StarCauseName[],
  mended: ReadonlySet<StarCauseName>,
): readonly StarCauseName[] {
  return mended.size === 0 ? set : set.filter((cause) => !mended.has(cause));
}

/**
 * What is likely wrong after what was seen, and which act tells most next.
 *
 * Every set of up to three causes is weighed by Bayes' rule; an act is worth the bits by which it is expected to part the
 * sets. What an act mended shows in none that comes after it.
 *
 * @param looks  acts done, in their order, each with the keys of what it showed; an act may be repeated
 * @param prior  how much more or less likely a record makes a cause, as odds: 1 where it says nothing; above 0
 * @throws {RangeError} for an act or a sign that is not in the list, or a prior not above 0
 * @example an oval: the glass, the flat or the eye; the head is turned first of all
 * ```ts
 * import assert from "node:assert/strict";
 * const { causes } = starPath([{ act: "rack", saw: ["oval"] }, { act: "head", saw: ["turns"] }]);
 * assert.equal(causes[0]?.cause.name, "your eye");
 * ```
 */
export function starPath(
  looks: readonly StarLook[] = [],
  prior: Readonly<Partial<Record<StarCauseName, number>>> = {},
): StarPath {
  const odds = new Map(STAR_CAUSES.map(({ name }) => {
    const times = prior[name] ?? 1;
    if (!(times > 0 && Number.isFinite(times))) {
      throw new RangeError(`starPath requires priors above 0, got ${name}=${times}`);
    }
    return [name, times * AT_WORK / (1 - AT_WORK)];
  }));
  const { shown, mended } = shownIn(looks);
  const weights = SETS.map((set) =>
    shown.reduce(
      (all, { signs, mended: gone, ifThere, ifNot }) =>
        signsWith(signs, leftOf(set, gone)).reduce(
          (so, share, i) => so * (share * (ifThere[i] ?? 1) + (1 - share) * (ifNot[i] ?? 1)),
          all,
        ),
      set.reduce((all, name) => all * (odds.get(name) ?? 0), 1),
    )
  );
  const sum = weights.reduce((all, weight) => all + weight, 0);
  const chances = weights.map((weight) => weight / sum);
  const causes = STAR_CAUSES.map((cause): WeighedCause => ({
    cause,
    probability: SETS.reduce(
      (all, set, k) => all + (set.includes(cause.name) ? chances[k] ?? 0 : 0),
      0,
    ),
  })).sort((a, b) => b.probability - a.probability);
  const settled = causes.every(({ probability }) =>
    probability >= SURE_CAUSE || probability <= 1 - SURE_CAUSE
  );
  const done = new Set(looks.map(({ act }) => act));
  const unaligned = causes.find(({ cause }) => cause.name === ALIGNED_FIRST)?.probability ?? 0;
  const alignFirst = unaligned > 1 - SURE_CAUSE && !mended.has(ALIGNED_FIRST);
  const acts = settled && looks.length > 0
    ? []
    : STAR_ACTS.filter(({ name, mends = [] }) =>
      !done.has(name) && (name === "screws" || !(alignFirst && mends.includes(ALIGNED_FIRST)))
    )
      .map((act): WeighedAct => ({ act, bits: bitsOf(act, chances, mended, shown) }))
      .filter(({ bits }) => bits >= LEAST_BITS)
      .sort((a, b) => b.bits - a.bits);
  const found = causes.filter(({ probability }) => probability >= SURE_CAUSE)
    .map(({ cause }) => cause);
  return { causes, acts, found, settled };
}

/** What an act is expected to tell about the sets: their entropy less what is left of it on average. */
function bitsOf(
  act: StarAct,
  chances: readonly number[],
  mended: ReadonlySet<StarCauseName>,
  shown: readonly Shown[],
): number {
  const before = shown.find((one) => one.signs === act.signs && one.mended === mended);
  const told = SETS.map((set) =>
    signsWith(act.signs, leftOf(set, mended)).map((share, i) => {
      const there = share * (before?.ifThere[i] ?? 1), not = (1 - share) * (before?.ifNot[i] ?? 1);
      return ((1 - SLIP) * there + SLIP * not) / (there + not);
    })
  );
  let left = 0;
  for (let seen = 0; seen < 1 << act.signs.length; seen++) {
    const joint = chances.map((chance, k) =>
      (told[k] ?? []).reduce(
        (all, share, i) => all * ((seen >> i) & 1 ? share : 1 - share),
        chance,
      )
    );
    const all = joint.reduce((sum, share) => sum + share, 0);
    left += all * entropy(joint.map((share) => share / all));
  }
  return entropy(chances) - left;
}

function entropy(chances: readonly number[]): number {
  return chances.reduce((sum, p) => sum - (p > 0 ? p * Math.log2(p) : 0), 0);
}

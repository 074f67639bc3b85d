/** What a workshop uses up and what it shares, counted from its learners. */
import { classQuantities, fineLadder, roughWork } from "../../shaping/grinding/ladder.ts";
import type { Grade } from "../../shaping/grinding/grade.ts";
import { pitchNeeded, usualLap } from "../../shaping/lap/lap.ts";
import { roughMinutes } from "./hours.ts";

/** Something to have ready. */
export interface Supply {
  /** what it is */
  readonly name: string;
  /** how much, in `unit` */
  readonly amount: number;
  /** "" where it is counted in pieces */
  readonly unit: string;
  /** how it is counted */
  readonly from: string;
}

/** Polishing oxide for one mirror of 150 mm, g; it goes with the area. COMMON PRACTICE */
const oxideGrams = 40;

/** Rounded up to the next so many. */
const up = (value: number, step: number): number => Math.ceil(value / step - 1e-9) * step;

/**
 * What is used up: discs, powder grade by grade, pitch, oxide.
 *
 * @param grades  the ladder, the first being the rough one
 */
export function materials(
  learners: number,
  aperture: number,
  focalLength: number,
  grades: readonly Grade[],
): Supply[] {
  const [first] = grades;
  if (first === undefined) throw new RangeError("materials requires grades, got none");
  const rough = roughWork(roughMinutes(aperture, focalLength), first, aperture);
  const rungs = [
    { name: first.name, grams: rough.grams },
    ...fineLadder(grades, aperture)
      .map(({ grade, grams }) => ({ name: grade.name, grams })),
  ];
  const powder = classQuantities(rungs, learners).map(({ name, grams }): Supply => ({
    name: `abrasive ${name}`,
    amount: grams,
    unit: "g",
    from: "the most charges, doubled for what is spilt",
  }));
  const lap = usualLap(aperture), pitch = pitchNeeded(lap).melt.most;
  const spare = Math.ceil(learners / 10);
  return [
    {
      name: `glass discs of ${aperture} mm`,
      amount: 2 * learners + spare,
      unit: "",
      from: `a mirror and a tool each, ${spare} to spare`,
    },
    ...powder,
    {
      name: "pitch",
      amount: up(learners * pitch, 100),
      unit: "g",
      from: `laps of ${lap.diameter} by ${lap.thickness} mm, with what stays in the pot`,
    },
    {
      name: "polishing oxide",
      amount: up(learners * oxideGrams * (aperture / 150) ** 2, 50),
      unit: "g",
      from: `${oxideGrams} g for 150 mm, by the area`,
    },
    { name: "card for masks, A4", amount: 2 * learners, unit: "sheets", from: "two a mirror" },
    {
      name: "paper for the bench",
      amount: 8 * learners,
      unit: "sheets",
      from: "new after each grade",
    },
  ];
}

/** Something shared: so many learners to one; "adults too" in the reason counts heads, "a day" counts days as well. */
const shared: readonly (readonly [name: string, each: number, least: number, why: string])[] = [
  ["board with three cleats and a wet cloth", 1, 1, "one a bench"],
  ["bucket, dirty and clean", 0.5, 2, "two a bench, brushed between grades"],
  ["sprayer", 1, 1, "one a bench"],
  ["squeeze bottle for wetted powder, marked", 1, 1, "one a bench, filled before anybody comes"],
  ["brush for rims and nails", 0.5, 2, "two a bench: coarse grades, fine grades"],
  ["field card, soft pencil, tally", 1, 1, "one a bench"],
  ["goggles", 1, 3, "one a head, the adults too"],
  ["dust mask, class FFP2 or better, for dry powder", 1, 3, "one a head a day, the adults too"],
  ["apron", 0.5, 4, "two a head, coarse and fine, the adults too"],
  ["nitrile gloves, pair", 1, 3, "one a head a day, the adults too"],
  [
    "box for the mirror at night",
    1,
    1,
    "one a mirror, lying; or a rack with a bar, never loose on edge",
  ],
  ["box for a lap, level, with lid", 1, 1, "one a lap, shut while anybody grinds"],
  ["weight of 2 kg, flat bottles of water", 1, 1, "one a lap"],
  ["net with a mesh of 1 to 2 mm", 2, 1, "pairs share"],
  ["set of feeler leaves with straight-edge", 2, 1, "pairs share"],
  ["bevel stone", 4, 1, "four share"],
  ["loupe, 10 times", 4, 1, "four share, up to F320"],
  ["loupe, 20 times", 4, 1, "four share, from F500 on"],
  ["torch", 2, 1, "pairs share"],
  ["kitchen scales, to 1 g", 6, 1, "six share"],
  ["bathroom scales, for the hands’ weight", 6, 1, "six share"],
  ["calipers", 6, 1, "six share"],
  ["spherometer with flat plate", 6, 1, "six share"],
  ["plate glass, small tiles for each grade’s pits", 12, 1, "a set for the room"],
  ["polarising film with a white screen", 12, 1, "one for the room"],
  ["tester with knife, slit, grating and dial", 6, 1, "one for six: the longest queue"],
  ["mirror stand with strap", 6, 1, "one a tester"],
  [
    "lidded bucket or tub for the bath, cloth at its bottom, lifting strap",
    2,
    1,
    "a place for each two mirrors, filled the evening before",
  ],
  ["thermometer, for room and bath", 4, 2, "pitch has its own"],
  [
    "hotplate with thermostat, pot, lid, thermometer, level, sticks",
    12,
    1,
    "two trained adults at it, never alone",
  ],
  ["tub for warming discs, wide tape", 6, 1, "in another place than the plate"],
  ["heat gloves, pair", 6, 2, "whoever pours, and one beside"],
  ["settling drum, 5 l a learner, with lid", 12, 1, "sludge rests a night in it"],
  ["bucket with soap for all hands and rims", 6, 1, "by the door, before any tap"],
  ["fire blanket, extinguisher", 12, 1, "within reach of the pot; no water near it"],
  ["bowl of cool water for burnt skin", 12, 1, "ready away from the plate, never on burning pitch"],
  ["first-aid box with eye rinse", 12, 1, "on the wall"],
];

/** Tools for so many learners, and what is thrown away for so many days. */
export function tools(learners: number, days: number): Supply[] {
  return shared.map(([name, each, least, why]): Supply => {
    const heads = learners + (why.includes("adults too") ? adultsFor(learners) : 0);
    const times = why.includes(" a day") ? days : 1;
    return { name, amount: Math.max(least, Math.ceil(heads / each) * times), unit: "", from: why };
  });
}

/**
 * Adults needed while nothing is hot: two at the least, since one may be called away; one more for each six beyond twelve.
 * While pitch is hot two trained ones are at it and nowhere else, and the learners have a third.
 */
export function adultsFor(learners: number): number {
  return Math.max(2, Math.ceil(learners / 6));
}

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

/** Something shared: so many learners to one. */
const shared: readonly (readonly [name: string, each: number, least: number, why: string])[] = [
  ["set of feeler leaves with straight-edge", 2, 1, "pairs share"],
  ["bevel stone", 4, 1, "four share"],
  ["loupe, 20 times", 4, 1, "four share"],
  ["spherometer with flat plate", 6, 1, "six share"],
  ["tester with knife, grating and dial", 6, 1, "one for six: the longest queue"],
  ["hotplate with thermostat, pot, lid, thermometer", 6, 1, "an adult at each, never alone"],
  ["bucket", 1, 2, "one a bench, none between grades"],
  ["goggles", 1, 3, "one a head, the adults too"],
  ["dust mask, class FFP2 or better, for dry powder", 1, 3, "one a head, the adults too"],
  ["apron", 1, 3, "one a head, the adults too"],
  ["heat gloves, pair", 6, 2, "whoever pours, and one beside"],
  ["fire blanket, extinguisher", 12, 1, "within reach of the pot; no water near it"],
  ["bowl of cool water for burnt skin", 12, 1, "ready away from the plate, never on burning pitch"],
  ["first-aid box with eye rinse", 12, 1, "on the wall"],
];

/** Tools for so many learners. */
export function tools(learners: number): Supply[] {
  return shared.map(([name, each, least, why]): Supply => ({
    name,
    amount: Math.max(
      least,
      Math.ceil((learners + (why.includes("adults too") ? adultsFor(learners) : 0)) / each),
    ),
    unit: "",
    from: why,
  }));
}

/** Adults needed: two at the least, since one is always at the pitch or the Sun; one more for each six beyond twelve. */
export function adultsFor(learners: number): number {
  return Math.max(2, Math.ceil(learners / 6));
}

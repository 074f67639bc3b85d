/** What more than one diameter shows of the surface, and what the doubt of the zone test is made of. */
import { note } from "../figures/blocks.ts";
import { budgetBars } from "../figures/plots/budgetBars.ts";
import type { Shown } from "../figures/show.ts";
import { surfaceFromAbove } from "../figures/drawings/surfaceFromAbove.ts";
import type { Mirror } from "../knowledge/open.ts";
import { ownOrDemo, type Part, type Whose } from "./whose.ts";
import { type ReducedDay, reducedDays } from "./zoneDays.ts";

/** Half the flat's width on the mirror, mm; absent where no flat is known. */
export function shadowOf({ summary }: Mirror): number | undefined {
  const flat = summary.telescope?.flat_minor_axis?.value;
  return flat === undefined ? undefined : flat / 2;
}

/** The surface from above; nothing where one diameter was read. */
export function fromAbove({ found }: ReducedDay, mirror: Mirror, whose: Whose): readonly Shown[] {
  const { astigmatism, profile, surfacePv, reference } = found, shadow = shadowOf(mirror);
  if (astigmatism === undefined) return [];
  return [
    surfaceFromAbove({
      profile: profile.map(({ radius, surfaceError }) => ({ radius, height: surfaceError })),
      astigmatism,
      pv: surfacePv,
      wanted: reference,
      whose,
      ...(shadow === undefined ? {} : { shadowRadius: shadow }),
    }),
  ];
}

const abovePart: Part = {
  name: "the surface from above",
  noun: "diameter",
  count: (mirror) => {
    const found = reducedDays(mirror).at(-1)?.found;
    return found?.astigmatism === undefined ? 0 : found.diameters;
  },
  show: (mirror, whose) => {
    const last = reducedDays(mirror).at(-1);
    return last === undefined ? [] : fromAbove(last, mirror, whose);
  },
  how:
    "It needs more than one diameter: turn the mirror in its stand, or the knife with its slit on their side, and write angle_deg and knife_deg beside the readings.",
};

/** The latest surface from above, where more than one diameter was read; else how to get there, and the demo's. */
export function yourSurfaceFromAbove(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(abovePart, yours, demo);
}

/** Shares of the doubt of one measurement; what is below half of one per cent is told in words. */
function budgetShown({ found }: ReducedDay): Shown[] {
  const shown = found.budget.filter(({ share }) => share >= 0.005);
  const small = found.budget.filter(({ share }) => share < 0.005).map(({ source }) => source);
  return shown.length === 0 ? [] : [
    budgetBars(shown),
    ...(small.length === 0 ? [] : [note(`Below half of one per cent: ${small.join(", ")}.`)]),
  ];
}

const doubtPart: Part = {
  name: "what the doubt is made of",
  noun: "run",
  count: (mirror) => reducedDays(mirror).at(-1)?.found.runs ?? 0,
  show: (mirror) => reducedDays(mirror).slice(-1).flatMap(budgetShown),
  how: "It needs zone readings: three runs or more, in zones.csv.",
};

/** What the doubt of the latest measurement is made of; the demo's where the reader has no zone readings. */
export function yourDoubt(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(doubtPart, yours, demo);
}

/**
 * What the doubt of one of a mirror's measurements is made of.
 *
 * @param which  0 for the first measurement, -1 for the last
 * @throws {RangeError} where there is no such measurement
 */
export function doubtOn(mirror: Mirror, which: number): readonly Shown[] {
  const day = reducedDays(mirror).at(which);
  if (day === undefined) throw new RangeError(`doubtOn requires a day of readings, got ${which}`);
  return budgetShown(day);
}

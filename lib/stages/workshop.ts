/** The leader's workshop: a plan from four numbers, with the kit's own ladder of grades, as blocks of a page. */
import { facts, note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { type Shown, together } from "../figures/show.ts";
import { planWorkshop, type WorkshopPlan, type WorkshopWish } from "../lessons/workshop/plan.ts";
import type { Supply } from "../lessons/workshop/materials.ts";
import { amountOf } from "../lessons/workshop/sheets.ts";
import { abrasives } from "../record/tables.ts";
import { usualLadder } from "../shaping/grinding/ladder.ts";

/**
 * Plans a workshop with the grades of data/tables.
 *
 * @param wish  learners, aperture, days, hours of a day, focal ratio
 * @throws {RangeError} for an impossible plan, in one sentence
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const plan = workshopPlan({ learners: 12, aperture: 150, days: 5, hoursPerDay: 6.5 });
 * assert.deepEqual([plan.hours.least.toFixed(0), plan.hours.most.toFixed(0)], ["22", "26"]);
 * assert.throws(() => workshopPlan({ learners: 12, aperture: 150, days: 1, hoursPerDay: 3 }), /finish the hollow/);
 * ```
 */
export function workshopPlan(wish: WorkshopWish): WorkshopPlan {
  return planWorkshop(wish, abrasives().filter(({ name }) => usualLadder.includes(name)));
}

function supplyTable(label: string, list: readonly Supply[]): Shown {
  return readingsTable(label, [
    { title: label, text: true },
    { title: "How much" },
    { title: "Counted from", text: true },
  ], list.map((supply): TableRow => ({ cells: [supply.name, amountOf(supply), supply.from] })));
}

/** A plan as the notebook shows it: hours, timetable with measuring points, what is used up and shared, what is left. */
export function workshopShown(plan: WorkshopPlan): Shown {
  const { wish, hours, timetable, left } = plan;
  const rows = timetable.flatMap(({ day, slots }) =>
    slots.map(({ title, minutes, ends, measure }): TableRow => ({
      cells: [day, title, minutes, ends ? measure : "goes on"],
    }))
  );
  return together(
    facts([
      [
        "Mirrors",
        `${wish.learners} of ${wish.aperture} mm, f/${Number(wish.focalRatio.toFixed(1))}`,
      ],
      [
        "Hours of one learner at the bench",
        `${hours.least.toFixed(0)} to ${hours.most.toFixed(0)}`,
      ],
      ["Hours there are", String(Number((wish.days * wish.hoursPerDay).toFixed(1)))],
      ["Adults", String(plan.adults)],
      [
        "Left for another time",
        left.length === 0 ? "nothing" : left.map((one) => one.title).join(", "),
      ],
    ]),
    readingsTable("Timetable", [
      { title: "Day" },
      { title: "Stage", text: true },
      { title: "Time", unit: "min" },
      { title: "Measuring points", text: true },
    ], rows),
    supplyTable("Used up", plan.materials),
    supplyTable("Shared", plan.tools),
    note(plan.notes.join(" ")),
  );
}

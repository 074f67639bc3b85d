/** The stage of the plan: the reader's design, what other sizes would cost, and whether to go on with it. */
import {
  facts,
  note,
  readingsTable,
  type TableRow,
  yours as yoursBlock,
} from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { type Shown, together } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import type { DesignSummary } from "../knowledge/summaryTypes.ts";
import type { Supply } from "../lessons/workshop/materials.ts";
import {
  daysFor,
  planWorkshop,
  type WorkshopPlan,
  type WorkshopWish,
} from "../lessons/workshop/plan.ts";
import { amountOf } from "../lessons/workshop/sheets.ts";
import { capVolume, sagitta } from "../optics/sphere.ts";
import { conicPvWaves } from "../optics/sphereEnough.ts";
import { abrasives, decision } from "../record/tables.ts";
import { usualLadder } from "../shaping/grinding/ladder.ts";

/** The reader's plan, number by number. */
export function yourPlan({ record, summary }: Mirror): Shown {
  const { design } = summary;
  const { settings } = record;
  const mm = (value: number, digits = 0): string => `${value.toFixed(digits)}\u2009mm`;
  return yoursBlock(
    summary.title,
    facts([
      ["Aperture", mm(design.aperture.value)],
      ["Focal length", mm(design.focalLength.value)],
      ["Focal ratio", `f/${Number(design.focalRatio.toFixed(2))}`],
      ["Radius of curvature", mm(design.radius.value)],
      ["Sagitta", mm(design.sagitta.value, 3)],
      ["Glass", `${settings.glass}, ${mm(settings.thickness)} thick`],
      ["Shape", design.sphereIsEnough ? "a sphere is enough" : design.shape],
      [
        "Sphere and paraboloid apart",
        `${design.sphereDeparture.value.toFixed(0)}\u2009nm at the edge`,
      ],
    ]),
  );
}

/** One size a maker may think of, mm. */
export interface Size {
  /** clear width */
  readonly aperture: number;
  /** of the mirror */
  readonly focalLength: number;
}

/**
 * What a size costs: depth, glass to grind away, tube, and the wavefront a sphere would leave.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(whatSizesCost([{ aperture: 150, focalLength: 1200 }]).text, /150 f\/8 \| 1.172 \| 10.4/);
 * ```
 */
export function whatSizesCost(sizes: readonly Size[]): Shown {
  return readingsTable(
    "What a size costs",
    [
      { title: "Mirror", text: true },
      { title: "Sagitta", unit: "mm" },
      { title: "Glass to grind", unit: "cm³" },
      { title: "Tube, about", unit: "mm" },
      { title: "A sphere’s wavefront, P-V", unit: "wave" },
    ],
    sizes.map(({ aperture, focalLength }) => ({
      cells: [
        `${aperture} f/${Number((focalLength / aperture).toFixed(1))}`,
        sagitta(aperture, 2 * focalLength).toFixed(3),
        (capVolume(aperture, 2 * focalLength) / 1000).toFixed(1),
        focalLength.toFixed(0),
        conicPvWaves({ aperture, focalLength }).toFixed(2),
      ],
    })),
  );
}

/** Does the plan suit a first mirror? */
function suits({ aperture, focalRatio }: DesignSummary): "first" | "ask" | "go" {
  const within = (value: number, least: string, most: string): boolean =>
    value >= decision(least) - 1e-9 && value <= decision(most) + 1e-9;
  if (
    aperture.value > decision("choose_again_aperture") ||
    focalRatio < decision("choose_again_focal_ratio") - 1e-9
  ) return "ask";
  return within(aperture.value, "first_aperture_least", "first_aperture_most") &&
      within(focalRatio, "first_focal_ratio_least", "first_focal_ratio_most")
    ? "first"
    : "go";
}

/** What the plan calls for: go on, go on knowing that the sphere must be figured, or choose again. */
export function decideDesign({ summary }: Mirror): Shown {
  const { design } = summary;
  const suited = suits(design);
  const figure = !design.sphereIsEnough;
  const state = suited === "ask" ? "again" : figure ? "figure" : "on";
  const name = `${design.aperture.value} mm f/${Number(design.focalRatio.toFixed(1))}`;
  const says = {
    on: ["go on", `${name}: a sphere is enough. Go on to the discs.`],
    figure: ["go on", `${name}: go on, knowing that you will have to figure it at the end.`],
    again: ["choose again", `${name}: choose a smaller or longer one, or ask the leader.`],
  } as const;
  const [title, what] = says[state];
  return decide({
    title,
    do: what,
    choices: [
      { name: "Go on", when: "when a sphere is enough for the goal.", chosen: state === "on" },
      {
        name: "Go on, and figure",
        when: "when the sphere’s wavefront is over the goal: the last days go into the paraboloid.",
        chosen: state === "figure",
      },
      {
        name: "Choose again",
        when: `faster than f/${decision("choose_again_focal_ratio")} or wider than ${
          decision("choose_again_aperture")
        } mm.`,
        chosen: state === "again",
      },
    ],
    ...(suited === "go"
      ? { after: "A first mirror is easiest between 114 and 150 mm, f/7 to f/9." }
      : {}),
  });
}

// The leader's workshop: a plan from four numbers, with the kit's own ladder of grades, as blocks of a page.

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
  return planWorkshop(wish, usualGrades());
}

/**
 * The fewest days or evenings of so many hours that hold all stages.
 *
 * @param wish  without its days
 * @throws {RangeError} where sixty do not hold them
 */
export function eveningsFor(wish: Omit<WorkshopWish, "days">): number {
  return daysFor(wish, usualGrades());
}

function usualGrades(): ReturnType<typeof abrasives> {
  return abrasives().filter(({ name }) => usualLadder.includes(name));
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
    slots.map(({ title, minutes, ends, measure, pause }): TableRow => ({
      cells: [day, title, minutes, ends ? measure : `goes on; may end with: ${pause}`],
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
    readingsTable("The room, before the first session", [
      { title: "What", text: true },
      { title: "How", text: true },
    ], plan.rules.map(({ head, text }): TableRow => ({ cells: [head, text] }))),
    note(plan.notes.join(" ")),
  );
}

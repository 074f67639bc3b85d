/** A planned workshop on paper: what to have ready, the cautions with boxes, the timetable with its measuring points. */
import {
  flowToPrint,
  heading,
  initials,
  paragraph,
  type Piece,
  type Printable,
  type RuledColumn,
  ruledRow,
  type StageCautions,
  whoDecides,
} from "../../figures/prints/mod.ts";
import type { Supply } from "./materials.ts";
import { type Day, shortEvening, type WorkshopPlan } from "./plan.ts";

const supplyColumns: readonly RuledColumn[] = [
  { head: "what", share: 3 },
  { head: "how much", share: 1.1 },
  { head: "counted from", share: 3.4 },
  { head: "ready", share: 0.7 },
];

/** An amount with its unit: "3850 g", "12". */
export function amountOf({ amount, unit }: Supply): string {
  return unit === "" ? String(amount) : `${amount} ${unit}`;
}

function supplies(title: string, list: readonly Supply[], width: number): Piece[] {
  const row = (cells: readonly string[], bold = false): Piece =>
    ruledRow(supplyColumns, width, cells, { size: 2.6, tall: 6, bold });
  return [
    heading(title),
    row(supplyColumns.map(({ head }) => head), true),
    ...list.map((supply) => row([supply.name, amountOf(supply), supply.from, ""])),
  ];
}

const dayColumns: readonly RuledColumn[] = [
  { head: "stage", share: 2.2 },
  { head: "min", share: 0.7 },
  { head: "measuring points", share: 4 },
  { head: "done", share: 0.8 },
];

function dayPieces({ day, slots }: Day, called: string, breaks: number, width: number): Piece[] {
  const row = (cells: readonly string[], bold = false): Piece =>
    ruledRow(dayColumns, width, cells, { size: 2.6, tall: 6, bold });
  return [
    heading(`${called} ${day}`),
    row(dayColumns.map(({ head }) => head), true),
    ...slots.map(({ title, minutes, ends, measure, pause }) =>
      row([
        title,
        String(minutes),
        ends ? measure : `goes on; meanwhile: ${measure}. May end with: ${pause}`,
        "",
      ])
    ),
    ...(breaks === 0 ? [] : [row([
      "Breaks",
      String(breaks),
      breaks > 40 ? "after each hour and a half, and a meal" : "after an hour and a half",
      "",
    ])]),
    row([
      "Closing",
      "20",
      "stop, wipe, read, write: the mirror’s page on the wall, the class’s for the leader",
      "",
    ]),
  ];
}

/**
 * The plan to print.
 *
 * @param plan    as `planWorkshop` makes it
 * @param stages  cautions of the lessons, for the check list
 */
export function workshopSheets(plan: WorkshopPlan, stages: readonly StageCautions[]): Printable {
  const { learners, aperture, days, hoursPerDay, focalRatio } = plan.wish, { hours } = plan;
  const isEvening = hoursPerDay * 60 <= shortEvening, called = isEvening ? "Evening" : "Day";
  const minded = stages.filter(({ cautions }) => cautions.length > 0);
  return flowToPrint({
    name: isEvening ? "workshop-evenings" : "workshop",
    title: `Workshop: ${learners} mirrors of ${aperture} mm${isEvening ? ", by evenings" : ""}`,
    fill: ["place", "dates"],
    use: `${days} ${called.toLowerCase()}s of ${hoursPerDay} h, f/${
      Number(focalRatio.toFixed(1))
    }. One learner needs ${hours.least.toFixed(0)} to ${
      hours.most.toFixed(0)
    } h at the bench from disc to verdict: rough grinding ${
      hours.rough.toFixed(1)
    }, fine grinding ${hours.fine.toFixed(1)}, polishing ${
      hours.polish.toFixed(1)
    }, the rest for curve, lap, tests and washing. ${plan.notes.join(" ")}`,
    finding: `A workshop plan for ${learners} learners.`,
    pieces: ({ width }) => [
      ...supplies("Used up", plan.materials, width),
      ...supplies("Shared", plan.tools, width),
      heading("The room, before the first session"),
      ...plan.rules.map(({ head, text }) => paragraph(`${head}. ${text}`, width)),
      heading("Cautions"),
      paragraph(whoDecides, width),
      ...minded.flatMap(({ stage, cautions }) => [
        heading(stage),
        ...cautions.map((caution) => paragraph(caution, width)),
      ]),
      ...initials(minded, learners, width),
      ...plan.timetable.flatMap((day) => dayPieces(day, called, plan.breaks, width)),
      ...(plan.left.length === 0 ? [] : [
        heading("Left for another time"),
        paragraph(
          plan.left.map(({ title, hours }) => `${title}, ${hours.toFixed(1)} h`).join("; ") + ".",
          width,
        ),
      ]),
    ],
  });
}

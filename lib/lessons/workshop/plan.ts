/** A workshop planned: what it takes, who shares what, what is done on which day, and what will not be done. */
import type { Grade } from "../../shaping/grinding/grade.ts";
import { course } from "../course.ts";
import { type StageTime, stageTimes, washing } from "./hours.ts";
import { adultsFor, materials, type Supply, tools } from "./materials.ts";

/** What a leader asks. */
export interface WorkshopWish {
  /** whole, 1 to 60 */
  readonly learners: number;
  /** of each mirror, mm, 80 to 300 */
  readonly aperture: number;
  /** whole, 1 to 60 */
  readonly days: number;
  /** above 0, 8 at most */
  readonly hoursPerDay: number;
  /** focal length over aperture, 4 to 15; default 8 */
  readonly focalRatio?: number;
}

/** Part of a day. */
export interface Slot {
  /** name of the stage in the course */
  readonly name: string;
  /** title of the stage */
  readonly title: string;
  /** of this part, min */
  readonly minutes: number;
  /** false where the stage goes on another day */
  readonly ends: boolean;
  /** what is measured at the end of the stage */
  readonly measure: string;
}

/** A day of the workshop. */
export interface Day {
  /** from 1 */
  readonly day: number;
  /** in the order of the day */
  readonly slots: readonly Slot[];
}

/** A planned workshop. */
export interface WorkshopPlan {
  /** what was asked for, with what was not said filled in */
  readonly wish: Required<WorkshopWish>;
  /** hours of one learner from disc to verdict, lessons left out */
  readonly hours: {
    readonly rough: number;
    readonly fine: number;
    readonly polish: number;
    readonly least: number;
    readonly most: number;
  };
  /** how many must be there */
  readonly adults: number;
  /** for all learners together */
  readonly materials: readonly Supply[];
  /** for all learners together */
  readonly tools: readonly Supply[];
  /** a row for each day */
  readonly timetable: readonly Day[];
  /** titles of the stages that do not fit, with the hours they still want */
  readonly left: readonly { readonly title: string; readonly hours: number }[];
  /** what to know beforehand, a sentence each */
  readonly notes: readonly string[];
}

/** The end of each day, min: the page on the wall, the class's page for the leader. */
const closing = 20;
/** A stage that would want so little of the next day is finished today, min. */
const longest = 10;
/** A lap is poured and pressed by an adult, min. COMMON PRACTICE */
const pourMinutes = 20;

const titleOf = (name: string): string => course.find((one) => one.name === name)?.title ?? name;

function requireWish(wish: Required<WorkshopWish>): void {
  const { learners, aperture, days, hoursPerDay, focalRatio } = wish;
  const whole = (value: number, most: number): boolean =>
    Number.isInteger(value) && value >= 1 && value <= most;
  const sound = whole(learners, 60) && whole(days, 60) && hoursPerDay > 0 && hoursPerDay <= 8 &&
    aperture >= 80 && aperture <= 300 && focalRatio >= 4 && focalRatio <= 15;
  if (!sound) {
    throw new RangeError(
      `workshopPlan requires 1 to 60 learners and days, up to 8 hours a day, aperture 80 to 300 mm, focal ratio 4 to 15, got ${
        JSON.stringify(wish)
      }`,
    );
  }
}

/** Minutes of a stage as the timetable counts it: reading, bench, and the most of the washing, for it waits for the slowest. */
function minutesOf({ read, bench }: StageTime): number {
  return Math.round(read + bench * (1 + washing.most));
}

interface Laid {
  readonly timetable: Day[];
  readonly left: { title: string; hours: number }[];
}

/** Lays stages on days in their order; a stage may go on the next day, none begins with less than a quarter hour. */
function lay(stages: readonly StageTime[], days: number, dayMinutes: number): Laid {
  const timetable: Day[] = [], left: { title: string; hours: number }[] = [];
  let slots: Slot[] = [], room = dayMinutes;
  const close = (): void => {
    timetable.push({ day: timetable.length + 1, slots });
    slots = [];
    room = dayMinutes;
  };
  for (const stage of stages) {
    let wanted = minutesOf(stage);
    const { name, measure } = stage, title = titleOf(name);
    while (wanted > 0 && timetable.length < days) {
      const minutes = wanted <= room + longest ? wanted : room;
      wanted -= minutes;
      room -= minutes;
      slots.push({ name, title, minutes, ends: wanted === 0, measure });
      if (room < 15) close();
    }
    if (wanted > 0) left.push({ title, hours: wanted / 60 });
  }
  if (slots.length > 0 && timetable.length < days) close();
  return { timetable, left };
}

function notesOf(wish: Required<WorkshopWish>, adults: number, left: Laid["left"]): string[] {
  const { learners, aperture, focalRatio, days, hoursPerDay } = wish;
  const pots = Math.ceil(learners / 6), pour = learners * pourMinutes / pots;
  const queue = Math.ceil(learners / Math.ceil(learners / 6));
  return [
    `${adults} adults, one always at the pitch or the Sun and nowhere else; more where your rules ask for more.`,
    `Laps: ${learners} at ${pourMinutes} min, ${pots} at a time: ${
      (pour / 60).toFixed(1)
    } h for the adults, the evening before they are pressed.`,
    `Tester: ${queue} learners to each; three runs take half an hour, so the queue is ${
      (queue / 2).toFixed(1)
    } h long. Begin testing whoever is first polished out.`,
    ...(aperture > 200 || focalRatio < 6
      ? [
        "Larger than 200 mm or faster than f/6 is no first mirror: it must be figured, and that takes practice.",
      ]
      : []),
    ...(left.length === 0
      ? [
        "All stages fit, if nobody is ill and no scratch sends anybody back a grade: keep a spare day.",
      ]
      : [
        `In ${days} days of ${hoursPerDay} h it ends within ${left[0]?.title}: ${
          left.reduce((sum, { hours }) => sum + hours, 0).toFixed(1)
        } h a learner are left. Say so on the first day, and name the second weekend.`,
      ]),
    "Coating, tube and first light come after: they are not in these hours.",
  ];
}

/**
 * Plans a workshop.
 *
 *     hours of one learner = (rough + fine + polish + tests + discs, curve, lap) x (1.1 to 1.3 with washing)
 *
 * @param wish    learners, aperture, days, hours
 * @param grades  the ladder coarse to fine, the rough grade first
 * @throws {RangeError} for a wish outside its ranges, or with no time to finish even the hollow, in one sentence
 * @see hours.ts: the shares for washing, tests and sessions are INVENTED
 */
export function planWorkshop(wish: WorkshopWish, grades: readonly Grade[]): WorkshopPlan {
  const full = { focalRatio: 8, ...wish };
  requireWish(full);
  const { learners, aperture, days, hoursPerDay, focalRatio } = full;
  const stages = stageTimes(aperture, aperture * focalRatio, grades);
  const hollow = stages.slice(0, stages.findIndex(({ name }) => name === "smooth-surface"));
  const least = hollow.reduce((sum, stage) => sum + minutesOf(stage), 0) / 60 +
    days * closing / 60;
  if (days * hoursPerDay < least) {
    throw new RangeError(
      `workshopPlan requires time to finish the hollow, ${
        least.toFixed(1)
      } h for ${aperture} mm f/${focalRatio} with its lessons, got ${
        Number((days * hoursPerDay).toFixed(1))
      } h: take more days, longer days, or a smaller mirror.`,
    );
  }
  const of = (name: string): number => (stages.find((one) => one.name === name)?.bench ?? 0) / 60;
  const bench = stages.filter(({ name }) => !["open-record", "choose-mirror"].includes(name))
    .reduce((sum, one) => sum + one.bench, 0) / 60;
  const { timetable, left } = lay(stages, days, Math.round(hoursPerDay * 60 - closing));
  const adults = adultsFor(learners);
  return {
    wish: full,
    hours: {
      rough: of("grind-hollow"),
      fine: of("smooth-surface"),
      polish: of("polish-surface"),
      least: bench * (1 + washing.least),
      most: bench * (1 + washing.most),
    },
    adults,
    materials: materials(learners, aperture, aperture * focalRatio, grades),
    tools: tools(learners),
    timetable,
    left,
    notes: notesOf(full, adults, left),
  };
}

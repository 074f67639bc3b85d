/** A workshop planned: what it takes, who shares what, what is done on which day, and what will not be done. */
import type { Grade } from "../../shaping/grinding/grade.ts";
import { course } from "../course.ts";
import { lapMost, type StageTime, stageTimes, washing } from "./hours.ts";
import { lapsSaid, type RoomRule, roomRules, testsSaid } from "./leader.ts";
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
  /** with what the day may end where the stage goes on */
  readonly pause: string;
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
  /** what is settled for the room beforehand */
  readonly rules: readonly RoomRule[];
  /** of each day: ten minutes after an hour and a half, and a meal in a long one, min */
  readonly breaks: number;
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
/** A break after so much work, how long it is, and the meal of a day that is longer than `shortDay`, min. COMMON PRACTICE */
const [workAtOnce, rest, meal, shortDay] = [90, 10, 45, 300];

/** Breaks of a day, min. */
function breaksOf(dayMinutes: number): number {
  const rests = Math.floor(dayMinutes / (workAtOnce + rest));
  return rests * rest + (dayMinutes > shortDay ? meal : 0);
}

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

/**
 * Lays stages on days in their order; a stage may go on the next day, none begins with less than a quarter hour, and nobody
 * polishes longer than `lapMost` in a day: what is left of it goes to reading ahead.
 */
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
    const { name, measure, pause, isAtLap = false } = stage, title = titleOf(name);
    while (wanted > 0 && timetable.length < days) {
      const most = isAtLap ? Math.min(room, lapMost) : room;
      const minutes = wanted <= most + longest ? wanted : most;
      wanted -= minutes;
      room -= minutes;
      slots.push({ name, title, minutes, ends: wanted === 0, measure, pause });
      if (room < 15 || wanted > 0) close();
    }
    if (wanted > 0) left.push({ title, hours: wanted / 60 });
  }
  if (slots.length > 0 && timetable.length < days) close();
  return { timetable, left };
}

function notesOf(wish: Required<WorkshopWish>, adults: number, left: Laid["left"]): string[] {
  const { learners, aperture, focalRatio, days, hoursPerDay } = wish;
  const called = hoursPerDay * 60 > shortEvening ? "days" : "evenings";
  return [
    `${adults} adults while nothing is hot, one of them always at the Sun where it is used; more where your rules ask for more.`,
    lapsSaid(learners, Math.round(hoursPerDay * 60 - closing)),
    testsSaid(learners),
    `Work for an hour and a half, then ${rest} min of rest; nobody stands at the lap for more than ${
      lapMost / 60
    } h in a day.`,
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
        `In ${days} ${called} of ${hoursPerDay} h it ends within ${left[0]?.title}: ${
          left.reduce((sum, { hours }) => sum + hours, 0).toFixed(1)
        } h a learner are left. Say so on the first day, and name the second weekend.`,
      ]),
    "Reading the whole surface, coating, tube and first light come after: they are not in these hours.",
  ];
}

/** A day that is no longer is an evening, min. */
export const shortEvening = 180;

/**
 * The fewest days of so many hours that hold all stages.
 *
 * @param wish    without its days
 * @param grades  as for `planWorkshop`
 * @throws {RangeError} as `planWorkshop`, and where sixty days do not hold them
 */
export function daysFor(wish: Omit<WorkshopWish, "days">, grades: readonly Grade[]): number {
  for (let days = 1; days <= 60; days++) {
    const { focalRatio = 8, aperture, hoursPerDay } = wish;
    const stages = stageTimes(aperture, aperture * focalRatio, grades);
    if (lay(stages, days, workMinutes(hoursPerDay)).left.length === 0) return days;
  }
  throw new RangeError(
    `daysFor requires days long enough for all stages within sixty, got ${wish.hoursPerDay} h`,
  );
}

/** Minutes of work in a day of so many hours. */
function workMinutes(hoursPerDay: number): number {
  const whole = Math.round(hoursPerDay * 60);
  return whole - closing - breaksOf(whole);
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
  const breaks = breaksOf(Math.round(hoursPerDay * 60));
  const least = hollow.reduce((sum, stage) => sum + minutesOf(stage), 0) / 60 +
    days * (closing + breaks) / 60;
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
  const { timetable, left } = lay(stages, days, workMinutes(hoursPerDay));
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
    tools: tools(learners, days),
    rules: roomRules(learners),
    breaks,
    timetable,
    left,
    notes: notesOf(full, adults, left),
  };
}

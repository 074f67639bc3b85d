/** What a leader settles for the room before the first session, counted from the learners: said on the page and on the sheet. */
import { fact } from "../../record/tables.ts";

/** A rule of the room. */
export interface RoomRule {
  /** what it is about: "Powder" */
  readonly head: string;
  /** a few sentences */
  readonly text: string;
}

/** Water that one learner's sludge settles in, l. COMMON PRACTICE */
const drumLitres = 5;
/** The whole surface of one mirror, three seats with both knives: at the bench, min. COMMON PRACTICE */
const wholeSurface = 240;
/** Three runs along one diameter: enough to steer by, min. COMMON PRACTICE */
const threeRuns = 30;

const inHours = (minutes: number): string => `${Number((minutes / 60).toFixed(1))} h`;

/** Laps poured in one sitting at most: a pot of some 1.2 kg, and adults who are still awake. COMMON PRACTICE */
const lapsAtOnce = 6;

/** Minutes of one sitting at the pitch until the first lap is poured: melting and trying a coin, then the warm tub. */
function beforePouring(): number {
  return fact("press_first") + 2 * fact("press_between") + 2 * fact("warm_up");
}

/** Minutes of the two adults for each lap: until it has a skin, and in circles until it is hand-warm. */
function eachLap(): number {
  return fact("skin_sets") + fact("hot_press");
}

/**
 * How the laps of a class are made: sittings, and laps in each.
 *
 * @param learners   a lap each
 * @param minutes    of one sitting
 * @returns undefined where a sitting is too short for one lap
 */
export function lapSittings(
  learners: number,
  minutes: number,
): { readonly each: number; readonly sittings: number } | undefined {
  const fits = Math.floor((minutes - beforePouring()) / eachLap());
  const each = Math.min(learners, lapsAtOnce, fits);
  return each < 1 ? undefined : { each, sittings: Math.ceil(learners / each) };
}

/** How the laps are made, and by how many adults, in a sentence or three. */
export function lapsSaid(learners: number, minutes: number): string {
  const found = lapSittings(learners, minutes), first = beforePouring(), then = eachLap();
  const times =
    `${first} min until the first is poured (melting, a cold coin, the warm tub), then ${then} min of two trained adults for each, its own mirror on it at once: a lap is shaped by its mirror while it is warm.`;
  const sittings = found === undefined
    ? `${minutes} min are too short for one: take a longer day.`
    : `${found.each} in a sitting of ${inHours(minutes)}, so ${found.sittings} ${
      found.sittings === 1 ? "sitting" : "sittings"
    }.`;
  return `Laps: ${learners}. ${times} ${sittings} Three adults at least while pitch is hot, two at it and one with the learners; or nobody works at another bench in those hours.`;
}

/** How long the testers are taken, to steer and to release. */
export function testsSaid(learners: number): string {
  const testers = Math.ceil(learners / 6), queue = Math.ceil(learners / testers);
  return `Tester: ${queue} learners to each. To steer, three runs take half an hour: a round takes ${
    inHours(queue * threeRuns)
  }. To release a mirror for its coating the whole surface is read, ${
    inHours(wholeSurface)
  } each: ${
    inHours(queue * wholeSurface)
  } at each tester, on days of their own. Begin with whoever is first polished out.`;
}

/**
 * The rules of the room, from the number of learners.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const powder = roomRules(12).find(({ head }) => head === "Powder");
 * assert.match(powder?.text ?? "", /12 benches spend some 120 charges in each hour/);
 * ```
 */
export function roomRules(learners: number): readonly RoomRule[] {
  const charges = learners * fact("charges_hour_coarse"), litres = learners * drumLitres;
  return [
    {
      head: "Coarse and fine apart",
      text:
        "F80 to F220 on one evening or behind one door; F320 and finer, pitch, polishing and figuring on another. One grain of F80 costs a grade. In a single room the coarse benches stop first, benches, taps and floor are wiped wet from high to low, aprons are changed, and only then a lap box or a fine jar is opened. Aprons, brushes and cloths for coarse and for fine are marked, and none of them goes home unwashed.",
    },
    {
      head: "Powder",
      text:
        `${learners} benches spend some ${charges} charges in each hour of grinding: nobody can open a jar that often. Before anybody comes an adult in a mask weighs the evening’s powder for each bench and wets it in the bench’s squeeze bottle, one grade at a time, each jar with its own spoon, shut and carried out before the next is opened. While learners are there no jar is open.`,
    },
    {
      head: "Water and sludge",
      text:
        `All sinks but one are taped shut; that one is for clean hands. Hands, rims and brushes go into the soap bucket first. The benches’ buckets are emptied into one drum of ${litres} l: after a night the clear water is drawn off as the place allows, the sludge is wiped out and goes to the bin, never down a drain.`,
    },
    {
      head: "The evening before a test",
      text:
        "Lidded buckets of water stand in the test room, a cloth at the bottom, a strap under each mirror to lift it by with both hands. Mirrors that are tested stay in the test room during the week: who comes in from the street with a cold one waits for it.",
    },
    {
      head: "Pitch",
      text:
        "No window, no pitch: pour in a yard or another room. The plate never stands between people and the door, and a single staircase stays free. Two trained adults are at it and nowhere else.",
    },
    {
      head: "Ask beforehand, in writing",
      text:
        "Asthma, rashes, allergies (rosin, latex), epilepsy, tetanus, what somebody may not lift, and whom to call. Whoever has asthma or a rash from rosin is not in the room with hot pitch, and touches no dry powder.",
    },
    {
      head: "Glass at night",
      text:
        "Each mirror lies in its own box, or stands in a rack with a bar before it, never loose on edge. A lap is in its box without its mirror. Discs lie apart.",
    },
  ];
}

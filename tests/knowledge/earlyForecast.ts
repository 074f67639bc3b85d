/**
 * Logs of hidden hands, read by one method alone, and what the kit foresees at the second reading. INVENTED physics that shares
 * nothing with the forecast: a charge cuts less from minute to minute until it is renewed, the first minutes run fast, hands are 0.6 to
 * 1.6 times the usual, every session is a tenth otherwise.
 */
import { random, type RandomSource } from "../../lib/numeric/random.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import { read } from "../record/bench.ts";

export const METHODS = ["leaves", "depth gauge", "spherometer", "sun distance", "lamp"] as const;
export type By = typeof METHODS[number];

/** The hollow's depth, um, at each half minute of one maker's grinding, mirror on top. */
function hollow(dice: RandomSource, minutes: number): Float64Array {
  const hands = 8.8 * 0.6 * (1.6 / 0.6) ** dice.uniform(),
    depth = new Float64Array(2 * minutes + 1);
  const charge = 4 + 2 * dice.uniform(), fades = 0.1 + 0.3 * dice.uniform();
  const fast = 20 + 30 * dice.uniform();
  let session = 1, left = 0, ends = 0;
  for (let k = 1; k <= 2 * minutes; k++) {
    const at = k / 2;
    if (at > ends) {
      ends = at + 15 + 15 * dice.uniform();
      session = Math.exp(0.1 * dice.normal());
    }
    left = left <= 0 ? charge : left - 0.5;
    // the mean of a charge is one
    const cut = 1 + fades * (left / charge - 0.5);
    const begun = fast / 6 * Math.exp(-at / 6);
    depth[k] = (depth[k - 1] as number) + 0.5 * (hands * session * cut + begun);
  }
  return depth;
}

/** Sphere of a depth in mm over 150 mm. DERIVED: R = (75^2 + s^2) / 2s */
const radius = (mm: number): number => (75 * 75 + mm * mm) / (2 * mm);

/** A session's rows by one method, the first of them the header. */
function rowsOf(by: By, minute: number, um: number, dice: RandomSource): readonly string[] {
  const R = radius(um / 1000), gap = R - Math.sqrt(R * R - 74 * 74);
  if (by === "leaves") {
    // the leaf of 12.7 mm rides a little higher; stacks a hundredth apart; two places differ by some micrometres
    return Array.from({ length: 2 }, () => {
      const go = Math.floor(100 * (gap * (1 - (12.7 / 148) ** 2) + 0.003 * dice.normal())) / 100;
      return `${minute},${go.toFixed(2)},${(go + 0.01).toFixed(2)}`;
    });
  }
  if (by === "depth gauge") {
    return Array.from({ length: 3 }, () => `${minute},${(gap + 0.006 * dice.normal()).toFixed(2)}`);
  }
  if (by === "spherometer") {
    // DERIVED: legs on 50 mm with balls of 3 mm stand on the sphere of R - 3
    const h = R - 3 - Math.sqrt((R - 3) ** 2 - 50 * 50);
    const dial = (surface: string, mm: number): string =>
      `${minute},${surface},${(5 + mm + 0.001 * dice.normal()).toFixed(3)}`;
    return [..."fff"].map(() => dial("flat", 0)).concat([..."mmm"].map(() => dial("mirror", h)));
  }
  const about = by === "lamp" ? R : R / 2;
  return Array.from(
    { length: 5 },
    () => `${minute},${(about * (1 + 0.006 * dice.normal())).toFixed(0)}`,
  );
}

const TABLE: Readonly<Record<By, readonly [file: string, head: string]>> = {
  "leaves": ["sagitta.csv", "after_min,go_mm,nogo_mm"],
  "depth gauge": ["sagitta.csv", "after_min,depth_mm"],
  "spherometer": ["spherometer.csv", "after_min,surface,dial_mm"],
  "sun distance": ["sun.csv", "after_min,distance_mm"],
  "lamp": ["lamp.csv", "after_min,distance_mm"],
};

/** What came of one maker: what was foreseen at the second reading, and what it truly took. */
export interface Foreseen {
  readonly by: By;
  /** of the minutes to the target, 95 %; absent where no forecast was given */
  readonly interval?: readonly [number, number];
  readonly minutes?: number;
  readonly truth: number;
  readonly from?: string;
}

/** One maker with one method, read after each of some sessions of 20 to 30 minutes. */
export async function foreseen(by: By, seed: number, sessions = 2): Promise<Foreseen> {
  const dice = random(9100 + seed), depth = hollow(dice, 900);
  // so many sessions to two thirds of the way, no longer than half an hour each
  const most = depth.findIndex((um) => um >= 780) / 2;
  const step = Math.max(
    5,
    Math.min(20 + Math.floor(10 * dice.uniform()), Math.floor(most / sessions)),
  );
  const minutes = Array.from({ length: sessions }, (_, i) => (i + 1) * step);
  const rows = minutes.flatMap((minute) => rowsOf(by, minute, depth[2 * minute] as number, dice));
  const [file, head] = TABLE[by];
  const { grinding } = summarize(
    await read({
      "mirror.yaml":
        "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\ngauges: { spherometer: { leg_radius: 50 mm, ball_radius: 3 mm } }\n",
      "grinding.csv": `abrasive,position,minutes\n${
        `F80,mirror on top,${step}\n`.repeat(sessions)
      }`,
      [file]: `${head}\n${rows.join("\n")}\n`,
    }),
  );
  // DERIVED: f = 1200 mm wants R - sqrt(R^2 - 75^2) = 1.1722 mm
  const truth = depth.findIndex((um) => um >= 1172.2) / 2 - sessions * step;
  return {
    by,
    truth,
    ...(grinding?.interval95 === undefined ? {} : { interval: grinding.interval95 }),
    ...(grinding?.minutesToTarget === undefined ? {} : { minutes: grinding.minutesToTarget.value }),
    ...(grinding?.from === undefined ? {} : { from: grinding.from }),
  };
}

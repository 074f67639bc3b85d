/** The stage of the weight, its second page: the tube as a seesaw, and the base under it. */
import { demo as demoBlock, facts, note, notYet, yours as yoursBlock } from "../figures/blocks.ts";
import { baseView } from "../figures/drawings/baseView.ts";
import { seesaw, type Swap } from "../figures/drawings/seesaw.ts";
import { type Showable, type Shown, together } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { focuserAt } from "../knowledge/telescopeSummary.ts";
import {
  addedMoment,
  balance,
  counterweight,
  eyeHeight,
  pivotClearance,
} from "../telescope/balance.ts";

const DEGREE = Math.PI / 180;
/** Board and feet between the ground and the tube's rear corner, mm, and the counterweight's place from the rear end. */
const UNDER = 60, AT_REAR = 20;

function swapOf({ record, summary }: Mirror): Swap | undefined {
  const telescope = record.settings.telescope ?? {}, t = summary.telescope;
  const at = focuserAt(telescope), { swap } = telescope;
  if (at === undefined || swap === undefined || t?.frictionMoment === undefined) return undefined;
  return {
    mass: swap,
    at,
    pull: t.swapMoment?.value ?? 0,
    friction: t.frictionMoment.value,
  };
}

const seesawPart: Part = {
  name: "seesaw",
  noun: "part",
  count: ({ record }) => record.settings.telescope?.parts?.length ?? 0,
  show: (mirror) => [seesaw(mirror.record.settings.telescope?.parts ?? [], swapOf(mirror))],
  how:
    "Weigh each part on a kitchen scale, measure where its middle sits from the tube’s rear end, and write both into " +
    "mirror.yaml under telescope: parts.",
};

/** The reader's parts as weights on a beam, with the pivot; and whether the bearings hold the heavier eyepiece. */
export function yourSeesaw(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(seesawPart, yours, demo);
}

interface Base {
  readonly behind: number;
  readonly ahead: number;
  readonly focuser: number;
  readonly half: number;
  readonly bearing: number;
  readonly pivotHeight: number;
}

/** What the base rests on; `undefined` where tube, parts, focuser or bearing are not written. */
function baseOf({ record }: Mirror): Base | undefined {
  const telescope = record.settings.telescope ?? {}, { tube, parts = [], bearing } = telescope;
  const at = focuserAt(telescope);
  if (tube === undefined || bearing === undefined || at === undefined || parts.length === 0) {
    return undefined;
  }
  const behind = balance(parts).at, half = tube.innerDiameter / 2 + tube.wall;
  const focuser = at - behind, ahead = focuser + (tube.frontLength ?? tube.innerDiameter);
  if (!(behind > 0 && focuser > 0)) return undefined;
  const pivotHeight = Math.ceil((pivotClearance(behind, half) + UNDER) / 10) * 10;
  return { behind, ahead, focuser, half, bearing: bearing.radius, pivotHeight };
}

const basePart: Part = {
  name: "base",
  noun: "drawing",
  count: (mirror) => baseOf(mirror) === undefined ? 0 : 1,
  show: ({ record }) => {
    const base = baseOf({ record } as Mirror);
    if (base === undefined) return [];
    const { parts = [], swap, bearing } = record.settings.telescope ?? {};
    const low = bearing?.altitude ?? 20 * DEGREE, altitudes = [Math.PI / 2, 45 * DEGREE, low];
    const eye = (altitude: number): string =>
      `${eyeHeight(base.pivotHeight, base.focuser, altitude).toFixed(0)}\u2009mm`;
    const rows: [string, string][] = [
      [
        "Rear corner, below the pivot",
        `${pivotClearance(base.behind, base.half).toFixed(0)}\u2009mm`,
      ],
      [`Pivot above the ground, ${UNDER}\u2009mm of board and feet`, `${base.pivotHeight}\u2009mm`],
      ["Eye, looking straight up", eye(Math.PI / 2)],
      [`Eye, ${(low / DEGREE).toFixed(0)}° up`, eye(low)],
    ];
    const at = base.behind + base.focuser;
    if (swap !== undefined) {
      const heavy = counterweight([...parts, { mass: swap, at }], base.behind, AT_REAR);
      if (heavy !== undefined) {
        rows.push([
          `Counterweight, ${AT_REAR}\u2009mm from the rear end`,
          `${(heavy / 1000).toFixed(2)}\u2009kg`,
        ]);
      }
      rows.push([
        "Moment it takes away",
        `${addedMoment(swap, base.focuser, low).toFixed(2)}\u2009N m`,
      ]);
    }
    return [
      baseView({ ...base, altitudes }),
      facts(rows),
      note("A counterweight goes on with the heavy eyepiece and comes off with it."),
    ];
  },
  how:
    "Write tube, parts, focuser and bearing into mirror.yaml under telescope; then the base follows.",
};

/** The reader's tube on its base: height of the pivot, of the eye, and the counterweight for the swap. */
export function yourBase(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(basePart, yours, demo);
}

// Whose numbers a block shows: the reader's own where there are any, else the demo's, always marked.

/** Whose marks a figure draws: the reader's filled, the demo's open. */
export type Whose = "yours" | "demo";

/** One kind of readings, as a block for the reader. */
export interface Part {
  /** what it is called: "leaves", "spherometer" */
  readonly name: string;
  /** what is counted, default "reading" */
  readonly noun?: string;
  /** how many readings a mirror has of it; 0 means not yet */
  readonly count: (mirror: Mirror) => number;
  /** what is shown of them; the demo's are drawn open */
  readonly show: (mirror: Mirror, whose: Whose) => readonly Showable[];
  /** what to measure, how, and into which file it goes */
  readonly how: string;
}

/** "1 reading", "7 readings". */
export function countOf(count: number, noun = "reading"): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

/**
 * The reader's readings of one kind; where there are none, how to take them, and the demo's beside.
 *
 * @param yours  the reader's mirror; when it is the demo itself, its readings are shown as the reader's
 * @param demo   the demo mirror
 */
export function ownOrDemo(part: Part, yours: Mirror, demo: Mirror): Shown {
  const own = part.count(yours);
  if (own > 0) {
    const whose = `${yours.summary.title} · ${part.name}, ${countOf(own, part.noun)}`;
    return yoursBlock(whose, ...part.show(yours, "yours"));
  }
  const missing = notYet(part.name, part.how);
  if (part.count(demo) === 0) return missing;
  return together(missing, demoBlock(demo.summary.title, ...part.show(demo, "demo")));
}

/**
 * The same over the reader's own readings, below an example of the demo's; the example alone where hers do not reach.
 *
 * @param example  of the demo
 * @param yours    the reader's mirror; the demo's own book has the example alone
 * @param name     what is shown: "forecasts"
 * @param own      from the reader's readings; empty where they do not reach
 */
export function withOwn(
  example: Shown,
  yours: Mirror,
  name: string,
  own: readonly Showable[],
): Shown {
  if (yours.isDemo || own.length === 0) return example;
  return together(example, yoursBlock(`${yours.summary.title} · ${name}`, ...own));
}

/**
 * An example from the demo mirror: marked as the demo's, unless the reader's own mirror is the demo.
 *
 * @param contents  figures, tables, sentences made from the demo's readings
 */
export function demoExample(yours: Mirror, demo: Mirror, ...contents: Showable[]): Shown {
  return yours.isDemo ? together(...contents) : demoBlock(demo.summary.title, ...contents);
}

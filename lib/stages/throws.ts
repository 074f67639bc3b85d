/** Many throws of one number, as a heap of bars: where they fall, and how many of them meet a goal. */
import { axisLine } from "../figures/drawings/axisLine.ts";
import { fixed } from "../figures/digits.ts";
import { figure } from "../figures/figure.ts";
import { type Html, safe } from "../figures/html.ts";
import { across, drawing, group, rect, stroke, words } from "../figures/pen.ts";
import { scale } from "../figures/scale.ts";
import type { Shown } from "../figures/show.ts";

/** Throws of one number and how they are told. */
export interface Throws {
  readonly draws: ArrayLike<number>;
  /** of the axis, with the unit: "Radius of curvature (mm)" */
  readonly title: string;
  readonly digits: number;
  /** what the throws began with: the same seed gives the same throws */
  readonly seed: number;
  /** where 95 of a hundred fall, drawn as a bar */
  readonly interval?: readonly [low: number, high: number];
  /** a limit that must not be passed */
  readonly goal?: number;
}

interface Heap {
  readonly low: number;
  readonly high: number;
  readonly counts: readonly number[];
  /** throws that lie beyond the drawing, so that a few far ones do not press the heap flat */
  readonly beyond: number;
}

const binsWanted = 40;
/** Share of the throws at either end that may lie beyond the drawing, where they lie far out. */
const endShare = 0.01;

/** The throws without those few at either end that lie farther out than the heap is wide. */
function drawn(sorted: Float64Array): Float64Array {
  const few = Math.floor(endShare * sorted.length), last = sorted.length - 1;
  const low = sorted[few] ?? 0, high = sorted[last - few] ?? 0, room = 0.5 * (high - low);
  return sorted.filter((value) => value >= low - room && value <= high + room);
}

/** Counts of the throws in bins of one width; an edge lies on the goal, so that no bar is on both sides. */
function heapOf({ draws, goal }: Throws): Heap {
  const all = Float64Array.from(draws).sort(), sorted = drawn(all), last = sorted.length - 1;
  const first = sorted[0] ?? 0, end = sorted[last] ?? 0;
  const width = (end - first) / binsWanted || 1;
  const zero = goal ?? first;
  const low = zero + Math.floor((first - zero) / width + 1e-9) * width;
  const counts = new Array<number>(Math.floor((end - low) / width + 1e-9) + 1).fill(0);
  for (const value of sorted) {
    const bin = Math.min(counts.length - 1, Math.max(0, Math.floor((value - low) / width)));
    counts[bin] = (counts[bin] ?? 0) + 1;
  }
  return { low, high: low + width * counts.length, counts, beyond: all.length - sorted.length };
}

function draw(throws: Throws, heap: Heap, width: number, finding: string): Html {
  const { goal, interval, title, digits } = throws, { low, high, counts } = heap;
  const domain = [Math.min(low, goal ?? low), Math.max(high, goal ?? high)] as const;
  const room = (domain[1] - domain[0]) * 0.04;
  const at = scale(domain[0] - room, domain[1] + room, 1, width - 1);
  const ground = 176, tallest = Math.max(...counts), bin = (high - low) / counts.length;
  const bars = counts.map((count, i) => {
    const left = low + i * bin, top = (count / tallest) * 120;
    const kind = goal !== undefined && left > goal - bin / 2 ? "zone-c" : "zone-b";
    return rect(kind, [at(left), ground - top], at(left + bin) - at(left) - 0.5, top);
  });
  const flip = goal !== undefined && at(goal) > width * 0.6;
  return drawing({
    width,
    height: ground + 46,
    finding,
    contents: group(
      bars,
      interval !== undefined && across(at(interval[0]), at(interval[1]), 34, "mine"),
      goal !== undefined && group(
        stroke("limit", [at(goal), 20], [at(goal), ground]),
        words([at(goal) + (flip ? -6 : 6), 16], `goal ${fixed(goal, digits)}`, {
          kind: "t-rouge",
          anchor: flip ? "end" : "start",
        }),
      ),
      axisLine({
        domain: [domain[0] - room, domain[1] + room],
        from: 1,
        to: width - 1,
        y: ground,
        title,
      }, at),
    ),
  });
}

/**
 * How many of the throws are at the goal or under it, 0 to 1.
 *
 * @throws {RangeError} without a throw
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(shareWithin([0.2, 0.3, 0.1, 0.25], 0.25), 0.75);
 * ```
 */
export function shareWithin(draws: ArrayLike<number>, goal: number): number {
  if (draws.length === 0) throw new RangeError("shareWithin requires a throw or more, got none");
  let within = 0;
  for (let i = 0; i < draws.length; i++) if ((draws[i] ?? NaN) <= goal) within++;
  return within / draws.length;
}

/** A count with a thin space before its thousands, from five digits on. */
function thousands(count: number): string {
  return String(count).replace(
    /^(\d+)(\d{3})$/,
    (all, a, b) => all.length > 4 ? `${a}\u202f${b}` : all,
  );
}

/**
 * The heap that many throws make.
 *
 * @param throws  the throws, in the unit of the title
 * @throws {RangeError} without a throw, or where one is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = throwsHeap({ draws: [1, 2, 3, 4], title: "Depth (mm)", digits: 1, seed: 1, goal: 3 });
 * assert.match(shown.text, /4 throws, seed 1: from 1\.0 to 4\.0\. 3 of them meet the goal of 3\.0/);
 * ```
 */
export function throwsHeap(throws: Throws): Shown {
  const { draws, title, digits, seed, goal, interval } = throws;
  if (draws.length === 0 || !Array.prototype.every.call(draws, Number.isFinite)) {
    throw new RangeError(`throwsHeap requires finite throws, got ${draws.length} throws`);
  }
  const n = (v: number): string => fixed(v, digits);
  const ends = [Infinity, -Infinity] as [number, number];
  for (let i = 0; i < draws.length; i++) {
    ends[0] = Math.min(ends[0], draws[i] ?? NaN);
    ends[1] = Math.max(ends[1], draws[i] ?? NaN);
  }
  const meet = goal === undefined ? undefined : Math.round(shareWithin(draws, goal) * draws.length);
  const says = meet === undefined
    ? `${thousands(draws.length)} throws make a heap.`
    : `${thousands(meet)} of ${thousands(draws.length)} throws meet the goal.`;
  const finding =
    `${title}: ${draws.length} throws, seed ${seed}: from ${n(ends[0])} to ${n(ends[1])}.` +
    (meet === undefined ? "" : ` ${meet} of them meet the goal of ${n(goal ?? 0)}.`) +
    (interval === undefined
      ? ""
      : ` 95 in a hundred lie from ${n(interval[0])} to ${n(interval[1])}.`);
  const heap = heapOf(throws), { beyond } = heap;
  return figure({
    finding,
    caption: safe`<b>${says}</b> Seed ${seed}: the same seed gives the same throws.${
      interval !== undefined &&
      ` The bar holds 95 in a hundred: ${n(interval[0])} to ${n(interval[1])}.`
    }${beyond > 0 && ` ${beyond} lie beyond the drawing, up to ${n(ends[1])}.`}`,
    draw: (width) => draw(throws, heap, width, finding),
  });
}

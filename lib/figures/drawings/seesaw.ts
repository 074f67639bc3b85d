/** The tube as a seesaw: its parts as weights on a beam, the pivot where both sides pull alike, and what a swap does to it. */
import { addedMoment, balance, type TubePart } from "../../telescope/balance.ts";
import { fixed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { drawing, group, linesOf, path, type Point, rect, stroke, through, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** A part with its name; mass g, place mm from the tube's rear end. */
export interface NamedPart extends TubePart {
  readonly name: string;
}

/** What happens at the eyepiece: mass added g, where mm, and the two moments N m. */
export interface Swap extends TubePart {
  readonly pull: number;
  readonly friction: number;
}

interface Sheet {
  readonly parts: readonly NamedPart[];
  readonly swap: Swap | undefined;
  readonly width: number;
  readonly beam: number;
  readonly pivot: number;
  readonly whole: TubePart;
  readonly x: (at: number) => number;
  readonly side: (mass: number) => number;
  /** moment of one side about the pivot, N m, the tube level */
  readonly moment: number;
}

const kg = (mass: number): string => fixed(mass / 1000, 2);

function momentOf(parts: readonly NamedPart[], pivot: number): number {
  return parts.filter(({ at }) => at > pivot)
    .reduce((sum, { mass, at }) => sum + addedMoment(mass, at - pivot, 0), 0);
}

/** Boxes side by side would cover each other: each stands on those it would cover, the heaviest lowest. */
function stacked(s: Sheet): { part: NamedPart; number: number; corner: Point; size: number }[] {
  const boxes: { part: NamedPart; number: number; corner: Point; size: number }[] = [];
  const order = s.parts.map((part, i) => ({ part, number: i + 1 }))
    .sort((a, b) => b.part.mass - a.part.mass);
  for (const { part, number } of order) {
    const size = s.side(part.mass), left = s.x(part.at) - size / 2;
    const under = boxes.filter(({ corner, size: other }) =>
      left < corner[0] + other + 2 && left + size + 2 > corner[0]
    );
    const floor = Math.min(s.beam, ...under.map(({ corner }) => corner[1] - 2));
    boxes.push({ part, number, corner: [left, floor - size], size });
  }
  return boxes;
}

function beamOf(s: Sheet): Html {
  const ends = [...s.parts.map(({ at }) => at), s.swap?.at ?? 0];
  const from = s.x(Math.min(0, ...ends)), to = s.x(Math.max(...ends)) + 16, y = s.beam;
  return group(
    rect("steel", [from, y], to - from, 9),
    path(
      "body",
      through([[s.pivot, y + 9], [s.pivot - 13, y + 33], [s.pivot + 13, y + 33]], true),
      "stroke:var(--ink);stroke-width:1",
    ),
    stroke("rim", [s.pivot - 24, y + 33], [s.pivot + 24, y + 33]),
    words([from, y + 25], "rear", { kind: "soft" }),
    words([to, y + 25], "front", { kind: "soft", anchor: "end" }),
    words([s.pivot, y + 51], `pivot, ${fixed(s.whole.at)} mm from the rear`, { anchor: "middle" }),
  );
}

function weightsOf(s: Sheet): Html {
  const swap = s.swap, boxes = stacked(s);
  const top = swap === undefined ? s.beam : Math.min(
    s.beam,
    ...boxes.filter(({ corner, size }) =>
      Math.abs(corner[0] + size / 2 - s.x(swap.at)) < (size + s.side(swap.mass)) / 2 + 2
    ).map(({ corner }) => corner[1] - 2),
  );
  return group(
    boxes.map(({ number, corner: [x, y], size }) =>
      group(
        rect("zone-b", [x, y], size, size, "stroke:var(--ink);stroke-width:1"),
        words([x + size / 2, y + size / 2 + 4.5], `${number}`, { anchor: "middle", kind: "b" }),
      )
    ),
    swap && rect(
      "limit",
      [s.x(swap.at) - s.side(swap.mass) / 2, top - s.side(swap.mass)],
      s.side(swap.mass),
      s.side(swap.mass),
      "stroke-dasharray:3 2",
    ),
    swap && words([s.x(swap.at), top - s.side(swap.mass) - 6], `+${kg(swap.mass)} kg`, {
      anchor: "middle",
    }),
  );
}

/** Two bars from the pivot, one to each side: the sides pull alike. */
function sidesOf(s: Sheet, y: number): Html {
  const long = Math.min(s.pivot - 4, s.width - s.pivot - 4, 150),
    told = `${fixed(s.moment, 1)} N m`;
  return group(
    rect("zone-b", [s.pivot - long, y], long, 12, "stroke:var(--ink);stroke-width:.75"),
    rect("zone-b", [s.pivot, y], long, 12, "stroke:var(--ink);stroke-width:.75"),
    words([s.pivot - long, y + 28], `rear ${told}`),
    words([s.pivot + long, y + 28], `front ${told}`, { anchor: "end" }),
  );
}

function swapBars(s: Sheet, { pull, friction }: Swap, y: number): Html {
  const longest = Math.max(pull, friction), room = s.width - 4;
  const bar = (top: number, name: string, value: number, style: string): Html =>
    group(
      words([0, top], `${name} ${fixed(value, 2)} N m`),
      rect("zone-a", [0, top + 5], (room * value) / longest, 10, style),
    );
  return group(
    bar(y, "heavier eyepiece pulls", pull, "fill:var(--rouge-tint);stroke:var(--rouge)"),
    bar(y + 38, "friction can hold", friction, "fill:var(--glass-tint);stroke:var(--glass)"),
  );
}

function listOf(s: Sheet, y: number): { readonly drawn: Html; readonly height: number } {
  const columns = isNarrow(s.width) ? 1 : 2, wide = s.width / columns - 10;
  const rows = s.parts.map(({ name, mass, at }, i) =>
    linesOf(`${i + 1} ${name}: ${kg(mass)} kg at ${fixed(at)}`, wide)
  );
  const half = Math.ceil(rows.length / columns);
  let height = 0;
  const drawn = Array.from({ length: columns }, (_, column) => {
    let line = 0;
    const part = rows.slice(column * half, (column + 1) * half).map((lines) =>
      lines.map((text, k) =>
        words([column * (wide + 10) + (k > 0 ? 14 : 0), y + 17 * line++], text)
      )
    );
    height = Math.max(height, 17 * line);
    return part;
  });
  return { drawn: group(drawn), height };
}

function sheetOf(parts: readonly NamedPart[], swap: Swap | undefined, width: number): Sheet {
  const whole = balance(parts), small = isNarrow(width);
  const places = [0, ...parts.map(({ at }) => at), ...(swap === undefined ? [] : [swap.at])];
  const [first, last] = [Math.min(...places), Math.max(...places)], biggest = small ? 44 : 58;
  const most = Math.max(...parts.map(({ mass }) => mass));
  const side = (mass: number): number => Math.max(17, biggest * Math.sqrt(mass / most));
  const k = (width - biggest - 30) / Math.max(1, last - first);
  const x = (at: number): number => biggest / 2 + 4 + (at - first) * k;
  const sheet = { parts, swap, width, whole, x, side, pivot: x(whole.at), beam: 0 };
  const level = { ...sheet, moment: momentOf(parts, whole.at) };
  const high = Math.max(...stacked(level).map(({ corner }) => -corner[1]));
  const above = swap === undefined ? 8 : side(swap.mass) + 26;
  return { ...level, beam: high + above };
}

function draw(
  parts: readonly NamedPart[],
  swap: Swap | undefined,
  width: number,
  finding: string,
): Html {
  const s = sheetOf(parts, swap, width), sides = s.beam + 66;
  const bars = sides + 56, list = listOf(s, swap === undefined ? bars : bars + 82);
  return drawing({
    width,
    height: (swap === undefined ? bars : bars + 82) + list.height,
    finding,
    contents: [
      beamOf(s),
      weightsOf(s),
      sidesOf(s, sides),
      swap === undefined ? group() : swapBars(s, swap, bars),
      list.drawn,
    ],
  });
}

/**
 * The tube's parts on a beam, in their places, as large as they are heavy; the pivot; and, if told, what a heavier
 * eyepiece pulls and what the bearings' friction can hold.
 *
 * @param parts  one at least; masses g of 0 or more, not all 0, places mm from the rear end
 * @param swap   what is added where, and both moments, N m; default nothing
 * @throws {RangeError} where the parts have no balance, or a moment is below 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const parts = [{ name: "mirror", mass: 2000, at: 0 }, { name: "front", mass: 1000, at: 900 }];
 * assert.match(seesaw(parts).text, /balances 300 mm from its rear end: each side pulls 5\.9 N m/);
 * ```
 */
export function seesaw(parts: readonly NamedPart[], swap?: Swap): Shown {
  const { mass, at } = balance(parts);
  if (swap !== undefined && !(swap.pull >= 0 && swap.friction >= 0 && swap.mass >= 0)) {
    throw new RangeError(
      `seesaw requires moments and mass of 0 or more, got ${JSON.stringify(swap)}`,
    );
  }
  const holds = swap === undefined
    ? ""
    : ` A heavier eyepiece pulls ${fixed(swap.pull, 2)} N m, friction holds ${
      fixed(swap.friction, 2)
    } N m: the tube ${swap.friction >= swap.pull ? "stays" : "lets go"}.`;
  const finding = `A tube of ${kg(mass)} kg as a seesaw: it balances ${
    fixed(at)
  } mm from its rear end: each side pulls ${fixed(momentOf(parts, at), 1)} N m.${holds}`;
  return figure({
    finding,
    caption:
      safe`<b>Far and light balances near and heavy.</b> Each box is a part in its place, its area its mass; mm from the rear end. Both sides pull alike about the pivot.${
        swap === undefined
          ? ""
          : " Dashed: the heavier eyepiece, pulling while the tube points low."
      }`,
    draw: (width) => draw(parts, swap, width, finding),
  });
}

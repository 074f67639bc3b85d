/** Grains of abrasive side by side, all to one scale: what the letter and the number on a jar mean. */
import { digitsOf, fixed } from "../scale.ts";
import { figure } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { across, drawing, group, path, type Point, through, widthOf, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** One grade: its name with the letter, and its middle grain. */
export interface Grain {
  /** with the letter: "F120" */
  readonly name: string;
  /** middle grain, um */
  readonly sizeUm: number;
}

/** Grades to draw, and grades of like numbers that must not be mixed up. */
export interface Grains {
  /** coarse to fine */
  readonly ladder: readonly Grain[];
  /** drawn beneath, larger */
  readonly alike?: readonly Grain[];
}

/** A grain's corners, as shares of its radius: broken, not round. */
const corners = [1.05, 0.86, 1.08, 0.93, 1.12, 0.84, 1.02, 0.9] as const;

/** The outline of a grain whose mean width is `across`, px. */
function outline([x, y]: Point, width: number): string {
  return through(
    corners.map((share, i): Point => {
      const angle = 2 * Math.PI * (i + 0.3) / corners.length;
      return [x + share * width / 2 * Math.cos(angle), y + share * width / 2 * Math.sin(angle)];
    }),
    true,
  );
}

function um(size: number): string {
  return `${fixed(size, Math.min(1, digitsOf(size)))} µm`;
}

/** Grains in rows, each over its name and size, wrapped where the sheet ends. */
function rows(grains: readonly Grain[], k: number, top: number, width: number): [Html, number] {
  const parts: Html[] = [];
  let x = 0, from = 0, y = top;
  const wide = ({ name, sizeUm }: Grain): number =>
    Math.max(sizeUm * k * 1.08, widthOf(um(sizeUm)), widthOf(name)) + 12;
  while (from < grains.length) {
    let to = from, used = 0;
    for (let room = width; to < grains.length; to++) {
      room -= wide(grains[to] as Grain);
      if (room < -12 && to > from) break;
      used += wide(grains[to] as Grain);
    }
    const row = grains.slice(from, to), high = Math.max(...row.map(({ sizeUm }) => sizeUm * k));
    const gap = row.length > 1 ? Math.min(24, (width - used + 12) / (row.length - 1)) : 0;
    x = 0;
    for (const grain of row) {
      const middle = x + (wide(grain) - 12) / 2, foot = y + high * 1.08;
      parts.push(
        path("steel", outline([middle, foot - grain.sizeUm * k * 0.52], grain.sizeUm * k)),
        words([middle, foot + 18], grain.name, { kind: "b", anchor: "middle" }),
        words([middle, foot + 34], um(grain.sizeUm), { kind: "soft", anchor: "middle" }),
      );
      x += wide(grain) + Math.max(0, gap);
    }
    y += high * 1.08 + 54;
    from = to;
  }
  return [group(...parts), y];
}

function draw({ ladder, alike = [] }: Grains, width: number, finding: string): Html {
  const most = Math.max(...ladder.map(({ sizeUm }) => sizeUm)), k = width * 0.27 / most;
  const [grains, end] = rows(ladder, k, 6, width);
  const step = most > 60 ? 100 : 10, bar = step * k;
  const times = Math.max(
    2,
    Math.round(width * 0.2 / k / Math.max(1, ...alike.map((g) => g.sizeUm))),
  );
  const [others, foot] = alike.length === 0
    ? [group(), end + 26]
    : rows(alike, k * times, end + 62, width);
  return drawing({
    width,
    height: foot,
    finding,
    contents: group(
      grains,
      across(0, bar, end + 4),
      words([bar + 10, end + 9], `${fixed(step)} µm, one scale for all`, { kind: "soft" }),
      alike.length > 0 &&
        words([0, end + 44], `Like numbers, other grains, ${times} times as large:`),
      others,
    ),
  });
}

/**
 * A ladder of grains to one scale, and beneath it grades that share a number and nothing else.
 *
 * @param grains  sizes in um, above 0; the ladder from coarse to fine
 * @throws {RangeError} for an empty ladder, a size that is not above 0, or a ladder that does not fall
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = grainLadder({
 *   ladder: [{ name: "F80", sizeUm: 185 }, { name: "F120", sizeUm: 109 }],
 *   alike: [{ name: "F400", sizeUm: 17.3 }, { name: "#400", sizeUm: 30 }],
 * });
 * assert.match(shown.text, /F80 185 µm, F120 109 µm.*F400 17\.3 µm, #400 30 µm/);
 * ```
 */
export function grainLadder(grains: Grains): Shown {
  const { ladder, alike = [] } = grains;
  const sound = [...ladder, ...alike].every(({ sizeUm }) => sizeUm > 0 && sizeUm < Infinity);
  const falls = ladder.every(({ sizeUm }, i) => sizeUm < (ladder[i - 1]?.sizeUm ?? Infinity));
  if (ladder.length === 0 || !sound || !falls) {
    throw new RangeError(
      `grainLadder requires grains above 0 um from coarse to fine, got ${
        ladder.map(({ name, sizeUm }) => `${name} ${sizeUm}`).join(", ")
      }`,
    );
  }
  const list = (some: readonly Grain[]): string =>
    some.map(({ name, sizeUm }) => `${name} ${um(sizeUm)}`).join(", ");
  const finding = `Grains of each grade to one scale: ${list(ladder)}.` +
    (alike.length === 0 ? "" : ` Grades of like numbers, drawn larger: ${list(alike)}.`);
  return figure({
    finding,
    caption:
      safe`<b>The letter is half of the name.</b> Each grain has the middle size of its grade: half of the powder is finer. The shapes are invented, the widths are not.`,
    draw: (width) => draw(grains, width, finding),
  });
}

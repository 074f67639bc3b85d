/** The glass seen from the tester, the mark at the top: shades and contour lines of its height, and the high diameter. */
import type { Measured } from "../../quantity/measured.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, rect, stroke, through, words } from "../pen.ts";
import { digitsOf, fixed, roundStep, signed, ticks } from "../scale.ts";
import type { Shown } from "../show.ts";
import { inWords } from "../words.ts";

/** A surface that is more than one profile; lengths mm, heights nm of glass, mean and focus removed. */
export interface SeenFromAbove {
  /** mean over all diameters, from the middle to the judged rim */
  readonly profile: readonly { readonly radius: number; readonly height: number }[];
  /** the glass stands higher by amplitude x (r / rim)^2 x cos 2(angle - axis), counter-clockwise from the mark */
  readonly astigmatism: {
    /** nm */
    readonly amplitude: Measured;
    /** of the high diameter, degrees counter-clockwise from the mark */
    readonly axis: Measured;
    /** of the amplitude, nm; from 0 where a round mirror is not excluded */
    readonly interval95: readonly [low: number, high: number];
  };
  /** peak to valley of the whole surface, nm */
  readonly pv?: Measured;
  /** of the flat's shadow, mm; drawn where it is known */
  readonly shadowRadius?: number;
  /** a smaller disc and fewer words, for a sheet that has much else to hold */
  readonly isCompact?: boolean;
  readonly wanted?: "paraboloid" | "sphere";
  readonly whose?: "yours" | "demo";
}

/** Rays on which heights are taken, and places along each. */
const RAYS = 72, ALONG = 60;
/** Bands of height, about. */
const BANDS = 8;
/** How often the angle between two rays is halved to find where a contour closes or parts. */
const HALVINGS = 9;

type Interval = readonly [from: number, to: number];

interface Relief {
  readonly rim: number;
  /** heights from the middle to the rim at an angle from the mark, rad; nm */
  readonly along: (angle: number) => readonly number[];
  readonly low: number;
  readonly high: number;
  readonly step: number;
  /** heights of the contour lines, nm */
  readonly levels: readonly number[];
}

function heightAt(profile: SeenFromAbove["profile"], r: number): number {
  const next = profile.findIndex(({ radius }) => radius >= r);
  const after = profile[next === -1 ? profile.length - 1 : next], before = profile[next - 1];
  if (after === undefined) return 0;
  if (before === undefined || next === -1) return after.height;
  const share = (r - before.radius) / (after.radius - before.radius || 1);
  return before.height + share * (after.height - before.height);
}

/**
 * The surface that is drawn, as a function of the place.
 *
 * @returns height, nm of glass, at a share of the rim's radius and an angle counter-clockwise from the mark, rad
 */
export function heightFromAbove(
  { profile, astigmatism }: Pick<SeenFromAbove, "profile"> & {
    readonly astigmatism?: Pick<SeenFromAbove["astigmatism"], "amplitude" | "axis">;
  },
): (share: number, angle: number) => number {
  const rim = profile.at(-1)?.radius ?? 0, amplitude = astigmatism?.amplitude.value ?? 0;
  const high = ((astigmatism?.axis.value ?? 0) * Math.PI) / 180;
  return (share, angle) =>
    heightAt(profile, share * rim) + amplitude * Math.cos(2 * (angle - high)) * share ** 2;
}

function reliefOf(seen: SeenFromAbove): Relief {
  const rim = seen.profile.at(-1)?.radius ?? 0, height = heightFromAbove(seen);
  const shares = Array.from({ length: ALONG + 1 }, (_, k) => k / ALONG);
  const along = (angle: number): number[] => shares.map((share) => height(share, angle));
  const all = Array.from({ length: RAYS }, (_, i) => along((2 * Math.PI * i) / RAYS)).flat();
  const low = Math.min(...all), high = Math.max(...all), step = roundStep(high - low, BANDS);
  const levels = ticks(low, high, BANDS).filter((level) => level > low && level < high);
  return { rim, along, low, high, step, levels };
}

/** Where one ray stands at a level or above it, as shares of the rim. */
function above(ray: readonly number[], level: number): Interval[] {
  const found: Interval[] = [];
  let from = (ray[0] ?? 0) >= level ? 0 : undefined;
  for (let k = 1; k < ray.length; k++) {
    const before = ray[k - 1] ?? 0, here = ray[k] ?? 0;
    if ((before >= level) === (here >= level)) continue;
    const at = (k - 1 + (level - before) / (here - before)) / ALONG;
    if (from === undefined) from = at;
    else found.push([from, at]), from = undefined;
  }
  if (from !== undefined) found.push([from, 1]);
  return found;
}

/** A piece of the glass that stands above a level: one interval on each of some neighbouring rays. */
type Piece = { readonly angle: number; readonly interval: Interval }[];

/** Pieces grow from ray to ray; where their number changes they end, and others begin at the same angle. */
function piecesAbove({ along }: Relief, level: number): Piece[] {
  const done: Piece[] = [], cut = (angle: number): Interval[] => above(along(angle), level);
  let open: Piece[] = [];
  const add = (angle: number, intervals: readonly Interval[]): void => {
    if (intervals.length !== open.length) {
      done.push(...open);
      open = intervals.map(() => []);
    }
    open.forEach((piece, j) => piece.push({ angle, interval: intervals[j] ?? [0, 0] }));
  };
  const between = (a: number, b: number, halvings: number): void => {
    const before = cut(a), after = cut(b);
    if (before.length !== after.length && halvings > 0) {
      between(a, (a + b) / 2, halvings - 1);
      between((a + b) / 2, b, halvings - 1);
    } else if (before.length !== after.length) {
      add(a, before);
      add(a, after);
    }
    add(b, after);
  };
  add(0, cut(0));
  for (let i = 0; i < RAYS; i++) {
    between((2 * Math.PI * i) / RAYS, (2 * Math.PI * (i + 1)) / RAYS, HALVINGS);
  }
  return [...done, ...open].filter((piece) => piece.length > 1);
}

/** Place of a share of the rim at an angle; the mark is at the top, angles grow counter-clockwise. */
type Place = (share: number, angle: number) => Point;

function outline(piece: Piece, at: Place): string {
  const out = piece.map(({ interval: [, to], angle }) => at(to, angle));
  const back = piece.map(({ interval: [from], angle }) => at(from, angle)).reverse();
  return through([...out, ...back], true);
}

/** Both edges of a piece where they are contour lines, not the middle and not the rim. */
function contours(piece: Piece, at: Place): string {
  return ([0, 1] as const).map((end) => {
    const lines: Point[][] = [[]];
    for (const { interval, angle } of piece) {
      const share = interval[end];
      if (share === end) lines.push([]);
      else lines.at(-1)?.push(at(share, angle));
    }
    return lines.filter((line) => line.length > 1).map((line) => through(line)).join("");
  }).join("");
}

/** Paper tinted with the glass's colour: darker is higher, so that grey print keeps the order. */
function shade(band: number, count: number): string {
  const strength = 6 + (72 * band) / Math.max(1, count);
  return `fill:color-mix(in srgb, var(--glass) ${Math.round(strength)}%, var(--paper));stroke:none`;
}

const LINE = "fill:none;stroke:var(--ink);stroke-opacity:.45;stroke-width:.7";
const ZERO = "fill:none;stroke:var(--ink);stroke-width:1.2";
const DASHES = "stroke-dasharray:7 4", DOTS = "stroke-dasharray:2 3";

function face(seen: SeenFromAbove, relief: Relief, centre: Point, radius: number): Html {
  const at: Place = (share, angle) => [
    centre[0] - share * radius * Math.sin(angle),
    centre[1] - share * radius * Math.cos(angle),
  ];
  const { levels } = relief, pieces = levels.map((level) => piecesAbove(relief, level));
  const { axis, interval95 } = seen.astigmatism, reach = 1 + 12 / radius;
  const toward = (axis.value * Math.PI) / 180;
  return group(
    dot("tone", centre, radius, shade(0, levels.length)),
    pieces.map((own, i) =>
      path("tone", own.map((piece) => outline(piece, at)).join(""), shade(i + 1, levels.length))
    ),
    pieces.map((own, i) =>
      path(
        "contour",
        own.map((piece) => contours(piece, at)).join(""),
        levels[i] === 0 ? ZERO : LINE,
      )
    ),
    dot("rim", centre, radius),
    seen.shadowRadius !== undefined &&
      dot("lead", centre, (seen.shadowRadius / relief.rim) * radius, `stroke:var(--ink);${DOTS}`),
    stroke(
      "limit",
      at(reach, toward),
      at(reach, toward + Math.PI),
      interval95[0] > 0 ? "stroke-dasharray:none" : DASHES,
    ),
    path(
      "mine",
      through([
        [centre[0], centre[1] - radius - 3],
        [centre[0] - 5, centre[1] - radius - 12],
        [centre[0] + 5, centre[1] - radius - 12],
      ], true),
    ),
    words([centre[0], centre[1] - radius - 18], "mark", { anchor: "middle" }),
  );
}

/** The face alone, for a figure that draws more on it: tints, contour lines, mark; and the step between two lines, nm. */
export function faceFromAbove(
  seen: Pick<SeenFromAbove, "profile" | "astigmatism">,
  centre: Point,
  radius: number,
): { readonly markup: Html; readonly step: number } {
  const relief = reliefOf(seen);
  return { markup: face(seen, relief, centre, radius), step: relief.step };
}

/** The shades with the heights at their borders: a column on a wide sheet, a row on a narrow one. */
function key({ levels, step }: Relief, [x, y]: Point, small: boolean): Html {
  const count = levels.length + 1, side = small ? Math.min(34, 300 / count) : 18;
  return group(
    Array.from({ length: count }, (_, band) => {
      const corner: Point = small ? [x + band * side, y] : [x, y + (count - 1 - band) * side];
      return rect("band", corner, side, small ? 14 : side, shade(band, count - 1));
    }),
    levels.map((level, i) =>
      small && side < 32 && Math.round(level / step) % 2 !== 0
        ? group()
        : small
        ? words([x + (i + 1) * side, y + 29], signed(level, digitsOf(step)), { anchor: "middle" })
        : words([x + side + 8, y + (count - 1 - i) * side + 4], signed(level, digitsOf(step)))
    ),
  );
}

function draw(seen: SeenFromAbove, relief: Relief, width: number, finding: string): Html {
  const small = isNarrow(width), top = 34;
  const radius = seen.isCompact === true ? 92 : small ? 126 : 140;
  const centre: Point = [small ? width / 2 : 164, top + radius];
  const bottom = top + 2 * radius, count = relief.levels.length + 1;
  const keyAt: Point = small
    ? [(width - count * Math.min(34, 300 / count)) / 2, bottom + 46]
    : [366, 66];
  const below = small ? bottom + 104 : Math.max(66 + count * 18 + 36, 214);
  const x = small ? 20 : 366, { axis, interval95 } = seen.astigmatism;
  const sure = interval95[0] > 0;
  return drawing({
    width,
    height: small ? below + (seen.shadowRadius === undefined ? 6 : 28) : bottom + 22,
    finding,
    contents: [
      face(seen, relief, centre, radius),
      words(small ? [width / 2, bottom + 36] : [x, 52], "Height of the glass (nm)", {
        anchor: small ? "middle" : "start",
      }),
      key(relief, keyAt, small),
      stroke(
        "limit",
        [x, below - 4],
        [x + 26, below - 4],
        sure ? "stroke-dasharray:none" : DASHES,
      ),
      words([x + 34, below], `high diameter, ${fixed(axis.value)}°${sure ? "" : ", not sure"}`),
      seen.shadowRadius !== undefined && group(
        stroke("lead", [x, below + 18], [x + 26, below + 18], `stroke:var(--ink);${DOTS}`),
        words([x + 34, below + 22], "shadow of the flat"),
      ),
    ].filter((part) => part !== false),
  });
}

function findingOf(seen: SeenFromAbove, { low, high }: Relief): string {
  const { astigmatism: { amplitude, axis, interval95 }, wanted = "paraboloid", whose, pv } = seen;
  const told = pv === undefined ? "" : ` Peak to valley ${inWords(pv)} of glass.`;
  const where = interval95[0] > 0
    ? `highest along the diameter at ${fixed(axis.value)} ± ${
      fixed(axis.u)
    } degrees, counter-clockwise from the mark`
    : `perhaps none: a round mirror is not excluded; if there is any, the high diameter is likeliest at ${
      fixed(axis.value)
    } degrees, counter-clockwise from the mark`;
  return `${
    whose === "demo" ? "The demo’s glass" : "The glass"
  } over the best ${wanted}, seen from the tester with the mark at the top: from ${
    signed(low)
  } to ${signed(high)} nm.${told} Astigmatism of amplitude ${inWords(amplitude)}, ${where}.`;
}

/**
 * The whole surface from above: the mean profile and what differs from diameter to diameter.
 *
 * @param seen  at least two points of the profile, radii rising from the middle; amplitude 0 or more
 * @throws {RangeError} with fewer points, radii that do not rise, or a value that is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { measured } from "../../quantity/measured.ts";
 * const shown = surfaceFromAbove({
 *   profile: [{ radius: 0, height: 10 }, { radius: 52, height: -8 }, { radius: 74, height: 12 }],
 *   astigmatism: { amplitude: measured(46, 8, "nm"), axis: measured(30, 5, "deg"), interval95: [30, 62] },
 * });
 * assert.match(shown.text, /highest along the diameter at 30 ± 5 degrees/);
 * ```
 */
export function surfaceFromAbove(seen: SeenFromAbove): Shown {
  const { profile, astigmatism: { amplitude, axis, interval95 } } = seen;
  const rising = profile.every(({ radius }, i) => radius > (profile[i - 1]?.radius ?? -1));
  const numbers = [
    ...profile.map(({ height }) => height),
    ...[amplitude.value, amplitude.u, axis.value, axis.u, ...interval95, seen.shadowRadius ?? 0],
  ];
  if (profile.length < 2 || !rising || !(amplitude.value >= 0) || !numbers.every(Number.isFinite)) {
    throw new RangeError(
      `surfaceFromAbove requires two points or more with rising radii in mm, finite heights and an amplitude of 0 or more in nm, got ${profile.length} points, amplitude=${amplitude.value}, axis=${axis.value}`,
    );
  }
  const relief = reliefOf(seen), finding = findingOf(seen, relief);
  const sure = interval95[0] > 0;
  return figure({
    finding,
    caption: safe`<b>${
      sure
        ? `The mirror is not round: two diameters differ by ${
          fixed(2 * amplitude.value)
        } nm at the rim.`
        : "No astigmatism is shown: the likeliest surface is drawn."
    }</b> The stronger the tint, the higher the glass; a line every ${
      fixed(relief.step, digitsOf(relief.step))
    } nm, the strong one at 0.${
      seen.isCompact !== true &&
      " Seen from the tester, the mark at the top; angles run counter-clockwise."
    }${seen.whose === "demo" && " Demo mirror, not yours."}`,
    draw: (width) => draw(seen, relief, width, finding),
  });
}

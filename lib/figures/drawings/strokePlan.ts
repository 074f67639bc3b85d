/** Two discs from above and cut through, the upper one hanging over: where it presses, and so where both wear. */
import { digitsOf, fixed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { across, dot, down, drawing, group, path, type Point, rect, stroke } from "../pen.ts";
import { through, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** A stroke on two discs of one size; mm. */
export interface Stroke {
  /** diameter of both discs */
  readonly aperture: number;
  /** how far beside the lower disc's centre the upper one's passes */
  readonly offset: number;
  /** from end to end */
  readonly travel: number;
}

/** A strip of the overlap: distance from the lower disc's centre, half its length, pressure over the mean. */
export interface Strip {
  readonly x: number;
  readonly half: number;
  readonly pressure: number;
}

const strips = 60, layers = 16;

/** Half of the overlap's length at a distance from the lower disc's centre, mm. */
function halfAt(x: number, aperture: number, offset: number): number {
  const out = Math.max(Math.abs(x), Math.abs(x - offset));
  return Math.sqrt(Math.max(0, aperture * aperture / 4 - out * out));
}

/**
 * Pressure across the overlap of two flat discs, in the middle of the stroke.
 *
 * The layer of grains carries more where it is squeezed more, the upper disc is rigid, and its load stands on its centre:
 * so pressure grows evenly from a line x0 outwards, where x0 leaves no moment about that centre. Past x0 it has lifted off.
 *
 * @param aperture  mm, above 0
 * @param offset    of the centres, mm, 0 or more and below half the aperture
 * @example at 20 mm of 150 the lower disc's rim carries 1.6 times the mean
 * ```ts
 * import assert from "node:assert/strict";
 * const last = pressureAcross(150, 20).at(-1);
 * assert.ok(last !== undefined && last.pressure > 1.55 && last.pressure < 1.63);
 * ```
 */
export function pressureAcross(aperture: number, offset: number): readonly Strip[] {
  const a = aperture / 2, width = (aperture - offset) / strips;
  const across = Array.from({ length: strips }, (_, i) => {
    const x = offset - a + (i + 0.5) * width;
    return { x, half: halfAt(x, aperture, offset) };
  });
  const moment = (x0: number): number =>
    across.reduce((sum, { x, half }) => sum + half * Math.max(0, x - x0) * (x - offset), 0);
  let low = -1e6 * a, high = offset;
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (moment(middle) > 0) high = middle;
    else low = middle;
  }
  const load = across.reduce((sum, { x, half }) => sum + half * Math.max(0, x - low), 0);
  const area = across.reduce((sum, { half }) => sum + half, 0);
  return across.map(({ x, half }) => ({
    x,
    half,
    pressure: Math.max(0, x - low) * area / load,
  }));
}

interface Sheet extends Stroke {
  readonly width: number;
  readonly small: boolean;
  /** px for 1 mm */
  readonly k: number;
  /** the lower disc's centre, from above, px */
  readonly centre: Point;
  /** where the cut's two faces lie, px */
  readonly upperFace: number;
  readonly lowerFace: number;
  readonly across: readonly Strip[];
}

function sheetOf(one: Stroke, width: number): Sheet {
  const { aperture, offset, travel } = one, small = isNarrow(width);
  const k = (small ? 300 : 320) / (aperture + offset);
  const top = 26 + k * (aperture + travel) / 2;
  const centre: Point = [(small ? 16 : 20) + k * aperture / 2, top];
  const foot = top + k * (aperture + travel) / 2 + 44;
  const across = pressureAcross(aperture, offset);
  return { ...one, width, small, k, centre, across, upperFace: foot + 44, lowerFace: foot + 100 };
}

function length(mm: number): string {
  return mm === 0 ? "0" : fixed(mm, Math.min(1, digitsOf(Number(mm.toFixed(1)))));
}

/** The overlap in greys that grow evenly with the pressure: layer upon layer, each reaching less far in. */
function greys({ across, centre: [cx, cy], k, aperture, offset }: Sheet): Html {
  const most = Math.max(...across.map(({ pressure }) => pressure)), a = aperture / 2;
  const darkest = Math.min(0.75, 0.28 * most);
  return group(Array.from({ length: layers }, (_, i) => {
    const first = across.find(({ pressure }) => pressure >= most * (i + 0.5) / layers);
    if (first === undefined) return undefined;
    const start = first === across[0] ? offset - a : first.x;
    const edge = (side: number): Point[] =>
      Array.from({ length: 41 }, (_, j): Point => {
        // close together at the tips, where the outline is steep
        const x = start + (a - start) * (1 - Math.cos(Math.PI * j / 40)) / 2;
        return [cx + k * x, cy + side * k * halfAt(x, aperture, offset)];
      });
    const below = darkest * i / layers, layer = 1 - (1 - below - darkest / layers) / (1 - below);
    const style = `fill:var(--ink);stroke:none;opacity:${layer.toFixed(4)}`;
    return path("", through([...edge(-1), ...edge(1).reverse()], true), style);
  }));
}

function plan(sheet: Sheet): Html {
  const { centre: [cx, cy], k, aperture, offset, travel, small } = sheet, r = k * aperture / 2;
  const over = cx + k * offset, reach = k * travel / 2, right = over + r;
  const end = (side: number): Html =>
    dot("lead", [over, cy + side * reach], r, "stroke-dasharray:2 4");
  return group(
    dot("theirs", [cx, cy], r, "fill:var(--tint)"),
    greys(sheet),
    end(-1),
    end(1),
    dot("rim", [over, cy], r, "stroke-width:1.5"),
    down(over, cy - reach, cy + reach),
    dot("dim", [cx, cy], 2.5, "fill:var(--ink)"),
    offset > 0 && across(cx, over, cy + r + reach + 14),
    words([cx - r + 12, cy + 5], "lower"),
    words([right - 8, cy + 5], "upper", { kind: "t-glass", anchor: "end" }),
    small && words([16, 16], `stroke ${length(travel)}, ${length(offset)} beside the centre`),
  );
}

/** What stands beside the plan on a wide sheet: names with their lengths. */
function beside(
  { centre: [cx, cy], k, aperture, offset, travel, upperFace, lowerFace }: Sheet,
): Html {
  const r = k * aperture / 2, over = cx + k * offset, x = over + r + 26;
  const end: Point = [over, cy - k * travel / 2];
  return group(
    stroke("lead", [end[0] + 7, end[1] + 4], [x - 6, 44]),
    words([x, 42], `stroke, ${length(travel)} from end to end`, { kind: "b" }),
    words([x, 60], "dotted: the ends of the stroke", { kind: "soft" }),
    words([x, cy - 6], "the overlap:"),
    words([x, cy + 12], "the stronger the grey,"),
    words([x, cy + 30], "the more it presses"),
    words([over + 10, cy + r + k * travel / 2 + 19], `${length(offset)} beside the centre`, {
      kind: "b",
    }),
    offset > 0 && [
      words([x, upperFace - 4], "its middle carries,"),
      words([x, upperFace + 14], "and wears hollow"),
      words([x, lowerFace + 16], "its rim carries,"),
      words([x, lowerFace + 34], "and wears domed"),
    ],
  );
}

/** The cut along the line of centres: both discs, and between them the pressure. */
function section(sheet: Sheet): Html {
  const { centre: [cx], k, aperture, offset, upperFace, lowerFace, across, small } = sheet;
  const r = k * aperture / 2, thick = 24, most = Math.max(...across.map((s) => s.pressure));
  const high = (lowerFace - upperFace - 12) / most;
  const line = across.map((s): Point => [cx + k * s.x, lowerFace - high * s.pressure]);
  const first = line[0] ?? [cx, lowerFace], last = line.at(-1) ?? first;
  const filled = through([[first[0], lowerFace], ...line, [last[0], lowerFace]], true);
  return group(
    rect("body", [cx + k * offset - r, upperFace - thick], 2 * r, thick),
    rect("rim", [cx + k * offset - r, upperFace - thick], 2 * r, thick),
    rect("theirs", [cx - r, lowerFace], 2 * r, thick, "fill:var(--tint)"),
    path("", filled, "fill:var(--ink);stroke:none;opacity:.35"),
    stroke("lead", [cx + k * offset, upperFace - thick - 8], [cx + k * offset, lowerFace]),
    words([cx + k * offset - r + 8, upperFace - 7], "upper, cut", { kind: "t-glass" }),
    words([cx - r + 8, lowerFace + 17], "lower, cut"),
    small && words([16, lowerFace + thick + 22], "between them: the pressure"),
  );
}

/**
 * The stroke from above and the two discs cut through, with the pressure between them as long as both are flat.
 *
 * @param one  mm; aperture above 0, the upper disc's centre over the lower disc, travel above 0 and no longer than the disc
 * @throws {RangeError} for a stroke longer than the disc, or an overhang at which the upper disc tips
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = strokePlan({ aperture: 150, offset: 37.5, travel: 50 });
 * assert.match(shown.text, /37\.5 mm beside the centre/);
 * ```
 */
export function strokePlan(one: Stroke): Shown {
  const { aperture, offset, travel } = one;
  if (!(aperture > 0 && offset >= 0 && travel > 0 && travel <= aperture)) {
    throw new RangeError(
      `strokePlan requires offset of 0 or more and a stroke no longer than the disc in mm, got aperture=${aperture}, offset=${offset}, travel=${travel}`,
    );
  }
  if (!(Math.hypot(offset, travel / 2) < aperture / 2)) {
    throw new RangeError(
      `strokePlan requires the upper disc's centre to stay over the lower disc in mm, got offset=${offset}, travel=${travel} of ${aperture} at which it tips`,
    );
  }
  const rim = fixed(pressureAcross(aperture, offset).at(-1)?.pressure ?? 1, 1);
  const says = offset === 0
    ? "The overlap carries alike everywhere"
    : `The lower disc’s rim carries ${rim} times the mean; it fades towards the upper disc’s own rim`;
  const finding = `Two discs of ${length(aperture)} mm from above, the upper one passing ${
    length(offset)
  } mm beside the centre in strokes of ${length(travel)} mm. ${says}.`;
  return figure({
    finding,
    caption:
      safe`<b>${says}.</b> One scale, in mm, but for the thickness; flat discs in the middle of a stroke, the hand’s push on the upper one’s centre.`,
    draw: (width) => {
      const sheet = sheetOf(one, width);
      return drawing({
        width,
        height: sheet.lowerFace + (sheet.small ? 56 : 44),
        finding,
        contents: group(plan(sheet), section(sheet), !sheet.small && beside(sheet)),
      });
    },
  });
}

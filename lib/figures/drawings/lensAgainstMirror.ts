/** A lens bends blue more than red, a mirror turns all colours alike: both on one sheet, to one scale. */
import { fixed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, place, type Point, stroke, through, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** A lens and a mirror of one size; lengths mm. */
export interface LensAndMirror {
  /** clear width */
  readonly aperture: number;
  /** of both */
  readonly focalLength: number;
  /** how far the red focus lies behind the blue one */
  readonly split: number;
}

/** How many times larger the foci are drawn beneath. */
const larger = 10;

interface Sheet extends LensAndMirror {
  readonly x: number;
  /** px for 1 mm */
  readonly k: number;
  readonly small: boolean;
  readonly width: number;
}

/** Both rim rays to a focus, by the colour of the ray. */
function cone(s: Sheet, y: number, focus: number, colour: string): Html {
  const half = s.aperture / 2 * s.k, end = s.x + focus * s.k;
  return group([-1, 1].map((side) => stroke(`ray${colour}`, [s.x, y + side * half], [end, y])));
}

/** The crossing rays near a focus, ten times as large: the slope stays, only the place moves. */
function crossing(s: Sheet, [x, y]: Point, at: number, colour: string, reach: number): Html {
  const slope = s.aperture / (2 * s.focalLength), centre = x + at * s.k * larger;
  return group([-1, 1].map((side) =>
    path(
      `ray${colour}`,
      through([
        [x - reach, y - side * slope * (centre - x + reach)],
        [x + reach, y + side * slope * (x + reach - centre)],
      ]),
    )
  ));
}

function lens(s: Sheet, y: number): Html {
  const half = s.aperture / 2 * s.k, bow = Math.max(5, half / 4), x = s.x;
  const [t, l] = [place(y - half), place(y + half)];
  const shape = `M${place(x)},${t}Q${place(x + bow)},${place(y)} ${place(x)},${l}Q${
    place(x - bow)
  },${place(y)} ${place(x)},${t}Z`;
  return group(path("body", shape), path("rim", shape));
}

function mirror(s: Sheet, y: number): Html {
  const half = s.aperture / 2 * s.k, back = Math.max(4, s.aperture / 6 * s.k);
  const bow = s.aperture ** 2 / (8 * s.focalLength) * s.k;
  const [x, t, l, rear] = [s.x, y - half, y + half, s.x - back].map(place);
  const face = `M${x},${t}Q${place(s.x - bow)},${place(y)} ${x},${l}`;
  return group(path("body", `${face}H${rear}V${t}Z`), path("silvered", face));
}

function lensRow(s: Sheet, y: number): Html {
  const half = s.aperture / 2 * s.k, near = s.focalLength - s.split / 2;
  const far = s.focalLength + s.split / 2, at: Point = [s.x + s.focalLength * s.k, y];
  return group(
    [-1, 1].map((side) => stroke("ray", [2, y + side * half], [s.x, y + side * half])),
    cone(s, y, far, " red"),
    cone(s, y, near, " blue"),
    lens(s, y),
    words([s.x + 12, y - half - 8], "lens"),
    words([at[0], y - 14], `foci ${fixed(s.split, 1)} apart`, { anchor: "middle" }),
    dot("mine", [s.x + near * s.k, y], 2.5),
    dot("theirs", [s.x + far * s.k, y], 2.5, "stroke:var(--rouge)"),
  );
}

function mirrorRow(s: Sheet, y: number): Html {
  const half = s.aperture / 2 * s.k, end = s.width - 2, focus = s.x + s.focalLength * s.k;
  return group(
    [-1, 1].map((side) => stroke("ray", [end, y + side * half], [s.x, y + side * half])),
    cone(s, y, s.focalLength, ""),
    mirror(s, y),
    words([s.x + 12, y - half - 8], "mirror"),
    words([focus, y - half - 8], "one focus", { anchor: "middle" }),
    dot("mine", [focus, y], 3),
  );
}

/** The foci ten times as large: two crossings for the lens, one for the mirror. */
function enlarged(s: Sheet, y: number): Html {
  const reach = Math.min(s.small ? 78 : 130, s.split / 2 * s.k * larger + 60);
  const left = s.small ? 82 : 160, right = s.small ? s.width - 82 : s.width - 160;
  const middle: Point = [left, y], other: Point = [right, y], half = s.split / 2;
  return group(
    crossing(s, middle, half, " red", reach),
    crossing(s, middle, -half, " blue", reach),
    dot("mine", [left - half * s.k * larger, y], 3),
    dot("theirs", [left + half * s.k * larger, y], 3, "stroke:var(--rouge)"),
    words([left - half * s.k * larger, y - 15], "blue", { anchor: "middle", kind: "t-glass" }),
    words([left + half * s.k * larger, y - 15], "red", { anchor: "middle", kind: "t-rouge" }),
    crossing(s, other, 0, "", reach),
    dot("mine", other, 3),
    words([right, y - 15], "all colours", { anchor: "middle" }),
    words([left, y + 32], `lens’s foci, × ${larger}`, { anchor: "middle", kind: "soft" }),
    words([right, y + 32], `mirror’s focus, × ${larger}`, { anchor: "middle", kind: "soft" }),
  );
}

function draw(parts: LensAndMirror, width: number, finding: string): Html {
  const small = isNarrow(width), x = small ? 34 : 56;
  const k = (width - x - (small ? 56 : 90)) / parts.focalLength;
  const s: Sheet = { ...parts, x, k, small, width }, half = parts.aperture / 2 * k;
  const first = 34 + half, second = first + 2 * half + 52, third = second + half + 52;
  return drawing({
    width,
    height: third + 62,
    finding,
    contents: group(
      lensRow(s, first),
      mirrorRow(s, second),
      enlarged(s, third),
      words([width, third + 58], "all lengths to one scale, in mm", {
        kind: "soft",
        anchor: "end",
      }),
    ),
  });
}

/**
 * The two foci of a single lens beside the one focus of a mirror.
 *
 * @param parts  lengths in mm, all above 0; the split well below the focal length
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = lensAgainstMirror({ aperture: 150, focalLength: 1200, split: 18.6 });
 * assert.match(shown.text, /18.6 mm behind/);
 * ```
 */
export function lensAgainstMirror(parts: LensAndMirror): Shown {
  const { aperture, focalLength, split } = parts;
  if (!(aperture > 0 && focalLength > aperture && split > 0 && split < focalLength / 4)) {
    throw new RangeError(
      `lensAgainstMirror requires 0 < aperture < focalLength and 0 < split < focalLength / 4 in mm, got ${aperture}, ${focalLength}, ${split}`,
    );
  }
  const blur = fixed(split * aperture / (2 * focalLength), 2);
  const finding =
    `A lens and a mirror of ${fixed(aperture)} mm and ${
      fixed(focalLength)
    } mm focal length, to one scale. ` +
    `The lens’s red focus lies ${
      fixed(split, 1)
    } mm behind its blue one; the mirror has one focus for all colours.`;
  return figure({
    span: "wide",
    finding,
    caption:
      safe`<b>A mirror bends all colours alike.</b> Between its two foci the lens’s light is nowhere narrower than about ${blur} mm. Solid is blue light, dashed is red, thin is every colour.`,
    draw: (width) => draw(parts, width, finding),
  });
}

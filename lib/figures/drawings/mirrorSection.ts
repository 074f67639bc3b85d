/** The disc in section under a straight-edge: one scale both ways, only depth and bevel drawn larger, and said so. */
import { sagitta } from "../../optics/sphere.ts";
import { digitsOf, fixed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { across, down, drawing, group, path, place, rect, stroke, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** How the face is drawn: dotted while it is ground, thin once polished, thick when coated. */
export type Face = "ground" | "polished" | "silvered";

/** A disc under a straight-edge; lengths mm. */
export interface SectionedMirror {
  /** diameter of the disc */
  readonly aperture: number;
  /** radius of curvature of the face */
  readonly radius: number;
  /** at the rim */
  readonly thickness: number;
  /** width of the bevel as seen on the face */
  readonly bevel: number;
  /** what the disc has above; default a hollow sphere */
  readonly face?: Face;
}

/** Everything the drawing needs, in mm and px. */
interface Layout extends SectionedMirror {
  readonly width: number;
  readonly small: boolean;
  readonly finding: string;
  readonly chord: number;
  readonly depth: number;
  /** how many times too deep, too wide */
  readonly deeper: number;
  readonly wider: number;
  /** px for 1 mm */
  readonly k: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
}

/** How many times the depth may be drawn too deep before the disc looks hollowed out. */
function exaggeration(depth: number, thickness: number): number {
  return [50, 20, 10, 5, 2].find((times) => depth * times <= thickness / 2) ?? 1;
}

function length(mm: number): string {
  return fixed(mm, Math.min(1, digitsOf(Number(mm.toFixed(1)))));
}

function layout(mirror: SectionedMirror, width: number, finding: string): Layout {
  const { aperture, radius, thickness, bevel } = mirror;
  const small = isNarrow(width), left = small ? 22 : 20;
  const right = small ? width - 24 : width - (width > 700 ? 185 : 145.5);
  const chord = aperture - 2 * bevel, depth = sagitta(chord, radius);
  return {
    ...mirror,
    ...{ width, small, finding, chord, depth, left, right, k: (right - left) / aperture },
    deeper: exaggeration(depth, thickness),
    wider: small ? 3 : 2,
    top: small ? 62 : 74,
  };
}

function glass(l: Layout): Html {
  const b = l.bevel * l.wider * l.k, from = l.left + b, to = l.right - b, middle = (from + to) / 2;
  const [x0, x1, m, y, y2] = [from, to, middle, l.top, l.top + 2 * l.depth * l.deeper * l.k].map(
    place,
  );
  const curve = `M${x0},${y}Q${m},${y2} ${x1},${y}`;
  const [L, R, rim, back] = [l.left, l.right, l.top + b, l.top + l.thickness * l.k].map(place);
  return group(
    path("body", `${curve}L${R},${rim}V${back}H${L}V${rim}Z`),
    path("rim", `M${x0},${y}L${L},${rim}V${back}H${R}V${rim}L${x1},${y}`),
    path(l.face ?? "ground", curve),
  );
}

function straightEdge(l: Layout): Html {
  const over = l.small ? 6 : 3 * l.k, height = l.small ? 22 : 34;
  const place0 = l.left - Math.min(over, l.left - 2);
  return group(
    rect("steel", [place0, l.top - height], l.right + (l.left - place0) - place0, height),
    words([l.left + (l.small ? 16 : 27), l.top - height / 2 + 4.5], "straight-edge, on its edge"),
  );
}

/** Three leaves that fill the gap, where they are slid in. */
function leaves(l: Layout): Html {
  const middle = (l.left + l.right) / 2, each = (l.depth * l.deeper * l.k * 0.92) / 3;
  const width = Math.min(57, 12.7 * l.k);
  return group(
    [0, 1, 2].map((i) =>
      rect("steel", [middle - width / 2, l.top + i * each], width, each, "fill:var(--paper)")
    ),
  );
}

/** Chord above, diameter below, sagitta beside the leaves, thickness at the right. */
function dimensions(l: Layout): Html {
  const b = l.bevel * l.wider * l.k, from = l.left + b, to = l.right - b;
  const middle = (l.left + l.right) / 2, gap = l.depth * l.deeper * l.k;
  const back = l.top + l.thickness * l.k, at = middle - (l.small ? 22 : 45), bottom = back + 22;
  const chord = length(l.chord);
  return group(
    stroke("lead", [from, l.top], [from, 24]),
    stroke("lead", [to, l.top], [to, 24]),
    across(from, to, 26),
    words(
      [middle, 18],
      l.small
        ? `chord 2r = ${chord}, bevel to bevel`
        : `chord 2r, where it rests: ${chord}, inner rim of the bevel to inner rim`,
      {
        anchor: "middle",
      },
    ),
    down(at, l.top, l.top + gap),
    words([at - 9, l.top + gap / 2 + 6], "s", { kind: "v", anchor: "end" }),
    across(l.left, l.right, bottom),
    words(
      [middle, bottom + 17],
      `diameter ${l.small ? "" : "of the disc, "}${length(l.aperture)}`,
      {
        anchor: "middle",
      },
    ),
  );
}

/** The names of the parts, on the part where there is room, beneath on a narrow sheet. */
function names(l: Layout): Html {
  const middle = (l.left + l.right) / 2, gap = l.depth * l.deeper * l.k;
  const back = l.top + l.thickness * l.k, low = back - 14;
  const depth = `s = ${fixed(l.depth, 3)}, drawn × ${l.deeper}`;
  const bevel = `bevel, ${length(l.bevel)} wide (× ${l.wider})`;
  const face = l.face === undefined ? "ground face" : `${l.face} face`;
  const faceAt = l.left + 0.82 * (l.right - l.left), faceY = l.top + 0.58 * gap;
  const named = l.width > 500 && l.width < 700 ? low - 20 : low;
  const common = group(
    words([l.left + 16, l.small ? low : low - 20], "glass"),
    stroke("lead", [faceAt, faceY + 4], [faceAt, named - 13]),
    words([faceAt, named], face, { anchor: "middle" }),
  );
  if (l.small) {
    return group(
      common,
      words([middle, low + 4.5], "leaves", { anchor: "middle" }),
      words([l.left, back + 68], depth, { kind: "b" }),
      words([l.left, back + 86], `${bevel.replace(",", "")}, glass ${length(l.thickness)} thick`),
    );
  }
  const at = middle - 45, rimY = l.top + l.bevel * l.wider * l.k / 2;
  return group(
    common,
    stroke("lead", [at, l.top + gap + 3], [at, low - 13]),
    words([at + 6, low], depth, { kind: "b", anchor: "end" }),
    stroke("lead", [middle + 20, l.top + gap * 0.9 + 3], [middle + 20, low - 13]),
    words([middle + 14, low], "leaves that just pass"),
    down(l.right + 14, l.top, back),
    words([l.right + 24, (l.top + back) / 2 + 5], `${length(l.thickness)} thick`),
    stroke("lead", [l.right - 2, rimY], [l.right + 32, l.top - 8]),
    words([l.right + 36, l.top - 4], bevel),
  );
}

/** The same gap with nothing exaggerated. */
function trueGap(l: Layout, y: number): Html {
  const [L, R, m, at, deep] = [l.left, l.right, (l.left + l.right) / 2, y, y + 2 * l.depth * l.k]
    .map(place);
  return group(
    path("rim", `M${L},${at}Q${m},${deep} ${R},${at}`, "stroke-width:1.5"),
    path("dim", `M${L},${at}H${R}`, "stroke:var(--line)"),
    words([l.right, y + 24], "the same gap, true to scale", { kind: "soft", anchor: "end" }),
    words([l.left, l.small ? y - 22 : y + 24], "all lengths in mm", { kind: "soft" }),
  );
}

function draw(mirror: SectionedMirror, width: number, finding: string): Html {
  const l = layout(mirror, width, finding);
  const gapAt = l.top + l.thickness * l.k + (l.small ? 126 : 64);
  return drawing({
    width,
    height: gapAt + 30,
    finding,
    contents: [glass(l), straightEdge(l), leaves(l), dimensions(l), names(l), trueGap(l, gapAt)],
  });
}

/**
 * The disc in section under a straight-edge, with the depth drawn larger and the true one beneath.
 *
 * @param mirror  lengths in mm; 0 <= bevel < aperture / 2, aperture < 2 x radius, thickness above 0
 * @returns a wide figure
 * @throws {RangeError} outside those ranges or not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = mirrorSection({ aperture: 150, radius: 2400, thickness: 25, bevel: 1 });
 * assert.match(shown.text, /148 mm apart.*1\.141 mm.*drawn 10 times too deep/);
 * ```
 */
export function mirrorSection(mirror: SectionedMirror): Shown {
  const { aperture, radius, thickness, bevel } = mirror;
  if (!(thickness > 0 && Number.isFinite(thickness) && bevel >= 0 && bevel < aperture / 2)) {
    throw new RangeError(
      `mirrorSection requires thickness above 0 and 0 <= bevel < aperture / 2 in mm, got thickness=${thickness}, bevel=${bevel}, aperture=${aperture}`,
    );
  }
  const depth = sagitta(aperture - 2 * bevel, radius);
  const finding =
    `Cross-section of a ${length(aperture)} mm disc, ${length(thickness)} mm thick, ` +
    `under a straight-edge that rests on the inner rims of the bevel, ${
      length(aperture - 2 * bevel)
    } mm apart. ` +
    `The depth in the middle, ${fixed(depth, 3)} mm, is drawn ${
      exaggeration(depth, thickness)
    } times too deep.`;
  return figure({
    span: "wide",
    finding,
    caption:
      safe`<b>The disc in section.</b> Leaves are slid in flat from the side until the next one no longer passes. Everything is to scale but the depth and the bevel.`,
    draw: (width) => draw(mirror, width, finding),
  });
}

/** A printable: a drawing at true scale, laid on as many sheets as it needs, or text that flows over sheets. */
import { escapeHtml, type Html, safe, trusted } from "../html.ts";

/** Something to print. */
export interface Printable {
  /** its file's name: "zone-mask" */
  readonly name: string;
  readonly title: string;
  /** what it is for and how it is used, a sentence or two */
  readonly use: string;
  /** its sheets, one svg each; none where it is too large for paper, and then `said` tells it */
  sheets(paper: Paper): readonly Html[];
  /** the drawing alone, whatever its size; absent for text */
  readonly whole?: Html;
  /** why there is no sheet */
  said?(paper: Paper): string | undefined;
}

/** A drawing in mm, its upper left corner at (0, 0). */
export interface ScaleDrawing {
  readonly name: string;
  readonly title: string;
  readonly use: string;
  /** what to mind before the sheet is used; it stands on top */
  readonly mind?: string;
  readonly width: number;
  readonly height: number;
  readonly finding: string;
  readonly contents: Html;
}

/** Neighbouring sheets show this much of the same, mm. */
export const overlap = 12;
/** More sheets than this are no help to anybody. COMMON PRACTICE */
export const mostSheets = 12;

/** How a drawing is cut into sheets. */
export interface Tiling {
  readonly columns: number;
  readonly rows: number;
  /** from the start of one sheet's share to the next one's, mm */
  readonly stepX: number;
  readonly stepY: number;
}

/**
 * How many sheets a drawing takes.
 *
 * @example 200 mm across goes on two sheets of A4
 * ```ts
 * import assert from "node:assert/strict";
 * import { papers } from "./printable.ts";
 * const { columns, rows } = tilingOf({ width: 204, height: 204 }, papers[0]!);
 * assert.deepEqual([columns, rows], [2, 1]);
 * ```
 */
export function tilingOf(
  { width, height, mind = "" }: Pick<ScaleDrawing, "width" | "height" | "mind">,
  paper: Paper,
): Tiling {
  const area = areaOf(paper), useHeight = area.height - roomAbove(mind, area.width);
  const count = (size: number, room: number): number =>
    size <= room ? 1 : Math.ceil((size - overlap) / (room - overlap));
  return {
    columns: count(width, area.width),
    rows: count(height, useHeight),
    stepX: area.width - overlap,
    stepY: useHeight - overlap,
  };
}

/** Lines of the use that stand above the drawing, mm, and the height of a line. */
const useRoom = 14, lineHeight = 4.2;

/** What to mind, in lines as long as the sheet is wide; none where there is nothing. */
const mindLines = (mind: string, width: number): string[] =>
  mind === "" ? [] : linesOf(`Mind first: ${mind}`, width, 3.2);

/** What stands above a drawing, mm. */
const roomAbove = (mind: string, width: number): number =>
  useRoom + lineHeight * mindLines(mind, width).length;

/** Crosses in the overlaps, at the same place of the drawing on both sheets. */
function crosses({ columns, rows, stepX, stepY }: Tiling, drawing: ScaleDrawing): Html {
  const between = (count: number, step: number): number[] =>
    Array.from({ length: count - 1 }, (_, i) => (i + 1) * step + overlap / 2);
  const places = (size: number): number[] => [0.06, 0.5, 0.94].map((share) => share * size);
  const at = [
    ...between(columns, stepX).flatMap((x) => places(drawing.height).map((y) => [x, y] as const)),
    ...between(rows, stepY).flatMap((y) => places(drawing.width).map((x) => [x, y] as const)),
  ];
  return safe`${at.map((place) => cross(place, 4, { width: 0.15 }))}`;
}

function tile(drawing: ScaleDrawing, paper: Paper, column: number, row: number): Html {
  const tiling = tilingOf(drawing, paper),
    area = areaOf(paper),
    many = tiling.columns * tiling.rows;
  const x = column * tiling.stepX, y = row * tiling.stepY;
  const width = Math.min(area.width, drawing.width - x);
  const minded = mindLines(drawing.mind ?? "", area.width),
    above = useRoom + lineHeight * minded.length;
  const height = Math.min(area.height - above, drawing.height - y);
  const inside = `x="${mm(area.left)}" y="${mm(area.top + above)}" width="${mm(width)}" height="${
    mm(height)
  }" viewBox="${mm(x)} ${mm(y)} ${mm(width)} ${mm(height)}"`;
  const join = many === 1
    ? ""
    : ` ${tiling.columns} by ${tiling.rows} sheets: lay cross on cross, and tape.`;
  const told = linesOf(`${drawing.use}${join}`, area.width, 3).slice(0, 3);
  return sheet(paper, {
    title: drawing.title,
    ...(many === 1 ? {} : { part: `${row * tiling.columns + column + 1} of ${many}` }),
    finding: drawing.finding,
    contents: safe`${
      minded.map((text, i) =>
        words([area.left, area.top + lineHeight * i], text, { size: 3, bold: true })
      )
    }${
      told.map((text, i) =>
        words([area.left, area.top + lineHeight * (minded.length + i)], text, { size: 3 })
      )
    }<svg ${trusted(inside)}>${drawing.contents}${many > 1 && crosses(tiling, drawing)}</svg>`,
  });
}

/**
 * A drawing as a printable: on one sheet where it fits, else on several with crosses to join them by, else said.
 *
 * @throws {RangeError} for a size that is not above 0
 */
export function drawingToPrint(drawing: ScaleDrawing): Printable {
  const { name, title, use, width, height, finding, contents } = drawing;
  if (!(width > 0 && height > 0 && width < 1e5 && height < 1e5)) {
    throw new RangeError(`drawingToPrint requires a size above 0 mm, got ${width} by ${height}`);
  }
  const bar = safe`${line([2, height + 6], [2 + barLength, height + 6], { width: 0.3 })}${
    [0, barLength].map((x) => line([2 + x, height + 3], [2 + x, height + 6], { width: 0.15 }))
  }${words([2, height + 10], `${barLength} mm`, { size: 2.8 })}`;
  const count = (paper: Paper): number => {
    const { columns, rows } = tilingOf(drawing, paper);
    return columns * rows;
  };
  return {
    name,
    title,
    use,
    whole: svg(
      Math.max(width, barLength + 4),
      height + 12,
      finding,
      safe`${contents}${bar}`,
    ),
    said: (paper) =>
      count(paper) <= mostSheets
        ? undefined
        : `${title}: ${Math.round(width)} by ${Math.round(height)} mm would take ${
          count(paper)
        } sheets of ${paper.name}. Draw it with a compass, or have ${name}.svg plotted at true size.`,
    sheets: (paper) => {
      if (count(paper) > mostSheets) return [];
      const { columns, rows } = tilingOf(drawing, paper);
      return Array.from(
        { length: columns * rows },
        (_, i) => tile(drawing, paper, i % columns, Math.floor(i / columns)),
      );
    },
  };
}

// Sheets of paper, what stands on each of them, and the bars by which a printer is checked.

/** A sheet, mm, upright. */
export interface Paper {
  readonly name: "A4" | "Letter";
  readonly width: number;
  readonly height: number;
}

/** READ: ISO 216 for A4; ANSI/ASME Y14.1 for Letter, 8 1/2 by 11 in. */
export const papers: readonly Paper[] = [
  { name: "A4", width: 210, height: 297 },
  { name: "Letter", width: 215.9, height: 279.4 },
];

/** Printers leave about this much of each edge white, mm; COMMON PRACTICE. */
export const margin = 10;
/** How long the bars are, mm. */
export const barLength = 150;
const head = 12, foot = 20, side = 8;

/** The part of a sheet that is left for the drawing, mm. */
export interface Area {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Where a drawing may stand on a sheet. */
export function areaOf({ width, height }: Paper): Area {
  return {
    left: margin + side,
    top: margin + head,
    width: width - 2 * margin - side,
    height: height - 2 * margin - head - foot,
  };
}

/** Bars across and down, a tick each centimetre, to be measured on the print. */
export function bars({ height }: Paper): Html {
  const x = margin + side, y = height - margin - 9, top = margin + head, ticks = barLength / 10;
  const across = Array.from({ length: ticks + 1 }, (_, i) => {
    const tall = i % 5 === 0 ? 3 : 1.5;
    return line([x + 10 * i, y - tall], [x + 10 * i, y], { width: 0.15 });
  });
  const down = Array.from({ length: ticks + 1 }, (_, i) => {
    const long = i % 5 === 0 ? 3 : 1.5, at = margin + 1;
    return line([at, top + 10 * i], [at + long, top + 10 * i], { width: 0.15 });
  });
  return safe`${line([x, y], [x + barLength, y], { width: 0.3 })}${across}${
    line([margin + 1, top], [margin + 1, top + barLength], { width: 0.3 })
  }${down}${
    words(
      [x, y + 4],
      `${barLength} mm across, and ${barLength} mm down at the left: measure both on the print.`,
      { size: 2.8 },
    )
  }${words([x, y + 8], "Not right? Print again at 100 %, with no “fit to page”.", { size: 2.8 })}`;
}

/** One sheet: title, which of how many, the drawing, the bars. */
export function sheet(
  paper: Paper,
  { title, part, finding, contents }: {
    readonly title: string;
    /** "2 of 4", where there is more than one */
    readonly part?: string;
    readonly finding: string;
    readonly contents: Html;
  },
): Html {
  const { left } = areaOf(paper), right = paper.width - margin;
  return svg(
    paper.width,
    paper.height,
    part === undefined ? finding : `${finding} Sheet ${part}.`,
    safe`${words([left, margin + 5], title, { size: 4.4, bold: true })}${
      part !== undefined && words([right, margin + 5], `sheet ${part}`, { anchor: "end" })
    }${contents}${bars(paper)}`,
  );
}

// The pen of the printables: everything in millimetres on paper, black on white, places kept to a micrometre.

/** A point, mm from the upper left corner. */
export type At = readonly [x: number, y: number];

/** How a stroke is drawn; widths mm. */
export interface Ink {
  readonly width?: number;
  readonly dash?: string;
  readonly colour?: string;
  readonly fill?: string;
}

/**
 * A length as svg wants it, to a thousandth of a millimetre.
 *
 * @throws {RangeError} where it is NaN or infinite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(mm(74.00049), "74");
 * ```
 */
export function mm(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`mm requires a finite length, got ${value}`);
  return String(Number(value.toFixed(3)) + 0);
}

function inkOf({ width = 0.2, dash, colour = "#000", fill = "none" }: Ink): string {
  const dashes = dash === undefined ? "" : ` stroke-dasharray="${dash}"`;
  return `fill="${fill}" stroke="${colour}" stroke-width="${mm(width)}"${dashes}`;
}

/** A straight stroke. */
export function line([x1, y1]: At, [x2, y2]: At, ink: Ink = {}): Html {
  return trusted(`<path d="M${mm(x1)},${mm(y1)}L${mm(x2)},${mm(y2)}" ${inkOf(ink)}/>`);
}

/** A line through points, closed if asked. */
export function through(points: readonly At[], closed: boolean, ink: Ink = {}): Html {
  const data = points.map(([x, y]) => `${mm(x)},${mm(y)}`).join("L");
  return trusted(`<path d="M${data}${closed ? "Z" : ""}" ${inkOf(ink)}/>`);
}

/** A circle. */
export function circle([x, y]: At, radius: number, ink: Ink = {}): Html {
  return trusted(`<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(radius)}" ${inkOf(ink)}/>`);
}

/** A cross, each arm so long. */
export function cross([x, y]: At, arm: number, ink: Ink = {}): Html {
  return safe`${line([x - arm, y], [x + arm, y], ink)}${line([x, y - arm], [x, y + arm], ink)}`;
}

/** A rectangle by its upper left corner. */
export function box([x, y]: At, width: number, height: number, ink: Ink = {}): Html {
  return trusted(
    `<rect x="${mm(x)}" y="${mm(y)}" width="${mm(width)}" height="${mm(height)}" ${inkOf(ink)}/>`,
  );
}

/** How words are set; the size is the type's, mm. */
export interface Type {
  readonly size?: number;
  readonly anchor?: "start" | "middle" | "end";
  readonly bold?: boolean;
  readonly colour?: string;
  /** turned about its place, degrees clockwise */
  readonly turn?: number;
}

/** Words; escaped, whatever they hold. */
export function words([x, y]: At, text: string, type: Type = {}): Html {
  const { size = 3.2, anchor = "start", bold = false, colour = "#000", turn } = type;
  const turned = turn === undefined ? "" : ` transform="rotate(${turn} ${mm(x)} ${mm(y)})"`;
  return trusted(
    `<text x="${mm(x)}" y="${mm(y)}" font-size="${mm(size)}" text-anchor="${anchor}"${
      bold ? ' font-weight="700"' : ""
    } fill="${colour}"${turned}>${escapeHtml(text)}</text>`,
  );
}

/** About how wide words stand, mm: the cautious side of the common sans faces. */
export function widthOf(text: string, size = 3.2): number {
  return text.length * size * 0.58;
}

/** A text broken at its spaces so that each line fits; a word that is wider stands alone. */
export function linesOf(text: string, width: number, size = 3.2): string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const longer = `${lines.at(-1) ?? ""} ${word}`.trim();
    if (lines.length > 0 && widthOf(longer, size) <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

/**
 * A drawing as an svg of its own, in true millimetres.
 *
 * @param finding  what it is, for those who cannot see it
 */
export function svg(width: number, height: number, finding: string, contents: Html): Html {
  const size = `width="${mm(width)}mm" height="${mm(height)}mm" viewBox="0 0 ${mm(width)} ${
    mm(height)
  }"`;
  return safe`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="${finding}" ${
    trusted(size)
  } font-family="'DejaVu Sans', Verdana, sans-serif">${contents}</svg>`;
}

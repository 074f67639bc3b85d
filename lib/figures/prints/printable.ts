/** A printable: a drawing at true scale, laid on as many sheets as it needs, or text that flows over sheets. */
import { type Html, safe, trusted } from "../html.ts";
import { cross, line, linesOf, mm, svg, words } from "./mmPen.ts";
import { areaOf, barLength, type Paper, sheet } from "./paper.ts";

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
 * import { papers } from "./paper.ts";
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

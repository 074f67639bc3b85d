/** Sheets of paper, what stands on each of them, and the bars by which a printer is checked. */
import { type Html, safe } from "../html.ts";
import { line, svg, words } from "./mmPen.ts";

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

/** Text and ruled tables that flow over sheets of paper, for what is written on by hand. */
import { type Html, safe, trusted } from "../html.ts";
import {
  type Area,
  areaOf,
  line,
  linesOf,
  type Paper,
  type Printable,
  sheet,
  words,
} from "./printable.ts";

/** A piece that stays whole; `y` is the place of its top. */
export interface Piece {
  readonly height: number;
  /** keeps the next piece on its own sheet */
  readonly withNext?: boolean;
  draw(left: number, y: number): Html;
}

/** What pieces are made for: the room they have across. */
export type Pieces = (area: Area) => readonly Piece[];

/** Lays pieces on sheets, one under the other; one that does not fit goes on the next. */
function onSheets(pieces: readonly Piece[], area: Area): Html[] {
  const sheets: Html[][] = [[]];
  let y = area.top;
  pieces.forEach((piece, i) => {
    const next = piece.withNext === true ? pieces[i + 1]?.height ?? 0 : 0;
    if (y + piece.height + next > area.top + area.height && y > area.top) {
      sheets.push([]);
      y = area.top;
    }
    sheets.at(-1)?.push(piece.draw(area.left, y));
    y += piece.height;
  });
  return sheets.map((contents) => safe`${contents}`);
}

/** A printable of pieces. */
export function flowToPrint(
  { name, title, use, mind, fill, finding, style, pieces }: {
    readonly name: string;
    readonly title: string;
    readonly use: string;
    /** what to mind before anything on the sheet is done; it stands on top */
    readonly mind?: string;
    /** names of what is filled in at the top: "bench" */
    readonly fill?: readonly string[];
    readonly finding: string;
    /** rules of what stands in the pieces */
    readonly style?: string;
    readonly pieces: Pieces;
  },
): Printable {
  return {
    name,
    title,
    use,
    sheets: (paper: Paper) => {
      const area = areaOf(paper);
      const top = [
        ...(mind === undefined || mind === "" ? [] : [minded(mind, area.width)]),
        ...(fill === undefined ? [] : [toFill(fill)]),
        paragraph(use, area.width),
      ];
      const all = onSheets([...top, ...pieces(area)], area);
      return all.map((contents, i) =>
        sheet(paper, {
          title,
          ...(all.length === 1 ? {} : { part: `${i + 1} of ${all.length}` }),
          finding,
          contents: style === undefined
            ? contents
            : safe`<style>${trusted(style)}</style>${contents}`,
        })
      );
    },
  };
}

/** Names with a line behind each to write on. */
function toFill(names: readonly string[]): Piece {
  return {
    height: 9,
    draw: (left, y) =>
      safe`${
        names.map((name, i) =>
          safe`${words([left + 62 * i, y + 5], name)}${
            line([left + 62 * i + 16, y + 5.4], [left + 62 * i + 54, y + 5.4], { width: 0.15 })
          }`
        )
      }`,
  };
}

/** What to mind, on top of a sheet and darker than the rest. */
const minded = (mind: string, width: number): Piece =>
  paragraph(`Mind first: ${mind}`, width, { bold: true });

/** A paragraph, broken to the width. */
export function paragraph(
  text: string,
  width: number,
  { size = 3, indent = 0, bold = false }: {
    readonly size?: number;
    readonly indent?: number;
    readonly bold?: boolean;
  } = {},
): Piece {
  const lines = linesOf(text, width - indent, size), step = size * 1.4;
  return {
    height: lines.length * step + 1.6,
    draw: (left, y) =>
      safe`${
        lines.map((one, i) => words([left + indent, y + size + i * step], one, { size, bold }))
      }`,
  };
}

/** Pieces one under the other that stay together. */
export function whole(pieces: readonly Piece[]): Piece {
  return {
    height: pieces.reduce((sum, { height }) => sum + height, 0),
    draw: (left, y) => {
      let at = y;
      return safe`${
        pieces.map((piece) => {
          const drawn = piece.draw(left, at);
          at += piece.height;
          return drawn;
        })
      }`;
    },
  };
}

/** A heading that stays with what follows. */
export function heading(text: string): Piece {
  return {
    height: 9,
    withNext: true,
    draw: (left, y) => words([left, y + 6.4], text, { size: 3.8, bold: true }),
  };
}

/** A column of a ruled table. */
export interface RuledColumn {
  readonly head: string;
  /** share of the width beside the other columns' */
  readonly share: number;
}

/** A row of a ruled table: what stands in it, small and grey where it is an example. */
export function ruledRow(
  columns: readonly RuledColumn[],
  width: number,
  cells: readonly string[],
  { size = 2.8, grey = false, bold = false, tall = 8 }: {
    readonly size?: number;
    readonly grey?: boolean;
    readonly bold?: boolean;
    readonly tall?: number;
  } = {},
): Piece {
  const whole = columns.reduce((sum, { share }) => sum + share, 0);
  const edges = [0];
  for (const { share } of columns) edges.push((edges.at(-1) ?? 0) + width * share / whole);
  const broken = columns.map((_, i) =>
    linesOf(cells[i] ?? "", (edges[i + 1] ?? 0) - (edges[i] ?? 0) - 2, size)
  );
  const step = size * 1.3;
  const height = Math.max(tall, Math.max(...broken.map((lines) => lines.length)) * step + 2.6);
  return {
    height,
    ...(bold ? { withNext: true } : {}),
    draw: (left, y) =>
      safe`${edges.map((x) => line([left + x, y], [left + x, y + height], { width: 0.12 }))}${
        line([left, y], [left + width, y], { width: bold ? 0.3 : 0.12 })
      }${line([left, y + height], [left + width, y + height], { width: 0.12 })}${
        broken.flatMap((lines, i) =>
          lines.map((text, k) =>
            words([left + (edges[i] ?? 0) + 1, y + size + 1.2 + k * step], text, {
              size,
              bold,
              colour: grey ? "#666" : "#000",
            })
          )
        )
      }`,
  };
}

/** The drawings of a stage's work to hang up at the bench: each with its step, the caution before it. */
import type { HandShown } from "../drawings/hands/sheet.ts";
import { safe, trusted } from "../html.ts";
import { onPaper } from "../look.ts";
import { flowToPrint, heading, paragraph, type Piece, whole } from "./flow.ts";
import { type Area, mm, type Printable } from "./printable.ts";

/** A drawing with the step that it shows. */
export interface StepDrawn {
  /** from 1 */
  readonly step: number;
  /** what is done there */
  readonly do: string;
  /** what a trained adult does there */
  readonly adult?: string;
  /** of this step and of those before it that have no drawing */
  readonly cautions: readonly string[];
  readonly shown: HandShown;
}

/** The width for which drawings are made here, px: as wide as the sheet their words are 4 mm tall. */
const drawnAt = 608;

function drawn({ step, do: what, adult, cautions, shown }: StepDrawn, area: Area): Piece {
  const mind = cautions.length > 0
    ? [paragraph(`Mind first: ${cautions.join(" ")}`, area.width, { bold: true })]
    : [];
  const told = [
    ...mind,
    heading(`Step ${step}`),
    ...(adult === undefined ? [] : [paragraph(`Trained adult: ${adult}`, area.width)]),
    paragraph(adult === undefined ? what : `You: ${what}`, area.width),
  ];
  const below = paragraph(shown.caption, area.width);
  const { contents, height } = shown.alone(drawnAt);
  const used = [...told, below].reduce((sum, piece) => sum + piece.height, 0);
  const scale = Math.min(area.width / drawnAt, (area.height - used - 6) / height);
  const picture: Piece = {
    height: scale * height + 4,
    draw: (left, y) => {
      const place = `x="${mm(left)}" y="${mm(y + 2)}" width="${mm(scale * drawnAt)}" height="${
        mm(scale * height)
      }" viewBox="0 0 ${drawnAt} ${mm(height)}"`;
      return safe`<svg class="hands" ${trusted(place)}>${contents}</svg>`;
    },
  };
  return whole([...told, picture, below]);
}

/**
 * The drawings of a stage as sheets.
 *
 * @param stage  its name, for the file; `head` is "03 Rough grinding"
 */
export function handDrawingsToPrint({ name, head, drawings }: {
  readonly name: string;
  readonly head: string;
  readonly drawings: readonly StepDrawn[];
}): Printable {
  return flowToPrint({
    name: `drawings-${name}`,
    title: `Drawings for the bench: ${head}`,
    use: "To hang up where the work is done; the steps are those of the card.",
    finding: `The drawings of the work: ${drawings.map(({ shown }) => shown.caption).join(" ")}`,
    style: onPaper,
    pieces: (area) => drawings.map((one) => drawn(one, area)),
  });
}

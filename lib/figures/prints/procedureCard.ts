/** The card of a stage for the bench: A5, to be cut out, the steps with their signs and the cautions before them. */
import { type Html, safe } from "../html.ts";
import type { Piece } from "./flow.ts";
import { paragraph, whole } from "./flow.ts";
import {
  type Area,
  areaOf,
  type At,
  box,
  line,
  type Paper,
  type Printable,
  sheet,
  through,
  words,
} from "./printable.ts";

/** A card as it is printed. */
export interface Card {
  /** name of the work, for the file: the stage's, or "care" */
  readonly name: string;
  /** "03 Rough grinding" */
  readonly head: string;
  readonly title: string;
  readonly who: string;
  readonly bench: readonly string[];
  readonly alone: string;
  readonly steps: readonly {
    readonly cautions: readonly string[];
    readonly do: string;
    readonly right: string;
    readonly wrong?: string;
    readonly adult?: string;
    readonly write?: string;
  }[];
}

/** READ: ISO 216 for A5, mm. */
export const A5: { readonly width: number; readonly height: number } = { width: 148, height: 210 };

const inset = 6, size = 3;

/** The line to cut along, one stroke all round. */
const frame = ([x, y]: At): Html =>
  through(
    [[x, y], [x + A5.width, y], [x + A5.width, y + A5.height], [x, y + A5.height]],
    true,
    { width: 0.2, colour: "#777" },
  );

/** What is minded stands in the only frame of the card. */
function caution(sentences: readonly string[], width: number): Piece {
  const told = paragraph(`Mind first: ${sentences.join(" ")}`, width - 5, { size, bold: true });
  return {
    height: told.height + 4,
    draw: (left, y) =>
      safe`${box([left, y], width, told.height + 1.6, { width: 0.5 })}${
        told.draw(left + 2.5, y + 0.9)
      }`,
  };
}

function stepPiece(step: Card["steps"][number], number: number, width: number): Piece {
  const indent = 8, room = { size, indent };
  const told: Piece[] = [];
  if (step.cautions.length > 0) told.push(caution(step.cautions, width));
  if (step.adult !== undefined) {
    told.push(paragraph(`Trained adult: ${step.adult}`, width, room));
    told.push(paragraph(`You: ${step.do}`, width, { ...room, bold: true }));
  } else told.push(paragraph(step.do, width, { ...room, bold: true }));
  told.push(paragraph(`✓ ${step.right}`, width, room));
  if (step.wrong !== undefined) told.push(paragraph(`≠ ${step.wrong}`, width, room));
  if (step.write !== undefined) {
    told.push(paragraph(`Write: ${step.write}`, width, { ...room, size }));
  }
  const all = whole(told), first = step.cautions.length > 0 ? told[0]?.height ?? 0 : 0;
  return {
    height: all.height + 1.4,
    draw: (left, y) =>
      safe`${all.draw(left, y)}${
        words([left, y + first + 4], String(number), { size: 4.2, bold: true })
      }`,
  };
}

/** Lays pieces on cards. */
function onCards(pieces: readonly Piece[], area: Area): Piece[][] {
  const cards: Piece[][] = [[]];
  let used = 0;
  for (const piece of pieces) {
    if (used + piece.height > area.height && used > 0) {
      cards.push([]);
      used = 0;
    }
    cards.at(-1)?.push(piece);
    used += piece.height;
  }
  return cards;
}

/**
 * The card of a stage: as many A5 as its steps need, one to a sheet, with the frame to cut along.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { papers } from "./printable.ts";
 * const steps = [{ cautions: ["Goggles on."], do: "Stone the rim.", right: "A soft rasp." }];
 * const card = { name: "prepare-discs", head: "02 Discs", title: "Bevel", who: "anybody", bench: ["a stone"], alone: "You may.", steps };
 * assert.equal(procedureCard(card).sheets(papers[0]!).length, 1);
 * ```
 */
export function procedureCard(card: Card): Printable {
  const width = A5.width - 2 * inset;
  const top = 13;
  const inside = { left: 0, top: 0, width, height: A5.height - 2 * inset - top };
  const pieces = [
    paragraph(`${card.title}. Who: ${card.who}.`, width, { size }),
    paragraph(`Ready: ${card.bench.join("; ")}.`, width, { size }),
    ...(card.steps.some(({ adult }) => adult !== undefined)
      ? [
        paragraph("What stands behind “Trained adult” no learner ever does.", width, {
          size,
          bold: true,
        }),
      ]
      : []),
    ...card.steps.map((step, i) => stepPiece(step, i + 1, width)),
    paragraph(`Alone? ${card.alone}`, width, { size }),
  ];
  const cards = onCards(pieces, inside);
  const finding = `A card of ${card.steps.length} steps: ${card.title}.`;
  return {
    name: `card-${card.name}`,
    title: `Card for the bench: ${card.head}`,
    use:
      "One card a bench, cut along its frame; ✓ is the sign that it went right, ≠ that it did not.",
    sheets: (paper: Paper) => {
      const area = areaOf(paper), left = area.left + (area.width - A5.width) / 2, y = area.top;
      return cards.map((piecesHere, i) =>
        sheet(paper, {
          title: `Card for the bench: ${card.head}`,
          ...(cards.length === 1 ? {} : { part: `${i + 1} of ${cards.length}` }),
          finding,
          contents: safe`${frame([left, y])}${
            words([left + inset, y + inset + 4.4], card.head, { size: 4.8, bold: true })
          }${
            cards.length > 1 &&
            words([left + A5.width - inset, y + inset + 4.4], `${i + 1} of ${cards.length}`, {
              size,
              anchor: "end",
            })
          }${
            line([left + inset, y + inset + 7.4], [left + A5.width - inset, y + inset + 7.4], {
              width: 0.3,
            })
          }${whole(piecesHere).draw(left + inset, y + inset + top - 2)}`,
        })
      );
    },
  };
}

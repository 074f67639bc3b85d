/** What one mirror needs, as a dealer would name it: how much of it, and the page that first asks for it. */
import { note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { type Shown, together } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { materials } from "../lessons/workshop/materials.ts";
import { abrasives, fact } from "../record/tables.ts";
import { usualLadder } from "../shaping/grinding/ladder.ts";

/** A thing: its name in a shop, how many, the page; COMMON PRACTICE. */
type Thing = readonly [name: string, how: string, page: string];

const mm = (length: number): string => `${Number(length.toFixed(0))}\u2009mm`;

/** What is used up has its grams from the plan; these stand beside it. */
function things(aperture: number, focalLength: number): readonly Thing[] {
  return [
    ["safety glasses; dust mask, class FFP2 or better; apron", "1 each", "02"],
    ["sharpening stone, flat, medium to fine (200 to 400 mesh)", "1", "02"],
    ["polarising film, loose; a sheet of window glass, wider than the disc", "1 each", "02"],
    ["calipers; kitchen scales; bathroom scales; paint pen", "borrow", "02"],
    ["small tiles of plate glass", `${2 * usualLadder.length}`, "02"],
    ["board, wet cloth, three wooden cleats", "1 set", "02"],
    ["buckets, sprayer, sponge, a spoon for each jar", `${fact("buckets")} buckets`, "03"],
    [`steel ruler or straight-edge, longer than ${mm(aperture)}`, "1", "03"],
    ["feeler leaves, a set from 0.03 to 1 mm", "1", "03"],
    ["spherometer with a flat plate", "borrow", "04"],
    [`tape measure, longer than ${mm(2 * focalLength)}; a strong torch`, "1 each", "04"],
    [
      `loupes, ${fact("loupe_coarse")} and ${fact("loupe_fine")} times; soft pencil`,
      "1 each",
      "07",
    ],
    ["nail brushes, new paper, cloths", "1 a grade", "07"],
    ["or a lap poured on your tool, or polishing pads", "instead of pitch", "08"],
    ["tape of paper or foil, curtain net, gloves, goggles", "1 each", "08"],
    ["for the tester: M6 rod, small torch, 3 blades, film of 4 lines in a mm", "1 set", "10"],
    ["card for the mask; two thermometers; a bucket with a lid", "1 set", "10"],
    ["aluminium coating by a firm, protected", "1", "14"],
    ["flat: its width from page 15, good to a tenth of a wave", "1", "15"],
    ["focuser; eyepieces of 25 and about 10 mm; finder", "1 each", "15"],
    ["felt pads, three screws with springs, wood or card for tube and base", "1 set", "16"],
  ];
}

/** How a material is asked for, where its name alone would bring the wrong one. */
const asked: Readonly<Record<string, string>> = {
  "glass discs":
    ", annealed, not toughened, of one kind and thickness, at least an eighth as thick as wide; a polished back helps",
  abrasive: ", loose silicon carbide or aluminium oxide, by letter and number",
  pitch: " sold for polishing optics: a middle grade, and a little of one softer and one harder",
  "polishing oxide": ": cerium oxide for optics",
};

function row(name: string, how: string, page: string): TableRow {
  return { cells: [name, how, page] };
}

/** The page that first asks for a material. */
const pages: readonly (readonly [begins: string, page: string])[] = [
  ["glass", "02"],
  ["abrasive F80 ", "03"],
  ["abrasive", "07"],
  ["paper", "07"],
  ["pitch", "08"],
  ["polishing", "08"],
  ["card", "10"],
];

const first = (name: string): string =>
  pages.find(([begins]) => `${name} `.startsWith(begins))?.[1] ?? "02";

/**
 * A list to buy by, for one mirror of this width.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { demo } = await openRecord();
 * assert.match(whatToBuy(demo).text, /abrasive F80, loose silicon carbide[^|]*\| \d+ g \| 03/);
 * ```
 */
export function whatToBuy({ record: { settings } }: Mirror): Shown {
  const { aperture, focalLength } = settings;
  const grades = abrasives().filter(({ name }) => usualLadder.includes(name));
  const used = materials(1, aperture, focalLength, grades).map(({ name, amount, unit }) => {
    const more = Object.entries(asked).find(([begins]) => name.startsWith(begins))?.[1] ?? "";
    return row(`${name}${more}`, `${amount}${unit === "" ? "" : ` ${unit}`}`, first(name));
  });
  return together(
    readingsTable(
      `For one mirror of ${mm(aperture)}, focal length ${mm(focalLength)}`,
      [
        { title: "As a dealer says it", text: true },
        { title: "How much", text: true },
        { title: "First on page", text: true },
      ],
      [...used, ...things(aperture, focalLength).map(([name, how, page]) => row(name, how, page))]
        .sort((a, b) => String(a.cells[2]).localeCompare(String(b.cells[2]))),
    ),
    note(
      "Borrow what is used for an evening. Buy glass and powder first; pitch, flat and eyepieces when their pages come. The test stand wants a room that can be dark, longer than the radius.",
    ),
  );
}

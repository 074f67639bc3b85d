/** Abrasives as people call them: a grade with its scale, a grade without, a size in microns, a material before it. */
import { nearest } from "./nearest.ts";
import { type Abrasive, abrasives } from "./tables.ts";

/** What a table understands under another name. */
const OTHER_NAMES: Readonly<Record<string, string>> = {
  ceria: "cerium oxide",
  cerium: "cerium oxide",
  ceo2: "cerium oxide",
  "iron oxide": "rouge",
  fe2o3: "rouge",
  "red rouge": "rouge",
};

/** Words around a grade that say what it is made of, not how fine it is. */
const MATERIAL =
  /\b(sic|silicon carbide|carborundum|carbo|al2o3|alumina|alumini?um oxide|corundum|emery|garnet|grit|grade|mesh|powder|loose|no|nr)\b\.?/g;

/** Names offered at most. */
const MOST = 3;

const plainName = (name: string): string => name.toLowerCase().replace(/[\s._-]+/g, "");

/** What was typed, taken apart; absent where it holds no such thing. */
interface Typed {
  readonly scale?: "F" | "#" | "P";
  readonly number?: number;
  readonly microns?: number;
}

function takeApart(text: string): Typed {
  const bare = text.toLowerCase().replace(/µ|μ/g, "u").replace(MATERIAL, " ").replace(/\s+/g, " ")
    .trim();
  const size = /^(\d+(?:[.,]\d+)?) ?(?:um|u|micron|microns|micrometers?|micrometres?)$/.exec(bare);
  if (size !== null) return { microns: Number((size[1] ?? "").replace(",", ".")) };
  const grade = /^([f#p])?[ ._-]*(\d{1,5})[ ._-]*([f#p])?$/.exec(bare);
  if (grade === null) return {};
  const letter = (grade[1] ?? grade[3])?.toUpperCase();
  return { number: Number(grade[2]), ...(letter === undefined ? {} : { scale: letter as "F" }) };
}

const numberOf = ({ name }: Abrasive): number => Number(/\d+/.exec(name)?.[0] ?? NaN);

/** The same number in other scales, coarse first; where there is none, the nearest numbers of its scale, or of all loose grits. */
function byNumber(number: number, scale: Typed["scale"]): readonly string[] {
  const same = abrasives().filter((one) => numberOf(one) === number);
  if (same.length > 0) return same.toSorted((a, b) => b.ds50Um - a.ds50Um).map(({ name }) => name);
  const loose = abrasives().filter((one) => one.scale === (scale ?? "F"));
  const far = (one: Abrasive): number => Math.abs(Math.log(numberOf(one) / number));
  return loose.filter((one) => far(one) < Math.log(1.6)).toSorted((a, b) => far(a) - far(b))
    .map(({ name }) => name);
}

/** Loose grits and oxides of that middle grain, nearest first, each with its own. */
function bySize(microns: number): readonly string[] {
  const far = ({ ds50Um }: Abrasive): number => Math.abs(Math.log(ds50Um / microns));
  return abrasives().filter((one) => one.scale !== "P" && far(one) < Math.log(1.5))
    .toSorted((a, b) => far(a) - far(b)).map(({ name, ds50Um }) => `${name} (${ds50Um} um)`);
}

function offered(names: readonly string[]): string {
  const few = names.slice(0, MOST), last = few.pop() ?? "";
  return few.length === 0 ? last : `${few.join(", ")} or ${last}`;
}

/**
 * A grade as typed to its row's name. Capitals, spaces and dashes do not count; the scale's letter does.
 *
 * A number without its scale is asked about, coarse reading first; so is a size in microns, and a material before a number.
 *
 * @returns the row's name, or how to mend it, three names at most
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(findAbrasive("f 80").name, "F80");
 * assert.equal(findAbrasive("400").mend, "which scale: P400, #400 or F400?");
 * assert.equal(findAbrasive("#80").mend, "did you mean F80?");
 * assert.equal(findAbrasive("9 um").mend, "by its size, is it F600 (9.3 um), #1200 (9.5 um) or #1500 (8 um)?");
 * ```
 */
export function findAbrasive(text: string): { name?: string; mend: string } {
  const names = abrasives().map(({ name }) => name);
  const other = OTHER_NAMES[text.toLowerCase().trim().replace(/\s+/g, " ")];
  const name = names.find((one) => plainName(one) === plainName(text)) ?? other;
  if (name !== undefined) return { name, mend: "" };
  // a letter for a digit: F8O, Fl20
  const digits = plainName(text).replace(/(?<=.)o/g, "0").replace(/(?<=.)[il]/g, "1");
  const slipped = names.find((one) => plainName(one) === digits);
  if (slipped !== undefined) return { mend: `did you mean ${slipped}?` };
  const { scale, number, microns } = takeApart(text);
  if (microns !== undefined) {
    const near = bySize(microns);
    if (near.length > 0) return { mend: `by its size, is it ${offered(near)}?` };
  }
  if (number !== undefined) {
    const meant = byNumber(number, scale), isOpen = scale === undefined && meant.length > 0;
    if (isOpen && meant.every((one) => Number(/\d+/.exec(one)?.[0]) === number)) {
      return { mend: `which scale: ${offered(meant)}?` };
    }
    if (meant.length > 0) return { mend: `did you mean ${offered(meant)}?` };
  }
  const near = nearest(text, names, MOST);
  return {
    mend: near.length > 0
      ? `did you mean ${offered(near)}?`
      : "write the grade with its scale, such as F80 for loose grit",
  };
}

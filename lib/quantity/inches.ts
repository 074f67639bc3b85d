/** Lengths in a finished text, told in inches: fractions where a tape has them, thousandths for what is told in micrometres. */
import { measuredDigits } from "./format.ts";

const INCH = 25.4;
/** The finest division of a tape, of an inch. */
const TAPE = 32;

/** To what a hand keeps a stroke or its place beside the centre, of an inch: nobody looks for a thirty-second while rubbing. */
const HAND = 8;

const N = String.raw`[\u2212-]?\d+(?:\.\d+)?`;
const GAP = String.raw`[ \u00a0\u2009]`;
const UNIT = String.raw`(mm|µm|μm)(\/min)?(?![\w\/²^])`;

const valueOf = (text: string): number => Number(text.replace("\u2212", "-"));
const withSign = (text: string, like: string): string =>
  like.includes("\u2212") ? text.replace("-", "\u2212") : text;
const decimalsOf = (text: string): number => text.split(".")[1]?.length ?? 0;

/** How many of the shown unit a mm or a µm is: inches, and thousandths of one. */
function unitsIn(unit: string): { name: string; size: number } {
  return unit === "mm" ? { name: "in", size: INCH } : { name: "thou", size: INCH };
}

/**
 * Millimetres as inches: a fraction that a tape has, where that lies within half of the last digit; else decimals, as fine.
 *
 * @param text  digits as they were told, "20" or "0.965"
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(["152.4", "20", "1200", "0.965"].map(inchesOf), ["6", "25/32", "47 1/4", "0.038"]);
 * ```
 */
export function inchesOf(text: string): string {
  const mm = valueOf(text), decimals = decimalsOf(text), size = Math.abs(mm) / INCH;
  const parts = Math.round(size * TAPE), half = 0.5 * 10 ** -decimals;
  if (decimals <= 1 && Math.abs(parts / TAPE - size) * INCH <= half && (parts > 0 || mm === 0)) {
    return withSign((mm < 0 ? "-" : "") + onTape(parts), text);
  }
  return withSign(String(Number((mm / INCH).toFixed(decimals === 0 ? 2 : decimals + 1))), text);
}

/** Whole millimetres of a stroke, to the eighth of an inch. */
function handInches(text: string): string {
  return onTape(Math.max(1, Math.round((valueOf(text) / INCH) * HAND)), HAND);
}

/** Thirty-seconds of an inch, or other parts, in lowest terms. */
function onTape(parts: number, of = TAPE): string {
  const whole = Math.floor(parts / of);
  let top = parts % of, bottom = of;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  if (top === 0) return String(whole);
  return whole === 0 ? `${top}/${bottom}` : `${whole} ${top}/${bottom}`;
}

function plain(text: string, unit: string): string {
  if (unit === "mm") return inchesOf(text);
  return withSign(String(Number((valueOf(text) / INCH).toFixed(decimalsOf(text) + 1))), text);
}

/**
 * A text with its lengths in inches; wavelengths, and whatever is no length in mm or µm, stay.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(inInches("radius 2396 mm ± 3 mm"), "radius 94.33 in ± 0.12 in");
 * assert.equal(inInches("20 to 30 mm from the edge"), "25/32 to 1 3/16 in from the edge");
 * assert.equal(inInches("38 mm beside the centre, strokes 50 mm long"), "1 1/2 in beside the centre, strokes 2 in long");
 * assert.equal(inInches("56 µm too deep, 550 nm, 4 lines per mm"), "2.2 thou too deep, 550 nm, 4 lines per mm");
 * ```
 */
export function inInches(text: string): string {
  const measured = new RegExp(`(${N})${GAP}${UNIT} ± (${N})${GAP}\\2(?:\\/min)?`, "g");
  const marked = new RegExp(`(${N}) <i>± (${N})</i>${GAP}${UNIT}`, "g");
  const list = new RegExp(`((?:${N}(?:, | to | and | by ))*)(${N})(${GAP})${UNIT}`, "g");
  const both = (value: string, u: string, unit: string): readonly [string, string, string] => {
    const { name, size } = unitsIn(unit);
    const cut = measuredDigits(valueOf(value) / size, valueOf(u) / size);
    return [withSign(cut.value, value), cut.u ?? "0", name];
  };
  const stroke = new RegExp(
    `(?<![\\d.\u2212-])([1-9]\\d{0,2})(?: to ([1-9]\\d{0,2}))?(${GAP})mm(?= (?:long\\b|to the side\\b|beside the cent))`,
    "g",
  );
  return text
    .replace(stroke, (_, one: string, other: string | undefined, gap: string) => {
      const to = other === undefined ? "" : ` to ${handInches(other)}`;
      return `${handInches(one)}${to}${gap}in`;
    })
    .replace(measured, (_, value: string, unit: string, per: string | undefined, u: string) => {
      const [shown, doubt, name] = both(value, u, unit), rate = per ?? "";
      return `${shown} ${name}${rate} ± ${doubt} ${name}${rate}`;
    })
    .replace(marked, (_, value: string, u: string, unit: string, per: string | undefined) => {
      const [shown, doubt, name] = both(value, u, unit);
      return `${shown} <i>± ${doubt}</i>\u2009${name}${per ?? ""}`;
    })
    .replace(
      list,
      (_, before: string, last: string, gap: string, unit: string, per: string | undefined) => {
        const earlier = before.replace(new RegExp(N, "g"), (one) => plain(one, unit));
        return `${earlier}${plain(last, unit)}${gap}${unitsIn(unit).name}${per ?? ""}`;
      },
    );
}

/**
 * What stays as it is on a page: scripts, styles, code, formulas, figures that a script redraws in mm, exercises that are answered in
 * mm, and what comes out of a guess that is asked for in mm or µm.
 */
const KEPT =
  /<(?:(script|style|code|pre|math)\b|(figure) class="live|(section) class="exercise|(div)\b[^>]*? data-(?:output-of|after-guess)="(\d+)")/g;

/** Numbers of the guesses that are asked for in mm or µm, as their forms say. */
function guessedInMm(html: string): ReadonlySet<string> {
  const forms = html.matchAll(/data-guess="(\d+)" data-about="([^"]*)"/g);
  return new Set(
    [...forms].flatMap(([, n = "", about = ""]) =>
      /&(?:quot|#34);unit&(?:quot|#34);:&(?:quot|#34);(?:mm|µm|μm)&/.test(about) ? [n] : []
    ),
  );
}

/** Where an element that begins at a place ends, others of its name within it counted. */
function endOf(html: string, tag: string, from: number): number {
  const marks = new RegExp(`<(/?)${tag}\\b[^>]*>`, "g");
  marks.lastIndex = from;
  let depth = 0;
  for (let mark = marks.exec(html); mark !== null; mark = marks.exec(html)) {
    depth += mark[1] === "/" ? -1 : 1;
    if (depth === 0) return marks.lastIndex;
  }
  return html.length;
}

/** What stands in a cell below a head of mm or µm, where it is a number: with its doubt, struck through, or leaves summed up. */
const IN_CELL = new RegExp(
  `^((?:<s>)?(?:<span class="q">)?)(${N}(?: <i>± ${N}</i>)?|${N}(?: ?\\+ ?${N})+)((?:</span>)?(?:</s>)?)$`,
);

/** A cell's number in inches, or thousandths of one; nothing where it is no number. */
function cellInInches(text: string, unit: string): string | undefined {
  if (text === "" || text === "–") return text;
  const [, open = "", number, close = ""] = IN_CELL.exec(text) ?? [];
  if (number === undefined) return undefined;
  const told = number.includes("+")
    ? number.replace(new RegExp(N, "g"), (one) => plain(one, unit))
    : inInches(`${number}\u2009${unit}`).replace(/\u2009(in|thou)$/, "");
  return `${open}${told}${close}`;
}

/** A table with the columns in inches whose heads say mm or µm; a column with anything but numbers in it stays. */
function tableInInches(table: string): string {
  const heads = [...table.matchAll(/<th scope="col"[^>]*>[\s\S]*?<\/th>/g)].map(([head]) =>
    /<br>(mm|µm|μm)<\/th>$/.exec(head)?.[1]
  );
  if (heads.every((unit) => unit === undefined)) return inInches(table);
  const cell = /(<t[dh](?: scope="row")?(?: class="n")?>)([\s\S]*?)(<\/t[dh]>)/g;
  const body = table.slice(table.indexOf("<tbody"));
  const rows = [...body.matchAll(/<tr[\s\S]*?<\/tr>/g)].map(([row]) =>
    [...row.matchAll(cell)].map(([, , text = ""]) => text)
  );
  const units = heads.map((unit, at) =>
    unit !== undefined && rows.every((row) => cellInInches(row[at] ?? "", unit) !== undefined)
      ? unit
      : undefined
  );
  let column = -1;
  return inInches(table).replace(/<th scope="col"[^>]*>[\s\S]*?<\/th>/g, (head) => {
    const unit = units[++column];
    return unit === undefined
      ? head
      : head.replace(/(mm|µm|μm)<\/th>$/, `${unitsIn(unit).name}</th>`);
  }).replace(/<tr[\s\S]*?<\/tr>/g, (row) => {
    if (row.includes('scope="col"')) return row;
    let at = -1;
    return row.replace(cell, (whole, open: string, text: string, close: string) => {
      const unit = units[++at];
      return unit === undefined ? whole : `${open}${cellInInches(text, unit) ?? text}${close}`;
    });
  });
}

/** Running text and tables of a part of a page. */
function partInInches(part: string): string {
  return part.split(/(<table[\s\S]*?<\/table>)/).map((one, at) =>
    at % 2 === 1 ? tableInInches(one) : inInches(one)
  ).join("");
}

/**
 * A page with its lengths in inches; code, formulas, live figures and exercises stay in mm.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const page = '<p>20 mm</p><section class="exercise"><p>20 mm</p></section><math><mtext>20 mm</mtext></math>';
 * assert.equal(pageInInches(page), page.replace("20 mm", "25/32 in"));
 * ```
 */
export function pageInInches(html: string): string {
  const parts: string[] = [];
  let from = 0;
  const guesses = guessedInMm(html);
  for (const found of html.matchAll(KEPT)) {
    const [, plain, live, exercise, div, n = ""] = found;
    // within what is kept already, or an output that nobody guesses in mm
    if (found.index < from || div !== undefined && !guesses.has(n)) continue;
    const until = endOf(html, plain ?? live ?? exercise ?? div ?? "", found.index);
    parts.push(partInInches(html.slice(from, found.index)), html.slice(found.index, until));
    from = until;
  }
  return [...parts, partInInches(html.slice(from))].join("");
}

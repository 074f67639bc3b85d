/** Lengths in a finished text, told in inches: fractions where a tape has them, thousandths for what is told in micrometres. */
import { measuredDigits } from "./format.ts";

const INCH = 25.4;
/** The finest division of a tape, of an inch. */
const TAPE = 32;

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

/** Thirty-seconds of an inch, in lowest terms. */
function onTape(parts: number): string {
  const whole = Math.floor(parts / TAPE);
  let top = parts % TAPE, bottom = TAPE;
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
 * assert.equal(inInches("20 to 30 mm beside the centre"), "25/32 to 1 3/16 in beside the centre");
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
  return text
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

/** A page with its lengths in inches; scripts, styles and code stay. */
export function pageInInches(html: string): string {
  return html.split(/(<(script|style|code)\b[\s\S]*?<\/\2>)/)
    .filter((_, at) => at % 3 !== 2)
    .map((part, at) => at % 2 === 1 ? part : inInches(part)).join("");
}

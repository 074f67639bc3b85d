/**
 * A cell's code with everything that is not code blanked out, so that a simple search cannot be misled.
 *
 * Comments, the inside of strings, of templates and of regular expressions become spaces; line ends stay, so every
 * position means the same place in both texts. The code between `${` and `}` of a template is blanked with it.
 */

/** Characters after which a `/` begins a regular expression, not a division. */
const BEFORE_REGEX = /(?:^|[(,=:[!&|?{};+\-*%~^<>]|\b(?:return|typeof|case|in|of|await|void))\s*$/;

/**
 * Blanks what is not code.
 *
 * @param source  TypeScript, whole or in part
 * @returns text of the same length, with the same line ends
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(maskCode("a = 'x;y'; // no"), "a = '   ';      ");
 * ```
 */
export function maskCode(source: string): string {
  const out = source.split("");
  const blank = (from: number, to: number): void => {
    for (let i = from; i < Math.min(to, out.length); i++) if (out[i] !== "\n") out[i] = " ";
  };
  for (let at = 0; at < source.length;) {
    const end = endOfQuiet(source, at, () => out.slice(0, at).join(""));
    if (end === undefined) at++;
    else {
      const comment = source.startsWith("//", at) || source.startsWith("/*", at);
      const closed = end - 1 > at && source[end - 1] === source[at];
      blank(comment ? at : at + 1, closed && !comment ? end - 1 : end);
      at = end;
    }
  }
  return out.join("");
}

/** Where the comment, string, template or regular expression that begins at `at` ends; undefined where none begins. */
function endOfQuiet(source: string, at: number, before: () => string): number | undefined {
  const char = source[at];
  const next = source[at + 1];
  if (char === "/" && next === "/") return orEnd(source.indexOf("\n", at), source);
  if (char === "/" && next === "*") return orEnd(source.indexOf("*/", at + 2), source, 2);
  if (char === '"' || char === "'") return endOfString(source, at, char);
  if (char === "`") return endOfTemplate(source, at);
  if (char === "/" && BEFORE_REGEX.test(before())) return endOfRegex(source, at);
  return undefined;
}

function orEnd(found: number, source: string, beyond = 0): number {
  return found < 0 ? source.length : found + beyond;
}

function endOfString(source: string, start: number, quote: string): number {
  for (let at = start + 1; at < source.length; at++) {
    if (source[at] === "\\") at++;
    else if (source[at] === quote) return at + 1;
    else if (source[at] === "\n") return at;
  }
  return source.length;
}

function endOfTemplate(source: string, start: number): number {
  for (let at = start + 1; at < source.length; at++) {
    if (source[at] === "\\") at++;
    else if (source[at] === "`") return at + 1;
    else if (source.startsWith("${", at)) at = endOfHole(source, at + 2) - 1;
  }
  return source.length;
}

/** The end of a template's `${...}`, whose code may hold strings and templates of its own. */
function endOfHole(source: string, start: number): number {
  let depth = 1;
  for (let at = start; at < source.length;) {
    const char = source[at];
    if (char === "{") depth++;
    if (char === "}" && --depth === 0) return at + 1;
    at = endOfQuiet(source, at, () => source.slice(start, at)) ?? at + 1;
  }
  return source.length;
}

function endOfRegex(source: string, start: number): number | undefined {
  let inClass = false;
  for (let at = start + 1; at < source.length && source[at] !== "\n"; at++) {
    const char = source[at];
    if (char === "\\") at++;
    else if (char === "[") inClass = true;
    else if (char === "]") inClass = false;
    else if (char === "/" && !inClass) return at + 1;
  }
  return undefined;
}

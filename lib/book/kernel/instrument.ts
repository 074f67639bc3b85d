import { maskCode } from "./mask.ts";
import { HOOK } from "./prelude.ts";

/** Words with which a statement begins that ends in its own closing brace, without a semicolon. */
const BLOCK =
  /^(?:async\s+function|function|class|if|for|while|do|switch|try|interface|enum|namespace|\{)/;
/** Words that continue the statement before them. */
const CONTINUES = /^(?:else|catch|finally)\b/;
/** Words with which a statement begins that has no value of its own. */
const VALUELESS = new RegExp(
  "^(?:const|let|var|function|class|if|for|while|do|switch|try|return|throw|import|export|interface|type" +
    "|enum|declare|namespace|abstract|async\\s+function|debugger|break|continue)\\b|^[{@]",
);

/**
 * Adds to a cell what the kernel does not tell: before each statement a note of its line, and around the last
 * expression a copy of its value.
 *
 * The kernel names no line of the cell (it counts in its own rewritten code), nothing at all for a cell that hangs or
 * ends the process, and shows nothing for NaN, null, -0 and bigint. The notes are `var` declarations on the same line,
 * so that they change neither the lines nor the value of the cell. Where a statement's end cannot be seen for certain,
 * nothing is added; and a cell that does not even begin with the notes in it is run again as written (see the runner).
 *
 * @param source  a code cell's text
 * @param cell    the code cell's number, from 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(instrument("// depth\nfoo();", 3).split("\n").length, 2);
 * ```
 */
export function instrument(source: string, cell: number): string {
  const masked = maskCode(source);
  const starts = statementStarts(masked);
  const last = starts.at(-1);
  let out = "";
  let from = 0;
  for (const start of starts) {
    const line = source.slice(0, start).split("\n").length;
    out += source.slice(from, start) + `var firstMirrorLine = ${HOOK}.at(${cell}, ${line});`;
    from = start;
  }
  const tail = source.slice(from);
  if (last === undefined) return source;
  return out + (keepValue(tail, masked.slice(last)) ?? tail);
}

/** Positions at which a statement of the outermost level begins, in masked code. */
export function statementStarts(masked: string): number[] {
  const starts: number[] = [];
  let depth = 0;
  let begun = -1;
  for (let at = 0; at < masked.length; at++) {
    const char = masked[at] ?? "";
    if (/\s/.test(char)) continue;
    if (begun < 0 && char !== ";") {
      begun = at;
      starts.push(at);
    }
    if ("([{".includes(char)) depth++;
    if (")]}".includes(char)) depth--;
    if (depth !== 0 || begun < 0) continue;
    const statement = masked.slice(begun);
    const next = masked.slice(at + 1).trimStart();
    const closesBlock = char === "}" && BLOCK.test(statement);
    const continued = CONTINUES.test(next) || /^do\b/.test(statement) && /^while\b/.test(next);
    if ((char === ";" || closesBlock) && !continued) begun = -1;
  }
  return starts;
}

/** The last statement with its value kept aside, or undefined where it has none or its extent is not certain. */
function keepValue(statement: string, masked: string): string | undefined {
  if (VALUELESS.test(masked)) return undefined;
  const body = masked.replace(/[;\s]*$/, "");
  if (body === "" || body.includes(";") && !balanced(body)) return undefined;
  const text = statement.slice(0, body.length);
  return `(${HOOK}.value = (${text}))${statement.slice(body.length)}`;
}

function balanced(body: string): boolean {
  let depth = 0;
  for (const char of body) {
    if ("([{".includes(char)) depth++;
    if (")]}".includes(char)) depth--;
    if (char === ";" && depth === 0) return false;
  }
  return true;
}

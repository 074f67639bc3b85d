/** What is wrong with a cell, in one sentence for the one who wrote it. */
import type { Node } from "acorn";
import { nearest } from "../record/nearest.ts";
import { maskCode } from "./maskCode.ts";

/** A cell that cannot be read, or that stopped: one sentence, and the line it stands on. */
export class CellRefused extends Error {
  override readonly name = "CellRefused";

  /**
   * @param message  one sentence
   * @param line     of the cell, from 1; absent where it is not known
   */
  constructor(message: string, readonly line?: number) {
    super(message);
  }
}

const lineOf = (text: string, at: number): number => text.slice(0, at).split("\n").length;

/** Signs that a word processor or a phone puts in place of those that code is written with. */
const SIGNS: readonly (readonly [RegExp, string])[] = [
  [/[\u201c\u201d\u201e\u00ab\u00bb\u2033]/, 'write straight quotes, "'],
  [/[\u2018\u2019\u201a\u2032]/, "write a straight quote, '"],
  [/[\u2212\u2013\u2014]/, "write - for minus"],
  [/[\u00d7\u22c5\u00b7]/, "write * for times"],
  [/[\u00f7]/, "write / for divided by"],
  [/[\u00b2\u00b3]/, "write ** 2 or ** 3 for a power"],
  [/[\u2264\u2265\u2260]/, "write <=, >= or !=="],
];

const decimal = (typed: string): string => {
  const point = typed.replace(",", ".");
  return `write ${point} with a point, because a comma here ends the number.`;
};

/** A number with a comma in it that ends where something went wrong, or that is written with no blank behind the comma. */
function commaBefore(source: string, at: number): string | undefined {
  const before = /(?<![\w.$])\d+,$/.exec(source.slice(0, at))?.[0];
  const after = /^\d+/.exec(source.slice(at))?.[0];
  return before === undefined || after === undefined ? undefined : before + after;
}

/** The first bracket that is not closed, or that closes nothing. */
function unpaired(
  masked: string,
): { readonly sign: string; readonly at: number; readonly isOpen: boolean } | undefined {
  const open: { sign: string; at: number }[] = [];
  const partner: Readonly<Record<string, string>> = { ")": "(", "]": "[", "}": "{" };
  for (let at = 0; at < masked.length; at++) {
    const sign = masked[at] ?? "";
    if ("([{".includes(sign)) open.push({ sign, at });
    const wanted = partner[sign];
    if (wanted === undefined) continue;
    const last = open.at(-1);
    if (last === undefined) return { sign, at, isOpen: false };
    if (last.sign !== wanted) return { ...last, isOpen: true };
    open.pop();
  }
  const first = open.at(-1);
  return first === undefined ? undefined : { ...first, isOpen: true };
}

/** Where a text that was begun is not closed on its line. */
function openText(source: string): number | undefined {
  const masked = maskCode(source);
  for (let at = 0; at < masked.length; at++) {
    const quote = masked[at];
    if (quote !== '"' && quote !== "'") continue;
    const end = masked.indexOf(quote, at + 1), lineEnd = masked.indexOf("\n", at);
    if (end < 0 || lineEnd >= 0 && lineEnd < end) return at;
    at = end;
  }
  return undefined;
}

/** What stands at a place: a word, a number, or one sign. */
const tokenAt = (source: string, at: number): string =>
  /^(?:[\w$]+|\S)/.exec(source.slice(at))?.[0] ?? "";

/** What stands right before a place. */
const tokenBefore = (source: string, at: number): string =>
  /(?:[\w$.]+|\S)$/.exec(source.slice(0, at).trimEnd())?.[0] ?? "";

/** What a parser said, and where. */
interface Fault {
  readonly said: string;
  readonly at: number;
}

/** Both parsers tell the place beside their words, and in them. */
function faultOf(fault: unknown): Fault {
  const said = fault instanceof Error ? fault.message : String(fault);
  const at: unknown = Reflect.get(Object(fault), "pos");
  return { said: said.replace(/\s*\(\d+:\d+\)$/, ""), at: typeof at === "number" ? at : 0 };
}

/** A decimal comma on the line of a fault, at it or before it. */
function commaNear(
  source: string,
  masked: string,
  at: number,
): readonly [string, number] | undefined {
  const begin = masked.lastIndexOf("\n", at - 1) + 1;
  const found = [...masked.slice(begin, at + 1).matchAll(/(?<![\w.$])\d+,(?=\d)/g)].at(-1);
  const place = found === undefined ? undefined : begin + found.index + found[0].length;
  const typed = place === undefined ? undefined : commaBefore(source, place);
  return typed === undefined || unpaired(masked)?.isOpen === false
    ? undefined
    : [decimal(typed), at];
}

/** The sentence for a fault of form, and the place it speaks of. */
function sentenceFor(source: string, { said, at }: Fault): readonly [string, number] {
  const masked = maskCode(source);
  const comma = commaNear(source, masked, at);
  if (comma !== undefined) return comma;
  const twice = /Identifier '(.+?)' has already been declared/.exec(said)?.[1];
  if (twice !== undefined) {
    return [`${twice} is declared twice in this cell; give one of the two another name.`, at];
  }
  const text = openText(source);
  if (text !== undefined) {
    return [`the text that begins with ${source[text]} is not closed on its line.`, text];
  }
  for (const [sign, mend] of SIGNS) {
    const found = masked.search(sign);
    if (found >= 0) return [`${mend}; code does not know ${masked[found]}.`, found];
  }
  const bracket = unpaired(masked);
  if (bracket !== undefined) {
    const { sign, at: where, isOpen } = bracket;
    return isOpen
      ? [`the ${sign} here is not closed.`, where]
      : [`the ${sign} here closes nothing; leave it out, or open it before.`, where];
  }
  if (/[Aa]ssign/.test(said)) {
    return ["only a name can stand left of =; to compare, write ===.", at];
  }
  if (/[Aa]wait/.test(said)) return ["await stands inside a function that is not async.", at];
  if (/'return' outside/.test(said)) {
    return ["return belongs into a function; a cell gives what its last line is.", at];
  }
  const token = tokenAt(source, at), before = tokenBefore(source, at);
  if (token === "") {
    return ["the cell ends in the middle of something.", Math.max(0, source.trimEnd().length - 1)];
  }
  if (
    /^\d/.test(before) && /^[a-zµ]/i.test(token) &&
    lineOf(source, at) === lineOf(source, source.slice(0, at).trimEnd().length)
  ) {
    return [`write ${before} alone, because a number in code has no unit behind it.`, at];
  }
  if (/^[\w$"'`]/.test(token) && /[\w$"'`)\]]$/.test(before)) {
    return [
      `something is missing between ${before} and ${token}: a comma, a sign or a semicolon.`,
      at,
    ];
  }
  return [`${token} is not expected here.`, at];
}

/**
 * Why a cell cannot be read, as one sentence with its line.
 *
 * @param source  of the cell, as the parser had it
 * @param fault   what the parser threw
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const fault = Object.assign(new SyntaxError("Unexpected token (1:18)"), { pos: 18 });
 * const { message, line } = refusalOf("const mine = 2384,8;", fault);
 * assert.equal(message, "write 2384.8 with a point, because a comma here ends the number.");
 * assert.equal(line, 1);
 * ```
 */
export function refusalOf(source: string, fault: unknown): CellRefused {
  const [message, at] = sentenceFor(source, faultOf(fault));
  return new CellRefused(message, lineOf(source, at));
}

type Tree = Node & Record<string, unknown>;

/**
 * Refuses a decimal comma that is valid code and means something else: `x = 2384,8` is 8.
 *
 * @param text  the cell without types
 * @param tree  of it
 * @throws {CellRefused} at the first
 */
export function refuseCommas(text: string, tree: Node): void {
  const visit = (node: Tree): void => {
    const parts = node.type === "SequenceExpression" ? node["expressions"] as Tree[] : [];
    for (const { start } of parts.slice(1)) {
      const typed = commaBefore(text, start);
      if (typed !== undefined) throw new CellRefused(decimal(typed), lineOf(text, start));
    }
    for (const value of Object.values(node)) {
      for (const one of Array.isArray(value) ? value : [value]) {
        if (typeof one === "object" && one !== null && typeof one.type === "string") visit(one);
      }
    }
  };
  visit(tree as Tree);
}

// What a cell threw while it ran.

/** What is known where a cell stopped. */
export interface Place {
  /** the line from which the error came, or that of the statement */
  readonly line: number | undefined;
  /** names there are: the notebook's and the cell's imports */
  readonly names: readonly string[];
  /** what the library has, by the name of its module, for a name that was not imported */
  readonly library?: ReadonlyMap<string, string>;
}

/** The name that is not there, in the words of the three engines. */
const MISSING =
  /^(?:(\S+) is not defined|Can't find variable: (\S+)|Cannot access '(.+?)' before initialization)/;

/** What is said of a cell that eats memory. */
export const TOO_MUCH = "the cell asked for more memory than there is.";

/** That a fixed name was given another value, in the words of the three engines. */
const FIXED = /constant variable|read.?only property|is read-only|invalid assignment to const/i;

/**
 * What a cell threw, as one sentence.
 *
 * What the library itself says to a wrong argument is such a sentence already and stays as it is.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { message } = stoppedBy("no glass", { line: 2, names: [] });
 * assert.equal(message, "the cell threw “no glass”.");
 * ```
 */
export function stoppedBy(thrown: unknown, { line, names, library }: Place): CellRefused {
  if (thrown instanceof CellRefused) return new CellRefused(thrown.message, thrown.line ?? line);
  if (!isError(thrown)) {
    return new CellRefused(`the cell threw “${briefly(thrown)}”.`, line);
  }
  // names of the notebook are properties of one object; that nobody need know
  const said = String(thrown.message).replace(/\$names_*\./g, "").split("\n")[0] ?? "";
  const found = MISSING.exec(said), name = found?.[1] ?? found?.[2] ?? found?.[3];
  if (name !== undefined) return new CellRefused(missing(name, names, library), line);
  if (/call stack|too much recursion/i.test(said)) {
    return new CellRefused("a function calls itself without end.", line);
  }
  if (
    /allocation failed|out of memory|invalid array length|array buffer|invalid string length/i.test(
      said,
    )
  ) {
    return new CellRefused(TOO_MUCH, line);
  }
  if (/unsafe-eval|blocked by CSP|Content Security Policy/i.test(said)) {
    return new CellRefused("a cell makes no code from text.", line);
  }
  if (/^(?:NetworkError|Load failed|Failed to fetch)/.test(said)) {
    return new CellRefused("a cell reaches nothing outside its page.", line);
  }
  if (thrown.name === "TypeError" && FIXED.test(said)) {
    const what = /["'](\w+)["']/.exec(said)?.[1] ?? "this name";
    return new CellRefused(`${what} is fixed; declare it with let if it is to change.`, line);
  }
  return new CellRefused(said === "" ? `the cell threw ${thrown.name}.` : ended(said), line);
}

/** An error, also one of another realm. */
function isError(
  thrown: unknown,
): thrown is { readonly name: string; readonly message: unknown; readonly stack?: unknown } {
  return typeof thrown === "object" && thrown !== null && "message" in thrown && "name" in thrown;
}

const ended = (sentence: string): string => /[.!?]$/.test(sentence) ? sentence : `${sentence}.`;

function briefly(thrown: unknown): string {
  try {
    const text = typeof thrown === "string" ? thrown : JSON.stringify(thrown) ?? String(thrown);
    return text.length > 120 ? `${text.slice(0, 120)} …` : text;
  } catch {
    return typeof thrown;
  }
}

function missing(
  name: string,
  names: readonly string[],
  library?: ReadonlyMap<string, string>,
): string {
  const module = library?.get(name);
  if (module !== undefined) {
    return `${name} is not there yet: begin with import { ${name} } from "${module}".`;
  }
  const [near] = nearest(name, [...names, ...library?.keys() ?? []], 1);
  return near === undefined || near === name
    ? `there is nothing called ${name}.`
    : `there is nothing called ${name}; did you mean ${near}?`;
}

/** The line of a cell at which an error arose, by its trace; absent where the trace does not lead into the cell. */
export function lineOfError(thrown: unknown, address: string): number | undefined {
  if (!isError(thrown) || address === "") return undefined;
  for (const frame of String(thrown.stack ?? "").split("\n")) {
    const from = frame.indexOf(`${address}:`);
    const line = from < 0 ? undefined : /^:(\d+):\d+/.exec(frame.slice(from + address.length))?.[1];
    if (line !== undefined) return Number(line);
  }
  return undefined;
}

/**
 * A guess before a result: what a notebook says of it in the cell's metadata, what the result says, and how far off the guess was.
 *
 * `guessed` runs in the page too, which writes out its source: it uses nothing but the language itself and `numbersIn`.
 */
import { numbersIn, numbersSource } from "./grader.ts";

/** What stands under `guess` in the metadata of a cell tagged `guess`. */
export interface GuessMark {
  /** of a number; "" for a pure number; absent where words are guessed */
  readonly unit?: string;
  /** words to choose from */
  readonly choices?: readonly string[];
  /** what comes out, where the cell's own words do not hold it as a number */
  readonly comes?: number | string;
  /** the part of the page that says so, where it is not those words themselves */
  readonly says?: string;
  /** pattern with one group that finds the number in what the cell says; default its first number */
  readonly find?: string;
  /** pattern of which the hits in what the cell says are counted */
  readonly counts?: string;
  /** id of the cell whose words are searched, where it is another one */
  readonly in?: string;
  /** the number is a name: right or not, never near */
  readonly exact?: true;
}

/** A guess as a page holds it. */
export interface Guess {
  readonly unit?: string;
  readonly choices?: readonly string[];
  /** what comes out; absent where only the reader can see it */
  readonly truth?: number | string;
  readonly exact?: true;
}

const KEYS = ["unit", "choices", "comes", "says", "find", "counts", "in", "exact"];

/**
 * Reads what a notebook says of a guess.
 *
 * @param mark  the cell's metadata, under `guess`
 * @throws {RangeError} for what is no such mark, naming what it is
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(guessMark({ unit: "mm" }), { unit: "mm" });
 * assert.throws(() => guessMark({ units: "mm" }), /guess requires keys among unit, .*, got units/);
 * ```
 */
export function guessMark(mark: unknown): GuessMark {
  const isTexts = (value: unknown): boolean =>
    Array.isArray(value) && value.length > 1 && value.every((one) => typeof one === "string");
  if (typeof mark !== "object" || mark === null || Array.isArray(mark)) {
    throw new RangeError(
      'guess requires a mark such as {"unit": "mm"} in the metadata of its cell',
    );
  }
  const strange = Object.keys(mark).find((key) => !KEYS.includes(key));
  if (strange !== undefined) {
    throw new RangeError(`guess requires keys among ${KEYS.join(", ")}, got ${strange}`);
  }
  const { unit, choices, comes } = mark as Readonly<Record<string, unknown>>;
  if ((typeof unit === "string") === isTexts(choices)) {
    throw new RangeError("guess requires a unit, or choices, and not both");
  }
  if (choices !== undefined && comes !== undefined && !(choices as unknown[]).includes(comes)) {
    throw new RangeError(`guess requires what comes out among its choices, got ${comes}`);
  }
  return mark as GuessMark;
}

/**
 * The guess as a page holds it: with what came out, where it can be told.
 *
 * @param mark   of the notebook
 * @param words  what the cell said, as a reader without pictures gets it
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(guessOf({ unit: "mm" }, "1.172\u2009mm"), { unit: "mm", truth: 1.172 });
 * ```
 */
export function guessOf(mark: GuessMark, words: string): Guess {
  const { unit, choices, exact } = mark, truth = mark.comes ?? found(mark, words);
  return {
    ...(unit === undefined ? {} : { unit }),
    ...(choices === undefined ? {} : { choices }),
    ...(truth === undefined ? {} : { truth }),
    ...(exact === undefined ? {} : { exact }),
  };
}

function found(
  { unit, find = "([−-]?\\d+(?:\\.\\d+)?)", counts }: GuessMark,
  words: string,
): number | undefined {
  if (unit === undefined) return undefined;
  if (counts !== undefined) return words.match(new RegExp(counts, "g"))?.length;
  const digits = new RegExp(find).exec(words)?.[1]?.replace("−", "-");
  return digits === undefined || !Number.isFinite(Number(digits)) ? undefined : Number(digits);
}

/** What is said to a guess, and how near it came. */
export interface Guessed {
  readonly say: string;
  /** of a number its ratio to what came out, where there is one */
  readonly ratio?: number;
  /** within a tenth, or the right words; within twice; farther off, or other words; not to be told */
  readonly how: "near" | "twice" | "far" | "untold";
}

/**
 * How far off a guess was.
 *
 * @param guess  as the page holds it
 * @param typed  whatever was typed, not empty
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(
 *   guessed({ unit: "mm", truth: 1.172 }, "5").say,
 *   "You guessed 5\u00a0mm. It is 1.172\u00a0mm: your guess is about 4.3 times too large.",
 * );
 * assert.equal(guessed({ choices: ["yes", "no"], truth: "no" }, "No").say, "You guessed no. So it is.");
 * ```
 */
export function guessed(guess: Guess, typed: string): Guessed {
  const { unit = "", choices, truth, exact } = guess;
  const bare = (text: string): string =>
    text.trim().toLowerCase().replace(/\s+/g, " ").replace(/[.!?]$/, "");
  const behind = unit === "" ? "" : "\u00a0" + unit;
  const printed = (value: number): string =>
    String(Number(value.toPrecision(4))).replace("-", "−") + behind;
  const words = typed.trim().slice(0, 80);
  if (choices !== undefined) {
    const picked = choices.find((one) => bare(one) === bare(words)) ?? words;
    const mine = "You guessed " + picked + ". ";
    if (truth === undefined) return { say: mine + "Compare it with the result.", how: "untold" };
    return picked === truth
      ? { say: mine + "So it is.", how: "near" }
      : { say: mine + "It is: " + truth + ".", how: "far" };
  }
  const number = numbersIn(words, unit)[0];
  const mine = "You guessed " + (number === undefined ? words : printed(number)) + ". ";
  if (typeof truth !== "number") {
    return { say: mine + "Compare it with the result.", how: "untold" };
  }
  const is = mine + "It is " + printed(truth);
  if (number === undefined) return { say: is + ".", how: "untold" };
  if (number === truth) return { say: mine + "So it is.", how: "near", ratio: 1 };
  if (exact) return { say: is + ".", how: "far" };
  if (truth === 0 || number === 0) {
    return {
      say: is + ": your guess is off by " + printed(Math.abs(number - truth)) + ".",
      how: "far",
    };
  }
  const ratio = number / truth, off = Math.abs(ratio - 1);
  if (ratio < 0) return { say: is + ": your guess has the other sign.", how: "far" };
  const size = ratio > 1 ? "large" : "small", larger = ratio > 1 ? ratio : 1 / ratio;
  const far = off < 0.6
    ? "too " + size + " by about " + Math.max(1, Number((100 * off).toPrecision(1))) + "\u00a0%"
    : "about " + Number(larger.toPrecision(2)) + " times too " + size;
  const how = larger <= 1.1 ? "near" : larger <= 2 ? "twice" : "far";
  const near = how === "near" ? "very near, " : "";
  return { say: is + ": your guess is " + near + far + ".", how, ratio };
}

/**
 * How well a reader guesses, from all guesses of a page.
 *
 * @param all    what was said to each
 * @param asked  how many guesses the page asks for
 * @returns one or two sentences; what to do, where nothing was guessed yet
 */
export function howWell(all: readonly Guessed[], asked: number): string {
  const count = (how: string): number => all.filter((one) => one.how === how).length;
  if (all.length === 0) {
    return "This page asks for " + asked + (asked === 1 ? " guess" : " guesses") +
      ". Guess first, and it is told here how near you come.";
  }
  const told = "You guessed " + all.length + " of " + asked + ": " + count("near") +
    " right or within a tenth, " + count("twice") + " within twice, " + count("far") +
    " farther off.";
  const ratios = all.map((one) => one.ratio).filter((ratio) => ratio !== undefined && ratio > 0)
    .map((ratio) => Math.log(ratio ?? 1));
  if (ratios.length < 3) return told;
  const middle = (values: readonly number[]): number => {
    const sorted = [...values].sort((a, b) => a - b), half = (sorted.length - 1) / 2;
    return ((sorted[Math.floor(half)] ?? 0) + (sorted[Math.ceil(half)] ?? 0)) / 2;
  };
  const usual = Math.exp(middle(ratios.map(Math.abs)));
  const large = ratios.filter((one) => one > 0).length,
    small = ratios.filter((one) => one < 0).length;
  const way = large > small + 1
    ? " More of them are too large than too small."
    : small > large + 1
    ? " More of them are too small than too large."
    : "";
  return told + " A number of yours is usually off by a factor of " + usual.toPrecision(2) + "." +
    way;
}

// "Try it": a value of a cell that a reader may change in a field, marked by a comment behind its line.

/** A value to try, from a line such as `const aperture = 150; // try 200 mm`. */
export interface Trial {
  /** the name that gets it */
  readonly name: string;
  /** what the notebook proposes */
  readonly value: string;
  readonly unit: string;
}

/**
 * What a cell proposes to try; nothing where no line of it ends in `// try`.
 *
 * @param source  of the cell
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const source = "const aperture = 150; // try 200 mm";
 * assert.deepEqual(trialOf(source), { name: "aperture", value: "200", unit: "mm" });
 * assert.equal(withTrial(source, "aperture", "175,5 mm", "mm"), "const aperture = 175.5; // try 200 mm");
 * ```
 */
export function trialOf(source: string): Trial | undefined {
  const line = /^const (\w+) = .*; \/\/ try (\S+)(?: (\S+))?$/m.exec(source);
  if (line === null) return undefined;
  const [, name = "", value = "", unit = ""] = line;
  return { name, value, unit };
}

/**
 * The cell with another value under a name: a text where a text stood, else a number.
 *
 * @returns nothing where no number can be read, or the cell no longer has the name
 */
export function withTrial(
  source: string,
  name: string,
  typed: string,
  unit = "",
): string | undefined {
  const line = new RegExp("^(\\s*(?:const|let) " + name + " = )([^;]*)(;?)", "m");
  const was = line.exec(source)?.[2];
  if (was === undefined) return undefined;
  const number = numbersIn(typed, unit)[0];
  const isText = /^["'`]/.test(was);
  if (!isText && number === undefined) return undefined;
  const now = isText ? JSON.stringify(typed.trim().slice(0, 80)) : String(number);
  return source.replace(line, (_, before: string, _was, after: string) => before + now + after);
}

/** The source of everything above, and of what it needs, for a page's script. */
export function guessSource(): string {
  return [numbersSource(), guessed, howWell, withTrial].map(String).join("\n");
}

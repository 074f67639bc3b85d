/**
 * Reading mirror.yaml by a shape: small readers that are put together, each knowing its place in the file. Only the
 * document's own nodes are walked; no object is ever built from a stranger's keys.
 */
import {
  type ErrorCode,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  type Pair,
  parseDocument,
  visit,
  type YAMLError,
} from "yaml";
import { quantity } from "../quantity/units.ts";
import { clean } from "./clean.ts";
import { type Findings, type Place, shown } from "./errors.ts";
import { nearest, suggestion } from "./nearest.ts";
import { BASE, type Dimension, parseNumber, unitFactor } from "./written.ts";

/** Where a reader stands: the key's path, e.g. `gauges.leaves.width`, and the line. */
export interface Context {
  readonly place: Place;
  readonly lines: LineCounter;
  readonly findings: Findings;
  /** the line of every known key, by its path */
  readonly keyLines: Map<string, number>;
}

/** What was read, and in which line each key stands. */
export interface ReadYaml<T> {
  readonly value: T;
  readonly keyLines: ReadonlyMap<string, number>;
}

/** Reads a node, or refuses it and gives `undefined`. */
export interface Reader<T> {
  (node: unknown, context: Context): T | undefined;
  /** the keys of a group, or of each group in a list, with a reader for each */
  readonly keys?: Shape | undefined;
}

/**
 * Parses the text of a YAML file and hands its root to a reader.
 *
 * Anchors, aliases, tags and merge keys are refused: a record needs none, and piled up they fill a memory.
 *
 * @returns what the reader gives, or `undefined` when refused
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * const shape = section({ focalLength: measure("length", 10, 1e5) }, ["focalLength"]);
 * const read = readYaml("focal_length: 48 in\n", "mirror.yaml", shape, new Findings());
 * assert.equal(read?.value.focalLength.toFixed(1), "1219.2");
 * ```
 */
export function readYaml<T>(
  text: string,
  file: string,
  reader: Reader<T>,
  findings: Findings,
): ReadYaml<T> | undefined {
  const lines = new LineCounter();
  const document = parsed(text, lines);
  if (document === undefined) {
    findings.refuse(
      { file, line: 1 },
      "brackets within brackets without end",
      "a plain list of keys",
      "take them out",
    );
    return undefined;
  }
  const before = findings.count;
  refuseProblems(document.errors, text, file, lines, findings);
  visit(document, {
    Node(_key, node): symbol | undefined {
      const what = isAlias(node)
        ? "an alias"
        : node.anchor
        ? "an anchor"
        : node.tag
        ? "a tag"
        : undefined;
      if (what === undefined) return undefined;
      const line = lineOf(node, lines);
      findings.refuse(
        { file, line },
        `${what}, ${shown(textAt(text, line))}`,
        "plain values",
        "write the value out",
      );
      return visit.BREAK;
    },
  });
  if (findings.count > before) return undefined;
  const keyLines = new Map<string, number>();
  const value = reader(document.contents, { place: { file, line: 1 }, lines, findings, keyLines });
  return value === undefined ? undefined : { value, keyLines };
}

const PROBLEMS: Readonly<Partial<Record<ErrorCode, readonly [wanted: string, mend: string]>>> = {
  DUPLICATE_KEY: ["each key once", "take one of the two lines out"],
  MULTIPLE_DOCS: ["one page", "take the line of dashes out, and what follows it"],
  TAB_AS_INDENT: ["spaces before a key", "put spaces where the tab is"],
};

/** What the parser could not make sense of, once for each line. */
function refuseProblems(
  problems: readonly YAMLError[],
  text: string,
  file: string,
  lines: LineCounter,
  findings: Findings,
): void {
  const told = new Set<number>();
  for (const problem of problems) {
    const { line } = lines.linePos(problem.pos[0]);
    if (told.has(line)) continue;
    told.add(line);
    const [wanted, mend] = PROBLEMS[problem.code] ?? [
      "keys, colons and values",
      "look here and a line on at the colons, the spaces before keys, brackets and quotation marks",
    ];
    findings.refuse({ file, line }, shown(textAt(text, line)), wanted, mend);
  }
}

function parsed(text: string, lines: LineCounter): ReturnType<typeof parseDocument> | undefined {
  try {
    return parseDocument(text, {
      lineCounter: lines,
      prettyErrors: false,
      resolveKnownTags: false,
    });
  } catch (error) {
    // The parser calls itself for each bracket: a file of nothing but brackets ends its stack.
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

function textAt(text: string, line: number): string {
  return text.split(/\r\n|\r|\n/)[line - 1] ?? "";
}

/** The line a node begins in, the first being 1. */
export function lineOf(node: unknown, lines: LineCounter): number {
  const start = (node as Node | null)?.range?.[0];
  return start === undefined ? 1 : Math.max(1, lines.linePos(start).line);
}

type Read<R> = R extends Reader<infer T> ? T : never;
type Shape = Readonly<Record<string, Reader<unknown>>>;

/** What `section` gives: the needed keys are there, the others may be absent. */
export type Section<S extends Shape, N extends keyof S> =
  & { readonly [K in N]: Read<S[K]> }
  & { readonly [K in Exclude<keyof S, N>]?: Read<S[K]> };

/** `focalLength` as it stands in a file: `focal_length`. */
function keyOf(name: string): string {
  return name.replace(/[A-Z]/g, (capital) => `_${capital.toLowerCase()}`);
}

/**
 * A group of keys. Unknown keys are refused with the nearest known one, needed keys where they are missing.
 *
 * @param shape   a reader for each key; `legRadius` stands in the file as `leg_radius`
 * @param needed  keys that must be there
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * const findings = new Findings();
 * readYaml("tite: mine\n", "m.yaml", section({ title: words }), findings);
 * assert.equal(findings.refusals[0]?.message, 'found the key "tite", wanted a key known here: did you mean title?');
 * ```
 */
export function section<S extends Shape, N extends keyof S & string = never>(
  shape: S,
  needed: readonly N[] = [],
): Reader<Section<S, N>> {
  const names = new Map(Object.keys(shape).map((name) => [keyOf(name), name]));
  const read: Reader<Section<S, N>> = (node, context) => {
    const { findings } = context;
    if (!isMap(node)) {
      const example = `${needed[0] === undefined ? [...names.keys()][0] : keyOf(needed[0])}: ...`;
      findings.refuse(
        context.place,
        shown(sourceOf(node)),
        "keys with values",
        `write keys such as ${example}`,
      );
      return undefined;
    }
    const found: Record<string, unknown> = {};
    const meant = new Set<string>();
    let before: Pair | undefined;
    for (const pair of node.items) {
      const key = sourceOf(pair.key);
      const name = names.get(key);
      const place = placeOf(pair.key, key, context);
      if (name === undefined) {
        const split = splitByComma(before, pair);
        before = undefined;
        if (split !== undefined) {
          findings.refuse(place, `the number ${split.typed}`, "a decimal point", split.mend);
          continue;
        }
        const known = [...names.keys()];
        findings.refuse(place, `the key ${shown(key)}`, "a key known here", suggestion(key, known));
        for (const near of nearest(key, known)) meant.add(near);
        continue;
      }
      before = pair;
      context.keyLines.set(pathOf(context, key), place.line ?? 1);
      const value = shape[name]?.(pair.value, { ...context, place });
      if (value !== undefined) found[name] = value;
    }
    for (const key of needed.map(keyOf)) {
      // A misspelt key is told once, as itself.
      if (meant.has(key) || node.items.some((pair) => sourceOf(pair.key) === key)) continue;
      const place = { ...context.place, column: pathOf(context, key) };
      findings.refuse(place, "no such key", key, "write it in");
    }
    const whole = needed.every((name) => found[name] !== undefined);
    return whole ? found as unknown as Section<S, N> : undefined;
  };
  return Object.assign(read, { keys: shape });
}

/** In brackets a decimal comma parts a value in two: `{ wall: 3,2 mm }` holds 3 and a key `2 mm`. */
function splitByComma(
  before: Pair | undefined,
  pair: Pair,
): { readonly typed: string; readonly mend: string } | undefined {
  const whole = sourceOf(before?.value), rest = sourceOf(pair.key);
  if (pair.value !== null || !/^[+-]?\d+$/.test(whole) || !/^\d+( ?\D{0,8})$/.test(rest)) {
    return undefined;
  }
  return { typed: `${whole},${rest}`, mend: `write ${whole}.${rest}` };
}

function pathOf({ place }: Context, key: string): string {
  return place.column === undefined ? key : `${place.column}.${key}`;
}

function placeOf(node: unknown, key: string, context: Context): Place {
  const column = pathOf(context, clean(key, 40));
  return { file: context.place.file, line: lineOf(node, context.lines), column };
}

/**
 * A list, each item read alike; from `least` to `most` items.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * const flats = list(measure("length", 1, 100));
 * assert.deepEqual(readYaml("[25 mm, 1 in]", "m.yaml", flats, new Findings())?.value, [25, 25.4]);
 * ```
 */
export function list<T>(
  item: Reader<T>,
  least = 0,
  most = 100,
  mend = "add some or take some out",
): Reader<readonly T[]> {
  const read: Reader<readonly T[]> = (node, context) => {
    const { findings, place, lines } = context;
    if (!isSeq(node)) {
      findings.refuse(
        place,
        shown(sourceOf(node)),
        "a list",
        "write it in square brackets, parted by commas",
      );
      return undefined;
    }
    if (node.items.length < least || node.items.length > most) {
      const wanted = least === most ? `${least}` : `${least} to ${most}`;
      findings.refuse(
        place,
        `${node.items.length} ${node.items.length === 1 ? "item" : "items"}`,
        wanted,
        mend,
      );
      return undefined;
    }
    const items = node.items.map((one, index) => {
      const column = `${place.column ?? ""}[${index + 1}]`;
      return item(one, { ...context, place: { ...place, line: lineOf(one, lines), column } });
    });
    return items.flatMap((one) => one === undefined ? [] : [one]);
  };
  return item.keys === undefined ? read : Object.assign(read, { keys: item.keys });
}

/** The characters that stood there, whatever YAML takes them for: `yes`, `2026` and `1.0` are words too. */
export function sourceOf(node: unknown): string {
  if (isScalar(node)) return String(node.source ?? node.value ?? "");
  if (isMap(node)) return "{ ... }";
  return isSeq(node) ? "[ ... ]" : "";
}

/** One value, its text given to `read`; refuses lists, groups and nothing at all. */
export function scalar<T>(read: (text: string, context: Context) => T | undefined): Reader<T> {
  return (node, context) => {
    const { findings, place } = context;
    if (node !== null && !isScalar(node)) {
      findings.refuse(place, shown(sourceOf(node)), "one value", "write it after the colon");
      return undefined;
    }
    const text = sourceOf(node).trim();
    if (text !== "") return read(text, context);
    findings.refuse(place, "nothing", "a value", "write it after the colon, or take the key out");
    return undefined;
  };
}

/** Words as they stand, at most 200 letters. */
export const words: Reader<string> = scalar((text, { findings, place }) => {
  if (text.startsWith("=")) {
    findings.refuse(place, `the formula ${shown(text)}`, "words", "write what it comes to");
    return undefined;
  }
  if (text.length <= 200) return clean(text);
  findings.refuse(place, `${text.length} letters`, "at most 200", "make it shorter");
  return undefined;
});

/**
 * One of a few words; capitals do not count.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * const side = choice("left", "right");
 * assert.equal(readYaml("Left", "m.yaml", side, new Findings())?.value, "left");
 * ```
 */
export function choice<const C extends string>(...choices: readonly C[]): Reader<C> {
  return scalar((text, { findings, place }) => {
    const plain = text.toLowerCase().replace(/\s+/g, " ");
    const word = choices.find((one) => one.toLowerCase() === plain);
    if (word !== undefined) return word;
    const [near] = nearest(text, choices, 1);
    const mend = near === undefined ? "write one of them" : `did you mean ${near}?`;
    findings.refuse(place, shown(text), choices.join(" or "), mend);
    return undefined;
  });
}

/**
 * A pure number from least to most.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * assert.equal(readYaml("0.15", "m.yaml", number(0, 1), new Findings())?.value, 0.15);
 * ```
 */
export function number(least: number, most: number): Reader<number> {
  return scalar((text, { findings, place }) => {
    const value = parseNumber(text, ".");
    if (value === undefined) {
      findings.refuse(
        place,
        shown(text),
        "a number",
        "write digits with a decimal point, without a unit",
      );
      return undefined;
    }
    if (value >= least && value <= most) return value;
    findings.refuse(
      place,
      shown(text),
      `${least} to ${most}`,
      "no bench has this; look at the digits",
    );
    return undefined;
  });
}

const OTHER: Readonly<Record<Dimension, readonly [string, string]>> = {
  length: ["mm", "in"],
  angle: ["deg", "rad"],
  time: ["min", "h"],
  mass: ["g", "kg"],
};

/** Offered where a unit is not known. */
const UNITS: Readonly<Record<Dimension, readonly string[]>> = {
  length: ["mm", "cm", "um", "nm", "inch", "thou", "ft"],
  angle: ["deg", "rad", "arcmin", "arcsec"],
  time: ["min", "hour", "sec"],
  mass: ["g", "kg", "mg", "oz", "lb"],
};

/**
 * A number with its unit, e.g. `150 mm`, `6 in`, `0.3 kg`, in the kit's unit of that dimension.
 *
 * @param least  smallest value allowed, in that unit
 * @param most   largest
 * @param mend   what to do about a value beyond them
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * const length = measure("length", 0, 1000);
 * assert.equal(readYaml("4 1/2 in", "m.yaml", length, new Findings())?.value, 114.3);
 * ```
 */
export function measure(
  dimension: Dimension,
  least: number,
  most: number,
  mend = "no bench has this; look at the digits and the unit",
): Reader<number> {
  return scalar((text, { findings, place }) => {
    const value = measured(text, dimension, place, findings);
    if (value === undefined || (value >= least && value <= most)) return value;
    const [unit] = dimension === "angle" ? OTHER.angle : [BASE[dimension]];
    const [low, high] = [least, most].map((end) => tidy(end / (unitFactor(unit, dimension) ?? 1)));
    const wanted = `${low} to ${high} ${unit}`;
    findings.refuse(place, shown(text), wanted, mend);
    return undefined;
  });
}

function tidy(value: number): string {
  return String(Number(value.toPrecision(6)));
}

function measured(
  text: string,
  dimension: Dimension,
  place: Place,
  findings: Findings,
): number | undefined {
  const [mm, inches] = OTHER[dimension];
  const value = quantityIn(text, dimension);
  if (value !== undefined) return value;
  const parts = /^([+\-\u2212]?(?:(?:\d+ )?\d+\/\d+|[\d.,]+(?:e[+-]?\d+)?))\s*([^\d\s.,+-]*)$/i
    .exec(text);
  const [, typed = "", unit = ""] = parts ?? [];
  const digits = parseNumber(typed, ".");
  if (digits === undefined) {
    const mend = typed.includes(",") ? withPoint(typed, unit || mm) : `write it like 12.5 ${mm}`;
    findings.refuse(place, shown(text), `a number and a unit of ${dimension}`, mend);
  } else if (unit === "") {
    const factor = (name: string): number => unitFactor(name, dimension) ?? NaN;
    const other = tidy(digits * factor(inches) / factor(mm));
    const mend = `write ${typed} ${mm} or ${typed} ${inches} (which is ${other} ${mm})`;
    findings.refuse(place, `the bare number ${typed}`, `a unit of ${dimension}`, mend);
  } else {
    const near = nearest(unit, UNITS[dimension]).join(" or ");
    const mend = near === "" ? `write ${mm} or ${inches}, for example` : `did you mean ${near}?`;
    findings.refuse(place, `the unit ${shown(unit)}`, `a unit of ${dimension}`, mend);
  }
  return undefined;
}

/** How a number with a comma is written: by a point; where three digits follow it, both readings. */
function withPoint(typed: string, unit: string): string {
  const comma = /^([+\-\u2212]?\d+),(\d+)$/.exec(typed);
  if (comma === null) return "write a decimal point here, and no thousands marks";
  const [, whole = "", rest = ""] = comma;
  const point = `${whole}.${rest} ${unit}`;
  return rest.length === 3
    ? `write ${point} or ${whole}${rest} ${unit}, whichever is meant`
    : `write ${point}, with a decimal point`;
}

function quantityIn(text: string, dimension: Dimension): number | undefined {
  const parts = /^([^a-zµμ°]*?)\s*(µm|μm|°)$/i.exec(text);
  const plain = parts === null ? text : `${parts[1]} ${parts[2] === "°" ? "deg" : "um"}`;
  try {
    return quantity(plain.slice(0, 60), BASE[dimension]).value;
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

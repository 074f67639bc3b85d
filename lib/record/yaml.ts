/**
 * Reading mirror.yaml by a shape: small readers that are put together, each knowing its place in the file. Only the
 * document's own nodes are walked; no object is ever built from a stranger's keys.
 */
import {
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  parseDocument,
  visit,
} from "yaml";
import { type Findings, shown } from "./errors.ts";
import { suggestion } from "./nearest.ts";
import { quantity } from "../quantity/units.ts";
import { parseNumber } from "./number.ts";
import { BASE, type Dimension, unitFactor } from "./unit.ts";
import type { Place } from "./types.ts";

/** Where a reader stands: the key's path, e.g. `gauges.leaves.width`, and the line. */
export interface Context {
  readonly place: Place;
  readonly lines: LineCounter;
  readonly findings: Findings;
}

/** Reads a node, or refuses it and gives `undefined`. */
export type Reader<T> = (node: unknown, context: Context) => T | undefined;

type Read<R> = R extends Reader<infer T> ? T : never;
type Shape = Readonly<Record<string, Reader<unknown>>>;

/** What `section` gives: the needed keys are there, the others may be absent. */
export type Section<S extends Shape, N extends keyof S> =
  & { readonly [K in N]: Read<S[K]> }
  & { readonly [K in Exclude<keyof S, N>]?: Read<S[K]> };

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
 * assert.equal(read?.focalLength.toFixed(1), "1219.2");
 * ```
 */
export function readYaml<T>(
  text: string,
  file: string,
  reader: Reader<T>,
  findings: Findings,
): T | undefined {
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
  const before = findings.refusals.length;
  for (const problem of [...document.errors, ...document.warnings].slice(0, 5)) {
    const { line } = lines.linePos(problem.pos[0]);
    const [first = ""] = problem.message.split(/\n| at line /);
    const mend =
      "look at the colon, the spaces before the key, the brackets and the quotation marks";
    findings.refuse({ file, line }, shown(textAt(text, line)), "plain YAML", `${mend} (${first})`);
  }
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
  if (findings.refusals.length > before) return undefined;
  return reader(document.contents, { place: { file, line: 1 }, lines, findings });
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

function lineOf(node: unknown, lines: LineCounter): number {
  const start = (node as Node | null)?.range?.[0];
  return start === undefined ? 1 : Math.max(1, lines.linePos(start).line);
}

/** `focalLength` as it stands in a file: `focal_length`. */
function keyOf(name: string): string {
  return name.replace(/[A-Z]/g, (capital) => `_${capital.toLowerCase()}`);
}

/** A group of keys. Unknown keys are refused with the nearest known one, needed keys where they are missing. */
export function section<S extends Shape, N extends keyof S & string = never>(
  shape: S,
  needed: readonly N[] = [],
): Reader<Section<S, N>> {
  const names = new Map(Object.keys(shape).map((name) => [keyOf(name), name]));
  return (node, context) => {
    const { findings } = context;
    if (!isMap(node)) {
      const example = `${[...names.keys()][0]}: ...`;
      findings.refuse(
        context.place,
        shown(sourceOf(node)),
        "keys with values",
        `write keys such as ${example}`,
      );
      return undefined;
    }
    const read: Record<string, unknown> = {};
    for (const pair of node.items) {
      const key = sourceOf(pair.key);
      const name = names.get(key);
      const place = placeOf(pair.key, key, context);
      if (name === undefined) {
        findings.refuse(
          place,
          `the key ${shown(key)}`,
          "a key of this place",
          suggestion(key, [...names.keys()]),
        );
        continue;
      }
      const value = shape[name]?.(pair.value, { ...context, place });
      if (value !== undefined) read[name] = value;
    }
    const missing = needed.filter((name) =>
      !node.items.some(({ key }) => sourceOf(key) === keyOf(name))
    );
    for (const name of missing) {
      const place = { ...context.place, column: pathOf(context, keyOf(name)) };
      findings.refuse(place, "no such key", keyOf(name), "write it in");
    }
    const whole = needed.every((name) => read[name] !== undefined);
    return whole ? read as unknown as Section<S, N> : undefined;
  };
}

function pathOf({ place }: Context, key: string): string {
  return place.column === undefined ? key : `${place.column}.${key}`;
}

function placeOf(node: unknown, key: string, context: Context): Place {
  const column = pathOf(context, key.slice(0, 40));
  return { file: context.place.file, line: lineOf(node, context.lines), column };
}

/** The characters that stood there, whatever YAML takes them for: `yes`, `2026` and `1.0` are words too. */
function sourceOf(node: unknown): string {
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
  if (text.length <= 200) return text;
  findings.refuse(place, `${text.length} letters`, "at most 200", "make it shorter");
  return undefined;
});

/** One of a few words. */
export function choice<const C extends string>(...choices: readonly C[]): Reader<C> {
  return scalar((text, { findings, place }) => {
    const word = choices.find((one) =>
      one.toLowerCase() === text.toLowerCase().replace(/\s+/g, " ")
    );
    if (word === undefined) {
      findings.refuse(place, shown(text), choices.join(" or "), suggestion(text, choices));
    }
    return word;
  });
}

/** A pure number from least to most. */
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

/**
 * A number with its unit, e.g. `150 mm`, `6 in`, `0.3 kg`, in the kit's unit of that dimension.
 *
 * @param least  smallest value allowed, in that unit
 * @param most   largest
 */
export function measure(dimension: Dimension, least: number, most: number): Reader<number> {
  return scalar((text, { findings, place }) => {
    const value = measured(text, dimension, place, findings);
    if (value === undefined || (value >= least && value <= most)) return value;
    const wanted = `${tidy(least)} to ${tidy(most)} ${BASE[dimension]}`;
    findings.refuse(
      place,
      shown(text),
      wanted,
      "no bench has this; look at the digits and the unit",
    );
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
  const parts = /^([+\-\u2212]?[\d.,]+(?:e[+-]?\d+)?)\s*([^\d\s.,+-]*)$/i.exec(text);
  const [, typed = "", unit = ""] = parts ?? [];
  const digits = parseNumber(typed, ".");
  if (digits === undefined) {
    const mend = typed.includes(",")
      ? "write a decimal point here, and no thousands marks"
      : `write it like 12.5 ${mm}`;
    findings.refuse(place, shown(text), `a number and a unit of ${dimension}`, mend);
  } else if (unit === "") {
    const factor = (name: string): number => unitFactor(name, dimension) ?? NaN;
    const other = tidy(digits * factor(inches) / factor(mm));
    const mend = `write ${typed} ${mm} or ${typed} ${inches} (which is ${other} ${mm})`;
    findings.refuse(place, `the bare number ${typed}`, `a unit of ${dimension}`, mend);
  } else {
    const mend = `write ${mm}, ${inches} or another unit of ${dimension}`;
    findings.refuse(place, `the unit ${shown(unit)}`, `a unit of ${dimension}`, mend);
  }
  return undefined;
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

/** A list, each item read alike; from `least` to `most` items. */
export function list<T>(item: Reader<T>, least = 0, most = 100): Reader<readonly T[]> {
  return (node, context) => {
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
      findings.refuse(place, `${node.items.length} items`, wanted, "add some or take some out");
      return undefined;
    }
    const items = node.items.map((one, index) => {
      const column = `${place.column ?? ""}[${index + 1}]`;
      return item(one, { ...context, place: { ...place, line: lineOf(one, lines), column } });
    });
    return items.flatMap((one) => one === undefined ? [] : [one]);
  };
}

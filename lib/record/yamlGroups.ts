/** Readers for groups of keys and for lists in mirror.yaml. */
import { isMap, isSeq, type Pair } from "yaml";
import { clean } from "./clean.ts";
import { shown } from "./errors.ts";
import { nearest, suggestion } from "./nearest.ts";
import type { Place } from "./types.ts";
import { type Context, lineOf, type Reader } from "./yaml.ts";
import { sourceOf } from "./yamlValues.ts";

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
 * import { words } from "./yamlValues.ts";
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
  return (node, context) => {
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
    const read: Record<string, unknown> = {};
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
      if (value !== undefined) read[name] = value;
    }
    for (const key of needed.map(keyOf)) {
      // A misspelt key is told once, as itself.
      if (meant.has(key) || node.items.some((pair) => sourceOf(pair.key) === key)) continue;
      const place = { ...context.place, column: pathOf(context, key) };
      findings.refuse(place, "no such key", key, "write it in");
    }
    const whole = needed.every((name) => read[name] !== undefined);
    return whole ? read as unknown as Section<S, N> : undefined;
  };
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
 * import { measure } from "./yamlValues.ts";
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
}

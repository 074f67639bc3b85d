/** `class.yaml`, a class's own page beside the benches' folders: all of it optional. */
import { isMap } from "yaml";
import { isDate } from "./date.ts";
import { type Findings, shown } from "./errors.ts";
import { findAbrasive } from "./abrasiveNames.ts";
import {
  list,
  measure,
  number,
  type Reader,
  readYaml,
  scalar,
  section,
  sourceOf,
  words,
} from "./yaml.ts";

/** One bench as the class's page names it. */
export interface BenchNamed {
  /** its folder, beside class.yaml */
  readonly folder: string;
  /** what it is called on the wall: a number and a colour, no names of children */
  readonly name?: string;
  /** how many work at it */
  readonly learners?: number;
}

/** A class's own page; what is not written is absent. */
export interface ClassSettings {
  /** of the class */
  readonly title?: string;
  /** benches in the order in which they are named */
  readonly benches?: readonly BenchNamed[];
  /** the days of the workshop, ISO, in their order */
  readonly dates?: readonly string[];
  /** of work a day, h */
  readonly hours?: number;
  /** how many adults are there */
  readonly adults?: number;
  /** what was there at the beginning, g, by the abrasives' names, "pitch", "oxide" */
  readonly stock?: ReadonlyMap<string, number>;
  /** of the room */
  readonly tester?: { readonly count?: number };
}

const day = scalar((text, { findings, place }) => {
  if (isDate(text)) return text;
  findings.refuse(
    place,
    shown(text),
    "a day that there is, year first",
    "write it like 2026-04-18",
  );
  return undefined;
});

const mass = measure("mass", 0, 1e7, "no cupboard holds this; look at the digits and the unit");

const OTHER_STOCK: readonly string[] = ["pitch", "oxide"];

/** `{ F80: 900 g, pitch: 3 kg }`: any name of the table of abrasives, pitch, oxide. */
const stock: Reader<ReadonlyMap<string, number>> = (node, context) => {
  const { findings, place } = context;
  if (!isMap(node)) {
    const mend = "write what there is, such as { F80: 900 g, pitch: 3 kg }";
    findings.refuse(place, shown(sourceOf(node)), "names with masses", mend);
    return undefined;
  }
  const found = new Map<string, number>();
  for (const pair of node.items) {
    const key = sourceOf(pair.key), other = OTHER_STOCK.find((one) => one === key.toLowerCase());
    const abrasive = other === undefined ? findAbrasive(key) : undefined;
    const name = other ?? abrasive?.name, here = { ...place, column: `stock.${key}` };
    if (name === undefined) {
      findings.refuse(here, shown(key), "a grade, pitch or oxide", abrasive?.mend ?? "mend it");
      continue;
    }
    const grams = mass(pair.value, { ...context, place: here });
    if (grams !== undefined) found.set(name, grams);
  }
  return found;
};

const shape = section({
  title: words,
  benches: list(
    section({ folder: words, name: words, learners: number(0, 30) }, ["folder"]),
    0,
    200,
    "a folder a bench",
  ),
  dates: list(day, 1, 60, "the days of the workshop"),
  hours: number(0, 24),
  adults: number(0, 100),
  stock,
  tester: section({ count: number(0, 30) }),
});

/**
 * Reads a class's page.
 *
 * @param text      of class.yaml
 * @param findings  refusals; what was understood is read all the same where the page as a whole is one
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * const text = "title: Kestrel Lane\nstock: { F80: 0.9 kg, pitch: 3 kg }\n";
 * const { title, stock } = readClassSettings(text, new Findings());
 * assert.deepEqual([title, stock?.get("F80")], ["Kestrel Lane", 900]);
 * ```
 */
export function readClassSettings(text: string, findings: Findings): ClassSettings {
  const isBare = text.split(/\r\n|\r|\n/).every((line) => /^\s*(#.*)?$/.test(line));
  return isBare ? {} : readYaml(text, "class.yaml", shape, findings)?.value ?? {};
}

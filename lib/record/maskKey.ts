/** The key `mask` of mirror.yaml: edges of openings that adjoin, or a pair of edges for each opening. */
import { isScalar, isSeq } from "yaml";
import type { Findings } from "./errors.ts";
import { mm } from "./readings.ts";
import { LONGEST } from "./column.ts";
import type { Place, Settings } from "./types.ts";
import { lineOf, type Reader } from "./yaml.ts";
import { list } from "./yamlGroups.ts";
import { measure, sourceOf } from "./yamlValues.ts";

type Mask = NonNullable<Settings["mask"]>;

/** Openings in a mask, at least and at most. */
const [LEAST, MOST] = [2, 60];

const length = measure("length", 0, LONGEST);

/** An edge; nothing is nothing in any unit. */
const edge: Reader<number> = (node, context) =>
  isScalar(node) && sourceOf(node).trim() === "0" ? 0 : length(node, context);

const pair = list(edge, 2, 2, "give the inner edge and the outer one");
const edges = list(edge, LEAST + 1, MOST + 1, "a mask has two openings or more, side by side");
const pairs = list(pair, LEAST, MOST, "a mask has two openings or more");

/**
 * Reads `[0 mm, 30 mm, 45 mm]` or `[[5 mm, 25 mm], [30 mm, 42 mm]]`; refuses edges out of order and openings that overlap.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * const read = readYaml("[0 mm, 30 mm, 45 mm]", "m.yaml", mask, new Findings());
 * assert.deepEqual(read?.value, [{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }]);
 * ```
 */
export const mask: Reader<Mask> = (node, context) => {
  const { findings, lines, place } = context, before = findings.count;
  const items = isSeq(node) ? node.items : [];
  const openings = items.some((item) => isSeq(item))
    ? pairs(node, context)?.map(([inner = 0, outer = 0]) => ({ inner, outer }))
    : adjoining(edges(node, context));
  if (openings === undefined || findings.count > before) return undefined;
  const isPaired = isSeq(items[0]);
  openings.forEach(({ inner, outer }, index) => {
    const at = isPaired ? index : index + 1;
    const where = {
      ...place,
      line: lineOf(items[at], lines),
      column: `${place.column}[${at + 1}]`,
    };
    const last = openings[index - 1]?.outer ?? 0;
    if (outer <= inner) refuseOrder(where, outer, inner, findings);
    else if (inner < last) {
      const wanted = `an inner edge at or beyond ${mm(last)}, where the opening before it ends`;
      findings.refuse(where, mm(inner), wanted, "openings of one mask do not overlap; mend one");
    }
  });
  return findings.count > before ? undefined : openings;
};

function adjoining(edges: readonly number[] | undefined): Mask | undefined {
  return edges?.slice(1).map((outer, index) => ({ inner: edges[index] ?? 0, outer }));
}

function refuseOrder(where: Place, outer: number, inner: number, findings: Findings): void {
  const wanted = `more than the edge before it, ${mm(inner)}`;
  findings.refuse(where, mm(outer), wanted, "give the edges from the centre outward");
}

/** Refuses a mask that reaches beyond the disc. */
export function refuseBeyond(
  openings: Mask,
  aperture: number,
  place: Place,
  findings: Findings,
): void {
  const half = aperture / 2, widest = openings.at(-1)?.outer ?? 0;
  if (widest <= half + 1e-6) return;
  const mend = widest <= aperture + 1e-6
    ? "edges are radii, not diameters"
    : "look at the digits and the unit";
  findings.refuse(
    place,
    mm(widest),
    `openings inside the edge at ${mm(half)} from the centre`,
    mend,
  );
}

/**
 * A unit that stands once behind the list, `[[5, 25], [30, 42]] mm`, written behind each number.
 *
 * @param text  the whole of mirror.yaml; its lines stay where they are
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(unitInside("mask: [[5, 25], [30, 42]] mm"), "mask: [[5 mm, 25 mm], [30 mm, 42 mm]]");
 * ```
 */
export function unitInside(text: string): string {
  return text.replace(
    /^(mask:[ \t]*)(\[[\d.,\[\] \t]*\])[ \t]*([a-zµμ]{1,20}|")([ \t]*(?:#.*)?)$/gim,
    (_, key: string, edges: string, unit: string, rest: string) =>
      `${key}${edges.replace(/[\d.]+/g, (edge) => `${edge} ${unit === '"' ? "in" : unit}`)}${rest}`,
  );
}

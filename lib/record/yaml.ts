/**
 * Reading mirror.yaml by a shape: small readers that are put together, each knowing its place in the file. Only the
 * document's own nodes are walked; no object is ever built from a stranger's keys.
 */
import {
  type ErrorCode,
  isAlias,
  LineCounter,
  type Node,
  parseDocument,
  visit,
  type YAMLError,
} from "yaml";
import { type Findings, shown } from "./errors.ts";
import type { Place } from "./types.ts";

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
export type Reader<T> = (node: unknown, context: Context) => T | undefined;

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
 * import { section } from "./yamlGroups.ts";
 * import { measure } from "./yamlValues.ts";
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

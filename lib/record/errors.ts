/** How the reader says no: one class, one form of sentence, one collector that goes on after the first refusal. */
import { clean, plainLine } from "./clean.ts";

/** Where something stands in a maker's files; `line` counts from 1. */
export interface Place {
  /** path from the record's folder */
  readonly file: string;
  /** absent for the file as a whole */
  readonly line?: number;
  /** number from 1, or its heading */
  readonly column?: string | number;
}

/** Something unlikely: told wherever the number is used, never a reason to stop. */
export interface Warning extends Partial<Place> {
  /** in a sentence */
  readonly message: string;
}

/** A reason not to read the record: one sentence that says what stood there, what is wanted, how to mend it. */
export interface Refusal extends Place {
  /** found, wanted, and how to mend it */
  readonly message: string;
}

/** More refusals than this are counted, not listed: a stranger's file cannot fill the memory with sentences. */
export const MOST_REFUSALS = 200;

/**
 * Shows what stood in a file, safe to print: quoted, on one line, at most 60 characters, no control characters, no marks of direction.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(shown("0,8o"), '"0,8o"');
 * assert.equal(shown("  "), "nothing");
 * ```
 */
export function shown(text: string): string {
  const plain = clean(text, 60);
  return plain === "" ? "nothing" : `"${plain}"`;
}

/**
 * The place and the sentence as one line, the way every command prints it.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const refusal = { file: "sun.csv", line: 3, column: "distance_mm", message: "found nothing" };
 * assert.equal(describe(refusal), "sun.csv, line 3, column distance_mm: found nothing");
 * ```
 */
export function describe(finding: Refusal | Warning): string {
  const parts: string[] = [];
  if (finding.file !== undefined) parts.push(clean(finding.file));
  if (finding.line !== undefined) parts.push(`line ${finding.line}`);
  if (finding.column !== undefined) {
    parts.push(`column ${clean(String(finding.column))}`);
  }
  const message = plainLine(finding.message);
  return parts.length === 0 ? message : `${parts.join(", ")}: ${message}`;
}

/** Thrown by `readRecord`: every reason found, in the order of the files. */
export class RecordRefused extends Error {
  override readonly name = "RecordRefused";
  readonly refusals: readonly Refusal[];

  constructor(refusals: readonly Refusal[]) {
    super(refusals.map(describe).join("\n"));
    this.refusals = refusals;
  }
}

/** Gathers refusals and warnings while reading goes on, so that a maker mends a record in one round. */
export class Findings {
  readonly warnings: Warning[] = [];
  readonly #refusals: Refusal[] = [];
  #unlisted = 0;

  /** One form for every refusal: `found X, wanted Y: how to mend it`. `found` is printed as it comes. */
  refuse(place: Place, found: string, wanted: string, mend: string): void {
    this.add({ ...place, message: `found ${found}, wanted ${wanted}: ${mend}` });
  }

  add(refusal: Refusal): void {
    if (this.#refusals.length < MOST_REFUSALS) this.#refusals.push(refusal);
    else this.#unlisted++;
  }

  warn(place: Partial<Place>, message: string): void {
    if (this.warnings.length < MOST_REFUSALS) this.warnings.push({ ...place, message });
  }

  /** how many refusals so far, listed or not */
  get count(): number {
    return this.#refusals.length + this.#unlisted;
  }

  get refused(): boolean {
    return this.count > 0;
  }

  get refusals(): readonly Refusal[] {
    if (this.#unlisted === 0) return this.#refusals;
    const message = `found ${this.#unlisted} more refusals of these kinds, not listed here`;
    return [...this.#refusals, { file: "mirror.yaml", message }];
  }
}

/** Results of long computations, as plain data that threads hand to one another and builds keep. */
import { createHash } from "node:crypto";
import { deserialize, serialize } from "node:v8";
import type { Memory } from "../numeric/remembered.ts";

/** Texts as one short mark of them. */
export function digest(...texts: readonly string[]): string {
  const hash = createHash("sha256");
  for (const text of texts) hash.update(text).update("\0");
  return hash.digest("hex").slice(0, 24);
}

/** Results of computations in serialized form, by their keys. */
export class Results implements Memory {
  /** those that were not there at first */
  readonly added = new Map<string, Uint8Array>();

  constructor(readonly known: ReadonlyMap<string, Uint8Array> = new Map()) {}

  recall(what: string, inputs: string): { readonly value: unknown } | undefined {
    const key = digest(what, inputs), kept = this.added.get(key) ?? this.known.get(key);
    return kept === undefined ? undefined : { value: deserialize(kept) };
  }

  keep(what: string, inputs: string, value: unknown): void {
    try {
      this.added.set(digest(what, inputs), serialize(value));
    } catch { /* no plain data: worked out each time */ }
  }
}

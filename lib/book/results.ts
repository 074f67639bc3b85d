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
  /** keys of those that were asked for */
  readonly used = new Set<string>();
  readonly #known: Map<string, Uint8Array>;

  constructor(known: ReadonlyMap<string, Uint8Array> = new Map()) {
    this.#known = new Map(known);
  }

  /** Takes what others have worked out meanwhile. */
  learn(others: ReadonlyMap<string, Uint8Array>): void {
    for (const [key, value] of others) this.#known.set(key, value);
  }

  /** Takes what a thread has worked out, and which it used. */
  take(
    { done, used }: {
      readonly done: ReadonlyMap<string, Uint8Array>;
      readonly used: ReadonlySet<string>;
    },
  ): void {
    for (const [key, value] of done) this.added.set(key, value);
    for (const key of used) this.used.add(key);
  }

  /** All that is known, what was used last at the end; what was not is left out once there is more than so many bytes. */
  all(most = Infinity): ReadonlyMap<string, Uint8Array> {
    const all = new Map([...this.#known, ...this.added]);
    for (const key of this.used) {
      const value = all.get(key);
      if (value === undefined) continue;
      all.delete(key);
      all.set(key, value);
    }
    let sum = 0;
    for (const { length } of all.values()) sum += length;
    for (const [key, { length }] of all) {
      if (sum <= most || this.used.has(key)) break;
      all.delete(key);
      sum -= length;
    }
    return all;
  }

  recall(what: string, inputs: string): { readonly value: unknown } | undefined {
    const key = digest(what, inputs), kept = this.added.get(key) ?? this.#known.get(key);
    if (kept !== undefined) this.used.add(key);
    return kept === undefined ? undefined : { value: deserialize(kept) };
  }

  keep(what: string, inputs: string, value: unknown): void {
    try {
      const key = digest(what, inputs);
      this.added.set(key, serialize(value));
      this.used.add(key);
    } catch { /* no plain data: worked out each time */ }
  }
}

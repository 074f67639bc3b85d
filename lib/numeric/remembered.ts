/**
 * Long computations that give the same for the same inputs, kept from one run of the kit to the next by whoever has a place
 * for them (`deno task book` has); by default nothing is kept.
 */

/** Where results are kept. */
export interface Memory {
  /** what was kept under this name for these inputs */
  recall(what: string, inputs: string): { readonly value: unknown } | undefined;
  keep(what: string, inputs: string, value: unknown): void;
}

let inUse: Memory | undefined;

/**
 * Keeps results there from now on.
 *
 * @param memory  `undefined` for nowhere
 */
export function rememberIn(memory: Memory | undefined): void {
  inUse = memory;
}

/**
 * A computation's result: as it was kept, or worked out now.
 *
 * @param what    its name, unlike that of every other
 * @param inputs  all that it depends on, in words
 * @param work    without any effect but its result, which is plain data
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(remembered("square", () => "3", () => 9), 9);
 * ```
 */
export function remembered<T>(what: string, inputs: () => string, work: () => T): T {
  const memory = inUse;
  if (memory === undefined) return work();
  const key = inputs(), kept = memory.recall(what, key);
  if (kept !== undefined) return kept.value as T;
  const value = work();
  memory.keep(what, key, value);
  return value;
}

/**
 * The same of what takes files to be read, where the inputs themselves may change meanwhile: what they were before and after
 * must be one and the same.
 *
 * @param inputs  all that it depends on, in words; `undefined` where nothing is to be kept
 * @param holds   whether a result is one for now too, where it also depends on the day
 */
export async function rememberedOf<T>(
  what: string,
  inputs: () => Promise<string | undefined>,
  work: () => Promise<T>,
  holds: (value: T) => boolean,
): Promise<T> {
  const memory = inUse, key = memory === undefined ? undefined : await inputs();
  if (memory === undefined || key === undefined) return await work();
  const kept = memory.recall(what, key)?.value as T | undefined;
  if (kept !== undefined && holds(kept)) return kept;
  const value = await work();
  if (holds(value) && await inputs() === key) memory.keep(what, key, value);
  return value;
}

/** A short mark of a picture's pixels, or of any numbers (FNV-1a over their bytes, two of 32 bits). */
export function markOf(values: Float32Array): string {
  const words = new Uint32Array(values.buffer, values.byteOffset, values.length);
  let one = 0x811c9dc5, two = 0x9747b28c;
  for (const word of words) {
    one = Math.imul(one ^ word, 0x01000193);
    two = Math.imul(two ^ (word >>> 7), 0x85ebca6b) + one;
  }
  return `${values.length} ${(one >>> 0).toString(36)} ${(two >>> 0).toString(36)}`;
}

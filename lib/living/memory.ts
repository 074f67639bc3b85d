/**
 * A guess at how much memory a cell holds, for a browser ends the whole page where a thread takes too much.
 *
 * What the cell's variables hold is looked at, lists by a few of their parts; it need only be right within a factor of two.
 */

/** How much a cell may hold, bytes: a fourth of what a browser lets a page have. */
export const MOST_HELD = 1e9;
const DEEP = 4;
const SAMPLES = 4;

/** Bytes that a value holds, about. */
export function heldBy(value: unknown, deep = 0): number {
  if (typeof value === "string") return 2 * value.length;
  if (typeof value !== "object" || value === null || deep > DEEP) return 8;
  if (ArrayBuffer.isView(value) || value instanceof ArrayBuffer) return value.byteLength;
  if (Array.isArray(value)) {
    return ofMany(value.length, (at) => heldBy(value[at], deep + 1));
  }
  if (value instanceof Map || value instanceof Set) {
    const some: unknown[] = [];
    for (const one of value.values()) if (some.push(one) >= SAMPLES) break;
    return 16 * value.size + ofMany(value.size, (at) => heldBy(some[at % some.length], deep + 1));
  }
  let sum = 24, looked = 0;
  for (const key in value) {
    const own = Object.getOwnPropertyDescriptor(value, key);
    if (own === undefined || !("value" in own)) continue;
    sum += heldBy(own.value, deep + 1);
    if (++looked > 50) break;
  }
  return sum;
}

/** What many parts come to, by a few of them. */
function ofMany(count: number, part: (at: number) => number): number {
  if (count === 0) return 16;
  const looked = Math.min(count, SAMPLES);
  let sum = 0;
  for (let i = 0; i < looked; i++) sum += part(Math.floor((i / looked) * count));
  return 16 + count * Math.max(8, sum / looked);
}

/** Counts rounds of loops, and looks at what is held every few milliseconds. */
export class Rounds {
  left = 0;
  #stride = 1;
  #looked = performance.now();

  /**
   * @param shared  what the cells' shared names hold
   */
  constructor(private readonly shared: () => readonly unknown[]) {}

  /** @throws {RangeError} where a cell holds too much */
  round(held: () => readonly (() => unknown)[]): void {
    const now = performance.now(), took = now - this.#looked;
    this.#stride = took < 2 ? Math.min(256, 2 * this.#stride) : took > 10 ? 1 : this.#stride;
    this.left = this.#stride;
    if (took < 5) return;
    const own = held().map((value) => {
      try {
        return value();
      } catch {
        return undefined; // its declaration is not reached yet
      }
    });
    let sum = 0;
    for (const value of [...own, ...this.shared()]) sum += heldBy(value);
    if (sum > MOST_HELD) throw new RangeError("out of memory");
    this.#looked = performance.now();
  }
}

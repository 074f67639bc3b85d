/** How much one key may ask in a time, so that nonsense from one phone hinders nobody else. */

interface Bucket {
  left: number;
  at: number;
}

/** A bucket of requests for each key: so many at once, so many a second after that. */
export class Limits {
  readonly #buckets = new Map<string, Bucket>();

  /**
   * @param atOnce    requests
   * @param aSecond   requests
   */
  constructor(private readonly atOnce: number, private readonly aSecond: number) {}

  /**
   * Takes one request out of a key's bucket.
   *
   * @param key  whose
   * @param now  ms
   * @returns 0 where there was one, else how many seconds to wait
   * @example
   * ```ts
   * import assert from "node:assert/strict";
   * const limits = new Limits(2, 1);
   * assert.deepEqual([0, 0, 0, 1500].map((now) => limits.take("a", now)), [0, 0, 1, 0]);
   * assert.equal(limits.take("b", 0), 0);
   * ```
   */
  take(key: string, now: number): number {
    const bucket = this.#buckets.get(key) ?? { left: this.atOnce, at: now };
    this.#buckets.set(key, bucket);
    bucket.left = Math.min(this.atOnce, bucket.left + (now - bucket.at) / 1000 * this.aSecond);
    bucket.at = now;
    if (bucket.left < 1) return Math.ceil((1 - bucket.left) / this.aSecond);
    bucket.left--;
    return 0;
  }
}

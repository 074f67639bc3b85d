/** Random numbers for made-up readings and photographs, apart from the library's own generator. */
export interface Dice {
  /** 0 up to, not including, 1 */
  uniform(): number;
  normal(): number;
  between(low: number, high: number): number;
  pick<T>(of: readonly T[]): T;
}

/**
 * Weyl's sequence, stirred; normal numbers by Box and Muller's pair.
 *
 * @param seed  a whole number
 */
export function dice(seed: number): Dice {
  let state = Math.imul(seed + 1, 0x9e3779b1) >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    between: (low, high) => low + (high - low) * uniform(),
    pick: <T>(of: readonly T[]): T => of[Math.floor(uniform() * of.length)] as T,
  };
}

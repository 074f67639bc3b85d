/**
 * The kit's one generator of random bits: sfc32, three 32-bit words and a counter (C. Doty-Humphrey, from memory).
 *
 * Its state is four signed integers in an array, so that a tight loop may take them out, turn, and put them back.
 */

/** The state a, b, c, counter from a seed, after twelve idle turns. */
export function startState(seed: number): Int32Array {
  const a = scramble(seed >>> 0), b = scramble(Math.floor(seed / 4294967296) + 0x9e3779b9);
  const state = Int32Array.of(a, b, scramble(a ^ b), 1);
  for (let turn = 0; turn < 12; turn++) nextWord(state);
  return state;
}

/** One turn of sfc32: 32 random bits, as a signed integer; callers shift. */
export function nextWord(state: Int32Array): number {
  const a = state[0] ?? 0, b = state[1] ?? 0, c = state[2] ?? 0, counter = state[3] ?? 0;
  const out = (a + b + counter) | 0;
  state[0] = b ^ (b >>> 9);
  state[1] = (c + (c << 3)) | 0;
  state[2] = (((c << 21) | (c >>> 11)) + out) | 0;
  state[3] = counter + 1;
  return out;
}

/** Fills an array with numbers from low up to high, 53 bits each; the turn is written out in the loop for speed. */
export function fillBetween(
  out: Float64Array,
  state: Int32Array,
  low: number,
  high: number,
): void {
  let a = state[0] ?? 0, b = state[1] ?? 0, c = state[2] ?? 0, counter = state[3] ?? 0;
  const unit = (high - low) / 9007199254740992;
  for (let n = 0; n < out.length; n++) {
    const first = (a + b + counter) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + first) | 0;
    const second = (a + b + counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (((c << 21) | (c >>> 11)) + second) | 0;
    counter = (counter + 2) | 0;
    out[n] = low + ((first >>> 5) * 67108864 + (second >>> 6)) * unit;
  }
  [state[0], state[1], state[2], state[3]] = [a, b, c, counter];
}

/** A bijection of 32-bit words that spreads every bit (the finalizer of splitmix32, from memory). */
function scramble(word: number): number {
  let z = (word + 0x9e3779b9) | 0;
  z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
  z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
  return z ^ (z >>> 15);
}

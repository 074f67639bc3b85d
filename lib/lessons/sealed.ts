/**
 * Text out of plain sight: a page's source, a search and a passing glance do not show it. It is no lock: whoever has the page
 * has the key, and whoever has the kit has `lib/lessons/exercises`.
 */

/**
 * The same bytes, each mixed with the next of a row that always begins alike; mixed twice they are themselves again.
 * Uses nothing but the language, for a page writes out its source.
 */
function mixed(bytes: Uint8Array): Uint8Array {
  let state = 0x2545f491;
  return bytes.map((byte) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return byte ^ (state >>> 24);
  });
}

/**
 * Text as letters that say nothing.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.doesNotMatch(seal("Which radius?"), /radius/);
 * assert.equal(unseal(seal("75² ÷ 4800 = 1.172 mm.")), "75² ÷ 4800 = 1.172 mm.");
 * ```
 */
export function seal(text: string): string {
  let letters = "";
  for (const byte of mixed(new TextEncoder().encode(text))) letters += String.fromCharCode(byte);
  return btoa(letters);
}

/** The text behind the letters. */
export function unseal(letters: string): string {
  const bytes = Uint8Array.from(atob(letters), (letter) => letter.charCodeAt(0));
  return new TextDecoder().decode(mixed(bytes));
}

/** The source of what a page needs to read sealed text. */
export function unsealSource(): string {
  return [mixed, unseal].map(String).join("\n");
}

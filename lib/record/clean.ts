/** What a maker's files hold, made fit to be printed: a stranger's record moves no cursor and turns no line round. */

/** Longest piece of a record that is printed, characters. */
export const LONGEST_PRINTED = 200;

/** Signs that turn the direction of a line, join it to others unseen, or are not seen at all. */
const UNSEEN =
  /[\u061c\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]|[\u{e0000}-\u{e007f}]/gu;
// deno-lint-ignore no-control-regex
const CONTROL = /[\u0000-\u001f\u007f-\u009f\u2028\u2029\ufffd]+/g;

/**
 * A text on one line, without control characters and marks of direction, however long.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(plainLine("a\u001b[2Jb\n\u202ec"), "a [2Jb c");
 * ```
 */
export function plainLine(text: string): string {
  return text.replace(UNSEEN, "").replace(CONTROL, " ");
}

/**
 * A piece of a record as it is printed: on one line, without control characters and marks of direction, cut at 200
 * characters.
 *
 * @param text  as it stands in the file
 * @param most  longest result, characters, the three dots of the cut included
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(clean("Asha's\r\nmirror \u202e "), "Asha's mirror");
 * assert.equal(clean("x".repeat(300)).length, 200);
 * ```
 */
export function clean(text: string, most = LONGEST_PRINTED): string {
  const plain = plainLine(text.slice(0, 4 * most + 100)).trim();
  const signs = [...plain];
  return signs.length <= most ? plain : `${signs.slice(0, most - 3).join("")}...`;
}

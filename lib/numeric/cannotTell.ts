/** How the kit says that readings are not enough for an answer, apart from every fault of its own. */

/**
 * Thrown where readings are read well and yet cannot tell what was asked: one zone only, no hollow under the gauge.
 *
 * The message is a sentence for the maker: what was read, and what would tell. It is no kind of `RangeError`: a
 * `RangeError` says that a function was called wrongly, which is a fault of the program and never of a reading. Whoever
 * reads a record catches this class and no other.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const error = new CannotTell("one zone tells only focus: read two or more");
 * assert.ok(!(error instanceof RangeError));
 * assert.equal(error.name, "CannotTell");
 * ```
 */
export class CannotTell extends Error {
  /** the name of the class, as it is printed before the message */
  override readonly name = "CannotTell";
}

/** For cells in a page: the few assertions of Node that a lesson makes, for a page has no Node. */
import { inspected } from "./inspected.ts";

/** A claim that does not hold. */
class AssertionError extends Error {
  override readonly name = "AssertionError";
}

function claim(holds: boolean, message: string | undefined, otherwise: () => string): void {
  if (!holds) throw new AssertionError(message ?? otherwise());
}

/** Whether two values say the same, part by part. */
function isSame(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null) {
    return false;
  }
  if (Object.getPrototypeOf(one) !== Object.getPrototypeOf(other)) return false;
  const keys = Object.keys(one), others = Object.keys(other);
  return keys.length === others.length &&
    keys.every((key) => isSame(Reflect.get(one, key), Reflect.get(other, key)));
}

/** What `import assert from "node:assert/strict"` gives in a page. */
export const assert: Readonly<Record<string, (...args: never[]) => void>> = {
  ok: (value: unknown, message?: string) =>
    claim(Boolean(value), message, () => `${inspected(value)} is not so.`),
  equal: (one: unknown, other: unknown, message?: string) =>
    claim(Object.is(one, other), message, () => `${inspected(one)} is not ${inspected(other)}.`),
  notEqual: (one: unknown, other: unknown, message?: string) =>
    claim(!Object.is(one, other), message, () => `both are ${inspected(one)}.`),
  deepEqual: (one: unknown, other: unknown, message?: string) =>
    claim(isSame(one, other), message, () => `${inspected(one)} is not ${inspected(other)}.`),
  match: (text: string, pattern: RegExp, message?: string) =>
    claim(pattern.test(text), message, () => `${inspected(text)} does not match ${pattern}.`),
  throws: (act: () => unknown, message?: string) => {
    let isThrown = false;
    try {
      act();
    } catch {
      isThrown = true;
    }
    claim(isThrown, message, () => "nothing was thrown.");
  },
};

/** A fault of the program, told as what it is: not the maker's, and with what whoever mends the kit needs to know. */
import { fileURLToPath } from "node:url";
import { KIT_VERSION } from "../version.ts";

/** Exit status of a task that a fault of the program has stopped. */
export const FAULT_STATUS = 70;

/** A sentence to the person at the keyboard: why a task was not done, and what to do. No fault of the program. */
export class NotDone extends Error {
  override readonly name = "NotDone";
}

/**
 * Is this a fault of the program, and no sentence to a person?
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(isFault(new RangeError("toFixed() digits argument must be between 0 and 100")), true);
 * assert.equal(isFault(new NotDone("name another file")), false);
 * ```
 */
export function isFault(error: unknown): boolean {
  const kinds = [TypeError, RangeError, ReferenceError, SyntaxError];
  return !(error instanceof Error) || kinds.some((kind) => error instanceof kind);
}

const root = new URL("../../", import.meta.url).href;

/** Where it happened, from the kit's own folder; the reader's paths are nobody's business. */
function placesOf(error: Error): string[] {
  const lines = (error.stack ?? "").split("\n").filter((line) => /^\s+at /.test(line));
  return lines.filter((line) => line.includes(root)).slice(0, 8).map((line) =>
    `  ${line.trim().replaceAll(root, "").replaceAll(fileURLToPath(root), "")}`
  );
}

/**
 * The report of a fault, in lines.
 *
 * @param error  whatever was thrown
 * @param task   what was being done: `check demo-150-f8`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const [first] = faultReport(new TypeError("x is undefined"), "check demo-150-f8");
 * assert.match(first ?? "", /fault of the kit, not of your record/);
 * ```
 */
export function faultReport(error: unknown, task: string): string[] {
  const inner = error instanceof Error && error.cause instanceof Error ? error.cause : error;
  const what = inner instanceof Error ? `${inner.name}: ${inner.message}` : String(inner);
  return [
    "This is a fault of the kit, not of your record or your readings. Nothing in the record was changed.",
    "Please report it with the lines below, and with the record if you may share it.",
    "",
    `  First Mirror ${KIT_VERSION}, Deno ${Deno.version.deno}, ${Deno.build.os} ${Deno.build.arch}`,
    `  task ${task}`,
    `  ${what.replace(/\s+/g, " ").slice(0, 300)}`,
    ...(inner instanceof Error ? placesOf(inner) : []),
  ];
}

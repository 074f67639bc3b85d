/** Paths as the person who typed the command means them. */
import { isAbsolute, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { recordFolder } from "../knowledge/open.ts";

const root = resolve(fileURLToPath(new URL("../../", import.meta.url)));

/**
 * A typed path, counted from where the command was typed; as it was typed where that is here.
 *
 * `deno task` runs every command in the project's folder and leaves the person's own in INIT_CWD.
 *
 * @param path  as typed
 * @param cwd   where this program runs; default: its own
 * @param from  where the person stood; default: the environment's INIT_CWD
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(fromCaller("/a/b"), "/a/b");
 * assert.equal(fromCaller("b", "/elsewhere", "/home"), "b");
 * ```
 */
export function fromCaller(
  path: string,
  cwd: string = Deno.cwd(),
  from: string | undefined = Deno.env.get("INIT_CWD"),
): string {
  const moved = from !== undefined && resolve(cwd) === root && resolve(from) !== root;
  return moved && !isAbsolute(path) ? join(from, path) : path;
}

/**
 * The folder of a record as typed: a path where there is a slash, else a folder of data/records; a name that is not
 * there but stands where the person stood is that folder.
 */
export function recordFromCaller(typed: string): string {
  if (/[\\/]/.test(typed) || /^\.{1,2}$/.test(typed)) return fromCaller(typed);
  const kept = recordFolder(typed), beside = fromCaller(typed);
  return !isFolder(kept) && isFolder(beside) ? beside : kept;
}

function isFolder(path: string): boolean {
  try {
    return Deno.statSync(path).isDirectory;
  } catch {
    return false;
  }
}

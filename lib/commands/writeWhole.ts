/** Writes a summary whole or not at all, and never over a file that is something else. */
import { NotDone } from "./fault.ts";

/** Is this a summary of ours, which may be replaced by a newer one? */
function isSummary(text: string): boolean {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === "object" && value !== null && "kit_version" in value;
  } catch {
    return false;
  }
}

/** Is this a class page of ours? */
export function isClassPage(text: string): boolean {
  return /^<!doctype html>\n<html lang="en" class="many">/.test(text);
}

function unwritable(path: string): string {
  return `${path} cannot be written; name a file in a folder that exists and is yours.`;
}

/**
 * Writes `text` to `path` by way of a file beside it, so that a reader never sees half of it.
 *
 * @param isOurs  which file may be replaced by a newer one; default a summary
 * @throws {NotDone} one sentence, where the path cannot be written or holds something that is not a summary
 */
export async function writeWhole(
  path: string,
  text: string,
  isOurs: (before: string) => boolean = isSummary,
): Promise<void> {
  const before = await Deno.readTextFile(path).catch((error: unknown) => {
    if (error instanceof Deno.errors.NotFound) return undefined;
    if (error instanceof Deno.errors.NotCapable) throw new NotDone(unwritable(path));
    throw new NotDone(`${path} cannot be written: it is not a file this program may replace.`);
  });
  if (before !== undefined && !isOurs(before)) {
    throw new NotDone(
      `${path} exists and is not ${
        isOurs === isSummary ? "a summary of a mirror" : "a page of a class"
      }, so it is left alone; name another file.`,
    );
  }
  const beside = `${path}.${crypto.randomUUID().slice(0, 8)}.part`;
  try {
    await Deno.writeTextFile(beside, text);
    await Deno.rename(beside, path);
  } catch {
    await Deno.remove(beside).catch(() => undefined);
    throw new NotDone(
      unwritable(path),
    );
  }
}

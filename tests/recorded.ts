/**
 * What was looked at and found good, kept as digests: what changes by accident is found, and what changes on purpose is looked
 * at and recorded anew by `RECORD=1 deno test -A FILE`.
 */
import assert from "node:assert/strict";
import { createHash } from "node:crypto";

/** A text in eight figures. */
export function digest(text: string): string {
  return createHash("sha256").update(text).digest("hex").slice(0, 8);
}

/** Markup without scripts: the page's own has tests of its own. */
export function withoutScripts(markup: string): string {
  return markup.replace(/<script[\s\S]*?<\/script>/g, "");
}

/** Holds digests by their names to those of a file, or records them. */
export async function assertRecorded(
  file: URL,
  now: Readonly<Record<string, string>>,
): Promise<void> {
  if (Deno.env.get("RECORD") === "1") {
    await Deno.writeTextFile(file, `${JSON.stringify(now, null, 2)}\n`);
  }
  // RECORDED
  assert.deepEqual(now, JSON.parse(await Deno.readTextFile(file)));
}

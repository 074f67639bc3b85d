/** What stands above a lesson: how much of the reader's own there is, and where it is shown. No result: those come after the questions. */
import type { Shown } from "../figures/show.ts";
import { say } from "../figures/words.ts";
import type { Mirror } from "../knowledge/open.ts";
import type { TableName } from "../record/schema.ts";

/** "a, b and c". */
function listed(parts: readonly string[]): string {
  return parts.length < 2
    ? parts.join("")
    : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1) ?? ""}`;
}

/**
 * The reader's own in one sentence, above a lesson: how many rows of which tables, or the plan. Nothing of what they say.
 *
 * @param yours   the reader's mirror
 * @param tables  the tables of this lesson; none for a lesson that follows from the plan alone
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { demo } = await openRecord();
 * const { text } = today(demo, "sun");
 * assert.equal(text, "Your folder holds 6 rows of sun.csv. What they say stands at the end of this page.");
 * ```
 */
export function today({ record }: Mirror, ...tables: readonly TableName[]): Shown {
  const { aperture, focalLength } = record.settings;
  if (tables.length === 0) {
    return say`Your plan: ${String(aperture)} mm wide, ${
      String(focalLength)
    } mm to the focus. What follows from it stands at the end of this page.`;
  }
  const held = tables.flatMap((table) => {
    const rows = record[table].length;
    return rows === 0 ? [] : [`${rows} row${rows === 1 ? "" : "s"} of ${table}.csv`];
  });
  return held.length === 0
    ? say`Nothing of this is in your folder yet. Read first: the place for your own is at the end of this page.`
    : say`Your folder holds ${listed(held)}. What they say stands at the end of this page.`;
}

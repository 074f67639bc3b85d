/** What a page asks of the thread that holds its record, and how the thread answers; the page's own side of it. */
import type { FieldRefusal, TypedRow } from "../forms/judgeRows.ts";
import type { TableForm } from "../forms/tableForm.ts";
import type { ToldRecord } from "../forms/toldRecord.ts";
import type { MemoryFile } from "../record/memoryFiles.ts";
import type { TableName } from "../record/schema.ts";
import { HeldRecord, type KeptRow, type Laid } from "./heldRecord.ts";

/** What is asked. */
export type HeldAsked =
  | { readonly ask: "form"; readonly table: TableName }
  | { readonly ask: "refusals"; readonly table: TableName; readonly cells: TypedRow }
  | { readonly ask: "lay"; readonly rows: readonly KeptRow[] }
  | { readonly ask: "told"; readonly table?: TableName; readonly withPhotos: boolean }
  | { readonly ask: "add photo"; readonly path: string; readonly picture: Blob }
  | { readonly ask: "take"; readonly given: ReadonlyMap<string, MemoryFile> };

const ASKS: readonly string[] = ["form", "refusals", "lay", "told", "add photo", "take"];

/** Whether a message is for the record, and not for the cells. */
export function isHeld(asked: { readonly ask: string }): asked is HeldAsked {
  return ASKS.includes(asked.ask);
}

/** What is answered. */
export interface HeldAnswers {
  "form": TableForm;
  "refusals": readonly FieldRefusal[];
  "lay": Laid;
  "told": ToldRecord;
  "add photo": true;
  "take": readonly string[];
}

/** The thread's record, from what the page began it with. */
export function holding(
  files: Map<string, MemoryFile>,
  folder: string,
  today?: string,
): (asked: HeldAsked) => Promise<HeldAnswers[HeldAsked["ask"]]> {
  const held = new HeldRecord(files, folder, today);
  return async (asked) => {
    switch (asked.ask) {
      case "form":
        return await held.form(asked.table);
      case "refusals":
        return await held.refusals(asked.table, asked.cells);
      case "lay":
        return await held.lay(asked.rows);
      case "told":
        return await held.told(asked.table, asked.withPhotos);
      case "add photo":
        held.addPhoto(asked.path, asked.picture);
        return true;
      case "take":
        return await held.take(asked.given);
    }
  };
}

/** Reads one record of a class: its row, or why there is none. */
import { basename } from "node:path";
import type { Member } from "./classOfRecords.ts";
import { classRow } from "./classRow.ts";
import { describe, RecordRefused } from "./errors.ts";
import { readRecord } from "./readRecord.ts";
import { summarize } from "./summary.ts";

/** Refusals told of one record; `check` of the record tells all. */
const told = 3;

/** Reads a record's folder; whatever is wrong with it becomes a sentence. */
export async function readMember(folder: string): Promise<Member> {
  try {
    const record = await readRecord(folder);
    return { row: classRow(record, summarize(record)) };
  } catch (error) {
    const why = error instanceof RecordRefused
      ? error.refusals.map(describe)
      : [error instanceof Error ? error.message : String(error)];
    return {
      unreadable: {
        record: basename(folder),
        why: why.slice(0, told),
        refusals: why.length,
      },
    };
  }
}

/** Reads one record of a class: its row, or why there is none. */
import { basename } from "node:path";
import { clean } from "../record/clean.ts";
import type { Fault, Member } from "./classOfRecords.ts";
import { classRow } from "./classRow.ts";
import { describe, RecordRefused } from "../record/errors.ts";
import { readRecord } from "../record/readRecord.ts";
import { summarize } from "./summary.ts";

/** Refusals told of one record; `check` of the record tells all. */
const told = 3;

/** What is told of a record that the program itself fails at. */
const FAULT = "the kit has a fault here; the record is not to blame";

function faultOf(error: unknown): Fault {
  const { name, message, stack = "" } = error instanceof Error ? error : new Error(String(error));
  return { name, message, stack };
}

/** Reads a record's folder; whatever is wrong with it becomes a sentence. */
export async function readMember(folder: string, today?: string): Promise<Member> {
  try {
    const record = await readRecord(folder, today);
    return { row: classRow(record, summarize(record)) };
  } catch (error) {
    const record = clean(basename(folder));
    if (!(error instanceof RecordRefused)) {
      return { unreadable: { record, why: [FAULT], refusals: 1, fault: faultOf(error) } };
    }
    const why = error.refusals.map(describe);
    return { unreadable: { record, why: why.slice(0, told), refusals: why.length } };
  }
}

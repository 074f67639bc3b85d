/// <reference lib="dom" />
/** What a page has for its reader to write in: forms, the record that they change, and what she keeps. */
import type { MemoryFile } from "../record/memoryFiles.ts";
import { HeldClient } from "./heldClient.ts";
import type { Kept } from "./kept.ts";
import { KeptFiles } from "./keptFiles.ts";
import type { Beginning } from "./messages.ts";
import { PageForms } from "./pageForms.ts";
import { PageRecord } from "./pageRecord.ts";
import { PageWork } from "./pageWork.ts";

/** What the page gives. */
export interface PageReaderOptions {
  readonly kept: Kept;
  /** the files that the cells read from */
  readonly files: Map<string, MemoryFile>;
  /** what a thread begins with */
  readonly begin: () => Beginning;
  readonly thread: () => unknown;
  /** path of the record */
  readonly folder: string;
  /** name of the stage; empty on a page without cells */
  readonly page: string;
  /** ISO day that it is for the record, where not the clock's */
  readonly today?: string;
  /** told when the record is another, with a mark of it */
  readonly changed: (mark: string) => void;
}

/** Takes up what is kept; resolves when the record is as its reader left it. */
export async function pageReader(options: PageReaderOptions): Promise<void> {
  const { kept, files, folder, page } = options;
  const begun = (): HeldClient =>
    new HeldClient(
      options.thread as () => never,
      () => ({ ask: "begin", with: { ...options.begin(), files: record.beginning() } } as never),
    );
  const thread = begun();
  const record = new PageRecord({
    files,
    folder,
    kept,
    keptFiles: new KeptFiles(kept.whose),
    thread,
    behind: begun(),
    changed: options.changed,
  });
  const forms = new PageForms(record, thread, options.today);
  let has = false, fault: unknown;
  try {
    has = await record.begin();
  } catch (error) {
    fault = error; // the page goes on; what is kept stays kept, and is said below
  }
  const renewed = async (): Promise<void> => {
    await record.lay();
    await forms.show();
    work.show();
  };
  const work = new PageWork({
    kept,
    record,
    ...(page === "" ? {} : { page }),
    renewed,
  });
  kept.hear(() => {
    work.show();
    // another tab typed a reading, or took one back
    setTimeout(() => {
      if (record.isBehind) void renewed();
    }, 50);
  });
  addEventListener("storage", ({ key }) => kept.changedElsewhere(key));
  if (fault !== undefined) {
    const why = fault instanceof Error ? fault.message : String(fault);
    work.say(`What you typed is kept, but could not be laid on the record: ${why}`);
  }
  if (has) void forms.show();
}

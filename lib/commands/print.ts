// deno-lint-ignore-file no-console
/** `deno task print`: the mask, the sheets and the report of a record in seconds, without the book. */
import { relative } from "node:path";
import { printSheets } from "../book/build.ts";
import { demoName } from "../knowledge/open.ts";
import { dayTyped, isFault, runTask } from "./command.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";

const help = `deno task print [RECORD] [--out DIR] [--today DAY]

Writes what there is to print for a mirror into a folder, in seconds and without running the
lessons: the zone mask and the other templates at true scale, sheets for every table, the
cautions with boxes for initials, and the report with the line to sign. The last ones stay until
the new ones are whole. Begin with index.html in it.

  RECORD      a folder of data/records, or the path of any folder with a mirror.yaml
              (default: ${demoName})
  --out DIR   where they go (default: book/NAME-print, NAME being the record's); never into a book
  --today DAY the day on the report, such as 2026-04-18 (default: the clock's); a record that
              tells of a later day is refused
  --help      this text

Exit status: 0 written, 1 not written (each reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

async function print(
  record: string,
  out: string | undefined,
  today: string | undefined,
): Promise<number> {
  try {
    const index = await printSheets({
      record: recordFromCaller(record),
      ...(out === undefined ? {} : { out: fromCaller(out) }),
      ...(today === undefined ? {} : { today }),
    });
    const near = relative(Deno.cwd(), index);
    console.log(`To print: ${near.startsWith("..") ? index : near}`);
    return 0;
  } catch (error) {
    if (!(error instanceof Error) || isFault(error)) throw error;
    console.error(error.message);
    return 1;
  }
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "print",
      help,
      options: { out: { type: "string" }, today: { type: "string" } },
      most: 1,
      many: "print takes one record",
      act: ([record = demoName], { out, today }) => print(record, out, dayTyped(today)),
    }),
  );
}

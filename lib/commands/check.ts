// deno-lint-ignore-file no-console
/** `deno task check`: read a record, say what is known, how surely, and what to do next. */
import { demoName, openMirror } from "../record/open.ts";
import { tell } from "../record/tell.ts";
import { runTask } from "./command.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";
import { writeWhole } from "./writeWhole.ts";

const help = `deno task check [RECORD] [--json FILE]

Reads a maker's record and prints what is known of the mirror, how surely, and the next step.
Nothing in the record is changed.

  RECORD        a folder of data/records, or the path of any folder with a mirror.yaml
                (default: ${demoName})
  --json FILE   also writes everything as JSON, whole or not at all; a file that is not
                such a summary is never overwritten
  --help        this text

Exit status: 0 read, 1 refused (each reason is one sentence), 2 the command was mistyped.`;

async function check(name: string, json: string | undefined): Promise<number> {
  try {
    const { record, summary } = await openMirror(recordFromCaller(name));
    if (json !== undefined) {
      await writeWhole(fromCaller(json), `${JSON.stringify(summary, null, 2)}\n`);
    }
    console.log(tell(summary, record.defaults).join("\n"));
    if (json !== undefined) console.log(`\nWritten: ${json}`);
    return 0;
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    console.error(error.message);
    return 1;
  }
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "check",
      help,
      options: { json: { type: "string" } },
      most: 1,
      many: "check reads one record",
      act: ([record = demoName], { json }) => check(record, json),
    }),
  );
}

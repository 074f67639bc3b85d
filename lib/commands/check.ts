// deno-lint-ignore-file no-console
/** `deno task check`: read a record, say what is known, how surely, and what to do next. */
import { parseArgs } from "node:util";
import { demoName, openMirror } from "../record/open.ts";
import { tell } from "../record/tell.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";
import { writeWhole } from "./writeWhole.ts";

const HELP = `deno task check [RECORD] [--json FILE]

Reads a maker's record and prints what is known of the mirror, how surely, and the next step.
Nothing in the record is changed.

  RECORD        a folder of data/records, or the path of any folder with a mirror.yaml
                (default: ${demoName})
  --json FILE   also writes everything as JSON, whole or not at all; a file that is not
                such a summary is never overwritten
  --help        this text

Exit status: 0 read, 1 refused (each reason is one sentence), 2 the command was mistyped.`;

/** Runs the command. @returns its exit status */
async function main(args: string[]): Promise<number> {
  const options = { help: { type: "boolean", short: "h" }, json: { type: "string" } } as const;
  let parsed;
  try {
    parsed = parseArgs({ args, options, allowPositionals: true });
  } catch (error) {
    console.error(`${(error as Error).message}\nTry: deno task check --help`);
    return 2;
  }
  const { values, positionals } = parsed;
  if (values.help) {
    console.log(HELP);
    return 0;
  }
  if (positionals.length > 1) {
    console.error(`check reads one record, got ${positionals.length}: ${positionals.join(", ")}.`);
    return 2;
  }
  try {
    const { record, summary } = await openMirror(recordFromCaller(positionals[0] ?? demoName));
    if (values.json !== undefined) {
      await writeWhole(fromCaller(values.json), `${JSON.stringify(summary, null, 2)}\n`);
    }
    console.log(tell(summary, record.defaults).join("\n"));
    if (values.json !== undefined) console.log(`\nWritten: ${values.json}`);
    return 0;
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    console.error(error.message);
    return 1;
  }
}

if (import.meta.main) Deno.exit(await main(Deno.args));

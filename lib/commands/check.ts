// deno-lint-ignore-file no-console
/** `deno task check`: read a record, or a folder of them; say what is known, how surely, and what to do next. */
import { attention } from "../record/classAttention.ts";
import { type ClassOfRecords, isClass, openClass } from "../record/classOfRecords.ts";
import { demoName, openMirror } from "../record/open.ts";
import { decision } from "../record/tables.ts";
import { tell } from "../record/tell.ts";
import { tellClass } from "../record/tellClass.ts";
import { KIT_VERSION } from "../version.ts";
import { Mistyped, runTask } from "./command.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";
import { isClassPage, writeWhole } from "./writeWhole.ts";

const help = `deno task check [RECORD | CLASS] [--json FILE] [--page FILE]

Reads a maker's record and prints what is known of the mirror, how surely, and the next step.
For a folder of records it prints the class: where each mirror is, who needs help first and why.
Nothing in a record is changed. A record of a class that cannot be read is told; the others are shown.

  RECORD        a folder of data/records, or the path of any folder with a mirror.yaml
                (default: ${demoName})
  CLASS         a folder that holds records and no mirror.yaml of its own
  --json FILE   also writes everything as JSON, whole or not at all; a file that is not
                such a summary is never overwritten
  --page FILE   for a class: also writes it as a page to read, print and project
  --help        this text

Exit status: 0 read, 1 refused (each reason is one sentence), 2 the command was mistyped.`;

/** Files to write beside what is printed. */
interface Files {
  readonly json?: string;
  readonly page?: string;
}

function classJson(many: ClassOfRecords): string {
  const order = attention(many, decision("forecast_soon")).map(({ record }) => record);
  const whole = { kit_version: KIT_VERSION, class: many.name, ...many, attention: order };
  return `${JSON.stringify(whole, null, 2)}\n`;
}

/** What is printed of a class; writes what was asked for. */
async function classLines(folder: string, { json, page }: Files): Promise<string[]> {
  const many = await openClass(folder);
  if (json !== undefined) await writeWhole(fromCaller(json), classJson(many));
  if (page !== undefined) {
    const { classPage } = await import("../book/pages/classPage.ts");
    await writeWhole(fromCaller(page), classPage(many), isClassPage);
  }
  return tellClass(many);
}

/** What is printed of one mirror; writes what was asked for. */
async function mirrorLines(folder: string, { json, page }: Files): Promise<string[]> {
  if (page !== undefined) {
    throw new Mistyped("--page goes with a folder of records; the pages of one are its book.");
  }
  const { record, summary } = await openMirror(folder);
  if (json !== undefined) {
    await writeWhole(fromCaller(json), `${JSON.stringify(summary, null, 2)}\n`);
  }
  return tell(summary, record.defaults);
}

async function check(name: string, files: Files): Promise<number> {
  try {
    const folder = recordFromCaller(name);
    const lines = await (await isClass(folder) ? classLines : mirrorLines)(folder, files);
    console.log(lines.join("\n"));
    const written = [files.json, files.page].filter((file) => file !== undefined);
    if (written.length > 0) console.log(`\nWritten: ${written.join(", ")}`);
    return 0;
  } catch (error) {
    if (!(error instanceof Error) || error instanceof Mistyped) throw error;
    console.error(error.message);
    return 1;
  }
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "check",
      help,
      options: { json: { type: "string" }, page: { type: "string" } },
      most: 1,
      many: "check reads one folder",
      act: ([record = demoName], files) => check(record, files),
    }),
  );
}

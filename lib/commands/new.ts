// deno-lint-ignore-file no-console
/** `deno task new`: begin a fresh record from the commented template. */
import { basename, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { runTask, UsageError } from "./command.ts";
import { fromCaller } from "./fromCaller.ts";
import { begunRecord } from "../record/begunRecord.ts";

const help = `deno task new NAME

Begins a mirror's record: a folder with a commented mirror.yaml, a table for each kind of
reading with an example in it, and a place for photographs. What is there already is never
touched.

  NAME     the new folder in data/records, or the path of one anywhere, such as ../mirrors/mine
  --help   this text

Exit status: 0 begun, 1 not begun (the reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

const ONE_NAME = "new takes one name; put a name with spaces in quotation marks";

const records = fileURLToPath(new URL("../../data/records", import.meta.url));

/** Where a record of this name goes: a path if it is one, else a folder of data/records. */
export function targetOf(name: string): string {
  return /[\\/]/.test(name) ? resolve(fromCaller(name)) : join(records, name);
}

/** Why a folder of this name cannot be made; `undefined` when it can. */
export function whyNot(name: string): string | undefined {
  // deno-lint-ignore no-control-regex
  if (name.trim() === "" || /[\u0000-\u001f]/.test(name) || basename(name).length > 100) {
    return `A record's name has 1 to 100 letters on one line, got ${JSON.stringify(name)}.`;
  }
  if (/^\.*$/.test(name)) return `${JSON.stringify(name)} is not a name for a new record.`;
  return undefined;
}

async function make(name: string | undefined): Promise<number> {
  if (name === undefined) throw new UsageError(ONE_NAME + ".");
  const target = targetOf(name);
  const refusal = whyNot(name);
  if (refusal !== undefined) {
    console.error(refusal);
    return 1;
  }
  try {
    await begunRecord(target, basename(target));
  } catch (error) {
    console.error(sentence(error, target));
    return 1;
  }
  console.log(`Begun: ${target}`);
  console.log(
    "Write the aperture and the focal length into mirror.yaml; each table tells what goes into it.",
  );
  console.log(`Then: deno task check ${JSON.stringify(name)}`);
  return 0;
}

function sentence(error: unknown, target: string): string {
  if (error instanceof Deno.errors.AlreadyExists) {
    return `${target} is there already and was not touched: choose another name.`;
  }
  if (error instanceof Deno.errors.PermissionDenied || error instanceof Deno.errors.NotCapable) {
    return `${target} may not be written: choose a folder of your own.`;
  }
  const fromDisk = Object.values(Deno.errors).some((kind) => error instanceof kind);
  if (!fromDisk) throw error;
  return `${target} was not begun: the disk did not take it; look for room there, or choose another folder.`;
}

if (import.meta.main) {
  Deno.exit(
    await runTask({ name: "new", help, most: 1, many: ONE_NAME, act: ([name]) => make(name) }),
  );
}

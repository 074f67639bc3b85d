// deno-lint-ignore-file no-console
/** `deno task new`: begin a fresh record from the commented template. */
import { basename, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { runTask, UsageError } from "./command.ts";
import { fromCaller } from "./fromCaller.ts";
import { begunClass, begunRecord } from "../record/begunRecord.ts";

const help = `deno task new NAME

Begins a mirror's record: a folder with a commented mirror.yaml, a table for each kind of
reading with an example in it, and a place for photographs. What is there already is never
touched. In place of NAME, --class CLASS begins a whole class: a folder with a commented
class.yaml and a record for each bench, for deno task room, check and print.

  NAME           the new folder in data/records, or the path of one anywhere, such as ../mirrors/mine
  --class CLASS  the new folder of a class, named likewise
  --benches N    how many benches it has, 1 to 60 (default: 12)
  --help         this text

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

/** What is typed behind the name. */
interface Typed {
  readonly class?: string;
  readonly benches?: string;
}

function benchesTyped(text: string | undefined): number {
  const count = Number(text ?? "12");
  if (/^\d{1,2}$/.test(text ?? "12") && count >= 1 && count <= 60) return count;
  throw new UsageError(`--benches wants a number from 1 to 60, got ${JSON.stringify(text)}.`);
}

async function make(name: string | undefined, typed: Typed): Promise<number> {
  if (typed.class !== undefined && name !== undefined) {
    throw new UsageError("new begins a record or a class, not both at once.");
  }
  if (typed.class !== undefined) return await makeClass(typed.class, benchesTyped(typed.benches));
  if (typed.benches !== undefined) throw new UsageError("--benches goes with --class CLASS.");
  return await makeRecord(name);
}

async function makeClass(name: string, benches: number): Promise<number> {
  const target = targetOf(name), refusal = whyNot(name);
  if (refusal !== undefined) {
    console.error(refusal);
    return 1;
  }
  try {
    await begunClass(target, benches);
  } catch (error) {
    console.error(sentence(error, target));
    return 1;
  }
  const typed = JSON.stringify(name);
  console.log(`Begun: ${target}, ${benches} ${benches === 1 ? "bench" : "benches"}`);
  console.log(
    "Write into class.yaml what you have, and each mirror's aperture and focal length into its mirror.yaml.",
  );
  console.log(`Then: deno task room ${typed}, deno task check ${typed}, deno task print ${typed}`);
  return 0;
}

async function makeRecord(name: string | undefined): Promise<number> {
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
    await runTask({
      name: "new",
      help,
      options: { class: { type: "string" }, benches: { type: "string" } },
      most: 1,
      many: ONE_NAME,
      act: ([name], typed) => make(name, typed),
    }),
  );
}

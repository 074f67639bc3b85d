// deno-lint-ignore-file no-console
/** `deno task merge`: what two copies of a record have become is made one again, or the contradictions are told. */
import { join } from "node:path";
import { describe, Findings, RecordRefused } from "../record/errors.ts";
import {
  decodeText,
  encoded,
  encodingOf,
  LARGEST,
  openFolder,
  readInside,
} from "../record/files.ts";
import type { RecordFolder } from "../record/files.ts";
import { readRecord } from "../record/readRecord.ts";
import { TABLES } from "../record/schema.ts";
import { replaceSynced, writeSynced } from "../room/disk.ts";
import { type History, readHistory } from "../room/history.ts";
import { mergedHistory, mergedTable } from "../room/merge.ts";
import { dayTyped, NotDone, runTask, UsageError } from "./command.ts";
import { recordFromCaller } from "./fromCaller.ts";

const help = `deno task merge A B [--dry] [--today DAY]

Puts into record A what record B has more, where B is a copy of A that went its own way: rows of every
table, photographs, the journal of what came from phones. A row that a phone has sent to both is there
once, a row that was taken back in one is gone. B is not changed. Where the two contradict, each
contradiction is told with its line, and nothing is written.

  A, B        folders of data/records, or paths of any folders with a mirror.yaml
  --dry       only tells what would be put where
  --today DAY the day it is, where the clock is wrong
  --help      this text

Exit status: 0 merged, 1 not merged (each reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

type Bytes = Uint8Array<ArrayBuffer>;

async function opened(name: string): Promise<RecordFolder> {
  const findings = new Findings(), folder = await openFolder(recordFromCaller(name), findings);
  if (folder === undefined || findings.refused) throw new RecordRefused(findings.refusals);
  return folder;
}

/** A file of a record, or nothing where there is none. */
async function read(folder: RecordFolder, file: string, most: number): Promise<Bytes | undefined> {
  if (!folder.entries.includes(file)) return undefined;
  const findings = new Findings(), bytes = await readInside(folder, file, most, { file }, findings);
  if (bytes === undefined) throw new RecordRefused(findings.refusals);
  return bytes;
}

function textOf(bytes: Bytes, file: string): string {
  const findings = new Findings(), text = decodeText(bytes, file, findings);
  if (text === undefined) throw new RecordRefused(findings.refusals);
  return text;
}

const isSame = (one: Uint8Array, other: Uint8Array): boolean =>
  one.length === other.length && one.every((byte, at) => byte === other[at]);

/** What is to be written into A. */
interface Plan {
  readonly files: Map<string, Bytes>;
  readonly said: string[];
}

async function planOf(a: RecordFolder, b: RecordFolder, findings: Findings): Promise<Plan> {
  const plan: Plan = { files: new Map(), said: [] };
  const journals = await Promise.all([a, b].map(async (folder): Promise<History> => {
    const bytes = await read(folder, "history.csv", LARGEST.table);
    return bytes === undefined
      ? { entries: [], torn: 0 }
      : readHistory(textOf(bytes, "history.csv"));
  }));
  const [ours = { entries: [], torn: 0 }, theirs = { entries: [], torn: 0 }] = journals;
  await pages(a, b, findings);
  for (const table of TABLES) {
    await tableInto(plan, table, a, b, [ours, theirs], findings);
  }
  await photosInto(plan, a, b, findings);
  if (theirs.entries.length > 0) {
    const [one, other] = await Promise.all([a, b].map(async (folder) => {
      const bytes = await read(folder, "history.csv", LARGEST.table);
      return bytes === undefined ? "" : textOf(bytes, "history.csv");
    }));
    const merged = mergedHistory(one ?? "", other ?? "");
    if (merged !== one) plan.files.set("history.csv", new TextEncoder().encode(merged));
  }
  return plan;
}

/** The mirror's own page is one: nothing is decided about two. */
async function pages(a: RecordFolder, b: RecordFolder, findings: Findings): Promise<void> {
  const file = "mirror.yaml";
  const [one, other] = await Promise.all([a, b].map((at) => read(at, file, LARGEST.settings)));
  if (one === undefined || other === undefined || isSame(one, other)) return;
  const [ours, theirs] = [one, other].map((bytes) => textOf(bytes, file).split(/\r\n|\r|\n/));
  const line = (ours ?? []).findIndex((text, at) => text !== theirs?.[at]);
  const at = line < 0 ? (ours?.length ?? 0) : line;
  findings.refuse(
    { file, line: at + 1 },
    `another text in the other copy: "${(theirs?.[at] ?? "").slice(0, 60)}"`,
    "the same page in both",
    "decide by hand, write the same into both, and merge again",
  );
}

async function tableInto(
  plan: Plan,
  table: string,
  a: RecordFolder,
  b: RecordFolder,
  journals: readonly [History, History],
  findings: Findings,
): Promise<void> {
  const file = `${table}.csv`;
  const [ours, theirs] = await Promise.all([a, b].map((at) => read(at, file, LARGEST.table)));
  if (theirs === undefined) return;
  if (ours === undefined) {
    plan.files.set(file, theirs);
    plan.said.push(`${file}: all of it`);
    return;
  }
  const text = textOf(ours, file);
  const merged = mergedTable(table, text, textOf(theirs, file), journals, findings);
  if (merged === undefined || merged === text) return;
  const encoding = encodingOf(ours), mark = ours.length - encoded(text, encoding).length;
  const bytes = new Uint8Array([...ours.subarray(0, mark), ...encoded(merged, encoding)]);
  plan.files.set(file, bytes);
  const count = (one: string): number => one.split(/\r\n|\r|\n/).length;
  const more = count(merged) - count(text);
  plan.said.push(
    `${file}: ${more === 0 ? "changed" : more > 0 ? `${more} more` : `${-more} fewer`} ${
      Math.abs(more) === 1 ? "line" : "lines"
    }`,
  );
}

async function photosInto(
  plan: Plan,
  a: RecordFolder,
  b: RecordFolder,
  findings: Findings,
): Promise<void> {
  if (!b.entries.includes("photos")) return;
  for await (const { name, isFile } of Deno.readDir(join(b.path, "photos"))) {
    if (!isFile || name.startsWith(".")) continue;
    const file = `photos/${name}`, place = { file };
    const theirs = await readInside(b, file, LARGEST.photo, place, findings);
    const isThere = await Deno.lstat(join(a.path, file)).then(() => true, () => false);
    const ours = isThere ? await readInside(a, file, LARGEST.photo, place, findings) : undefined;
    if (theirs === undefined || (ours !== undefined && isSame(ours, theirs))) continue;
    if (isThere) {
      const mend = "give one of the two another name, in ronchi.csv too, and merge again";
      findings.refuse(place, "another picture of this name in the other copy", "one", mend);
    } else {
      plan.files.set(file, theirs);
      plan.said.push(file);
    }
  }
}

async function merge(names: readonly string[], isDry: boolean, today?: string): Promise<number> {
  const [one, other] = names;
  if (one === undefined || other === undefined) {
    throw new UsageError("merge wants two folders: the record that is written to, and its copy.");
  }
  const [a, b] = [await opened(one), await opened(other)], findings = new Findings();
  if (a.path === b.path) throw new NotDone(`${one} and ${other} are one folder.`);
  const { files, said } = await planOf(a, b, findings);
  if (findings.refused) {
    console.error(findings.refusals.map(describe).join("\n"));
    return 1;
  }
  const tables = new Map([...files].filter(([file]) => !file.startsWith("photos/")));
  await readRecord(a.path, today, tables, { photos: true });
  for (const line of said) console.log(line);
  if (files.size === 0) console.log(`${one} has all that ${other} has.`);
  if (isDry) {
    if (files.size > 0) console.log("Only shown; nothing was written.");
    return 0;
  }
  for (const [file, bytes] of files) {
    const path = join(a.path, file);
    if (file.startsWith("photos/")) {
      await Deno.mkdir(join(a.path, "photos"), { recursive: true });
      await writeSynced(`${path}.part`, bytes);
      await Deno.rename(`${path}.part`, path);
    } else await replaceSynced(path, bytes, `${path}.part`);
  }
  if (files.size > 0) console.log(`Merged into ${one}.`);
  return 0;
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "merge",
      help,
      options: { dry: { type: "boolean" }, today: { type: "string" } },
      most: 2,
      many: "merge takes two records",
      act: (names, { dry, today }) => merge(names, dry === true, dayTyped(today)),
    }),
  );
}

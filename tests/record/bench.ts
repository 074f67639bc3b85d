/** A bench for tests of the reader: records written into a folder of their own, and what the reader says of them. */
import { join } from "node:path";
import { describe, RecordRefused } from "../../lib/record/errors.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import type { MirrorRecord, Refusal } from "../../lib/record/types.ts";

export type Files = Readonly<Record<string, string | Uint8Array>>;

/** The least that a record needs. */
export const MIRROR = "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n";

/** Writes a record's files into a fresh folder named `record`, calls `use` with its path, and takes it away again. */
export async function withRecord<T>(files: Files, use: (folder: string) => Promise<T>): Promise<T> {
  const outer = await Deno.makeTempDir({ prefix: "record-" });
  try {
    const folder = join(outer, "record");
    await Deno.mkdir(join(folder, "photos"), { recursive: true });
    for (const [name, content] of Object.entries({ "mirror.yaml": MIRROR, ...files })) {
      const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
      await Deno.writeFile(join(folder, name), bytes);
    }
    return await use(folder);
  } finally {
    await Deno.remove(outer, { recursive: true });
  }
}

/** Reads a record made of these files. */
export function read(files: Files): Promise<MirrorRecord> {
  return withRecord(files, readRecord);
}

/** The refusals of a record; fails where it is read without any, or breaks in another way. */
export async function refusals(files: Files): Promise<readonly Refusal[]> {
  return await withRecord(files, refusalsIn);
}

/** The refusals of a folder. */
export async function refusalsIn(folder: string): Promise<readonly Refusal[]> {
  try {
    await readRecord(folder);
  } catch (error) {
    if (error instanceof RecordRefused) return error.refusals;
    throw error;
  }
  throw new Error("read without a refusal");
}

/** The warnings of a record, as they are told. */
export async function warned(files: Files): Promise<string[]> {
  return (await read(files)).warnings.map(describe);
}

/** The head of `zones.csv`. */
export const ZONES = "run,inner_mm,outer_mm,reading_mm\n";

/** Three runs over three openings out to the edge. */
export const RUNS = [1, 2, 3].map((run) =>
  `${run},0,30,1.0${run}\n${run},30,55,1.2${run}\n${run},55,74,1.5${run}\n`
).join("");

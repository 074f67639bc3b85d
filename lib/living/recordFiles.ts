/** A record's files on their way into a page and out of it: folders, zip files, single tables. */
import { type UnzipFileInfo, unzipSync, zipSync } from "fflate";
import { LARGEST } from "../record/files.ts";
import { lastName, pathInside } from "../record/fileSystem.ts";
import type { MemoryFile } from "../record/memoryFiles.ts";
import { TABLES } from "../record/schema.ts";

/** A file as a reader gives it: its path as far as the browser tells it, and its bytes when they are asked for. */
export interface GivenFile {
  /** with the folders it was chosen in, or its name alone */
  readonly path: string;
  /** bytes */
  readonly size: number;
  readonly blob: Blob;
}

/** What was given. */
export type Given =
  /** a whole record, by the names of its files in its folder */
  | { readonly record: ReadonlyMap<string, MemoryFile> }
  /** tables alone, to take the place of those that are there */
  | { readonly tables: ReadonlyMap<string, MemoryFile> }
  /** in one sentence what it is not */
  | { readonly no: string };

const OURS = new Set(["mirror.yaml", ...TABLES.map((table) => `${table}.csv`)]);

/** How much is read at all, bytes: a record with a hundred photographs has less. */
const MOST = 400_000_000;
const MOST_FILES = 5000;

const isPicture = (name: string): boolean => /\.(jpe?g|png)$/i.test(name);

/**
 * What a reader gave: a folder, a zip of one, or some of its files. What is no part of a record is passed over.
 *
 * @param files  as a file input or a drop has them
 */
export async function recordFrom(files: readonly GivenFile[]): Promise<Given> {
  if (files.length > MOST_FILES) {
    return { no: `These are over ${MOST_FILES} files: choose the folder of one mirror.` };
  }
  const [only] = files;
  const all = files.length === 1 && only !== undefined && await isZip(only.blob)
    ? await unzipped(only.blob)
    : new Map(files.map(({ path, size, blob }) => [path, { size, blob }]));
  if (typeof all === "string") return { no: all };
  const roots = [...all.keys()].filter((path) => lastName(path) === "mirror.yaml")
    .map((path) => path.slice(0, -"mirror.yaml".length));
  const root = roots.toSorted((a, b) => a.length - b.length)[0];
  if (roots.filter((one) => one.length === root?.length).length > 1) {
    return { no: "There are several mirrors in it: choose the folder of one." };
  }
  const found = new Map<string, MemoryFile>();
  for (const [path, { size, blob }] of all) {
    const name = root === undefined
      ? lastName(path)
      : path.startsWith(root)
      ? pathInside(path.slice(root.length))
      : undefined;
    if (name === undefined) continue;
    if (OURS.has(name)) {
      const most = name === "mirror.yaml" ? LARGEST.settings : LARGEST.table;
      if (size > most) {
        return {
          no: `${name} has ${(size / 1e6).toFixed(1)} MB, and at most ${most / 1e6} MB are read.`,
        };
      }
      found.set(name, await textOf(blob));
    } else if (root !== undefined && isPicture(name)) found.set(name, blob);
  }
  if (root !== undefined) return { record: found };
  if (found.size > 0) return { tables: found };
  return {
    no:
      "There is no mirror.yaml and no table of a record in it: choose the mirror’s folder, a .zip of it, or one of its tables, such as sagitta.csv.",
  };
}

/** A table as text where it is UTF-8, else as its bytes. */
async function textOf(blob: Blob): Promise<MemoryFile> {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return bytes;
  }
}

async function isZip(blob: Blob): Promise<boolean> {
  const [p, k] = new Uint8Array(await blob.slice(0, 2).arrayBuffer());
  return p === 0x50 && k === 0x4b;
}

/** A zip's files, as far as a record could have them; a sentence where it cannot be unpacked. */
async function unzipped(
  blob: Blob,
): Promise<ReadonlyMap<string, { readonly size: number; readonly blob: Blob }> | string> {
  const large = `This .zip holds more than ${MOST / 1e6} MB: choose one of a single mirror.`;
  if (blob.size > MOST) return large;
  let sum = 0, count = 0;
  const wanted = ({ name, originalSize }: UnzipFileInfo): boolean => {
    const file = lastName(name);
    if (name.endsWith("/") || (!OURS.has(file) && !isPicture(file))) return false;
    sum += originalSize;
    return ++count <= MOST_FILES && sum <= MOST;
  };
  try {
    const files = unzipSync(new Uint8Array(await blob.arrayBuffer()), { filter: wanted });
    if (sum > MOST) return large;
    return new Map(
      Object.entries(files).map(([path, bytes]) => [
        path,
        { size: bytes.length, blob: new Blob([bytes as Uint8Array<ArrayBuffer>]) },
      ]),
    );
  } catch {
    return "This .zip cannot be unpacked: make it again from the mirror’s folder.";
  }
}

/** A file to be had as a download. */
export interface FileOut {
  readonly name: string;
  readonly blob: Blob;
}

/**
 * The record's files to take along: the table alone where only one is changed, else a zip of all.
 *
 * @param record   name of the record
 * @param files    by their names in its folder
 * @param changed  which of them were written in the page
 */
export async function filesOut(
  record: string,
  files: ReadonlyMap<string, MemoryFile>,
  changed: readonly string[],
): Promise<FileOut> {
  const [only] = changed, file = only === undefined ? undefined : files.get(only);
  if (changed.length === 1 && only !== undefined && file !== undefined && only.endsWith(".csv")) {
    return { name: only, blob: new Blob([file], { type: "text/csv" }) };
  }
  const packed: Record<string, Uint8Array> = {};
  for (const [name, content] of files) packed[`${record}/${name}`] = await bytesOf(content);
  const zip = zipSync(packed, { level: 6 }) as Uint8Array<ArrayBuffer>;
  return { name: `${record}.zip`, blob: new Blob([zip], { type: "application/zip" }) };
}

async function bytesOf(file: MemoryFile): Promise<Uint8Array> {
  if (typeof file === "string") return new TextEncoder().encode(file);
  return file instanceof Blob ? new Uint8Array(await file.arrayBuffer()) : file;
}

/** Files in memory, as a page carries them: a record's texts and pictures by their paths, read as from a disk without links. */
import type { FileInfo, FileSystem, FolderEntry } from "./fileSystem.ts";

/** A file's text, UTF-8, or its bytes; a browser's picture may stay with the browser until it is read. */
export type MemoryFile = string | Uint8Array<ArrayBuffer> | Blob;

/** What a page sets. */
export interface MemorySettings {
  /** path of the reader's own record; without one the demo is hers too */
  readonly record?: string;
  /** ISO day; default the clock's */
  readonly today?: string;
}

class NoSuchFile extends Error {
  constructor(path: string) {
    super(`no file ${path} in memory`);
  }
}

/**
 * A file system of what is in memory; folders are what paths go through.
 *
 * @param contents  files by their absolute paths with slashes; looked up anew at every call, so that what is put in or
 *                  taken out counts at once
 * @param settings  the record that is meant, the day it is
 * @example a record of one text
 * ```ts
 * import assert from "node:assert/strict";
 * const one = memoryFiles(new Map([["/bench/mine/mirror.yaml", "aperture: 150 mm"]]));
 * assert.equal((await one.info("/bench/mine")).isFolder, true);
 * assert.equal((await one.read("/bench/mine/mirror.yaml")).length, 16);
 * ```
 */
export function memoryFiles(
  contents: ReadonlyMap<string, MemoryFile>,
  settings: MemorySettings = {},
): FileSystem {
  const plain = (path: string): string => path.replace(/\/+$/, "");
  const isFolder = (path: string): boolean =>
    [...contents.keys()].some((file) => file.startsWith(`${plain(path)}/`));
  const fileAt = (path: string): MemoryFile => {
    const file = contents.get(plain(path));
    if (file === undefined) throw new NoSuchFile(path);
    return file;
  };
  return {
    // deno-lint-ignore require-await -- fails as a promise does, like the disk's
    async realPath(path): Promise<string> {
      if (!contents.has(plain(path)) && !isFolder(path)) throw new NoSuchFile(path);
      return plain(path);
    },
    // deno-lint-ignore require-await
    async info(path): Promise<FileInfo> {
      if (isFolder(path)) return { isFile: false, isFolder: true, size: 0 };
      return { isFile: true, isFolder: false, size: sizeOf(fileAt(path)) };
    },
    // deno-lint-ignore require-await
    async isThere(path): Promise<boolean> {
      return contents.has(plain(path)) || isFolder(path);
    },
    async *list(folder): AsyncGenerator<FolderEntry> {
      if (!isFolder(folder)) throw new NoSuchFile(folder);
      const start = `${plain(folder)}/`, found = new Map<string, FolderEntry>();
      for (const path of contents.keys()) {
        if (!path.startsWith(start)) continue;
        const [name = "", ...below] = path.slice(start.length).split("/");
        found.set(name, { name, isFolder: below.length > 0, isLink: false });
      }
      yield* found.values();
    },
    async read(path): Promise<Uint8Array<ArrayBuffer>> {
      const file = fileAt(path);
      return file instanceof Blob ? new Uint8Array(await file.arrayBuffer()) : bytesOf(file);
    },
    readNow(path): Uint8Array<ArrayBuffer> {
      const file = fileAt(path);
      if (file instanceof Blob) throw new NoSuchFile(`${path}, with its bytes at hand,`);
      return bytesOf(file);
    },
    whyNot: (error) => error instanceof NoSuchFile ? "missing" : undefined,
    setting: (name) => settings[name],
    readers: 1,
  };
}

/** A file's size, bytes. */
function sizeOf(file: MemoryFile): number {
  if (typeof file !== "string") return file instanceof Blob ? file.size : file.length;
  return bytesOf(file).length;
}

function bytesOf(file: string | Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  return typeof file === "string" ? new TextEncoder().encode(file) : file;
}

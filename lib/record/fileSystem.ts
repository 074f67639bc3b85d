/**
 * The one door to files for all that reads records and tables: by Deno from disk, or, where a page runs without a disk,
 * from files in memory (`memoryFiles.ts`).
 */

/** What stands at a path, links followed. */
export interface FileInfo {
  readonly isFile: boolean;
  readonly isFolder: boolean;
  /** bytes */
  readonly size: number;
}

/** What a folder holds under one name. */
export interface FolderEntry {
  readonly name: string;
  readonly isFolder: boolean;
  /** a link, whatever it leads to */
  readonly isLink: boolean;
}

/** As much of a file system as reading a record takes; paths have slashes. */
export interface FileSystem {
  /** a path with every link in it followed; fails where nothing is there */
  realPath(path: string): Promise<string>;
  /** what is there; fails where nothing is there */
  info(path: string): Promise<FileInfo>;
  /** whether the name is taken, by a link that leads nowhere too */
  isThere(path: string): Promise<boolean>;
  /** a folder's entries in no order; fails where it is none */
  list(folder: string): AsyncIterable<FolderEntry>;
  /** a file's bytes */
  read(path: string): Promise<Uint8Array<ArrayBuffer>>;
  /** the same of one of the kit's own small files, without waiting */
  readNow(path: string): Uint8Array<ArrayBuffer>;
  /** why one of these failed, where the path is to blame: nothing is there, or it may not be opened */
  whyNot(error: unknown): "missing" | "closed" | undefined;
  /** what is set from outside: the record that is meant, the day it is; `undefined` where nothing is */
  setting(name: "record" | "today"): string | undefined;
  /** how many threads may read side by side */
  readonly readers: number;
}

/** The folder of the kit. In a page there is none: there its files have paths below this one in memory. */
export const kitFolder: string = folderAbove(String(import.meta.url));

function folderAbove(url: string): string {
  if (!url.startsWith("file:")) return "/kit";
  const path = decodeURIComponent(new URL("../..", url).pathname);
  return path.replace(/^\/(?=[A-Za-z]:)/, "").replace(/\/$/, "");
}

const onDisk: FileSystem = {
  realPath: (path) => Deno.realPath(path),
  async info(path): Promise<FileInfo> {
    const { isFile, isDirectory, size } = await Deno.stat(path);
    return { isFile, isFolder: isDirectory, size };
  },
  isThere: (path) => Deno.lstat(path).then(() => true, () => false),
  async *list(folder): AsyncGenerator<FolderEntry> {
    for await (const { name, isDirectory, isSymlink } of Deno.readDir(folder)) {
      yield { name, isFolder: isDirectory, isLink: isSymlink };
    }
  },
  read: (path) => Deno.readFile(path),
  readNow: (path) => Deno.readFileSync(path),
  whyNot(error): "missing" | "closed" | undefined {
    const { PermissionDenied, NotCapable, NotADirectory, NotFound } = Deno.errors;
    if (error instanceof PermissionDenied || error instanceof NotCapable) return "closed";
    return error instanceof NotADirectory || error instanceof NotFound ? "missing" : undefined;
  },
  setting: (name) => Deno.env.get(`FIRST_MIRROR_${name.toUpperCase()}`),
  get readers(): number {
    return Math.min(2, navigator.hardwareConcurrency);
  },
};

let inUse = onDisk;

/** Where files come from. */
export function files(): FileSystem {
  return inUse;
}

/**
 * Reads from other files from now on.
 *
 * @param other  files in memory; `undefined` for the disk again
 */
export function useFiles(other: FileSystem | undefined): void {
  inUse = other ?? onDisk;
}

/**
 * The last name of a path, whichever slashes it has.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(lastName("records\\my-mirror/"), "my-mirror");
 * ```
 */
export function lastName(path: string): string {
  return /([^\\/]*)[\\/]*$/.exec(path)?.[1] ?? "";
}

/**
 * The folder that a path lies in.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(folderOf("/records/my-mirror"), "/records");
 * ```
 */
export function folderOf(path: string): string {
  return path.replace(/[\\/]*[^\\/]*[\\/]*$/, "") || "/";
}

/**
 * A path's names from the folder that it stands in, its dots resolved.
 *
 * @returns with slashes; `undefined` where it leads out, or to the folder itself, or is no path with slashes from there
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(pathInside("photos/./a.jpg"), "photos/a.jpg");
 * assert.equal(pathInside("../a.jpg"), undefined);
 * ```
 */
export function pathInside(path: string): string | undefined {
  if (/^(\/|[a-z]:)/i.test(path) || path.includes("\\")) return undefined;
  const names: string[] = [];
  for (const name of path.split("/")) {
    if (name === "..") {
      if (names.pop() === undefined) return undefined;
    } else if (name !== "" && name !== ".") names.push(name);
  }
  return names.length === 0 ? undefined : names.join("/");
}

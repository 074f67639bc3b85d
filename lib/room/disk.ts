/** Writing so that a crash at any moment leaves whole files, and what was acknowledged is on the disk and not on its way. */
import { dirname } from "node:path";

/** The disk did not take it: one sentence, and whether it is full or may not be written. */
export class DiskRefused extends Error {
  override readonly name = "DiskRefused";

  constructor(message: string, readonly isFull: boolean) {
    super(message);
  }
}

const FULL = ["ENOSPC", "EDQUOT", "EFBIG"];

/** What the system said, as a sentence for the person at the bench; a fault of the program is thrown on. */
export function asDiskRefused(error: unknown): DiskRefused {
  if (error instanceof DiskRefused) return error;
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  const fromDisk = code !== "" ||
    Object.values(Deno.errors).some((kind) => error instanceof kind);
  if (!fromDisk || error instanceof Deno.errors.NotCapable) throw error;
  return FULL.includes(code)
    ? new DiskRefused(
      "The leader’s disk is full: nothing was written, nothing is lost; make room there and send it again.",
      true,
    )
    : new DiskRefused(
      "The bench’s folder cannot be written: nothing was written, nothing is lost; the leader looks at its permissions, then send it again.",
      false,
    );
}

/** Puts all bytes down, however many calls that takes. */
export function writeAll(file: Deno.FsFile, bytes: Uint8Array): void {
  for (let at = 0; at < bytes.length;) at += file.writeSync(bytes.subarray(at));
}

/**
 * Waits until a folder's list of names is on the disk; where the system knows no such thing, or this process may not look
 * into the folder (that of a file of keys elsewhere), goes on.
 */
export async function syncFolder(path: string): Promise<void> {
  if (Deno.build.os === "windows") return;
  const folder = await Deno.open(path, { read: true }).catch((error: unknown) => {
    if (error instanceof Deno.errors.NotCapable) return undefined;
    throw error;
  });
  if (folder === undefined) return;
  try {
    await folder.sync();
  } finally {
    folder.close();
  }
}

/**
 * Puts bytes behind a file, on the disk before it returns; where the disk does not take all of them, none stay.
 *
 * @param path    the file; begun where it is not there
 * @param bytes   what to put there
 * @param length  how long the file has to be; another has changed it meanwhile where it is not
 * @param more    another file of the folder follows at once, whose writing waits for the folder too
 * @returns whether it was done; false where the file is not as long, and nothing was written
 */
export async function appendSynced(
  path: string,
  bytes: Uint8Array,
  length: number,
  more = false,
): Promise<boolean> {
  const isNew = length === 0;
  const file = await Deno.open(path, { write: true, append: true, create: isNew });
  try {
    if ((await file.stat()).size !== length) return false;
    try {
      writeAll(file, bytes);
      await file.sync();
    } catch (error) {
      // append's own end is wherever the disk stopped taking
      await Deno.truncate(path, length).catch(() => undefined);
      throw error;
    }
    const there = await Deno.stat(path).catch(() => undefined);
    // an editor may have put another file into its place while this one was written
    if (there === undefined || there.ino !== (await file.stat()).ino) return false;
  } finally {
    file.close();
  }
  // a file that was there has its name on the disk already
  if (isNew || !more) await syncFolder(dirname(path));
  return true;
}

/**
 * Puts a whole file into its place, or leaves what was there.
 *
 * @param path    the file
 * @param bytes   all of it
 * @param beside  where it is written first, on the same disk
 * @param mode    its permissions; default those of the file that was there
 */
export async function replaceSynced(
  path: string,
  bytes: Uint8Array,
  beside: string,
  mode?: number,
): Promise<void> {
  const before = await Deno.stat(path).catch(() => undefined);
  const rights = mode ??
    (before?.mode === undefined || before.mode === null ? undefined : before.mode & 0o7777);
  try {
    await writeSynced(beside, bytes, rights);
    await Deno.rename(beside, path);
  } catch (error) {
    await Deno.remove(beside).catch(() => undefined);
    throw error;
  }
  await syncFolder(dirname(path));
}

/** Writes a whole new file and waits until it is on the disk. */
export async function writeSynced(path: string, bytes: Uint8Array, mode?: number): Promise<void> {
  const file = await Deno.open(path, {
    ...{ write: true, create: true, truncate: true },
    ...(mode === undefined ? {} : { mode }),
  });
  try {
    writeAll(file, bytes);
    await file.sync();
  } finally {
    file.close();
  }
  if (mode !== undefined && Deno.build.os !== "windows") await Deno.chmod(path, mode);
}

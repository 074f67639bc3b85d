/** One build of a book at a time: a lock that the system itself lets go when its process ends, however it ends. */

/** Another process is at the same work. */
export class Busy extends Error {
  override readonly name = "Busy";
}

/** Who holds a lock, as the file says it. */
function holder(text: string): string {
  try {
    const { process, since } = JSON.parse(text) as { process?: unknown; since?: unknown };
    if (typeof process === "number" && typeof since === "string") {
      return `process ${process}, since ${since}`;
    }
  } catch { /* not readable while it is held, or not ours: then who holds it stays unknown */ }
  return "another process";
}

/** Whether an open file is still the one that stands at the path: its last holder may have removed it meanwhile. */
async function stillThere(file: Deno.FsFile, path: string): Promise<boolean> {
  const there = await Deno.stat(path).catch(() => undefined);
  return there !== undefined && there.ino === (await file.stat()).ino;
}

async function take(path: string, work: string): Promise<Deno.FsFile> {
  while (true) {
    const file = await Deno.open(path, { read: true, write: true, create: true });
    if (!(await file.tryLock(true))) {
      file.close();
      const text = await Deno.readTextFile(path).catch(() => "");
      throw new Busy(
        `${work} is under way already (${holder(text)}); wait until it has ended, or stop it.`,
      );
    }
    if (await stillThere(file, path)) return file;
    file.close();
  }
}

/** Writes who holds the lock, for whoever finds it taken. */
async function sign(file: Deno.FsFile): Promise<void> {
  const since = new Date().toTimeString().slice(0, 8);
  await file.truncate();
  await file.write(new TextEncoder().encode(JSON.stringify({ process: Deno.pid, since })));
}

/**
 * Does a piece of work while nobody else does the same.
 *
 * The lock is the operating system's own on an open file, so that of a process that was killed binds nobody.
 *
 * @param path  the lock's file, in a folder that exists; it is gone afterwards
 * @param work  the work in words, as "A build of demo-150-f8", for the one who has to wait
 * @param act   what to do
 * @returns what `act` returns
 * @throws {Busy} one sentence that says who holds it
 */
export async function withLock<T>(path: string, work: string, act: () => Promise<T>): Promise<T> {
  const file = await take(path, work);
  try {
    await sign(file);
    return await act();
  } finally {
    await Deno.remove(path).catch(() => {});
    file.close();
  }
}

/** Where a book is put: whole or not at all, in the place of the last one, never in the place of anything else. */
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import process from "node:process";

/** A folder that a book cannot be put into. */
export class OutputRefused extends Error {
  override readonly name = "ShelfRefused";
}

const ours =
  /^((index|report|glossary|search|print|class|\d\d-[\w-]+)\.html|(library|record|editor|class|pictures)\.js|summary\.json|notebooks|print|benches|\.DS_Store|Thumbs\.db)$/;

/**
 * Makes sure that what stands at the path is a book, an empty folder, or nothing.
 *
 * @throws {ShelfRefused} one sentence naming what is in the way
 */
export async function checkPlace(out: string): Promise<void> {
  const stat = await Deno.lstat(out).catch(() => undefined);
  if (stat === undefined) return;
  if (!stat.isDirectory) {
    throw new OutputRefused(`${out} is not a folder; name another place with --out.`);
  }
  const names = (await Array.fromAsync(Deno.readDir(out))).map(({ name }) => name);
  const strange = names.find((name) => !ours.test(name));
  if (strange !== undefined) {
    throw new OutputRefused(
      `${out} holds ${strange}, which is no part of a book, so nothing there is replaced; name another folder with --out.`,
    );
  }
}

/** Whatever an earlier build that was killed left beside the book: half a book goes, a book moved aside comes back. */
async function tidy(folder: string, name: string): Promise<void> {
  for await (const { name: entry } of Deno.readDir(folder)) {
    if (!entry.startsWith(`.${name}.`)) continue;
    if (entry.endsWith(".old")) {
      const isMissing = await Deno.lstat(join(folder, name)).then(() => false, () => true);
      if (isMissing) await Deno.rename(join(folder, entry), join(folder, name));
      else await Deno.remove(join(folder, entry), { recursive: true });
    } else if (entry.endsWith(".part")) {
      await Deno.remove(join(folder, entry), { recursive: true });
    }
  }
}

/** Moves the new book in; the last one is only taken away when the new one stands. */
async function exchange(part: string, out: string, aside: string): Promise<void> {
  const had = await Deno.rename(out, aside).then(() => true, (error: unknown) => {
    if (error instanceof Deno.errors.NotFound) return false;
    throw error;
  });
  try {
    await Deno.rename(part, out);
  } catch (error) {
    if (had) await Deno.rename(aside, out);
    throw error;
  }
  if (had) await Deno.remove(aside, { recursive: true }).catch(() => {});
}

/**
 * Fills a folder beside the place, then moves it there in one step: a reader never sees half a book, and the last good
 * one stays where filling fails.
 *
 * To be called by one process at a time for one place.
 *
 * @param out   the book's folder; its parent exists
 * @param fill  writes the book into the folder it is given
 * @throws {ShelfRefused} where something else than a book stands there
 * @throws whatever `fill` throws, the place untouched
 */
export async function putWhole(
  out: string,
  fill: (folder: string) => Promise<void>,
): Promise<void> {
  const [folder, name] = [dirname(out), basename(out)];
  await tidy(folder, name);
  await checkPlace(out);
  const mark = crypto.randomUUID().slice(0, 8);
  const part = join(folder, `.${name}.${mark}.part`);
  await Deno.mkdir(part);
  try {
    await fill(part);
    await exchange(part, out, join(folder, `.${name}.${mark}.old`));
  } catch (error) {
    await Deno.remove(part, { recursive: true }).catch(() => {});
    throw error;
  }
}

// Temporary folders that say whose they are, so that those of a process that was killed can be cleared away by the next.

/** What such folders are for; nothing of another name is ever cleared away. */
const WHAT = ["kernel", "cell", "cells", "learner", "books", "ratios", "library"] as const;
/** Where a folder's name holds the number of the process that made it. */
const OWNER = new RegExp(`^(?:\\.|first-mirror-)(?:${WHAT.join("|")})-(\\d+)-`);

/**
 * Makes a temporary folder named for this process.
 *
 * @param what   what it is for
 * @param place  the folder it is made in; default the system's for temporary things
 * @returns its path: `first-mirror-WHAT-PID-...`, in a place of the kit's own `.WHAT-PID-...`
 */
export async function tempFolder(what: (typeof WHAT)[number], place?: string): Promise<string> {
  const dir = place ?? tmpdir(), mark = place === undefined ? "first-mirror-" : ".";
  if (!cleared.has(dir)) {
    cleared.add(dir);
    await clearDead(dir);
  }
  return await Deno.makeTempDir({ dir, prefix: `${mark}${what}-${Deno.pid}-` });
}

/** Places that have been cleared once; what dies while this process runs is cleared by the next. */
const cleared = new Set<string>();

/** Removes the kit's folders whose makers are no more; what cannot be removed stays. */
async function clearDead(dir: string): Promise<void> {
  const names = await Array.fromAsync(Deno.readDir(dir)).catch(() => []);
  for (const { name } of names) {
    const owner = Number(OWNER.exec(name)?.[1] ?? 0);
    if (owner === 0 || isAlive(owner)) continue;
    await Deno.remove(join(dir, name), { recursive: true }).catch(() => {});
  }
}

/** Whether a process of this number runs; one that may not be asked counts as running. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as { code?: unknown }).code !== "ESRCH";
  }
}

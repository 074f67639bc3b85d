/** Temporary folders that say whose they are, so that those of a process that was killed can be cleared away by the next. */
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";

/** What such folders are for; nothing of another name is ever cleared away. */
const WHAT = ["kernel", "cell", "cells", "learner", "books", "ratios"] as const;
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

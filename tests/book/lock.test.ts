import assert from "node:assert/strict";
import { join } from "node:path";
import { Busy, withLock } from "../../lib/book/lock.ts";

async function withFolder(act: (folder: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-lock-" });
  try {
    await act(folder);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** Another process that holds the lock until it is killed. */
async function holder(path: string): Promise<Deno.ChildProcess> {
  const module = new URL("../../lib/book/lock.ts", import.meta.url).href;
  const child = new Deno.Command(Deno.execPath(), {
    args: [
      "eval",
      `
      const { withLock } = await import(${JSON.stringify(module)});
      await withLock(${JSON.stringify(path)}, "A build", async () => {
        console.log("held");
        await new Promise((done) => setTimeout(done, 60_000));
      });`,
    ],
    stdout: "piped",
    stderr: "null",
  }).spawn();
  const reader = child.stdout.getReader();
  await reader.read();
  await reader.cancel();
  return child;
}

Deno.test("work is done under the lock, its result handed on, the file gone afterwards", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    const result = await withLock(path, "A build", async () => {
      const { process } = JSON.parse(await Deno.readTextFile(path)) as { process: number };
      return process;
    });
    assert.equal(result, Deno.pid);
    assert.deepEqual(await Array.fromAsync(Deno.readDir(folder)), []);
  }));

Deno.test("a second build at the same time is told who holds it, and the first is not disturbed", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    const child = await holder(path);
    try {
      await assert.rejects(
        withLock(path, "A build of demo", () => Promise.resolve()),
        (error: Error) => {
          assert.ok(error instanceof Busy);
          assert.match(
            error.message,
            new RegExp(
              `^A build of demo is under way already \\(process ${child.pid}, since \\d\\d:\\d\\d:\\d\\d\\); wait`,
            ),
          );
          return true;
        },
      );
    } finally {
      child.kill("SIGKILL");
      await child.status;
    }
  }));

Deno.test("the lock of a process that was killed binds nobody", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    const child = await holder(path);
    child.kill("SIGKILL");
    await child.status;
    assert.ok((await Deno.stat(path)).isFile, "the dead process left its file");
    assert.equal(await withLock(path, "A build", () => Promise.resolve(7)), 7);
  }));

Deno.test("work that fails lets the lock go, and its error through", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    await assert.rejects(
      withLock(path, "A build", () => Promise.reject(new Error("no glass"))),
      /^Error: no glass/,
    );
    assert.equal(await withLock(path, "A build", () => Promise.resolve(1)), 1);
  }));

Deno.test("of twenty at once exactly one at a time gets in", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    let inside = 0, most = 0, done = 0;
    const tries = Array.from({ length: 20 }, () =>
      withLock(path, "A build", async () => {
        most = Math.max(most, ++inside);
        await new Promise((later) => setTimeout(later, 2));
        inside--;
        done++;
      }).catch((error: unknown) => assert.ok(error instanceof Busy)));
    await Promise.all(tries);
    assert.equal(most, 1);
    assert.ok(done >= 1);
  }));

/**
 * A small process beside each kernel: when the process that started it is gone, however it went, the kernel goes too.
 *
 * Its standard input is a pipe from the runner. A byte on it means that the kernel has ended in good order; the pipe's
 * end without one means that the runner has been killed or has crashed, and then the kernel is killed and its folder removed.
 * Run as a program: `deno run -A guard.ts PID FOLDER`.
 */

/** A guard over one kernel. */
export interface Guard {
  /** Dismisses the guard; the kernel has ended. */
  release(): Promise<void>;
}

/**
 * Sets a guard over a process.
 *
 * @param pid     the process to end when this one is gone
 * @param folder  a folder of temporary files to remove then
 */
export function setGuard(pid: number, folder: string): Guard {
  const child = new Deno.Command(Deno.execPath(), {
    args: ["run", "-A", "--no-config", "--no-lock", import.meta.url, String(pid), folder],
    stdin: "piped",
    stdout: "null",
    stderr: "null",
    // Deno ends its other children when it ends itself by an uncaught error; this one has to outlive it
    detached: true,
  }).spawn();
  return {
    async release(): Promise<void> {
      const writer = child.stdin.getWriter();
      await writer.write(new Uint8Array([1])).catch(() => {});
      await writer.close().catch(() => {});
      await child.status;
    },
  };
}

/** Sits out signals meant for the whole terminal group, waits for the pipe, and acts on its end. */
async function keepWatch(pid: number, folder: string): Promise<void> {
  const signals: Deno.Signal[] = Deno.build.os === "windows"
    ? ["SIGINT"]
    : ["SIGINT", "SIGTERM", "SIGHUP"];
  for (const signal of signals) Deno.addSignalListener(signal, () => {});
  const released = await Deno.stdin.read(new Uint8Array(1)).catch(() => null);
  if (released === null) {
    try {
      Deno.kill(pid, "SIGKILL");
    } catch { /* gone already */ }
    await Deno.remove(folder, { recursive: true }).catch(() => {});
  }
  Deno.exit(0);
}

if (import.meta.main) await keepWatch(Number(Deno.args[0]), Deno.args[1] ?? "");

/**
 * A small process beside each kernel and server: when the process that started it is gone, however it went, it goes too.
 *
 * Its standard input is a pipe from the runner. A byte on it means that the kernel has ended in good order; the pipe's
 * end without one means that the runner has been killed or has crashed, and then the kernel is killed and its folder removed.
 * Run as a program: `deno run guard.ts PID FOLDER`; without a folder PID is a server, which is asked to end first, and ends
 * with all it has started.
 */
import { endServer } from "./offspring.ts";

/** A guard over one process. */
export interface Guard {
  /** Dismisses the guard; the process has ended. */
  release(): Promise<void>;
}

/** It ends processes, looks who started which, and removes a folder. */
const MAY = ["--allow-run", "--allow-read", "--allow-write"];

/**
 * Sets a guard over a process.
 *
 * @param pid     the process to end when this one is gone
 * @param folder  a folder of temporary files to remove then; none where the process is a server
 */
export function setGuard(pid: number, folder = ""): Guard {
  const child = new Deno.Command(Deno.execPath(), {
    args: [
      "run",
      ...MAY,
      "--no-prompt",
      "--no-config",
      "--no-lock",
      import.meta.url,
      String(pid),
      folder,
    ],
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
  if (released === null && folder === "") await endServer(pid);
  else if (released === null) {
    try {
      Deno.kill(pid, "SIGKILL");
    } catch { /* gone already */ }
    await Deno.remove(folder, { recursive: true }).catch(() => {});
  }
  Deno.exit(0);
}

if (import.meta.main) await keepWatch(Number(Deno.args[0]), Deno.args[1] ?? "");

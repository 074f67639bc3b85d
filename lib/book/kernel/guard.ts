/**
 * A small process beside each kernel and server: when the process that started it is gone, however it went, it goes too.
 *
 * Its standard input is a pipe from the runner. A byte on it says that the process has ended in good order, another asks to
 * end it; the pipe's end without one means that the runner has been killed or has crashed. A kernel is then killed and its
 * folder removed; a server is asked to end first, and ends with all that it has started.
 * Run as a program: `deno run -A guard.ts PID FOLDER`, without a folder for a server. It looks through the system's list of
 * processes, which Deno lets no program do that may not do everything.
 */
import { endServer } from "./offspring.ts";

/** A guard over one process. */
export interface Guard {
  /** Dismisses the guard; the process has ended. */
  release(): Promise<void>;
  /** Ends the process, and the guard with it. */
  end(): Promise<void>;
}

const ENDED = 1, END = 2;

/**
 * Sets a guard over a process.
 *
 * @param pid     the process to end when this one is gone
 * @param folder  a folder of temporary files to remove then; none where the process is a server
 */
export function setGuard(pid: number, folder = ""): Guard {
  const child = new Deno.Command(Deno.execPath(), {
    args: ["run", "-A", "--no-config", "--no-lock", import.meta.url, String(pid), folder],
    stdin: "piped",
    stdout: "null",
    stderr: "null",
    // Deno ends its other children when it ends itself by an uncaught error; this one has to outlive it
    detached: true,
  }).spawn();
  let said: Promise<unknown> | undefined;
  const say = async (word: number): Promise<void> => {
    const writer = child.stdin.getWriter();
    await writer.write(new Uint8Array([word])).catch(() => {});
    await writer.close().catch(() => {});
    await child.status;
  };
  const once = async (word: number): Promise<void> => void await (said ??= say(word));
  return { release: () => once(ENDED), end: () => once(END) };
}

/** Sits out signals meant for the whole terminal group, waits for the pipe, and acts on its end. */
async function keepWatch(pid: number, folder: string): Promise<void> {
  const signals: Deno.Signal[] = Deno.build.os === "windows"
    ? ["SIGINT"]
    : ["SIGINT", "SIGTERM", "SIGHUP"];
  for (const signal of signals) Deno.addSignalListener(signal, () => {});
  const word = new Uint8Array(1);
  await Deno.stdin.read(word).catch(() => null);
  if (word[0] !== ENDED && folder === "") await endServer(pid);
  else if (word[0] !== ENDED) {
    try {
      Deno.kill(pid, "SIGKILL");
    } catch { /* gone already */ }
    await Deno.remove(folder, { recursive: true }).catch(() => {});
  }
  Deno.exit(0);
}

if (import.meta.main) await keepWatch(Number(Deno.args[0]), Deno.args[1] ?? "");

/**
 * A small process beside each kernel and server: when the process that started it is gone, however it went, it goes too.
 *
 * Its standard input is a pipe from the runner. A byte on it says that the process has ended in good order, another asks to
 * end it; the pipe's end without one means that the runner has been killed or has crashed. A kernel is then killed and its
 * folder removed; a server is asked to end first, and ends with all that it has started.
 * Run as a program: `deno run -A guard.ts PID FOLDER`, without a folder for a server. It looks through the system's list of
 * processes, which Deno lets no program do that may not do everything.
 */
import { setTimeout as sleep } from "node:timers/promises";

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

// Every process that a process has started, and theirs; and how a server is ended with all of them.

/** Parent of each running process, as the system tells it; empty where it does not. */
async function parents(): Promise<ReadonlyMap<number, number>> {
  if (Deno.build.os === "linux") return await parentsByProc();
  if (Deno.build.os === "windows") return new Map();
  const ps = new Deno.Command("ps", { args: ["-A", "-o", "pid=,ppid="], stderr: "null" });
  const { stdout } = await ps.output();
  const lines = new TextDecoder().decode(stdout).trim().split("\n");
  return new Map(lines.map((line) => {
    const [pid = 0, parent = 0] = line.trim().split(/\s+/).map(Number);
    return [pid, parent];
  }));
}

async function parentsByProc(): Promise<ReadonlyMap<number, number>> {
  const found = new Map<number, number>();
  for await (const { name } of Deno.readDir("/proc")) {
    if (!/^\d+$/.test(name)) continue;
    const stat = await Deno.readTextFile(`/proc/${name}/stat`).catch(() => "");
    const parent = /\) \S (\d+)/.exec(stat)?.[1];
    if (parent !== undefined) found.set(Number(name), Number(parent));
  }
  return found;
}

/** The processes below one, itself left out. */
export async function offspring(of: number): Promise<readonly number[]> {
  const above = await parents().catch(() => new Map<number, number>());
  const below = (pid: number): number[] =>
    [...above].flatMap(([child, parent]) => parent === pid ? [child, ...below(child)] : []);
  return below(of);
}

function tell(pid: number, signal: Deno.Signal): boolean {
  try {
    Deno.kill(pid, signal);
    return true;
  } catch {
    return false;
  }
}

/**
 * Ends a server: asks it, waits, and then ends it and whatever it had started and left.
 *
 * @param pid  the server
 * @param ms   how long it may take to put its things in order
 */
export async function endServer(pid: number, ms = 8000): Promise<void> {
  if (Deno.build.os === "windows") {
    const kill = new Deno.Command("taskkill", { args: ["/T", "/F", "/PID", String(pid)] });
    await kill.output().catch(() => undefined);
    return;
  }
  const all = [pid, ...await offspring(pid)];
  tell(pid, "SIGTERM");
  // CONT to a process that is not there fails: a way to ask whether it is
  for (const end = Date.now() + ms; Date.now() < end && tell(pid, "SIGCONT");) await sleep(100);
  for (const one of all) tell(one, "SIGKILL");
}

/** Every process that a process has started, and theirs; and how a server is ended with all of them. */
import { setTimeout as sleep } from "node:timers/promises";

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

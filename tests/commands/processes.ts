/** What runs on this machine, for tests of what ends it; by /proc, so on Linux only. */
import assert from "node:assert/strict";

/** Waits until something holds, looking ten times a second. */
export async function until(what: string, holds: () => Promise<boolean> | boolean): Promise<void> {
  const end = performance.now() + 60_000;
  while (!await holds()) {
    assert.ok(performance.now() < end, `waited a minute for ${what}`);
    await new Promise((later) => setTimeout(later, 100));
  }
}

/** Every process that a process has started, and theirs. */
export async function descendants(parent: number): Promise<number[]> {
  const children = new Map<number, number[]>();
  for await (const { name } of Deno.readDir("/proc")) {
    if (!/^\d+$/.test(name)) continue;
    const stat = await Deno.readTextFile(`/proc/${name}/stat`).catch(() => "");
    const above = Number(/\) \S (\d+)/.exec(stat)?.[1] ?? -1);
    children.set(above, [...children.get(above) ?? [], Number(name)]);
  }
  const below = (process: number): number[] =>
    (children.get(process) ?? []).flatMap((child) => [child, ...below(child)]);
  return below(parent);
}

/** Of these processes, the ones that still run. */
export async function alive(processes: readonly number[]): Promise<number[]> {
  const states = await Promise.all(processes.map(async (process) => {
    const stat = await Deno.readTextFile(`/proc/${process}/stat`).catch(() => "");
    return /\) [^ZX ] /.test(stat) ? [process] : [];
  }));
  return states.flat();
}

/** The kernels among the descendants of a process. */
export async function kernels(parent: number): Promise<number[]> {
  const all = await descendants(parent);
  const words = await Promise.all(
    all.map((process) => Deno.readTextFile(`/proc/${process}/cmdline`).catch(() => "")),
  );
  return all.filter((_, index) => words[index]?.includes("jupyter"));
}

/** What a process cost from its start to its end. */
export interface Cost {
  /** wall time, s */
  readonly seconds: number;
  /** most memory it held at once, MB */
  readonly peakMb: number;
}

/** Watches a process that has just been started until it ends. */
export async function costOf(
  process: Deno.ChildProcess,
): Promise<Cost & { readonly code: number }> {
  const begun = performance.now(), ended = process.output();
  let running = true, peak = 0;
  ended.then(() => running = false);
  while (running) {
    const status = await Deno.readTextFile(`/proc/${process.pid}/status`).catch(() => "");
    peak = Math.max(peak, Number(/^VmHWM:\s+(\d+)/m.exec(status)?.[1] ?? 0));
    await new Promise((later) => setTimeout(later, 10));
  }
  const { code } = await ended;
  return { code, seconds: (performance.now() - begun) / 1000, peakMb: peak / 1024 };
}

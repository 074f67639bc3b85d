/** A room under load, killed, and edited by hand meanwhile: every acknowledged row is there once. Readings are INVENTED. */
import { join } from "node:path";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { median } from "../../lib/numeric/quantiles.ts";
import { readHistory } from "../../lib/room/history.ts";
import { benches, decoding, keyOf, type OpenRoom, openRoom, writeClass } from "./roomServer.ts";

/** What a trial came to. */
export interface Told {
  readonly name: string;
  readonly rows: number;
  readonly lost: number;
  readonly doubled: number;
  readonly torn: number;
  readonly medianMs: number;
  readonly worstMs: number;
  /** 99 in a hundred are no slower */
  readonly slowMs: number;
  /** from the answer to the event with the next step, s */
  readonly wallWorstS: number;
  /** of all its processes together, MB */
  readonly peakMb: number;
  readonly others: string;
}

const wait = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

/** Children of a process, by the system's own list. */
export function childrenOf(pid: number): number[] {
  const text = Deno.readTextFileSync(`/proc/${pid}/task/${pid}/children`);
  return text.trim().split(/\s+/).filter((one) => one !== "").map(Number);
}

/** Memory of a process and its children, MB. */
function memoryOf(pid: number): number {
  const own = (one: number): number => {
    try {
      const kb = /^VmRSS:\s+(\d+)/m.exec(Deno.readTextFileSync(`/proc/${one}/status`))?.[1];
      return Number(kb ?? 0) / 1024;
    } catch {
      return 0;
    }
  };
  try {
    return own(pid) + childrenOf(pid).reduce((sum, child) => sum + own(child), 0);
  } catch {
    return 0;
  }
}

/** One phone: it sends a row again with the same id until it is acknowledged. */
class Phone {
  readonly acknowledged = new Set<string>();
  readonly times: number[] = [];
  answers = new Map<number, number>();

  constructor(private readonly folder: string, private readonly room: () => OpenRoom) {}

  async send(minutes = "1"): Promise<void> {
    const id = crypto.randomUUID();
    const body = {
      id,
      rows: [{
        ...{ date: "2026-11-30", abrasive: "F80", position: "mirror on top", minutes },
        ...{ strokes: "40", note: id },
      }],
    };
    for (let attempt = 0; attempt < 200; attempt++) {
      const from = performance.now();
      try {
        const room = this.room();
        const answer = await room.ask(
          "POST",
          `/api/benches/${this.folder}/tables/grinding/rows`,
          keyOf(room, this.folder),
          body,
        );
        await answer.body?.cancel();
        this.answers.set(answer.status, (this.answers.get(answer.status) ?? 0) + 1);
        if (answer.status === 201 || answer.status === 200) {
          this.times.push(performance.now() - from);
          this.acknowledged.add(id);
          return;
        }
      } catch { /* out of reach: again with the same id */ }
      await wait(100 + 100 * Math.random());
    }
  }
}

/** How often each acknowledged row stands in its table, and whether every line is whole. */
async function counted(
  folder: string,
  phones: ReadonlyMap<string, Phone>,
): Promise<{ rows: number; lost: number; doubled: number; torn: number }> {
  let rows = 0, lost = 0, doubled = 0, torn = 0;
  for (const [bench, { acknowledged }] of phones) {
    const text = await Deno.readTextFile(join(folder, bench, "grinding.csv"));
    const lines = text.split("\n");
    if (lines.at(-1) !== "") torn++;
    const seen = new Map<string, number>();
    for (const line of lines.slice(1, -1)) {
      if (line.startsWith("#")) continue;
      const cells = line.split(",");
      if (cells.length !== 6) torn++;
      const note = cells[5] ?? "";
      seen.set(note, (seen.get(note) ?? 0) + 1);
    }
    for (const id of acknowledged) {
      rows++;
      const count = seen.get(id) ?? 0;
      if (count === 0) lost++;
      if (count > 1) doubled++;
    }
    for (const [note, count] of seen) {
      if (/^[0-9a-f]{8}-/.test(note) && !acknowledged.has(note) && count > 1) doubled++;
    }
    if (readHistory(await Deno.readTextFile(join(folder, bench, "history.csv"))).torn > 0) torn++;
  }
  return { rows, lost, doubled, torn };
}

const names = (count: number): string[] =>
  Array.from({ length: count }, (_, at) => `bench-${String(at + 1).padStart(2, "0")}`);

async function withClass<T>(count: number, act: (folder: string) => Promise<T>): Promise<T> {
  const folder = await Deno.realPath(await Deno.makeTempDir({ prefix: "first-mirror-room-" }));
  try {
    await writeClass(folder, benches(count));
    return await act(folder);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** Hears events as the wall does, and tells how long after an answer each came. */
function listen(room: OpenRoom): { last: Map<string, number>; stop: () => void } {
  const last = new Map<string, number>(), abort = new AbortController();
  void (async () => {
    const answer = await fetch(`${room.origin}/api/events`, {
      headers: { authorization: `Bearer ${room.keys.leader.key}` },
      signal: abort.signal,
    });
    let rest = "";
    for await (const part of answer.body?.pipeThrough(decoding()) ?? []) {
      const blocks = (rest + part).split("\n\n");
      rest = blocks.pop() ?? "";
      for (const block of blocks) {
        const bench = /"bench":"([^"]+)"/.exec(block)?.[1];
        if (bench !== undefined) last.set(bench, performance.now());
      }
    }
  })().catch(() => undefined);
  return { last, stop: () => abort.abort() };
}

/**
 * The ordinary room: so many benches, a reading each two seconds between them, three benches with photographs, a hand
 * that edits tables, and a phone that sends a hundred requests of nonsense a second in the middle third.
 */
export async function ordinaryRoom(seconds: number, count = 30): Promise<Told> {
  return await withClass(count, async (folder) => {
    const room = await openRoom(folder, "--port", "0"), all = names(count);
    const phones = new Map(all.map((one) => [one, new Phone(one, () => room)]));
    const ear = listen(room), lags: number[] = [];
    let peakMb = 0, edits = 0, nonsense = 0, photos = 0, isOver = false;
    const memory = setInterval(() => {
      peakMb = Math.max(peakMb, memoryOf(room.process.pid));
    }, 500);
    const picture = await Deno.readFile(
      join(recordsFolder, "demo-150-f8", "photos", "inside-8mm.png"),
    );
    const started = performance.now(), passed = (): number => (performance.now() - started) / 1000;
    const hand = (async (): Promise<void> => {
      while (!isOver) {
        await wait(5000);
        if (isOver) return;
        const bench = all[edits % all.length] ?? "", path = join(folder, bench, "grinding.csv");
        // as an editor saves: a whole new file in the old one's place, a remark more in it
        const text = await Deno.readTextFile(path);
        if (edits % 2 === 0) await Deno.writeTextFile(path, "# by hand\n", { append: true });
        else {
          await Deno.writeTextFile(`${path}~`, `# looked at by hand\n${text}`);
          if (await Deno.readTextFile(path) === text) await Deno.rename(`${path}~`, path);
          else await Deno.remove(`${path}~`);
        }
        edits++;
      }
    })();
    const flood = (async (): Promise<void> => {
      while (!isOver) {
        if (passed() > seconds / 3 && passed() < 2 * seconds / 3) {
          await Promise.all(Array.from({ length: 10 }, async () => {
            const answer = await room.ask(
              "POST",
              `/api/benches/${all[0]}/tables/grinding/rows`,
              keyOf(room, all[0] ?? ""),
              "nonsense",
            );
            await answer.body?.cancel();
            nonsense++;
          }));
        }
        await wait(100);
      }
    })();
    const camera = (async (): Promise<void> => {
      while (!isOver) {
        const bench = all[1 + photos % 3] ?? "", key = keyOf(room, bench);
        const kept = await room.ask("POST", `/api/benches/${bench}/photos`, key, picture, {
          "content-type": "image/png",
          "idempotency-key": crypto.randomUUID(),
        });
        const { path } = await kept.json() as { path: string };
        const row = await room.ask("POST", `/api/benches/${bench}/tables/ronchi/rows`, key, {
          id: crypto.randomUUID(),
          rows: [{
            ...{ date: "2026-11-30", photo: path.slice("photos/".length) },
            ...{ lines_per_mm: "4", offset_mm: "-8" },
          }],
        });
        await row.body?.cancel();
        const facts = await room.ask("GET", `/api/benches/${bench}`, key);
        await facts.body?.cancel();
        photos++;
        for (let n = 0; n < 40 && !isOver; n++) await wait(500);
      }
    })();
    for (let n = 0; passed() < seconds; n++) {
      const bench = all[(7 * n) % count] ?? "", phone = phones.get(bench);
      const next = started + 2000 * (n + 1);
      await phone?.send();
      const answered = performance.now();
      await wait(Math.max(0, next - performance.now()));
      const heard = ear.last.get(bench) ?? Infinity;
      // an event that came before this answer told another change: then it is not known yet
      lags.push(heard >= answered - 50 ? Math.max(0, heard - answered) / 1000 : 2.1);
    }
    isOver = true;
    await Promise.all([hand, flood, camera]);
    clearInterval(memory);
    ear.stop();
    const times = [...phones.values()].flatMap((phone) => phone.times);
    await room.stop();
    return {
      name: `${count} benches, a reading each 2 s, ${seconds} s`,
      ...await counted(folder, new Map([...phones].filter(([, one]) => one.times.length > 0))),
      medianMs: median(times),
      worstMs: Math.max(...times),
      slowMs: slowOf(times),
      wallWorstS: Math.max(...lags),
      peakMb,
      others: `${photos} photographs, ${edits} edits by hand, ${nonsense} requests of nonsense`,
    };
  });
}

/** 99 in a hundred are no slower. */
function slowOf(times: readonly number[]): number {
  return times.toSorted((a, b) => a - b)[Math.floor(0.99 * (times.length - 1))] ?? NaN;
}

/** A burst: every bench sends a row each two seconds. */
export async function burst(seconds = 20, count = 30): Promise<Told> {
  return await withClass(count, async (folder) => {
    const room = await openRoom(folder, "--port", "0"), all = names(count);
    const phones = new Map(all.map((one) => [one, new Phone(one, () => room)]));
    let peakMb = 0;
    const memory = setInterval(() => {
      peakMb = Math.max(peakMb, memoryOf(room.process.pid));
    }, 500);
    const end = performance.now() + 1000 * seconds;
    await Promise.all([...phones.values()].map(async (phone, at) => {
      await wait(2000 * at / count);
      while (performance.now() < end) {
        const next = performance.now() + 2000;
        await phone.send();
        await wait(Math.max(0, next - performance.now()));
      }
    }));
    clearInterval(memory);
    const times = [...phones.values()].flatMap((phone) => phone.times);
    await room.stop();
    return {
      name: `${count} benches, a reading each 2 s from every one, ${seconds} s`,
      ...await counted(folder, phones),
      medianMs: median(times),
      worstMs: Math.max(...times),
      slowMs: slowOf(times),
      wallWorstS: NaN,
      peakMb,
      others: "",
    };
  });
}

/** Killed at random moments by the id of its own process, the server or the one that started it. */
export async function killed(kills: number, count = 6): Promise<Told> {
  return await withClass(count, async (folder) => {
    let room = await openRoom(folder, "--port", "0"), isOver = false;
    const all = names(count), phones = new Map(all.map((one) => [one, new Phone(one, () => room)]));
    const sending = Promise.all([...phones.values()].map(async (phone) => {
      while (!isOver) await phone.send();
    }));
    for (let n = 0; n < kills; n++) {
      await wait(50 + 450 * Math.random());
      const [server] = childrenOf(room.process.pid);
      const pid = n % 3 === 0 || server === undefined ? room.process.pid : server;
      Deno.kill(pid, "SIGKILL");
      await room.process.status;
      room = await openRoom(folder);
    }
    isOver = true;
    await sending;
    const times = [...phones.values()].flatMap((phone) => phone.times);
    const statuses = new Map<number, number>();
    for (const { answers } of phones.values()) {
      for (const [status, many] of answers) {
        statuses.set(status, (statuses.get(status) ?? 0) + many);
      }
    }
    await room.stop();
    return {
      name: `${kills} kills`,
      ...await counted(folder, phones),
      medianMs: median(times),
      worstMs: Math.max(...times),
      slowMs: slowOf(times),
      wallWorstS: NaN,
      peakMb: NaN,
      others: [...statuses].map(([status, many]) => `${status}: ${many}`).join(", "),
    };
  });
}

/** What a trial came to, in a line or two. */
export function tell(told: Told): string {
  const { name, rows, lost, doubled, torn, medianMs, worstMs, slowMs, wallWorstS, peakMb, others } =
    told;
  return [
    `${name}: ${rows} rows acknowledged, ${lost} lost, ${doubled} doubled, ${torn} torn`,
    `  answers: median ${medianMs.toFixed(0)} ms, worst ${worstMs.toFixed(0)} ms, 99 in 100 under ${
      slowMs.toFixed(0)
    } ms` +
    (Number.isNaN(wallWorstS) ? "" : `; wall at most ${wallWorstS.toFixed(2)} s behind`) +
    (Number.isNaN(peakMb) ? "" : `; memory at most ${peakMb.toFixed(0)} MB`),
    ...(others === "" ? [] : [`  ${others}`]),
  ].join("\n");
}

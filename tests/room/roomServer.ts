/** A room as `deno task room` starts it, on a class of its own, with no more than the task may do. */
import { join } from "node:path";
import { command } from "../commands/run.ts";
import type { KeysFile } from "../../lib/room/keys.ts";

/** A room that is open. */
export interface OpenRoom {
  /** path of the class's folder */
  readonly folder: string;
  readonly keys: KeysFile;
  readonly origin: string;
  readonly process: Deno.ChildProcess;
  /** what it has printed so far */
  readonly said: () => string;
  /** asks, with a key; a body that is no text or bytes goes as JSON */
  readonly ask: (
    method: string,
    path: string,
    key?: string,
    body?: unknown,
    headers?: Readonly<Record<string, string>>,
  ) => Promise<Response>;
  /** ends it as Ctrl+C does, or at once */
  readonly stop: (signal?: "SIGTERM" | "SIGKILL") => Promise<void>;
}

/** What a mirror in the middle of rough grinding has; INVENTED */
export const BENCH: Readonly<Record<string, string>> = {
  "mirror.yaml": "title: Bench\naperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n",
  "grinding.csv":
    "date,abrasive,position,minutes,strokes,note\n2026-04-18,F80,mirror on top,20,800,\n",
  "sagitta.csv":
    "# leaves, wet\ndate,after_min,go_mm,nogo_mm,note\n2026-04-18,20,0.15+0.04,0.20,\n",
};

/** Writes a class: files by their paths in it. */
export async function writeClass(
  folder: string,
  files: Readonly<Record<string, string>>,
): Promise<void> {
  for (const [path, text] of Object.entries(files)) {
    const whole = join(folder, path);
    await Deno.mkdir(join(whole, ".."), { recursive: true });
    await Deno.writeTextFile(whole, text);
  }
}

/** A class of so many benches like the one above. */
export function benches(count: number): Record<string, string> {
  const files: Record<string, string> = {};
  for (let n = 1; n <= count; n++) {
    const folder = `bench-${String(n).padStart(2, "0")}`;
    for (const [name, text] of Object.entries(BENCH)) files[`${folder}/${name}`] = text;
  }
  return files;
}

/** Opens a room; waits until its keys are written. */
export async function openRoom(folder: string, ...args: readonly string[]): Promise<OpenRoom> {
  const at = args.indexOf("--keys");
  const keysPath = at < 0 ? join(folder, ".room", "keys.json") : args[at + 1] ?? "";
  const before = await Deno.stat(keysPath).then((one) => one.mtime?.getTime(), () => undefined);
  const process = command("room", [folder, "--today", "2026-11-30", ...args]).spawn();
  let said = "";
  const gather = async (stream: ReadableStream<Uint8Array>): Promise<void> => {
    const decoder = new TextDecoder();
    for await (const part of stream) said += decoder.decode(part, { stream: true });
  };
  void gather(process.stdout);
  void gather(process.stderr);
  let isOver = false;
  void process.status.then(() => void (isOver = true));
  for (let waited = 0; !/page: http/.test(said); waited += 50) {
    if (isOver || waited > 60_000) throw new Error(`The room did not open: ${said}`);
    await new Promise((done) => setTimeout(done, 50));
  }
  const now = await Deno.stat(keysPath);
  if (now.mtime?.getTime() === before) throw new Error("the keys were not written anew");
  const keys = JSON.parse(await Deno.readTextFile(keysPath)) as KeysFile;
  const origin = new URL(keys.leader.url).origin;
  return {
    ...{ folder, keys, origin, process },
    said: () => said,
    ask: (method, path, key, body, headers) => {
      const isBare = body === undefined || typeof body === "string" || body instanceof Uint8Array;
      return fetch(`${origin}${path}`, {
        method,
        headers: {
          ...(key === undefined ? {} : { authorization: `Bearer ${key}` }),
          ...headers,
        },
        redirect: "manual",
        ...(body === undefined
          ? {}
          : { body: isBare ? body as string | Uint8Array<ArrayBuffer> : JSON.stringify(body) }),
      });
    },
    stop: async (signal = "SIGTERM") => {
      try {
        process.kill(signal);
      } catch { /* over already */ }
      await process.status;
    },
  };
}

/** Opens a room on a class of its own, hands it on, and takes both away. */
export async function withRoom(
  files: Readonly<Record<string, string>>,
  act: (room: OpenRoom) => Promise<void>,
  ...args: readonly string[]
): Promise<void> {
  const folder = await Deno.realPath(await Deno.makeTempDir({ prefix: "first mirror room " }));
  try {
    await writeClass(folder, files);
    const room = await openRoom(folder, "--port", "0", ...args);
    try {
      await act(room);
    } finally {
      await room.stop();
    }
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** The key of a bench. */
export function keyOf(room: OpenRoom, folder: string): string {
  return room.keys.benches[folder]?.key ?? "";
}

/** A stream's bytes as text. */
export function decoding(): TransformStream<Uint8Array, string> {
  const decoder = new TextDecoder();
  return new TransformStream({
    transform: (part, controller) => controller.enqueue(decoder.decode(part, { stream: true })),
  });
}

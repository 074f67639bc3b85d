/** The server's own process: its permissions are the class's folder, its address, and nothing else. */
import { join } from "node:path";
import { begunRecord } from "../record/begunRecord.ts";
import { type BookTold, RoomBook } from "./book.ts";
import { asDiskRefused, DiskRefused, replaceSynced } from "./disk.ts";
import { Events } from "./events.ts";
import { freshKey, type Keys, keysFile, originOf, readKeys } from "./keys.ts";
import { codesPage } from "./pages/cards.ts";
import { linesOf } from "./lines.ts";
import type { Answer, Numbered, Question } from "./reckoner.ts";
import { OWN_FOLDER, Room } from "./room.ts";
import { server } from "./serve.ts";

/** What the process that starts this one hands over. */
export interface ServeOptions {
  /** the class's folder, links followed */
  readonly folder: string;
  /** where it listens */
  readonly host: string;
  /** the address that phones are told; as host, but a real one where that is every address */
  readonly told: string;
  readonly port: number;
  /** the file of keys */
  readonly keys: string;
  readonly today?: string;
}

/** What is said to the process that started this one. */
type Said =
  | { readonly say: string }
  | { readonly stop: string }
  | { readonly book: true }
  | (Question & Numbered);

const tell = (said: Said): void => {
  const bytes = new TextEncoder().encode(`${JSON.stringify(said)}\n`);
  for (let at = 0; at < bytes.length;) at += Deno.stdout.writeSync(bytes.subarray(at));
};

/** Questions that are out, by their numbers. */
class Asked {
  readonly #open = new Map<
    number,
    {
      readonly question: Question & Numbered;
      readonly answer: (answer: Answer) => void;
      tries: number;
    }
  >();
  #last = 0;

  ask(question: Question, slow = false): Promise<Answer> {
    const n = ++this.#last, numbered = { ...question, n, ...(slow ? { slow } : {}) };
    return new Promise((answer) => {
      this.#open.set(n, { question: numbered, answer, tries: 1 });
      tell(numbered);
    });
  }

  answered({ n, ...answer }: Answer & Numbered): void {
    this.#open.get(n)?.answer(answer as Answer);
    this.#open.delete(n);
  }

  /** The process that reckons was started anew: what is out is asked once more, and then no more. */
  again(): void {
    for (const [n, one] of this.#open) {
      if (one.tries++ < 2) tell(one.question);
      else this.answered({ n, fault: "it could not be reckoned" });
    }
  }
}

/** What is done on a word of the process that started this one. */
interface Doors {
  /** ends the server: what is under way is finished first, then the mark of an open room goes */
  stop: () => Promise<void>;
  /** hears how the lessons were laid out */
  book: (said: BookTold) => void;
}

/** Follows what the process that started this one says; when it is gone, this one goes too, as in a crash. */
async function follow(asked: Asked, doors: Doors): Promise<void> {
  for await (const line of linesOf(Deno.stdin.readable)) {
    const said = JSON.parse(line) as
      | (Answer & Numbered)
      | { stop: true }
      | { again: true }
      | { book: BookTold };
    if ("n" in said) asked.answered(said);
    else if ("again" in said) asked.again();
    else if ("book" in said) doors.book(said.book);
    else await doors.stop();
  }
  Deno.exit(1);
}

/** One server a class: the lock is the system's own, and goes with the process. */
async function lockOf(folder: string): Promise<Deno.FsFile | undefined> {
  const file = await Deno.open(join(folder, OWN_FOLDER, "lock"), {
    ...{ write: true, create: true, mode: 0o600 },
  });
  for (let attempt = 0; attempt < 50; attempt++) {
    if (await file.tryLock(true)) return file;
    await new Promise((done) => setTimeout(done, 100));
  }
  return undefined;
}

/** Keys for every folder: those of the file, and fresh ones for what is new. */
function keysFor(before: Keys | undefined, folders: readonly string[]): Keys {
  return {
    leader: before?.leader ?? freshKey(),
    walls: before?.walls.length === 0 || before === undefined ? [freshKey()] : before.walls,
    // a bench that is gone keeps its key: its folder may come back
    benches: new Map([
      ...before?.benches ?? [],
      ...folders.map((folder) => [folder, before?.benches.get(folder) ?? freshKey()] as const),
    ]),
  };
}

/** Serves until it is stopped. */
export async function serve(options: ServeOptions): Promise<void> {
  const { folder } = options, own = join(folder, OWN_FOLDER), asked = new Asked();
  const doors: Doors = { stop: () => Promise.resolve(Deno.exit(0)), book: () => undefined };
  void follow(asked, doors);
  try {
    await Deno.mkdir(own, { recursive: true, mode: 0o700 });
    const lock = await lockOf(folder);
    if (lock === undefined) {
      tell({ stop: "This class is served already; stop the other room first." });
      Deno.exit(1);
    }
    const mark = join(own, "open");
    const crashed = await Deno.lstat(mark).then(() => true, () => false);
    await Deno.writeTextFile(mark, "The room is open, or was not closed.\n");
    await run(options, asked, crashed, doors, async () => {
      await Deno.remove(mark).catch(() => undefined);
      lock.close();
    });
  } catch (error) {
    tell({ stop: asDiskRefused(error).message });
    Deno.exit(1);
  }
}

async function run(
  { folder, host, told, port, keys: keysPath, today }: ServeOptions,
  asked: Asked,
  crashed: boolean,
  doors: Doors,
  close: () => Promise<void>,
): Promise<void> {
  const events = new Events(Date.now());
  const room = new Room({
    folder,
    events,
    ask: (question, slow) => asked.ask(question, slow),
    log: (line) => void Deno.stderr.writeSync(new TextEncoder().encode(`${line}\n`)),
    ...(today === undefined ? {} : { today }),
  });
  await room.start(crashed);
  const kept = await Deno.readTextFile(keysPath).catch(() => "");
  const before = readKeys(kept);
  if (kept.trim() !== "" && before === undefined) {
    throw new DiskRefused(
      `${keysPath} is no file of a room’s keys, so it is left alone; name another with --keys, or take it away.`,
      false,
    );
  }
  let keys = keysFor(before, [...room.seats.keys()]);
  let origin = "";
  const addressOf = (bench: string): string | undefined => {
    const key = keys.benches.get(bench);
    return key === undefined ? undefined : `${origin}/enter#${key}`;
  };
  const keep = async (): Promise<void> => {
    const text = new TextEncoder().encode(keysFile(keys, told, boundTo));
    await replaceSynced(keysPath, text, `${keysPath}.part`, 0o600);
  };
  let boundTo = port;
  const newKeys = (): Keys => {
    const missing = [...room.seats.keys()].filter((bench) => !keys.benches.has(bench));
    if (missing.length > 0) {
      keys = keysFor(keys, missing);
      void keep().catch(() => undefined);
    }
    return keys;
  };
  const book = new RoomBook(join(folder, OWN_FOLDER, "book"), () => tell({ book: true }));
  doors.book = (said): void => book.told(said);
  const handler = server({
    room,
    book,
    events,
    keys: newKeys,
    isOwnHost: (asking) => isOwnHost(asking, host, told, boundTo),
    begin: (name, title) => begunRecord(join(folder, name), title),
    addressOf,
  });
  const http = await listening(host, port === 0 ? before?.port ?? 0 : port, handler);
  boundTo = http.addr.port;
  origin = originOf(told, boundTo);
  await keep();
  const abort = new AbortController();
  void room.watch(abort.signal);
  const breath = setInterval(() => events.breathe(), 15_000);
  doors.stop = async (): Promise<void> => {
    abort.abort();
    clearInterval(breath);
    await Promise.all([...room.seats.values()].map(({ files }) => files.idle()));
    await close();
    Deno.exit(0);
  };
  const codes = join(folder, OWN_FOLDER, "codes.html");
  const sheet = codesPage(room.now(), addressOf, keys.walls.map((key) => `${origin}/enter#${key}`));
  await replaceSynced(codes, new TextEncoder().encode(sheet), `${codes}.part`, 0o600);
  tell({
    say: [
      `The leader’s page: ${origin}/enter#${keys.leader}`,
      `Codes of the benches, to print: ${codes}`,
    ].join("\n"),
  });
}

/** Listens; a room that was killed a moment ago may still hold the port. */
async function listening(
  host: string,
  port: number,
  handler: (request: Request) => Promise<Response>,
): Promise<Deno.HttpServer<Deno.NetAddr>> {
  for (let attempt = 0;; attempt++) {
    try {
      return Deno.serve({ hostname: host, port, onListen: () => undefined }, handler);
    } catch (error) {
      const isTaken = error instanceof Deno.errors.AddrInUse;
      if (isTaken && attempt < 40) await new Promise((done) => setTimeout(done, 100));
      else if (isTaken) {
        throw new DiskRefused(`Port ${port} is taken on ${host}; name another with --port.`, false);
      } else if (error instanceof Deno.errors.AddrNotAvailable) {
        throw new DiskRefused(`${host} is no address of this machine.`, false);
      } else throw error;
    }
  }
}

/** Whether a name under which the room is asked for is its own. */
function isOwnHost(asking: string, host: string, told: string, port: number): boolean {
  const found = /^(\[[0-9a-f:.]+\]|[^:\s]+)(?::(\d+))?$/i.exec(asking);
  if (found === null || Number(found[2] ?? 80) !== port) return false;
  const name = (found[1] ?? "").replace(/^\[|\]$/g, "").toLowerCase();
  if (name === host || name === told) return true;
  const isLoopback = host === "127.0.0.1" || host === "::1" || host === "localhost";
  if (isLoopback) return name === "localhost" || name === "127.0.0.1" || name === "::1";
  // where it listens on every address, any number of the machine is its own; a name may be a stranger's
  return (host === "0.0.0.0" || host === "::") && /^[\d.]+$|:/.test(name);
}

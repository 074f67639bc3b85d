// deno-lint-ignore-file no-console
/** `deno task room`: the room's server and, beside it, the process that reckons, each with no more than it needs. */
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { BookTold } from "../room/book.ts";
import { linesOf } from "../room/lines.ts";
import { dayTyped, isFault, NotDone, runTask, UsageError } from "./command.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";

const help = `deno task room CLASS [--host ADDRESS] [--port N] [--keys FILE] [--today DAY]

Serves a class of records to the phones and tablets of a workshop, without internet: a wall for the
projector, a page for each bench with the next step, keys for its readings and the caller of strokes, and
the leader's page. The folders stay the one truth; edit them by hand while it runs, if you like.
It prints the leader's address and where the sheet of codes for the benches lies. Stop it with Ctrl+C.

  CLASS           a folder that holds the benches' folders; deno task new --class begins one
  --host ADDRESS  on which of this machine's addresses it is served (default: 127.0.0.1, this machine alone).
                  On any other address everybody in that network can reach it, and whoever listens to the
                  network can read the keys: use a network of your own, not a school's or a cafe's
  --port N        default: the last one, else 8750; 0 takes any that is free
  --keys FILE     where the keys are kept (default: .room/keys.json in the class); the same file gives the
                  same keys and port at the next start
  --today DAY     the day it is, such as 2026-04-18, where the clock is wrong
  --help          this text

Exit status: 0 stopped, 1 not served (the reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

const root = fileURLToPath(new URL("../../", import.meta.url));
const script = fileURLToPath(import.meta.url);

/** What is typed. */
interface Typed {
  readonly host?: string;
  readonly port?: string;
  readonly keys?: string;
  readonly today?: string;
}

const USUAL_PORT = 8750;

function portTyped(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const port = Number(text);
  if (/^\d{1,5}$/.test(text) && port < 65_536) return port;
  throw new UsageError(`--port wants a number from 0 to 65535, got ${JSON.stringify(text)}.`);
}

function hostTyped(text: string): string {
  if (/^(localhost|[\d.]{7,15}|[0-9a-f:.]{2,45})$/i.test(text)) return text.toLowerCase();
  throw new UsageError(
    `--host wants an address such as 192.168.1.20, got ${JSON.stringify(text)}.`,
  );
}

/** The address that phones are told: where the room is on every address, the first that leads outside. */
function toldAs(host: string): string {
  if (host !== "0.0.0.0" && host !== "::") return host;
  const family = host === "::" ? "IPv6" : "IPv4";
  const own = Deno.networkInterfaces().filter((one) => one.family === family)
    .map(({ address }) => address);
  return own.find((address) => !/^(127\.|::1$|fe80)/.test(address)) ?? own[0] ?? host;
}

async function classFolder(name: string | undefined): Promise<string> {
  if (name === undefined) throw new UsageError("room wants the folder of a class.");
  const folder = await Deno.realPath(recordFromCaller(name)).catch(() => {
    throw new NotDone(`${name} is no folder; begin a class with deno task new --class ${name}.`);
  });
  if (!(await Deno.stat(folder)).isDirectory) throw new NotDone(`${name} is a file, not a folder.`);
  const isMirror = await Deno.lstat(join(folder, "mirror.yaml")).then(() => true, () => false);
  if (isMirror) {
    throw new NotDone(
      `${name} is one mirror’s record; a room serves the folder that the benches’ folders lie in.`,
    );
  }
  return folder;
}

/** The port of the last time, which the file of keys has. */
async function portOf(typed: number | undefined, keys: string): Promise<number> {
  if (typed !== undefined && typed !== 0) return typed;
  const { readKeys } = await import("../room/keys.ts");
  const last = await Deno.readTextFile(keys).then((text) => readKeys(text)?.port, () => undefined);
  return last ?? typed ?? USUAL_PORT;
}

async function room(name: string | undefined, typed: Typed): Promise<number> {
  const today = dayTyped(typed.today), host = hostTyped(typed.host ?? "127.0.0.1");
  const asked = portTyped(typed.port);
  const folder = await classFolder(name);
  const keys = typed.keys === undefined
    ? join(folder, ".room", "keys.json")
    : await filePath(fromCaller(typed.keys));
  const port = await portOf(asked, keys), told = toldAs(host);
  if (!/^(127\.|::1$|localhost$)/.test(host)) {
    console.log(
      `On ${told} everybody in this network can reach the room, and whoever listens to the network can read the keys.`,
    );
  }
  const options = { folder, host, told, port, keys, ...(today === undefined ? {} : { today }) };
  return await together(options);
}

/** A file's path, links in its folder followed. */
async function filePath(path: string): Promise<string> {
  const folder = await Deno.realPath(dirname(path)).catch(() => {
    throw new NotDone(
      `${path} cannot be written; name a file in a folder that exists and is yours.`,
    );
  });
  return join(folder, path.slice(dirname(path).length).replace(/^[\\/]/, "") || path);
}

type Options = Readonly<Record<string, string | number>>;

/** What the reader of YAML asks the environment for. */
const YAML_ASKS = "LOG_TOKENS,LOG_STREAM";

/** The room goes on beside it: a third of a gigabyte instead of half, for a few seconds more. */
const LITTLE_MEMORY = "--max-semi-space-size=2,--max-old-space-size=300";

/** What laying out the lessons asks it for besides. */
const MADE_ASKS =
  "MALLOC_ARENA_MAX,npm_package_config_libvips,HOME,USERPROFILE,TMPDIR,TMP,TEMP,SystemRoot,windir";

/** Where packages with native code look for which C library this machine has. */
const LIBRARY_ASKED = "/usr/bin/ldd";

/** The permissions of the two, in the words of `deno run`. */
function permissions(
  role: "server" | "reckoner",
  options: Options,
  packages: string,
): string[] {
  const { host, port } = options, own = join(root, "data");
  // a comma parts paths; two of them are one comma of a path
  const [folder, keys] = [options["folder"], options["keys"]].map((path) =>
    String(path).replaceAll(",", ",,")
  );
  return role === "server"
    ? [
      `--allow-read=${[folder, own, keys, `${keys}.part`].join(",")}`,
      `--allow-write=${[folder, keys, `${keys}.part`].join(",")}`,
      `--allow-net=${String(host).includes(":") ? `[${host}]` : host}:${port}`,
      `--allow-env=${YAML_ASKS}`,
    ]
    : [
      `--allow-read=${
        [folder, own, join(root, "lib"), join(root, "notebooks"), LIBRARY_ASKED, packages].join(",")
      }`,
      "--allow-ffi",
      `--allow-env=${YAML_ASKS},MALLOC_ARENA_MAX,npm_package_config_libvips`,
    ];
}

/** Where Deno keeps packages: their native code is looked for there. */
async function packagesFolder(): Promise<string> {
  const { stdout } = await new Deno.Command(Deno.execPath(), {
    args: ["info", "--json"],
    stdin: "null",
    stderr: "null",
  }).output();
  return (JSON.parse(new TextDecoder().decode(stdout)) as { readonly npmCache: string }).npmCache;
}

function started(
  role: "server" | "reckoner",
  options: Options,
  packages: string,
): Deno.ChildProcess {
  return new Deno.Command(Deno.execPath(), {
    args: [
      "run",
      "--no-prompt",
      "--no-check",
      // a workshop has no internet: what a module loads later is not asked for anew
      "--cached-only",
      `--v8-flags=--max-semi-space-size=2`,
      "--config",
      join(root, "deno.json"),
      ...permissions(role, options, packages),
      script,
      role,
      JSON.stringify(options),
    ],
    env: { MALLOC_ARENA_MAX: "2" },
    stdin: "piped",
    stdout: "piped",
    stderr: "inherit",
  }).spawn();
}

/** Lays the lessons out when a bench first asks for its book: once, in a process that is gone afterwards. */
class Books {
  #process: Deno.ChildProcess | undefined;

  constructor(
    private readonly options: Options,
    private readonly tell: (told: BookTold) => void,
  ) {}

  layOut(): void {
    if (this.#process === undefined) void this.#run();
  }

  end(): void {
    try {
      this.#process?.kill();
    } catch { /* over already */ }
  }

  async #run(): Promise<void> {
    const folder = String(this.options["folder"]), { today } = this.options;
    const own = join(folder, ".room");
    const writes = [own, join(root, "book")].map((path) => path.replaceAll(",", ",,"));
    this.#process = new Deno.Command(Deno.execPath(), {
      args: [
        ...["run", "--no-prompt", "--no-check", "--cached-only"],
        ...["--config", join(root, "deno.json"), `--v8-flags=${LITTLE_MEMORY}`],
        ...["--allow-read", `--allow-write=${writes.join(",")}`],
        ...[`--allow-run=${Deno.execPath()}`, "--allow-ffi", "--allow-sys=loadavg"],
        `--allow-env=INIT_CWD,${YAML_ASKS},${MADE_ASKS}`,
        ...[script, "book", JSON.stringify({ folder, today })],
      ],
      env: { MALLOC_ARENA_MAX: "2", TMPDIR: own, TMP: own, TEMP: own },
      ...{ stdin: "null", stdout: "null", stderr: "piped" },
    }).spawn();
    const { code, stderr } = await this.#process.output();
    this.#process = undefined;
    const why = new TextDecoder().decode(stderr).trim().split("\n").at(-1) ?? "";
    this.tell(code === 0 ? { ready: true } : { ready: false, why: why || "It was stopped." });
  }
}

/** Lays the lessons out beside the class's keys. */
async function layOut(folder: string, today: string | undefined): Promise<number> {
  const { buildClassBook } = await import("../book/classBook.ts");
  try {
    await buildClassBook({
      ...{ record: folder, out: join(folder, ".room", "book"), edition: "learner" },
      ...{ isForRoom: true, jobs: 1 },
      ...(today === undefined ? {} : { today }),
    });
    return 0;
  } catch (error) {
    if (!(error instanceof Error) || isFault(error)) throw error;
    console.error(error.message);
    return 1;
  }
}

/** Starts both, hands on what they say to each other, and ends with the server. */
async function together(options: Options): Promise<number> {
  const packages = await packagesFolder();
  const served = started("server", options, packages), toServer = served.stdin.getWriter();
  const encoder = new TextEncoder();
  const send = (to: WritableStreamDefaultWriter<Uint8Array>, line: string): void =>
    void to.write(encoder.encode(`${line}\n`)).catch(() => undefined);
  let isOver = false;
  let reckoner = started("reckoner", options, packages), toReckoner = reckoner.stdin.getWriter();
  const reckoning = async (): Promise<void> => {
    while (!isOver) {
      for await (const line of linesOf(reckoner.stdout)) send(toServer, line);
      await reckoner.status;
      if (isOver) return;
      // a decoder that fell over takes nobody's reading with it
      reckoner = started("reckoner", options, packages);
      toReckoner = reckoner.stdin.getWriter();
      send(toServer, JSON.stringify({ again: true }));
    }
  };
  void reckoning();
  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    if (signal === "SIGTERM" && Deno.build.os === "windows") continue;
    Deno.addSignalListener(signal, () => send(toServer, JSON.stringify({ stop: true })));
  }
  const books = new Books(options, (told) => send(toServer, JSON.stringify({ book: told })));
  let sentence: string | undefined;
  for await (const line of linesOf(served.stdout)) {
    const said = JSON.parse(line) as {
      readonly say?: string;
      readonly stop?: string;
      readonly book?: true;
    };
    if (said.say !== undefined) console.log(said.say);
    else if (said.book === true) books.layOut();
    else if (said.stop !== undefined) {
      sentence = said.stop;
      send(toServer, JSON.stringify({ stop: true }));
    } else send(toReckoner, line);
  }
  const { code } = await served.status;
  isOver = true;
  books.end();
  await toReckoner.close().catch(() => undefined);
  if (sentence !== undefined) throw new NotDone(sentence);
  if (code !== 0) throw new NotDone("The room’s server has ended by itself; start it again.");
  return 0;
}

if (import.meta.main) {
  const [role, handed = ""] = Deno.args;
  if (role === "server") {
    const { serve } = await import("../room/main.ts");
    await serve(JSON.parse(handed));
  } else if (role === "reckoner") {
    const { reckon } = await import("../room/reckoner.ts");
    await reckon(async (folder, file, today) => {
      const { roomBenchFile } = await import("../book/roomBook.ts");
      return await roomBenchFile(folder, file, today);
    });
  } else if (role === "book") {
    const { folder, today } = JSON.parse(handed) as {
      readonly folder: string;
      readonly today?: string;
    };
    Deno.exit(await layOut(folder, today));
  } else {
    Deno.exit(
      await runTask({
        name: "room",
        help,
        options: {
          host: { type: "string" },
          port: { type: "string" },
          keys: { type: "string" },
          today: { type: "string" },
        },
        most: 1,
        many: "room serves one class; put a name with spaces in quotation marks",
        act: ([name], typed) => room(name, typed),
      }),
    );
  }
}

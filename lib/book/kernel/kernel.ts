/** The real Deno kernel, driven so that no output is lost and none lands under another cell. */
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { tempFolder } from "../outputFolder.ts";
import { setGuard } from "./guard.ts";
import {
  barrier,
  type BarrierReport,
  type CellImport,
  HEARD,
  prelude,
  REPORT,
} from "./instrument.ts";
import { Patience } from "./patience.ts";
import { ZmtpSocket } from "./zmtp.ts";

/** One cell to be run. */
export interface Job {
  /** what the kernel shall run */
  readonly code: string;
  /** the code cell's number, from 1 */
  readonly cell: number;
  /** what it imports, to be compared with what the modules export */
  readonly imports: readonly CellImport[];
}

/** The kernel's answer to one cell. */
export interface Reply {
  readonly status: string;
  readonly ename?: string;
  readonly evalue?: string;
  readonly traceback?: readonly string[];
}

/** What came of one cell. */
export interface Turn {
  /** `loop` and `wait` are a cell that overran its time: still computing, or waiting for what does not come */
  readonly ended: "done" | "loop" | "wait" | "died";
  /** everything the cell sent, in order; nothing of any other cell */
  readonly messages: readonly Message[];
  readonly reply?: Reply;
  /** what the kernel knows from inside; absent where it never came to the barrier */
  readonly report?: BarrierReport;
  /** line of the statement last begun, from 1; absent where the cell did not begin */
  readonly line?: number;
  /** an error that nothing caught, where the cell did not come back to report it */
  readonly fault?: string;
  /** where the kernel died: its exit code */
  readonly exitCode?: number;
}

/** Longest time a kernel may take to come up, as `Patience` counts it. */
const START_MS = 30_000;
/** A cell that never ends is stopped on a busy machine too: after so many times its limit. */
const CELL_SLOWEST = 4;
/** How long an interrupted kernel has to show that it still answers. */
const INTERRUPT_MS = 1500;

/** How long a kernel that awaits may take to say that it heard of Stop; one that says nothing computes. */
const HEAR_MS = 400;
/** On a busy machine it is given so many times as long at most. */
const HEAR_SLOWEST = 5;

/** One who looks on while a cell runs. */
export interface Listener {
  /** told each message of the cell as it comes */
  hear(message: Message): void;
  /** asked for what `prompt` waits for; without it, nothing is answered */
  ask?(message: Message): Promise<string>;
}

/** One kernel, from its start to its end. Cells run one after the other. */
export class Kernel {
  #heard: (message: Message) => void = () => {};
  #replied: (message: Message) => void = () => {};
  #asked: (message: Message) => void = () => {};
  #cell = 0;
  #stopHeard = -1;
  #behind: Message | undefined;
  readonly #session: string;
  #ended = false;

  private constructor(
    private readonly process: KernelProcess,
    private readonly key: CryptoKey,
    private readonly shell: ZmtpSocket,
    private readonly iopub: ZmtpSocket,
    private readonly control: ZmtpSocket,
    private readonly stdin: ZmtpSocket,
    session: string,
  ) {
    this.#session = session;
  }

  /**
   * Starts a kernel and waits until it answers. A port taken by somebody else in the meantime costs a second attempt.
   *
   * @throws {Error} where three attempts fail, with the process's last words; at once where this machine does not reach itself
   */
  static async start(options: LaunchOptions): Promise<Kernel> {
    await reachSelf();
    let failure: unknown;
    for (let attempt = 0; attempt < 3; attempt++) {
      const process = await launch(options);
      try {
        return await Kernel.#connect(process);
      } catch (error) {
        failure = error;
        process.kill();
        await process.dispose();
      }
    }
    throw failure;
  }

  static async #connect(process: KernelProcess): Promise<Kernel> {
    const patience = new Patience(START_MS);
    let dead = false;
    process.died.then(() => dead = true);
    // under one name on all ways, so that a question comes to the one whose cell asks it
    const session = crypto.randomUUID();
    const knock = async (port: number, type: "DEALER" | "SUB"): Promise<ZmtpSocket> => {
      while (!dead && patience.left() > 0) {
        try {
          return await ZmtpSocket.connect(port, type, type === "SUB" ? "" : session);
        } catch {
          await sleep(10);
        }
      }
      throw new Error(`the kernel did not come up: ${process.stderrTail() || "it said nothing"}`);
    };
    const key = await signingKey(process.key);
    const iopub = await knock(process.ports.iopub, "SUB");
    const shell = await knock(process.ports.shell, "DEALER");
    const control = await knock(process.ports.control, "DEALER");
    const stdin = await knock(process.ports.stdin, "DEALER");
    const kernel = new Kernel(process, key, shell, iopub, control, stdin, session);
    kernel.#listen(iopub, (message) => kernel.#heard(message));
    kernel.#listen(shell, (message) => kernel.#replied(message));
    kernel.#listen(control, () => {});
    kernel.#listen(stdin, (message) => kernel.#asked(message));
    await kernel.#prepare();
    return kernel;
  }

  /** Hands over each message of a channel until it closes; a message signed by a stranger is passed over. */
  async #listen(socket: ZmtpSocket, hand: (message: Message) => void): Promise<void> {
    for (;;) {
      const frames = await socket.receive();
      if (frames === undefined) return;
      const message = await unpack(frames, this.key).catch(() => undefined);
      if (message !== undefined) hand(message);
    }
  }

  async #prepare(): Promise<void> {
    const code = `${prelude(this.process.lineFile)};`;
    const turn = await this.#turn({ code, cell: 0, imports: [] }, START_MS);
    if (turn.ended !== "done" || turn.report === undefined) {
      throw new Error(
        `the kernel came up but does not answer: ${turn.reply?.evalue ?? turn.ended}`,
      );
    }
  }

  /** The process's number, for a test that looks whether it is gone. */
  get pid(): number {
    return this.process.pid;
  }

  /** The last lines the process wrote outside any cell. */
  get stderrTail(): string {
    return this.process.stderrTail();
  }

  /**
   * Runs a cell and waits for everything it says.
   *
   * A second request stands behind it as a barrier: what arrives before the barrier's mark is the cell's, on all ways out,
   * whatever the kernel says about being idle.
   *
   * @param job       the cell
   * @param limitMs   time it may take, as `Patience` counts it; beyond it the kernel is interrupted, looked at and killed
   * @param listener  one who looks on
   */
  run(job: Job, limitMs: number, listener?: Listener): Promise<Turn> {
    return this.#turn(job, limitMs, listener);
  }

  /**
   * Stops the cell that runs: what is awaited through `stoppable` at once, a loop a moment later. What cannot be stopped runs on.
   *
   * In this order, for Deno's own interrupt ends whatever runs next: where the cell awaits, the code that would stop it.
   */
  async interrupt(): Promise<void> {
    const cell = this.#cell;
    await this.process.tell(`${cell}\n`);
    if (await this.#isHeard() || this.#cell !== cell) return;
    const message = request("interrupt_request", {}, this.#session);
    await this.control.send(await pack(message, this.key)).catch(() => {});
    if (await this.#isHeard() || this.#cell !== cell) return;
    // the cell may have ended by itself meanwhile, and the interrupt then met what stands behind it
    if (this.#behind !== undefined) await this.#send(this.#behind);
  }

  /** Waits a while for the kernel's word that it heard of Stop, or for the cell's end. */
  async #isHeard(): Promise<boolean> {
    const cell = this.#cell, patience = new Patience(HEAR_MS, undefined, HEAR_SLOWEST);
    while (this.#stopHeard !== cell && this.#cell === cell && patience.left() > 0) await sleep(20);
    return this.#stopHeard === cell;
  }

  /**
   * Asks the kernel what is no cell: what it is, how a word could go on.
   *
   * @returns the content of its answer; undefined where it ended before
   */
  async ask(
    type: string,
    content: Record<string, unknown>,
  ): Promise<Message["content"] | undefined> {
    const message = request(type, content, this.#session);
    const { promise, resolve } = Promise.withResolvers<Message["content"]>();
    const before = this.#replied;
    this.#replied = (answer) => {
      if (answer.parent.msg_id === message.header.msg_id) resolve(answer.content);
      else before(answer);
    };
    await this.#send(message);
    return await Promise.race([promise, this.process.died.then(() => undefined)]);
  }

  async #turn({ code, cell, imports }: Job, limitMs: number, listener?: Listener): Promise<Turn> {
    const mark = `barrier-${crypto.randomUUID()}`;
    this.#cell = cell;
    const own = this.#execute(code, cell > 0, listener?.ask !== undefined);
    const behind = this.#execute(barrier(mark, cell, imports), false);
    const watch = new Watch(mark, own.header.msg_id, listener);
    this.#behind = behind;
    this.#heard = (message) => {
      if (Object.hasOwn(Object(message.content["data"]), HEARD)) this.#stopHeard = cell;
      else watch.hear(message);
    };
    this.#replied = (message) => watch.answer(message);
    this.#asked = (question) => void this.#answer(question, listener);
    watch.replied.then(() => this.#send(behind));
    await this.#send(own);
    const ended = await this.#await(watch, behind, limitMs);
    this.#cell = 0;
    const exitCode = ended === "died" ? await this.process.died : undefined;
    const noted = ended === "done" ? undefined : await this.#noted(cell);
    const line = watch.report?.line ?? noted?.line;
    return {
      ended,
      messages: watch.messages,
      ...(watch.reply && { reply: watch.reply }),
      ...(watch.report && { report: watch.report }),
      ...(line ? { line } : {}),
      ...(noted?.fault && { fault: noted.fault }),
      ...(exitCode !== undefined && { exitCode }),
    };
  }

  /** Hands a question of the cell's on, and its answer back. */
  async #answer(question: Message, listener?: Listener): Promise<void> {
    const value = await listener?.ask?.(question) ?? "";
    const { header, ...rest } = request("input_reply", { status: "ok", value }, this.#session);
    const reply = { ...rest, header, parent: question.header };
    await this.stdin.send(await pack(reply, this.key)).catch(() => {});
  }

  #execute(code: string, counted: boolean, mayAsk = false): Message {
    return request("execute_request", {
      code,
      silent: false,
      store_history: counted,
      user_expressions: {},
      allow_stdin: mayAsk,
      stop_on_error: false,
    }, this.#session);
  }

  /** Sends a request on the shell channel; to a kernel that is gone it is sent in vain. */
  async #send(message: Message): Promise<void> {
    await this.shell.send(await pack(message, this.key)).catch(() => {});
  }

  /** Waits for a cell's end; one that overruns is interrupted, given a last chance to show what it does, and killed. */
  async #await(watch: Watch, behind: Message, limitMs: number): Promise<Turn["ended"]> {
    const patience = new Patience(limitMs, undefined, CELL_SLOWEST);
    const first = await this.#race(watch.complete, (stop) => patience.over(stop));
    if (first !== "late") return first;
    const heard = watch.messages.length;
    const interrupt = request("interrupt_request", {}, this.#session);
    await this.control.send(await pack(interrupt, this.key)).catch(() => {});
    await this.#send(behind);
    const chance = (signal: AbortSignal): Promise<void> =>
      sleep(INTERRUPT_MS, undefined, { signal });
    const second = await this.#race(watch.complete, chance);
    this.process.kill();
    if (second === "died") return "died";
    return second === "done" || watch.messages.length > heard ? "loop" : "wait";
  }

  /** What comes first: all of it, the kernel's death, or the end of a time that stops being counted at its signal. */
  async #race(
    done: Promise<void>,
    time: (stop: AbortSignal) => Promise<void>,
  ): Promise<"done" | "died" | "late"> {
    const stop = new AbortController();
    const over = time(stop.signal).catch(() => {});
    const late = over.then(() => "late" as const);
    const died = this.process.died.then(() => "died" as const);
    try {
      return await Promise.race([done.then(() => "done" as const), died, late]);
    } finally {
      stop.abort();
    }
  }

  /** What the kernel noted in its file for this cell: the line reached, and an error that nothing caught. */
  async #noted(cell: number): Promise<{ line?: number; fault?: string }> {
    const text = await Deno.readTextFile(this.process.lineFile).catch(() => "");
    const fault = text.slice(16).trim();
    const begun = Number(text.slice(0, 8)) === cell;
    return { ...(begun && { line: Number(text.slice(8, 16)) }), ...(fault !== "" && { fault }) };
  }

  /** Ends the kernel at once, in the middle of whatever it does. */
  kill(): void {
    this.process.kill();
  }

  /** Ends the kernel, which has nothing left to save once its cells are done, and removes what it left. */
  async stop(): Promise<void> {
    if (this.#ended) return;
    this.#ended = true;
    this.process.kill();
    await this.process.dispose();
    for (const socket of [this.shell, this.iopub, this.control, this.stdin]) socket.close();
  }
}

/** A barrier that was asked for twice. */
const STALE = /[ \t]*barrier-[0-9a-f-]{36}\n?/g;

/** Sorts what is heard during one cell: the cell's own messages, its reply, and the barrier's mark on each way out. */
class Watch {
  readonly messages: Message[] = [];
  reply?: Reply;
  report?: BarrierReport;
  readonly #replied = Promise.withResolvers<void>();
  readonly #complete = Promise.withResolvers<void>();
  readonly #open = new Set(["stdout", "stderr", "report"]);

  constructor(
    private readonly mark: string,
    private readonly id: string,
    private readonly listener?: Listener,
  ) {}

  /** settles when the kernel has replied to the cell: from then on the barrier may be sent */
  get replied(): Promise<void> {
    return this.#replied.promise;
  }

  /** settles when the barrier has come back on every way: nothing of the cell is still on its way */
  get complete(): Promise<void> {
    return this.#complete.promise;
  }

  answer(message: Message): void {
    if (message.parent.msg_id !== this.id) return;
    this.reply = message.content as unknown as Reply;
    this.#replied.resolve();
  }

  hear(message: Message): void {
    const { msg_type: type } = message.header;
    const report = (message.content["data"] as Record<string, unknown> | undefined)?.[REPORT];
    if (report !== undefined) {
      if ((report as BarrierReport).mark !== this.mark) return;
      this.report = report as BarrierReport;
      this.#open.delete("report");
    } else if (type === "stream") {
      this.#hearStream(message);
    } else if (type !== "status" && type !== "execute_input") {
      this.#keep(message);
    }
    if (this.#open.size === 0) this.#complete.resolve();
  }

  #hearStream(message: Message): void {
    const name = String(message.content["name"]);
    if (!this.#open.has(name)) return;
    const text = String(message.content["text"]);
    const at = text.indexOf(this.mark);
    if (at >= 0) this.#open.delete(name);
    const own = (at >= 0 ? text.slice(0, at).replace(/[ \t]+$/, "") : text).replace(STALE, "");
    if (own !== "") this.#keep({ ...message, content: { name, text: own } });
  }

  #keep(message: Message): void {
    this.messages.push(message);
    this.listener?.hear(message);
  }
}

// Starting the kernel's process, knowing when it has died, and leaving nothing behind.

/** The kernel's five channels, as Jupyter names them. */
export interface Ports {
  readonly shell: number;
  readonly iopub: number;
  readonly stdin: number;
  readonly control: number;
  readonly hb: number;
}

/** A running kernel process. */
export interface KernelProcess {
  readonly ports: Ports;
  readonly pid: number;
  /** the secret with which both ends sign */
  readonly key: string;
  /** a file in which the kernel notes the cell and line it has reached */
  readonly lineFile: string;
  /** settles when the process has ended, with its exit code */
  readonly died: Promise<number>;
  /** the last few lines the process wrote to its standard error */
  stderrTail(): string;
  /** A line on the process's standard input. */
  tell(line: string): Promise<void>;
  /** Ends the process at once. */
  kill(): void;
  /** Waits for the process's end and removes what it left. */
  dispose(): Promise<void>;
}

/** What every Deno kernel says as it starts; no news. */
const GREETING = /^Warning "deno jupyter" is unstable.*\n/m;

/** How the kernel is to be started. */
export interface LaunchOptions {
  readonly cwd: string;
  /** added to this process's environment */
  readonly env?: Readonly<Record<string, string>>;
}

/**
 * Starts `deno jupyter --kernel` on free ports of this machine, with a guard that ends it if this process goes first.
 *
 * @throws {Error} where the folder to work in does not exist
 */
export async function launch({ cwd, env = {} }: LaunchOptions): Promise<KernelProcess> {
  if (!await Deno.stat(cwd).then(({ isDirectory }) => isDirectory, () => false)) {
    throw new Error(`the kernel requires a folder to work in, got ${cwd}, which is none`);
  }
  const folder = await tempFolder("kernel");
  const connectionFile = join(folder, "connection.json");
  const lineFile = join(folder, "line");
  const key = crypto.randomUUID();
  await Deno.writeTextFile(lineFile, "");
  const ports = freePorts();
  await Deno.writeTextFile(connectionFile, connection(ports, key), { mode: 0o600 });
  const child = new Deno.Command(Deno.execPath(), {
    args: ["jupyter", "--kernel", "--conn", connectionFile],
    cwd,
    env: { NO_COLOR: "1", ...env },
    stdin: "piped",
    stdout: "null",
    stderr: "piped",
  }).spawn();
  return watchOver(child, { ports, key, lineFile }, folder);
}

function watchOver(
  child: Deno.ChildProcess,
  { ports, key, lineFile }: Pick<KernelProcess, "ports" | "key" | "lineFile">,
  folder: string,
): KernelProcess {
  const guard = setGuard(child.pid, folder);
  const words = listen(child.stderr), lines = child.stdin.getWriter();
  const died = child.status.then(({ code }) => code);
  return {
    ports,
    pid: child.pid,
    key,
    lineFile,
    died,
    stderrTail: () => words.text.replace(GREETING, "").trim(),
    tell: (line) => lines.write(encoder.encode(line)).catch(() => {}),
    kill: () => {
      try {
        child.kill("SIGKILL");
      } catch { /* gone already */ }
    },
    dispose: async () => {
      await died;
      await lines.abort().catch(() => {});
      await words.ended;
      await guard.release();
      await Deno.remove(folder, { recursive: true }).catch(() => {});
    },
  };
}

/** @throws {Error} where this machine does not reach itself: no kernel would ever be heard, however long it is waited for */
async function reachSelf(): Promise<void> {
  try {
    using listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
    const met = listener.accept().then((connection) => connection.close(), () => {});
    (await Deno.connect({ hostname: "127.0.0.1", port: listener.addr.port })).close();
    await met;
  } catch (error) {
    const why = (error as Error).message;
    throw new Error(
      `a kernel is spoken to at 127.0.0.1, where this machine does not reach itself (${why}); switch its loopback on`,
    );
  }
}

/** Five ports that nobody listens on just now. */
function freePorts(): Ports {
  const listeners = Array.from(
    { length: 5 },
    () => Deno.listen({ hostname: "127.0.0.1", port: 0 }),
  );
  const [shell = 0, iopub = 0, stdin = 0, control = 0, hb = 0] = listeners.map((listener) =>
    listener.addr.port
  );
  for (const listener of listeners) listener.close();
  return { shell, iopub, stdin, control, hb };
}

function connection(ports: Ports, key: string): string {
  const channels = Object.entries(ports).map(([name, port]) => [`${name}_port`, port]);
  return JSON.stringify({
    ...Object.fromEntries(channels),
    ip: "127.0.0.1",
    transport: "tcp",
    key,
    signature_scheme: "hmac-sha256",
  });
}

/** Reads a stream to its end, keeping the last 4 kB. */
function listen(stream: ReadableStream<Uint8Array>): { text: string; ended: Promise<void> } {
  const words = { text: "", ended: Promise.resolve() };
  words.ended = (async (): Promise<void> => {
    const decoder = new TextDecoder();
    for await (const piece of stream) {
      words.text = (words.text + decoder.decode(piece, { stream: true })).slice(-4096);
    }
  })().catch(() => {});
  return words;
}

// * Jupyter's messages: five JSON parts behind a delimiter, signed so that only the two ends that share a key are heard.
// * Source: "Messaging in Jupyter", jupyter-client 7.4 documentation, section "The wire protocol"; held by Debian's kernels and clients in the tests.

const DELIMITER = "<IDS|MSG>";
const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** What stands at the head of every message. */
export interface Header {
  readonly msg_id: string;
  readonly msg_type: string;
  readonly session: string;
  readonly username: string;
  readonly date: string;
  readonly version: string;
}

/** One message, as sent or as received. */
export interface Message {
  readonly header: Header;
  /** the header of the request it answers; empty where it answers none */
  readonly parent: Partial<Header>;
  readonly metadata: Record<string, unknown>;
  readonly content: Record<string, unknown>;
}

/** The key that both ends share, ready for signing with HMAC-SHA256. */
export function signingKey(secret: string): Promise<CryptoKey> {
  const algorithm = { name: "HMAC", hash: "SHA-256" };
  return crypto.subtle.importKey("raw", encoder.encode(secret), algorithm, false, ["sign"]);
}

/**
 * A request with a fresh id.
 *
 * @param type     e.g. "execute_request"
 * @param content  what that type asks for
 * @param session  the client's session id
 */
export function request(
  type: string,
  content: Record<string, unknown>,
  session: string,
): Message {
  const header = {
    msg_id: crypto.randomUUID(),
    msg_type: type,
    session,
    username: "first-mirror",
    date: new Date().toISOString(),
    version: "5.3",
  };
  return { header, parent: {}, metadata: {}, content };
}

/**
 * The message as frames: delimiter, signature, header, parent, metadata, content.
 *
 * @example what was packed is what is unpacked
 * ```ts
 * import assert from "node:assert/strict";
 * const key = await signingKey("secret");
 * const message = request("kernel_info_request", {}, "s1");
 * assert.deepEqual(await unpack(await pack(message, key), key), message);
 * ```
 */
export async function pack(message: Message, key: CryptoKey): Promise<Uint8Array[]> {
  const parts = [message.header, message.parent, message.metadata, message.content]
    .map((part) => encoder.encode(JSON.stringify(part)));
  return [encoder.encode(DELIMITER), encoder.encode(await sign(parts, key)), ...parts];
}

/**
 * The message that frames hold, whatever addresses stand before the delimiter.
 *
 * @throws {Error} where the delimiter or a part is missing, or the signature is another's
 */
export async function unpack(frames: readonly Uint8Array[], key: CryptoKey): Promise<Message> {
  const at = frames.findIndex((f) =>
    f.length === DELIMITER.length && decoder.decode(f) === DELIMITER
  );
  const parts = frames.slice(at + 2, at + 6);
  const signature = frames[at + 1];
  if (at < 0 || signature === undefined || parts.length < 4) {
    throw new Error(
      `unpack requires a delimiter, a signature and 4 parts, got ${frames.length} frames`,
    );
  }
  if (decoder.decode(signature) !== await sign(parts, key)) {
    throw new Error("unpack requires a message signed with the shared key, got another signature");
  }
  const [header, parent, metadata, content] = parts.map((part) => JSON.parse(decoder.decode(part)));
  return { header, parent, metadata, content };
}

async function sign(parts: readonly Uint8Array[], key: CryptoKey): Promise<string> {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  const bytes = new Uint8Array(await crypto.subtle.sign("HMAC", key, whole));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

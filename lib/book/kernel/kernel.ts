/** The real Deno kernel, driven so that no output is lost and none lands under another cell. */
import { setTimeout as sleep } from "node:timers/promises";
import type { CellImport } from "./imports.ts";
import { type Message, pack, request, signingKey, unpack } from "./message.ts";
import { Patience } from "./patience.ts";
import { barrier, type BarrierReport, prelude, REPORT } from "./prelude.ts";
import { type KernelProcess, launch, type LaunchOptions } from "./process.ts";
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

/** One kernel, from its start to its end. Cells run one after the other. */
export class Kernel {
  #heard: (message: Message) => void = () => {};
  #replied: (message: Message) => void = () => {};
  readonly #session = crypto.randomUUID();
  #ended = false;

  private constructor(
    private readonly process: KernelProcess,
    private readonly key: CryptoKey,
    private readonly shell: ZmtpSocket,
    private readonly iopub: ZmtpSocket,
    private readonly control: ZmtpSocket,
  ) {}

  /**
   * Starts a kernel and waits until it answers. A port taken by somebody else in the meantime costs a second attempt.
   *
   * @throws {Error} where three attempts fail, with the process's last words
   */
  static async start(options: LaunchOptions): Promise<Kernel> {
    let failure: unknown;
    for (let attempt = 0; attempt < 3; attempt++) {
      const process = await launch(options);
      try {
        return await Kernel.#connect(process);
      } catch (error) {
        failure = error;
        process.kill();
        await process.bury();
      }
    }
    throw failure;
  }

  static async #connect(process: KernelProcess): Promise<Kernel> {
    const patience = new Patience(START_MS);
    let dead = false;
    process.died.then(() => dead = true);
    const knock = async (port: number, type: "DEALER" | "SUB"): Promise<ZmtpSocket> => {
      while (!dead && patience.left() > 0) {
        try {
          return await ZmtpSocket.connect(port, type);
        } catch {
          await sleep(10);
        }
      }
      throw new Error(`the kernel did not come up: ${process.lastWords() || "it said nothing"}`);
    };
    const key = await signingKey(process.key);
    const iopub = await knock(process.ports.iopub, "SUB");
    const shell = await knock(process.ports.shell, "DEALER");
    const control = await knock(process.ports.control, "DEALER");
    const kernel = new Kernel(process, key, shell, iopub, control);
    kernel.#listen(iopub, (message) => kernel.#heard(message));
    kernel.#listen(shell, (message) => kernel.#replied(message));
    kernel.#listen(control, () => {});
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
  get lastWords(): string {
    return this.process.lastWords();
  }

  /**
   * Runs a cell and waits for everything it says.
   *
   * A second request stands behind it as a barrier: what arrives before the barrier's mark is the cell's, on all ways out,
   * whatever the kernel says about being idle.
   *
   * @param job      the cell
   * @param limitMs  time it may take, as `Patience` counts it; beyond it the kernel is interrupted, looked at and killed
   */
  run(job: Job, limitMs: number): Promise<Turn> {
    return this.#turn(job, limitMs);
  }

  async #turn({ code, cell, imports }: Job, limitMs: number): Promise<Turn> {
    const mark = `barrier-${crypto.randomUUID()}`;
    const own = this.#execute(code, cell > 0);
    const behind = this.#execute(barrier(mark, cell, imports), false);
    const watch = new Watch(mark, own.header.msg_id);
    this.#heard = (message) => watch.hear(message);
    this.#replied = (message) => watch.answer(message);
    watch.replied.then(() => this.#send(behind));
    await this.#send(own);
    const ended = await this.#await(watch, behind, limitMs);
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

  #execute(code: string, counted: boolean): Message {
    return request("execute_request", {
      code,
      silent: false,
      store_history: counted,
      user_expressions: {},
      allow_stdin: false,
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
    await this.process.bury();
    for (const socket of [this.shell, this.iopub, this.control]) socket.close();
  }
}

/** Sorts what is heard during one cell: the cell's own messages, its reply, and the barrier's mark on each way out. */
class Watch {
  readonly messages: Message[] = [];
  reply?: Reply;
  report?: BarrierReport;
  readonly #replied = Promise.withResolvers<void>();
  readonly #complete = Promise.withResolvers<void>();
  readonly #open = new Set(["stdout", "stderr", "report"]);

  constructor(private readonly mark: string, private readonly id: string) {}

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
      this.messages.push(message);
    }
    if (this.#open.size === 0) this.#complete.resolve();
  }

  #hearStream(message: Message): void {
    const name = String(message.content["name"]);
    if (!this.#open.has(name)) return;
    const text = String(message.content["text"]);
    const at = text.indexOf(this.mark);
    if (at >= 0) this.#open.delete(name);
    const own = at >= 0 ? text.slice(0, at).replace(/[ \t]+$/, "") : text;
    if (own !== "") this.messages.push({ ...message, content: { name, text: own } });
  }
}

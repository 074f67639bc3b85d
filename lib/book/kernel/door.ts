/**
 * What stands between Jupyter and Deno's kernel: to Jupyter it is a kernel, and cells run behind it as a book's do.
 *
 * Deno's own says nothing of a cell that it cannot read, takes a decimal comma for code, stops no `await`, goes on with the
 * cells behind one that failed, and may give a cell's output after it has called itself idle, when a front end listens no
 * more. Here a cell ends when all of it has come back, and what stops it is told in the pages' own sentences.
 *
 * Run as a program: `deno run -A door.ts CONNECTION_FILE`, as `kernelspec.ts` writes it for Jupyter.
 *
 * Source: "Messaging in Jupyter", jupyter-client 7.4 documentation; held by Debian's clients in the tests.
 */
import type { Node } from "acorn";
import { parseCell, type ParsedCell, readCell } from "../../living/cellCode.ts";
import { CellRefused, refuseCommas, stoppedBy } from "../../living/cellErrors.ts";
import { stoppedByReader } from "../../living/cells.ts";
import { failureOfEnd, neverBegan, syntaxCause } from "../runner.ts";
import { fileURLToPath } from "node:url";
import { cellImports, HOOK, instrument } from "./instrument.ts";
import { Kernel, type Message, pack, request, signingKey, type Turn, unpack } from "./kernel.ts";
import { Patience } from "./patience.ts";
import { type SocketType, ZmtpSocket } from "./zmtp.ts";

const KIT = new URL("../../../", import.meta.url).href;

/** How long a stopped cell may take to stop before its kernel is ended, as `Patience` counts it. */
const STOP_MS = 2000;
/** On a busy machine it is given so many times as long at most. */
const STOP_SLOWEST = 4;
/** How often it is looked whether the one who started this is still there, ms. */
const LOOK_MS = 3000;
/** How long Deno's kernel may think about what is no cell. */
const ASK_MS = 5000;

type Channel = "shell" | "iopub" | "stdin" | "control" | "hb";

/** What Jupyter writes down for a kernel that it starts. */
export interface Connection {
  readonly ip: string;
  readonly transport: string;
  readonly key: string;
  readonly shell_port: number;
  readonly iopub_port: number;
  readonly stdin_port: number;
  readonly control_port: number;
  readonly hb_port: number;
}

/** Why a cell ended badly: a sentence, where in the cell, and frames of the reader's own files. */
interface Told {
  readonly says: string;
  readonly line?: number;
  readonly frames?: readonly string[];
}

/** One message and the connection on which the answer goes. */
interface Asked {
  readonly message: Message;
  readonly from: ZmtpSocket;
}

/**
 * The cell with each `await` of its outermost level made so that Stop reaches it; nothing else changes, and no line moves.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { parseCell } from "../../living/cellCode.ts";
 * assert.match(stoppable(parseCell("const a = await late(1);")), /^const a = await .*\.stoppable\(late\(1\)\);$/);
 * assert.equal(stoppable(parseCell("const f = async () => await 1;")), "const f = async () => await 1;");
 * ```
 */
export function stoppable({ text, program }: ParsedCell): string {
  const places: (readonly [at: number, what: string])[] = [];
  const visit = (node: Node): void => {
    if (/Function/.test(node.type)) return;
    if (node.type === "AwaitExpression") {
      const { start, end } = (node as Node & { readonly argument: Node }).argument;
      places.push([start, `${HOOK}.stoppable(`], [end, ")"]);
    }
    for (const value of Object.values(node)) {
      for (const one of Array.isArray(value) ? value : [value]) {
        if (typeof one === "object" && one !== null && typeof one.type === "string") visit(one);
      }
    }
  };
  visit(program);
  let out = "", from = 0;
  for (const [at, what] of places.toSorted(([a], [b]) => a - b)) {
    out += text.slice(from, at) + what;
    from = at;
  }
  return out + text.slice(from);
}

/** The kernel that Jupyter sees. */
export class Door {
  readonly #clients: Readonly<Record<Channel, Set<ZmtpSocket>>> = {
    shell: new Set(),
    iopub: new Set(),
    stdin: new Set(),
    control: new Set(),
    hb: new Set(),
  };
  readonly #session = crypto.randomUUID();
  readonly #listeners: Deno.TcpListener[] = [];
  readonly #over = Promise.withResolvers<void>();
  readonly #names = new Set<string>();
  #saying: Promise<void> = Promise.resolve();
  readonly #ahead = new Map<string, number>();
  #queue: Asked[] = [];
  #letGoAt = -Infinity;
  #isWorking = false;
  #running: { isStopped: boolean; readonly end: AbortController } | undefined;
  #answered: (value: string) => void = () => {};
  #count = 0;
  #turns = 0;
  #kernel: Promise<Kernel>;
  #about: Promise<Message["content"] | undefined>;

  private constructor(private readonly cwd: string, private readonly key: CryptoKey) {
    this.#kernel = Kernel.start({ cwd });
    this.#about = this.#kernel.then((kernel) => kernel.ask("kernel_info_request", {}));
  }

  /**
   * Opens the five ways in, and starts Deno's kernel behind them.
   *
   * @param connection  what Jupyter wrote down
   * @param cwd         the folder in which cells work
   */
  static async open(connection: Connection, cwd: string): Promise<Door> {
    const { ip, transport, key } = connection;
    if (transport !== "tcp") throw new Error(`the kernel is reached by tcp, not by ${transport}`);
    const door = new Door(cwd, await signingKey(key));
    const listen = (
      channel: Channel,
      type: SocketType,
      hand: (frames: Uint8Array[], from: ZmtpSocket) => unknown,
    ): void => {
      const listener = Deno.listen({ hostname: ip, port: connection[`${channel}_port`] });
      door.#listeners.push(listener);
      void door.#welcome(listener, channel, type, hand);
    };
    const read =
      (then: (asked: Asked) => void) =>
      async (frames: Uint8Array[], from: ZmtpSocket): Promise<void> => {
        const message = await unpack(frames, door.key).catch(() => undefined);
        if (message !== undefined) then({ message, from });
      };
    listen("hb", "REP", (frames, from) => from.send(frames).catch(() => {}));
    listen("iopub", "PUB", () => {});
    listen(
      "stdin",
      "ROUTER",
      read(({ message }) => door.#answered(String(message.content["value"]))),
    );
    listen("control", "ROUTER", read((asked) => void door.#steer(asked)));
    listen("shell", "ROUTER", read((asked) => door.#take(asked)));
    return door;
  }

  /** Settles when Jupyter has asked it to end, and it has. */
  get over(): Promise<void> {
    return this.#over.promise;
  }

  async #welcome(
    listener: Deno.TcpListener,
    channel: Channel,
    type: SocketType,
    hand: (frames: Uint8Array[], from: ZmtpSocket) => unknown,
  ): Promise<void> {
    const serve = async (connection: Deno.TcpConn): Promise<void> => {
      const socket = await ZmtpSocket.accept(connection, type).catch(() => undefined);
      if (socket === undefined) return;
      this.#clients[channel].add(socket);
      for (let frames; (frames = await socket.receive()) !== undefined;) await hand(frames, socket);
      this.#clients[channel].delete(socket);
      socket.close();
    };
    try {
      for await (const connection of listener) void serve(connection);
    } catch { /* closed */ }
  }

  // What is said: in the order in which it was begun, whatever signing takes.

  #say(to: Iterable<ZmtpSocket>, type: string, content: Message["content"], parent: Message): void {
    const message = { ...request(type, content, this.#session), parent: parent.header };
    const sockets = [...to];
    this.#saying = this.#saying.then(async () => {
      const frames = await pack(message, this.key);
      for (const socket of sockets) void socket.send(frames).catch(() => {});
    });
  }

  #publish(type: string, content: Message["content"], parent: Message): void {
    this.#say(this.#clients.iopub, type, content, parent);
  }

  /** Answers a request between `busy` and `idle`, as every kernel does. */
  async #during(
    { message, from }: Asked,
    answer: () => Promise<Message["content"]>,
  ): Promise<void> {
    this.#publish("status", { execution_state: "busy" }, message);
    const content = await answer();
    this.#say([from], message.header.msg_type.replace("_request", "_reply"), content, message);
    this.#publish("status", { execution_state: "idle" }, message);
  }

  // What is asked.

  #take(asked: Asked): void {
    const { msg_type: type } = asked.message.header;
    if (type === "kernel_info_request") {
      void this.#during(asked, async () => await this.#about ?? { status: "error" });
    } else if (type === "execute_request" && this.#sent(asked.message) < this.#letGoAt) {
      this.#abort(asked);
    } else if (type.endsWith("_request")) {
      this.#queue.push(asked);
      void this.#work();
    }
  }

  /**
   * When a front end sent a message, by this machine's clock in ms; its own may differ, and its quickest message tells by
   * how much at most. NaN where it does not say.
   */
  #sent({ header: { session, date } }: Message): number {
    const said = Date.parse(date);
    if (Number.isNaN(said)) return said;
    const ahead = Math.min(Date.now() - said, this.#ahead.get(session) ?? Infinity);
    this.#ahead.set(session, ahead);
    return said + ahead;
  }

  async #work(): Promise<void> {
    if (this.#isWorking) return;
    this.#isWorking = true;
    for (let asked; (asked = this.#queue.shift()) !== undefined;) {
      const { message, from } = asked;
      const isCell = message.header.msg_type === "execute_request";
      await this.#during(
        asked,
        () => isCell ? this.#execute(message, from) : this.#pass(message),
      );
    }
    this.#isWorking = false;
  }

  async #pass({ header, content }: Message): Promise<Message["content"]> {
    const kernel = await this.#kernel;
    const late = new Promise<undefined>((done) => setTimeout(() => done(undefined), ASK_MS));
    return await Promise.race([kernel.ask(header.msg_type, content), late]) ?? { status: "error" };
  }

  async #steer(asked: Asked): Promise<void> {
    const { header, content } = asked.message;
    if (header.msg_type === "interrupt_request") {
      await this.#during(asked, async () => {
        await this.#stop(this.#sent(asked.message) || Date.now());
        return { status: "ok" };
      });
    } else if (header.msg_type === "shutdown_request") {
      const answer = { status: "ok", restart: content["restart"] === true };
      this.#publish("shutdown_reply", answer, asked.message);
      await this.#during(asked, () => Promise.resolve(answer));
      await this.close();
    } else if (header.msg_type === "kernel_info_request") {
      await this.#during(asked, async () => await this.#about ?? { status: "error" });
    }
  }

  /** Ends the kernel and shuts the ways in. */
  async close(): Promise<void> {
    for (const listener of this.#listeners) listener.close();
    await this.#kernel.then((kernel) => kernel.stop(), () => {});
    await this.#saying;
    for (const socket of Object.values(this.#clients).flatMap((all) => [...all])) {
      await socket.sent();
      socket.close();
    }
    this.#over.resolve();
  }

  /** Stops the cell that runs, and lets go those that were asked before. */
  async #stop(at: number): Promise<void> {
    const running = this.#running;
    if (running === undefined) return;
    running.isStopped = true;
    this.#letGo(at);
    this.#answered("");
    const kernel = await this.#kernel;
    await kernel.interrupt();
    void new Patience(STOP_MS, undefined, STOP_SLOWEST).over(running.end.signal).then(() => {
      if (!running.end.signal.aborted) kernel.kill();
    });
  }

  /** Tells the cells that were sent before `at` that they are not run: those that wait, and those still on their way. */
  #letGo(at: number): void {
    this.#letGoAt = Math.max(this.#letGoAt, at);
    const cells = this.#queue.filter(({ message }) =>
      message.header.msg_type === "execute_request" && !(this.#sent(message) >= this.#letGoAt)
    );
    this.#queue = this.#queue.filter((asked) => !cells.includes(asked));
    for (const asked of cells) this.#abort(asked);
  }

  #abort(asked: Asked): void {
    void this.#during(asked, () => Promise.resolve({ status: "aborted" }));
  }

  // Cells.

  async #execute(asked: Message, from: ZmtpSocket): Promise<Message["content"]> {
    const { content } = asked;
    const code = String(content["code"]), isSilent = content["silent"] === true;
    if (!isSilent && content["store_history"] !== false) this.#count++;
    const execution_count = this.#count;
    if (!isSilent) this.#publish("execute_input", { code, execution_count }, asked);
    const running = this.#running = { isStopped: false, end: new AbortController() };
    const told = code.trim() === "" ? undefined : await this.#run(asked, from, code, isSilent)
      .catch((fault: Error): Told => ({ says: `the kernel cannot go on: ${fault.message}` }));
    running.end.abort();
    this.#running = undefined;
    if (told === undefined) {
      return { status: "ok", execution_count, payload: [], user_expressions: {} };
    }
    const { says, line, frames = [] } = told;
    const ename = line === undefined ? "Error" : `Line ${line}`;
    const first = line === undefined ? says.charAt(0).toUpperCase() + says.slice(1) : says;
    const whole = line === undefined ? first : `${ename}: ${says}`;
    const error = { ename, evalue: first, traceback: [whole, ...frames] };
    if (!isSilent) this.#publish("error", error, asked);
    // what waited when the reader stopped it has been let go then; what she has asked since is to be run
    if (content["stop_on_error"] !== false && !running.isStopped) this.#letGo(Date.now());
    return { status: "error", execution_count, ...error };
  }

  /** Runs a cell. @returns why it ended badly; nothing where it ended well */
  async #run(
    asked: Message,
    from: ZmtpSocket,
    source: string,
    isSilent: boolean,
  ): Promise<Told | undefined> {
    const cell = ++this.#turns, running = this.#running;
    let parsed: ParsedCell | undefined, refused: CellRefused | undefined;
    try {
      parsed = parseCell(source);
      refuseCommas(parsed.text, parsed.program);
    } catch (fault) {
      if (!(fault instanceof CellRefused)) throw fault;
      // it can be read, and is not what was meant; where it cannot, the kernel may still read more than pages do
      if (parsed !== undefined) return { says: fault.message, ...lineOf(fault) };
      refused = fault;
    }
    const code = parsed !== undefined && source.includes("await") ? stoppable(parsed) : source;
    const kernel = await this.#kernel;
    const errors: Message["content"][] = [];
    const listener = {
      hear: ({ header: { msg_type: type }, content }: Message): void => {
        if (type === "error") errors.push(content);
        else if (!isSilent) this.#handOn(type, content, asked);
      },
      ...(asked.content["allow_stdin"] === true && {
        ask: ({ content }: Message) => this.#ask(content, asked, from),
      }),
    };
    const job = { cell, imports: cellImports(source) };
    let turn = await kernel.run({ ...job, code: instrument(code, cell) }, Infinity, listener);
    if (neverBegan(turn) && running?.isStopped !== true) {
      errors.length = 0;
      turn = await kernel.run({ ...job, code }, Infinity, listener);
    }
    if (turn.ended !== "done") return await this.#reborn(turn, source, running?.isStopped === true);
    this.#note(turn, asked, isSilent);
    if (running?.isStopped === true && (errors.length > 0 || turn.reply?.status === "error")) {
      return { says: stoppedByReader(turn.line) };
    }
    const [error] = errors;
    if (error === undefined && turn.reply?.status !== "error") {
      this.#learn(source);
      return undefined;
    }
    if (neverBegan(turn)) return await unread(source, refused, turn);
    // a promise that nobody holds any more is swept away, and the kernel then says no more than that it failed
    if (error === undefined) {
      return { says: "the cell waits for what never comes.", ...lineOf(turn) };
    }
    return await this.#thrown(error, turn.line);
  }

  /** Hands on what a cell gives; a result in which nothing stands would be an empty row. */
  #handOn(type: string, content: Message["content"], asked: Message): void {
    if (type !== "execute_result") this.#publish(type, content, asked);
    else if (Object.keys(content["data"] ?? {}).length > 0) {
      this.#publish(type, { ...content, execution_count: this.#count }, asked);
    }
  }

  #ask(content: Message["content"], asked: Message, from: ZmtpSocket): Promise<string> {
    const all = [...this.#clients.stdin];
    const own = all.filter(({ identity }) => identity === from.identity);
    const { promise, resolve } = Promise.withResolvers<string>();
    this.#answered = resolve;
    this.#say(own.length > 0 ? own : all, "input_request", content, asked);
    return promise;
  }

  /** What the kernel knows of the cell beyond its outputs: a value that it cannot show, faults that nobody caught. */
  #note({ report }: Turn, asked: Message, isSilent: boolean): void {
    if (report === undefined || isSilent) return;
    if (report.unshown !== undefined && report.unshown !== "a bigint") {
      const data = { "text/plain": report.unshown };
      const execution_count = this.#count;
      this.#publish("execute_result", { data, metadata: {}, execution_count }, asked);
    }
    const lines = [
      ...report.missing.map(({ specifier, name, line }) =>
        `Line ${line}: "${specifier}" has no value named ${name}; a type wants import type.`
      ),
      ...report.faults.map(({ name, message }) =>
        `An error that nothing caught, in a timer or a promise not awaited: ${name}: ${message}`
      ),
    ];
    if (lines.length > 0) {
      this.#publish("stream", { name: "stderr", text: `${lines.join("\n")}\n` }, asked);
    }
  }

  /** Keeps the names that a cell gives, for one who mistypes them. */
  #learn(source: string): void {
    try {
      const { declares, imports } = readCell(source);
      for (const name of [...declares.keys(), ...imports.keys()]) this.#names.add(name);
    } catch { /* more than pages read */ }
  }

  async #thrown(error: Message["content"], line: number | undefined): Promise<Told> {
    const { ename, evalue } = error;
    const traceback = Array.isArray(error["traceback"]) ? error["traceback"].map(String) : [];
    const message = String(evalue).split(/\n\s+at /)[0] ?? "";
    const isError = traceback.some((text) => text !== "");
    const isNameless = /is not defined|before initialization/.test(message);
    const told = stoppedBy(isError ? { name: String(ename), message } : message, {
      line,
      names: [...this.#names],
      ...(isNameless && { library: await libraryNames() }),
    });
    const frames = traceback.flatMap((text) => text.split("\n"))
      .filter((text) => /^\s+at .*file:/.test(text) && !text.includes(KIT));
    return { says: told.message, ...lineOf(told), frames };
  }

  /** A kernel that is gone is started anew; all values are gone with it. */
  async #reborn(turn: Turn, source: string, isStopped: boolean): Promise<Told> {
    const gone = await this.#kernel;
    const place = { notebook: "", cell: 0, source };
    const why = isStopped
      ? "stopped by you, and it could not be stopped otherwise than by ending the kernel"
      : failureOfEnd(turn, place, 0, gone.stderrTail).message;
    await gone.stop();
    this.#names.clear();
    this.#kernel = Kernel.start({ cwd: this.cwd });
    this.#kernel.catch(() => {});
    const says = `${why}: the values of all cells are gone, run the notebook from its top.`;
    return { says, ...lineOf(turn) };
  }
}

const lineOf = ({ line }: { readonly line?: number | undefined }): { line?: number } =>
  line === undefined ? {} : { line };

/** Why the kernel could not read a cell. */
async function unread(source: string, refused: CellRefused | undefined, turn: Turn): Promise<Told> {
  if (refused !== undefined) return { says: refused.message, ...lineOf(refused) };
  const cause = await syntaxCause(source, fileURLToPath(new URL("deno.json", KIT)));
  const said = [turn.reply?.ename, turn.reply?.evalue].filter(Boolean).join(": ");
  return { says: cause?.message ?? `the cell could not be run: ${said}`, ...lineOf(cause ?? {}) };
}

/** Public names of the library with their modules, read when somebody first wants one. */
async function libraryNames(): Promise<ReadonlyMap<string, string>> {
  const { publicNames } = await import("../library.ts");
  const names = await publicNames();
  return new Map(Object.entries(names).map(([name, [module]]) => [name, module]));
}

if (import.meta.main) {
  const file = Deno.args[0];
  if (file === undefined) throw new Error("the kernel wants Jupyter's connection file");
  const door = await Door.open(JSON.parse(await Deno.readTextFile(file)), Deno.cwd());
  // whoever started it may be killed, and then nobody ends it; Windows tells nothing of that
  const starter = Deno.ppid;
  setInterval(() => Deno.ppid === starter || void door.close(), LOOK_MS);
  await door.over;
  Deno.exit(0);
}

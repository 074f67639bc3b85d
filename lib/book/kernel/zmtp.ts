/**
 * The part of ZMTP 3.0 that Jupyter's messages need: sockets of a client (DEALER, SUB) and of a kernel (ROUTER, PUB, REP)
 * over TCP, without encryption.
 *
 * A message is a list of frames. On the wire each frame is a flag byte (1: more frames follow, 2: the length takes
 * eight bytes instead of one, 4: a command of the protocol itself), its length, and its bytes.
 *
 * Source: ZMTP 3.0 (rfc.zeromq.org/spec/23), sections "Framing" and "The NULL security mechanism"; held by libzmq's kernels in the tests.
 */

const MORE = 1, LONG = 2, COMMAND = 4;
const text = new TextEncoder();
const SUBSCRIBE_ALL = new Uint8Array([1]);
const NO_SUBSCRIPTION = new Uint8Array([0, 0x2d]);

/** What kind of socket this end plays: DEALER for requests, SUB for the broadcast channel; the others are a kernel's ends of them. */
export type SocketType = "DEALER" | "SUB" | "ROUTER" | "PUB" | "REP";

/**
 * Puts one frame on the wire's form.
 *
 * @param body   the frame's bytes, any length
 * @param flags  1 where another frame of the same message follows, 4 for a command
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([...encodeFrame(new Uint8Array([7, 8]), 1)], [1, 2, 7, 8]);
 * ```
 */
export function encodeFrame(body: Uint8Array, flags = 0): Uint8Array {
  const long = body.length > 255;
  const head = new Uint8Array(long ? 9 : 2);
  head[0] = flags | (long ? LONG : 0);
  if (long) new DataView(head.buffer).setBigUint64(1, BigInt(body.length));
  else head[1] = body.length;
  return joinBytes([head, body]);
}

/**
 * Puts a whole message on the wire's form.
 *
 * @param frames  one frame or more, in order
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const wire = encodeMessage([new Uint8Array([1]), new Uint8Array([2])]);
 * assert.deepEqual([...wire], [1, 1, 1, 0, 1, 2]);
 * ```
 */
export function encodeMessage(frames: readonly Uint8Array[]): Uint8Array {
  return joinBytes(frames.map((frame, i) => encodeFrame(frame, i < frames.length - 1 ? MORE : 0)));
}

/** The 64 bytes with which both ends begin: signature, version 3.0, mechanism NULL, not a server. */
export function greeting(): Uint8Array {
  const bytes = new Uint8Array(64);
  bytes.set([0xff, 0, 0, 0, 0, 0, 0, 0, 1, 0x7f, 3, 0]);
  bytes.set(text.encode("NULL"), 12);
  return bytes;
}

/** The READY command that names the kind of socket this end plays, and the name by which a ROUTER knows it. */
export function readyCommand(type: SocketType, identity = ""): Uint8Array {
  const property = (name: string, value: string): Uint8Array => {
    const length = new Uint8Array(4);
    new DataView(length.buffer).setUint32(0, value.length);
    return joinBytes([
      new Uint8Array([name.length]),
      text.encode(name),
      length,
      text.encode(value),
    ]);
  };
  const name = joinBytes([new Uint8Array([5]), text.encode("READY")]);
  const properties = [property("Socket-Type", type), property("Identity", identity)];
  return encodeFrame(joinBytes([name, ...properties]), COMMAND);
}

/** The identity that a READY command names. */
function identityIn(body: Uint8Array): string {
  const plain = new TextDecoder("latin1").decode(body), at = plain.indexOf("\bIdentity");
  if (at < 0) return "";
  const length = new DataView(body.buffer, body.byteOffset + at + 9, 4).getUint32(0);
  return plain.slice(at + 13, at + 13 + length);
}

/** Bytes one after another in one array. */
export function joinBytes(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** Collects whatever pieces TCP delivers and gives them out in the lengths asked for. */
class ByteQueue {
  #pieces: Uint8Array[] = [];
  #held = 0;

  constructor(private readonly connection: Deno.Conn, private readonly onRead: () => void) {}

  /** The next `count` bytes, or undefined where the other end has closed first. */
  async take(count: number): Promise<Uint8Array | undefined> {
    while (this.#held < count) {
      const chunk = new Uint8Array(65536);
      const read = await this.connection.read(chunk).catch(() => null);
      if (read === null) return undefined;
      this.onRead();
      this.#pieces.push(chunk.subarray(0, read));
      this.#held += read;
    }
    const whole = this.#pieces.length === 1 ? this.#pieces[0] : joinBytes(this.#pieces);
    if (whole === undefined) return new Uint8Array(0);
    this.#pieces = whole.length > count ? [whole.subarray(count)] : [];
    this.#held -= count;
    return whole.subarray(0, count);
  }
}

/**
 * One connected socket. `receive` hands out whole messages in the order they came; commands are skipped.
 *
 * A broken connection reads as the end of the messages, never as an exception.
 */
export class ZmtpSocket {
  #subscribed = false;
  #identity = "";
  #sending: Promise<void> = Promise.resolve();
  readonly #bytes: ByteQueue;

  private constructor(private readonly connection: Deno.Conn) {
    this.#bytes = new ByteQueue(connection, () => this.#nudge());
  }

  /**
   * Connects to a port of this machine and shakes hands.
   *
   * @param port      TCP port on 127.0.0.1
   * @param type      DEALER, or SUB (which subscribes to everything)
   * @param identity  the name by which the other end knows this one
   * @throws {Error} where nothing listens there, or what listens does not speak ZMTP 3
   */
  static async connect(port: number, type: SocketType, identity = ""): Promise<ZmtpSocket> {
    const connection = await Deno.connect({ hostname: "127.0.0.1", port });
    return await ZmtpSocket.#over(connection, port, type, identity);
  }

  /**
   * Shakes hands with one that has connected to a port of ours.
   *
   * @throws {Error} where it does not speak ZMTP 3
   */
  static accept(connection: Deno.TcpConn, type: SocketType): Promise<ZmtpSocket> {
    return ZmtpSocket.#over(connection, connection.localAddr.port, type, "");
  }

  static async #over(
    connection: Deno.TcpConn,
    port: number,
    type: SocketType,
    identity: string,
  ): Promise<ZmtpSocket> {
    try {
      connection.setNoDelay(true);
      const socket = new ZmtpSocket(connection);
      await socket.#shakeHands(port, type, identity);
      return socket;
    } catch (error) {
      connection.close();
      throw error;
    }
  }

  /** The name that the other end goes by; empty where it has none. */
  get identity(): string {
    return this.#identity;
  }

  async #shakeHands(port: number, type: SocketType, identity: string): Promise<void> {
    await this.#write(joinBytes([greeting(), readyCommand(type, identity)]));
    const theirs = await this.#bytes.take(64);
    if (theirs === undefined || theirs[0] !== 0xff || (theirs[10] ?? 0) < 3) {
      throw new Error(`ZmtpSocket requires a ZMTP 3 peer, got something else on port ${port}`);
    }
    const ready = await this.#frame();
    if (ready === undefined || (ready.flags & COMMAND) === 0) {
      throw new Error(`ZmtpSocket requires a READY command, got none from port ${port}`);
    }
    this.#identity = identityIn(ready.body);
    if (type === "SUB") await this.send([SUBSCRIBE_ALL]);
    this.#subscribed = type === "SUB";
  }

  /** Sends one message; messages go out whole and in the order of the calls. */
  send(frames: readonly Uint8Array[]): Promise<void> {
    return this.#write(encodeMessage(frames));
  }

  /** Settles when all that was to be sent has gone out. */
  sent(): Promise<void> {
    return this.#sending.catch(() => {});
  }

  #write(wire: Uint8Array): Promise<void> {
    this.#sending = this.#sending.then(async () => {
      for (let at = 0; at < wire.length;) at += await this.connection.write(wire.subarray(at));
    });
    return this.#sending;
  }

  /** The next message, or undefined once the other end has closed. */
  async receive(): Promise<Uint8Array[] | undefined> {
    const frames: Uint8Array[] = [];
    for (;;) {
      const frame = await this.#frame();
      if (frame === undefined) return undefined;
      if (frame.flags & COMMAND) continue;
      frames.push(frame.body);
      if (!(frame.flags & MORE)) return frames;
    }
  }

  async #frame(): Promise<{ flags: number; body: Uint8Array } | undefined> {
    const flags = (await this.#bytes.take(1))?.[0];
    if (flags === undefined) return undefined;
    const size = await this.#bytes.take(flags & LONG ? 8 : 1);
    if (size === undefined) return undefined;
    const length = flags & LONG
      ? Number(new DataView(size.buffer, size.byteOffset, 8).getBigUint64(0))
      : size[0] ?? 0;
    const body = await this.#bytes.take(length);
    return body === undefined ? undefined : { flags, body };
  }

  /**
   * On the broadcast channel, answers what came with the cancelling of a subscription that never was. It means nothing
   * to the kernel, but it carries the acknowledgement for which the kernel's TCP holds back its next small packet;
   * otherwise that waits 40 ms for the timer of delayed acknowledgements, on almost every cell (measured on Linux).
   */
  #nudge(): void {
    if (this.#subscribed) this.send([NO_SUBSCRIPTION]).catch(() => {});
  }

  /** Closes the connection; a waiting `receive` ends with undefined. */
  close(): void {
    try {
      this.connection.close();
    } catch { /* closed already */ }
  }
}

/**
 * Jupyter's messages: five JSON parts behind a delimiter, signed so that only the two ends that share a key are heard.
 *
 * Source: "Messaging in Jupyter", jupyter-client 7.4 documentation, section "The wire protocol" (from memory).
 */

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

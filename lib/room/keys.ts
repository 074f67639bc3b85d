/** Keys of a room: who may come in where, and the file that keeps them over a restart. */

/** One key with the address that carries it. */
export interface KeyAt {
  readonly url: string;
  readonly key: string;
}

/** The file of keys. */
export interface KeysFile {
  readonly leader: KeyAt;
  /** by the folder of each bench */
  readonly benches: Readonly<Record<string, KeyAt>>;
  /** for the projector: they read and never write */
  readonly walls: readonly KeyAt[];
}

/** Whose key it is. */
export type Holder =
  | { readonly kind: "leader" }
  | { readonly kind: "wall" }
  | { readonly kind: "bench"; readonly folder: string };

/** A fresh key: 128 random bits, as a web address takes them. */
export function freshKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_")
    .replaceAll("=", "");
}

/** Keys as they stand in a file, without the addresses. */
export interface Keys {
  readonly leader: string;
  readonly benches: ReadonlyMap<string, string>;
  readonly walls: readonly string[];
  /** where the file's room was served: its port, its whole address */
  readonly port?: number;
  readonly origin?: string;
}

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null;

/**
 * The keys of a file; nothing where it holds none that can be used again.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const keys = { leader: "L".repeat(22), benches: new Map([["bench-01", "B".repeat(22)]]), walls: [] };
 * const file = keysFile(keys, "127.0.0.1", 8750);
 * assert.deepEqual(readKeys(file), { ...keys, port: 8750, origin: "http://127.0.0.1:8750" });
 * assert.equal(readKeys("{}"), undefined);
 * ```
 */
export function readKeys(text: string): Keys | undefined {
  let file: unknown;
  try {
    file = JSON.parse(text);
  } catch {
    return undefined;
  }
  const keyOf = (at: unknown): string | undefined => {
    const key = isObject(at) ? at["key"] : undefined;
    return typeof key === "string" && /^[\w-]{20,100}$/.test(key) ? key : undefined;
  };
  if (!isObject(file)) return undefined;
  const leader = keyOf(file["leader"]);
  if (leader === undefined) return undefined;
  const benches = Object.entries(isObject(file["benches"]) ? file["benches"] : {})
    .flatMap(([folder, at]): [string, string][] => {
      const key = keyOf(at);
      return key === undefined ? [] : [[folder, key]];
    });
  const walls = Array.isArray(file["walls"]) ? file["walls"].flatMap((at) => keyOf(at) ?? []) : [];
  const url = isObject(file["leader"]) ? String(file["leader"]["url"] ?? "") : "";
  const [, origin, digits] = /^(http:\/\/[^/]*?:(\d+))\//.exec(url) ?? [];
  const port = Number(digits ?? NaN);
  return {
    leader,
    benches: new Map(benches),
    walls,
    ...(origin !== undefined && port > 0 && port < 65_536 ? { port, origin } : {}),
  };
}

/** The address of a room: an IPv6 address stands in brackets. */
export function originOf(host: string, port: number): string {
  return `http://${host.includes(":") ? `[${host}]` : host}:${port}`;
}

/** The text of the file. */
export function keysFile(
  { leader, benches, walls }: Omit<Keys, "port" | "origin">,
  host: string,
  port: number,
): string {
  const at = (key: string): KeyAt => ({ url: `${originOf(host, port)}/enter#${key}`, key });
  const file: KeysFile = {
    leader: at(leader),
    benches: Object.fromEntries([...benches].map(([folder, key]) => [folder, at(key)])),
    walls: walls.map(at),
  };
  return `${JSON.stringify(file, null, 2)}\n`;
}

/** Who holds which key, as the server asks it. */
export class KeyRing {
  readonly #holders = new Map<string, Holder>();

  constructor({ leader, benches, walls }: Omit<Keys, "port" | "origin">) {
    for (const key of walls) this.#holders.set(key, { kind: "wall" });
    for (const [folder, key] of benches) this.#holders.set(key, { kind: "bench", folder });
    this.#holders.set(leader, { kind: "leader" });
  }

  /** Whose a key is; the answer takes as long for a wrong key as for a right one, to a table's look-up. */
  holderOf(key: string | undefined): Holder | undefined {
    return key === undefined ? undefined : this.#holders.get(key);
  }

  /** Whether a text has one of the keys in it: such a text is never logged. */
  isIn(text: string): boolean {
    return [...this.#holders.keys()].some((key) => text.includes(key));
  }
}

/**
 * What a reader wrote, kept in the browser under the book's and the record's name: guesses, answers, changed cells, readings.
 *
 * Each piece has a key of its own, so that two tabs never write over one another. What the browser does not take, because it
 * is full or forbids it, stays in the page as long as the page is open, and is said.
 */

/** What is kept. */
export type KeptKind = "guess" | "answer" | "cell" | "reading";
const KINDS: readonly KeptKind[] = ["guess", "answer", "cell", "reading"];

/** Whose work it is. */
export interface WorkOf {
  /** the book's own name, the same after an update */
  readonly book: string;
  /** name of the record it is built on */
  readonly record: string;
}

/** One piece. */
export interface KeptPiece {
  readonly kind: KeptKind;
  /** the page, a notebook's name without its number: "measure-curve"; of a reading its table */
  readonly page: string;
  /** which of the page's: a cell's or a guess's number, an exercise's id, a reading's own id */
  readonly key: string;
  readonly value: string;
  /** when it was written, ISO */
  readonly at: string;
}

/** As much of a browser's storage as is used. */
export interface Storing {
  readonly length: number;
  key(index: number): string | null;
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

/** Why the browser does not keep: it has no room left, or does not let a page keep anything. */
export type NotKept = "full" | "forbidden";

/** Names in a key, so that no sign of theirs is taken for the stroke between two. */
const sign = encodeURIComponent;
const plain = (text: string): string => {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
};

/** What a book's reader wrote. */
export class Kept {
  readonly #start: string;
  /** what this page wrote and the browser did not take */
  readonly #here = new Map<string, string | null>();
  readonly #heard = new Set<() => void>();
  #why: NotKept | undefined;

  /**
   * @param whose    book and record
   * @param storage  asked each time, since a browser that forbids it throws when it is asked for
   */
  constructor(readonly whose: WorkOf, private readonly storage: () => Storing) {
    this.#start = `first-mirror/${sign(whose.book)}/${sign(whose.record)}/`;
  }

  /** Why the browser does not keep what was written last; `undefined` where it does. */
  get notKept(): NotKept | undefined {
    return this.#why;
  }

  #key(kind: KeptKind, page: string, key: string): string {
    return `${this.#start}${kind}/${sign(page)}/${sign(key)}`;
  }

  /** What is kept under this key; `undefined` where nothing is. */
  get(kind: KeptKind, page: string, key: string): string | undefined {
    return this.#piece(this.#key(kind, page, key))?.value;
  }

  #piece(path: string): KeptPiece | undefined {
    const here = this.#here.get(path);
    let text = here;
    if (text === undefined) {
      try {
        text = this.storage().getItem(path);
      } catch {
        this.#why = "forbidden";
      }
    }
    return text === null || text === undefined
      ? undefined
      : pieceOf(path.slice(this.#start.length), text);
  }

  /** Keeps a value, or takes it away. */
  set(kind: KeptKind, page: string, key: string, value: string | undefined): void {
    const at = new Date().toISOString();
    this.#write(
      this.#key(kind, page, key),
      value === undefined ? null : JSON.stringify({ value, at }),
    );
    this.#tell();
  }

  #write(path: string, text: string | null): void {
    try {
      const storage = this.storage();
      if (text === null) storage.removeItem(path);
      else storage.setItem(path, text);
      this.#here.delete(path);
      this.#why = this.#here.size > 0 ? this.#why : undefined;
    } catch (error) {
      this.#here.set(path, text);
      this.#why = isFull(error) ? "full" : "forbidden";
    }
  }

  /** Every piece of this book and record, the oldest first. */
  all(): readonly KeptPiece[] {
    const paths = new Set(this.#here.keys());
    try {
      const storage = this.storage();
      for (let i = 0; i < storage.length; i++) {
        const path = storage.key(i);
        if (path?.startsWith(this.#start) === true) paths.add(path);
      }
    } catch {
      this.#why = "forbidden";
    }
    const pieces = [...paths].flatMap((path) => this.#piece(path) ?? []);
    return pieces.sort((a, b) => a.at < b.at ? -1 : a.at > b.at ? 1 : a.key < b.key ? -1 : 1);
  }

  /** Pieces of one kind, of one page where one is given. */
  of(kind: KeptKind, page?: string): readonly KeptPiece[] {
    return this.all().filter((one) =>
      one.kind === kind && (page === undefined || one.page === page)
    );
  }

  /**
   * Puts pieces in that were taken along: of two under one key the younger stays.
   *
   * @returns how many were new or younger
   */
  putIn(pieces: readonly KeptPiece[]): number {
    let taken = 0;
    for (const { kind, page, key, value, at } of pieces) {
      const path = this.#key(kind, page, key), own = this.#piece(path);
      if (own !== undefined && own.at >= at) continue;
      this.#write(path, JSON.stringify({ value, at }));
      taken++;
    }
    if (taken > 0) this.#tell();
    return taken;
  }

  /**
   * Calls back after every change, by this page or by another tab.
   *
   * @returns ends it
   */
  hear(changed: () => void): () => void {
    this.#heard.add(changed);
    return () => this.#heard.delete(changed);
  }

  /** Told by the page of the browser's `storage` event; a key of another book is passed over. */
  changedElsewhere(key: string | null): void {
    if (key === null || key.startsWith(this.#start)) this.#tell();
  }

  #tell(): void {
    for (const changed of this.#heard) changed();
  }
}

function isFull(error: unknown): boolean {
  const { name = "", code } = error as { readonly name?: string; readonly code?: number };
  return /quota/i.test(name) || code === 22 || code === 1014;
}

/** A piece as it lies in the storage; `undefined` for what this version does not understand, which is left as it is. */
function pieceOf(path: string, text: string): KeptPiece | undefined {
  const [kind, page = "", key = ""] = path.split("/").map(plain);
  const known = KINDS.find((one) => one === kind);
  try {
    const { value, at } = JSON.parse(text) as { readonly value?: unknown; readonly at?: unknown };
    if (known === undefined || typeof value !== "string" || typeof at !== "string") {
      return undefined;
    }
    return { kind: known, page, key, value, at };
  } catch {
    return undefined;
  }
}

/** What a file of work is recognised by. */
const MARK = "first-mirror work";

/** A reader's work as one file's text. */
export function workFile(kept: Kept, files: Readonly<Record<string, string>> = {}): string {
  const { book, record } = kept.whose;
  return `${JSON.stringify({ what: MARK, book, record, pieces: kept.all(), files }, null, 1)}\n`;
}

/** A file of work that was read. */
export interface Work extends WorkOf {
  readonly pieces: readonly KeptPiece[];
  /** the record's own files with what was typed in them, for whoever has no page at hand */
  readonly files: Readonly<Record<string, string>>;
}

/**
 * Reads a file of work; nothing in it is run.
 *
 * @returns in one sentence what it is, where it is none
 */
export function readWork(text: string): Work | string {
  const none =
    "This file is no work taken along from a page: choose the .json that “Take my work” wrote.";
  let found: unknown;
  try {
    found = JSON.parse(text);
  } catch {
    return none;
  }
  const { what, book, record, pieces, files } = (found ?? {}) as Readonly<Record<string, unknown>>;
  if (what !== MARK || typeof book !== "string" || typeof record !== "string") return none;
  if (!Array.isArray(pieces)) return none;
  const good = pieces.flatMap((one: unknown) => {
    const { kind, page, key, value, at } = (one ?? {}) as Readonly<Record<string, unknown>>;
    const known = KINDS.find((own) => own === kind);
    const isText = [page, key, value, at].every((part) => typeof part === "string");
    const isDay = typeof at === "string" && !Number.isNaN(Date.parse(at));
    return known === undefined || !isText || !isDay
      ? []
      : [{ kind: known, page, key, value, at } as KeptPiece];
  });
  const texts = Object.entries(files ?? {}).filter((entry): entry is [string, string] =>
    typeof entry[1] === "string"
  );
  return { book, record, pieces: good, files: Object.fromEntries(texts) };
}

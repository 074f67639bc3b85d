/** The lessons of a room: laid out by a process of their own when the first bench asks for its book, given out as files. */
import { join } from "node:path";

/** What became of laying it out. */
export type BookTold = { readonly ready: true } | { readonly ready: false; readonly why: string };

/** How it stands. */
export type BookState = "ready" | "under way" | { readonly why: string };

/** Files of the book that are every bench's; whatever else lies there is given out to nobody. */
const SHARED = /^(?:\d\d-[\w-]+|glossary|search)\.html$|^(?:library|editor|pictures)\.js$/;

const TYPES: Readonly<Record<string, string>> = {
  html: "text/html; charset=utf-8",
  js: "text/javascript; charset=utf-8",
  json: "application/json; charset=utf-8",
};

/** A script that brings nothing: what a class shares stays out of a bench's book. */
const NOTHING = "// a bench's book holds its own record alone\n";

/** The book's shared part. */
export class RoomBook {
  #state: "unasked" | BookState = "unasked";

  /**
   * @param folder  where it is laid out
   * @param ask     has it laid out; `told` hears how that went
   */
  constructor(private readonly folder: string, private readonly ask: () => void) {}

  /** How it stands; asked for the first time, or after a failure, it is begun. */
  state(): BookState {
    if (this.#state === "ready" || this.#state === "under way") return this.#state;
    const before = this.#state;
    this.#state = "under way";
    this.ask();
    return before === "unasked" ? "under way" : before;
  }

  /** Hears how laying it out went. */
  told(said: BookTold): void {
    this.#state = said.ready ? "ready" : { why: said.why };
  }

  /** A shared file; nothing where there is none. */
  async file(name: string, request: Request): Promise<Response | undefined> {
    if (name === "class.js") return bookAnswer(name, NOTHING);
    if (!SHARED.test(name)) return undefined;
    const path = join(this.folder, name);
    const there = await Deno.stat(path).catch(() => undefined);
    if (there?.isFile !== true) return undefined;
    if (name.endsWith(".html")) return bookAnswer(name, await Deno.readTextFile(path));
    const mark = `"${there.size}-${there.mtime?.getTime() ?? 0}"`;
    const headers = {
      "content-type": typeOf(name),
      "cache-control": "private, no-cache",
      etag: mark,
    };
    if (request.headers.get("if-none-match") === mark) {
      return new Response(null, { status: 304, headers });
    }
    return new Response((await Deno.open(path)).readable, { headers });
  }
}

function typeOf(name: string): string {
  return TYPES[name.split(".").at(-1) ?? ""] ?? "application/octet-stream";
}

/** A text of the book; a page goes out under its own policy, and is shown in nobody's frame. */
export function bookAnswer(name: string, text: string): Response {
  const headers = new Headers({ "content-type": typeOf(name), "cache-control": "no-store" });
  if (name.endsWith(".html")) {
    const own = /<meta http-equiv="Content-Security-Policy" content="([^"]*)">/.exec(text)?.[1];
    headers.set(
      "content-security-policy",
      `${own ?? "default-src 'none'"}; frame-ancestors 'none'`,
    );
  }
  return new Response(text, { headers });
}

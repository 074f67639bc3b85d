/**
 * The books of the three records, each built once in a run of the tests, whoever asks first; the others wait for it.
 *
 * `deno task test` names the folder in FIRST_MIRROR_TEST_BOOKS, so that test files in different processes share it.
 */
import { join } from "node:path";
import { buildBook } from "../../lib/book/build.ts";
import { Busy } from "../../lib/book/lock.ts";
import { recordsFolder } from "../../lib/record/open.ts";
import { EMPTY } from "../contract/copies.ts";

/** The records, by how far they go. */
export const RECORDS = {
  finished: `${recordsFolder}/demo-150-f8`,
  "half-way": `${recordsFolder}/halfway-200-f6`,
  empty: EMPTY,
} as const;
export type State = keyof typeof RECORDS;
export const STATES = Object.keys(RECORDS) as State[];

function shelf(): string {
  const shared = Deno.env.get("FIRST_MIRROR_TEST_BOOKS");
  if (shared !== undefined) return shared;
  const own = Deno.makeTempDirSync({ prefix: "first-mirror-books-" });
  globalThis.addEventListener("unload", () => Deno.removeSync(own, { recursive: true }));
  return own;
}

const folder = shelf();
const pages = (book: string): string[] =>
  [...Deno.readDirSync(book)].map(({ name }) => name).filter((name) => name.endsWith(".html"));

async function stands(book: string): Promise<boolean> {
  return await Deno.stat(join(book, "index.html")).then(() => true, () => false);
}

async function build(state: State): Promise<string> {
  const out = join(folder, state);
  while (!await stands(out)) {
    try {
      await buildBook({ record: RECORDS[state], out });
    } catch (error) {
      if (!(error instanceof Busy)) throw error;
      await new Promise((later) => setTimeout(later, 200));
    }
  }
  return out;
}

const books = new Map<State, Promise<string>>();

/** The folder of the book on one record. @throws {BuildStopped} naming notebook, cell and line of all that failed */
export function bookOn(state: State): Promise<string> {
  const book = books.get(state) ?? build(state);
  books.set(state, book);
  return book;
}

/** Files of all pages of a book. */
export async function pagesOn(state: State): Promise<string[]> {
  const book = await bookOn(state);
  return pages(book).map((name) => join(book, name));
}

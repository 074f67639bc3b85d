/**
 * The books of the three records, each built once in a run of the tests, whoever asks first; the others wait for it.
 *
 * `deno task test` names the folder in FIRST_MIRROR_TEST_BOOKS, so that test files in different processes share it.
 */
import { basename, join } from "node:path";
import { buildBook, Busy } from "../../lib/book/build.ts";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { run, type Said } from "../commands/run.ts";
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
    if (await isLocked(out)) await new Promise((later) => setTimeout(later, 200));
    else if (state === "empty") await buildAsAPerson(out);
    else await buildHere(state, out);
  }
  return out;
}

const isLocked = (out: string): Promise<boolean> =>
  Deno.stat(join(folder, `.${basename(out)}.lock`)).then(() => true, () => false);

async function buildHere(state: State, out: string): Promise<void> {
  try {
    await buildBook({ record: RECORDS[state], out });
  } catch (error) {
    if (!(error instanceof Busy)) throw error;
  }
}

const saidFile = join(folder, "empty.said.json");

/** By `deno task book`, whose words are kept for the test of them. */
async function buildAsAPerson(out: string): Promise<void> {
  const said = await run("book", [RECORDS.empty, "--out", out]);
  if (said.code === 1 && said.err.includes("under way already")) return;
  await Deno.writeTextFile(saidFile, JSON.stringify(said));
  if (said.code !== 0) throw new Error(said.err);
}

/** What `deno task book` said when it built the book on the empty record. */
export async function saidOfEmpty(): Promise<Said> {
  await bookOn("empty");
  return JSON.parse(await Deno.readTextFile(saidFile));
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

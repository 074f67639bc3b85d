/** What a page of the book carries for its script, and what the script beside it brings. */
import type { Summary } from "../knowledge/summaryTypes.ts";
import type { MemoryFile } from "../record/memoryFiles.ts";

/** Files as JSON holds them: a text, or bytes in base64. */
export type StoredFile = string | { readonly base64: string };

/** The block of data in a page. */
export interface PageData {
  /** version of the kit */
  readonly version: string;
  /** name of the book, its edition with it */
  readonly book: string;
  /** name of the record */
  readonly record: string;
  /** path of the record among the files */
  readonly folder: string;
  /** name of the page's stage: "measure-curve" */
  readonly page: string;
  /** the scripts beside the page, in their order */
  readonly scripts: readonly string[];
  /** the script of the editor, read when a cell is opened */
  readonly editor: string;
  /** ISO day on which the book was built, where it was named */
  readonly today?: string;
  /** lengths are shown in inches */
  readonly inInches: boolean;
  /** the record's texts by their paths */
  readonly files: Readonly<Record<string, StoredFile>>;
  /** of a class's book: its benches' folders; a page of the class is of the one that is chosen in it */
  readonly benches?: readonly string[];
}

/** A bench of a class's book, in a script of its own. */
export interface BenchData extends Pick<PageData, "record" | "folder" | "inInches"> {
  /** why its record cannot be read; then there is nothing of it to show */
  readonly refusals?: readonly string[];
  /** what is its own on each page, as markup, by the stage's name and the part's */
  readonly parts: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

/** What the script beside the pages holds. */
export interface SharedData {
  /** the program of the thread in which cells run, as `packed` packs it */
  readonly thread: string;
  /** the kit's tables, the demo, its class */
  readonly files: Readonly<Record<string, StoredFile>>;
  /** the record's pictures, and the records beside it, where a page does not carry them */
  readonly beside?: Readonly<Record<string, StoredFile>>;
  /** the summaries of the demo and of the reader's record, by the marks of their files */
  readonly summaries: Readonly<Record<string, Summary>>;
  readonly summary?: Readonly<Record<string, Summary>>;
  /** the bench that was chosen */
  readonly bench?: BenchData;
  /** rows of the demo's class, by the marks of their records */
  readonly results: Readonly<Record<string, unknown>>;
  /** public names of the library: its module, and its line */
  readonly names: Readonly<Record<string, readonly [module: string, line: string]>>;
}

/** Kinds of pictures by the ends of their names. */
const KINDS: Readonly<Record<string, string>> = {
  png: "image/png",
  jpg: "image/jpeg",
  jpeg: "image/jpeg",
};

/** A stored file as the library reads it. */
export function fileOf(path: string, stored: StoredFile): MemoryFile {
  if (typeof stored === "string") return stored;
  // sign by sign in a plain loop: an iterator takes ten times as long, over megabytes of photographs
  const signs = atob(stored.base64), bytes = new Uint8Array(signs.length);
  for (let at = 0; at < signs.length; at++) bytes[at] = signs.charCodeAt(at);
  return new Blob([bytes], { type: KINDS[path.split(".").at(-1)?.toLowerCase() ?? ""] ?? "" });
}

/** All files that a page has, by their paths. */
export function filesOf(page: PageData, shared: SharedData): Map<string, MemoryFile> {
  const all = { ...shared.files, ...shared.beside, ...page.files };
  return new Map(Object.entries(all).map(([path, stored]) => [path, fileOf(path, stored)]));
}

/// <reference lib="dom" />
/** What a reader keeps in a page: counted, taken along as files, put in again. */
import { type Kept, type KeptKind, readWork, workFile, type WorkOf } from "./kept.ts";
import { notebookWith } from "./notebookOut.ts";
import type { MemoryFile } from "../record/memoryFiles.ts";
import type { PageRecord } from "./pageRecord.ts";
import { type FileOut, filesOut, type GivenFile, recordFrom } from "./recordFiles.ts";

/** What the panel is made from. */
export interface PageWorkOptions {
  readonly kept: Kept;
  readonly record: PageRecord;
  /** name of the page's stage; absent on pages without cells */
  readonly page?: string;
  /** everything is shown anew: work was put in, or another record */
  readonly renewed: () => Promise<void>;
}

/** A folder that the browser lets a page write to. */
interface Folder {
  getFileHandle(name: string, options?: { create?: boolean }): Promise<FileHandle>;
  getDirectoryHandle(name: string, options?: { create?: boolean }): Promise<Folder>;
}
interface FileHandle {
  getFile(): Promise<File>;
  createWritable(): Promise<{ write(data: Blob | string): Promise<void>; close(): Promise<void> }>;
}
type Picker = (options: { mode: "readwrite"; id: string }) => Promise<Folder>;

/** The panel, alive. */
export class PageWork {
  readonly #panel: HTMLElement | null = document.querySelector("#kept");
  readonly #mayBeAlone: boolean;

  constructor(private readonly options: PageWorkOptions) {
    this.#mayBeAlone = mayBeAlone(options.kept.whose);
    this.#on("[data-take-work]", () => this.#takeWork());
    this.#on("[data-take-notebook]", () => this.#takeNotebook());
    this.#on("[data-take-files]", () => this.#takeFiles());
    this.#on("[data-write-folder]", () => this.#writeFolder());
    this.#given("[data-put-work]", (files) => this.#putWork(files));
    this.#given("[data-put-record]", (files) => this.#putRecord(files));
    for (const one of document.querySelectorAll<HTMLElement>("[data-write-folder]")) {
      one.hidden = !("showDirectoryPicker" in globalThis);
    }
    this.#drops();
    this.show();
    const { said } = (history.state ?? {}) as { readonly said?: string };
    if (said === undefined) return;
    this.say(said);
    history.replaceState(null, "");
  }

  #on(selector: string, act: () => Promise<void> | void): void {
    for (const button of document.querySelectorAll<HTMLButtonElement>(selector)) {
      button.disabled = false;
      button.addEventListener("click", () => void this.#tried(act));
    }
  }

  #given(selector: string, act: (files: readonly GivenFile[]) => Promise<void>): void {
    for (const input of document.querySelectorAll<HTMLInputElement>(selector)) {
      input.disabled = false;
      input.addEventListener("change", async () => {
        const files = [...input.files ?? []].map((file) => ({
          path: file.webkitRelativePath || file.name,
          size: file.size,
          blob: file,
        }));
        if (files.length > 0) await this.#tried(() => act(files));
        input.value = ""; // so that the same file can be chosen again
      });
    }
  }

  async #tried(act: () => Promise<void> | void): Promise<void> {
    try {
      await act();
    } catch (error) {
      if ((error as { name?: string }).name === "AbortError") return; // the reader closed the dialogue
      this.say(`This did not work: ${error instanceof Error ? error.message : String(error)}`);
    }
    this.show();
  }

  /** A record may be dropped on the panel. */
  #drops(): void {
    const panel = this.#panel;
    if (panel === null) return;
    const hold = (event: DragEvent): void => {
      event.preventDefault();
      panel.toggleAttribute("data-over", event.type === "dragover");
    };
    panel.addEventListener("dragover", hold);
    panel.addEventListener("dragleave", hold);
    panel.addEventListener("drop", (event) => {
      hold(event);
      const items = [...event.dataTransfer?.items ?? []];
      const entries = items.flatMap((item) => item.webkitGetAsEntry() ?? []);
      void this.#tried(async () => {
        const files = (await Promise.all(entries.map(filesBelow))).flat();
        if (files.length > 0) await this.#putRecord(files);
      });
    });
  }

  say(text: string, sentences: readonly string[] = []): void {
    const place = this.#panel?.querySelector("[data-said]");
    if (place === null || place === undefined) return;
    place.replaceChildren(text);
    if (sentences.length === 0) return;
    const list = document.createElement("ul");
    list.append(...sentences.map((sentence) => {
      const item = document.createElement("li");
      item.textContent = sentence;
      item.dataset["refusal"] = "";
      return item;
    }));
    place.append(list);
  }

  /** The counts as they are now, and what the browser does not keep. */
  show(): void {
    const { kept, record } = this.options, pieces = kept.all();
    const count = (kind: KeptKind): number => pieces.filter((one) => one.kind === kind).length;
    for (const place of this.#panel?.querySelectorAll<HTMLElement>("[data-count]") ?? []) {
      place.textContent = String(count(place.dataset["count"] as KeptKind));
    }
    const last = pieces.at(-1)?.at, time = this.#panel?.querySelector("[data-last-kept]");
    if (time !== null && time !== undefined) {
      time.textContent = last === undefined
        ? "nothing yet"
        : new Date(last).toLocaleString(undefined, { dateStyle: "long", timeStyle: "short" });
    }
    const not = this.#panel?.querySelector<HTMLElement>("[data-not-kept]");
    if (not === null || not === undefined) return;
    const why = kept.notKept === "full"
      ? "This browser has no room left: what you wrote last is on this page only, until it is closed. Take your work with you now."
      : kept.notKept === "forbidden"
      ? "This browser does not let the page keep anything: what you wrote is on this page only, until it is closed. Take your work with you before you leave."
      : record.notKept !== undefined
      ? "This browser does not keep photographs and records that you put in: they are on this page only, until it is closed. Take the files with you."
      : this.#mayBeAlone
      ? "From disk, some browsers keep the work of each page by itself. Where another page does not show what you wrote here, take it along page by page, and put all the files in on the contents page."
      : "";
    not.textContent = why;
    not.hidden = why === "";
    for (const place of document.querySelectorAll<HTMLElement>("[data-other-record]")) {
      place.hidden = !record.isOther;
    }
  }

  async #takeWork(): Promise<void> {
    const { kept, record } = this.options, files: Record<string, string> = {};
    for (const [name, file] of record.files()) if (typeof file === "string") files[name] = file;
    const { book } = kept.whose;
    const out = new Blob([workFile(kept, files)], { type: "application/json" });
    await this.#download({
      name: `${fileName(book)}-work.json`,
      blob: out,
    });
  }

  async #takeNotebook(): Promise<void> {
    const block = document.querySelector("script[data-notebook]");
    const { page, kept } = this.options;
    if (block === null || page === undefined) return;
    const { name, notebook } = JSON.parse(block.textContent ?? "") as {
      readonly name: string;
      readonly notebook: unknown;
    };
    const pieces = kept.all().filter((one) => one.page === page);
    const text = notebookWith(
      JSON.stringify(notebook),
      pieces,
      new Date().toISOString().slice(0, 10),
    );
    await this.#download({
      name: `${fileName(name)}.ipynb`,
      blob: new Blob([text], { type: "application/x-ipynb+json" }),
    });
  }

  async #takeFiles(): Promise<void> {
    const { kept, record } = this.options;
    await this.#download(
      await filesOut(fileName(kept.whose.record), record.files(), record.written()),
    );
  }

  #download({ name, blob }: FileOut): void {
    const link = document.createElement("a"), address = URL.createObjectURL(blob);
    link.href = address;
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
    this.say(`${name} lies with your downloads.`);
  }

  async #putWork(files: readonly GivenFile[]): Promise<void> {
    const { kept } = this.options, { record } = kept.whose;
    let taken = 0;
    const said: string[] = [];
    for (
      const { path, blob } of files.filter(({ path }) =>
        files.length === 1 || path.endsWith(".json")
      )
    ) {
      const work = blob.size > 20e6
        ? "This file is larger than any work: 20 MB."
        : readWork(await blob.text());
      if (typeof work === "string") said.push(`${path}: ${work}`);
      else if (work.record !== record) {
        said.push(
          `${path} is work on the record “${work.record}”; this book is of “${record}”.`,
        );
      } else taken += kept.putIn(work.pieces);
    }
    if (taken === 0) return this.say(said.length === 0 ? "All of it is here already." : "", said);
    const what = `${taken === 1 ? "One piece" : `${taken} pieces`} of work put in.`;
    // a page takes up what is kept when it opens; where the browser keeps nothing, only its readings can be shown
    if (kept.notKept !== undefined) {
      await this.options.renewed();
      return this.say(what, said);
    }
    history.replaceState({ said: [what, ...said].join(" ") }, "");
    location.reload();
  }

  async #putRecord(files: readonly GivenFile[]): Promise<void> {
    const given = await recordFrom(files);
    if ("no" in given) return this.say(given.no);
    const isWhole = "record" in given, own = isWhole ? given.record : given.tables;
    const refusals = await this.options.record.putIn(own, isWhole);
    if (refusals.length > 0) {
      this.say(
        "It has errors, so the record of before stays. Mend these, then put it in again:",
        refusals,
      );
      return;
    }
    await this.options.renewed();
    this.say(
      isWhole
        ? "The record is put in: cells and numbers are of it now."
        : `${[...own.keys()].join(" and ")} put in.`,
    );
  }

  /** Writes what was typed into the record's own folder: all of it, or nothing where a file there is another one. */
  async #writeFolder(): Promise<void> {
    const pick = (globalThis as { showDirectoryPicker?: Picker }).showDirectoryPicker;
    const { record } = this.options, written = record.written();
    if (pick === undefined) return;
    if (written.length === 0) return this.say("There is nothing to write: nothing was typed here.");
    try {
      const folder = await pick({ mode: "readwrite", id: "first-mirror" });
      const { wanted, said } = await comparedWith(folder, record, written);
      if (said.length > 0) return this.say("Nothing was written.", said);
      for (const [name, content] of wanted) await write(folder, name, content);
      this.say(
        wanted.length === 0
          ? "All of it stands in this folder already."
          : `Written: ${wanted.map(([name]) => name).join(", ")}.`,
      );
    } catch (error) {
      const why = WHY_NOT[(error as { name?: string }).name ?? ""];
      if (why === undefined) throw error;
      this.say(why);
    }
  }
}

/** What a browser means when it does not let a page write. */
const WHY_NOT: Readonly<Record<string, string>> = {
  AbortError:
    "Nothing was written: no folder was chosen, or the browser was not allowed to write into it.",
  NotAllowedError:
    "The browser may not write into this folder: allow it when it asks, or take the files and lay them there yourself.",
  NoModificationAllowedError:
    "A file in this folder is open in another program: close it there, then write again.",
};

/** What is to be written into a folder, photographs first, for rows name them; and what stands there against it. */
async function comparedWith(
  folder: Folder,
  record: Pick<PageRecord, "files" | "before">,
  written: readonly string[],
): Promise<{ readonly wanted: readonly (readonly [string, Blob])[]; readonly said: string[] }> {
  const files = record.files(), wanted: [string, Blob][] = [], said: string[] = [];
  const settings = await fileIn(folder, "mirror.yaml"), own = files.get("mirror.yaml");
  if (settings === undefined) {
    said.push("There is no mirror.yaml in this folder: choose the record’s own.");
  } else if (own !== undefined && await textOf(settings) !== await textOf(own)) {
    said.push(another("mirror.yaml"));
  }
  if (said.length > 0) return { wanted, said };
  for (const name of written) {
    const now = files.get(name), there = await fileIn(folder, name);
    if (now === undefined) continue;
    const how = now instanceof Blob
      ? await photoBeside(there, now)
      : await tableBeside(there, await textOf(record.before(name) ?? ""), await textOf(now));
    if (how === "another") said.push(another(name));
    else if (how === "wanted" && now instanceof Blob) wanted.unshift([name, now]);
    else if (how === "wanted") wanted.push([name, new Blob([now])]);
  }
  return { wanted, said };
}

const another = (name: string): string =>
  `${name} is another one in this folder than in this page: put the folder in first (“Put a record in”), then write again.`;

/** How a file in a folder stands to what is to be written there. */
type Beside = "wanted" | "the same" | "another";

async function photoBeside(there: Blob | undefined, now: Blob): Promise<Beside> {
  if (there === undefined) return "wanted";
  const [one, other] = [await bytesOf(there), await bytesOf(now)];
  const isSame = one.length === other.length && one.every((byte, at) => byte === other[at]);
  return isSame ? "the same" : "another";
}

const bytesOf = async (file: Blob): Promise<Uint8Array> => new Uint8Array(await file.arrayBuffer());

/** Rows are added at a table's end: what holds it as it was, and of what was typed a beginning, loses nothing. */
async function tableBeside(
  there: Blob | undefined,
  before: string,
  now: string,
): Promise<Beside> {
  const text = there === undefined ? "" : await textOf(there);
  if (there !== undefined && text === now) return "the same";
  return text.startsWith(before) && now.startsWith(text) ? "wanted" : "another";
}

/**
 * Whether this browser may give each page of a book on disk a storage of its own. Pages leave a mark; one that finds another
 * page's knows that they share.
 */
function mayBeAlone({ book, record }: WorkOf): boolean {
  if (location.protocol !== "file:" || !CSS.supports("-moz-appearance", "none")) return false;
  const start = `first-mirror-seen/${book}/${record}/`, own = start + location.pathname;
  try {
    localStorage.setItem(own, "");
    return !Object.keys(localStorage).some((key) => key.startsWith(start) && key !== own);
  } catch {
    return false;
  }
}

const fileName = (name: string): string => name.replace(/[^\p{L}\p{N}._-]+/gu, "-").slice(0, 80);

async function textOf(file: MemoryFile): Promise<string> {
  return typeof file === "string" ? file : new TextDecoder("utf-8", { ignoreBOM: true })
    .decode(file instanceof Blob ? await file.arrayBuffer() : file);
}

async function fileIn(folder: Folder, name: string): Promise<Blob | undefined> {
  try {
    return await (await (await below(folder, name, false)).getFileHandle(lastOf(name))).getFile();
  } catch (error) {
    if ((error as { name?: string }).name === "NotFoundError") return undefined;
    throw error;
  }
}

async function write(folder: Folder, name: string, content: Blob): Promise<void> {
  const handle = await (await below(folder, name, true)).getFileHandle(lastOf(name), {
    create: true,
  });
  const out = await handle.createWritable();
  await out.write(content);
  await out.close();
}

const lastOf = (name: string): string => name.split("/").at(-1) ?? name;

async function below(folder: Folder, name: string, create: boolean): Promise<Folder> {
  let at = folder;
  for (const part of name.split("/").slice(0, -1)) {
    at = await at.getDirectoryHandle(part, { create });
  }
  return at;
}

/** All files below what was dropped. */
async function filesBelow(entry: FileSystemEntry): Promise<readonly GivenFile[]> {
  if (entry.isFile) {
    const file = await new Promise<File>((done, failed) =>
      (entry as FileSystemFileEntry).file(done, failed)
    );
    return [{ path: entry.fullPath.replace(/^\//, ""), size: file.size, blob: file }];
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader(), found: GivenFile[] = [];
  for (;;) {
    const some = await new Promise<FileSystemEntry[]>((done, failed) =>
      reader.readEntries(done, failed)
    );
    if (some.length === 0 || found.length > 5000) return found;
    for (const one of some) found.push(...await filesBelow(one));
  }
}

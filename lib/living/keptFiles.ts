/// <reference lib="dom" />
/**
 * Files that a reader put into a page: photographs, and a record in place of the book's. They are too large for the storage of
 * small pieces and lie in the browser's database, under the book's and the record's name.
 */
import type { MemoryFile } from "../record/memoryFiles.ts";
import type { WorkOf } from "./kept.ts";

const STORE = "files";

/** What a name belongs to. */
type Part = "record" | "photo";

/** The reader's files. */
export class KeptFiles {
  #opened: Promise<IDBDatabase> | undefined;

  constructor(private readonly whose: WorkOf) {}

  #database(): Promise<IDBDatabase> {
    return this.#opened ??= new Promise((done, failed) => {
      const asked = indexedDB.open("first-mirror", 1);
      asked.onupgradeneeded = (): void => {
        asked.result.createObjectStore(STORE);
      };
      asked.onsuccess = (): void => done(asked.result);
      asked.onerror = (): void => failed(asked.error);
      asked.onblocked = (): void => failed(new Error("blocked"));
    });
  }

  #key(part: Part, name: string): string[] {
    return [this.whose.book, this.whose.record, part, name];
  }

  #range(part: Part): IDBKeyRange {
    return IDBKeyRange.bound(this.#key(part, ""), this.#key(part, "\uffff"));
  }

  async #write(act: (store: IDBObjectStore) => void): Promise<void> {
    const database = await this.#database();
    await new Promise<void>((done, failed) => {
      const transaction = database.transaction(STORE, "readwrite");
      transaction.oncomplete = (): void => done();
      transaction.onabort = (): void => failed(transaction.error);
      transaction.onerror = (): void => failed(transaction.error);
      act(transaction.objectStore(STORE));
    });
  }

  async #all(part: Part): Promise<Map<string, MemoryFile>> {
    const database = await this.#database();
    return await new Promise((done, failed) => {
      const found = new Map<string, MemoryFile>();
      const asked = database.transaction(STORE).objectStore(STORE).openCursor(this.#range(part));
      asked.onerror = (): void => failed(asked.error);
      asked.onsuccess = (): void => {
        const cursor = asked.result;
        if (cursor === null) return done(found);
        found.set((cursor.key as string[])[3] ?? "", cursor.value);
        cursor.continue();
      };
    });
  }

  /** The record that was put in; `undefined` where the book's own stands. */
  async record(): Promise<ReadonlyMap<string, MemoryFile> | undefined> {
    const found = await this.#all("record");
    return found.size === 0 ? undefined : found;
  }

  /** Keeps a record that was put in, or lets the book's own stand again. */
  async keepRecord(files: ReadonlyMap<string, MemoryFile> | undefined): Promise<void> {
    await this.#write((store) => {
      store.delete(this.#range("record"));
      for (const [name, file] of files ?? []) store.put(file, this.#key("record", name));
    });
  }

  /** Photographs, by their paths in the record. */
  photos(): Promise<ReadonlyMap<string, MemoryFile>> {
    return this.#all("photo");
  }

  /** Keeps a photograph, or takes it away. */
  async keepPhoto(path: string, picture: Blob | undefined): Promise<void> {
    await this.#write((store) => {
      if (picture === undefined) store.delete(this.#key("photo", path));
      else store.put(picture, this.#key("photo", path));
    });
  }
}

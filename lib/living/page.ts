/// <reference lib="dom" />
/**
 * The entry of the script beside the pages: what a page can do, once it is drawn.
 *
 * Other parts of the page hook in here: they get the page's data, its files and its cells.
 */
import { pageInInches } from "../quantity/inches.ts";
import type { Beginning } from "./messages.ts";
import { encodingOf } from "../record/files.ts";
import type { EditorMaker } from "./field.ts";
import { Kept, type KeptKind } from "./kept.ts";
import { PageCells } from "./pageCells.ts";
import { pageReader } from "./pageReader.ts";
import { threadFrom } from "./pageThread.ts";
import { filesOf, type PageData, type SharedData } from "./pageData.ts";

interface Host {
  firstMirrorEditor?: EditorMaker;
  firstMirrorShared?: SharedData;
  firstMirror?: {
    readonly version: string;
    run(cell: number, source?: string): Promise<{ text: string; failed: boolean }>;
    record(): Record<string, string | Blob>;
  };
}

const host = globalThis as unknown as Host;

/** Reads the editor's script once, when it is first asked for; where there is none the plain fields stay. */
function editorBeside(address: string): () => Promise<EditorMaker | undefined> {
  let asked: Promise<EditorMaker | undefined> | undefined;
  return () =>
    asked ??= new Promise((done) => {
      const script = document.createElement("script");
      script.src = address;
      script.onload = () => done(host.firstMirrorEditor);
      script.onerror = () => done(undefined);
      document.head.append(script);
    });
}

/** Guesses and answers are kept as they are told of, and put back into the page when it opens. */
function keepWhatIsWritten(kept: Kept, page: string): void {
  document.addEventListener("first-mirror:keep", (event) => {
    const { kind, key, value } = (event as CustomEvent<KeepDetail>).detail;
    kept.set(kind, page, key, value);
  });
  for (const kind of ["guess", "answer"] as const) {
    for (const { key, value } of kept.of(kind, page)) {
      const detail: KeepDetail = { kind, key, value };
      document.dispatchEvent(new CustomEvent("first-mirror:put-back", { detail }));
    }
  }
}

/** What `first-mirror:keep` and `first-mirror:put-back` tell. */
interface KeepDetail {
  readonly kind: KeptKind;
  /** a guess's cell, an exercise's id */
  readonly key: string;
  /** nothing where it is taken back */
  readonly value: string | undefined;
}

async function begin(): Promise<void> {
  const block = document.querySelector("script[data-page]"), shared = host.firstMirrorShared;
  if (block === null || shared === undefined) return;
  delete host.firstMirrorShared;
  const built = JSON.parse(block.textContent ?? "") as PageData, { bench } = shared;
  const page: PageData = bench === undefined
    ? built
    : { ...built, record: bench.record, folder: bench.folder, inInches: bench.inInches };
  const files = filesOf(page, shared);
  const kept = new Kept(page, () => localStorage);
  const thread = threadFrom(shared.thread);
  const today = page.today === undefined ? {} : { today: page.today };
  const beginning = (): Beginning => ({
    files,
    record: page.folder,
    summaries: { ...shared.summaries, ...shared.summary },
    results: shared.results,
    ...today,
  });
  const cells = new PageCells({
    thread,
    begin: beginning,
    kept,
    page: page.page,
    editor: editorBeside(page.editor),
    names: shared.names,
    ...(page.inInches ? { inHouse: pageInInches } : {}),
  });
  const read = pageReader({
    kept,
    files,
    thread,
    begin: beginning,
    folder: page.folder,
    page: page.page,
    ...today,
    changed: (mark) => void cells.cells.recordChanged(mark),
  });
  host.firstMirror = {
    version: page.version,
    // whoever asks before the record is as its reader left it waits for that
    run: (cell, source) => read.then(() => cells.run(cell, source)),
    record: () => {
      const own = [...files].filter(([path]) => path.startsWith(`${page.folder}/`));
      return Object.fromEntries(own.map(([path, file]) => {
        const name = path.slice(page.folder.length + 1);
        const isBytes = typeof file !== "string" && !(file instanceof Blob);
        return [name, isBytes ? new TextDecoder(encodingOf(file)).decode(file) : file];
      }));
    },
  };
  await read;
  keepWhatIsWritten(kept, page.page);
  document.dispatchEvent(new CustomEvent("first-mirror:ready"));
}

void begin();

/** The library where there is no disk: files in memory, pictures and frames by what a page has in place of sharp and polars. */
import { openAnew, type Opener, openMirrorsBy } from "../knowledge/open.ts";
import type { Summary } from "../knowledge/summaryTypes.ts";
import { type Memory, rememberIn } from "../numeric/remembered.ts";
import { useFiles } from "../record/fileSystem.ts";
import { type MemoryFile, memoryFiles, type MemorySettings } from "../record/memoryFiles.ts";
import { type FrameMaker, makeFramesBy } from "../record/polars.ts";
import { decodePhotosBy, type PhotoDecoder } from "../record/readPhoto.ts";
import { KIT_VERSION } from "../version.ts";
import { digest } from "./dependence.ts";

/** What a page, or a thread of it, gives the library. */
export interface PageHands extends MemorySettings {
  /** by their paths below `kitFolder`: data/tables, the demo, and the reader's record anywhere; what is put in later counts */
  readonly files: ReadonlyMap<string, MemoryFile>;
  /** the browser's decoder of pictures */
  readonly photos?: PhotoDecoder;
  /** what makes data frames */
  readonly frames?: FrameMaker;
  /** summaries of records, worked out when the book was built, by what `recordMark` says of the record's files */
  readonly summaries?: Readonly<Record<string, Summary>>;
  /** results of long computations, worked out when the library was made, by `resultMark` */
  readonly results?: Readonly<Record<string, unknown>>;
}

/** A mark of a computation and its inputs. */
export function resultMark(what: string, inputs: string): string {
  return digest([what, inputs]);
}

/**
 * A mark of a record's files, by which a summary is known to be of these and no others.
 *
 * @param folder  the record's
 * @param files   by their paths; of a picture that the browser holds only its size counts
 */
export function recordMark(folder: string, files: ReadonlyMap<string, MemoryFile>): string {
  const own = [...files].filter(([path]) => path.startsWith(`${folder}/`)).sort();
  return digest([
    KIT_VERSION,
    ...own.flatMap(([path, file]) => [
      path.slice(folder.length),
      typeof file === "string" ? file : String(file instanceof Blob ? file.size : file.length),
    ]),
  ]);
}

/** A record whose summary is known is only read. */
function opener({ files, summaries = {} }: PageHands): Opener {
  return (folder, today, instead) => {
    const known = instead === undefined ? summaries[recordMark(folder, files)] : undefined;
    return openAnew(folder, today, instead, known);
  };
}

/**
 * From now on the library reads what the page gives it.
 *
 * @param hands  files, the record that is meant, what decodes pictures and makes frames
 */
export function readFromPage(hands: PageHands): void {
  useFiles(memoryFiles(hands.files, hands));
  decodePhotosBy(hands.photos);
  makeFramesBy(hands.frames);
  openMirrorsBy(opener(hands));
  rememberIn(memoryOf(hands.results ?? {}));
}

/** How many results a page keeps of its own: what a reading leaves as it was is not worked out again. */
const KEPT = 40;

/** A place for results: those that came with the library, and the latest of the page's own. */
function memoryOf(given: Readonly<Record<string, unknown>>): Memory {
  const own = new Map<string, unknown>();
  return {
    recall: (what, inputs) => {
      const mark = resultMark(what, inputs), value = given[mark] ?? own.get(mark);
      return value === undefined ? undefined : { value };
    },
    keep: (what, inputs, value) => {
      own.set(resultMark(what, inputs), value);
      const [oldest] = own.keys();
      if (own.size > KEPT && oldest !== undefined) own.delete(oldest);
    },
  };
}

/** The library where there is no disk: files in memory, pictures and frames by what a page has in place of sharp and polars. */
import { useFiles } from "../record/fileSystem.ts";
import { type MemoryFile, memoryFiles, type MemorySettings } from "../record/memoryFiles.ts";
import { type FrameMaker, makeFramesBy } from "../record/polars.ts";
import { decodePhotosBy, type PhotoDecoder } from "../record/readPhoto.ts";

/** What a page, or a thread of it, gives the library. */
export interface PageHands extends MemorySettings {
  /** by their paths below `kitFolder`: data/tables, the demo, and the reader's record anywhere; what is put in later counts */
  readonly files: ReadonlyMap<string, MemoryFile>;
  /** the browser's decoder of pictures */
  readonly photos?: PhotoDecoder;
  /** what makes data frames */
  readonly frames?: FrameMaker;
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
}

/**
 * Files of a record, read so that a stranger's folder can do no harm: inside the folder only, plain files, not too large;
 * and their bytes as text, UTF-8 or UTF-16, with or without a byte order mark.
 */
import { type Findings, type Place, shown } from "./errors.ts";
import { files, type FolderEntry, pathInside } from "./fileSystem.ts";

/** Largest sizes read, bytes. */
export const LARGEST = { settings: 64_000, table: 8_000_000, photo: 60_000_000 } as const;

const MOST_ENTRIES = 5000;

/** A record's folder with every link in its own path followed. */
export interface RecordFolder {
  readonly path: string;
  /** plain files and folders at the top, by name */
  readonly entries: readonly string[];
}

const CLOSED_FOLDER = [
  "a folder that may not be looked into",
  "a maker's folder",
  "look at its permissions, or copy it again",
] as const;

/**
 * Opens the folder of a record and refuses links in it that lead out, whatever they point to.
 *
 * @returns `undefined` when there is no such folder, with a refusal
 */
export async function openFolder(
  folder: string,
  findings: Findings,
): Promise<RecordFolder | undefined> {
  let closed = false;
  const path = await files().realPath(folder).catch((error: unknown) => {
    closed = files().whyNot(error) === "closed";
    return undefined;
  });
  if (closed) {
    findings.refuse({ file: folder }, ...CLOSED_FOLDER);
    return undefined;
  }
  const isFolder = path !== undefined &&
    await files().info(path).then(({ isFolder }) => isFolder, () => false);
  if (!isFolder) {
    const found = path === undefined ? "no such folder" : "a file";
    findings.refuse(
      { file: folder },
      found,
      "the folder of a record",
      "begin one with `deno task new NAME`",
    );
    return undefined;
  }
  const entries = await listed(path, "", findings);
  if (entries.includes("photos")) await listed(path, "photos", findings);
  return { path, entries };
}

async function listed(root: string, inside: string, findings: Findings): Promise<string[]> {
  const entries: FolderEntry[] = [];
  try {
    for await (const entry of files().list(inside === "" ? root : `${root}/${inside}`)) {
      entries.push(entry);
      if (entries.length <= MOST_ENTRIES) continue;
      const found = `over ${MOST_ENTRIES} files`;
      findings.refuse({ file: inside || "." }, found, "a maker's folder", "keep others elsewhere");
      break;
    }
  } catch (error) {
    // `photos` may be a plain file; a photograph asked for in it is refused by its own name. And a folder may be taken
    // away while it is read: then the files that are missing are refused by theirs.
    const why = files().whyNot(error);
    if (why === undefined) throw error;
    if (why === "closed") findings.refuse({ file: inside || "." }, ...CLOSED_FOLDER);
  }
  const names: string[] = [];
  for (const { name, isLink } of entries.sort((x, y) => x.name < y.name ? -1 : 1)) {
    const file = inside === "" ? name : `${inside}/${name}`;
    if (!isLink || await refuseOutside(root, file, { file }, findings)) names.push(name);
  }
  return names;
}

/** Whether a path, links followed, stays inside the folder; refuses it where it does not. */
async function refuseOutside(
  root: string,
  file: string,
  place: Place,
  findings: Findings,
): Promise<boolean> {
  const real = await files().realPath(`${root}/${file}`).catch(() => undefined);
  if (real === undefined) {
    findings.refuse(
      place,
      "a link that leads nowhere",
      "a file",
      "copy the file itself into the folder",
    );
    return false;
  }
  if (real === root || (real.startsWith(root) && /[\\/]/.test(real[root.length] ?? ""))) {
    return true;
  }
  findings.refuse(
    place,
    "a link that leads out of the folder",
    "a file inside it",
    "copy the file itself into the folder",
  );
  return false;
}

/**
 * Reads one file of a record.
 *
 * @param folder    an opened folder
 * @param file      path inside it, with slashes
 * @param largest   bytes; a larger file is refused unread
 * @param place     where the file is named, for refusals
 * @param findings  where refusals go
 * @returns its bytes, or `undefined` when refused
 */
export async function readInside(
  folder: RecordFolder,
  file: string,
  largest: number,
  place: Place,
  findings: Findings,
): Promise<Uint8Array<ArrayBuffer> | undefined> {
  const inside = pathInside(file);
  if (inside === undefined) {
    findings.refuse(
      place,
      shown(file),
      "a file inside the record's folder",
      "copy it there and name it from there",
    );
    return undefined;
  }
  const path = `${folder.path}/${inside}`;
  if (!await files().isThere(path)) {
    findings.refuse(
      place,
      `no file ${shown(file)}`,
      "the file",
      "copy it into the folder, or mend its name",
    );
    return undefined;
  }
  if (!await refuseOutside(folder.path, file, place, findings)) return undefined;
  const { isFile, size } = await files().info(path).catch(() => ({ isFile: true, size: 0 }));
  if (!isFile) {
    findings.refuse(
      place,
      `${shown(file)}, which is not a plain file`,
      "a file",
      "put a plain file there",
    );
    return undefined;
  }
  if (size > largest) {
    const found = `${shown(file)} of ${(size / 1e6).toFixed(1)} MB`;
    findings.refuse(place, found, `at most ${largest / 1e6} MB`, "make it smaller or take it out");
    return undefined;
  }
  try {
    return await files().read(path);
  } catch (error) {
    const why = files().whyNot(error) === "closed"
      ? "which may not be opened"
      : "which cannot be read";
    findings.refuse(
      place,
      `${shown(file)}, ${why}`,
      "a readable file",
      "look at its permissions and copy it again",
    );
    return undefined;
  }
}

/**
 * Decodes a text file, or refuses it with the line where the first byte stands that is not text.
 *
 * @param bytes     the whole file
 * @param file      its name, for the refusal
 * @param findings  where a refusal goes
 * @returns the text without its byte order mark, or `undefined` when refused
 * @example a spreadsheet's UTF-8 with a byte order mark
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * const bytes = new TextEncoder().encode("\ufeffdistance_mm\r\n1199\r\n");
 * assert.equal(decodeText(bytes, "sun.csv", new Findings()), "distance_mm\r\n1199\r\n");
 * ```
 */
export function decodeText(
  bytes: Uint8Array<ArrayBuffer>,
  file: string,
  findings: Findings,
): string | undefined {
  const encoding = encodingOf(bytes);
  const text = decoded(bytes, encoding);
  const save = "save the file as text, CSV UTF-8 in a spreadsheet";
  if (text === undefined) {
    const line = lineOfFirstBadByte(bytes);
    findings.refuse({ file, line }, "a byte that is not UTF-8 text", "UTF-8 or UTF-16 text", save);
    return undefined;
  }
  const zero = text.indexOf("\0");
  if (zero < 0) return text;
  const line = text.slice(0, zero).split(/\r\n|\r|\n/).length;
  findings.refuse({ file, line }, "a zero byte", "text", save);
  return undefined;
}

export type Encoding = "utf-8" | "utf-16le" | "utf-16be";

/** How a text file's bytes stand for its letters, by its mark or, without one, by where its zeros stand. */
export function encodingOf(bytes: Uint8Array): Encoding {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return "utf-16le";
  if (first === 0xfe && second === 0xff) return "utf-16be";
  // Without a mark: plain letters leave every other byte zero.
  const sample = bytes.subarray(0, Math.min(bytes.length, 400) & ~1);
  const zeros = [0, 0];
  sample.forEach((byte, index) => {
    if (byte === 0) zeros[index % 2] = (zeros[index % 2] ?? 0) + 1;
  });
  const [even = 0, odd = 0] = zeros;
  if (odd > sample.length / 4 && even === 0) return "utf-16le";
  if (even > sample.length / 4 && odd === 0) return "utf-16be";
  return "utf-8";
}

function decoded(bytes: Uint8Array<ArrayBuffer>, encoding: Encoding): string | undefined {
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

function lineOfFirstBadByte(bytes: Uint8Array<ArrayBuffer>): number {
  let line = 1;
  let start = 0;
  while (start < bytes.length) {
    const end = bytes.indexOf(0x0a, start);
    const stop = end < 0 ? bytes.length : end;
    if (decoded(bytes.subarray(start, stop), "utf-8") === undefined) return line;
    start = stop + 1;
    line++;
  }
  return 1;
}

/**
 * A text as bytes in this encoding, without a byte order mark: to stand behind bytes that are there already.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([...encoded("é", "utf-16be")], [0x00, 0xe9]);
 * ```
 */
export function encoded(text: string, encoding: Encoding): Uint8Array<ArrayBuffer> {
  if (encoding === "utf-8") return new TextEncoder().encode(text);
  const bytes = new Uint8Array(2 * text.length), view = new DataView(bytes.buffer);
  for (let at = 0; at < text.length; at++) {
    view.setUint16(2 * at, text.charCodeAt(at), encoding === "utf-16le");
  }
  return bytes;
}

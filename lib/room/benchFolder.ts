/** One bench's folder as the room writes it: rows and pictures in, each once, and the last entry taken back. */
import { join } from "node:path";
import { isForAnother } from "../forms/judgeRows.ts";
import { type AppendedRows, appendedRows, type SentRow } from "../record/appendRows.ts";
import { plainLine } from "../record/clean.ts";
import { describe, Findings, RecordRefused, type Refusal } from "../record/errors.ts";
import { decodeText, encoded, type Encoding, encodingOf, LARGEST } from "../record/files.ts";
import { pictureKind } from "../record/photos.ts";
import { readRecord } from "../record/readRecord.ts";
import type { TableName } from "../record/schema.ts";
import { readSettings, type Settings } from "../record/settings.ts";
import { appendSynced, asDiskRefused, replaceSynced, syncFolder, writeSynced } from "./disk.ts";
import {
  HISTORY_HEADER,
  type HistoryEntry,
  historyLine,
  type Known,
  knownIds,
  readHistory,
} from "./history.ts";

/** What became of a request: a status, and what is answered. */
export type Outcome =
  | { readonly status: 200 | 201; readonly lines: readonly number[] }
  | { readonly status: 200 | 201; readonly path: string }
  | { readonly status: 422; readonly refusals: readonly string[] }
  | { readonly status: 404 | 409 | 415 | 503 | 507; readonly error: string };

/** Who asks: "leader" or "bench". */
export type Who = "leader" | "bench";

const JOURNAL = "history.csv";
const MARK = ".room-";

interface Table {
  readonly path: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly text: string;
  readonly encoding: Encoding;
}

/** A file that cannot be added to as it stands now: the sentence. */
class Unkept extends Error {}

/** A bench's folder; everything that is written in it goes through here, one after the other. */
export class BenchFolder {
  #last: Promise<unknown> = Promise.resolve();
  #known: Map<string, Known> | undefined;
  #journalSize = 0;
  /** refusals of the record as it stood when it was last looked at, by the state of its files */
  #refusals: { readonly stamp: string; readonly all: ReadonlySet<string> } | undefined;
  #waiting = 0;

  /**
   * @param path  of the folder
   * @param now   the clock
   */
  constructor(readonly path: string, private readonly now: () => Date = () => new Date()) {}

  /** how many requests wait for their turn */
  get waiting(): number {
    return this.#waiting;
  }

  /** Does something when all before it is done. */
  #inTurn<T>(act: () => Promise<T>): Promise<T> {
    this.#waiting++;
    const mine = this.#last.then(act, act).finally(() => void this.#waiting--);
    this.#last = mine.catch(() => undefined);
    return mine;
  }

  /** Waits until nothing is under way any more. */
  async idle(): Promise<void> {
    await this.#last;
  }

  /** Everything in the journal, in its order. */
  async history(): Promise<readonly HistoryEntry[]> {
    return readHistory(new TextDecoder().decode(await this.#read(JOURNAL) ?? new Uint8Array()))
      .entries;
  }

  async #read(name: string): Promise<Uint8Array<ArrayBuffer> | undefined> {
    try {
      const { isSymlink, isFile } = await Deno.lstat(join(this.path, name));
      if (isSymlink || !isFile) {
        throw new Unkept(
          `${name} is not a plain file here, so nothing can be added to it; the leader puts the file itself there.`,
        );
      }
      return await Deno.readFile(join(this.path, name));
    } catch (error) {
      if (error instanceof Deno.errors.NotFound) return undefined;
      throw error;
    }
  }

  async #ids(): Promise<Map<string, Known>> {
    const size = await Deno.stat(join(this.path, JOURNAL)).then((one) => one.size, () => 0);
    if (this.#known === undefined || size !== this.#journalSize) {
      this.#known = knownIds(await this.history());
      this.#journalSize = size;
    }
    return this.#known;
  }

  /**
   * Puts an entry into the journal, on the disk before it returns.
   *
   * @param more  a row follows at once
   */
  async #note(entry: Omit<HistoryEntry, "at">, more = false): Promise<void> {
    const path = join(this.path, JOURNAL), before = await this.#read(JOURNAL);
    const length = before?.length ?? 0;
    const at = this.now().toISOString().replace(/\.\d+Z$/, "Z");
    const line = historyLine({ at, ...entry });
    const gap = length > 0 && before?.at(-1) !== 0x0a ? "\n" : "";
    const text = (length === 0 ? HISTORY_HEADER : gap) + line;
    if (!await appendSynced(path, new TextEncoder().encode(text), length, more)) {
      throw new Unkept("history.csv was changed at the same moment; send it again.");
    }
    this.#known = undefined;
  }

  async #table(table: string): Promise<Table | undefined> {
    const path = join(this.path, `${table}.csv`), bytes = await this.#read(`${table}.csv`);
    if (bytes === undefined) return undefined;
    const findings = new Findings(), text = decodeText(bytes, `${table}.csv`, findings);
    if (text === undefined) throw new Unkept(unkept(findings));
    return { path, bytes, text, encoding: encodingOf(bytes) };
  }

  async #settings(): Promise<Settings | undefined> {
    const bytes = await this.#read("mirror.yaml").catch(() => undefined);
    if (bytes === undefined || bytes.length > LARGEST.settings) return undefined;
    const text = decodeText(bytes, "mirror.yaml", new Findings());
    return text === undefined ? undefined : readSettings(text, "", new Findings())?.settings;
  }

  /** Adds rows to a table, once for each id. */
  addRows(
    table: TableName,
    id: string,
    who: Who,
    rows: readonly SentRow[],
    today: string,
  ): Promise<Outcome> {
    return this.#inTurn(() => this.#guarded(() => this.#addRows(table, id, who, rows, today)));
  }

  async #guarded(act: () => Promise<Outcome>): Promise<Outcome> {
    try {
      if (!await Deno.stat(this.path).then((one) => one.isDirectory, () => false)) {
        return {
          status: 404,
          error: "This bench’s folder is gone; the leader knows. Keep the entry and send it again.",
        };
      }
      return await act();
    } catch (error) {
      if (error instanceof Unkept) return { status: 409, error: error.message };
      const { message, isFull } = asDiskRefused(error);
      return { status: isFull ? 507 : 503, error: message };
    }
  }

  async #addRows(
    table: TableName,
    id: string,
    who: Who,
    rows: readonly SentRow[],
    today: string,
  ): Promise<Outcome> {
    const known = (await this.#ids()).get(id);
    if (known !== undefined) return { status: 200, lines: known.entry.lines };
    const file = `${table}.csv`, mask = (await this.#settings())?.mask;
    let noted: string | undefined;
    for (let attempt = 0; attempt < 5; attempt++) {
      const before = await this.#table(table), findings = new Findings();
      const made = appendedRows(table, rows, before?.text, mask, findings);
      if (made === undefined) return await this.#notAdded(before, table, findings, noted, id, who);
      const bytes = encoded(made.added, before?.encoding ?? "utf-8");
      if (noted === undefined) {
        const refusals = await this.#newRefusals(file, before, made, bytes, today);
        if (refusals.length > 0) return { status: 422, refusals };
      }
      if (noted !== made.added + made.lines) {
        await this.#note({ id, who, table, lines: made.lines, act: "add", text: made.added }, true);
        noted = made.added + made.lines;
      }
      if (await this.#put(file, before, bytes, id, who, table)) {
        return { status: 201, lines: made.lines };
      }
    }
    await this.#strike(id, who, table);
    return { status: 409, error: `${file} is being changed by hand just now; send it again.` };
  }

  /** Behind the table; where the disk does not take it, the table stands as it was and the id is free again. */
  async #put(
    file: string,
    before: Table | undefined,
    bytes: Uint8Array,
    id: string,
    who: Who,
    table: string,
  ): Promise<boolean> {
    const path = join(this.path, file);
    try {
      return await appendSynced(path, bytes, before?.bytes.length ?? 0);
    } catch (error) {
      if (before === undefined) await Deno.remove(path).catch(() => undefined);
      await this.#strike(id, who, table).catch(() => undefined);
      throw error;
    }
  }

  async #strike(id: string, who: Who, table: string): Promise<void> {
    await this.#note({ id, who, table, lines: [], act: "struck", text: "" });
  }

  /** Why rows do not go behind a table: for their own sake, or because of how the file stands. */
  async #notAdded(
    before: Table | undefined,
    table: TableName,
    findings: Findings,
    noted: string | undefined,
    id: string,
    who: Who,
  ): Promise<Outcome> {
    if (noted !== undefined) await this.#strike(id, who, table);
    const ofFile = new Findings();
    if (before !== undefined && before.text.trim() !== "") {
      appendedRows(table, [], before.text, (await this.#settings())?.mask, ofFile);
    }
    if (ofFile.refused) return { status: 409, error: unkept(ofFile) };
    return { status: 422, refusals: findings.refusals.map(describe) };
  }

  /** What the reader would refuse with the rows in place, and does not refuse today. */
  async #newRefusals(
    file: string,
    before: Table | undefined,
    { lines }: AppendedRows,
    added: Uint8Array,
    today: string,
  ): Promise<readonly string[]> {
    const old = before?.bytes ?? new Uint8Array();
    const whole = new Uint8Array(old.length + added.length);
    whole.set(old);
    whole.set(added, old.length);
    const after = await refusalsOf(this.path, today, new Map([[file, whole]]));
    if (after.length === 0) return [];
    const [first = 0] = lines;
    const known = new Set((await refusalsOf(this.path, today)).map(describe));
    const fresh = after.filter((one) =>
      !isForAnother(one) && !known.has(describe(one)) ||
      (one.file === file && one.line !== undefined && one.line >= first)
    );
    return fresh.map(describe);
  }

  /** Takes back what an id has added: the file without its lines, whole or not at all. */
  undo(table: string, id: string, who: Who): Promise<Outcome> {
    return this.#inTurn(() =>
      this.#guarded(async () => {
        const known = (await this.#ids()).get(id);
        if (known === undefined || known.entry.act !== "add" || known.entry.table !== table) {
          return { status: 404, error: "No entry of this id was made here." };
        }
        const { entry: { lines }, state } = known;
        if (state === "taken back") return { status: 200, lines };
        const cut = await this.#without(known.entry);
        if (cut === undefined) {
          return {
            status: 409,
            error:
              `The row was changed or taken out in ${table}.csv by hand since, so it is left as it is; the leader mends it there.`,
          };
        }
        await this.#note({ ...known.entry, who, act: "undo" });
        await this.#replace(`${table}.csv`, cut);
        return { status: 200, lines };
      })
    );
  }

  async #replace(file: string, bytes: Uint8Array | "gone"): Promise<void> {
    const path = join(this.path, file);
    if (bytes === "gone") {
      await Deno.remove(path);
      await syncFolder(this.path);
    } else {
      const beside = join(this.path, `${MARK}${crypto.randomUUID()}.part`);
      await replaceSynced(path, bytes, beside);
    }
  }

  /** The table's bytes without an entry's rows; nothing where they do not all stand there as they were written. */
  async #without({ table, lines, text }: HistoryEntry): Promise<
    Uint8Array | "gone" | undefined
  > {
    const there = await this.#table(table);
    if (there === undefined) return undefined;
    const { rows, header } = rowsOfEntry(text, lines.length);
    const pieces = piecesOf(there.text), taken = new Set<number>();
    for (const [i, row] of rows.entries()) {
      const found = nearestTo((lines[i] ?? 1) - 1, pieces, row, taken);
      if (found === undefined) return undefined;
      taken.add(found);
    }
    const kept = pieces.filter((_, at) => !taken.has(at)).join("");
    if (header !== "" && kept === header) return "gone";
    const mark = markLength(there.bytes);
    const body = encoded(kept, there.encoding);
    const bytes = new Uint8Array(mark + body.length);
    bytes.set(there.bytes.subarray(0, mark));
    bytes.set(body, mark);
    return bytes;
  }

  /**
   * Entries that stand in the journal and no more in their table as they were sent: a hand has mended them or taken them
   * out, or an editor has saved an older copy over them. It is the leader who knows which.
   *
   * @param since  ISO time; what came before it is not looked at
   */
  async gone(since: string): Promise<readonly HistoryEntry[]> {
    const entries = [...knownIds(await this.history()).values()]
      .filter(({ state, entry }) => state === "stands" && entry.act === "add" && entry.at >= since)
      .map(({ entry }) => entry);
    const found: HistoryEntry[] = [];
    for (const [table, own] of Map.groupBy(entries, ({ table }) => table)) {
      const text = (await this.#table(table).catch(() => undefined))?.text ?? "";
      const spare = new Map<string, number>();
      for (const piece of piecesOf(text)) {
        spare.set(bare(piece), (spare.get(bare(piece)) ?? 0) + 1);
      }
      for (const entry of own) {
        const { rows } = rowsOfEntry(entry.text, entry.lines.length);
        const isThere = rows.every((row) => (spare.get(bare(row)) ?? 0) > 0);
        for (const row of rows) spare.set(bare(row), (spare.get(bare(row)) ?? 0) - 1);
        if (!isThere) found.push(entry);
      }
    }
    return found;
  }

  /** Puts the rows of such an entry behind the table again, as they were sent. */
  putBack(table: string, id: string, who: Who): Promise<Outcome> {
    return this.#inTurn(() =>
      this.#guarded(async () => {
        const entry = (await this.gone("")).find((one) => one.id === id && one.table === table);
        if (entry === undefined) {
          return { status: 404, error: "Nothing that was entered under this id is missing." };
        }
        const there = await this.#table(table),
          { rows, header } = rowsOfEntry(entry.text, entry.lines.length);
        const text = there?.text ?? "", end = /[\r\n]$/.test(text) || text === "" ? "" : "\n";
        const added = (text === "" ? header : end) + rows.join("");
        const first = piecesOf(text === "" ? header : text).length + 1;
        const lines = rows.map((_, at) => first + at);
        await this.#note({ id, who, table, lines, act: "add", text: added });
        const bytes = encoded(added, there?.encoding ?? "utf-8");
        if (await this.#put(`${table}.csv`, there, bytes, id, who, table)) {
          return { status: 200, lines };
        }
        return { status: 409, error: `${table}.csv is being changed by hand just now; try again.` };
      })
    );
  }

  /**
   * Keeps a picture.
   *
   * @param bytes  all of it
   * @param type   what the phone says it is
   */
  addPhoto(id: string, who: Who, bytes: Uint8Array, type: string): Promise<Outcome> {
    return this.#inTurn(() =>
      this.#guarded(async () => {
        const known = (await this.#ids()).get(id);
        if (known !== undefined) return { status: 200, path: known.entry.text };
        const kind = pictureKind(bytes), wrong = whyNoPicture(kind, type);
        if (wrong !== undefined) return { status: 415, error: wrong };
        const name = await this.#photoName(kind === "png" ? "png" : "jpg");
        const path = `photos/${name}`, beside = this.#pending(id);
        await this.#photosFolder();
        try {
          await writeSynced(beside, bytes);
          await this.#note({ id, who, table: "photos", lines: [], act: "photo", text: path });
        } catch (error) {
          await Deno.remove(beside).catch(() => undefined);
          throw error;
        }
        await Deno.rename(beside, join(this.path, path));
        await syncFolder(join(this.path, "photos"));
        return { status: 201, path };
      })
    );
  }

  #pending(id: string): string {
    return join(this.path, `${MARK}photo-${hash(id)}.part`);
  }

  async #photosFolder(): Promise<void> {
    const path = join(this.path, "photos");
    const there = await Deno.lstat(path).catch(() => undefined);
    if (there?.isDirectory === true) return;
    if (there !== undefined) {
      throw new Unkept("photos is no folder of this bench; the leader puts a folder there.");
    }
    await Deno.mkdir(path);
    await syncFolder(this.path);
  }

  /** A name by day and time of the clock that no picture has yet. */
  async #photoName(ending: string): Promise<string> {
    const day = this.now().toISOString().slice(0, 16).replace(/[:T]/g, "-");
    for (let count = 1;; count++) {
      const name = `${day}-${count}.${ending}`;
      if (await Deno.lstat(join(this.path, "photos", name)).then(() => false, () => true)) {
        return name;
      }
    }
  }

  /**
   * Puts right what a crash may have left between journal and table, before anything else is done.
   *
   * @param crashed  the last process ended without closing; else somebody may have mended the tables by hand since
   * @returns in words what was done, for the log
   */
  recover(crashed: boolean): Promise<string | undefined> {
    return this.#inTurn(async () => {
      const text = new TextDecoder().decode(await this.#read(JOURNAL) ?? new Uint8Array());
      const { entries, torn } = readHistory(text);
      let said: string | undefined;
      if (torn > 0) {
        const whole = new TextEncoder().encode(text.slice(0, -torn));
        await Deno.truncate(join(this.path, JOURNAL), whole.length);
        said = "a torn line of history.csv was struck";
      }
      const last = entries.at(-1);
      if (last !== undefined) said = await this.#settle(last, crashed) ?? said;
      await this.#sweep();
      this.#known = undefined;
      return said;
    });
  }

  async #settle(last: HistoryEntry, crashed: boolean): Promise<string | undefined> {
    if (last.act === "photo") return await this.#settlePhoto(last);
    if (last.act === "undo") {
      const cut = crashed ? await this.#without(last) : undefined;
      if (cut === undefined) return undefined;
      await this.#replace(`${last.table}.csv`, cut);
      return "an entry that was taken back was taken out";
    }
    if (last.act !== "add") return undefined;
    const bytes = await this.#read(`${last.table}.csv`).catch(() => undefined);
    const rest = missingOf(bytes ?? new Uint8Array(), last);
    if (rest === undefined || rest.length === 0) return undefined;
    if (!crashed) {
      await this.#strike(last.id, "leader", last.table);
      return "an entry whose row is not there was struck";
    }
    await appendSynced(join(this.path, `${last.table}.csv`), rest, bytes?.length ?? 0);
    return "an entry whose row was not all there was completed";
  }

  async #settlePhoto(last: HistoryEntry): Promise<string | undefined> {
    const path = join(this.path, last.text);
    if (await Deno.lstat(path).then(() => true, () => false)) return undefined;
    const beside = this.#pending(last.id);
    if (await Deno.lstat(beside).then(() => true, () => false)) {
      await this.#photosFolder();
      await Deno.rename(beside, path);
      await syncFolder(join(this.path, "photos"));
      return "a picture was put into its place";
    }
    await this.#strike(last.id, "leader", "photos");
    return "a picture that never came was struck";
  }

  /** Takes away what was written half and never named. */
  async #sweep(): Promise<void> {
    for await (const { name, isFile } of Deno.readDir(this.path)) {
      if (isFile && name.startsWith(MARK) && name.endsWith(".part")) {
        await Deno.remove(join(this.path, name));
      }
    }
  }
}

/** What the reader refuses of a record, its photographs not looked at. */
async function refusalsOf(
  folder: string,
  today: string,
  instead?: ReadonlyMap<string, Uint8Array<ArrayBuffer>>,
): Promise<readonly Refusal[]> {
  try {
    await readRecord(folder, today, instead, { photos: true });
    return [];
  } catch (error) {
    if (error instanceof RecordRefused) return error.refusals;
    throw error;
  }
}

function unkept(findings: Findings): string {
  const [first] = findings.refusals;
  return `Nothing can be added before the file is mended: ${
    first === undefined ? "it cannot be read." : describe(first)
  }`;
}

/** The rows of an entry's text, each with its line end, and the header of a table that it began. */
function rowsOfEntry(text: string, count: number): { rows: string[]; header: string } {
  const pieces = piecesOf(text), rows = pieces.slice(-count);
  const before = pieces.slice(0, -count).join("");
  return { rows, header: before.trim() === "" ? "" : before };
}

/** A text in its lines, each with its line end. */
function piecesOf(text: string): string[] {
  return text.match(/[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+$/g) ?? [];
}

const bare = (piece: string): string => piece.replace(/[\r\n]+$/, "");

/** Where a row stands: its own line, else the nearest that is the same. */
function nearestTo(
  wanted: number,
  pieces: readonly string[],
  row: string,
  taken: ReadonlySet<number>,
): number | undefined {
  let best: number | undefined;
  for (const [at, piece] of pieces.entries()) {
    if (taken.has(at) || bare(piece) !== bare(row)) continue;
    if (best === undefined || Math.abs(at - wanted) < Math.abs(best - wanted)) best = at;
  }
  return best;
}

/**
 * What is missing of an entry at its table's end: none or all of it, or what a crash has cut off; nothing where something
 * else stands there, which a hand has written.
 */
function missingOf(
  bytes: Uint8Array<ArrayBuffer>,
  { lines: [first = 1], text }: HistoryEntry,
): Uint8Array<ArrayBuffer> | undefined {
  const encoding = encodingOf(bytes), added = encoded(text, encoding);
  const gap = /^(?:\r\n|\r|\n)?/.exec(text)?.[0] ?? "";
  for (let there = Math.min(added.length, bytes.length); there >= 0; there--) {
    const from = bytes.length - there;
    if (!added.subarray(0, there).every((byte, at) => byte === bytes[from + at])) continue;
    const before = from === 0
      ? ""
      : decodeText(bytes.slice(0, from), "", new Findings())?.concat(gap);
    const isBegun = from === 0 && first > 1;
    const line = before?.split(/\r\n|\r|\n/).length;
    if (isBegun || line === first) return added.slice(there);
  }
  return undefined;
}

/** Bytes of the mark of the byte order at a file's beginning. */
function markLength(bytes: Uint8Array): number {
  const [a, b, c] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) return 3;
  return (a === 0xff && b === 0xfe) || (a === 0xfe && b === 0xff) ? 2 : 0;
}

/** A short name of an id, fit for a file. */
function hash(id: string): string {
  let sum = 5381;
  for (const sign of id) sum = (sum * 33 + (sign.codePointAt(0) ?? 0)) % 4_294_967_296;
  return `${sum.toString(16)}-${id.replace(/[^\w-]/g, "").slice(0, 40)}`;
}

/** Why what was sent is not kept as a picture. */
function whyNoPicture(
  kind: ReturnType<typeof pictureKind>,
  type: string,
): string | undefined {
  const said = plainLine(type).split(";")[0]?.trim().toLowerCase() ?? "";
  const wanted = { "image/jpeg": "jpeg", "image/png": "png" }[said];
  if (wanted === undefined) {
    return "A photograph comes as JPEG or PNG, and says so; a phone’s HEIC is saved as JPEG first.";
  }
  if (kind !== wanted) return `What was sent is no ${wanted.toUpperCase()} picture.`;
  return undefined;
}

/** A class as the server holds it: benches, what is known of each, and what changed; the folders stay the one truth. */
import { basename, join } from "node:path";
import { type ClassNow, classNow } from "../knowledge/classLines.ts";
import {
  type ClassOfRecords,
  foldersIn,
  type Member,
  withSlips,
} from "../knowledge/classOfRecords.ts";
import { clean } from "../record/clean.ts";
import { type ClassSettings, readClassSettings } from "../record/classSettings.ts";
import { describe, Findings } from "../record/errors.ts";
import { decodeText } from "../record/files.ts";
import { dayNow } from "../record/readRecord.ts";
import { TABLES } from "../record/schema.ts";
import { BenchFolder } from "./benchFolder.ts";
import { asDiskRefused, replaceSynced } from "./disk.ts";
import type { Events } from "./events.ts";
import type { HistoryEntry } from "./history.ts";
import type { Answer, NextWords, Question } from "./reckoner.ts";

/** Asks the process that reckons. */
export type Ask = (question: Question, isSlow?: boolean) => Promise<Answer>;

/** A bench of the room. */
export interface Seat {
  /** name of its folder */
  readonly folder: string;
  /** what the folder is: "record", "empty", or why it is none */
  readonly kind: string;
  readonly files: BenchFolder;
  /** what was last reckoned */
  member?: Member;
  /** when its last entry came in, ISO */
  lastAt?: string;
  /** today's entries that are no more in their table as they were sent */
  gone?: readonly HistoryEntry[];
  /** everything of the mirror, photographs too, as of a state of its files */
  whole?: { readonly stamp: string; readonly answer: Answer };
}

/** How a room is set up. */
export interface RoomOptions {
  /** path of the class's folder */
  readonly folder: string;
  readonly ask: Ask;
  readonly events: Events;
  /** ISO date, where the clock is wrong */
  readonly today?: string;
  /** a line for the log; no key ever stands in one */
  readonly log: (line: string) => void;
}

/** So long an answer waits for what is being reckoned, ms; then it tells what is known. */
const PATIENCE = 1500;

/** A place for what the room itself has to keep. */
export const OWN_FOLDER = ".room";

/** The class, served. */
export class Room {
  readonly seats = new Map<string, Seat>();
  settings: ClassSettings = {};
  /** what class.yaml is refused for */
  settingsRefused: readonly string[] = [];
  pinned: readonly string[] = [];
  readonly #changed = new Map<string, Set<string>>();
  readonly #stamps = new Map<string, string>();
  #reckoning: Promise<void> = Promise.resolve();
  #isReckoning = false;
  /** the bench that is reckoned just now, and until when */
  #under: { readonly folder: string; readonly over: Promise<void> } | undefined;
  /** the bench that somebody waits for: it is reckoned next */
  #wanted: string | undefined;
  #day = "";

  constructor(private readonly options: RoomOptions) {}

  get folder(): string {
    return this.options.folder;
  }

  /** The day it is. */
  get today(): string {
    return this.options.today ?? dayNow();
  }

  /** Looks at every folder, puts right what a crash left, and reckons the class once. */
  async start(crashed: boolean): Promise<void> {
    this.pinned = await this.#readPins();
    await this.look();
    for (const { folder, files, kind } of this.seats.values()) {
      if (!isFolder(kind)) continue;
      const said = await files.recover(crashed).catch((error: unknown) =>
        asDiskRefused(error).message
      );
      if (said !== undefined) this.options.log(`${folder}: ${said}`);
    }
    for (const folder of this.seats.keys()) this.#stampAll(folder);
    await this.#lastEntries();
    this.changed([...this.seats.keys()]);
  }

  async #lastEntries(): Promise<void> {
    for (const seat of this.seats.values()) {
      const last = await seat.files.history().then((all) => all.at(-1)?.at, () => undefined);
      if (last !== undefined) seat.lastAt = last;
    }
  }

  /** Looks again at which folders there are, and at class.yaml. */
  async look(): Promise<void> {
    await this.#readSettings();
    const found = await foldersIn(this.folder);
    const names = new Set(found.map(({ name }) => name));
    for (const folder of this.seats.keys()) {
      if (!names.has(folder)) this.seats.delete(folder);
    }
    const before = new Map(this.seats);
    this.seats.clear();
    for (const { name, kind } of found) {
      const seat = before.get(name);
      const files = seat?.files ?? new BenchFolder(join(this.folder, name));
      const { member, whole, lastAt, gone } = seat ?? {};
      this.seats.set(name, {
        ...{ folder: name, kind, files },
        ...(member === undefined || kind !== seat?.kind ? {} : { member }),
        ...(whole === undefined ? {} : { whole }),
        ...(gone === undefined ? {} : { gone }),
        ...(lastAt === undefined ? {} : { lastAt }),
      });
    }
  }

  async #readSettings(): Promise<void> {
    const findings = new Findings();
    const bytes = await Deno.readFile(join(this.folder, "class.yaml")).catch(() => undefined);
    const text = bytes && decodeText(bytes, "class.yaml", findings);
    this.settings = text === undefined ? {} : readClassSettings(text, findings);
    this.settingsRefused = findings.refusals.map(describe);
  }

  async #readPins(): Promise<readonly string[]> {
    const text = await Deno.readTextFile(join(this.folder, OWN_FOLDER, "pins.json"))
      .catch(() => "[]");
    try {
      const pins: unknown = JSON.parse(text);
      return Array.isArray(pins) ? pins.filter((one) => typeof one === "string") : [];
    } catch {
      return [];
    }
  }

  /** Whether anything of this name stands in the class's folder. */
  async isThere(name: string): Promise<boolean> {
    return await Deno.lstat(join(this.folder, name)).then(() => true, () => false);
  }

  /** Puts a bench first, or no more. */
  async pin(folder: string, isFirst: boolean): Promise<void> {
    const others = this.pinned.filter((one) => one !== folder);
    this.pinned = isFirst ? [...others, folder] : others;
    const path = join(this.folder, OWN_FOLDER, "pins.json");
    const text = new TextEncoder().encode(`${JSON.stringify(this.pinned)}\n`);
    await replaceSynced(path, text, `${path}.part`, 0o600);
    this.#tell(folder, "");
  }

  /** Says that benches have changed: they are reckoned anew, each once however often it changed meanwhile. */
  changed(folders: readonly string[], table = ""): void {
    for (const folder of folders) {
      const tables = this.#changed.get(folder) ?? new Set();
      this.#changed.set(folder, tables.add(table));
    }
    if (this.#isReckoning || this.#changed.size === 0) return;
    this.#isReckoning = true;
    this.#reckoning = this.#reckon();
  }

  async #reckon(): Promise<void> {
    for (;;) {
      const wanted = this.#wanted, [next] = this.#changed;
      this.#wanted = undefined;
      if (next === undefined) {
        // at once, so that what changes from now on begins anew
        this.#isReckoning = false;
        return;
      }
      const folder = wanted !== undefined && this.#changed.has(wanted) ? wanted : next[0];
      const tables = this.#changed.get(folder) ?? next[1], over = Promise.withResolvers<void>();
      this.#changed.delete(folder);
      this.#under = { folder, over: over.promise };
      const seat = this.seats.get(folder);
      if (seat !== undefined && seat.kind === "record") {
        const path = join(this.folder, folder);
        const answer = await this.options.ask({ kind: "row", folder: path, today: this.today })
          .catch((error: unknown): Answer => ({ fault: String(error) }));
        if ("fault" in answer) this.options.log(`${folder}: ${answer.fault}`);
        const now = this.seats.get(folder);
        if (now !== undefined) now.member = memberOf(answer, folder, seat.member);
      }
      this.#under = undefined;
      over.resolve();
      for (const table of tables) this.#tell(folder, table);
    }
  }

  #tell(folder: string, table: string): void {
    const step = this.nextOf(folder);
    this.options.events.tell({
      bench: folder,
      table,
      ...(step === undefined ? {} : { next_step: step }),
    });
  }

  /** A bench's next step, as far as it is known. */
  nextOf(folder: string): string | undefined {
    const member = this.seats.get(folder)?.member;
    if (member === undefined) return undefined;
    return "row" in member ? member.row.do : member.unreadable.rest?.do;
  }

  /**
   * Waits until what has changed so far is reckoned, but not for ever.
   *
   * @param folder  a bench that is waited for alone: it comes before the others
   */
  async settled(folder?: string): Promise<void> {
    let timer: ReturnType<typeof setTimeout> | undefined;
    const enough = new Promise<void>((done) => void (timer = setTimeout(done, PATIENCE)));
    await Promise.race([folder === undefined ? this.#reckoning : this.#known(folder), enough]);
    clearTimeout(timer);
  }

  /** Until a bench is reckoned as it stands. */
  async #known(folder: string): Promise<void> {
    while (this.#under !== undefined) {
      if (!this.#changed.has(folder) && this.#under.folder !== folder) return;
      this.#wanted = folder;
      await this.#under.over;
    }
  }

  /** The class as data. */
  many(): ClassOfRecords {
    const seats = [...this.seats.values()];
    const rows = seats.flatMap(({ folder, member }) =>
      member !== undefined && "row" in member ? [{ ...member.row, record: folder }] : []
    );
    const unreadable = seats.flatMap(({ folder, kind, member }) => {
      if (kind !== "record") return [];
      if (member === undefined) {
        return [{ record: folder, why: ["it is being read just now"], refusals: 1 }];
      }
      return "row" in member ? [] : [{ ...member.unreadable, record: folder }];
    });
    const others = seats.filter(({ kind }) => kind !== "record")
      .map(({ folder, kind }) => ({ folder, what: kind }));
    return {
      name: clean(basename(this.folder)),
      rows: withSlips(rows),
      unreadable,
      others,
      today: this.today,
    };
  }

  /** The class in the leader's order. */
  now(): ClassNow {
    return classNow(this.many(), this.settings, this.pinned);
  }

  /** Everything of one mirror, photographs too, as its files stand now. */
  async whole(folder: string): Promise<Answer> {
    const seat = this.seats.get(folder);
    const stamp = `${this.today} ${await stampOf(join(this.folder, folder))}`;
    if (seat?.whole?.stamp === stamp) return seat.whole.answer;
    const has = (file: string): Promise<boolean> =>
      Deno.stat(join(this.folder, folder, file)).then(() => true, () => false);
    const hasPhotos = await has("ronchi.csv") || await has("star.csv") || await has("knife.csv");
    const answer = await this.options.ask(
      { kind: "summary", folder: join(this.folder, folder), today: this.today },
      hasPhotos,
    );
    if (seat !== undefined && !("fault" in answer)) seat.whole = { stamp, answer };
    return answer;
  }

  /** A file of a bench's own part of its book. */
  async bookFile(folder: string, file: string): Promise<Answer> {
    const path = join(this.folder, folder);
    const answer = await this.options.ask({ kind: "book", folder: path, file, today: this.today });
    if ("fault" in answer) this.options.log(`${folder}, its book: ${answer.fault}`);
    return answer;
  }

  /** The class as Parquet. */
  async parquet(): Promise<Answer> {
    const answer = await this.options.ask({
      kind: "parquet",
      many: this.many(),
      now: this.now(),
    });
    if ("fault" in answer) this.options.log(`class.parquet: ${answer.fault}`);
    return answer;
  }

  /** The next step of a bench in all its words; what the photographs say is in it where there are some. */
  async nextWords(folder: string): Promise<NextWords | undefined> {
    const answer = await this.whole(folder);
    if ("next" in answer) return answer.next;
    const member = this.seats.get(folder)?.member;
    const row = member === undefined
      ? undefined
      : "row" in member
      ? member.row
      : member.unreadable.rest;
    if (row === undefined) return undefined;
    const { stage, do: step, until, caution } = row;
    return { stage, do: step, until, why: "", caution };
  }

  /** Remembers how a bench's files stand, so that what the room has written itself is not taken for a hand's. */
  async #stampAll(folder: string): Promise<void> {
    this.#stamps.set(folder, await stampOf(join(this.folder, folder)));
  }

  /** After an entry of the room's own: what it changed is known, and when. */
  async written(folder: string, table: string): Promise<void> {
    const seat = this.seats.get(folder);
    if (seat !== undefined) seat.lastAt = new Date().toISOString();
    if (seat?.gone !== undefined && seat.gone.length > 0) await this.#lookForGone(folder);
    const before = seat?.kind;
    await this.#stampAll(folder);
    if (before !== "record") await this.look();
    this.changed([folder], table);
  }

  /** Watches for what hands change, until the signal; where the system cannot tell, looks every two seconds. */
  async watch(signal: AbortSignal): Promise<void> {
    const dirty = new Set<string>();
    const look = (): void => void this.#lookAt(dirty).catch(() => undefined);
    const timer = setInterval(() => {
      if (this.#day !== this.today) {
        this.#day = this.today;
        this.changed([...this.seats.keys()]);
      }
      if (dirty.size > 0) look();
    }, 250);
    signal.addEventListener("abort", () => clearInterval(timer));
    this.#day = this.today;
    const all = setInterval(() => {
      for (const folder of this.seats.keys()) dirty.add(folder);
      dirty.add("");
    }, 5000);
    signal.addEventListener("abort", () => clearInterval(all));
    try {
      const watcher = Deno.watchFs(this.folder, { recursive: true });
      signal.addEventListener("abort", () => watcher.close());
      for await (const { paths } of watcher) {
        for (const path of paths) {
          const [folder = "", file = ""] = path.slice(this.folder.length + 1).split(/[\\/]/);
          if (folder === OWN_FOLDER || file.startsWith(".") || file === "history.csv") continue;
          dirty.add(file === "" ? "" : folder);
        }
      }
    } catch { /* looked at by the clock alone */ }
  }

  /** After a hand has been in a folder: which of today's entries are no more there as they were sent. */
  async #lookForGone(folder: string): Promise<void> {
    const seat = this.seats.get(folder);
    if (seat === undefined || !isFolder(seat.kind)) return;
    const midnight = new Date();
    midnight.setHours(0, 0, 0, 0);
    seat.gone = await seat.files.gone(midnight.toISOString()).catch(() => []);
  }

  async #lookAt(dirty: Set<string>): Promise<void> {
    const folders = [...dirty];
    dirty.clear();
    if (folders.includes("")) {
      const before = JSON.stringify([[...this.seats.values()].map(kindOf), this.settings]);
      await this.look();
      const now = [...this.seats.values()];
      if (before !== JSON.stringify([now.map(kindOf), this.settings])) {
        this.changed(now.map(({ folder }) => folder));
      }
    }
    for (const folder of folders) {
      const seat = this.seats.get(folder);
      if (seat === undefined) continue;
      if (seat.files.waiting > 0) {
        dirty.add(folder);
        continue;
      }
      const stamp = await stampOf(join(this.folder, folder));
      const before = this.#stamps.get(folder);
      if (before === stamp) continue;
      this.#stamps.set(folder, stamp);
      await this.look();
      await this.#lookForGone(folder);
      this.changed([folder], changedTable(before ?? "", stamp));
    }
  }
}

const kindOf = ({ folder, kind }: Seat): string => `${folder} ${kind}`;

/** Whether entries can be written into what stands there. */
export function isFolder(kind: string): boolean {
  return !kind.startsWith("a link");
}

/** Which table two states of a folder differ in; "" where it is none, or more than one. */
function changedTable(before: string, after: string): string {
  const old = new Set(before.split("\n"));
  const files = after.split("\n").filter((line) => !old.has(line))
    .map((line) => line.split("\t")[0] ?? "");
  const [first = ""] = files, table = first.replace(/\.csv$/, "");
  return files.length === 1 && TABLES.some((one) => one === table) ? table : "";
}

function memberOf(answer: Answer, record: string, before: Member | undefined): Member {
  if ("member" in answer) return answer.member;
  const why = "fault" in answer ? answer.fault : "it could not be reckoned just now";
  return before ?? {
    unreadable: {
      ...{ record, why: ["the kit has a fault here; the record is not to blame"], refusals: 1 },
      fault: { name: "Error", message: why, stack: "" },
    },
  };
}

/** How a folder's files stand: names, sizes, times; what the room itself keeps there does not count. */
async function stampOf(folder: string): Promise<string> {
  const lines: string[] = [];
  const list = async (path: string, inside: string): Promise<void> => {
    for await (const { name, isFile, isDirectory } of Deno.readDir(path)) {
      if (name.startsWith(".") || name === "history.csv") continue;
      if (isDirectory && name === "photos" && inside === "") {
        await list(join(path, name), "photos/");
      }
      if (!isFile) continue;
      const { size, mtime } = await Deno.stat(join(path, name));
      lines.push(`${inside}${name}\t${size}\t${mtime?.getTime() ?? 0}`);
    }
  };
  await list(folder, "").catch(() => lines.push("gone"));
  return lines.sort().join("\n");
}

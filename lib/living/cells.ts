/** The cells of a page and what they gave: run in a thread that can be stopped, marked where they hold no longer. */
import { type CellNames, Dependence, noNames } from "./dependence.ts";
import type {
  Asked,
  Beginning,
  ReadAnswer,
  RunAnswer,
  Said,
  ShownOutput,
  Stopped,
} from "./messages.ts";

/** What can be said of a cell's output. */
export type CellState = "as built" | "stale" | "running" | "done" | "failed";

/** A thread that runs cells; a browser's worker is one. */
export interface CellThread {
  postMessage(message: { readonly number: number } & Asked): void;
  terminate(): void;
  onmessage: ((event: { readonly data: Said }) => void) | null;
  onerror: ((event: { readonly message?: string; preventDefault?(): void }) => void) | null;
}

/** What there is of a cell for the page to show. */
export interface CellView {
  /** number among the notebook's code cells, from 0 */
  readonly cell: number;
  readonly state: CellState;
  /** what it says now */
  readonly source: string;
  /** what it gave in its last run; absent where what was built stands */
  readonly shown?: readonly ShownOutput[];
  readonly stopped?: Stopped;
  /** how long the run took, s */
  readonly seconds?: number;
  /** for a stale one, the cell that changed */
  readonly since?: number;
}

/** What a run gave. */
export interface CellResult {
  /** the notebook's `text/plain`, or the sentence that says why it stopped */
  readonly text: string;
  readonly failed: boolean;
}

/** What the cells need of a page. */
export interface CellsOptions {
  /** the cells as the book was built */
  readonly sources: readonly string[];
  readonly thread: () => CellThread;
  readonly begin: () => Beginning;
  /** told of every change of a cell */
  readonly onChange: (view: CellView) => void;
  /** how long a cell may take, s; default 30 */
  readonly seconds?: number;
}

/** What is said of a cell that its reader stopped. */
export const stoppedByReader = (line?: number): string =>
  `stopped by you${
    line === undefined ? "" : ` in line ${line}`
  }; the cells above are as they were.`;

interface Cell {
  readonly built: string;
  /** what stands in the field */
  source: string;
  /** what was run last, or built */
  ran: string;
  names: CellNames;
  /** names that its last run gave the thread */
  gave: readonly string[];
  state: CellState;
  shown: readonly ShownOutput[] | undefined;
  stopped: Stopped | undefined;
  seconds: number | undefined;
  /** stamp under which the output stands */
  stamp: string;
  /** stamp under which its names have their values in the thread; none where they have none there */
  live: string | undefined;
  /** number of its last run in the thread */
  order: number;
  /** how often it ran again on what it had changed already */
  again: number;
  /** marked stale whatever the stamps say, until it runs */
  doubted: boolean;
  since: number | undefined;
}

const isStopped = (answer: ReadAnswer): answer is Stopped => "says" in answer;

/** A thread ended before it answered. */
class Ended extends Error {
  constructor(readonly says: string) {
    super(says);
  }
}

/** All cells of a page. */
export class Cells {
  readonly #cells: Cell[];
  readonly #seconds: number;
  #thread: CellThread | undefined;
  #waiting = new Map<number, { done(answer: unknown): void; failed(reason: Error): void }>();
  #number = 0;
  #order = 0;
  #record = "";
  #line: number | undefined;
  /** runs wait for one another */
  #last: Promise<unknown> = Promise.resolve();
  #reading: Promise<void> | undefined;
  #running: number | undefined;

  constructor(private readonly options: CellsOptions) {
    this.#seconds = options.seconds ?? 30;
    this.#cells = options.sources.map((source) => ({
      built: source,
      source,
      ran: source,
      names: noNames,
      gave: [],
      state: "as built",
      shown: undefined,
      stopped: undefined,
      seconds: undefined,
      stamp: "",
      live: undefined,
      order: 0,
      again: 0,
      doubted: false,
      since: undefined,
    }));
  }

  /** How many there are. */
  get count(): number {
    return this.#cells.length;
  }

  /** How a cell stands. */
  view(n: number): CellView {
    const { state, source, shown, stopped, seconds, since } = this.#cell(n);
    return {
      cell: n,
      state,
      source,
      ...(shown !== undefined && { shown }),
      ...(stopped !== undefined && { stopped }),
      ...(seconds !== undefined && { seconds }),
      ...(state === "stale" && since !== undefined && { since }),
    };
  }

  /** What stands in a cell's field, not run yet. */
  write(n: number, source: string): void {
    this.#cell(n).source = source;
  }

  /**
   * Runs a cell, and first what it needs and has not run.
   *
   * @param n       its number, from 0
   * @param source  what to run in place of what stands in it
   */
  run(n: number, source?: string): Promise<CellResult> {
    return this.#inTurn(async () => {
      if (source !== undefined) this.#cell(n).source = source;
      return await this.#runWithNeeds(n);
    });
  }

  /** Runs a stale cell, and then what is stale below it. */
  runOn(n: number): Promise<CellResult> {
    return this.#inTurn(async () => {
      const first = await this.#runWithNeeds(n);
      for (let at = n + 1; at < this.#cells.length; at++) {
        if (this.#cell(at).state === "stale") await this.#runWithNeeds(at);
      }
      return first;
    });
  }

  /**
   * Runs all cells from the top, in a thread that has nothing in it.
   *
   * @param onCell  told before each
   * @returns how many ended without an error
   */
  runAll(onCell: (n: number) => void = () => {}): Promise<number> {
    return this.#inTurn(async () => {
      if (this.#order > 0) this.#end(new Ended("begun anew"));
      let well = 0;
      for (let n = 0; n < this.#cells.length; n++) {
        onCell(n);
        const { failed } = await this.#runWithNeeds(n);
        if (!failed) well += 1;
      }
      return well;
    });
  }

  /** Stops what runs; the cells above are run anew when they are needed. */
  stop(): void {
    if (this.#running === undefined) return;
    this.#end(new Ended(stoppedByReader(this.#line)));
  }

  /** A cell as it was built, with what it gave then. */
  asItWas(n: number): Promise<void> {
    if (this.#running === n) this.stop();
    return this.#inTurn(async () => {
      await this.#read();
      const cell = this.#cell(n), changed = cell.ran !== cell.built;
      const resting = new Set(this.#dependence().restingOn(n));
      cell.source = cell.ran = cell.built;
      cell.shown = cell.stopped = cell.seconds = undefined;
      cell.state = "as built";
      cell.doubted = false;
      if (changed) {
        cell.live = undefined;
        await this.#readAll([n]);
        await this.#letGo(cell);
        for (const at of this.#dependence().restingOn(n)) resting.add(at);
      }
      cell.stamp = this.#stamps()[n] ?? "";
      this.#tell(n);
      if (changed) { for (const at of resting) this.#doubt(at, n); }
    });
  }

  /** The record is another now: what rests on it is stale, and cells read it anew. */
  recordChanged(record: string): Promise<void> {
    return this.#inTurn(async () => {
      await this.#read();
      this.#record = record;
      this.#end(new Ended("the record is another now"));
      this.#markStale(undefined);
    });
  }

  #cell(n: number): Cell {
    const cell = this.#cells[n];
    if (cell === undefined) {
      throw new RangeError(`there is no cell ${n}; the page has ${this.#cells.length}, from 0`);
    }
    return cell;
  }

  #inTurn<T>(act: () => Promise<T>): Promise<T> {
    const now = this.#last.then(act);
    this.#last = now.catch(() => {});
    return now;
  }

  #tell(n: number): void {
    this.options.onChange(this.view(n));
  }

  #dependence(): Dependence {
    return new Dependence(this.#cells.map(({ names }) => names));
  }

  #stamps(): string[] {
    return this.#dependence().stamps(
      this.#cells.map(({ ran }) => ran),
      this.#record,
      this.#cells.map(({ again }) => again),
    );
  }

  /** Reads all cells once, as built: outputs stand under the stamps they have then. */
  #read(): Promise<void> {
    return this.#reading ??= (async () => {
      await this.#readAll(this.#cells.map((_, n) => n), ({ built }) => built);
      this.#stamps().forEach((stamp, n) => this.#cell(n).stamp = stamp);
    })().catch((reason) => {
      this.#reading = undefined;
      throw reason;
    });
  }

  async #readAll(
    places: readonly number[],
    sourceOf: (cell: Cell) => string = ({ ran }) => ran,
  ): Promise<void> {
    const sources = places.map((n) => sourceOf(this.#cell(n)));
    const answers = await this.#ask({ ask: "read", sources }) as ReadAnswer[];
    answers.forEach((answer, i) => {
      this.#cell(places[i] ?? 0).names = isStopped(answer) ? noNames : answer;
    });
  }

  async #runWithNeeds(n: number): Promise<CellResult> {
    const cell = this.#cell(n);
    try {
      await this.#read();
      const [answer] = await this.#ask({ ask: "read", sources: [cell.source] }) as [ReadAnswer];
      if (isStopped(answer)) return this.#refuse(n, answer);
      const before = cell.names, ran = cell.ran;
      cell.names = answer;
      cell.ran = cell.source;
      const needs = this.#dependence().needs(n).filter((at) => this.#isWanted(at));
      for (const at of needs) {
        if (!this.#isWanted(at)) continue;
        const text = this.#hasFailed(at) ?? await this.#runNeeded(at);
        if (text === undefined) continue;
        cell.names = before;
        cell.ran = ran;
        return this.#refuse(n, { says: `cell ${at + 1}, which this cell needs, stopped: ${text}` });
      }
      return await this.#runOne(n);
    } catch (reason) {
      if (!(reason instanceof Ended)) throw reason;
      return this.#refuse(n, { says: reason.says });
    }
  }

  /** Whether the values of a cell's names are not there as they should be. */
  #isWanted(n: number): boolean {
    const cell = this.#cell(n);
    if (cell.live === undefined || cell.live !== this.#stamps()[n]) return true;
    return this.#dependence().changes(n).some((giver) => this.#cell(giver).order > cell.order);
  }

  /** Why a cell stopped that would stop again: nothing it rests on is another since. */
  #hasFailed(n: number): string | undefined {
    const { state, stamp, stopped } = this.#cell(n);
    return state === "failed" && stamp === this.#stamps()[n] ? stopped?.says : undefined;
  }

  /** Runs a cell for another: as it ran last, or, where it has not run, as it is written. @returns why it stopped */
  async #runNeeded(n: number): Promise<string | undefined> {
    const cell = this.#cell(n);
    if (cell.source !== cell.ran && cell.order === 0) {
      const [answer] = await this.#ask({ ask: "read", sources: [cell.source] }) as [ReadAnswer];
      if (isStopped(answer)) return this.#refuse(n, answer).text;
      cell.names = answer;
      cell.ran = cell.source;
    }
    const { failed, text } = await this.#runOne(n);
    return failed ? text : undefined;
  }

  /** Runs one cell as it stands, and marks what rests on it. */
  async #runOne(n: number): Promise<CellResult> {
    const cell = this.#cell(n), dependence = this.#dependence();
    const changes = dependence.changes(n);
    const repeats = cell.live !== undefined && changes.length > 0 &&
      changes.every((giver) => this.#cell(giver).order < cell.order);
    cell.again = changes.length === 0 ? 0 : repeats ? cell.again + 1 : 0;
    await this.#letGo(cell);
    this.#running = n;
    this.#line = undefined;
    cell.state = "running";
    this.#tell(n);
    const begun = performance.now();
    let answer: RunAnswer;
    try {
      answer = await this.#limited(n, cell);
    } catch (reason) {
      if (!(reason instanceof Ended)) throw reason;
      answer = { shown: [], stopped: { says: reason.says } };
    } finally {
      this.#running = undefined;
    }
    cell.seconds = (performance.now() - begun) / 1000;
    cell.shown = answer.shown;
    cell.stopped = answer.stopped;
    cell.doubted = false;
    cell.since = undefined;
    cell.order = ++this.#order;
    const failed = answer.stopped !== undefined;
    cell.state = failed ? "failed" : "done";
    cell.stamp = this.#stamps()[n] ?? "";
    cell.live = failed || this.#thread === undefined ? undefined : cell.stamp;
    this.#tell(n);
    this.#markStale(n);
    return {
      text: answer.stopped?.says ?? answer.shown.map(({ text }) => text).join("\n"),
      failed,
    };
  }

  /** Names that a cell gave and gives no longer go; who else gives one of them gives it anew where it is needed. */
  async #letGo(cell: Cell): Promise<void> {
    const gone = cell.gave.filter((name) => !cell.names.gives.includes(name));
    cell.gave = cell.names.gives;
    if (gone.length === 0 || this.#thread === undefined) return;
    await this.#ask({ ask: "drop", names: gone });
    for (const other of this.#cells) {
      if (other !== cell && other.names.gives.some((name) => gone.includes(name))) {
        other.live = undefined;
      }
    }
  }

  /** A cell that did not come to run. */
  #refuse(n: number, stopped: Stopped): CellResult {
    const cell = this.#cell(n);
    cell.state = "failed";
    cell.shown = [];
    cell.stopped = stopped;
    cell.seconds = undefined;
    this.#tell(n);
    return { text: stopped.says, failed: true };
  }

  #doubt(n: number, since: number): void {
    const cell = this.#cell(n);
    if (cell.state === "running") return;
    cell.doubted = true;
    cell.since = since;
    if (cell.state !== "failed") cell.state = "stale";
    this.#tell(n);
  }

  /** Marks what no longer stands under its stamp, and what does so again. */
  #markStale(since: number | undefined): void {
    this.#stamps().forEach((stamp, n) => {
      const cell = this.#cell(n);
      if (cell.state === "running" || cell.state === "failed") return;
      const isStale = cell.doubted || stamp !== cell.stamp;
      const state = isStale ? "stale" : cell.shown === undefined ? "as built" : "done";
      if (state === cell.state) return;
      cell.state = state;
      cell.since = isStale ? since : undefined;
      this.#tell(n);
    });
  }

  /** Runs a cell for no longer than it may take. */
  async #limited(n: number, cell: Cell): Promise<RunAnswer> {
    // the nearest above first: whose import it is where several have one of that name
    const above = this.#cells.slice(0, n).toReversed(), below = this.#cells.slice(n + 1);
    const others = [...above, ...below].map(({ ran }) => ran);
    const run = this.#ask({ ask: "run", cell: n, source: cell.ran, others }) as Promise<RunAnswer>;
    const limit = setTimeout(() => void this.#overran(), this.#seconds * 1000);
    try {
      return await run;
    } finally {
      clearTimeout(limit);
    }
  }

  /** Ends a cell that took too long: one that computes does not answer, one that waits does. */
  async #overran(): Promise<void> {
    const line = this.#line === undefined ? "" : ` in line ${this.#line}`;
    const waits = await Promise.race([
      this.#ask({ ask: "free" }).then(() => true, () => false),
      new Promise<false>((done) => setTimeout(() => done(false), 300)),
    ]);
    if (this.#running === undefined) return;
    const why = waits
      ? `still waiting${line} after ${this.#seconds} s, for something that never comes; stopped.`
      : `still computing${line} after ${this.#seconds} s; is there a loop that does not end? Stopped.`;
    this.#end(new Ended(why));
  }

  #ask(asked: Asked): Promise<unknown> {
    const thread = this.#thread ?? this.#start();
    return this.#send(thread, asked);
  }

  #send(thread: CellThread, asked: Asked): Promise<unknown> {
    const number = ++this.#number;
    return new Promise((done, failed) => {
      this.#waiting.set(number, { done, failed });
      thread.postMessage({ number, ...asked });
    });
  }

  #start(): CellThread {
    const thread = this.#thread = this.options.thread();
    thread.onmessage = ({ data }) => {
      // a cell may say what it likes to the page
      if (typeof data !== "object" || data === null || this.#thread !== thread) return;
      if ("at" in data) this.#line = Number(data.at);
      else if ("to" in data) {
        this.#waiting.get(data.to)?.done(data.answer);
        this.#waiting.delete(data.to);
      } else if ("fault" in data) {
        const why = "a cell has changed what the language itself stands on; all begins anew.";
        this.#end(new Ended(`${why} It said: ${data.fault}.`));
      }
    };
    thread.onerror = (event) => {
      event.preventDefault?.();
      if (this.#thread !== thread) return;
      const memory = /memory/i.test(event.message ?? "");
      this.#end(
        new Ended(
          memory
            ? "the cell asked for more memory than there is."
            : "the cell ended the thread it ran in; was that for want of memory?",
        ),
      );
    };
    void this.#send(thread, { ask: "begin", with: this.options.begin() }).catch(() => {});
    return thread;
  }

  /** Ends the thread, whatever it does; no name has a value now. */
  #end(reason: Ended): void {
    this.#thread?.terminate();
    this.#thread = undefined;
    for (const cell of this.#cells) cell.live = undefined;
    const waiting = [...this.#waiting.values()];
    this.#waiting = new Map();
    for (const { failed } of waiting) failed(reason);
  }
}

/**
 * Reckons beside the server, in a process that reaches no network and writes nothing: what a stranger's picture does to a
 * decoder it does here. A line of JSON in, a line out; photographs are reduced in a thread of their own, so that the wall
 * does not wait for them.
 */
import { type Member, readMember } from "../knowledge/classOfRecords.ts";
import type { ClassOfRecords } from "../knowledge/classOfRecords.ts";
import type { ClassNow } from "../knowledge/classLines.ts";
import { openMirror } from "../knowledge/open.ts";
import { summaryText } from "../knowledge/summaryFile.ts";
import { describe, RecordRefused } from "../record/errors.ts";
import { linesOf } from "./lines.ts";

/** What is asked. */
export type Question =
  /** a bench's row, its photographs left out */
  | { readonly kind: "row"; readonly folder: string; readonly today: string }
  /** everything of one mirror, photographs too */
  | { readonly kind: "summary"; readonly folder: string; readonly today: string }
  /** a file of a bench's own part of its book */
  | {
    readonly kind: "book";
    readonly folder: string;
    readonly file: string;
    readonly today: string;
  }
  /** the class as Parquet */
  | { readonly kind: "parquet"; readonly many: ClassOfRecords; readonly now: ClassNow };

/** What is answered. */
export type Answer =
  | { readonly member: Member }
  | { readonly summary: string; readonly next: NextWords }
  | { readonly refusals: readonly string[] }
  | { readonly base64: string }
  | { readonly text: string | null }
  | { readonly fault: string };

/** The next step in the words of the bench's page. */
export interface NextWords {
  readonly stage: string;
  readonly do: string;
  readonly until: string;
  readonly why: string;
  readonly caution: string;
}

/** Makes a file of a bench's own part of its book; nothing where there is none of this name. */
export type BookMaker = (
  folder: string,
  file: string,
  today: string,
) => Promise<string | undefined>;

/** Books are made a layer above. */
let bookMaker: BookMaker | undefined;

async function answer(question: Question): Promise<Answer> {
  try {
    if (question.kind === "book") {
      const { folder, file, today } = question;
      return { text: await bookMaker?.(folder, file, today) ?? null };
    }
    if (question.kind === "row") {
      return { member: await readMember(question.folder, question.today, { photos: true }) };
    }
    if (question.kind === "parquet") {
      const { classParquet } = await import("../knowledge/classParquet.ts");
      return { base64: (await classParquet(question.many, question.now)).toBase64() };
    }
    const { summary } = await openMirror(question.folder, question.today);
    const { stage, do: step, until, why, caution } = summary.nextStep;
    return { summary: summaryText(summary), next: { stage, do: step, until, why, caution } };
  } catch (error) {
    if (error instanceof RecordRefused) return { refusals: error.refusals.map(describe) };
    return { fault: error instanceof Error ? `${error.name}: ${error.message}` : String(error) };
  }
}

/** A question with its number, and the answer with the same. */
export interface Numbered {
  readonly n: number;
  /** for the thread: it may take long, and nothing waits for it */
  readonly slow?: boolean;
}

/** So long a thread without work stays, ms. */
const IDLE = 60_000;

/** The thread for what takes long; ended when it has had nothing to do for a while. */
class SlowThread {
  #worker: Worker | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** numbers of the questions that are out */
  readonly #open = new Set<number>();

  constructor(private readonly reply: (answer: Answer & Numbered) => void) {}

  ask(question: Question & Numbered): void {
    clearTimeout(this.#timer);
    this.#worker ??= this.#started();
    this.#open.add(question.n);
    this.#worker.postMessage(question);
  }

  #started(): Worker {
    const worker = new Worker(import.meta.url, { type: "module" });
    worker.onmessage = ({ data }: MessageEvent<Answer & Numbered>): void => {
      this.reply(data);
      this.#open.delete(data.n);
      if (this.#open.size > 0) return;
      this.#timer = setTimeout(() => this.#end(), IDLE);
    };
    worker.onerror = (event): void => {
      // what does not come back is answered all the same, and the next question begins anew
      event.preventDefault();
      for (const n of this.#open) this.reply({ n, fault: event.message });
      this.#open.clear();
      this.#end();
    };
    return worker;
  }

  #end(): void {
    this.#worker?.terminate();
    this.#worker = undefined;
  }
}

/**
 * Answers questions from the standard input until it ends.
 *
 * @param books  makes what is a bench's own of its book
 */
export async function reckon(books: BookMaker): Promise<void> {
  bookMaker = books;
  const encoder = new TextEncoder(), out = Deno.stdout.writable.getWriter();
  const reply = (answer: Answer & Numbered): void =>
    void out.write(encoder.encode(`${JSON.stringify(answer)}\n`)).catch(() => Deno.exit(0));
  const slow = new SlowThread(reply);
  const waiting: (Question & Numbered)[] = [];
  let isBusy = false;
  const work = async (): Promise<void> => {
    if (isBusy) return;
    isBusy = true;
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
      reply({ ...await answer(next), n: next.n });
    }
    isBusy = false;
  };
  for await (const line of linesOf(Deno.stdin.readable)) {
    const question = JSON.parse(line) as Question & Numbered;
    if (question.slow === true) slow.ask(question);
    else {
      waiting.push(question);
      void work();
    }
  }
  Deno.exit(0);
}

/** As much of a thread's own door as is used here; outside a thread there is none. */
const door = self as unknown as {
  onmessage: (event: MessageEvent<Question & Numbered>) => void;
  readonly postMessage?: (message: unknown) => void;
};
const send = door.postMessage;
if (send !== undefined) {
  door.onmessage = async ({ data }): Promise<void> => send({ ...await answer(data), n: data.n });
}

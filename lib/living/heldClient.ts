/// <reference lib="dom" />
/** The page's side of the thread that holds its record: begun when it is first asked, begun anew after an error. */
import type { HeldAnswers, HeldAsked } from "./heldThread.ts";

/** As much of a worker as is used here. */
interface Thread {
  postMessage(message: unknown): void;
  terminate(): void;
  onmessage: ((event: MessageEvent) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

/** A thread of its own, so that a cell that never ends hinders no reading. */
export class HeldClient {
  #thread: Thread | undefined;
  #number = 0;
  #waiting = new Map<number, { done(answer: unknown): void; failed(reason: Error): void }>();

  /**
   * @param start  a thread with the library
   * @param begin  the message it begins with
   */
  constructor(
    private readonly start: () => Thread,
    private readonly begin: () => { readonly ask: "begin" },
  ) {}

  /** Asks the thread, and waits for its answer. */
  async ask<A extends HeldAsked>(asked: A): Promise<HeldAnswers[A["ask"]]> {
    if (this.#thread === undefined) this.#begin();
    return await this.#send(asked) as HeldAnswers[A["ask"]];
  }

  #begin(): void {
    const thread = this.#thread = this.start();
    thread.onmessage = ({ data }): void => {
      if (!("to" in data)) return;
      const waiting = this.#waiting.get(data.to);
      this.#waiting.delete(data.to);
      const failed = (data.answer as { readonly failed?: string } | undefined)?.failed;
      if (failed === undefined) waiting?.done(data.answer);
      else waiting?.failed(new Error(failed));
    };
    thread.onerror = (event): void => {
      event.preventDefault();
      this.end(event.message);
    };
    this.#send(this.begin()).catch(() => {});
  }

  #send(asked: { readonly ask: string }): Promise<unknown> {
    const number = ++this.#number;
    return new Promise((done, failed) => {
      this.#waiting.set(number, { done, failed });
      this.#thread?.postMessage({ number, ...asked });
    });
  }

  /** Ends the thread; what waits for it fails. */
  end(why: string): void {
    this.#thread?.terminate();
    this.#thread = undefined;
    const waiting = [...this.#waiting.values()];
    this.#waiting = new Map();
    for (const { failed } of waiting) failed(new Error(why));
  }
}
